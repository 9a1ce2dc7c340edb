package judge

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"ringheat/analyze/quantity"
)

// PartKind says what kind of part is warmed.
type PartKind string

// The part kinds. Only a bearing has two rings; the others are one body. The zero value is taken as a
// bearing, and that is said.
const (
	Bearing  PartKind = "bearing"
	Ring     PartKind = "ring"
	Gear     PartKind = "gear"
	Coupling PartKind = "coupling"
	Sleeve   PartKind = "sleeve"
)

var partKinds = []PartKind{Bearing, Ring, Gear, Coupling, Sleeve}

// PartKindNames lists the kinds for messages and help texts, in their fixed order.
func PartKindNames() string {
	names := make([]string, len(partKinds))
	for i, k := range partKinds {
		names[i] = string(k)
	}
	return strings.Join(names, ", ")
}

// TwoRings says whether the kind has an inner and an outer ring.
func (k PartKind) TwoRings() bool { return k == Bearing || k == "" }

// known says whether k is one of the kinds; the zero value is not.
func (k PartKind) known() bool {
	for _, p := range partKinds {
		if p == k {
			return true
		}
	}
	return false
}

// Settings are everything a user asks of a judgement. They are known before any reading is looked at.
// A nil pointer means 'not given'. The zero Settings judge a bearing by the built-in table of limits,
// under the strict rule, with the widest common probe tolerance; each of these is said in the result.
type Settings struct {
	Kind      PartKind // "" is taken as Bearing
	RingClass string   // class in the limits table, "" for general; several joined by '+', the strictest decides

	MaxTempC     *float64 // tolerance limit of either ring, °C; nil: from the limits table
	MaxRingDiffK *float64 // tolerance limit of |inner - outer|, K; nil: from the limits table for two rings
	// ClearanceDiffK is the difference, inner ring hotter, at which the internal clearance is used up, K.
	// It stands beside the customary limit; the stricter decides.
	ClearanceDiffK *float64

	NeedTempC     *float64 // bore temperature that the seat needs, °C; nil: not asked
	NeedTempU     float64  // its standard uncertainty, K; 0 for a figure that the user gave
	NeedTempBasis string   // where it is from, plain words; "" for a figure that the user gave
	MountedAtS    *float64 // when the part was mounted, s since the log's first row; nil: judged at the peak

	OverTimeAllowedS *float64 // seconds above the limit that the part stands; nil: none
	OverCeilingK     *float64 // how far above the limit the allowance goes, K; nil: from the limits table

	ProbeToleranceK *float64 // half-width of each probe's tolerance, K
	// Calibration, where given, stands in for the probes' tolerance.
	Calibration *Calibration
	ProbeClass  string // class of IEC 60584-1 ("K2") or IEC 60751 ("A"); "" with no tolerance: the widest common

	Rule        Rule     // "" is Strict
	GuardFactor *float64 // guard band in units of U; nil is 1

	// CalibrationDue is the last day of the probes' calibration; the zero Time: not asked. The findings on
	// temperatures are unproven for a run after that day.
	CalibrationDue time.Time
	Magnetism      *Magnetism // reading of the residual field after warming; nil: not asked

	SetPointC *float64     // what the heater was set to, °C; nil: a set-point channel is used if there is one
	Limits    *LimitsTable // nil: DefaultLimits(), read anew at every call
}

