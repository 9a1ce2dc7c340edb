package curve

import "math"

const (
	maxRates  = 3
	maxTerms  = maxRates + 1 // an offset and one term a rate
	maxSeries = 4
)

// series is one trace of a sum of decaying exponentials. Traces fitted together share their decay rates,
// each has its own amplitudes. With an offset the terms are 1 and phi(rate, t), smooth through rate 0;
// without one they are exp(-rate t). Neighbours with the same slice of times share its columns.
type series struct {
	t, y   []float64
	ref    float64 // time zero of the terms
	offset bool
}

// exponentials fits traces by variable projection: for given rates the amplitudes are linear, so only
// the one to three rates are searched (Levenberg-Marquardt with the derivative of the projected
// residuals in its usual short form). It keeps its buffers between calls.
type exponentials struct {
	scale   float64 // times are divided by it, rates multiplied
	rates   int
	rate    [maxRates]float64 // solution, 1/s
	rss     float64
	n       int // samples in all
	params  int
	designs [maxSeries]expDesign
	parts   [maxSeries]expPart
	series  int
	used    int // designs
	polish  int // undamped steps at the end, for certified digits; logs need none

	covRate [maxRates][maxRates]float64 // of the scaled rates, for unit residual variance
}

// expDesign holds the columns of one set of times.
type expDesign struct {
	t       []float64
	ref     float64
	offset  bool
	uniform bool
	terms   int
	q       [maxTerms][]float64         // the terms, orthonormalised
	d       [maxRates][]float64         // their derivatives, after step without their share in the terms
	r       [maxTerms][maxTerms]float64 // triangular factor
	b       [maxTerms][maxRates]float64 // that share
	gram    [maxRates][maxRates]float64 // products of d
}

// expPart is one trace.
type expPart struct {
	y      []float64
	design int
	res    []float64
	coeff  [maxTerms]float64 // amplitudes, with rates scaled
}

// grown gives a slice of length n, reusing s when it is long enough.
func grown(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}

// set takes the traces.
func (x *exponentials) set(rates int, traces ...series) {
	x.rates, x.series, x.n, x.used, x.scale = rates, len(traces), 0, 0, 0
	x.params = rates
	for i, s := range traces {
		n := len(s.y)
		if i == 0 || &s.t[0] != &traces[i-1].t[0] || s.ref != traces[i-1].ref || s.offset != traces[i-1].offset || len(s.t) != len(traces[i-1].t) {
			d := &x.designs[x.used]
			x.used++
			d.t, d.ref, d.offset, d.terms = s.t, s.ref, s.offset, rates
			if s.offset {
				d.terms++
			}
			for j := range d.q {
				d.q[j] = grown(d.q[j], n)
			}
			for j := range d.d {
				d.d[j] = grown(d.d[j], n)
			}
			d.uniform = n > 32
			step := (s.t[n-1] - s.t[0]) / float64(n-1)
			for r, t := range s.t {
				if math.Abs(t-s.t[0]-float64(r)*step) > uniformTolerance*step {
					d.uniform = false
					break
				}
			}
			x.scale = math.Max(x.scale, s.t[n-1]-s.ref)
		}
		p := &x.parts[i]
		p.y, p.design = s.y, x.used-1
		p.res = grown(p.res, n)
		x.n += n
		x.params += x.designs[p.design].terms
	}
}

// columns fills the terms and their derivatives for the scaled rates k.
func (d *expDesign) columns(k *[maxRates]float64, rates int, scale float64) {
	first := 0
	if d.offset {
		first = 1
		for r := range d.q[0] {
			d.q[0][r] = 1
		}
	}
	for j := range rates {
		q, dq := d.q[first+j], d.d[j]
		x := (d.t[0] - d.ref) / scale
		switch {
		case d.offset && d.uniform: // the recurrences of Estimator.evaluate
			step := (d.t[len(d.t)-1] - d.t[0]) / float64(len(d.t)-1) / scale
			phi, dphi := basis(k[j], x)
			dp, dd := basis(k[j], step)
			ex, decay := math.Exp(-k[j]*x), math.Exp(-k[j]*step)
			for r := range q {
				q[r], dq[r] = phi, dphi
				phi += ex * dp
				dphi += ex * (dd - x*dp)
				ex *= decay
				x += step
			}
		case d.offset:
			for r, t := range d.t {
				q[r], dq[r] = basis(k[j], (t-d.ref)/scale)
			}
		default:
			for r, t := range d.t {
				u := (t - d.ref) / scale
				v := math.Exp(-k[j] * u)
				q[r], dq[r] = v, -u*v
			}
		}
	}
}

// orthonormalise replaces the terms by an orthonormal basis. ok is false when they can't be told apart.
func (d *expDesign) orthonormalise() (ok bool) {
	for c := range d.terms {
		q := d.q[c]
		before := dot(q, q)
		for b := range c {
			d.r[b][c] = 0
		}
		for range 2 { // twice is enough
			for b := range c {
				s := dot(d.q[b], q)
				axpy(-s, d.q[b], q)
				d.r[b][c] += s
			}
		}
		norm := math.Sqrt(dot(q, q))
		if !(norm*norm > 1e-24*before) {
			return false
		}
		d.r[c][c] = norm
		inv := 1 / norm
		for r := range q {
			q[r] *= inv
		}
	}
	return true
}

