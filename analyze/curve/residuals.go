package curve

import "math"

// residuals is what the second reading of the samples gives at a solution (k, rate, start).
type residuals struct {
	n                   float64
	mp, md              float64 // means of phi and dphi
	spp, spd, sdd       float64 // centred sums of squares and products of phi and dphi (not centred with a known start)
	sr, srp, srd        float64 // sums of the residual, and its centred products with phi and dphi
	rss, lag, lag2      float64 // sums of r[i]^2, r[i] r[i-1] and r[i] r[i-2]
	blockSum, blockN    [maxBlocks]float64
	classical           covariance
	k, rate, start      float64 // the solution after the last step: 1/span, K/span, K above off
	rssAtSolution, sdSq float64
}

// covariance is that of (start, rate, k) in scaled units for unit residual variance.
type covariance struct {
	start, rate, k, startRate, startK, rateK float64
}

// evaluate reads the samples and fills the sums for the solution k, rate (scaled) and a (K above off).
//
// On uniform sampling exp, phi and dphi run by their addition formulas; with x the time and d the step,
//
//	exp(-k(x+d))  = exp(-k x) exp(-k d)
//	phi(x+d)      = phi(x) + exp(-k x) phi(d)
//	dphi(x+d)     = dphi(x) + exp(-k x) (dphi(d) - x phi(d))
//
// which lose nothing near k = 0.
func (e *Estimator) evaluate(k, rate, a float64) {
	tr, r := &e.trace, &e.resid
	n := len(tr.y)
	var sp, sd, spp, spd, sdd, sr, srp, srd, rss, lag, lag2 float64
	scale := 1 / tr.span
	a += tr.off
	perBlock := (n + maxBlocks - 1) / maxBlocks
	var prev, prev2 float64
	r.blockSum, r.blockN = [maxBlocks]float64{}, [maxBlocks]float64{}
	// centres near the means keep the products from cancelling; any value is right
	cp, cd := basis(k, tr.x0+0.5)
	if tr.fixed {
		cp, cd = 0, 0
	}
	if tr.uniform && n > maxBlocks {
		phi, dphi := basis(k, tr.x0)
		ex := math.Exp(-k * tr.x0)
		dp, dd := basis(k, tr.dx)
		decay := math.Exp(-k * tr.dx)
		x := tr.x0
		for b, i := 0, 0; i < n; b++ {
			end := min(i+perBlock, n)
			var bs float64
			for _, v := range tr.y[i:end] {
				res := v - (a + rate*phi)
				p, d := phi-cp, dphi-cd
				sp += p
				sd += d
				spp += p * p
				spd += p * d
				sdd += d * d
				srp += res * p
				srd += res * d
				rss += res * res
				lag += res * prev
				lag2 += res * prev2
				bs += res
				prev, prev2 = res, prev
				phi += ex * dp
				dphi += ex * (dd - x*dp)
				ex *= decay
				x += tr.dx
			}
			r.blockSum[b], r.blockN[b] = bs, float64(end-i)
			sr += bs
			i = end
		}
	} else {
		for i, v := range tr.y {
			x := (tr.t[i] - tr.ref) * scale
			phi, dphi := basis(k, x)
			res := v - (a + rate*phi)
			p, d := phi-cp, dphi-cd
			sp += p
			sd += d
			spp += p * p
			spd += p * d
			sdd += d * d
			sr += res
			srp += res * p
			srd += res * d
			rss += res * res
			lag += res * prev
			lag2 += res * prev2
			prev, prev2 = res, prev
			b := min(int((x-tr.x0)*maxBlocks), maxBlocks-1)
			r.blockSum[b] += res
			r.blockN[b]++
		}
	}
	r.n = float64(n)
	if tr.fixed {
		r.mp, r.md = 0, 0
	} else {
		mp, md := sp/r.n, sd/r.n
		spp -= sp * mp
		spd -= sp * md
		sdd -= sd * md
		srp -= sr * mp
		srd -= sr * md
		r.mp, r.md = mp+cp, md+cd
	}
	r.spp, r.spd, r.sdd, r.sr, r.srp, r.srd = spp, spd, sdd, sr, srp, srd
	r.rss, r.lag, r.lag2 = rss, lag, lag2
}

