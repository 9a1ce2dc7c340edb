package segment

import "math"

// polynomial is a least-squares polynomial of degree 0, 1 or 2 about its own centre.
type polynomial struct {
	t0, scale float64
	c         [3]float64
	slopeSE   float64 // standard error of the slope at t0 for noise of 1, degree 1 only
}

func (p *polynomial) at(t float64) float64 {
	x := (t - p.t0) * p.scale
	return p.c[0] + x*(p.c[1]+x*p.c[2])
}

// slope is the derivative at t, K/s.
func (p *polynomial) slope(t float64) float64 {
	x := (t - p.t0) * p.scale
	return (p.c[1] + 2*x*p.c[2]) * p.scale
}

// before is the latest time before t at which the polynomial has the value y, rising; where it never
// has, its straight continuation from t is used.
func (p *polynomial) before(t, y float64) float64 {
	x := (t - p.t0) * p.scale
	// c2 d^2 + b d + c = 0 for d = the step from x.
	b, c := p.c[1]+2*x*p.c[2], p.at(t)-y
	if b <= 0 {
		return t
	}
	disc := b*b - 4*p.c[2]*c
	d := -c / b
	if disc >= 0 {
		d = -2 * c / (b + math.Sqrt(disc))
	}
	return p.t0 + (x+d)/p.scale
}

// fitPolynomial fits y(t) by least squares. It lowers the degree where the points don't carry it.
func fitPolynomial(t, y []float64, degree int) polynomial {
	n := len(t)
	degree = min(degree, n-1)
	p := polynomial{scale: 1}
	if n == 0 {
		return p
	}
	for _, v := range t {
		p.t0 += v
	}
	p.t0 /= float64(n)
	half := max(t[n-1]-p.t0, p.t0-t[0])
	if half <= 0 {
		degree = 0
	} else {
		p.scale = 1 / half
	}
	var s1, s2, s3, s4, y0, y1, y2 float64
	for i, v := range t {
		x := (v - p.t0) * p.scale
		xx := x * x
		s1 += x
		s2 += xx
		s3 += xx * x
		s4 += xx * xx
		y0 += y[i]
		y1 += y[i] * x
		y2 += y[i] * xx
	}
	m := float64(n)
	mean := y0 / m
	switch degree {
	case 0:
		p.c[0] = mean
	case 1:
		p.c[1] = (y1 - mean*s1) / (s2 - s1*s1/m)
		p.c[0] = mean - p.c[1]*s1/m
		p.slopeSE = p.scale / math.Sqrt(s2-s1*s1/m)
	default:
		// Orthogonal to 1: a = x - s1/m, b = x^2 - s2/m.
		aa := s2 - s1*s1/m
		ab := s3 - s1*s2/m
		bb := s4 - s2*s2/m
		ay := y1 - s1*mean
		by := y2 - s2*mean
		det := aa*bb - ab*ab
		if det <= 1e-12*aa*bb {
			p.c[1] = ay / aa
			p.c[0] = mean - p.c[1]*s1/m
			break
		}
		p.c[1] = (ay*bb - by*ab) / det
		p.c[2] = (by*aa - ay*ab) / det
		p.c[0] = mean - p.c[1]*s1/m - p.c[2]*s2/m
	}
	return p
}

// kink is a change of slope that a lag has rounded.
type kink struct {
	at    int     // reading at which it begins; -1 when there is none
	lagS  float64 // the straight part after it is late by this
	slope float64 // change of slope, K/s
	gain  float64 // drop of the residual sum of squares, K^2
}

// departures dates where residuals begin to leave 0.
type departures struct {
	x   []float64    // time from the middle, scaled to -1..1
	sum [][8]float64 // running sums of x^0..x^4 and r*x^0..r*x^2 over the readings before each
}

