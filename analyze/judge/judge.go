package judge

import (
	"fmt"
	"strconv"

	"ringheat/analyze/quantity"
)

// Judge answers every check for one cycle. The settings must have passed Settings.Check; settings that
// have not are answered with UNPROVEN and the complaint.
//
// Every check stands once: max-temp, ring-diff, need-temp, record; then magnetism where a reading of it
// was given.
func Judge(c Case, s Settings) CycleJudgement {
	p, err := s.plan()
	if err != nil {
		return unjudged(p.rule, "the settings can't be judged by: "+err.Error())
	}
	if c.Log == nil || c.Local == nil {
		return unjudged(p.rule, "there is no record to judge")
	}
	w := c.Work
	if w == nil {
		w = &Workspace{}
	}
	sc := newScene(&c, &p, &s, w)
	sc.findPeaks()

	j := CycleJudgement{Rule: p.rule, Findings: make([]Finding, 0, 5)}
	j.Assumed = append(j.Assumed, p.assumed...)
	j.PeakInner, j.PeakOuter = sc.peakOf(sc.hottest(false)), sc.peakOf(sc.hottest(true))

	maxTemp, missing := sc.judgeMaxTemp(&j)
	ringDiff, more := sc.judgeRingDiff(&j)
	missing = append(missing, more...)
	needTemp, more := sc.judgeNeedTemp()
	missing = append(missing, more...)
	if why := sc.calibrationDoubt(); why != "" {
		overdue(&maxTemp, why)
		overdue(&ringDiff, why)
		overdue(&needTemp, why)
		missing = append(missing, why)
	}
	j.Findings = append(j.Findings, maxTemp, ringDiff, needTemp)
	missing = append(missing, judgeUnits(&j, &c, s)...)
	j.Findings = append(j.Findings, sc.judgeRecord(missing))
	maxTemp, needTemp = j.Findings[0], j.Findings[2]
	if s.Magnetism != nil {
		j.Findings = append(j.Findings, s.Magnetism.judge(p.g, p.rule))
	}

	if s.Calibration != nil {
		j.Notes = append(j.Notes, s.Calibration.words())
	}
	if note := sc.heldAtLimit(&maxTemp); note != "" {
		j.Notes = append(j.Notes, note)
	}
	for i := range sc.traces {
		if t := &sc.traces[i]; t.spikes > 0 {
			j.Notes = append(j.Notes, sc.spikeWords(t))
		}
	}
	if sc.doubt != "" {
		j.Notes = append(j.Notes, sc.doubt+"; which ring was hotter is not settled (name them with --inner and --outer)")
	}
	if p.kind.TwoRings() && j.PeakOuter == nil {
		j.Notes = append(j.Notes, "the outer ring was not measured, so max-temp is answered for the inner ring alone")
	}
	if p.needC != nil && *p.needC >= p.maxC {
		j.Notes = append(j.Notes, fmt.Sprintf("the needed temperature of %s °C is not below the limit of %s °C: this joint can't be made by warming alone within the limit", plain(*p.needC), plain(p.maxC)))
	}
	if s.MountedAtS != nil && p.needC != nil && needTemp.Verdict == Pass {
		if t := sc.hottest(false); t != nil && sc.doubt == "" {
			if words := sc.windowAfter(t, *p.needC, *s.MountedAtS); words != "" {
				j.Notes = append(j.Notes, words)
			}
		}
	}
	for i := range j.Findings {
		j.Findings[i].setRisk()
	}
	j.conclude()
	return j
}

// conclude draws the overall verdict: FAIL if any finding fails; UNPROVEN if any is, or if none has a
// verdict; else PASS. The reason that matters is that of the finding which decided.
func (j *CycleJudgement) conclude() {
	j.Verdict = Pass
	var decisive *Finding
	answered := false
	for i := range j.Findings {
		f := &j.Findings[i]
		if f.Check != Record && (f.Verdict == Pass || f.Verdict == Fail) {
			answered = true
		}
		if f.Verdict != NotAsked && (decisive == nil || rank(f.Verdict) > rank(decisive.Verdict)) {
			decisive = f
		}
		switch {
		case f.Verdict == Fail:
			j.Verdict = Fail
		case f.Verdict == Unproven && j.Verdict == Pass:
			j.Verdict = Unproven
		}
	}
	if !answered && j.Verdict == Pass || decisive == nil {
		j.Verdict = Unproven
	}
	if decisive != nil {
		j.Reason = decisive.Reason
	}
	if j.Verdict == Pass {
		j.Reason = passWords(j)
	}
}

// passWords says what a PASS covers: "PASS" alone would claim more than was asked.
func passWords(j *CycleJudgement) string {
	s := ""
	if f := j.Finding(MaxTemp); f != nil {
		s = f.Reason
	}
	what := "heat"
	if f := j.Finding(RingDiff); f != nil && f.Verdict == Pass {
		s += fmt.Sprintf("; the rings were at most %s K apart, %s K are allowed", figure(*f.Value, 1), plain(*f.Limit))
		what = "heat and evenness"
	}
	switch f := j.Finding(NeedTemp); {
	case f == nil:
	case f.Verdict == NotAsked:
		s += "; PASS for " + what + ", seat not asked"
	case f.Verdict == Pass:
		s += "; " + f.Reason
	}
	if f := j.Finding(Magnet); f != nil {
		s += "; " + f.Reason
	}
	return s
}

// spikeWords says which samples were left out and why.
func (sc *scene) spikeWords(t *trace) string {
	samples := "1 reading of the %s was left out as a spike"
	if t.spikes > 1 {
		samples = strconv.Itoa(t.spikes) + " readings of the %s were left out as spikes"
	}
	return fmt.Sprintf(samples+", which no heat capacity could follow; the highest shows %s °C at %s",
		sc.body(t), plainTrim(quantity.FormatDecimals(t.spikeC, 1)), clock(t.spikeS))
}

// unjudged is the answer where there is nothing to judge: every check stands, and none passes.
func unjudged(rule Rule, why string) CycleJudgement {
	j := CycleJudgement{Rule: rule, Reason: why}
	for _, c := range []Check{MaxTemp, RingDiff, NeedTemp, Record} {
		j.Findings = append(j.Findings, Finding{Check: c, Verdict: Unproven, Reason: why})
	}
	return j
}