// scan is evaluate for a solution that is already good: it reads the samples for the residuals only.
func (e *Estimator) scan(k, rate, a float64) {
	tr, r := &e.trace, &e.resid
	n := len(tr.y)
	a += tr.off
	var rss, lag, lag2, prev, prev2 float64
	r.blockSum, r.blockN = [maxBlocks]float64{}, [maxBlocks]float64{}
	if tr.uniform {
		perBlock := (n + maxBlocks - 1) / maxBlocks
		phi, _ := basis(k, tr.x0)
		step, _ := basis(k, tr.dx)
		// the curve itself runs by the recurrence: level += slope, slope *= decay
		level := a + rate*phi
		slope := rate * step * math.Exp(-k*tr.x0)
		decay := math.Exp(-k * tr.dx)
		for b, i := 0, 0; i < n; b++ {
			end := min(i+perBlock, n)
			var bs, sq, lg, l2 float64
			for _, v := range tr.y[i:end] {
				res := v - level
				sq += res * res
				lg += res * prev
				l2 += res * prev2
				bs += res
				prev, prev2 = res, prev
				level += slope
				slope *= decay
			}
			r.blockSum[b], r.blockN[b] = bs, float64(end-i)
			rss += sq
			lag += lg
			lag2 += l2
			i = end
		}
	} else {
		// phi by its power series about the block's centre, as in the sums
		scale := 1 / tr.span
		h := e.block.half
		var c [yTerms]float64
		p := h * rate
		for j := 1; j < yTerms; j++ {
			c[j] = p * seriesOne[j]
			p *= -k * h
		}
		block, centre, level, ex := -1, 0.0, 0.0, 0.0
		for i, v := range tr.y {
			x := (tr.t[i] - tr.ref) * scale
			if b := min(int((x-tr.x0)*maxBlocks), maxBlocks-1); b != block {
				block = b
				centre = e.block.centre0 + float64(b)*(2*h)
				phi, _ := basis(k, centre)
				level, ex = a+rate*phi, math.Exp(-k*centre)
			}
			u := (x - centre) / h
			u2 := u * u
			u4 := u2 * u2
			low := c[1] + c[2]*u + u2*(c[3]+c[4]*u)
			mid := c[5] + c[6]*u + u2*(c[7]+c[8]*u)
			res := v - (level + ex*u*(low+u4*(mid+u4*c[9])))
			rss += res * res
			lag += res * prev
			lag2 += res * prev2
			prev, prev2 = res, prev
			r.blockSum[block] += res
			r.blockN[block]++
		}
	}
	r.rss, r.lag, r.lag2 = rss, lag, lag2
}

// solve finds the least-squares solution and the residuals there. ok is false when there is none;
// edge says that the minimum lies at the end of the decay rates tried.
func (e *Estimator) solve() (ok, edge bool) {
	tr := &e.trace
	if !tr.direct && e.solveFast() {
		return true, false
	}
	k, ok := e.search()
	if !ok {
		return false, true
	}
	return e.refine(k), false
}

// guess is a first decay rate from the means of the first, middle and last third of the span: the
// means of a first-order curve rise by a falling geometric series. ok is false when they do not.
func (e *Estimator) guess() (k float64, ok bool) {
	b := &e.block
	g := b.n / 3
	if g == 0 || b.n < 6 {
		return 0, false
	}
	var sum, count [3]float64
	for part, from := range [3]int{0, (b.n - g) / 2, b.n - g} {
		for blk := from; blk < from+g; blk++ {
			sum[part] += b.ym[blk][0]
			count[part] += b.ones(blk)[0]
		}
	}
	if count[0] == 0 || count[1] == 0 || count[2] == 0 {
		return 0, false
	}
	q := (sum[2]/count[2] - sum[1]/count[1]) / (sum[1]/count[1] - sum[0]/count[0])
	if !(q > 0.02 && q < 5) {
		return 0, false
	}
	return -math.Log(q) / (float64(b.n-g) * b.half), true
}

