package curve

import "math"

// Estimator holds the working space of the estimates. The zero value is ready; it may be used for
// any number of traces one after the other, but not by two goroutines at once. It keeps no samples.
type Estimator struct {
	trace trace
	block blockTable
	resid residuals
}

// trace is the problem in hand, scaled: x = (t - ref)/span.
type trace struct {
	t, y    []float64
	ref     float64 // s
	span    float64 // s, last minus first time
	x0, dx  float64 // first sample and mean step in spans
	uniform bool
	fixed   bool    // start temperature known
	off     float64 // subtracted from y: the mean, or the known start temperature
	syy     float64 // sum of (y - off)^2
	params  int     // 3, or 2 with a known start
	direct  bool    // too few samples for blocks
}

// uniformTolerance is how far a time may lie off the even grid, in steps, for the sampling to count
// as uniform. The rise within a millionth of a step is far below any noise.
const uniformTolerance = 1e-6

// prepare reads the samples once: checks them, centres them, fills the blocks. It returns a reason in
// plain words when there is nothing to estimate.
func (e *Estimator) prepare(t, y []float64, o Options) string {
	tr := &e.trace
	*tr = trace{t: t, y: y, params: 3}
	if o.FixedStart != nil {
		tr.fixed, tr.params = true, 2
	}
	n := len(y)
	if len(t) != n {
		panic("curve: as many times as temperatures are needed")
	}
	if n <= tr.params {
		return "too few samples"
	}
	tr.span = t[n-1] - t[0]
	if !(tr.span > 0) || math.IsInf(tr.span, 0) {
		return "the samples span no time"
	}
	tr.ref = t[0]
	if o.RefS != nil {
		tr.ref = *o.RefS
	}
	scale := 1 / tr.span
	tr.x0 = (t[0] - tr.ref) * scale
	step := tr.span / float64(n-1)
	tr.dx = step * scale
	tr.uniform = true
	tol := uniformTolerance * step
	first, count := t[0], 0.0
	uniform, prev := true, t[0]
	tr.direct = n <= maxBlocks
	tr.off = y[n/2]
	if tr.fixed {
		tr.off = *o.FixedStart
	}
	off, syy := tr.off, 0.0
	for i, ti := range t {
		if !(ti >= prev) { // catches a NaN as well
			return "the times do not ascend"
		}
		prev = ti
		if math.Abs(ti-(first+count*step)) > tol {
			uniform = false
		}
		count++
		v := y[i] - off
		syy += v * v
	}
	tr.uniform, tr.syy = uniform, syy
	switch {
	case tr.direct:
		if !tr.fixed {
			sum := 0.0
			for _, v := range y {
				sum += v
			}
			tr.off = sum / float64(n)
		}
		tr.syy = 0
		for _, v := range y {
			tr.syy += (v - tr.off) * (v - tr.off)
		}
	case tr.uniform:
		e.block.fillUniform(y, tr.off, tr.x0, tr.dx)
	default:
		e.block.fillUneven(t, y, tr.off, tr.ref, scale, tr.x0)
	}
	if !tr.direct && !tr.fixed { // from a middle sample to the mean
		mean := e.block.total() / float64(n)
		e.block.shift(mean)
		tr.off += mean
		tr.syy = math.Max(0, tr.syy-float64(n)*mean*mean)
	}
	if !(tr.syy < 1e200) || math.Abs(tr.x0) > 1e6 {
		return "a reading is not a temperature"
	}
	return ""
}

// sums gives the sums of phi, phi^2 and phi*(y - off) at the decay rate k, in 1/span.
func (e *Estimator) sums(k float64) (sp, spp, spy float64) {
	switch {
	case !e.trace.direct && math.Abs(k) <= momentReach:
		return e.block.sums(k)
	case !e.trace.direct && e.trace.uniform:
		return e.sumsRecurrent(k)
	}
	return e.sumsDirect(k)
}

// sumsRecurrent is sums by reading every sample of even sampling, without an exponential for each. It
// serves rises that are over long before their last sample.
func (e *Estimator) sumsRecurrent(k float64) (sp, spp, spy float64) {
	tr := &e.trace
	phi, _ := basis(k, tr.x0)
	step, _ := basis(k, tr.dx)
	ex, decay := math.Exp(-k*tr.x0), math.Exp(-k*tr.dx)
	for _, v := range tr.y {
		sp += phi
		spp += phi * phi
		spy += phi * (v - tr.off)
		phi += ex * step
		ex *= decay
	}
	return sp, spp, spy
}

