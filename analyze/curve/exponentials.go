package curve

import "math"

const (
	maxRates  = 3
	maxTerms  = maxRates + 1 // an offset and one term a rate
	maxSeries = 4
)

// series is one trace of a sum of decaying exponentials. Traces fitted together share their decay rates,
// each has its own amplitudes. With an offset the terms are 1 and phi(rate, t), smooth through rate 0;
// without one they are exp(-rate t).
type series struct {
	t, y   []float64
	ref    float64 // time zero of the terms
	offset bool
}

// exponentials fits traces by variable projection: for given rates the amplitudes are linear, so only
// the one to three rates are searched (Levenberg-Marquardt with the derivative of the projected
// residuals in its usual short form). It keeps its buffers between calls.
type exponentials struct {
	scale  float64 // times are divided by it, rates multiplied
	rates  int
	rate   [maxRates]float64 // solution, 1/s
	rss    float64
	n      int // samples in all
	params int
	parts  [maxSeries]expPart
	series int

	covRate [maxRates][maxRates]float64 // of the scaled rates, for unit residual variance
}

// expPart is one trace's share.
type expPart struct {
	in    series
	terms int
	// columns of the terms, orthonormalised, and the projected derivatives; rows are samples
	q     [maxTerms][]float64
	d     [maxRates][]float64
	res   []float64
	r     [maxTerms][maxTerms]float64 // triangular factor
	b     [maxTerms][maxRates]float64 // share of the derivatives in the columns' space
	coeff [maxTerms]float64           // amplitudes, with rates scaled
}

// grown gives a slice of length n, reusing s when it is long enough.
func grown(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}

// set takes the traces. The first sets the time scale.
func (x *exponentials) set(rates int, traces ...series) {
	x.rates, x.series, x.n = rates, len(traces), 0
	x.scale = 0
	x.params = rates
	for i, s := range traces {
		p := &x.parts[i]
		p.in = s
		p.terms = rates
		if s.offset {
			p.terms++
		}
		n := len(s.y)
		for j := range p.q {
			p.q[j] = grown(p.q[j], n)
		}
		for j := range p.d {
			p.d[j] = grown(p.d[j], n)
		}
		p.res = grown(p.res, n)
		x.n += n
		x.params += p.terms
		x.scale = math.Max(x.scale, s.t[n-1]-s.ref)
	}
}

// at projects all traces for the scaled rates k and returns the residual sum of squares. ok is false
// when the terms can't be told apart.
func (x *exponentials) at(k *[maxRates]float64) (rss float64, ok bool) {
	for i := range x.series {
		p := &x.parts[i]
		n := len(p.in.y)
		first := 0
		if p.in.offset {
			first = 1
			for r := range n {
				p.q[0][r] = 1
			}
		}
		for j := range x.rates {
			q, d := p.q[first+j][:n], p.d[j][:n]
			if p.in.offset {
				for r, t := range p.in.t {
					q[r], d[r] = basis(k[j], (t-p.in.ref)/x.scale)
				}
			} else {
				for r, t := range p.in.t {
					u := (t - p.in.ref) / x.scale
					v := math.Exp(-k[j] * u)
					q[r], d[r] = v, -u*v
				}
			}
		}
		copy(p.res, p.in.y)
		for c := range p.terms {
			q := p.q[c]
			before := dot(q, q)
			for pass := range 2 {
				for b := range c {
					s := dot(p.q[b], q)
					axpy(-s, p.q[b], q)
					if pass == 0 {
						p.r[b][c] = s
					} else {
						p.r[b][c] += s
					}
				}
			}
			norm := math.Sqrt(dot(q, q))
			if !(norm*norm > 1e-24*before) {
				return math.Inf(1), false
			}
			p.r[c][c] = norm
			for r := range q {
				q[r] /= norm
			}
			s := dot(q, p.res)
			axpy(-s, q, p.res)
			p.coeff[c] = s
		}
		// a second pass takes out what rounding left of the residual in the columns
		for c := range p.terms {
			s := dot(p.q[c], p.res)
			axpy(-s, p.q[c], p.res)
			p.coeff[c] += s
		}
		for c := p.terms - 1; c >= 0; c-- {
			for b := c + 1; b < p.terms; b++ {
				p.coeff[c] -= p.r[c][b] * p.coeff[b]
			}
			p.coeff[c] /= p.r[c][c]
		}
		rss += dot(p.res, p.res)
	}
	return rss, !math.IsNaN(rss)
}

// step computes gradient and Gauss-Newton matrix for the rates at the point last given to at.
func (x *exponentials) step(g *[maxRates]float64, h *[maxRates][maxRates]float64) {
	*g, *h = [maxRates]float64{}, [maxRates][maxRates]float64{}
	for i := range x.series {
		p := &x.parts[i]
		first := 0
		if p.in.offset {
			first = 1
		}
		for j := range x.rates {
			d := p.d[j]
			a := p.coeff[first+j]
			for r := range d {
				d[r] *= a
			}
			for c := range p.terms {
				p.b[c][j] = 0
			}
			for range 2 {
				for c := range p.terms {
					s := dot(p.q[c], d)
					axpy(-s, p.q[c], d)
					p.b[c][j] += s
				}
			}
			g[j] += dot(d, p.res)
			for l := 0; l <= j; l++ {
				v := dot(d, p.d[l])
				h[j][l] += v
				if l != j {
					h[l][j] += v
				}
			}
		}
	}
}

