package curve

import "math"

// profile holds what the profile intervals need: all lie where the residual sum of squares, minimised
// over the other parameters, exceeds its minimum by less than slack.
type profile struct {
	k, rss   float64 // solution
	slack    float64 // allowed excess: t^2 f^2 RSS/(n-p)
	lo, hi   float64 // ends of k's interval
	hasLo    bool
	hasHi    bool
	sdK      float64 // widened standard error of k times t, the first guess of an end's distance
	numerics float64 // sums of squares are uncertain by this much
}

// excess is the residual sum of squares above its minimum at the decay rate k.
func (p *profile) excess(e *Estimator, k float64) float64 { return math.Max(0, e.at(k).rss-p.rss) }

// end finds where the excess reaches the slack, below (side -1) or above (+1) the solution. In terms of
// the signed root of the excess the function is nearly straight, so a secant closes in quickly.
func (p *profile) end(e *Estimator, side float64) (float64, bool) {
	const reach = 150.0
	target := math.Sqrt(p.slack)
	x0, f0 := p.k, 0.0
	d := p.sdK
	x1 := p.k + side*d
	// step out until the end is bracketed
	var f1 float64
	for range 40 {
		x1 = math.Max(-reach, math.Min(reach, x1))
		f1 = math.Sqrt(p.excess(e, x1))
		if f1 >= target {
			break
		}
		if math.Abs(x1) >= reach {
			return 0, false
		}
		x0, f0 = x1, f1
		// aim a little beyond where the line from the solution meets the target
		grow := 1.1 * target / math.Max(f1, 0.3*target)
		x1 = p.k + (x1-p.k)*grow
	}
	if f1 < target {
		return 0, false
	}
	for range 40 { // false position with halving (Illinois)
		x := x0 + (x1-x0)*(target-f0)/(f1-f0)
		f := math.Sqrt(p.excess(e, x))
		if math.Abs(f-target) < 1e-5*target || math.Abs(x1-x0) < 1e-9*(1e-3+math.Abs(x)) {
			return x, true
		}
		if f < target {
			x0, f0 = x, f
			f1 = target + (f1-target)/2
		} else {
			x1, f1 = x, f
			f0 = target + (f0-target)/2
		}
	}
	return x1, true
}

// bound finds the largest (side +1) or smallest (side -1) value that a quantity linear in start and
// rate, a*start + b(k)*rate, takes within the slack. For a fixed k it is
//
//	value(k) +- sqrt((slack - excess(k)) * variance(k))
//
// and what remains is a search along k, here along an angle that runs from one end of k's interval
// (-pi/2) through the solution (0) to the other, in which the function is close to a sine. from is
// the angle where a straight model would have its extreme: asin of the correlation with k.
func (p *profile) bound(e *Estimator, lo, hi, side, from float64, quantity func(*Estimator, float64, conditional) (value, variance float64)) float64 {
	half, bend := (hi-lo)/2, (hi+lo)/2-p.k
	value := func(angle float64) float64 {
		s := math.Sin(angle)
		k := p.k + s*(half+bend*s)
		c := e.at(k)
		v, w := quantity(e, k, c)
		return side*v + math.Sqrt(math.Max(0, p.slack-math.Max(0, c.rss-p.rss))*w)
	}
	const step = 0.2
	a := math.Max(-math.Pi/2+step, math.Min(math.Pi/2-step, from))
	fl, fm, fh := value(a-step), value(a), value(a+step)
	// walk uphill until the middle is highest or the end of the interval is reached
	for range 16 {
		if fh > fm && fh >= fl && a+2*step <= math.Pi/2+1e-9 {
			a += step
			fl, fm, fh = fm, fh, value(a+step)
		} else if fl > fm && a-2*step >= -math.Pi/2-1e-9 {
			a -= step
			fl, fm, fh = value(a-step), fl, fm
		} else {
			break
		}
	}
	best := math.Max(fm, math.Max(fl, fh))
	if den := fl - 2*fm + fh; den < 0 {
		v := a + step*0.5*(fl-fh)/den
		v = math.Max(-math.Pi/2, math.Min(math.Pi/2, math.Max(a-step, math.Min(a+step, v))))
		best = math.Max(best, value(v))
	}
	return side * best
}

func startQuantity(e *Estimator, _ float64, c conditional) (float64, float64) {
	return e.start(c), 1/float64(len(e.trace.y)) + c.mean*c.mean/c.spp
}

func rateQuantity(_ *Estimator, _ float64, c conditional) (float64, float64) {
	return c.rate, 1 / c.spp
}

func finalQuantity(e *Estimator, k float64, c conditional) (float64, float64) {
	if e.trace.fixed {
		return e.trace.off + c.rate/k, 1 / (k * k * c.spp)
	}
	w := 1/k - c.mean
	return e.trace.off + c.rate*w, 1/float64(len(e.trace.y)) + w*w/c.spp
}
