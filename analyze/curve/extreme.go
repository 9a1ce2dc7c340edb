package curve

import "math"

// ExtremeOptions steers Largest and Smallest. The zero value is usable.
type ExtremeOptions struct {
	// StepK is the display step, K; 0 when unknown.
	StepK float64
	// CornersS lists the times, ascending, at which the slope of the trace may break: onset, change of
	// power, end of the ramp, switch-off. A local curve never runs across a corner; it is carried to it.
	CornersS []float64
	// Cuts lists rows, ascending, before which nothing was read for long. A local curve never runs across
	// such a hole and is not carried into it: no value and no time is found where there is no reading.
	Cuts []int
}

// Plain words for Extreme.Method.
const (
	methodCorner = "ramp and cooling carried to their corner"
	methodEdge   = "local curve carried to the corner"
	methodVertex = "top of a local curve"
	methodLevel  = "mean of a level stretch"
	methodSample = "single sample: too few for a local curve"
)

// Largest reads the largest value of a trace from a local curve. timeS (s) ascends, y (°C, or K for a
// difference) has the same length; missing samples and spikes are removed beforehand.
//
// The largest of many noisy samples lies above the truth (0.6 K for 600 samples with noise of 0.2 K).
// So the trace is cut at its corners, and in each piece a polynomial of at most second degree is fitted
// around the highest place over as many samples as it describes within their noise: a level hold gives
// the mean of the whole hold, a ripple the top of one wave, a ramp the line carried to its end. Where a
// ramp meets a falling piece in a sharp corner the two lines' meeting point counts, which depends neither
// on a single sample nor on where exactly the corner was put.
//
// StdErr covers the noise; the display step is the caller's to add (step/sqrt(12)). Value may lie above
// or below Raw. Known is false only for an empty trace.
func (e *Estimator) Largest(timeS, y []float64, o ExtremeOptions) Extreme {
	return extreme(timeS, y, o, 1)
}

// Smallest is Largest upside down.
func (e *Estimator) Smallest(timeS, y []float64, o ExtremeOptions) Extreme {
	x := extreme(timeS, y, o, -1)
	x.Value, x.Raw = -x.Value, -x.Raw
	return x
}

// piece is what the local curve of one piece of the trace says.
type piece struct {
	value, se, at float64 // its largest value
	atLeft        bool    // reached at the piece's left corner
	atRight       bool    // reached at its right corner
	slope, slopeU float64 // there, and its standard error
	noise         float64
	n             int
	method        string
	first, end    int // its rows
	window        int // which of the two windows is its own
}

