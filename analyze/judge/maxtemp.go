package judge

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ringheat/analyze/quantity"
)

// findPeaks reads the highest temperature of every trace from a local curve.
func (sc *scene) findPeaks() {
	for i := range sc.traces {
		t := &sc.traces[i]
		t.peak, t.curveC = sc.largest(t.c, t.valid, t.stepK, t.everyS)
	}
	for i := range sc.traces {
		t := &sc.traces[i]
		few := ""
		if t.valid > 0 && t.valid < fewest {
			few = fmt.Sprintf("the %s was read %s only, too seldom to know its peak", sc.body(t), times(t.valid))
		}
		t.unseen = sc.unseenPeak(t)
		if few != "" {
			t.unseen.or(math.Inf(1), few)
		}
	}
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return strconv.Itoa(n) + " times"
}

// hottest gives the trace with the highest peak among those of one ring; nil when none has a reading.
func (sc *scene) hottest(outer bool) *trace {
	var best *trace
	for i := range sc.traces {
		t := &sc.traces[i]
		if t.outer == outer && t.peak.Known && (best == nil || t.peak.Value > best.peak.Value) {
			best = t
		}
	}
	return best
}

func (sc *scene) peakOf(t *trace) *Peak {
	if t == nil {
		return nil
	}
	return &Peak{ValueC: t.peak.Value, StdErrK: t.peak.StdErr, AtS: sc.onClock(t.peak.AtS),
		RawC: t.peak.Raw, RawAtS: sc.onClock(t.peak.RawAtS), Channel: t.channel}
}

// measure adds up what one reading of a probe leaves uncertain.
func (sc *scene) measure(m *uncertainty, t *trace, valueC, noiseU float64, samples int) {
	name := ""
	if len(sc.traces) > 1 {
		name = ", " + sc.body(t)
	}
	sc.measureProbe(m, name, valueC)
	basis := "half a step of the display, which is taken to round"
	if t.assumed {
		basis = "half a step of 0.1 K, as the display step is not known"
	}
	m.rectangular("display step"+name, t.stepK/2, basis)
	m.normal("noise"+name, noiseU, float64(max(samples-3, 1)), "standard error of the local curve")
}

// candidate is one trace's answer to max-temp.
type candidate struct {
	t        *trace
	y        float64
	raised   float64 // of that, K for the lag of the probe
	d        decision
	u        uncertainty
	expanded float64
	k        float64
	verdict  Verdict
}