// first gives the least-squares place t0, over every reading, at which residuals r, near 0 at first,
// begin to follow d*g(t-t0): g(x) = x - lag beyond x = 2*lag, joined to 0 by the parabola x^2/(4*lag).
// lag runs over 0 and a few powers of two of the sampling step, and is taken as other than 0 only when
// that lowers the residual sum of squares by more than nine variances of a reading. sign is the side to
// which r leaves, 0 for either. Of equal places the last one is given.
func (d *departures) first(t, r []float64, sign int, noiseK float64) kink {
	n := len(t)
	best := kink{at: -1}
	if n < 2 || !(t[n-1] > t[0]) {
		return best
	}
	mid, scale := 0.5*(t[0]+t[n-1]), 2/(t[n-1]-t[0])
	if cap(d.x) < n {
		d.x = make([]float64, n)
		d.sum = make([][8]float64, n+1)
	}
	d.x, d.sum = d.x[:n], d.sum[:n+1]
	d.sum[0] = [8]float64{}
	s := [8]float64{}
	for i, v := range t {
		x := (v - mid) * scale
		d.x[i] = x
		xx := x * x
		y := r[i]
		s[0]++
		s[1] += x
		s[2] += xx
		s[3] += xx * x
		s[4] += xx * xx
		s[5] += y
		s[6] += y * x
		s[7] += y * xx
		d.sum[i+1] = s
	}
	step := 2 / float64(n-1)
	worse := 0
	for lag := 0.0; lag <= 0.5 && worse < 2; lag = max(2*lag, step) {
		k := d.withLag(lag, sign)
		if worse++; k.gain >= best.gain {
			worse = 0
		}
		if k.at >= 0 && (best.at < 0 || k.gain > best.gain && (best.lagS > 0 || k.gain > best.gain+9*noiseK*noiseK)) {
			best = k
			best.lagS = lag / scale
			best.slope *= scale
		}
	}
	return best
}

// withLag is the best place for one lag: coarsely over the whole stretch, then over every reading about
// the best one. The gain is smooth in the place.
func (d *departures) withLag(lag float64, sign int) kink {
	n := len(d.x)
	stride := max(1, n/40)
	best := kink{at: -1}
	try := func(k int) {
		if slope, gain := d.gain(k, lag, sign); gain > best.gain*(1+1e-9) {
			best = kink{at: k, slope: slope, gain: gain}
		}
	}
	for k := n - 2; k >= 0; k -= stride {
		try(k)
	}
	if best.at < 0 {
		return best
	}
	for k, end := min(best.at+stride-1, n-2), max(best.at-stride+1, 0); k >= end; k-- {
		try(k)
	}
	return best
}

// gain is the drop of the residual sum of squares by a departure at reading k, and its slope.
func (d *departures) gain(k int, lag float64, sign int) (slope, gain float64) {
	n := len(d.x)
	xk := d.x[k]
	k2 := k
	a, e := &d.sum[k], &d.sum[n]
	var rg, gg float64
	if lag > 0 {
		lo, hi := k, n
		for end := xk + 2*lag; lo < hi; {
			m := (lo + hi) / 2
			if d.x[m] < end {
				lo = m + 1
			} else {
				hi = m
			}
		}
		k2 = lo
		b := &d.sum[k2]
		xx := xk * xk
		// (x-xk)^2 and its square, expanded in powers of x.
		rg = (b[7] - a[7] - 2*xk*(b[6]-a[6]) + xx*(b[5]-a[5])) / (4 * lag)
		gg = (b[4] - a[4] - 4*xk*(b[3]-a[3]) + 6*xx*(b[2]-a[2]) - 4*xx*xk*(b[1]-a[1]) + xx*xx*(b[0]-a[0])) / (16 * lag * lag)
	}
	b := &d.sum[k2]
	z := xk + lag
	rg += e[6] - b[6] - z*(e[5]-b[5])
	gg += e[2] - b[2] - 2*z*(e[1]-b[1]) + z*z*(e[0]-b[0])
	if gg <= 1e-12 || rg*float64(sign) < 0 {
		return 0, 0
	}
	return rg / gg, rg * rg / gg
}