// Check looks for settings that make no sense, before any log is read. The message names the flag.
func (s *Settings) Check() error {
	if s.Kind != "" && !s.Kind.known() {
		return fmt.Errorf("--kind %q is not known: give one of %s", s.Kind, PartKindNames())
	}
	for _, f := range []struct {
		flag string
		v    *float64
		low  float64
		unit string
	}{
		{"--max-temp-c", s.MaxTempC, float64(quantity.AbsoluteZero), "°C"},
		{"--need-temp-c", s.NeedTempC, float64(quantity.AbsoluteZero), "°C"},
		{"--set-point-c", s.SetPointC, float64(quantity.AbsoluteZero), "°C"},
		{"--max-ring-diff-k", s.MaxRingDiffK, 0, "K"},
		{"--clearance-diff-k", s.ClearanceDiffK, 0, "K"},
		{"--probe-tolerance-k", s.ProbeToleranceK, 0, "K"},
	} {
		if f.v == nil {
			continue
		}
		if !quantity.Finite(*f.v) {
			return fmt.Errorf("%s is not a number: give one in %s", f.flag, f.unit)
		}
		if *f.v <= f.low {
			return fmt.Errorf("%s %v is impossible: it must be above %v %s", f.flag, *f.v, f.low, f.unit)
		}
		if f.unit == "°C" && *f.v > hottest {
			return fmt.Errorf("%s %v is above %v °C: no ring is warmed so far; give degrees Celsius", f.flag, *f.v, hottest)
		}
		if f.unit == "K" && *f.v > hottest {
			return fmt.Errorf("%s %v is above %v K: give a difference in kelvin", f.flag, *f.v, hottest)
		}
	}
	for _, f := range []struct {
		flag string
		v    *float64
		unit string
	}{
		{"--over-time-allowed-s", s.OverTimeAllowedS, "s"},
		{"--over-ceiling-k", s.OverCeilingK, "K"},
		{"--mounted-at", s.MountedAtS, "s since the log's first row"},
		{"--guard-factor", s.GuardFactor, "units of the expanded uncertainty"},
	} {
		if f.v == nil {
			continue
		}
		if !quantity.Finite(*f.v) {
			return fmt.Errorf("%s is not a number: give one in %s", f.flag, f.unit)
		}
		if *f.v < 0 {
			return fmt.Errorf("%s %v is negative: give 0 or more, in %s", f.flag, *f.v, f.unit)
		}
	}
	if v := s.OverTimeAllowedS; v != nil && *v > longestOverS {
		return fmt.Errorf("--over-time-allowed-s %v is longer than a day: give the seconds that the part stands above its limit", *v)
	}
	if v := s.OverCeilingK; v != nil && *v > highestCeilingK {
		return fmt.Errorf("--over-ceiling-k %v is more than %v K: a part that stands so much has a higher limit; give --max-temp-c", *v, float64(highestCeilingK))
	}
	if v := s.ProbeToleranceK; v != nil && *v < finestProbeK {
		return fmt.Errorf("--probe-tolerance-k %v is finer than any probe: give its half-width in K, at least %v", *v, finestProbeK)
	}
	if !quantity.Finite(s.NeedTempU) || s.NeedTempU < 0 {
		return errors.New("the uncertainty of the needed temperature must be 0 K or more")
	}
	if s.NeedTempU > 0 && s.NeedTempC == nil {
		return errors.New("an uncertainty of the needed temperature was given without --need-temp-c")
	}
	switch s.Rule {
	case "", Strict, ThreeZone, Simple:
	default:
		return fmt.Errorf("--rule %q is not known: give %s, %s or %s", s.Rule, Strict, ThreeZone, Simple)
	}
	if s.GuardFactor != nil && s.Rule == Simple {
		return errors.New("--guard-factor has no meaning under --rule simple, which has no guard band: leave one of them out")
	}
	if s.ProbeToleranceK != nil && s.ProbeClass != "" {
		return errors.New("--probe-tolerance-k and --probe-class both say how good the probe is: leave one of them out")
	}
	if s.MaxRingDiffK != nil && !s.Kind.TwoRings() {
		return fmt.Errorf("--max-ring-diff-k asks how evenly two rings were warmed, but a %s is one body: leave it out or give --kind bearing", s.Kind)
	}
	if s.ClearanceDiffK != nil && !s.Kind.TwoRings() {
		return fmt.Errorf("--clearance-diff-k is for bearings, but a %s has no internal clearance: leave it out", s.Kind)
	}
	if s.OverCeilingK != nil && s.OverTimeAllowedS == nil {
		return errors.New("--over-ceiling-k bounds the allowance of --over-time-allowed-s, which was not given: give both or neither")
	}
	if s.MountedAtS != nil && s.NeedTempC == nil {
		return errors.New("--mounted-at says when the bore had to be warm enough, but no needed temperature is known: give --need-temp-c or the seat's data")
	}
	if s.Calibration != nil {
		if err := s.Calibration.check(); err != nil {
			return err
		}
		if s.ProbeToleranceK != nil || s.ProbeClass != "" {
			return errors.New("a calibration of the probes and --probe-tolerance-k or --probe-class both say how good the probe is: leave one of them out")
		}
	}
	if s.Magnetism != nil {
		if err := s.Magnetism.check(); err != nil {
			return err
		}
	}
	if s.ProbeClass != "" {
		if _, err := ParseProbeClass(s.ProbeClass); err != nil {
			return fmt.Errorf("--probe-class: %w", err)
		}
	}
	p, err := s.plan()
	if err != nil {
		return err
	}
	if s.ProbeClass != "" && !p.class.Covers(p.maxC) {
		return fmt.Errorf("--probe-class %s is stated from %s to %s °C only, and the limit is %s °C: give the class that the probe has at that temperature",
			p.class.Name, plain(p.class.LowC), plain(p.class.HighC), plain(p.maxC))
	}
	return nil
}

// hottest is the highest temperature that a setting may name, °C: steel rings are never warmed near it.
const hottest = 1000

// Bounds of what a setting may reasonably be (common practice, no source).
const (
	longestOverS    = 24 * 3600 // s above the limit
	highestCeilingK = 50        // K above the limit that an allowance may cover
	finestProbeK    = 0.01      // half-width of a probe's tolerance, K
	largestOffsetK  = 10        // what a probe may read too high or too low, K
)
