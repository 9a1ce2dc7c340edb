package judge

import (
	"fmt"
	"math"

	"ringheat/analyze/series"
)

// warmth is how warm one probe showed the bore to be, at the peak or at the time of mounting.
type warmth struct {
	t        *trace
	y        float64
	atS      float64 // on the log's clock
	noiseU   float64
	lagU     float64 // standard uncertainty of the correction for the probe's lag, K
	samples  int
	known    bool
	hole     bool   // y is the lower of the readings on both sides of a hole
	lower    bool   // y is a lower bound: the bore was at least so warm
	why      string // why it is not known, or what y is
	how      string // where y is from, when it isn't a reading
	u        uncertainty
	expanded float64
	k        float64
	d        decision
	verdict  Verdict
	missing  string
}

// judgeNeedTemp says whether the bore became as warm as its seat needs. Of several probes on the bore
// the coldest decides. Where it is not settled which probe sits on the bore, every probe must agree.
func (sc *scene) judgeNeedTemp() (f Finding, missing []string) {
	p := sc.p
	f = Finding{Check: NeedTemp, Verdict: NotAsked, Coverage: 2}
	if p.needC == nil {
		f.Reason = "not asked: no needed temperature and no data of the seat were given"
		return f, nil
	}
	need := *p.needC
	f.Verdict, f.Limit = Unproven, ptr(need)
	if sc.s.NeedTempU == 0 {
		basis := sc.s.NeedTempBasis
		if basis == "" {
			basis = "as given"
		}
		f.Assumed = append(f.Assumed, fmt.Sprintf("the needed temperature of %s °C (%s) is taken as exact", plain(need), basis))
	}
	if sc.c.MountedProblem != "" {
		f.Reason = sc.c.MountedProblem
		return f, []string{f.Reason}
	}
	var all []warmth
	for i := range sc.traces {
		t := &sc.traces[i]
		if t.outer && sc.doubt == "" {
			continue
		}
		all = append(all, sc.warmthOf(t, need))
	}
	if len(all) == 0 {
		f.Reason = "the log has no probe on the bore"
		return f, []string{f.Reason}
	}
	alone := sc.doubt != "" && len(all) == 1 && p.kind.TwoRings()
	decider := &all[0]
	for i := range all {
		w := &all[i]
		if w.missing != "" {
			missing = append(missing, w.missing)
		}
		// The coldest decides; one whose warmth is not known is colder than any.
		if !w.known && decider.known || w.known && decider.known && w.y < decider.y {
			decider = w
		}
	}
	verdicts := [NotAsked + 1]int{}
	for i := range all {
		verdicts[all[i].verdict]++
	}
	f.Verdict = decider.verdict
	switch {
	case verdicts[Pass] == len(all):
		f.Verdict = Pass
	case sc.doubt == "" && verdicts[Fail] > 0:
		f.Verdict = Fail
		for i := range all {
			if w := &all[i]; w.verdict == Fail && (decider.verdict != Fail || w.y < decider.y) {
				decider = w
			}
		}
	case sc.doubt != "" && verdicts[Fail] == len(all):
		f.Verdict = Fail
	default:
		f.Verdict = Unproven
		if decider.verdict == Pass || decider.verdict == Fail && sc.doubt == "" {
			for i := range all {
				if all[i].verdict == Unproven {
					decider = &all[i]
					break
				}
			}
		}
	}
	f.Subject = sc.subject(decider.t)
	if !decider.known {
		f.Reason = decider.why
		return f, missing
	}
	y, u := decider.y, decider.u.standard()
	f.Value, f.Uncertainty, f.Coverage, f.Acceptance = ptr(y), ptr(decider.expanded), decider.k, ptr(decider.d.acceptance)
	f.Conformance = ptr(conformance(-y, -need, u))
	f.AtS, f.Budget = ptr(decider.atS), decider.u.budget
	if alone {
		f.Verdict = Unproven
		f.Reason = fmt.Sprintf("%s, so it is not known whether it was the bore that reached %s °C", sc.doubt, figure(y, u))
		return f, append(missing, sc.doubt)
	}
	f.Reason = sc.needWords(decider, need, f.Verdict)
	if f.Verdict == Fail {
		f.Proven = ptr(decider.d.proven)
		return f, nil
	}
	if f.Verdict == Pass {
		return f, nil
	}
	switch {
	case decider.verdict == Fail && sc.doubt != "" && verdicts[Fail] < len(all):
		f.Reason = fmt.Sprintf("%s, and the probes don't agree: %s", sc.doubt, f.Reason)
		missing = append(missing, sc.doubt)
	case decider.missing != "":
		f.Reason = decider.missing + "; " + f.Reason
	}
	return f, missing
}