// judgeMaxTemp compares the peak of either ring with the tolerance limit. The trace with the worst
// answer decides; of equal ones the hottest.
func (sc *scene) judgeMaxTemp(j *CycleJudgement) (f Finding, missing []string) {
	p := sc.p
	f = Finding{Check: MaxTemp, Coverage: 2, Limit: ptr(p.maxC)}
	var worst *candidate
	for i := range sc.traces {
		t := &sc.traces[i]
		if t.valid == 0 || !t.peak.Known {
			continue
		}
		value, noise, raised := sc.truePeak(t)
		c := &candidate{t: t, y: inSteps(value, t.stepK), raised: raised}
		sc.measure(&c.u, t, c.y, noise, t.peak.N)
		if raised > 0 {
			last := &c.u.budget[len(c.u.budget)-1]
			last.Name, last.Basis = "noise and probe lag", "standard error of the true peak at switch-off"
		}
		c.expanded, c.k = c.u.expanded()
		c.d = atMost(c.y, p.maxC, c.expanded, p.g, p.rule)
		c.verdict = c.d.verdict
		if c.verdict == Pass && (exceeds(t.unseen.bound, c.d.acceptance) || sc.dulled(t) != "") {
			c.verdict = Unproven
		}
		if worst == nil || rank(c.verdict) > rank(worst.verdict) || rank(c.verdict) == rank(worst.verdict) && c.y > worst.y {
			worst = c
		}
	}
	if worst == nil {
		f.Reason = "no probe on the part gave a reading"
		return f, []string{f.Reason}
	}
	j.OverLimitS = ptr(sc.secondsAbove(p.maxC))

	y, u := worst.y, worst.u.standard()
	f.Value, f.Uncertainty, f.Coverage, f.Acceptance = ptr(y), ptr(worst.expanded), worst.k, ptr(worst.d.acceptance)
	f.Conformance = ptr(conformance(y, p.maxC, u))
	f.AtS, f.Subject, f.Budget = ptr(sc.onClock(worst.t.peak.AtS)), sc.subject(worst.t), worst.u.budget
	f.Verdict = worst.d.verdict
	body := sc.body(worst.t)
	if worst.raised > 0 {
		f.Assumed = append(f.Assumed, sc.lagWords(worst.t, worst.raised))
	}
	peaked := fmt.Sprintf("%s peaked at %s °C", body, figure(y, u))
	f.Reason = sc.limitWords(peaked, y, p.maxC, worst.expanded, u, worst.d.verdict, worst.d.proven, "°C")

	if p.allowance && f.Verdict != Pass {
		sc.allow(&f, worst, peaked, u)
	}
	if f.Verdict == Fail && f.Proven == nil {
		f.Proven = ptr(worst.d.proven)
	}
	// What was not seen can undo a PASS; a limit seen exceeded stays exceeded.
	if f.Verdict != Fail {
		for i := range sc.traces {
			t := &sc.traces[i]
			if t.valid == 0 && t.outer && sc.p.kind.TwoRings() {
				continue // as if there were no such probe: ring-diff is unproven for it, and a note says so
			}
			if exceeds(t.unseen.bound, worst.d.acceptance) {
				missing = append(missing, t.unseen.why)
			} else if why := sc.dulled(t); why != "" {
				missing = append(missing, why)
			}
		}
		if why := sc.leftOutAbove(worst.d.acceptance); why != "" {
			missing = append(missing, why)
		}
		if why := sc.ringUnseen(); why != "" {
			missing = append(missing, why)
		}
		if len(missing) > 0 && f.Verdict == Pass {
			f.Verdict = Unproven
			f.Reason = fmt.Sprintf("%s; the highest reading of the %s is %s °C", missing[0], body, quantity.FormatDecimals(worst.t.peak.Raw, 1))
			f.Conformance = nil // of what was seen only, which says nothing of what was not
		}
	}
	for i := range sc.traces {
		if t := &sc.traces[i]; f.Verdict == Pass && t.spikes > 0 && exceeds(t.spikeC, worst.d.acceptance) {
			f.Reason += "; " + sc.spikeWords(t)
		}
	}
	return f, missing
}

// ringUnseen says that the ring which takes the heat was not measured at all; "" when it was.
func (sc *scene) ringUnseen() string {
	for i := range sc.traces {
		if !sc.traces[i].outer && sc.traces[i].valid > 0 {
			return ""
		}
	}
	if sc.p.kind.TwoRings() {
		return "no probe on the inner ring gave a reading"
	}
	return ""
}

