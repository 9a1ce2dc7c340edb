package judge

import "fmt"

// plan is the settings with every gap filled, and what was assumed in doing so.
type plan struct {
	kind PartKind
	rule Rule
	g    float64 // guard band in units of U

	maxC  float64
	diffK float64 // 0: not asked

	needC      *float64
	allowedS   float64
	ceilingK   float64
	allowance  bool
	class      ProbeClass
	halfWidthK float64 // of each probe when no class is used
	hasClass   bool

	maxWords, diffWords, ceilingWords, probeWords string // where each is from
	assumed                                       []string
	assumedDiff, assumedCeiling                   string // said in the findings they belong to
}

// plan fills the gaps from the limits table. It fails only where a figure is needed that the table has not got.
func (s *Settings) plan() (plan, error) {
	p := plan{kind: s.Kind, rule: s.Rule, g: 1, needC: s.NeedTempC}
	if p.kind == "" {
		p.kind = Bearing
		p.assumed = append(p.assumed, "the part is taken as a bearing with two rings, as no kind was given")
	}
	if p.rule == "" {
		p.rule = Strict
	}
	if s.GuardFactor != nil {
		p.g = *s.GuardFactor
	}
	if s.OverTimeAllowedS != nil && *s.OverTimeAllowedS > 0 {
		p.allowance, p.allowedS = true, *s.OverTimeAllowedS
	}

	needDiff := p.kind.TwoRings() && s.MaxRingDiffK == nil
	needCeiling := p.allowance && s.OverCeilingK == nil
	var limits PartLimits
	if s.MaxTempC == nil || needDiff || needCeiling || s.RingClass != "" {
		table := s.Limits
		if table == nil {
			table = DefaultLimits()
		}
		var err error
		if limits, err = table.Find(p.kind, s.RingClass); err != nil {
			return plan{}, err
		}
	}
	if s.MaxTempC != nil {
		p.maxC, p.maxWords = *s.MaxTempC, "as given"
	} else {
		p.maxC = limits.MaxTemp.Value
		p.maxWords = fmt.Sprintf("%s, class %s: %s (%s)", p.kind, limits.MaxTempClass, limits.MaxTemp.Source, limits.MaxTemp.Confidence)
		p.assumed = append(p.assumed, fmt.Sprintf("limit %s °C from the limits table: %s", plain(p.maxC), p.maxWords))
	}
	if p.kind.TwoRings() {
		if s.MaxRingDiffK != nil {
			p.diffK, p.diffWords = *s.MaxRingDiffK, "as given"
		} else {
			p.diffK = limits.MaxRingDiff.Value
			p.diffWords = fmt.Sprintf("%s, class %s: %s (%s)", p.kind, limits.MaxRingDiffClass, limits.MaxRingDiff.Source, limits.MaxRingDiff.Confidence)
			p.assumedDiff = fmt.Sprintf("limit %s K between the rings from the limits table: %s", plain(p.diffK), p.diffWords)
		}
	}
	if p.allowance {
		if s.OverCeilingK != nil {
			p.ceilingK, p.ceilingWords = *s.OverCeilingK, "as given"
		} else {
			p.ceilingK = limits.OverCeiling.Value
			p.ceilingWords = fmt.Sprintf("%s, class %s: %s (%s)", p.kind, limits.OverCeilingClass, limits.OverCeiling.Source, limits.OverCeiling.Confidence)
			p.assumedCeiling = fmt.Sprintf("the allowance goes up to %s K above the limit, from the limits table: %s", plain(p.ceilingK), p.ceilingWords)
		}
	}
	switch {
	case s.Calibration != nil:
		p.halfWidthK = s.Calibration.ExpandedK // not used: the certificate stands in
		p.probeWords = "calibration as given"
	case s.ProbeToleranceK != nil:
		p.halfWidthK = *s.ProbeToleranceK
		p.probeWords = "tolerance as given"
	case s.ProbeClass != "":
		class, err := ParseProbeClass(s.ProbeClass)
		if err != nil {
			return plan{}, err
		}
		p.class, p.hasClass, p.probeWords = class, true, class.Words
	default:
		class, ok := namedClass(widestCommon)
		if !ok {
			return plan{}, fmt.Errorf("there is no tolerance class %s", widestCommon)
		}
		p.class, p.hasClass, p.probeWords = class, true, class.Words+", the widest class in common use, as no tolerance was given"
		p.assumed = append(p.assumed, fmt.Sprintf("probe tolerance ±%s K: %s", plain(class.ToleranceK(p.maxC)), p.probeWords))
	}
	return p, nil
}

// halfWidth is the half-width of a probe's tolerance at a temperature in °C, K.
func (p *plan) halfWidth(c float64) float64 {
	if p.hasClass {
		return p.class.ToleranceK(c)
	}
	return p.halfWidthK
}
