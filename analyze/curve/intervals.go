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

	ks    [angles]float64
	at    [angles]conditional
	spare [angles]float64 // slack left for the other parameters
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

// angles is the number of decay rates across k's interval at which the bounds of the other
// parameters are looked for.
const angles = 9

// sample solves the linear problem at decay rates from one end of k's interval through the solution to
// the other, at even steps of an angle from -pi/2 to pi/2 whose sine runs along k.
func (p *profile) sample(e *Estimator) {
	half, bend := (p.hi-p.lo)/2, (p.hi+p.lo)/2-p.k
	for i := range angles {
		s := angleSine[i]
		p.ks[i] = p.k + s*(half+bend*s)
		p.at[i] = e.at(p.ks[i])
		p.spare[i] = math.Max(0, p.slack-math.Max(0, p.at[i].rss-p.rss))
	}
}

var angleSine = [angles]float64{-1, -0.9238795325112867, -0.7071067811865476, -0.3826834323650898, 0,
	0.3826834323650898, 0.7071067811865476, 0.9238795325112867, 1}

// bound finds the largest (side +1) or smallest (side -1) value that a quantity linear in start and
// rate, a*start + b(k)*rate, takes within the slack, for k above from. For a fixed k it is
//
//	value(k) +- sqrt((slack - excess(k)) * variance(k))
//
// In the angle this is close to a sine (it is one for a straight model), so the vertex of the parabola
// through the highest of nine points and its neighbours is within 0.1 % of the interval's half width.
func (p *profile) bound(e *Estimator, from, side float64, quantity func(*Estimator, float64, conditional) (value, variance float64)) float64 {
	var f [angles]float64
	best := -1
	for i := range angles {
		if p.ks[i] <= from {
			continue
		}
		v, w := quantity(e, p.ks[i], p.at[i])
		f[i] = side*v + math.Sqrt(p.spare[i]*w)
		if best < 0 || f[i] > f[best] {
			best = i
		}
	}
	top := f[best]
	if best > 0 && best < angles-1 && p.ks[best-1] > from {
		l, h := f[best-1], f[best+1]
		if den := l - 2*top + h; den < 0 {
			top -= (l - h) * (l - h) / (8 * den)
		}
	}
	return side * top
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
