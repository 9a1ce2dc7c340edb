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

// course is one warming on one trace in detail.
type course struct {
	w        warming
	onset    mark
	rampEnd  mark
	end      mark
	baseY    float64 // level before the onset, °C
	baseN    int     // readings that gave it; 0 when there are none before the onset
	riseU    float64 // when the early ramp, drawn straight, has risen by 2.5 %
	lagS     float64 // how long the start-up lag bends the rise, s
	topY     float64 // level at the ramp's end, °C
	slopeEnd float64 // slope of the ramp at its end, K/s
	hold     bool
	rising   bool // the log stopped while the trace was rising
	windowU  [2]float64
}

// reader holds the scratch of course analysis.
type reader struct {
	h hinges
	d departures
	r []float64
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

// tolK is the level below which differences of bin means say nothing, K.
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

// clears gives the first index i of r at which the mean of the last few residuals has passed level
// (in the direction of sign, 0 for either), or len(r).
func clears(r []float64, level float64, few, sign int) int {
	sum := 0.0
	for i := range r {
		sum += r[i]
		n := i + 1
		if i >= few {
			sum -= r[i-few]
			n = few
		}
		m := sum / float64(n)
		if n == few && (sign >= 0 && m >= level || sign <= 0 && m <= -level) {
			return i
		}
	}
	return len(r)
}

// readOnset dates the onset of c on trace tr. fromU is the earliest time that can belong to it.
func (s *reader) readOnset(tr *trace, c *course, fromU float64) {
	l := c.w.legs[0]
	rise := l.highY - l.lowY
	// The early ramp, from 8 % to 50 % of the rise, as a parabola.
	lowBin := l.low
	topBin := l.low
	for ; topBin < l.high && tr.binY[topBin] < l.lowY+0.5*rise; topBin++ {
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
	early := fitPolynomial(tr.t[a:b], tr.y[a:b], degree)
	slope := early.slope(tr.t[a])
	base := l.lowY
	cross := early.before(tr.t[a], base)
	if slope <= 0 || cross > tr.t[b-1] {
		early = fitPolynomial(tr.t[a:b], tr.y[a:b], 1)
		slope = early.slope(tr.t[a])
		cross = early.before(tr.t[a], base)
	}
	rampS := max(tr.binT[l.high]-cross, tr.spacing)
	c.riseU = early.before(tr.t[a], base+0.025*rise)

	// The base: what stands before, without the last part that lag may have bent.
	first := max(tr.at(fromU), tr.at(cross-max(0.5*rampS, 20*tr.spacing)))
	last := tr.at(cross)
	width := cross - tr.t[min(first, len(tr.t)-1)]
	last = tr.at(cross - min(0.5*width, max(30, 3*tr.spacing)))
	if last-first < 3 {
		last = min(tr.at(cross), first+3)
	}
	if last-first < 2 || tr.t[last-1] > cross {
		s.onsetAtStart(tr, c, first, slope)
		return
	}
	p := fitPolynomial(tr.t[first:last], tr.y[first:last], 0)
	if last-first >= 8 {
		q := fitPolynomial(tr.t[first:last], tr.y[first:last], 1)
		if sl := q.slope(q.t0); math.Abs(sl) > 5*tr.noiseK*q.slopeSE && sl < 0.2*slope {
			p = q
		}
	}
	c.baseN = last - first
	stop := b
	r := s.residuals(tr, &p, first, stop)
	level := max(8*tr.noiseK/math.Sqrt(3), 0.1*rise, 3*tr.stepK)
	n := min(clears(r, level, 3, 1)+1, len(r))
	n = max(n, min(last-first+3, len(r)))
	k := s.d.first(tr.t[first:first+n], r[:n], 1, tr.noiseK)
	if k.at < 0 {
		k.at = last - first - 1
	}
	u := tr.t[first+k.at]
	c.baseY = p.at(u)
	c.lagS = k.lagS
	c.onset = mark{u: u, known: true, evidence: fmt.Sprintf("the trace leaves %.1f °C, where it stood before, and goes on to rise", c.baseY)}
}

// onsetAtStart settles the onset where the record has no stretch before the rise.
func (s *reader) onsetAtStart(tr *trace, c *course, first int, slope float64) {
	first = min(first, len(tr.t)-1)
	c.baseY = tr.y[first]
	c.baseN = 0
	c.onset = mark{u: tr.t[first], known: false, evidence: fmt.Sprintf("the record begins at %.1f °C with the trace already rising", c.baseY)}
}

// readTop finds the ramp's end, the hold and the end of heating of c.
func (s *reader) readTop(tr *trace, c *course, o Options) {
	f := 0
	for i, l := range c.w.legs {
		if !l.ripple {
			f = i
		}
	}
	l := c.w.legs[f]
	rise := l.highY - c.baseY
	startU := c.onset.u
	if f > 0 {
		startU = tr.binT[l.low]
	}
	nb := len(tr.binT)
	// Where the top begins, roughly, and where the trace has clearly left it.
	top := l.low
	for top < l.high && tr.binY[top] < l.highY-max(0.05*rise, tr.tolK(3)) {
		top++
	}
	lastBin := min(c.w.lowEnd, nb-1)
	drop := c.w.peakY - max(0.2*rise, 4*tr.tolK(3))
	away := c.w.topEnd
	for away < lastBin && tr.binY[away] > drop {
		away++
	}
	// The hold's end stands highest above the chord from the top's beginning to there.
	endBin, height := -1, 0.0
	if away > top+1 {
		sl := (tr.binY[away] - tr.binY[top]) / (tr.binT[away] - tr.binT[top])
		for b := top + 1; b < away; b++ {
			if v := tr.binY[b] - tr.binY[top] - sl*(tr.binT[b]-tr.binT[top]); v > height {
				height, endBin = v, b
			}
		}
	}
	left := tr.binY[away] < c.w.peakY-max(0.05*rise, tr.tolK(5), 2)
	if !left {
		endBin = away
	}
	if endBin < 0 {
		endBin = l.high
	}
	endBin = max(endBin, l.high)
	// The ramp's end: the best hinge down over ramp and top.
	rampS := tr.binT[top] - startU
	right := top + 1
	for right < lastBin && (right < endBin || !left) && tr.binT[right] < tr.binT[top]+0.35*rampS {
		right++
	}
	for right < lastBin && right-top < 4 {
		right++
	}
	if endBin <= l.high || right <= l.high {
		for right < lastBin && tr.binT[right] < tr.binT[l.high]+0.15*rampS && tr.binY[right] > l.highY-0.1*rise {
			right++
		}
	}
	a := 0
	for a < nb-1 && tr.binT[a] < startU+min(c.lagS*2, 0.2*rampS) {
		a++
	}
	a = min(a, top)
	kinkU := tr.binT[l.high]
	if right+1-a >= 6 {
		s.h.start(tr.binT[a:right+1], tr.binY[a:right+1])
		lo := top - a
		for lo > 1 && tr.binY[a+lo] > l.highY-0.25*rise {
			lo--
		}
		if k, _ := s.h.best(lo, right-a, -1); k >= 0 {
			kinkU = tr.binT[a+k]
		}
	}
	holdY := math.Inf(1)
	if tr.binT[endBin]-kinkU >= o.MinHoldS {
		holdY = s.holdLevel(tr, kinkU, tr.binT[endBin])
	}
	s.dateRampEnd(tr, c, startU, kinkU, tr.binT[right], holdY)
	c.hold = tr.binT[endBin]-c.rampEnd.u >= o.MinHoldS
	switch {
	case !left && c.hold:
		c.end = mark{evidence: "the record ends in the hold"}
	case !left:
		c.rising = true
		c.end = mark{evidence: "the record ends while the trace rises"}
	case c.hold:
		s.dateEnd(tr, c, tr.binT[endBin], tr.binT[away])
	default:
		c.end = c.rampEnd
	}
}

// holdLevel is the middle level of the trace between two times, the first fifth left out for overshoot.
func (s *reader) holdLevel(tr *trace, fromU, toU float64) float64 {
	s.r = s.r[:0]
	for b, u := range tr.binT {
		if u >= fromU+0.2*(toU-fromU) && u <= toU {
			s.r = append(s.r, tr.binY[b])
		}
	}
	if len(s.r) == 0 {
		return math.Inf(1)
	}
	return quantile(s.r, 0.5)
}

// dateRampEnd dates the departure from the late ramp near kinkU.
func (s *reader) dateRampEnd(tr *trace, c *course, startU, kinkU, rightU, holdY float64) {
	rampS := max(kinkU-startU, tr.spacing)
	guard := max(4*tr.spacing, 0.04*rampS)
	b := tr.at(kinkU - guard)
	a := tr.at(kinkU - max(0.35*rampS, 12*tr.spacing))
	a = max(a, tr.at(startU+c.lagS))
	stop := tr.at(rightU)
	if b-a < 4 {
		a = max(tr.at(startU), b-4)
	}
	if b-a < 3 {
		k := min(tr.at(kinkU), len(tr.t)-1)
		c.topY = tr.y[k]
		c.rampEnd = mark{u: tr.t[k], known: true, evidence: "the highest reading of the rise"}
		c.slopeEnd = 0
		return
	}
	degree := 2
	if b-a < 10 {
		degree = 1
	}
	p := fitPolynomial(tr.t[a:b], tr.y[a:b], degree)
	r := s.residuals(tr, &p, a, max(stop, b))
	few := 3
	level := max(6*tr.noiseK/math.Sqrt(float64(few)), 2*tr.stepK)
	n := b - a + clears(r[b-a:], level, few, 0)
	n = min(n+1, len(r))
	k := s.d.first(tr.t[a:a+n], r[:n], 0, tr.noiseK)
	u := kinkU
	if k.at >= 0 {
		u = max(tr.t[a+k.at], tr.t[b-1])
	}
	if !math.IsInf(holdY, 1) {
		for i := b - 1; i < a+n && tr.t[i] < u; i++ {
			if p.at(tr.t[i]) >= holdY {
				u = tr.t[i]
			}
		}
	}
	c.topY = p.at(u)
	c.slopeEnd = p.slope(u)
	c.rampEnd = mark{u: u, known: true, evidence: fmt.Sprintf("the rise of %.2g K/min breaks off at %.1f °C", 60*c.slopeEnd, c.topY)}
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
	p := fitPolynomial(tr.t[a:b], tr.y[a:b], 1)
	r := s.residuals(tr, &p, a, tr.at(awayU))
	level := max(6*tr.noiseK/math.Sqrt(3), 2*tr.stepK)
	n := b - a + clears(r[b-a:], level, 3, -1)
	n = min(n+1, len(r))
	k := s.d.first(tr.t[a:a+n], r[:n], -1, tr.noiseK)
	u := endU
	if k.at >= 0 {
		u = tr.t[a+k.at]
	}
	c.end = mark{u: u, known: true, evidence: fmt.Sprintf("the hold at %.1f °C ends and the trace falls", p.at(u))}
}