// warmthOf judges one probe alone.
func (sc *scene) warmthOf(t *trace, need float64) warmth {
	var w warmth
	if sc.s.MountedAtS != nil {
		w = sc.warmthAt(t, *sc.s.MountedAtS)
	} else {
		// A curve carried beyond the highest reading may raise a maximum, but shows no need reached.
		w = warmth{t: t, known: t.curveC.Known && t.valid > 0, y: math.Min(t.curveC.Value, t.curveC.Raw), atS: sc.onClock(t.curveC.AtS),
			noiseU: t.curveC.StdErr, samples: t.curveC.N}
		if !w.known {
			w.why = "the probe on the bore gave no reading"
			if sc.doubt != "" {
				w.why = fmt.Sprintf("%s gave no reading", sc.body(t))
			}
		}
	}
	if !w.known {
		w.missing = w.why
		return w
	}
	w.y = inSteps(w.y, t.stepK)
	sc.measure(&w.u, t, w.y, w.noiseU, w.samples)
	if w.lagU > 0 {
		w.u.normal("probe lag while cooling", w.lagU, 0, "rate of cooling times the standard error of the lag")
	}
	if sc.s.NeedTempU > 0 {
		basis := sc.s.NeedTempBasis
		if basis == "" {
			basis = "as given"
		}
		w.u.normal("needed temperature", sc.s.NeedTempU, 0, basis)
	}
	w.expanded, w.k = w.u.expanded()
	w.d = atLeast(w.y, need, w.expanded, sc.p.g, sc.p.rule)
	w.verdict = w.d.verdict
	if why := sc.mountedInDoubt(t); why != "" {
		w.verdict, w.missing = Unproven, why
		return w
	}
	if w.verdict == Pass {
		return w
	}
	// A need not seen reached may have been reached unseen.
	switch {
	case sc.s.MountedAtS == nil && exceeds(t.unseen.bound, w.d.acceptance):
		w.verdict, w.missing = Unproven, t.unseen.why
	case sc.s.MountedAtS != nil && w.lower:
		w.verdict, w.missing = Unproven, w.why
	case sc.s.MountedAtS == nil && sc.dulled(t) != "" && exceeds(t.curveC.Raw+t.couldWarm()*t.everyS, w.d.acceptance):
		w.verdict, w.missing = Unproven, sc.dulled(t)
	}
	return w
}

