package segment

import (
	"fmt"
	"math"
)

// mark is a moment on the unrolled axis.
type mark struct {
	u        float64
	known    bool
	evidence string
}

// ramp is a stretch of a warming at one heating power.
type ramp struct {
	fromU, toU float64 // power on or changed, power off or changed
	cleanU     float64 // the start-up lag has died away
	safeU      float64 // the last time that is surely before the kink at its end
	fromY, toY float64
	slopeEnd   float64 // slope at its end, K/s
	lagS       float64 // how late the trace is for lag, as far as it shows
	hold       bool    // a plateau between two rises
}

// course is one warming on one trace in detail.
type course struct {
	tr      *trace
	w       warming
	onset   mark
	rampEnd mark
	end     mark
	baseY   float64 // level before the onset, °C
	atStart bool    // the record has no stretch before the rise
	ramps   []ramp  // in order of time
	hold    bool
	rising  bool    // the record stopped while the trace was rising
	lost    bool    // the probe left the ring when the rise ended: what the ring did then is not shown
	topY    float64 // level at the ramp's end, °C
}

// reader holds the scratch of course analysis.
type reader struct {
	h    hinges
	d    departures
	r    []float64
	t, y []float64

	pieces, cut []ramp
	turns       []turn
}

// at is the first reading of the trace not before u.
func (tr *trace) at(u float64) int {
	lo, hi := 0, len(tr.t)
	for lo < hi {
		mid := (lo + hi) / 2
		if tr.t[mid] < u {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// binAt is the first bin whose mean time is not before u.
func (tr *trace) binAt(u float64) int {
	lo, hi := 0, len(tr.binT)
	for lo < hi {
		mid := (lo + hi) / 2
		if tr.binT[mid] < u {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// tolK is the difference of bin means below which they say nothing, K.
func (tr *trace) tolK(sigmas float64) float64 {
	return max(sigmas*tr.binNoiseK, tr.stepK)
}

// residuals fills s.r with y - p(t) for readings [a, b).
func (s *reader) residuals(tr *trace, p *polynomial, a, b int) []float64 {
	s.r = s.r[:0]
	for i := a; i < b; i++ {
		s.r = append(s.r, tr.y[i]-p.at(tr.t[i]))
	}
	return s.r
}

// few is how many residuals are averaged to say that a trace has left a model.
const few = 3

// clears gives the first index of r at which the mean of the last few residuals has passed level, in
// the direction of sign (0 for either), or len(r).
func clears(r []float64, level float64, sign int) int {
	for i := few - 1; i < len(r); i++ {
		m := (r[i] + r[i-1] + r[i-2]) / few
		if sign >= 0 && m >= level || sign <= 0 && m <= -level {
			return i
		}
	}
	return len(r)
}

// begin is what can be said of the begin of a rise.
type begin struct {
	u      float64 // heating begins
	baseY  float64 // level before, °C
	lagS   float64 // how late the straight rise is for lag
	riseU  float64 // when the rise has reached 2.5 %
	slope  float64 // early slope, K/s
	rampS  float64 // how long the rise lasts, roughly
	before int     // readings that show the level before
}

// readBegin dates the begin of the rise of one leg. fromU is the earliest time that can belong to it.
func (s *reader) readBegin(tr *trace, l leg, fromU float64) begin {
	rise := l.highY - l.lowY
	// The early ramp, from 8 % to 40 % of the rise, as a parabola.
	lowBin := l.low
	topBin := l.low
	flatU := tr.binT[l.low]
	for ; topBin < l.high && tr.binY[topBin] < l.lowY+0.4*rise; topBin++ {
		if tr.binY[topBin] <= l.lowY+tr.tolK(3) {
			flatU = tr.binT[topBin]
		}
		if tr.binY[topBin] <= l.lowY+max(0.08*rise, tr.tolK(3)) {
			lowBin = topBin
		}
	}
	a, b := int(tr.binFirst[lowBin]), int(tr.binFirst[topBin+1])
	degree := 2
	if b-a < 8 {
		degree = 1
	}
	b = max(b, min(a+3, len(tr.t)))
	base := tr.lowLevel(l, fromU, flatU)
	early := fitPolynomial(tr.t[a:b], tr.y[a:b], degree)
	slope := early.slope(tr.t[a])
	cross := early.before(tr.t[a], base)
	if slope <= 0 || cross > tr.t[b-1] {
		early = fitPolynomial(tr.t[a:b], tr.y[a:b], 1)
		slope = early.slope(tr.t[a])
		cross = early.before(tr.t[a], base)
	}
	if !(slope > 1e-9) || math.IsInf(cross, 0) {
		slope, cross = 1e-9, flatU
	} else {
		cross = max(cross, flatU-tr.tolK(3)/slope) // it can't have begun before it left its level
	}
	rampS := max(tr.binT[l.high]-cross, tr.spacing)
	g := begin{slope: slope, rampS: rampS, riseU: early.before(tr.t[a], base+beginShare*rise)}

	// The base: what stands before, without the last part that lag may have bent.
	first := max(tr.at(fromU), tr.at(cross-max(0.5*rampS, 20*tr.spacing)))
	for b := l.low; b >= 0 && tr.binT[b] > tr.t[min(first, len(tr.t)-1)]; b-- {
		if tr.binY[b] > base+max(0.05*rise, tr.tolK(6)) { // it stood elsewhere before
			first = int(tr.binFirst[b+1])
			break
		}
	}
	first = min(first, len(tr.t)-1)
	width := cross - tr.t[first]
	last := tr.at(cross - min(0.5*width, max(30, 3*tr.spacing)))
	if last-first < 3 {
		last = min(tr.at(cross), first+3)
	}
	// A base that short could as well be the ramp: the ramp drawn back to the first reading would hardly
	// stand lower.
	hidden := (cross-tr.t[first])*slope < max(6*tr.noiseK/math.Sqrt(float64(max(last-first, 1))), 2*tr.stepK, 0.01*rise)
	if last-first >= 3 && !hidden {
		flat := fitPolynomial(tr.t[first:last], tr.y[first:last], 1)
		hidden = flat.slope(flat.t0) > 0.5*slope
	}
	if last-first < 3 || tr.t[last-1] > cross || hidden {
		g.u, g.baseY = max(tr.t[first], cross), tr.y[first]
		if last-first >= 2 {
			g.baseY = fitPolynomial(tr.t[first:last], tr.y[first:last], 0).c[0]
		}
		return g
	}
	p := fitPolynomial(tr.t[first:last], tr.y[first:last], 0)
	if last-first >= 8 {
		q := fitPolynomial(tr.t[first:last], tr.y[first:last], 1)
		if sl := q.slope(q.t0); math.Abs(sl) > 5*tr.noiseK*q.slopeSE && sl < 0.2*slope {
			p = q
		}
	}
	g.before = last - first
	r := s.residuals(tr, &p, first, b)
	level := max(8*tr.noiseK/math.Sqrt(few), 0.1*rise, 3*tr.stepK)
	n := min(clears(r, level, 1)+1, len(r))
	n = max(n, min(last-first+3, len(r)))
	// No need to look for it further back than the ramp was followed.
	skip := min(tr.at(2*cross-tr.t[first+n-1]-3*tr.spacing)-first, n-8)
	skip = max(skip, 0)
	k := s.d.first(tr.t[first+skip:first+n], r[skip:n], 1, tr.noiseK)
	if k.at < 0 {
		k.at = last - first - 1 - skip
	}
	g.u = tr.t[first+skip+k.at]
	g.baseY = p.at(g.u)
	g.lagS = k.lagS
	return g
}

// lowLevel is the level about a leg's low, which is itself the lowest of many noisy bins.
func (tr *trace) lowLevel(l leg, fromU, flatU float64) float64 {
	sum, n := 0.0, 0.0
	for b := max(0, l.low-5); b < len(tr.binT) && tr.binT[b] <= flatU; b++ {
		if tr.binT[b] >= fromU && tr.binY[b] < l.lowY+tr.tolK(6) {
			sum += tr.binY[b]
			n++
		}
	}
	if n == 0 {
		return l.lowY
	}
	return sum / n
}

// Heater and probe lag of 20 s together die away within about a minute. That much is left out at the begin
// of a rise, even where the lag does not show above the noise, but no more than a tenth of the rise.
const (
	startUpS     = 60
	startUpShare = 0.1
	// A lag that shows is given six times its size, at most this share of the rise.
	lagTimes   = 6
	lagShare   = 0.25
	beginShare = 0.025 // nor is the first 2.5 % of the rise used
)

// clean is the time from which lag no longer bends the rise.
func (g *begin) clean(spacing float64) float64 {
	wait := max(2*spacing, min(lagTimes*g.lagS, lagShare*g.rampS), min(startUpS, startUpShare*g.rampS))
	return max(g.u+wait, g.riseU)
}

// top is the neighbourhood of a leg's upper end, in bins.
type top struct {
	begin  int  // where it begins, roughly
	end    int  // where the trace begins to fall, or the last bin, roughly
	end0   int  // the last high of the top: it can't begin to fall before
	right  int  // how far the kink's search reaches
	away   int  // where the trace has clearly left it
	left   bool // it has left it
	kinkU  float64
	kinked bool // the ramp's slope does break there
}

// readTop finds where a leg's rise breaks off. last is the last bin that may be looked at, topEnd the
// last high of the same level, c.baseY the level before the warming.
func (s *reader) readTop(tr *trace, l leg, startU, lagS, baseY float64, topEnd, last int) top {
	rise := l.highY - baseY
	var o top
	o.begin = l.low
	for o.begin < l.high && tr.binY[o.begin] < l.highY-max(0.05*rise, tr.tolK(3)) {
		o.begin++
	}
	peak := max(l.highY, tr.binY[topEnd])
	drop := peak - max(0.2*rise, 4*tr.tolK(3))
	for _, x := range tr.losses { // a probe taken off says nothing of the ring
		if k := tr.binAt(x.fromU) - 1; x.afterEnd && k > topEnd {
			last = min(last, k)
		}
	}
	o.away = topEnd
	for o.away < last && tr.binY[o.away] > drop {
		o.away++
	}
	// The hold's end stands highest above the chord from the top's begin to there.
	o.end = l.high
	height := 0.0
	if o.away > o.begin+1 {
		sl := (tr.binY[o.away] - tr.binY[o.begin]) / (tr.binT[o.away] - tr.binT[o.begin])
		for b := o.begin + 1; b < o.away; b++ {
			if v := tr.binY[b] - tr.binY[o.begin] - sl*(tr.binT[b]-tr.binT[o.begin]); v > height {
				height, o.end = v, b
			}
		}
	}
	o.left = tr.binY[o.away] < peak-max(0.05*rise, tr.tolK(5), 2)
	if !o.left {
		o.end = o.away
	}
	o.end = max(o.end, topEnd)
	if topEnd > l.high {
		o.end0 = topEnd
	}
	// The ramp's end: the best hinge down over ramp and top.
	rampS := max(tr.binT[o.begin]-startU, tr.spacing)
	o.right = min(o.begin+1, last)
	for o.right < last && (o.right < o.end || !o.left) && tr.binT[o.right] < tr.binT[o.begin]+0.35*rampS {
		o.right++
	}
	for o.right < last && o.right-o.begin < 4 {
		o.right++
	}
	for o.right < last && tr.binT[o.right] < tr.binT[l.high]+0.15*rampS && tr.binY[o.right] > l.highY-0.1*rise {
		o.right++
	}
	a := tr.binAt(startU + min(lagS*2, 0.2*rampS))
	a = min(a, o.begin)
	o.kinkU = tr.binT[l.high]
	if o.right+1-a < 6 {
		o.kinked = o.left
		return o
	}
	s.h.start(tr.binT[a:o.right+1], tr.binY[a:o.right+1])
	lo := o.begin - a
	for lo > 1 && tr.binY[a+lo] > l.highY-0.12*rise {
		lo--
	}
	if k, gain := s.h.best(lo, o.right-a, -1); k >= 0 {
		o.kinkU = tr.binT[a+k]
		o.kinked = o.left || gain > 25*tr.binNoiseK*tr.binNoiseK
	}
	return o
}

// steadies says whether the trace, after the kink of a top that it has not left, goes on at less than
// a third of the slope before: the rise is over though the record shows no fall.
func (s *reader) steadies(tr *trace, o *top, slopeEnd float64) bool {
	if !o.kinked {
		return false
	}
	a := tr.at(o.kinkU)
	if len(tr.t)-a < 4 {
		return false
	}
	p := fitPolynomial(tr.t[a:], tr.y[a:], 1)
	return p.slope(p.t0) < slopeEnd/3
}

// holdLevel is the middle level of the trace between two times, the first fifth left out for overshoot;
// +Inf when nothing stands there.
func (s *reader) holdLevel(tr *trace, fromU, toU float64) float64 {
	s.r = s.r[:0]
	for b := tr.binAt(fromU + 0.2*(toU-fromU)); b < len(tr.binT) && tr.binT[b] <= toU; b++ {
		s.r = append(s.r, tr.binY[b])
	}
	if len(s.r) == 0 {
		return math.Inf(1)
	}
	return quantile(s.r, 0.5)
}

// breakOff dates the departure from the late ramp near kinkU and returns time, level and slope there,
// and how unsure the time is.
func (s *reader) breakOff(tr *trace, startU, cleanU, kinkU, rightU, holdY float64) (u, y, slope, unsureS float64) {
	rampS := max(kinkU-startU, tr.spacing)
	if rampS < 15*tr.spacing {
		return s.coarseBreakOff(tr, startU, rightU)
	}
	guard := max(2.5*tr.spacing, 0.04*rampS, tr.binS)
	b := tr.at(kinkU - guard)
	a := tr.at(max(kinkU-max(0.35*rampS, 12*tr.spacing), min(cleanU, kinkU-0.35*rampS)))
	stop := tr.at(rightU)
	if b-a < 4 {
		a = max(tr.at(startU), b-4)
	}
	if b-a < 3 {
		k := min(tr.at(kinkU), len(tr.t)-1)
		if k > 0 && tr.t[k] > startU {
			slope = max(0, (tr.y[k]-tr.y[k-1])/max(tr.t[k]-tr.t[k-1], 1e-9))
		}
		return tr.t[k], tr.y[k], slope, tr.spacing
	}
	degree := 2
	if b-a < 6 {
		degree = 1
	}
	p := fitPolynomial(tr.t[a:b], tr.y[a:b], degree)
	r := s.residuals(tr, &p, a, max(stop, b))
	level := max(6*tr.noiseK/math.Sqrt(few), 2*tr.stepK)
	n := b - a + clears(r[b-a:], level, 0)
	n = min(n+1, len(r))
	k := s.d.first(tr.t[a:a+n], r[:n], 0, tr.noiseK)
	u = kinkU
	if k.at >= 0 {
		u = max(tr.t[a+k.at], tr.t[b-1])
		unsureS = 2 * tr.noiseK / max(math.Abs(k.slope), 1e-9)
	}
	// A quiet hold ends the ramp where the ramp reaches its level; a swinging one lies below the first crest.
	if p.at(u)-holdY < max(3, 0.03*(p.at(u)-tr.y[min(tr.at(startU), len(tr.y)-1)])) {
		for i := b - 1; i < a+n && tr.t[i] < u; i++ {
			if p.at(tr.t[i]) >= holdY {
				u = tr.t[i]
			}
		}
	}
	unsureS = min(unsureS, guard)
	return u, p.at(u), p.slope(u), unsureS
}

// coarseBreakOff serves a rise of a few readings: it ends with the first one that stands at the top.
func (s *reader) coarseBreakOff(tr *trace, startU, rightU float64) (u, y, slope, unsureS float64) {
	a, b := tr.at(startU), min(tr.at(rightU)+1, len(tr.t))
	a = min(a, b-1)
	high, low := a, a
	for i := a; i < b; i++ {
		if tr.y[i] > tr.y[high] {
			high = i
		}
		if tr.y[i] < tr.y[low] {
			low = i
		}
	}
	k := a
	for k < high && tr.y[k] < tr.y[high]-max(0.05*(tr.y[high]-tr.y[low]), 3*tr.noiseK, tr.stepK) {
		k++
	}
	if j := max(k-2, a); k > j && tr.t[k] > tr.t[j] {
		slope = max(0, (tr.y[k]-tr.y[j])/(tr.t[k]-tr.t[j]))
	}
	return tr.t[k], tr.y[k], slope, 0
}

// Lag shows a switch late, and noise may hide the lag: so much earlier, and so much of the ramp at most, a
// rise is given up.
const (
	switchLateS     = 10
	switchLateShare = 0.04
)

// safe is the last time that is surely before the kink of a ramp that breaks off at u: 2.5 % of the rise,
// two readings or the doubt about u earlier, and half the lag by which the trace shows it late, but not
// more than 15 % of the ramp.
func safe(tr *trace, fromU, u, rise, slope, unsureS, lagS float64) float64 {
	readings := 2 * tr.spacing
	if u-fromU < 15*tr.spacing {
		readings = 1.01 * tr.spacing // each reading is a large part of the rise
	}
	late := max(0.5*lagS, min(switchLateS, switchLateShare*(u-fromU)))
	early := max(readings, unsureS, min(0.025*rise/max(slope, 1e-9), 0.15*(u-fromU))) + late
	return u - min(early, max(0.15*(u-fromU), 2*tr.spacing))
}

// follow reads a warming's course. fromU is the earliest time that can belong to it.
func (s *reader) follow(tr *trace, w warming, fromU float64, o Options) course {
	c := course{tr: tr, w: w}
	final := 0
	for i, l := range w.legs {
		if !l.ripple {
			final = i
		}
	}
	for i, l := range w.legs[:final+1] {
		if l.ripple {
			continue
		}
		g := s.readBegin(tr, l, fromU)
		if i == 0 {
			c.baseY = g.baseY
			if g.before == 0 {
				c.atStart = true
				c.onset = mark{u: g.u, evidence: fmt.Sprintf("the record begins at %.1f °C with the trace already rising", g.baseY)}
			} else {
				c.onset = mark{u: g.u, known: true, evidence: fmt.Sprintf("the trace leaves %.1f °C, where it stood before, and goes on to rise", g.baseY)}
			}
		}
		last, topEnd := w.lowEnd, w.topEnd
		if i < final {
			topEnd = l.high
			for _, m := range w.legs[i+1 : final+1] {
				if m.ripple {
					topEnd = m.high
					continue
				}
				last = m.low
				break
			}
		}
		r := ramp{fromU: g.u, fromY: g.baseY, cleanU: g.clean(tr.spacing), lagS: g.lagS}
		pieces := s.readRise(&c, r, l, &g, topEnd, last, i == final, o)
		c.ramps = append(c.ramps, pieces...)
		fromU = pieces[len(pieces)-1].toU
	}
	return c
}

// readRise reads one leg from its begin to its break-off and cuts it at power steps. A power step makes
// the search for the break-off start anew behind it.
func (s *reader) readRise(c *course, r ramp, l leg, g *begin, topEnd, last int, final bool, o Options) []ramp {
	tr := c.tr
	pieces := s.pieces[:0]
	for range maxRamps {
		t := s.readTop(tr, l, r.fromU, g.lagS, c.baseY, topEnd, last)
		holdY := math.Inf(1)
		if tr.binT[t.end]-t.kinkU >= o.MinHoldS && t.kinked {
			holdY = s.holdLevel(tr, t.kinkU, tr.binT[t.end])
		}
		u, y, slope, unsure := s.breakOff(tr, r.fromU, r.cleanU, t.kinkU, tr.binT[t.right], holdY)
		r.toU, r.toY, r.slopeEnd = u, y, slope
		r.safeU = safe(tr, r.fromU, u, y-c.baseY, slope, unsure, g.lagS)
		if final {
			c.finish(s, &r, &t, unsure, o)
		}
		cut := s.splitAtPowerSteps(tr, r)
		if len(cut) == 1 {
			pieces = append(pieces, r)
			break
		}
		pieces = append(pieces, cut[:len(cut)-1]...)
		r = cut[len(cut)-1]
	}
	markPlateaus(pieces)
	pieces = settle(pieces)
	s.pieces = pieces
	return pieces
}

// finish settles how the last ramp ends, the hold after it and the end of heating.
func (c *course) finish(s *reader, r *ramp, t *top, unsure float64, o Options) {
	tr := c.tr
	c.rising, c.hold, c.lost = false, false, false
	lastU := tr.t[len(tr.t)-1]
	if !t.left && !s.steadies(tr, t, r.slopeEnd) {
		c.rising = true
		r.toU, r.toY = lastU, tr.y[len(tr.y)-1]
		r.safeU = lastU
		c.topY = r.toY
		c.rampEnd = mark{evidence: fmt.Sprintf("the record ends at %.1f °C while the trace rises", r.toY)}
		c.end = mark{evidence: "the record ends before the end of heating"}
		return
	}
	c.topY = r.toY
	c.rampEnd = mark{u: r.toU, known: true, evidence: fmt.Sprintf("the rise of %.2g K/min breaks off at %.1f °C", 60*r.slopeEnd, r.toY)}
	end := max(tr.knee(min(tr.binAt(r.toU), t.away), t.away, 0), t.end0)
	endU := tr.binT[end]
	gap := gapFactor * tr.spacing
	c.hold = endU-r.toU >= o.MinHoldS && (t.end0 > 0 || tr.isLevel(r.toU, r.toY, endU, r.toY-c.baseY, t.away)) && tr.coverage(r.toU, endU, gap) > 0.5
	if k := tr.at(r.toU + 1e-9); k < len(tr.t) && tr.t[k]-r.toU > gap {
		c.rampEnd.evidence += fmt.Sprintf(", or in the %.0f s without a reading after it", tr.t[k]-r.toU)
	}
	switch {
	case !t.left && max(r.toY, tr.highest(r.toU, t.away))-tr.meanAbout(t.away) > max(1, 0.015*(r.toY-c.baseY), tr.tolK(4)) && tr.falling(r.toU, tr.binT[t.away]):
		c.end = c.rampEnd
	case !t.left && t.away < len(tr.binT)-2:
		c.hold = tr.binT[t.away]-r.toU >= o.MinHoldS
		c.end = mark{evidence: fmt.Sprintf("the probe leaves the ring at %.1f °C, before the trace shows how the hold ends", tr.binY[t.away])}
		c.lost = true
	case !t.left:
		c.end = mark{evidence: fmt.Sprintf("the record ends at %.1f °C without a fall", tr.y[len(tr.y)-1])}
		c.hold = lastU-r.toU >= o.MinHoldS
	case c.hold:
		s.dateEnd(tr, c, endU, tr.binT[t.away])
		if c.end.u-r.toU < o.MinHoldS {
			c.hold, c.end = false, c.rampEnd
		}
	default:
		c.end = c.rampEnd
	}
	for _, l := range tr.losses {
		if l.afterEnd && c.end.known && !c.hold && math.Abs(l.fromU-c.end.u) < max(15, 3*tr.spacing) {
			c.lost = true
			c.end = mark{evidence: fmt.Sprintf("at the end of the rise the trace falls faster than the ring can cool, from %.0f °C: what the ring did then is not shown", l.fromY)}
		}
	}
}

// isLevel says whether the trace, from level y0 at fromU, holds until endU: it ends near y0 and falls far
// faster from there to bin away than it fell before. rise is the size of the warming, K.
func (tr *trace) isLevel(fromU, y0, endU, rise float64, away int) bool {
	a, b := tr.at(fromU), tr.at(endU)
	if b-a < 3 {
		return false
	}
	p := fitPolynomial(tr.t[a:b], tr.y[a:b], 1)
	y := p.at(endU)
	fall := y0 - y
	if fall > max(2, 0.05*rise, 8*tr.noiseK/math.Sqrt(float64(b-a))) {
		return false
	}
	// The first part may fall back from an overshoot; what counts is how the rest goes on.
	a = tr.at(fromU + 0.4*(endU-fromU))
	late := fitPolynomial(tr.t[a:b], tr.y[a:b], 1)
	before := max(0, min(-late.slope(late.t0)-tr.noiseK*late.slopeSE, max(fall/(endU-fromU), -p.slope(p.t0))))
	after := (y - tr.meanAbout(away)) / max(tr.binT[away]-endU, 1e-9)
	// Had the fall begun at once, the trace would stand clearly lower by now.
	return before < 0.35*after && after*(endU-fromU) > max(1, 5*tr.binNoiseK, 2*tr.stepK)
}

// falling says whether the last two fifths of a stretch fall, beyond noise and by more than half a kelvin.
func (tr *trace) falling(fromU, toU float64) bool {
	a, b := tr.at(toU-0.4*(toU-fromU)), tr.at(toU)
	if b-a < 3 {
		return true
	}
	p := fitPolynomial(tr.t[a:b], tr.y[a:b], 1)
	fall := -p.slope(p.t0) * (tr.t[b-1] - tr.t[a])
	return fall > max(0.5, tr.stepK, 4*tr.noiseK*p.slopeSE*(tr.t[b-1]-tr.t[a]))
}

// highest is the highest bin from time u to bin b.
func (tr *trace) highest(u float64, b int) float64 {
	y := math.Inf(-1)
	for k := tr.binAt(u); k <= b && k < len(tr.binY); k++ {
		y = max(y, tr.binY[k])
	}
	return y
}

// meanAbout is the mean of bin b and its neighbours.
func (tr *trace) meanAbout(b int) float64 {
	sum, n := 0.0, 0.0
	for k := max(0, b-1); k <= b+1 && k < len(tr.binY); k++ {
		sum += tr.binY[k]
		n++
	}
	return sum / n
}

// dateEnd dates the departure from the hold near endU.
func (s *reader) dateEnd(tr *trace, c *course, endU, awayU float64) {
	holdS := endU - c.rampEnd.u
	guard := max(3*tr.spacing, 0.1*holdS)
	a := tr.at(c.rampEnd.u + 0.4*holdS)
	b := tr.at(endU - guard)
	if b-a < 3 {
		c.end = mark{u: endU, known: true, evidence: "the hold ends and the trace falls"}
		return
	}
	trend := fitPolynomial(tr.t[a:b], tr.y[a:b], 1)
	swing := rms(s.residuals(tr, &trend, a, b))
	// A quiet hold is drawn on as it ran; a swinging one has only a level.
	p := trend
	if swing > 1.3*tr.noiseK+0.3*tr.stepK {
		p = fitPolynomial(tr.t[a:b], tr.y[a:b], 0)
	}
	r := s.residuals(tr, &p, a, tr.at(awayU))
	scatter := max(tr.noiseK, rms(r[:b-a]))
	if swing > max(1.6*tr.noiseK+0.3*tr.stepK, 0.25) && s.swings(tr, tr.t[a], endU, 1.5*swing) {
		u := s.lastCrest(tr, c.rampEnd.u, endU, awayU)
		c.end = mark{u: u, known: true, evidence: fmt.Sprintf("the control lets the trace swing about %.1f °C; after its last crest it falls away", p.at(endU))}
		return
	}
	level := max(6*scatter/math.Sqrt(few), 2*tr.stepK)
	n := b - a + clears(r[b-a:], level, -1)
	n = min(n+1, len(r))
	k := s.d.first(tr.t[a:a+n], r[:n], -1, scatter)
	u := endU
	if k.at >= 0 {
		u = tr.t[a+k.at]
	}
	// It has ended by the time the trace stands below the hold for good.
	low := s.holdLevel(tr, c.rampEnd.u, endU) - max(1, 6*tr.binNoiseK, 2*tr.stepK)
	bin := min(tr.binAt(awayU), len(tr.binT)-1)
	for bin > 0 && tr.binT[bin] > c.rampEnd.u && tr.binY[bin] < low {
		bin--
	}
	u = min(u, tr.binT[bin])
	c.end = mark{u: u, known: true, evidence: fmt.Sprintf("the hold at %.1f °C ends and the trace falls", p.at(u))}
}

// swings says whether the binned trace turns at least twice between two times.
func (s *reader) swings(tr *trace, fromU, toU, delta float64) bool {
	a, b := tr.binAt(fromU), tr.binAt(toU)
	s.turns = turns(tr.binY[a:max(a, b)], delta, s.turns)
	return len(s.turns) >= 3
}

// lastCrest is the time of the last crest of a swinging hold: the highest bin between the last rise
// through the hold's middle level and the last fall through it.
func (s *reader) lastCrest(tr *trace, fromU, endU, awayU float64) float64 {
	level := s.holdLevel(tr, fromU, endU)
	b := min(tr.binAt(awayU), len(tr.binT)-1)
	for b > 0 && tr.binT[b] > fromU && tr.binY[b] < level {
		b--
	}
	crest := b
	for ; b > 0 && tr.binT[b] > fromU && tr.binY[b] >= level; b-- {
		if tr.binY[b] > tr.binY[crest] {
			crest = b
		}
	}
	return tr.binT[crest]
}

// rms is the root mean square of v.
func rms(v []float64) float64 { return math.Sqrt(dot(v, v) / float64(max(len(v), 1))) }
