package curve

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	misfitShare  = 0.005 // of the rise: smaller smooth misfits do not matter
	misfitP      = 0.001
	misfitExtras = 5
)

// misfit looks for a smooth departure of the readings from the curve: five more smooth terms
// (Legendre polynomials of degree 3 to 7) are fitted to the block means of the residuals, on top of
// the curve's own three directions. It counts when it is both significant, against the noise that
// remains without it and its correlation, and larger at its largest than 0.5 % of the rise and than one
// display step. Then out.Why says where; the test runs only when the size is reached.
func (e *Estimator) misfit(out *FirstOrder, rise, stepK float64) {
	tr, r := &e.trace, &e.resid
	if len(tr.y) < 16 {
		return
	}
	type column [maxBlocks]float64
	var basisCols [3 + misfitExtras]column
	var weight, x, res column
	m := 0
	at := 0.0
	perBlock := (len(tr.y) + maxBlocks - 1) / maxBlocks
	for b := range maxBlocks {
		nb := r.blockN[b]
		if nb == 0 {
			continue
		}
		var c float64
		if tr.uniform && len(tr.y) > maxBlocks {
			c = tr.x0 + (at+(nb-1)/2)*tr.dx
			at += float64(perBlock)
		} else {
			c = tr.x0 + (float64(b)+0.5)/maxBlocks
		}
		weight[m], x[m], res[m] = math.Sqrt(nb), c, r.blockSum[b]/math.Sqrt(nb)
		m++
	}
	if m < 12 {
		return
	}
	for i := range m {
		phi, dphi := basis(r.k, x[i])
		u := 2*(x[i]-tr.x0) - 1
		w := weight[i]
		basisCols[0][i] = w
		basisCols[1][i] = w * phi
		basisCols[2][i] = w * dphi
		low, p := u, (3*u*u-1)/2
		for j := range misfitExtras {
			d := float64(j + 2)
			low, p = p, ((2*d+1)*u*p-d*low)/(d+1)
			basisCols[3+j][i] = w * p
		}
	}
	first := 0
	if tr.fixed {
		first = 1
	}
	var smooth column
	ss := 0.0
	for j := first; j < len(basisCols); j++ {
		cj := &basisCols[j]
		before := dot(cj[:m], cj[:m])
		for i := first; i < j; i++ {
			ci := &basisCols[i]
			axpy(-dot(ci[:m], cj[:m]), ci[:m], cj[:m])
		}
		norm := dot(cj[:m], cj[:m])
		if !(norm > 1e-12*before) {
			return
		}
		scale := 1 / math.Sqrt(norm)
		for i := range m {
			cj[i] *= scale
		}
		if j >= 3 {
			a := dot(cj[:m], res[:m])
			ss += a * a
			axpy(a, cj[:m], smooth[:m])
		}
	}
	size, where, early := 0.0, 0, 0.0
	for i := range m {
		if v := math.Abs(smooth[i] / weight[i]); v > size {
			size, where = v, i
		}
		if x[i]-tr.x0 < 0.25 {
			early += smooth[i] * smooth[i]
		}
	}
	out.MisfitK = size
	if !(size > math.Max(misfitShare*math.Abs(rise), stepK)) {
		return
	}
	n := float64(len(tr.y))
	rss := r.rssAtSolution - ss
	df := n - 3 - misfitExtras
	if !(rss > 1e-14*tr.syy) {
		rss = 1e-14 * tr.syy
	}
	f2 := correlationOf(math.Max(-1, (r.lag-ss)/rss), math.Max(-1, (r.lag2-ss)/rss), n, 3, stepK*stepK/12*n/rss).factor()
	df2 := n/f2 - 3 - misfitExtras
	if df2 < 4 {
		return
	}
	f := ss / misfitExtras / (rss / df * f2)
	out.MisfitP = distuv.F{D1: misfitExtras, D2: df2}.Survival(f)
	if out.MisfitP < misfitP {
		out.Why = misfitWords(size, smooth[where] > 0, (x[where]-tr.x0)*tr.span+tr.t[0], early > 0.6*ss)
	}
}

// misfitWords says in plain words how the readings depart from the curve.
func misfitWords(size float64, above bool, atS float64, early bool) string {
	side := "below"
	if above {
		side = "above"
	}
	why := "; the power or the losses changed on the way, or heat came through another part"
	if early {
		why = "; the start does not belong to the curve, as with a lagging probe or a part heated through another"
	}
	return "the readings lie up to " + strconv.FormatFloat(size, 'g', 2, 64) + " K " + side +
		" any first-order curve at " + strconv.FormatFloat(atS, 'f', 0, 64) + " s" + why
}