// warmthAt reads the bore's temperature at the time of mounting from a straight line through the
// samples about it.
func (sc *scene) warmthAt(t *trace, atS float64) warmth {
	w := warmth{t: t, atS: atS}
	n := len(sc.timeS)
	if n == 0 || t.first < 0 {
		w.why = fmt.Sprintf("the %s gave no reading", sc.body(t))
		return w
	}
	if sc.clockFault() {
		w.why = "the clock stepped back, so the time of mounting can't be found in the log"
		return w
	}
	end := sc.c.Log.TimeS[sc.c.Log.Len()-1]
	if last := sc.timeS[t.last]; atS > last+t.bridgeS() {
		if y, ok := sc.byCooling(t, atS); ok {
			w.known, w.lower, w.y, w.samples = true, true, y, 0
			w.how = fmt.Sprintf("; by its cooling while hanging free, %s after its last reading (contact with the seat cools it faster)", duration(atS-last))
			w.why = fmt.Sprintf("the bore was last read %s before it was mounted, and its cooling does not prove it warm enough", duration(atS-last))
			return w
		}
	}
	switch {
	case atS > end:
		w.why = fmt.Sprintf("the part was mounted %s after the log's end, and how warm the bore still was is not recorded", duration(atS-end))
		return w
	case atS < sc.timeS[0]:
		w.why = fmt.Sprintf("the part was mounted at %s, before this warming began", clock(atS))
		return w
	case atS > sc.timeS[n-1]+t.bridgeS():
		w.why = fmt.Sprintf("the part was mounted at %s, after this warming's last reading", clock(atS))
		return w
	}
	// The valid samples on both sides.
	before, after := -1, -1
	for i, at := range sc.timeS {
		if series.IsMissing(t.c[i]) {
			continue
		}
		if at <= atS {
			before = i
		} else {
			after = i
			break
		}
	}
	switch {
	case before < 0:
		w.why = fmt.Sprintf("the bore was not yet read at the time of mounting, %s", clock(atS))
		return w
	case after < 0 && atS-sc.timeS[before] > t.bridgeS():
		w.why = fmt.Sprintf("the bore was last read %s before it was mounted", duration(atS-sc.timeS[before]))
		return w
	case after >= 0 && sc.timeS[after]-sc.timeS[before] > t.bridgeS() && atS > sc.timeS[before]:
		// A hole: between the two readings a cooling bore was at least as warm as the later one.
		w.known, w.lower, w.hole, w.samples = true, true, true, 1
		w.y, w.noiseU = math.Min(t.c[before], t.c[after]), t.peak.NoiseSD
		w.why = fmt.Sprintf("the bore was not read for %s about the time of mounting", duration(sc.timeS[after]-sc.timeS[before]))
		if sc.timeS[before] < sc.coolingFrom() && t.c[after] > t.c[before] {
			w.y = t.c[before]
		}
	default:
		var slope float64
		w.y, slope, w.noiseU, w.samples = sc.lineAt(t, atS)
		w.known = true
		if lag := sc.lagOf(t); lag != nil && slope < 0 {
			// A lagging probe reads high while the ring cools.
			w.y += slope * math.Max(0, lag.LagS.Value)
			w.lagU = -slope * lag.LagS.StdErr
		}
	}
	for i := range sc.c.Cycle.Defects {
		d := &sc.c.Cycle.Defects[i]
		if loose(d.Kind) && sc.concerns(d, t) && atS >= d.FromS && atS <= d.ToS {
			w.lower = true
			w.why = "the probe did not sit well on the bore at the time of mounting and read too low"
		}
	}
	return w
}

// byCooling is the lower bound of the bore's temperature after its last reading, from its cooling while
// hanging free. ok is false when that is not known, or not known to be of this probe.
func (sc *scene) byCooling(t *trace, atS float64) (lowerC float64, ok bool) {
	if sc.c.Cooling == nil || sc.inner != 1 || t.outer || sc.doubt != "" {
		return 0, false
	}
	_, lowerC, ok = sc.c.Cooling.At(atS)
	if cal := sc.s.Calibration; cal != nil {
		lowerC -= cal.InnerOffsetK
	}
	return lowerC, ok
}

// lineAt fits a straight line through the last samples up to a time and reads it there, with its standard
// error: a few samples, no more than a minute, so that the bend of the curve counts for little. What
// comes after the time of mounting is left out, because there the shaft cools the bore. Fewer than three
// samples give the nearest, with the noise of the trace and a slope of 0 K/s.
func (sc *scene) lineAt(t *trace, atS float64) (y, slope, se float64, n int) {
	reach := math.Min(math.Max(15*t.everyS, 15), math.Max(60, 3*t.everyS))
	var st, sy, stt, sty, syy float64
	near, nearest := math.Inf(1), 0.0
	for i, at := range sc.timeS {
		dt := at - atS
		if dt > 0 || dt < -reach || series.IsMissing(t.c[i]) {
			continue
		}
		// A switch-off in between would bend the line: only its own side counts.
		if at < sc.heatEndS && atS > sc.heatEndS {
			continue
		}
		v := t.c[i]
		st, sy, stt, sty, syy = st+dt, sy+v, stt+dt*dt, sty+dt*v, syy+v*v
		n++
		if math.Abs(dt) < near {
			near, nearest = math.Abs(dt), v
		}
	}
	if n == 0 {
		// Nothing between a switch-off and the mounting: the colder of the last reading and a straight line
		// to the next.
		return sc.between(t, atS), 0, math.Max(t.peak.NoiseSD, t.stepK/math.Sqrt(12)), 1
	}
	if n < 3 {
		return nearest, 0, math.Max(t.peak.NoiseSD, t.stepK/math.Sqrt(12)), n
	}
	m := float64(n)
	sxx := stt - st*st/m
	if !(sxx > 0) {
		return sy / m, 0, t.peak.NoiseSD, n
	}
	slope = (sty - st*sy/m) / sxx
	y = sy/m - slope*st/m
	rss := math.Max(0, (syy-sy*sy/m)-slope*(sty-st*sy/m))
	sd := math.Max(math.Sqrt(rss/math.Max(m-2, 1)), t.peak.NoiseSD)
	return y, slope, sd * math.Sqrt(1/m+st*st/(m*m)/sxx), n
}