func extreme(t, y []float64, o ExtremeOptions, sign float64) Extreme {
	n := len(y)
	if len(t) != n {
		panic("curve: as many times as values are needed")
	}
	if n == 0 {
		return Extreme{}
	}
	// the raw extreme, and the noise from second differences (6 sigma^2 for independent noise; corners are
	// few and curvature is small from sample to sample)
	top, sum := highestAndBends(y, sign)
	best := sign * y[top]
	out := Extreme{Raw: best, RawAtS: t[top], Known: true}
	if n < 5 {
		out.Value, out.AtS, out.N, out.Method = best, t[top], 1, methodSample
		out.StdErr, out.NoiseSD = 0, 0
		return out
	}
	const meanToSD = 1.2533141373155 / 2.449489742783178 // mean |x| of a normal to its sd; sqrt(6)
	bends := n - 2
	for _, k := range o.Cuts {
		for _, i := range [2]int{k, k + 1} { // what bends over a hole is no noise
			if i >= 2 && i < n && bends > 1 {
				sum -= math.Abs(y[i] - 2*y[i-1] + y[i-2])
				bends--
			}
		}
	}
	noise := meanToSD * math.Max(0, sum) / float64(bends)
	// below the floor nothing is called a shape: display steps, rounding of the arithmetic
	floor := math.Max(math.Max(noise, o.StepK/math.Sqrt(12)), 1e-10*(1+math.Abs(best)))

	var windows [2]window // of the piece in hand and of the one before
	var last piece
	lastOK := false
	found := false
	consider := func(p *piece) {
		if !found || p.value > out.Value {
			out.Value, out.StdErr, out.AtS = p.value, p.se, p.at
			out.NoiseSD, out.N, out.Method = p.noise, p.n, p.method
			found = true
		}
	}
	// A piece is carried to its corner to meet its neighbour there. Where it meets none, as a fall after a
	// level hold, the corner may lie a sample later than it was put, and a piece carried past its own samples
	// would run above all of them: it is read within them.
	alone := func(p *piece) {
		if p.atLeft || p.atRight {
			*p = windows[p.window].read(t[p.first:p.end], y[p.first:p.end], math.Inf(-1), math.Inf(1), sign, noise, floor)
		}
		consider(p)
	}
	// pieces from corner to corner; one whose highest sample is far below the highest of all can't matter
	first := 0
	left := math.Inf(-1)
	corner, cut := 0, 0
	for first < n {
		for corner < len(o.CornersS) && o.CornersS[corner] <= t[first] {
			left = o.CornersS[corner]
			corner++
		}
		end, right := n, math.Inf(1)
		if corner < len(o.CornersS) {
			right = o.CornersS[corner]
			end = first + 1 + upTo(t[first+1:], right)
			if end == n && right > t[n-1] {
				right = math.Inf(1)
			}
		}
		for cut < len(o.Cuts) && o.Cuts[cut] <= first {
			if o.Cuts[cut] == first && first > 0 {
				left = math.Inf(-1)
			}
			cut++
		}
		if cut < len(o.Cuts) && o.Cuts[cut] <= end {
			end, right = o.Cuts[cut], math.Inf(1)
		}
		p, ok := piece{}, false
		if reaches(y[first:end], sign, best-math.Max(12*floor, 0.05*math.Abs(best-sign*y[0]))) {
			k := 1 - last.window
			windows[k].grow(t[first:end], y[first:end], sign, floor)
			p, ok = windows[k].read(t[first:end], y[first:end], left, right, sign, noise, floor), true
			p.first, p.end, p.window = first, end, k
		}
		if lastOK && ok && last.atRight && p.atLeft {
			c := meet(&last, &p)
			consider(&c)
			last.atRight, p.atLeft = false, false // used up
			lastOK = p.at > left
			last = p
		} else {
			if lastOK {
				alone(&last)
			}
			last, lastOK = p, ok
		}
		first, left = end, right
	}
	if lastOK {
		alone(&last)
	}
	return out
}

