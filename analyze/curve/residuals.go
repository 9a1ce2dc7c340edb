package curve

import "math"

// residuals is what the second reading of the samples gives at a solution (k, rate, start).
type residuals struct {
	n                   float64
	mp, md              float64 // means of phi and dphi
	spp, spd, sdd       float64 // centred sums of squares and products of phi and dphi (not centred with a known start)
	sr, srp, srd        float64 // sums of the residual, and its centred products with phi and dphi
	rss, lag            float64 // sums of r[i]^2 and of r[i] r[i-1]
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
	var sp, sd, spp, spd, sdd, sr, srp, srd, rss, lag float64
	scale := 1 / tr.span
	a += tr.off
	perBlock := (n + maxBlocks - 1) / maxBlocks
	var prev float64
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
				bs += res
				prev = res
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
			prev = res
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
	r.spp, r.spd, r.sdd, r.sr, r.srp, r.srd, r.rss, r.lag = spp, spd, sdd, sr, srp, srd, rss, lag
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
		v := &r.classical
		v.rate = r.sdd / det
		v.k = r.spp / det / (rate * rate)
		v.rateK = -r.spd / det / rate
		v.start, v.startRate, v.startK = 0, 0, 0
		if !tr.fixed {
			mq := r.md * rate
			v.startRate = -(r.mp*v.rate + mq*v.rateK)
			v.startK = -(r.mp*v.rateK + mq*v.k)
			v.start = 1/r.n + r.mp*r.mp*v.rate + 2*r.mp*mq*v.rateK + mq*mq*v.k
		}
		if small && math.Abs(dk) <= 1e-13*math.Abs(k)+1e-300 {
			return true
		}
		if !small && (dk*dk <= 1e-10*v.k*r.sdSq || math.Abs(dk) < 1e-11*(1+math.Abs(k))) {
			return true
		}
	}
	return true
}