// between is the colder of the last valid sample before a time and the straight line from it to the next.
func (sc *scene) between(t *trace, atS float64) float64 {
	prev := t.first
	for i := t.first; i <= t.last; i++ {
		if series.IsMissing(t.c[i]) {
			continue
		}
		if d := sc.timeS[i] - sc.timeS[prev]; sc.timeS[i] >= atS && d > 0 {
			return math.Min(t.c[prev], t.c[prev]+(t.c[i]-t.c[prev])*(atS-sc.timeS[prev])/d)
		}
		prev = i
	}
	return t.c[t.last]
}

// needWords says how the bore's warmth lies to the need, in one sentence.
func (sc *scene) needWords(w *warmth, need float64, v Verdict) string {
	u := w.u.standard()
	dist, U := distance(w.y, need, u), figure(w.expanded, u)
	body := sc.body(w.t)
	what, tail := fmt.Sprintf("%s reached %s °C", body, figure(w.y, u)), ""
	if sc.s.MountedAtS != nil {
		what = fmt.Sprintf("%s was at %s °C when mounted", body, figure(w.y, u))
		if w.hole && v != Pass {
			what = fmt.Sprintf("the lowest reading of the %s around mounting is %s °C", body, figure(w.y, u))
		}
		if w.lower && v == Pass {
			what, tail = fmt.Sprintf("%s was at %s °C or more when mounted", body, figure(w.y, u)), w.how
		}
	} else if v == Pass {
		tail = "; reached at the peak, not shown at mounting"
	}
	at := fmt.Sprintf("the %s °C that the seat needs", plain(need))
	below := exceeds(need, w.y)
	switch {
	case below && v == Fail && w.d.proven:
		return fmt.Sprintf("%s, %s K below %s%s", what, dist, at, tail)
	case below && v == Fail:
		return fmt.Sprintf("%s, %s K below %s: not accepted, though within the uncertainty of %s K%s", what, dist, at, U, tail)
	case below:
		return fmt.Sprintf("%s, %s K below %s, with an uncertainty of %s K%s", what, dist, at, U, tail)
	case v == Pass && !exceeds(need+w.expanded, w.y):
		return fmt.Sprintf("%s, %s K above %s, with an uncertainty of %s K%s", what, dist, at, U, tail)
	case v == Pass && w.y == need:
		return fmt.Sprintf("%s, exactly %s; the uncertainty of %s K is shared%s", what, at, U, tail)
	case v == Pass:
		return fmt.Sprintf("%s, %s K above %s; the uncertainty of %s K is shared%s", what, dist, at, U, tail)
	}
	return fmt.Sprintf("%s, only %s K above %s, with an uncertainty of %s K%s", what, dist, at, U, tail)
}

// windowAfter says how long after mounting the bore stayed as warm as needed, as far as the log shows.
func (sc *scene) windowAfter(t *trace, need, atS float64) string {
	last, lastC := -1, 0.0
	for i, at := range sc.timeS {
		v := t.c[i]
		if at < atS || series.IsMissing(v) {
			continue
		}
		if v < need && last >= 0 && lastC >= need {
			cross := sc.timeS[last] + (at-sc.timeS[last])*(lastC-need)/(lastC-v)
			return fmt.Sprintf("%s stayed at or above %s °C for another %s after mounting", sc.body(t), plain(need), duration(cross-atS))
		}
		last, lastC = i, v
	}
	return ""
}