// solveFast runs Gauss-Newton steps on the block moments from the guess, then reads the residuals once.
// It gives up, for search and refine to do it the long way, when anything is unusual.
func (e *Estimator) solveFast() bool {
	k, ok := e.guess()
	if !ok {
		return false
	}
	tr, r := &e.trace, &e.resid
	n := float64(len(tr.y))
	last := math.Inf(1)
	for range 12 {
		if math.Abs(k) > 0.9*momentReach {
			return false
		}
		s := e.block.sumsWithSlopes(k)
		mp, md := s.p/n, s.d/n
		if tr.fixed {
			mp, md = 0, 0
		}
		spp, spd, sdd := s.pp-s.p*mp, s.pd-s.p*md, s.dd-s.d*md
		rate := s.py / spp
		rss := tr.syy - s.py*rate
		// a good description of the readings has one minimum; anything else is searched for
		if rss > 0.1*tr.syy || rss > last+1e-9*tr.syy {
			return false
		}
		last = rss
		det := spp*sdd - spd*spd
		if !(det > 1e-9*spp*sdd) || rate == 0 {
			return false
		}
		g := s.dy - rate*spd
		dq := spp * g / det
		dk := dq / rate
		if !(math.Abs(dk) < 2) {
			return false
		}
		vk := spp / det / (rate * rate)
		sd2 := math.Max(rss, 1e-15*tr.syy) / n
		if dk*dk > 1e-13*vk*sd2 && math.Abs(dk) > 1e-12*(1+math.Abs(k)) {
			k += dk
			continue
		}
		dr := -spd * g / det
		r.n, r.mp, r.md, r.spp, r.spd, r.sdd = n, mp, md, spp, spd, sdd
		r.k, r.rate = k+dk, rate+dr
		r.start = -mp*r.rate - md*dq
		if tr.fixed {
			r.start = 0
		}
		e.scan(r.k, r.rate, r.start)
		r.rssAtSolution = r.rss
		r.sdSq = r.rss / (n - float64(tr.params))
		r.covariance(tr.fixed)
		return true
	}
	return false
}

// covariance fills the covariance for unit residual variance from the sums at the solution.
func (r *residuals) covariance(fixed bool) {
	det := r.spp*r.sdd - r.spd*r.spd
	v := &r.classical
	v.rate = r.sdd / det
	v.k = r.spp / det / (r.rate * r.rate)
	v.rateK = -r.spd / det / r.rate
	v.start, v.startRate, v.startK = 0, 0, 0
	if !fixed {
		mq := r.md * r.rate
		v.startRate = -(r.mp*v.rate + mq*v.rateK)
		v.startK = -(r.mp*v.rateK + mq*v.k)
		v.start = 1/r.n + r.mp*r.mp*v.rate + 2*r.mp*mq*v.rateK + mq*mq*v.k
	}
}

// refine takes the search's decay rate to the least-squares solution by Gauss-Newton steps on all
// parameters. On logs one step is enough: the search is good to a small fraction of the standard
// error, and the step's own error is quadratic. On short lists of numbers it runs until nothing moves,
// because there certified digits are wanted and time is not. It reports whether the solution is sound.
func (e *Estimator) refine(k float64) bool {
	tr, r := &e.trace, &e.resid
	c := e.at(k)
	rate, a := c.rate, -c.mean*c.rate
	small := len(tr.y) <= maxBlocks
	for range 100 {
		e.evaluate(k, rate, a)
		det := r.spp*r.sdd - r.spd*r.spd
		if !(det > 1e-13*r.spp*r.sdd) || rate == 0 {
			return false
		}
		// in (rate, rate*k) the matrix does not depend on the rate
		dr := (r.sdd*r.srp - r.spd*r.srd) / det
		dq := (r.spp*r.srd - r.spd*r.srp) / det
		dk := dq / rate
		da := 0.0
		if !tr.fixed {
			da = r.sr/r.n - r.mp*dr - r.md*dq
		}
		gain := r.srp*dr + r.srd*dq
		if !tr.fixed {
			gain += r.sr * r.sr / r.n
		}
		r.rssAtSolution = math.Max(0, r.rss-gain)
		r.sdSq = r.rssAtSolution / (r.n - float64(tr.params))
		k += dk
		rate += dr
		a += da
		r.k, r.rate, r.start = k, rate, a
		r.covariance(tr.fixed)
		if small && math.Abs(dk) <= 1e-13*math.Abs(k)+1e-300 {
			return true
		}
		if !small && (dk*dk <= 1e-10*r.classical.k*r.sdSq || math.Abs(dk) < 1e-11*(1+math.Abs(k))) {
			return true
		}
	}
	return true
}
