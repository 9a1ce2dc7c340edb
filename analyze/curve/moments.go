package curve

import "math"

// Sums over all samples of phi, phi^2 and phi*y are needed at some thirty decay rates. Reading the
// samples each time would cost most of the run. Instead the samples are put into blocks of equal
// length in time, and of each block the moments of y and of 1 about the block's centre are kept:
//
//	ym[b][j] = sum of y u^j,  om[b][j] = sum of u^j,  u = (x - centre)/half in [-1, 1]
//
// Within a block phi(k, c + d) = phi(k, c) + exp(-k c) phi(k, d), and phi(k, d) is a short power
// series in d. With half = 1/64 of the span and |k| span <= 8 the terms left out are below
// 1e-14 of the sum, so this is not an approximation but another order of summation. The plain twin is
// Estimator.sumsDirect.
const (
	maxBlocks   = 32
	terms       = 12  // moments of 1; their sums hold phi^2, which bends twice as much as phi
	yTerms      = 10  // moments of y
	momentReach = 8.0 // largest |k|, in 1/span, that the series serves
)

// blockTable holds the moments of one trace.
type blockTable struct {
	n       int     // blocks in use
	same    bool    // uniform sampling: all blocks but the tail have the ones-moments om[0]
	tail    int     // index of the shorter last block; -1 when there is none
	half    float64 // half length of a block, in spans
	centre0 float64 // centre of the first block, in spans since the reference
	ym      [maxBlocks][yTerms]float64
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
		var a0, a2, a4, a6, a8, a1, a3, a5, a7, a9 float64
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
			lo++
			hi--
		}
		if lo == hi {
			a0 += s[lo] - off
		}
		b.ym[blk] = [yTerms]float64{a0, a1, a2, a3, a4, a5, a6, a7, a8, a9}
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
		var ym [yTerms]float64
		var om [terms]float64
		for i, v := range y[full*m:] {
			u := float64(2*i-(m-1)) * inv
			p := 1.0
			for j := range om {
				if j < yTerms {
					ym[j] += p * (v - off)
				}
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
	b.ym = [maxBlocks][yTerms]float64{}
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
		om[10] += p
		om[11] += p * u
	}
}

// ones gives the moments of 1 of a block.
func (b *blockTable) ones(blk int) *[terms]float64 {
	if b.same && blk != b.tail {
		return &b.om[0]
	}
	return &b.om[blk]
}

// shift lowers all y by d.
func (b *blockTable) shift(d float64) {
	for blk := range b.n {
		ym, om := &b.ym[blk], b.ones(blk)
		for j := range ym {
			ym[j] -= d * om[j]
		}
	}
}

// total is the sum of y.
func (b *blockTable) total() (s float64) {
	for blk := range b.n {
		s += b.ym[blk][0]
	}
	return s
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
			c[7]*ym[7] + c[8]*ym[8] + c[9]*ym[9]
		sp += m*phi + exp*r1
		spp += m*phi*phi + exp*(2*phi*r1+exp*r2)
		spy += phi*ym[0] + exp*y1
		phi += exp * step
		exp *= decay
	}
	return sp, spp, spy
}

// slopes holds the sums that a Gauss-Newton step needs: of phi (p) and its derivative dphi (d) with
// respect to k, their products with each other and with y - off.
type slopes struct{ p, pp, py, d, pd, dd, dy float64 }

// sumsWithSlopes is sums with the derivatives. Within a block, with rho(x) = phi(k, x) and c the centre,
//
//	dphi(k, c + x) = dphi(k, c) + exp(-k c) (rho'(x) - c rho(x))
func (b *blockTable) sumsWithSlopes(k float64) (s slopes) {
	h := b.half
	z := -k * h
	// rho = sum c u^j, rho^2 = sum d u^j, and their derivatives with respect to k
	var c, d, dc, dd [terms]float64
	p, dp := h, 0.0 // h z^(j-1) and its derivative, -h h (j-1) z^(j-2)
	for j := 1; j < terms; j++ {
		c[j], dc[j] = p*seriesOne[j], dp*seriesOne[j]
		dp = dp*z - h*p
		p *= z
	}
	p, dp = h*h, 0
	for j := 2; j < terms; j++ {
		d[j], dd[j] = p*seriesTwo[j], dp*seriesTwo[j]
		dp = dp*z - h*p
		p *= z
	}
	step, dstep := basis(k, 2*h)
	decay := math.Exp(2 * z)
	x := b.centre0
	phi, dphi := basis(k, x)
	exp := math.Exp(-k * x)
	var m, r1, r2, q1, q2, q3 float64
	for blk := 0; blk < b.n; blk++ {
		if !b.same || blk == 0 || blk == b.tail {
			om := &b.om[blk]
			m = om[0]
			r1, r2, q1, q2 = 0, 0, 0, 0
			for j := 1; j < terms; j++ {
				r1 += c[j] * om[j]
				r2 += d[j] * om[j]
				q1 += dc[j] * om[j]
				q2 += dd[j] * om[j]
			}
			q2 /= 2                                                         // sum of rho rho'
			q3 = h * h * h * h * (om[4]/4 + z*om[5]/3 + z*z*om[6]*(17./72)) // of rho'^2; tiny
		}
		ym := &b.ym[blk]
		y1 := c[1]*ym[1] + c[2]*ym[2] + c[3]*ym[3] + c[4]*ym[4] + c[5]*ym[5] + c[6]*ym[6] +
			c[7]*ym[7] + c[8]*ym[8] + c[9]*ym[9]
		y2 := dc[2]*ym[2] + dc[3]*ym[3] + dc[4]*ym[4] + dc[5]*ym[5] + dc[6]*ym[6] +
			dc[7]*ym[7] + dc[8]*ym[8] + dc[9]*ym[9]
		t1 := exp * (q1 - x*r1)       // sum of exp (rho' - c rho)
		t2 := exp * exp * (q2 - x*r2) // with exp rho
		t3 := q3 - 2*x*q2 + x*x*r2    // of (rho' - c rho)^2
		s.p += m*phi + exp*r1
		s.pp += m*phi*phi + exp*(2*phi*r1+exp*r2)
		s.py += phi*ym[0] + exp*y1
		s.d += m*dphi + t1
		s.pd += m*phi*dphi + phi*t1 + dphi*exp*r1 + t2
		s.dd += m*dphi*dphi + 2*dphi*t1 + exp*exp*t3
		s.dy += dphi*ym[0] + exp*(y2-x*y1)
		dphi += exp * (dstep - x*step)
		phi += exp * step
		exp *= decay
		x += 2 * h
	}
	return s
}
