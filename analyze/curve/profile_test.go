package curve

import (
	"math"
	"testing"
)

// TestProfileBounds checks the printed bounds by their definition: with a parameter held at its bound, the
// smallest residual sum of squares over all others exceeds the minimum by t^2 f^2 s^2. All by plain sums.
func TestProfileBounds(t *testing.T) {
	for _, c := range []simRise{
		{spanTaus: 0.3, riseK: 100, n: 60, noiseK: 0.5, stream: 90},
		{spanTaus: 0.5, riseK: 100, n: 300, noiseK: 2, stream: 91},
		{spanTaus: 1.5, riseK: 100, n: 120, noiseK: 2, ar: 0.5, stream: 92},
		{spanTaus: 4.5, riseK: 100, n: 60, noiseK: 2, stream: 93},
		{spanTaus: 1, riseK: 100, n: 200, noiseK: 1, uneven: true, stream: 94},
	} {
		ts, ys := make([]float64, c.n), make([]float64, c.n)
		c.draw(3, ts, ys)
		var e Estimator
		r := e.FirstOrder(ts, ys, Options{})
		if r.NEff < minNEff {
			t.Fatalf("%+v: no interval", c)
		}
		q := studentQuantile975(r.NEff - 3)
		want := q * q * r.Widening * r.Widening * r.Classical.ResidualSD * r.Classical.ResidualSD
		span := ts[c.n-1] - ts[0]
		// smallest sum of squares over k and one linear parameter, with y - a - b phi and a, b tied by hold
		least := func(hold func(k float64, phi []float64) (rss float64)) float64 {
			low := math.Inf(1)
			lo, hi := r.DecayPerS.CI.Low*span, r.DecayPerS.CI.High*span
			lo, hi = lo-0.2*(hi-lo), hi+0.2*(hi-lo)
			phi := make([]float64, c.n)
			for i := range 801 {
				k := lo + (hi-lo)*float64(i)/800
				for j := range phi {
					phi[j], _ = basis(k, (ts[j]-ts[0])/span)
				}
				low = math.Min(low, hold(k, phi))
			}
			return low
		}
		regress := func(u, v []float64) float64 { // rss of v on u through the origin
			var uu, uv, vv float64
			for i := range u {
				uu += u[i] * u[i]
				uv += u[i] * v[i]
				vv += v[i] * v[i]
			}
			return vv - uv*uv/uu
		}
		u, v := make([]float64, c.n), make([]float64, c.n)
		startAt := func(a float64) float64 {
			return least(func(_ float64, phi []float64) float64 {
				for i := range u {
					u[i], v[i] = phi[i], ys[i]-a
				}
				return regress(u, v)
			})
		}
		rateAt := func(b float64) float64 {
			b *= span
			return least(func(_ float64, phi []float64) float64 {
				for i := range u {
					u[i], v[i] = 1, ys[i]-b*phi[i]
				}
				return regress(u, v)
			})
		}
		finalAt := func(f float64) float64 { // a = f - b/k
			return least(func(k float64, phi []float64) float64 {
				if k < 1e-3 {
					return math.Inf(1)
				}
				for i := range u {
					u[i], v[i] = phi[i]-1/k, ys[i]-f
				}
				return regress(u, v)
			})
		}
		check := func(what string, ends []float64, at func(float64) float64) {
			for _, x := range ends {
				if got := (at(x) - r.Classical.RSS) / want; math.Abs(got-1) > 0.02 {
					t.Errorf("span %g, n %d: %s bound %.6g has %.3f of the allowed excess", c.spanTaus, c.n, what, x, got)
				}
			}
		}
		check("start", []float64{r.StartC.CI.Low, r.StartC.CI.High}, startAt)
		check("rate", []float64{r.RateKPerS.CI.Low, r.RateKPerS.CI.High}, rateAt)
		var finals []float64
		if r.FinalC.CI.HasLow {
			finals = append(finals, r.FinalC.CI.Low)
		}
		if r.FinalC.CI.HasHigh {
			finals = append(finals, r.FinalC.CI.High)
		}
		check("final", finals, finalAt)
		check("decay rate", []float64{r.DecayPerS.CI.Low, r.DecayPerS.CI.High}, func(k float64) float64 {
			for i := range u {
				u[i], _ = basis(k*span, (ts[i]-ts[0])/span)
			}
			var mu, my float64
			for i := range u {
				mu += u[i] / float64(c.n)
				my += ys[i] / float64(c.n)
			}
			for i := range u {
				u[i] -= mu
				v[i] = ys[i] - my
			}
			return regress(u, v)
		})
	}
}
