package curve

import "math"

// Sums over all samples of phi, phi^2 and phi*y are needed at some thirty decay rates. Reading the
// samples each time would cost most of the run. Instead the samples are put into blocks of equal
// length in time, and of each block the moments of y and of 1 about the block's centre are kept:
//
//	ym[b][j] = sum of y u^j,  om[b][j] = sum of u^j,  u = (x - centre)/half in [-1, 1]
//
// Within a block phi(k, c + d) = phi(k, c) + exp(-k c) phi(k, d), and phi(k, d) is a short power
// series in d. With half = 1/64 of the span and |k| span <= 10 the twelve terms leave an error below
// 1e-15, so this is not an approximation but another order of summation. The plain twin is
// Estimator.sumsDirect.
const (
	maxBlocks   = 32
	terms       = 12
	momentReach = 10.0 // largest |k|, in 1/span, that the series serves
)

// blockTable holds the moments of one trace.
type blockTable struct {
	n       int     // blocks in use
	same    bool    // uniform sampling: all blocks but the tail have the ones-moments om[0]
	tail    int     // index of the shorter last block; -1 when there is none
	half    float64 // half length of a block, in spans
	centre0 float64 // centre of the first block, in spans since the reference
	ym      [maxBlocks][terms]float64
	om      [maxBlocks][terms]float64
}

// Coefficients of the two power series in sums: 1/j! and (2^j - 2)/j!.
var (
	seriesOne = [terms]float64{0, 1, 1. / 2, 1. / 6, 1. / 24, 1. / 120, 1. / 720, 1. / 5040, 1. / 40320,
		1. / 362880, 1. / 3628800, 1. / 39916800}
	seriesTwo = [terms]float64{0, 0, 2. / 2, 6. / 6, 14. / 24, 30. / 120, 62. / 720, 126. / 5040, 254. / 40320,
		510. / 362880, 1022. / 3628800, 2046. / 39916800}
)

// fillUniform takes equally spaced samples y - off at x0, x0+dx, ... (in spans).
//
// All full blocks share their abscissae, which lie symmetrically: of a pair of samples at -u and u the
// sum feeds the even moments and the difference the odd ones.
func (b *blockTable) fillUniform(y []float64, off, x0, dx float64) {
	n := len(y)
	m := (n + maxBlocks - 1) / maxBlocks
	full := n / m
	b.n = full
	b.half = float64(m) * dx / 2
	b.centre0 = x0 + float64(m-1)*dx/2
	b.same, b.tail = true, -1
	inv := 1 / float64(m)
	for blk := 0; blk < full; blk++ {
		s := y[blk*m : blk*m+m]
		var a0, a2, a4, a6, a8, a10, a1, a3, a5, a7, a9, a11 float64
		lo, hi := 0, m-1
		for lo < hi {
			u := float64(hi-lo) * inv
			p, q := s[lo]-off, s[hi]-off
			even, odd := p+q, (q-p)*u
			u *= u
			a0 += even
			a1 += odd
			even *= u
			odd *= u
			a2 += even
			a3 += odd
			even *= u
			odd *= u
			a4 += even
			a5 += odd
			even *= u
			odd *= u
			a6 += even
			a7 += odd
			even *= u
			odd *= u
			a8 += even
			a9 += odd
			a10 += even * u
			a11 += odd * u
			lo++
			hi--
		}
		if lo == hi {
			a0 += s[lo] - off
		}
		b.ym[blk] = [terms]float64{a0, a1, a2, a3, a4, a5, a6, a7, a8, a9, a10, a11}
	}
	b.om[0] = [terms]float64{}
	for i := 0; i < m; i++ {
		u := float64(2*i-(m-1)) * inv
		p := 1.0
		for j := range b.om[0] {
			b.om[0][j] += p
			p *= u
		}
	}
	if rest := n - full*m; rest > 0 {
		var ym, om [terms]float64
		for i, v := range y[full*m:] {
			u := float64(2*i-(m-1)) * inv
			p := 1.0
			for j := range ym {
				ym[j] += p * (v - off)
				om[j] += p
				p *= u
			}
		}
		b.ym[full], b.om[full] = ym, om
		b.tail = full
		b.n++
	}
}

// fillUneven takes samples at times t, x = (t - ref)*scale, ascending, spanning 1 from x0.
func (b *blockTable) fillUneven(t, y []float64, off, ref, scale, x0 float64) {
	b.n = maxBlocks
	b.same, b.tail = false, -1
	b.half = 1.0 / (2 * maxBlocks)
	b.centre0 = x0 + b.half
	b.ym = [maxBlocks][terms]float64{}
	b.om = [maxBlocks][terms]float64{}
	for i, v := range y {
		x := (t[i] - ref) * scale
		blk := min(int((x-x0)*maxBlocks), maxBlocks-1)
		u := (x - (b.centre0 + float64(blk)*(2*b.half))) / b.half
		ym, om := &b.ym[blk], &b.om[blk]
		p, q := 1.0, v-off
		for j := range ym {
			om[j] += p
			ym[j] += q
			p *= u
			q *= u
		}
	}
}

// sums gives the sums over all samples of phi, phi^2 and phi*(y - off) at the decay rate k (1/span).
func (b *blockTable) sums(k float64) (sp, spp, spy float64) {
	h := b.half
	z := -k * h
	// phi(k, h u) = sum c[j] u^j and phi(k, h u)^2 = sum d[j] u^j
	var c, d [terms]float64
	p := h
	for j := 1; j < terms; j++ {
		c[j] = p * seriesOne[j]
		p *= z
	}
	p = h * h
	for j := 2; j < terms; j++ {
		d[j] = p * seriesTwo[j]
		p *= z
	}
	step, _ := basis(k, 2*h)
	decay := math.Exp(2 * z)
	phi, _ := basis(k, b.centre0)
	exp := math.Exp(-k * b.centre0)
	var r1, r2, m float64
	for blk := 0; blk < b.n; blk++ {
		if om := &b.om[blk]; !b.same || blk == 0 || blk == b.tail {
			m = om[0]
			r1 = c[1]*om[1] + c[2]*om[2] + c[3]*om[3] + c[4]*om[4] + c[5]*om[5] + c[6]*om[6] +
				c[7]*om[7] + c[8]*om[8] + c[9]*om[9] + c[10]*om[10] + c[11]*om[11]
			r2 = d[2]*om[2] + d[3]*om[3] + d[4]*om[4] + d[5]*om[5] + d[6]*om[6] +
				d[7]*om[7] + d[8]*om[8] + d[9]*om[9] + d[10]*om[10] + d[11]*om[11]
		}
		ym := &b.ym[blk]
		y1 := c[1]*ym[1] + c[2]*ym[2] + c[3]*ym[3] + c[4]*ym[4] + c[5]*ym[5] + c[6]*ym[6] +
			c[7]*ym[7] + c[8]*ym[8] + c[9]*ym[9] + c[10]*ym[10] + c[11]*ym[11]
		sp += m*phi + exp*r1
		spp += m*phi*phi + exp*(2*phi*r1+exp*r2)
		spy += phi*ym[0] + exp*y1
		phi += exp * step
		exp *= decay
	}
	return sp, spp, spy
}