// solve searches from the start rates (1/s). It reports whether it came to rest at a minimum.
func (x *exponentials) solve(start []float64) bool {
	var k [maxRates]float64
	for j := range x.rates {
		k[j] = start[j] * x.scale
	}
	rss, ok := x.at(&k)
	if !ok {
		return false
	}
	damping := 1e-3
	done := false
	for range 500 {
		var g [maxRates]float64
		var h [maxRates][maxRates]float64
		x.step(&g, &h)
		moved, size := false, 0.0
		for range 40 {
			m := h
			for j := range x.rates {
				m[j][j] *= 1 + damping
			}
			inv, ok := invert(&m, x.rates)
			if !ok {
				damping = math.Max(10*damping, 1e-6)
				continue
			}
			next := k
			size = 0
			for j := range x.rates {
				dk := 0.0
				for l := range x.rates {
					dk += inv[j][l] * g[l]
				}
				next[j] += dk
				size = math.Max(size, math.Abs(dk)/(1e-3+math.Abs(k[j])))
			}
			f, ok := x.at(&next)
			if ok && f <= rss*(1+1e-15) {
				k, rss, moved = next, f, true
				damping = math.Max(damping/10, 1e-14)
				break
			}
			if size < 1e-12 {
				break
			}
			damping *= 10
		}
		if !moved {
			_, ok = x.at(&k) // back to the best point
			done = ok && size < 1e-6
			break
		}
		if size < 1e-13 {
			done = true
			break
		}
	}
	var g [maxRates]float64
	x.step(&g, &x.covRate)
	inv, ok := invert(&x.covRate, x.rates)
	if !ok {
		return false
	}
	x.covRate = inv
	x.rss = rss
	for j := range x.rates {
		x.rate[j] = k[j] / x.scale
	}
	return done
}

// invert inverts the leading n rows and columns of a symmetric positive definite matrix.
func invert(m *[maxRates][maxRates]float64, n int) (inv [maxRates][maxRates]float64, ok bool) {
	// scaled to unit diagonal, then Gauss-Jordan
	var s [maxRates]float64
	var a [maxRates][2 * maxRates]float64
	for i := range n {
		if !(m[i][i] > 0) {
			return inv, false
		}
		s[i] = 1 / math.Sqrt(m[i][i])
	}
	for i := range n {
		for j := range n {
			a[i][j] = m[i][j] * s[i] * s[j]
		}
		a[i][n+i] = 1
	}
	for c := range n {
		if !(a[c][c] > 1e-15) {
			return inv, false
		}
		f := 1 / a[c][c]
		for j := range 2 * n {
			a[c][j] *= f
		}
		for r := range n {
			if r == c {
				continue
			}
			f := a[r][c]
			for j := range 2 * n {
				a[r][j] -= f * a[c][j]
			}
		}
	}
	for i := range n {
		for j := range n {
			inv[i][j] = a[i][n+j] * s[i] * s[j]
		}
	}
	return inv, true
}

// maxParams is the most parameters in all: the rates, then the terms of every trace.
const maxParams = maxRates + maxSeries*maxTerms

// covariance gives the parameters (rates in 1/s first, then trace by trace the terms' amplitudes for
// rates in 1/s) and their covariance for unit residual variance. An error of the rates shifts the
// amplitudes by -M, M = R^-1 B; the rest of the amplitudes' error is that of the linear problem.
func (x *exponentials) covariance(theta *[maxParams]float64, cov *[maxParams][maxParams]float64) {
	*cov = [maxParams][maxParams]float64{}
	var m [maxParams][maxRates]float64 // derivative of every parameter's estimate with respect to the rates
	for j := range x.rates {
		theta[j] = x.rate[j]
		m[j][j] = 1
	}
	at := x.rates
	for i := range x.series {
		p := &x.parts[i]
		var ri [maxTerms][maxTerms]float64 // R^-1
		for c := range p.terms {
			ri[c][c] = 1 / p.r[c][c]
			for b := c - 1; b >= 0; b-- {
				s := 0.0
				for l := b + 1; l <= c; l++ {
					s += p.r[b][l] * ri[l][c]
				}
				ri[b][c] = -s / p.r[b][b]
			}
		}
		for a := range p.terms {
			theta[at+a] = p.coeff[a]
			for j := range x.rates {
				s := 0.0
				for l := a; l < p.terms; l++ {
					s += ri[a][l] * p.b[l][j]
				}
				m[at+a][j] = -s
			}
			for b := range p.terms {
				s := 0.0
				for l := max(a, b); l < p.terms; l++ {
					s += ri[a][l] * ri[b][l]
				}
				cov[at+a][at+b] = s
			}
		}
		at += p.terms
	}
	for a := range at {
		for b := range at {
			for j := range x.rates {
				for l := range x.rates {
					cov[a][b] += m[a][j] * x.covRate[j][l] * m[b][l]
				}
			}
		}
	}
	// from scaled to plain rates; the amplitudes of phi(rate, t) are per scaled time
	var f [maxParams]float64
	for a := range at {
		f[a] = 1
	}
	for j := range x.rates {
		f[j] = 1 / x.scale
	}
	at = x.rates
	for i := range x.series {
		p := &x.parts[i]
		if p.in.offset {
			for a := 1; a < p.terms; a++ {
				f[at+a] = 1 / x.scale
				theta[at+a] /= x.scale
			}
		}
		at += p.terms
	}
	for a := range at {
		for b := range at {
			cov[a][b] *= f[a] * f[b]
		}
	}
}