// sumsDirect is sums by reading every sample.
func (e *Estimator) sumsDirect(k float64) (sp, spp, spy float64) {
	tr := &e.trace
	scale := 1 / tr.span
	for i, v := range tr.y {
		phi, _ := basis(k, (tr.t[i]-tr.ref)*scale)
		sp += phi
		spp += phi * phi
		spy += phi * (v - tr.off)
	}
	return sp, spp, spy
}

// conditional is the least-squares solution for one decay rate.
type conditional struct {
	rss  float64
	rate float64 // K per span
	mean float64 // mean of phi; 0 with a known start
	spp  float64 // sum of squares of phi about its mean (about 0 with a known start)
}

// at solves the linear problem for the decay rate k, in 1/span.
func (e *Estimator) at(k float64) conditional {
	tr := &e.trace
	sp, spp, spy := e.sums(k)
	c := conditional{spp: spp}
	if !tr.fixed {
		n := float64(len(tr.y))
		c.mean = sp / n
		c.spp -= sp * c.mean
	}
	c.rate = spy / c.spp
	c.rss = tr.syy - spy*c.rate
	return c
}

// start gives T0 for a conditional solution, °C.
func (e *Estimator) start(c conditional) float64 { return e.trace.off - c.mean*c.rate }

// searchGrid holds the decay rates, in 1/span, among which the search for the minimum begins: from a
// rise that speeds up to one that is over in a tenth of the span. farGrid is tried only when the
// minimum lies at the end of it.
var (
	searchGrid = [...]float64{-8, -5, -2.5, -1, 0, 1, 2, 3.5, 5.5, 8}
	farGrid    = [...]float64{11, 16, 24, 36, 54, 80, 120}
)

// search finds the decay rate of the smallest sum of squares, in 1/span, to about 1e-4 of the width of
// the minimum; refine does the rest. ok is false when the minimum lies at the end of the grid: the
// trace is over within a sample or two, or explodes.
func (e *Estimator) search() (k float64, ok bool) {
	best, rss := -1, math.Inf(1)
	var grid [len(searchGrid) + len(farGrid)]float64
	var f [len(grid)]float64
	n := copy(grid[:], searchGrid[:])
	for i := 0; i < n; i++ {
		f[i] = e.at(grid[i]).rss
		if f[i] < rss {
			best, rss = i, f[i]
		}
	}
	if best == n-1 {
		for _, k := range farGrid {
			grid[n] = k
			f[n] = e.at(k).rss
			if f[n] < rss {
				best, rss = n, f[n]
			}
			n++
		}
	}
	if best <= 0 || best == n-1 {
		return 0, false
	}
	return e.minimise(grid[best-1], grid[best], grid[best+1], f[best-1], f[best], f[best+1]), true
}

// minimise takes a bracket a < b < c with f(b) smallest and closes in on the minimum of the residual
// sum of squares by successive parabolas, falling back on golden sections (Brent's safeguard).
func (e *Estimator) minimise(a, b, c, fa, fb, fc float64) float64 {
	const golden = 0.381966
	last := math.Inf(1)
	for range 60 {
		// vertex of the parabola through the three points
		p, q := (b-a)*(fb-fc), (b-c)*(fb-fa)
		den := 2 * (p - q)
		x := b - ((b-a)*p-(b-c)*q)/den
		width := c - a
		step := math.Abs(x - b)
		if den == 0 || !(x > a && x < c) || step > 0.6*last && step > 1e-3*width {
			if c-b > b-a {
				x = b + golden*(c-b)
			} else {
				x = b - golden*(b-a)
			}
			step = math.Abs(x - b)
		}
		if step < 1e-7*(1+math.Abs(b)) {
			return x
		}
		last = step
		fx := e.at(x).rss
		switch {
		case fx <= fb && x > b:
			a, fa, b, fb = b, fb, x, fx
		case fx <= fb:
			c, fc, b, fb = b, fb, x, fx
		case x > b:
			c, fc = x, fx
		default:
			a, fa = x, fx
		}
		if fx-fb < 1e-13*e.trace.syy && step < 1e-5*(1+math.Abs(b)) {
			return b
		}
	}
	return b
}