// at projects all traces for the scaled rates k and returns the residual sum of squares. ok is false
// when the terms can't be told apart.
func (x *exponentials) at(k *[maxRates]float64) (rss float64, ok bool) {
	for i := range x.used {
		d := &x.designs[i]
		d.columns(k, x.rates, x.scale)
		if !d.orthonormalise() {
			return math.Inf(1), false
		}
	}
	for i := range x.series {
		p := &x.parts[i]
		d := &x.designs[p.design]
		copy(p.res, p.y)
		p.coeff = [maxTerms]float64{}
		for range 2 { // the second time takes out what rounding left
			for c := range d.terms {
				s := dot(d.q[c], p.res)
				axpy(-s, d.q[c], p.res)
				p.coeff[c] += s
			}
		}
		for c := d.terms - 1; c >= 0; c-- {
			for b := c + 1; b < d.terms; b++ {
				p.coeff[c] -= d.r[c][b] * p.coeff[b]
			}
			p.coeff[c] /= d.r[c][c]
		}
		rss += dot(p.res, p.res)
	}
	return rss, !math.IsNaN(rss)
}

// step computes gradient and Gauss-Newton matrix for the rates at the point last given to at. It may be
// called once after each at.
func (x *exponentials) step(g *[maxRates]float64, h *[maxRates][maxRates]float64) {
	*g, *h = [maxRates]float64{}, [maxRates][maxRates]float64{}
	for i := range x.used {
		d := &x.designs[i]
		for j := range x.rates {
			for c := range d.terms {
				d.b[c][j] = 0
			}
			for range 2 {
				for c := range d.terms {
					s := dot(d.q[c], d.d[j])
					axpy(-s, d.q[c], d.d[j])
					d.b[c][j] += s
				}
			}
			for l := 0; l <= j; l++ {
				d.gram[j][l] = dot(d.d[j], d.d[l])
				d.gram[l][j] = d.gram[j][l]
			}
		}
	}
	for i := range x.series {
		p := &x.parts[i]
		d := &x.designs[p.design]
		first := d.terms - x.rates
		for j := range x.rates {
			a := p.coeff[first+j]
			g[j] += a * dot(d.d[j], p.res)
			for l := range x.rates {
				h[j][l] += a * p.coeff[first+l] * d.gram[j][l]
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
	// Convergence: a step far below any standard error. The sum of squares is flat there to rounding, so
	// comparing sums would only chase noise; one last step is taken without comparing.
	const small = 1e-7
	damping := 1e-3
	done := false
	var g [maxRates]float64
	var h [maxRates][maxRates]float64
	for iteration := 0; iteration < 100 && !done; iteration++ {
		x.step(&g, &h)
		moved := false
		for try := 0; try < 30 && !moved; try++ {
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
			size := 0.0
			for j := range x.rates {
				dk := 0.0
				for l := range x.rates {
					dk += inv[j][l] * g[l]
				}
				next[j] += dk
				size = math.Max(size, math.Abs(dk)/(1e-2+math.Abs(k[j])))
			}
			f, ok := x.at(&next)
			if ok && (f <= rss || size < small && damping < 1e-2) {
				k, rss, moved = next, f, true
				damping = math.Max(damping/10, 1e-14)
				done = size < small
			} else {
				damping *= 10
			}
		}
		if !moved {
			break
		}
	}
	// polish: undamped steps until they stop shrinking
	for last, polish := small, 0; done && polish < x.polish; polish++ {
		x.step(&g, &h)
		inv, ok := invert(&h, x.rates)
		if !ok {
			break
		}
		next := k
		size := 0.0
		for j := range x.rates {
			dk := 0.0
			for l := range x.rates {
				dk += inv[j][l] * g[l]
			}
			next[j] += dk
			size = math.Max(size, math.Abs(dk)/(1e-2+math.Abs(k[j])))
		}
		if size > last {
			break
		}
		last = size
		k = next
		if _, ok = x.at(&k); !ok {
			return false
		}
	}
	rss, _ = x.at(&k) // fresh columns: step changed them
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
		d := &x.designs[p.design]
		first := d.terms - x.rates
		var ri [maxTerms][maxTerms]float64 // R^-1
		for c := range d.terms {
			ri[c][c] = 1 / d.r[c][c]
			for b := c - 1; b >= 0; b-- {
				s := 0.0
				for l := b + 1; l <= c; l++ {
					s += d.r[b][l] * ri[l][c]
				}
				ri[b][c] = -s / d.r[b][b]
			}
		}
		for a := range d.terms {
			theta[at+a] = p.coeff[a]
			for j := range x.rates {
				s := 0.0
				for l := a; l < d.terms; l++ {
					s += ri[a][l] * d.b[l][j]
				}
				m[at+a][j] = -s * p.coeff[first+j]
			}
			for b := range d.terms {
				s := 0.0
				for l := max(a, b); l < d.terms; l++ {
					s += ri[a][l] * ri[b][l]
				}
				cov[at+a][at+b] = s
			}
		}
		at += d.terms
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
		d := &x.designs[x.parts[i].design]
		if d.offset {
			for a := 1; a < d.terms; a++ {
				f[at+a] = 1 / x.scale
				theta[at+a] /= x.scale
			}
		}
		at += d.terms
	}
	for a := range at {
		for b := range at {
			cov[a][b] *= f[a] * f[b]
		}
	}
}
