package judge

import (
	"fmt"
	"math"
	"sort"

	"ringheat/analyze/curve"
	"ringheat/analyze/quantity"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// pair is an inner and an outer probe with the largest difference between them.
type pair struct {
	inner, outer *trace
	peak         curve.Extreme
	whole        bool    // both were read in every row
	sign         float64 // +1: the inner probe was hotter
	valid        int     // rows in which both were read
	unseen       unseen
}

// difference is the size of the largest difference, K.
func (p *pair) difference() float64 { return math.Max(0, p.peak.Value) }

// everyS is the usual time between two rows in which both are read, s.
func (p *pair) everyS() float64 { return math.Max(p.inner.everyS, p.outer.everyS) }

// largestPair finds the pair of probes with the largest difference; ok is false when no two were read
// at the same time.
func (sc *scene) largestPair() (best pair, ok bool) {
	sc.w.diff = grow(sc.w.diff, len(sc.timeS))
	unseenWorst := allSeen
	for i := range sc.traces[:sc.inner] {
		for k := sc.inner; k < len(sc.traces); k++ {
			p := pair{inner: &sc.traces[i], outer: &sc.traces[k]}
			if !sc.measurePair(&p) {
				unseenWorst.or(p.unseen.bound, p.unseen.why)
				continue
			}
			unseenWorst.or(p.unseen.bound, p.unseen.why)
			if !ok || p.peak.Value > best.peak.Value {
				best, ok = p, true
			}
		}
	}
	best.unseen = unseenWorst
	return best, ok
}

// measurePair reads the largest difference of a pair and bounds what was not seen of it.
func (sc *scene) measurePair(p *pair) bool {
	d := sc.w.diff
	low, high, n := 0.0, 0.0, 0
	if sc.alwaysBoth(p) {
		p.whole = true
		low, high = subtractWhole(d, p.inner.c, p.outer.c)
		n = len(d)
	} else {
		sc.subtractFor(p)
		low, high, n = reach(d)
	}
	if n == 0 {
		p.unseen.or(math.Inf(1), "the two rings were never read at the same time")
		return false
	}
	sc.unseenDifference(p, d)
	if n < fewest {
		p.unseen.or(math.Inf(1), fmt.Sprintf("the two rings were both read %s only, too seldom to know their largest difference", times(n)))
	}
	p.sign = 1
	if -low > high {
		p.sign = -1
		for i := range d {
			d[i] = -d[i]
		}
	}
	p.valid = n
	p.peak, _ = sc.largest(d, n, p.inner.stepK+p.outer.stepK, p.everyS())
	return p.peak.Known
}

// alwaysBoth says whether both rings were read in every row, with nothing to leave out.
func (sc *scene) alwaysBoth(p *pair) bool {
	return p.inner.whole && p.outer.whole && sc.s.MountedAtS == nil && !sc.everLoose(p.inner) && !sc.everLoose(p.outer)
}

// subtractWhole writes a - b and gives the smallest and the largest difference.
func subtractWhole(d, a, b []float64) (low, high float64) {
	a, b = a[:len(d)], b[:len(d)]
	low, high = a[0]-b[0], a[0]-b[0]
	for i := range d {
		v := a[i] - b[i]
		d[i] = v
		if v < low {
			low = v
		}
		if v > high {
			high = v
		}
	}
	return low, high
}

// reach gives the smallest and the largest of the differences that are not missing, and how many there are.
func reach(d []float64) (low, high float64, n int) {
	for _, v := range d {
		if series.IsMissing(v) {
			continue
		}
		if n == 0 {
			low, high = v, v
		}
		if v < low {
			low = v
		}
		if v > high {
			high = v
		}
		n++
	}
	return low, high, n
}

// subtract writes inner - outer, missing where either is. Where the two probes were hardly ever read in
// the same row, as in a file merged from two loggers, the outer one is interpolated to the inner's rows.
func (sc *scene) subtract(d []float64, p *pair) {
	a, b := p.inner.c, p.outer.c
	both := 0
	for i := range d {
		d[i] = a[i] - b[i]
		if !series.IsMissing(d[i]) {
			both++
		}
	}
	if 2*both >= min(p.inner.valid, p.outer.valid) || p.outer.valid < 2 {
		return
	}
	bridge, prev := p.outer.bridgeS(), -1
	for i := range d {
		if series.IsMissing(b[i]) {
			continue
		}
		if prev >= 0 && sc.axis[i]-sc.axis[prev] <= bridge {
			for k := prev + 1; k < i; k++ {
				part := (sc.axis[k] - sc.axis[prev]) / (sc.axis[i] - sc.axis[prev])
				d[k] = a[k] - (b[prev] + part*(b[i]-b[prev]))
			}
		}
		prev = i
	}
}

// subtractFor writes inner - outer of a pair into the workspace, without the rows in which a probe did
// not sit on its ring: such a probe says nothing of the difference.
func (sc *scene) subtractFor(p *pair) {
	d := sc.w.diff
	sc.subtract(d, p)
	if at := sc.s.MountedAtS; at != nil {
		// On its seat the cold shaft cools the bore: that is no uneven warming.
		for i := range d {
			if sc.timeS[i] > *at {
				d[i] = series.Missing()
			}
		}
	}
	for i := range sc.c.Cycle.Defects {
		def := &sc.c.Cycle.Defects[i]
		if loose(def.Kind) && (sc.concerns(def, p.inner) || sc.concerns(def, p.outer)) {
			for row := max(def.First, sc.row0); row < min(def.End, sc.row0+len(d)); row++ {
				d[row-sc.row0] = series.Missing()
			}
		}
	}
}

func loose(k segment.DefectKind) bool {
	return k == segment.ProbeDetached || k == segment.PoorContact || k == segment.ProbeLate
}

// unseenDifference bounds the difference that the rings could have had without its being seen. The
// difference grows no faster than the faster ring warms, and only while the part is heated.
func (sc *scene) unseenDifference(p *pair, d []float64) {
	p.unseen = allSeen
	u := &p.unseen
	r := math.Max(p.inner.couldWarm(), p.outer.couldWarm())
	every := math.Max(p.inner.everyS, p.outer.everyS)
	hole := math.Max(p.inner.holeS(), p.outer.holeS())
	between := func(prev, i int) {
		if gap := sc.axis[i] - sc.axis[prev]; gap > hole {
			edge := math.Max(math.Abs(d[prev]), math.Abs(d[i]))
			top := math.Max(edge, (math.Abs(d[prev])+math.Abs(d[i])+r*(gap-every))/2)
			if top > u.bound && (!sc.heatEnded(prev) || sc.reheated(p.inner, prev, i) || sc.reheated(p.outer, prev, i)) {
				u.or(top, fmt.Sprintf("the two rings were not both read for %s from %s on, and could have been %s K apart in that time",
					duration(gap), clock(sc.timeS[prev]), quantity.FormatDecimals(top, 0)))
			}
		}
	}
	if sc.sameTrace(p) {
		u.or(math.Inf(1), "the readings of the two rings agree in every digit, which two probes never do: one probe seems to stand in both columns")
	}
	if a, b := &sc.c.Log.Channels[p.inner.channel], &sc.c.Log.Channels[p.outer.channel]; a.Averaged != b.Averaged || a.Lowest != b.Lowest {
		top := r * every // a mean or a lowest of one ring lags behind a reading of the other
		if _, high, n := reach(d); n > 0 {
			top += math.Abs(high)
		}
		u.or(top, fmt.Sprintf("one ring's readings are means or lowest of each interval and the other's are not: the rings could have been %s K apart", quantity.FormatDecimals(top, 0)))
	}
	prev := -1
	if p.whole {
		sc.unseenStart(p, 0, d[0], r)
		for _, i := range sc.gaps {
			between(i-1, i)
		}
		prev = len(d) - 1
	} else {
		for i, v := range d {
			if series.IsMissing(v) {
				continue
			}
			if prev < 0 {
				sc.unseenStart(p, i, v, r)
			} else {
				between(prev, i)
			}
			prev = i
		}
	}
	if prev >= 0 {
		gap := sc.axis[len(d)-1] - sc.axis[prev]
		if atS, _, ok := sc.after(p.inner); ok && atS-sc.axis[len(d)-1] > hole {
			gap = atS - sc.axis[prev] // the hole reaches on to the next cycle
		}
		if gap > hole && !sc.heatEnded(prev) {
			on := gap
			if sc.heatEnded(len(d) - 1) {
				on = math.Max(0, math.Min(gap, sc.coolingFrom()-sc.axis[prev]))
			}
			top := math.Abs(d[prev]) + r*on
			u.or(top, fmt.Sprintf("the two rings were not both read from %s on, and could have come to be %s K apart",
				clock(sc.timeS[prev]), quantity.FormatDecimals(top, 0)))
		}
	}
	for i := range sc.c.Cycle.Defects {
		def := &sc.c.Cycle.Defects[i]
		if !sc.concerns(def, p.inner) && !sc.concerns(def, p.outer) {
			continue
		}
		switch def.Kind {
		case segment.StillRising:
			u.or(math.Inf(1), stillWarming)
		case segment.CoolingOnly:
			u.or(math.Inf(1), "the log shows the part cooling only; how uneven it was before is not known")
		case segment.NotIdentifiable:
			if !sc.c.Cycle.End.Known {
				u.or(math.Inf(1), "it could not be told when the part was warmed")
			}
		case segment.TooCoarse:
			edge := 0.0
			for _, v := range d {
				if a := math.Abs(v); a > edge {
					edge = a
				}
			}
			top := edge + r*every/2
			u.or(top, fmt.Sprintf("a reading every %s is too seldom to see the largest difference, which could have been %s K",
				duration(every), quantity.FormatDecimals(top, 0)))
		case segment.Frozen, segment.Saturated:
			for _, t := range []*trace{p.inner, p.outer} {
				switch {
				case !sc.concerns(def, t):
				case def.Kind == segment.Saturated:
					u.or(math.Inf(1), sc.saturatedWords(t, def))
				case !t.fallen(def.First + 1 - sc.row0):
					u.or(math.Inf(1), fmt.Sprintf("the readings of the %s repeat to the last digit from %s on, which no ring does: how uneven the rings were is not known",
						sc.body(t), clock(def.FromS)))
				}
			}
		case segment.ClockFault:
			for _, t := range []*trace{p.inner, p.outer} {
				if why := sc.timeLost(t, def); why != "" {
					u.or(math.Inf(1), why)
				}
			}
		}
	}
}

// unseenStart bounds the difference before the two rings were both read for the first time, at row i
// with difference v. While both warm, the hotter one was not hotter than then, nor the other colder
// than the surroundings.
func (sc *scene) unseenStart(p *pair, i int, v, r float64) {
	late := sc.axis[i]-sc.axis[0] > math.Max(p.inner.bridgeS(), p.outer.bridgeS())
	onsetUnseen := false
	for k := range sc.c.Cycle.Defects {
		def := &sc.c.Cycle.Defects[k]
		onsetUnseen = onsetUnseen || def.Kind == segment.OnsetNotSeen && (sc.concerns(def, p.inner) || sc.concerns(def, p.outer))
	}
	if !late && !onsetUnseen {
		return
	}
	if late && sc.axis[i] > sc.coolingFrom() {
		p.unseen.or(math.Inf(1), "the two rings were not both read before heating had ended")
		return
	}
	top := math.Max(math.Abs(v), math.Max(p.inner.c[i], p.outer.c[i])-sc.ambientC())
	if late && !onsetUnseen {
		from := sc.axis[0]
		if on := sc.c.Cycle.Onset; on.Known && on.AtS > from && on.AtS < sc.axis[i] {
			from = on.AtS
		}
		top = math.Min(top, math.Max(math.Abs(v), (math.Abs(v)+r*(sc.axis[i]-from))/2))
	}
	why := fmt.Sprintf("the two rings were not both read before %s, and could have been %s K apart until then",
		clock(sc.timeS[i]), quantity.FormatDecimals(top, 0))
	if onsetUnseen {
		why = fmt.Sprintf("the log began with the part already warm; until then the rings could have been %s K apart", quantity.FormatDecimals(top, 0))
	}
	p.unseen.or(top, why)
}

// judgeRingDiff compares the largest difference between the rings with the tolerance limit.
func (sc *scene) judgeRingDiff(j *CycleJudgement) (f Finding, missing []string) {
	p := sc.p
	f = Finding{Check: RingDiff, Verdict: NotAsked, Coverage: 2}
	asked := p.kind.TwoRings()
	if !asked {
		f.Reason = fmt.Sprintf("not asked: a %s is one body", p.kind)
	} else {
		f.Verdict, f.Limit = Unproven, ptr(p.diffK)
		f.Assumed = appendSaid(nil, p.assumedDiff)
	}
	best, ok := sc.largestPair()
	if !ok {
		if asked {
			f.Reason = sc.noPairWords()
			missing = []string{f.Reason}
		}
		return f, missing
	}
	at := sc.onClock(best.peak.AtS)
	j.MaxRingDiffK, j.MaxRingDiffAtS = ptr(best.difference()), ptr(at)
	if sc.doubt == "" {
		j.SignedRingDiffK = ptr(best.sign * best.difference())
		if best.difference() > 0 {
			j.HotterRing = map[bool]string{true: "inner", false: "outer"}[best.sign > 0]
		}
	}
	if !asked {
		return f, nil
	}
	customary := sc.judgePair(&best, p.diffK)
	decided, limitName := customary, ""
	if s := sc.s.ClearanceDiffK; s != nil {
		// Only a hotter inner ring uses up clearance. Where it is not settled which is the inner one, the
		// larger difference counts for it, and can't fail by it.
		inner := best
		inDoubt := sc.doubt != ""
		if !inDoubt && best.sign < 0 {
			inner.sign = 1
			sc.subtractFor(&inner)
			inner.peak, _ = sc.largest(sc.w.diff, inner.valid, inner.inner.stepK+inner.outer.stepK, inner.everyS())
		}
		if inner.peak.Known {
			byClearance := sc.judgePair(&inner, *s)
			if inDoubt && byClearance.d.verdict == Fail {
				byClearance.d.verdict = Unproven
			}
			worse := rank(byClearance.d.verdict) > rank(customary.d.verdict)
			if worse || rank(byClearance.d.verdict) == rank(customary.d.verdict) && *s < p.diffK && (best.sign > 0 || inDoubt) {
				decided, limitName = byClearance, " at which the clearance is used up"
			}
		}
	}
	hotter := sc.hotterWords(decided.p)
	y, u, d, limit := decided.y, decided.m.standard(), decided.d, decided.limit
	at = sc.onClock(decided.p.peak.AtS)
	f.Limit = ptr(limit)
	f.Value, f.Uncertainty, f.Coverage, f.Acceptance, f.AtS = ptr(y), ptr(decided.expanded), decided.k, ptr(d.acceptance), ptr(at)
	f.Conformance = ptr(conformance(y, limit, u))
	f.Budget, f.Subject, f.Verdict = decided.m.budget, hotter.subject, d.verdict
	what := fmt.Sprintf("%s %s K %s at %s", hotter.who, figure(y, u), hotter.than, clock(at))
	f.Reason = sc.limitWords(what, y, limit, decided.expanded, u, d.verdict, d.proven, "K"+limitName)
	if f.Verdict == Fail {
		f.Proven = ptr(d.proven)
		return f, nil
	}
	if exceeds(best.unseen.bound, d.acceptance) {
		missing = append(missing, best.unseen.why)
		if f.Verdict == Pass {
			f.Verdict = Unproven
			f.Reason = fmt.Sprintf("%s; the largest difference seen is %s K", best.unseen.why, figure(y, u))
			f.Conformance = nil // of what was seen only, which says nothing of what was not
		}
	}
	return f, missing
}

// pairAnswer is one limit's answer for a pair.
type pairAnswer struct {
	p        *pair
	limit    float64
	y        float64
	m        uncertainty
	expanded float64
	k        float64
	d        decision
}

func (sc *scene) judgePair(p *pair, limit float64) pairAnswer {
	a := pairAnswer{p: p, limit: limit, y: inSteps(p.difference(), math.Min(p.inner.stepK, p.outer.stepK))}
	ti, to := sc.valuesAt(p)
	sc.measure2(&a.m, p, ti, to)
	a.expanded, a.k = a.m.expanded()
	a.d = atMost(a.y, limit, a.expanded, sc.p.g, sc.p.rule)
	return a
}

type hotterWords struct{ who, than, subject string }

func (sc *scene) hotterWords(p *pair) hotterWords {
	hot, cold := p.inner, p.outer
	if p.sign < 0 {
		hot, cold = cold, hot
	}
	w := hotterWords{who: sc.body(hot), than: "hotter than " + sc.body(cold), subject: map[bool]string{true: "inner hotter", false: "outer hotter"}[p.sign > 0]}
	if sc.doubt != "" {
		w.subject = sc.subject(hot) + " hotter"
	} else if sc.inner > 1 || len(sc.traces)-sc.inner > 1 {
		w.subject += " (" + sc.subject(hot) + ", " + sc.subject(cold) + ")"
	}
	return w
}

// noPairWords says why there is no difference.
func (sc *scene) noPairWords() string {
	count := func(outer bool) (probes, read int) {
		for i := range sc.traces {
			if sc.traces[i].outer == outer {
				probes++
				if sc.traces[i].valid > 0 {
					read++
				}
			}
		}
		return probes, read
	}
	for _, ring := range []struct {
		outer bool
		name  string
	}{{true, "outer"}, {false, "inner"}} {
		probes, read := count(ring.outer)
		if probes == 0 {
			return fmt.Sprintf("the log has no probe on the %s ring, so evenness can't be judged", ring.name)
		}
		if read == 0 {
			return fmt.Sprintf("the probe on the %s ring gave no reading, so evenness can't be judged", ring.name)
		}
	}
	return "the two rings were never read well at the same time, so evenness can't be judged"
}

// valuesAt gives the temperatures of a pair near the time of its largest difference, °C.
func (sc *scene) valuesAt(p *pair) (inner, outer float64) {
	at := sort.SearchFloat64s(sc.axis, p.peak.AtS)
	for reach := 0; reach < len(sc.axis); reach++ {
		for _, i := range [2]int{at - reach, at + reach} {
			if i >= 0 && i < len(sc.axis) && !series.IsMissing(p.inner.c[i]) && !series.IsMissing(p.outer.c[i]) {
				return p.inner.c[i], p.outer.c[i]
			}
		}
	}
	// Never read in one row: the probes' tolerances at their own peaks serve.
	return p.inner.peak.Value, p.outer.peak.Value
}

// measure2 adds up what the difference of two probes leaves uncertain. The probes are taken to err
// independently; two of one batch often err alike, which would make the difference better known.
func (sc *scene) measure2(m *uncertainty, p *pair, inner, outer float64) {
	for _, side := range []struct {
		t *trace
		c float64
	}{{p.inner, inner}, {p.outer, outer}} {
		name := sc.body(side.t)
		sc.measureProbe(m, ", "+name, side.c)
		basis := "half a step of the display, which is taken to round"
		if side.t.assumed {
			basis = "half a step of 0.1 K, as the display step is not known"
		}
		m.rectangular("display step, "+name, side.t.stepK/2, basis)
	}
	m.normal("noise of the difference", p.peak.StdErr, float64(max(p.peak.N-3, 1)), "standard error of the local curve")
}