// upTo counts the times, ascending, that are not later than a time.
func upTo(t []float64, at float64) int {
	lo, hi := 0, len(t)
	for lo < hi {
		if mid := int(uint(lo+hi) / 2); t[mid] <= at {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// reaches says whether any value, times sign, lies above a threshold.
func reaches(y []float64, sign, above float64) bool {
	for _, v := range y {
		if sign*v > above {
			return true
		}
	}
	return false
}

// order turns a float into an integer that sorts the same way (IEEE 754 puts exponent before fraction), -0
// before 0. Integers have a maximum without a branch, which a noisy ramp would mispredict at every other value.
func order(v float64) int64 {
	b := int64(math.Float64bits(v))
	return b ^ int64(uint64(b>>63)>>1)
}

// unorder is the float of an order.
func unorder(k int64) float64 { return math.Float64frombits(uint64(k ^ int64(uint64(k>>63)>>1))) }

// runLength is how many values are looked through before the highest so far is compared with the branch.
const runLength = 32

// highestOf is the index of the first of the largest of a few values, times sign.
func highestOf(y []float64, sign float64) int {
	top := 0
	for i, v := range y {
		if sign*v > sign*y[top] {
			top = i
		}
	}
	return top
}

// highestAndBends is the index of the first of the largest values, times sign, and the sum of the sizes of all
// second differences.
func highestAndBends(y []float64, sign float64) (top int, bends float64) {
	if len(y) <= 2 {
		return highestOf(y, sign), 0
	}
	best, from := math.Max(sign*y[0], sign*y[1]), 0
	a, b := y[0], y[1]
	for i := 2; i < len(y); i += runLength {
		k := int64(math.MinInt64)
		for _, v := range y[i:min(i+runLength, len(y))] {
			k = max(k, order(sign*v))
			bends += math.Abs(v - 2*b + a)
			a, b = b, v
		}
		if v := unorder(k); v > best {
			best, from = v, i
		}
	}
	for sign*y[from] != best {
		from++
	}
	return from, bends
}

// highestOfFive is the index of the middle of the first five neighbours with the largest running sum, times
// sign, of at least five values.
func highestOfFive(y []float64, sign float64) int {
	s := y[0] + y[1] + y[2] + y[3] + y[4]
	best := sign * s
	from, sFrom := 0, s
	last := len(y) - 5 // index of the last five
	for i := 1; i <= last; i += runLength {
		// s is that of the five before
		sRun, k := s, int64(math.MinInt64)
		n := min(runLength, last+1-i)
		out, in := y[i-1:i-1+n], y[i+4:i+4+n]
		for j, v := range in {
			s += v - out[j]
			k = max(k, order(sign*s))
		}
		if v := unorder(k); v > best {
			best, from, sFrom = v, i, sRun
		}
	}
	if from == 0 {
		return 2
	}
	for i := from; ; i++ {
		sFrom += y[i+4] - y[i-1]
		if sign*sFrom == best || i == last {
			return i + 2
		}
	}
}

// meet is the point where a rising piece's curve and the falling one after it cross. With values v and
// slopes s at the assumed corner it lies at (s1 v2 - s2 v1)/(s1 - s2), wherever the corner is assumed.
func meet(a, b *piece) piece {
	c := *a
	s1, s2 := a.slope, b.slope
	sharp := s1 > 3*a.slopeU && -s2 > 3*b.slopeU && s1 > s2
	if !sharp {
		// no telling crossing: the better known of the two
		if b.se < a.se {
			c = *b
		}
		return c
	}
	w2 := s1 / (s1 - s2)
	w1 := 1 - w2
	c.value = w1*a.value + w2*b.value
	c.se = math.Hypot(w1*a.se, w2*b.se)
	c.at = a.at + (b.value-a.value)/(s1-s2)
	c.noise = math.Max(a.noise, b.noise)
	c.n = a.n + b.n
	c.method = methodCorner
	return c
}

// local is a polynomial of degree up to 4 in u = (t - t0)/scale, fitted to a window of samples.
type local struct {
	t0, y0, scale float64
	s             [9]float64    // sums of u^j
	z             [5]float64    // sums of y u^j, then the coefficients in the orthonormal basis
	yy            float64       // of the points; its residual has points-degree-1 degrees of freedom
	m             int           // samples
	points        int           // points they were gathered into
	l             [5][5]float64 // Cholesky factor of the normal matrix
	rank          int
}

// gather is how many points a window is at most gathered into: means of neighbouring samples serve a
// polynomial as well as the samples do.
const gather = 48

// fit fills the sums for the samples t, y and solves.
func (p *local) fit(t, y []float64, sign float64) {
	n := len(y)
	p.scale = math.Max(p.t0-t[0], t[n-1]-p.t0)
	if p.scale <= 0 {
		p.scale = 1
	}
	size := (n + gather - 1) / gather
	p.m, p.points = n, (n+size-1)/size
	var st, sy, w [gather]float64
	sumGroups(&st, t, size)
	sumGroups(&sy, y, size)
	for k := range p.points {
		w[k] = float64(size)
	}
	w[p.points-1] = float64(n - (p.points-1)*size)
	var z0, z1, z2, z3, z4, yy float64
	for k, m := range w[:p.points] {
		v := sign*sy[k] - m*p.y0
		u := (st[k]/m - p.t0) / p.scale
		st[k] = u
		yy += v * v / m
		z0 += v
		v *= u
		z1 += v
		v *= u
		z2 += v
		v *= u
		z3 += v
		v *= u
		z4 += v
	}
	p.z, p.yy = [5]float64{z0, z1, z2, z3, z4}, yy
	var s0, s1, s2, s3, s4, s5, s6, s7, s8 float64
	for k, m := range w[:p.points] {
		u := st[k]
		s0 += m
		m *= u
		s1 += m
		m *= u
		s2 += m
		m *= u
		s3 += m
		m *= u
		s4 += m
		m *= u
		s5 += m
		m *= u
		s6 += m
		m *= u
		s7 += m
		m *= u
		s8 += m
	}
	p.s = [9]float64{s0, s1, s2, s3, s4, s5, s6, s7, s8}
	p.factor()
}

// sumGroups sums neighbours in groups of a size, the last one with what is left. Four groups are summed side
// by side, each in its own order, so that no sum waits for another.
func sumGroups(sums *[gather]float64, v []float64, size int) {
	if size == 1 {
		copy(sums[:], v)
		return
	}
	k := 0
	for ; len(v) >= 4*size; k += 4 {
		a, b, c, d := v[:size], v[size:2*size], v[2*size:3*size], v[3*size:4*size]
		b, c, d = b[:len(a)], c[:len(a)], d[:len(a)]
		var sa, sb, sc, sd float64
		for i := range a {
			sa += a[i]
			sb += b[i]
			sc += c[i]
			sd += d[i]
		}
		sums[k], sums[k+1], sums[k+2], sums[k+3] = sa, sb, sc, sd
		v = v[4*size:]
	}
	for ; len(v) > 0; k++ {
		end := min(size, len(v))
		sum := 0.0
		for _, x := range v[:end] {
			sum += x
		}
		sums[k] = sum
		v = v[end:]
	}
}

// factor replaces z by the coefficients in the orthonormal basis: each has the variance of one sample.
func (p *local) factor() {
	p.rank = 0
	for i := range 5 {
		for j := 0; j <= i; j++ {
			v := p.s[i+j]
			for k := range j {
				v -= p.l[i][k] * p.l[j][k]
			}
			if i == j {
				if !(v > 1e-10*p.s[2*i]) || p.points <= i {
					return
				}
				p.l[i][i] = math.Sqrt(v)
			} else {
				p.l[i][j] = v / p.l[j][j]
			}
		}
		v := p.z[i]
		for k := range i {
			v -= p.l[i][k] * p.z[k]
		}
		p.z[i] = v / p.l[i][i]
		p.rank = i + 1
	}
}

// at gives value and derivative (per unit of u) of the polynomial of a degree, and their variances for
// unit variance of a sample.
func (p *local) at(u float64, degree int) (v, vv, d, dv float64) {
	var w, dw [5]float64
	pw, dp := 1.0, 0.0
	for i := 0; i <= degree; i++ {
		a, b := pw, dp
		for k := range i {
			a -= p.l[i][k] * w[k]
			b -= p.l[i][k] * dw[k]
		}
		w[i], dw[i] = a/p.l[i][i], b/p.l[i][i]
		v += w[i] * p.z[i]
		d += dw[i] * p.z[i]
		vv += w[i] * w[i]
		dv += dw[i] * dw[i]
		dp = dp*u + pw // derivative of u^(i+1)
		pw *= u
	}
	return v + p.y0, vv, d, dv
}

// rss is the residual sum of squares of the polynomial of a degree.
func (p *local) rss(degree int) float64 {
	r := p.yy
	for i := 0; i <= degree && i < p.rank; i++ {
		r -= p.z[i] * p.z[i]
	}
	return math.Max(0, r)
}

const (
	growTest   = 4.0 // a cubic or quartic term beyond this many standard errors ends the growth of the window
	degreeTest = 2.0 // a quadratic or linear term below this is left out
)

// window is the stretch about the highest place of a piece that a local curve describes, and that curve. It
// does not depend on the piece's corners.
type window struct {
	kept    local
	lo, hi  int
	top     int  // the highest place
	stopped bool // the curve's own shape ended the growth
}

// tooFew is the number of samples of a piece below which no local curve is read.
const tooFew = 4

// grow finds the highest place of a piece and the widest window about it.
func (w *window) grow(t, y []float64, sign, floor float64) {
	n := len(y)
	// the highest place: of the means of five neighbours
	if n >= 9 {
		w.top = highestOfFive(y, sign)
	} else {
		w.top = highestOf(y, sign)
	}
	w.lo, w.hi, w.stopped = 0, 0, false
	if n < tooFew {
		return
	}
	// the window grows while the cubic and quartic terms stay within the noise
	c := w.top
	now, before := local{t0: t[c], y0: sign * y[c]}, local{}
	var beforeLo, beforeHi int
	for h := 3; ; h *= 2 {
		lo, hi := max(0, c-h), min(n, c+h+1)
		now.fit(t[lo:hi], y[lo:hi], sign)
		if now.points > 6 && now.rank == 5 && w.hi > w.lo {
			df := float64(now.points - 5)
			if math.Abs(now.z[3]) > growTest*floor || math.Abs(now.z[4]) > growTest*floor ||
				now.rss(4) > 2.25*floor*floor*(df+4*math.Sqrt(2*df)) {
				w.stopped = true
				break
			}
		}
		before, beforeLo, beforeHi = w.kept, w.lo, w.hi
		w.kept, w.lo, w.hi = now, lo, hi
		if lo == 0 && hi == n {
			break
		}
	}
	// where the curve's own shape ended the growth, the window before has a third of the bias
	if w.stopped && beforeHi-beforeLo >= 7 {
		w.kept, w.lo, w.hi = before, beforeLo, beforeHi
	}
}

// read finds the largest value of a piece from its window; left and right are the times of its corners.
func (w *window) read(t, y []float64, left, right, sign, noise, floor float64) piece {
	n, c := len(y), w.top
	if n < tooFew {
		p := piece{value: sign * y[c], se: floor, at: t[c], noise: floor, n: 1, method: methodSample}
		p.atLeft = c == 0 && !math.IsInf(left, 0)
		p.atRight = c == n-1 && !math.IsInf(right, 0)
		p.slopeU = math.Inf(1)
		return p
	}
	return topOf(&w.kept, t, w.lo, w.hi, left, right, noise, floor, w.stopped)
}

// topOf finds the largest value of a local polynomial over its window.
func topOf(p *local, t []float64, lo, hi int, left, right, noise, floor float64, stopped bool) piece {
	degree := min(2, p.rank-1)
	for !stopped && degree > 0 && math.Abs(p.z[degree]) < degreeTest*floor {
		degree--
	}
	// range over which the curve may be read: to the corners where the window reaches them, one mean
	// interval at most; else the middle half, because the place was found there
	interval := (t[hi-1] - t[lo]) / float64(max(1, hi-1-lo))
	from, to := t[lo], t[hi-1]
	leftCorner, rightCorner := false, false
	if lo == 0 {
		if !math.IsInf(left, 0) {
			from, leftCorner = math.Max(left, from-interval), true
		}
	} else {
		from = (from + p.t0) / 2
	}
	if hi == len(t) {
		if !math.IsInf(right, 0) {
			to, rightCorner = math.Min(right, to+interval), true
		}
	} else {
		to = (to + p.t0) / 2
	}
	uf, ut := (from-p.t0)/p.scale, (to-p.t0)/p.scale
	u := 0.0
	out := piece{n: hi - lo, method: methodVertex}
	switch degree {
	case 0:
		u = math.Max(uf, math.Min(ut, 0))
		out.method = methodLevel
	default:
		vf, _, _, _ := p.at(uf, degree)
		vt, _, _, _ := p.at(ut, degree)
		u = uf
		if vt > vf {
			u = ut
		}
		if degree == 2 {
			_, _, d0, _ := p.at(0, degree)
			_, _, d1, _ := p.at(1, degree)
			if curve := d1 - d0; curve < 0 { // d(u) = d0 + curve*u
				if top := -d0 / curve; top > uf && top < ut {
					u = top
				}
			}
		}
	}
	v, vv, d, dv := p.at(u, degree)
	// the next degree's error: leaving a term out that is not seen doesn't make it known to be zero
	if next := degree + 1; next < p.rank && next <= 2 {
		_, vv, _, _ = p.at(u, next)
		if degree == 0 {
			_, va, _, _ := p.at(uf, next)
			_, vb, _, _ := p.at(ut, next)
			vv = math.Max(va, vb)
		}
	}
	sd := noise
	if df := p.points - degree - 1; df >= 8 {
		sd = math.Max(noise, math.Sqrt(p.rss(degree)/float64(df)))
	}
	out.noise = noise
	if stopped {
		// the place was chosen as the highest of several such windows
		vv *= 1 + 0.5*math.Log(float64(len(t))/float64(hi-lo))
	}
	out.value, out.se = v, sd*math.Sqrt(vv)
	out.at = p.t0 + u*p.scale
	out.slope, out.slopeU = d/p.scale, math.Max(sd, floor)*math.Sqrt(dv)/p.scale
	out.atLeft = leftCorner && u == uf
	out.atRight = rightCorner && u == ut
	if out.atLeft || out.atRight {
		out.method = methodEdge
	}
	return out
}
