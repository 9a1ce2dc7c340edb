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
	m [5][]float64 // running sums of x^j, x = time from the middle, in units of scale
	r [3][]float64 // running sums of r*x^j
}

// first gives the least-squares place t0, over every reading, at which residuals r, near 0 at first,
// begin to follow d*g(t-t0): g(x) = x - lag beyond x = 2*lag, joined to 0 by the parabola x^2/(4*lag).
// lag runs over 0 and a few powers of two of the sampling step, and is taken as other than 0 only when
// that lowers the residual sum of squares by more than four variances of a reading. sign is the side to
// which r leaves, 0 for either. Of equal places the last one is given.
func (d *departures) first(t, r []float64, sign int, noiseK float64) kink {
	n := len(t)
	none := kink{at: -1}
	if n < 2 || !(t[n-1] > t[0]) {
		return none
	}
	mid, scale := 0.5*(t[0]+t[n-1]), 2/(t[n-1]-t[0])
	for j := range d.m {
		d.m[j] = append(d.m[j][:0], 0)
	}
	for j := range d.r {
		d.r[j] = append(d.r[j][:0], 0)
	}
	for i := range t {
		x := (t[i] - mid) * scale
		p := 1.0
		for j := range d.m {
			d.m[j] = append(d.m[j], d.m[j][i]+p)
			if j < len(d.r) {
				d.r[j] = append(d.r[j], d.r[j][i]+p*r[i])
			}
			p *= x
		}
	}
	step := (t[n-1] - t[0]) * scale / float64(n-1)
	best := none
	for lag := 0.0; lag <= 0.5; lag = max(2*lag, step) {
		k := d.withLag(t, mid, scale, lag, sign)
		if k.at >= 0 && (best.at < 0 || k.gain > best.gain && (best.lagS > 0 || k.gain > best.gain+4*noiseK*noiseK)) {
			best = k
			best.lagS = lag / scale
			best.slope *= scale
		}
	}
	return best
}

func (d *departures) withLag(t []float64, mid, scale, lag float64, sign int) kink {
	n := len(t)
	best := kink{at: -1}
	k2 := n
	for k := n - 1; k >= 0; k-- {
		xk := (t[k] - mid) * scale
		for k2 > k && (t[k2-1]-mid)*scale >= xk+2*lag {
			k2--
		}
		var rg, gg float64
		if lag > 0 && k2 > k {
			m0, m1, m2 := d.m[0][k2]-d.m[0][k], d.m[1][k2]-d.m[1][k], d.m[2][k2]-d.m[2][k]
			m3, m4 := d.m[3][k2]-d.m[3][k], d.m[4][k2]-d.m[4][k]
			r0, r1, r2 := d.r[0][k2]-d.r[0][k], d.r[1][k2]-d.r[1][k], d.r[2][k2]-d.r[2][k]
			xx := xk * xk
			rg = (r2 - 2*xk*r1 + xx*r0) / (4 * lag)
			gg = (m4 - 4*xk*m3 + 6*xx*m2 - 4*xx*xk*m1 + xx*xx*m0) / (16 * lag * lag)
		}
		m0, m1, m2 := d.m[0][n]-d.m[0][k2], d.m[1][n]-d.m[1][k2], d.m[2][n]-d.m[2][k2]
		r0, r1 := d.r[0][n]-d.r[0][k2], d.r[1][n]-d.r[1][k2]
		z := xk + lag
		rg += r1 - z*r0
		gg += m2 - 2*z*m1 + z*z*m0
		if gg > 1e-12 && (sign == 0 || rg*float64(sign) > 0) {
			if v := rg * rg / gg; v > best.gain*(1+1e-9) {
				best = kink{at: k, gain: v, slope: rg / gg}
			}
		}
	}
	return best
}