// allow applies the over-time allowance: so many seconds above the limit, never further above it than
// the ceiling. The seconds are counted where the guarded acceptance limit is exceeded for a PASS, and
// above the limit itself for a FAIL.
func (sc *scene) allow(f *Finding, c *candidate, peaked string, u float64) {
	p := sc.p
	f.Assumed = appendSaid(f.Assumed, p.assumedCeiling)
	ceiling := p.maxC + p.ceilingK
	top := atMost(c.y, ceiling, c.expanded, p.g, p.rule)
	over := sc.secondsAbove(p.maxC)
	allowed := fmt.Sprintf("%s up to %s K above the limit of %s °C are allowed", duration(p.allowedS), plain(p.ceilingK), plain(p.maxC))
	if sc.clockFault() {
		f.Verdict = Unproven
		if top.verdict == Fail {
			f.Verdict, f.Proven = Fail, ptr(top.proven)
		}
		f.Reason = fmt.Sprintf("%s; %s, but the clock stepped back, so the seconds can't be counted", peaked, allowed)
		return
	}
	high, low := p.maxC, p.maxC
	if p.rule != Simple {
		low = p.maxC - p.g*c.expanded
	}
	if p.rule == ThreeZone {
		high = p.maxC + p.g*c.expanded
	}
	f.Acceptance = ptr(top.acceptance)
	f.Conformance = ptr(conformance(c.y, ceiling, u))
	switch {
	case top.verdict == Fail:
		f.Verdict, f.Proven = Fail, ptr(top.proven)
		f.Reason = fmt.Sprintf("%s, %s K above the limit of %s °C; the allowance ends %s K above it",
			peaked, distance(c.y, p.maxC, u), plain(p.maxC), plain(p.ceilingK))
	case sc.secondsAbove(high) > p.allowedS:
		f.Verdict = Fail
		f.Proven = ptr(sc.secondsAbove(p.maxC+c.expanded) > p.allowedS)
		f.Reason = fmt.Sprintf("%s and was above the limit for %s; %s", peaked, duration(over), allowed)
	case top.verdict == Pass && sc.secondsAbove(low) <= p.allowedS && sc.c.Log.Clock.UnitDoubtful:
		f.Verdict = Unproven
		f.Reason = fmt.Sprintf("%s; %s, but nothing names the unit of the time column, and seconds are only taken, so the time above the limit is not known", peaked, allowed)
	case top.verdict == Pass && sc.secondsAbove(low) <= p.allowedS:
		f.Verdict = Pass
		f.Reason = fmt.Sprintf("%s and was above the limit for %s; %s", peaked, duration(over), allowed)
	default:
		f.Verdict = Unproven
		f.Reason = fmt.Sprintf("%s and was above the limit for %s; %s, and with the uncertainty of %s K neither side is proven",
			peaked, duration(over), allowed, figure(c.expanded, u))
	}
}

// limitWords says how a value lies to an upper limit, in one sentence.
func (sc *scene) limitWords(what string, y, limit, expandedU, u float64, v Verdict, proven bool, unit string) string {
	dist := distance(y, limit, u)
	U := figure(expandedU, u)
	at := fmt.Sprintf("the limit of %s %s", plain(limit), unit)
	switch {
	case exceeds(y, limit) && v == Fail && proven:
		return fmt.Sprintf("%s, %s K above %s", what, dist, at)
	case exceeds(y, limit) && v == Fail:
		return fmt.Sprintf("%s, %s K above %s: not accepted, though within the uncertainty of %s K", what, dist, at, U)
	case exceeds(y, limit):
		return fmt.Sprintf("%s, %s K above %s, but within the uncertainty of %s K", what, dist, at, U)
	case v == Pass && !exceeds(y, limit-expandedU):
		return fmt.Sprintf("%s, %s K below %s, with an uncertainty of %s K", what, dist, at, U)
	case v == Pass && y == limit:
		return fmt.Sprintf("%s, exactly at %s; the uncertainty of %s K is shared", what, at, U)
	case v == Pass:
		return fmt.Sprintf("%s, %s K below %s; the uncertainty of %s K is shared", what, dist, at, U)
	}
	return fmt.Sprintf("%s, only %s K below %s, with an uncertainty of %s K", what, dist, at, U)
}

// distance writes |y - limit| with enough digits not to read 0.0 when it isn't 0.
func distance(y, limit, u float64) string {
	d := math.Abs(y - limit)
	s := figure(d, u)
	for n := 1; d > 1e-9 && n <= 6 && strings.Trim(s, "0.") == ""; n++ {
		s = quantity.FormatDecimals(d, n)
	}
	return s
}

// rank orders verdicts by how bad they are.
func rank(v Verdict) int {
	switch v {
	case Fail:
		return 3
	case Unproven:
		return 2
	case Pass:
		return 1
	}
	return 0
}

func ptr[T any](v T) *T { return &v }

func appendSaid(list []string, s string) []string {
	if s == "" {
		return list
	}
	return append(list, s)
}

// noise is the standard deviation of a single sample in the noisiest trace.
func (sc *scene) noise() float64 {
	n := 0.0
	for i := range sc.traces {
		if sc.traces[i].peak.Known {
			n = math.Max(n, sc.traces[i].peak.NoiseSD)
		}
	}
	return n
}
