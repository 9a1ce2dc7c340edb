package segment

import "math"

// A change of heating power inside a ramp must change the slope by this share of the larger slope...
const powerStepShare = 0.25

// ...and stand at least these shares of the ramp away from its begin, where the rings settle to it, and
// from its end.
const (
	powerStepAfter  = 0.15
	powerStepBefore = 0.1
	// A piece shorter than this share of the one after it is settling, not a power of its own.
	settleShare = 0.2
)

const maxRamps = 12

// splitAtPowerSteps cuts a ramp at sharp changes of slope.
func (s *reader) splitAtPowerSteps(tr *trace, r ramp) []ramp {
	cut := append(s.cut[:0], r)
	for i := 0; i < len(cut) && len(cut) < maxRamps; {
		r := cut[i]
		u, ok := s.powerStep(tr, r.cleanU, r.safeU)
		if !ok {
			i++
			continue
		}
		// Date it by departure from the stretch before.
		dated, y, slope, unsure := s.breakOff(tr, r.fromU, r.cleanU, u, u+0.3*(r.safeU-u), math.Inf(1))
		first, second := r, r
		first.toU, first.toY, first.slopeEnd = dated, y, slope
		first.safeU = dated - max(3*tr.spacing, min(unsure, 0.05*(dated-r.fromU)), 0.015*(dated-r.fromU)) - 0.5*r.lagS
		second.fromU, second.fromY = dated, y
		second.cleanU = u + max(4*tr.spacing, 1.5*(u-dated), min(0.8*(r.cleanU-r.fromU), 0.15*(r.toU-u)))
		cut = append(cut, ramp{})
		copy(cut[i+1:], cut[i:])
		cut[i], cut[i+1] = first, second
	}
	s.cut = cut
	return cut
}

// markPlateaus marks pieces that hardly rise, between two that do.
func markPlateaus(r []ramp) {
	mean := func(r ramp) float64 { return (r.toY - r.fromY) / max(r.toU-r.fromU, 1e-9) }
	for i := 1; i+1 < len(r); i++ {
		r[i].hold = mean(r[i]) < 0.15*min(mean(r[i-1]), mean(r[i+1]))
	}
}

// settle joins a short piece to the longer one after it: after a change of power the rings need a while to
// settle to it, which looks like one more step. The joined ramp is clean from where the longer one was.
func settle(r []ramp) []ramp {
	out := r[:0]
	for i := range r {
		if n := len(out); n > 0 && !out[n-1].hold && !r[i].hold && out[n-1].toU-out[n-1].fromU < settleShare*(r[i].toU-r[i].fromU) {
			joined := r[i]
			joined.fromU, joined.fromY = out[n-1].fromU, out[n-1].fromY
			out[n-1] = joined
			continue
		}
		out = append(out, r[i])
	}
	return out
}

// powerStep looks for the sharpest change of slope between two times.
func (s *reader) powerStep(tr *trace, fromU, toU float64) (float64, bool) {
	a, b := tr.at(fromU), tr.at(toU)
	const points = 80
	if b-a < 24 {
		return 0, false
	}
	// Pool readings to at most so many points.
	per := (b - a + points - 1) / points
	s.t, s.y = s.t[:0], s.y[:0]
	for i := a; i+per <= b; i += per {
		var st, sy float64
		for j := i; j < i+per; j++ {
			st += tr.t[j]
			sy += tr.y[j]
		}
		s.t = append(s.t, st/float64(per))
		s.y = append(s.y, sy/float64(per))
	}
	noise := tr.meanNoise(per)
	n := len(s.t)
	if n < 20 {
		return 0, false
	}
	s.h.start(s.t, s.y)
	first, last := max(4, int(powerStepAfter*float64(n))), n-max(4, int(powerStepBefore*float64(n)))
	for range 4 {
		k, gain := s.h.best(first, last, 0)
		if k < 0 || gain < 40*noise*noise {
			return 0, false
		}
		if s.sharp(k, noise) {
			return s.t[s.sharpest(k)], true
		}
		// Bent there, but no kink: allow for the bend and look further.
		s.h.add(k)
	}
	return 0, false
}

// sharpest moves the place of a kink to where two straight lines meet best, near point k: further kinks in
// the ramp may have drawn it aside.
func (s *reader) sharpest(k int) int {
	n := len(s.t)
	w := max(5, n/12)
	a, b := max(0, k-w), min(n, k+w+1)
	s.h.startLine(s.t[a:b], s.y[a:b])
	if j, _ := s.h.best(2, b-a-2, 0); j >= 0 {
		return a + j
	}
	return k
}

// sharp says whether the pooled trace has a kink at point k, or only a bend that any smooth curve has.
// Four slopes in a row tell: across a kink the slope changes far more than next to it.
func (s *reader) sharp(k int, noise float64) bool {
	n := len(s.t)
	w := max(3, min(int(0.09*float64(n)), (min(k, n-1-k)-1)/2))
	if k-1-2*w < 0 || k+1+2*w >= n {
		return false
	}
	slope := func(i, j int) float64 {
		p := fitPolynomial(s.t[i:j+1], s.y[i:j+1], 1)
		return p.slope(p.t0)
	}
	s1, s2 := slope(k-1-2*w, k-1-w), slope(k-1-w, k-1)
	s3, s4 := slope(k+1, k+1+w), slope(k+1+w, k+1+2*w)
	jump := s3 - s2
	bend := 0.5 * ((s2 - s1) + (s4 - s3)) * float64(w+2) / float64(w)
	dt := (s.t[n-1] - s.t[0]) / float64(n-1)
	se := noise / (dt * math.Sqrt(float64(w*(w+1)*(w+2))/12))
	return math.Abs(jump-bend) > 5*se*math.Sqrt(3) && math.Abs(jump-bend) > powerStepShare*max(s2, s3)
}
