package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// TestBasisSeriesMeetsQuotient checks the power series against the quotient where both are good.
func TestBasisSeriesMeetsQuotient(t *testing.T) {
	for _, z := range []float64{-0.0299, -0.02, -0.01, 0.01, 0.02, 0.0299} {
		phi, dphi := basis(z, 1)
		em := math.Expm1(-z)
		wantPhi := -em / z
		wantD := (1 + em - wantPhi) / z
		if math.Abs(phi-wantPhi) > 1e-15 || math.Abs(dphi-wantD) > 1e-13 {
			t.Errorf("z=%g: phi %.17g want %.17g, dphi %.17g want %.17g", z, phi, wantPhi, dphi, wantD)
		}
	}
	if phi, dphi := basis(0, 3); phi != 3 || dphi != -4.5 {
		t.Errorf("at k = 0: %g, %g; want 3 and -4.5", phi, dphi)
	}
}

// randomTrace draws a trace of n samples; even or uneven in time.
func randomTrace(rng *rand.Rand, n int, even bool) (ts, ys []float64) {
	span := math.Exp(rng.Float64()*6 + 1)
	k := (rng.Float64()*5 - 0.5) / span
	start := rng.Float64() * 100
	for i := range n {
		at := start + span*float64(i)/float64(n-1)
		if !even {
			at = start + span*(float64(i)+0.8*rng.Float64())/float64(n)
			if rng.IntN(n) == 0 {
				start += span * rng.Float64() * 0.3 // a gap
			}
		}
		ts = append(ts, at)
	}
	noise := math.Exp(rng.Float64()*5 - 4)
	for _, at := range ts {
		phi, _ := basis(k, at-ts[0])
		ys = append(ys, 20+100/span*phi+noise*rng.NormFloat64())
	}
	return ts, ys
}

// TestBlockSumsEqualDirectSums: the moments of blocks give the same sums as reading every sample.
func TestBlockSumsEqualDirectSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		n := rapid.IntRange(maxBlocks+1, 700).Draw(t, "n")
		even := rapid.Bool().Draw(t, "even")
		ts, ys := randomTrace(rng, n, even)
		var e Estimator
		if why := e.prepare(ts, ys, Options{}); why != "" {
			t.Fatal(why)
		}
		if e.trace.uniform != even {
			t.Fatalf("uniform %v, want %v", e.trace.uniform, even)
		}
		k := rapid.Float64Range(-momentReach, momentReach).Draw(t, "k")
		if rapid.IntRange(0, 3).Draw(t, "near") == 0 {
			k *= 1e-4
		}
		p, pp, py := e.block.sums(k)
		dp, dpp, dpy := e.sumsDirect(k)
		scale := math.Sqrt(dpp * e.trace.syy)
		if math.Abs(p/dp-1) > 1e-11 || math.Abs(pp/dpp-1) > 1e-11 || math.Abs(py-dpy) > 1e-11*scale {
			t.Fatalf("k=%g n=%d: %g %g %g, direct %g %g %g", k, n, p, pp, py, dp, dpp, dpy)
		}
	})
}

// TestRecurrentSumsEqualDirectSums: beyond the reach of the blocks.
func TestRecurrentSumsEqualDirectSums(t *testing.T) {
	for seed := uint64(1); seed <= 50; seed++ {
		rng := rand.New(rand.NewPCG(seed, 12))
		ts, ys := randomTrace(rng, maxBlocks+1+rng.IntN(700), true)
		var e Estimator
		if why := e.prepare(ts, ys, Options{}); why != "" {
			t.Fatal(why)
		}
		for _, k := range []float64{-12, -9, 9, 30, 120} {
			p, pp, py := e.sumsRecurrent(k)
			dp, dpp, dpy := e.sumsDirect(k)
			scale := math.Sqrt(dpp * e.trace.syy)
			if math.Abs(p/dp-1) > 1e-10 || math.Abs(pp/dpp-1) > 1e-10 || math.Abs(py-dpy) > 1e-10*scale {
				t.Fatalf("seed %d k=%g: %g %g %g, direct %g %g %g", seed, k, p, pp, py, dp, dpp, dpy)
			}
		}
	}
}

// plainFirstOrder is the twin of the whole estimate: no blocks, no recurrences, a dense golden-section
// search, derivatives of the sum of squares by nothing but the definition of the model.
func plainFirstOrder(ts, ys []float64) (k, rate, start, seK, rss float64) {
	span := ts[len(ts)-1] - ts[0]
	solve := func(k float64) (rss, rate, start float64) {
		var sp, sy, n float64
		for i := range ts {
			p, _ := basis(k, (ts[i]-ts[0])/span)
			sp += p
			sy += ys[i]
			n++
		}
		mp, my := sp/n, sy/n
		var spp, spy float64
		for i := range ts {
			p, _ := basis(k, (ts[i]-ts[0])/span)
			spp += (p - mp) * (p - mp)
			spy += (p - mp) * (ys[i] - my)
		}
		rate = spy / spp
		start = my - rate*mp
		for i := range ts {
			p, _ := basis(k, (ts[i]-ts[0])/span)
			r := ys[i] - start - rate*p
			rss += r * r
		}
		return rss, rate, start
	}
	best, low := 0.0, math.Inf(1)
	for g := -9.5; g <= 9.5; g += 0.25 {
		if f, _, _ := solve(g); f < low {
			best, low = g, f
		}
	}
	a, b := best-0.25, best+0.25
	const golden = 0.6180339887498949
	for range 60 {
		x1, x2 := b-golden*(b-a), a+golden*(b-a)
		f1, _, _ := solve(x1)
		f2, _, _ := solve(x2)
		if f1 < f2 {
			b = x2
		} else {
			a = x1
		}
	}
	k = (a + b) / 2
	rss, rate, start = solve(k)
	// information on k: the part of d phi/d k that neither a constant nor phi explains
	var m [3][3]float64
	for i := range ts {
		p, d := basis(k, (ts[i]-ts[0])/span)
		v := [3]float64{1, p, rate * d}
		for r := range 3 {
			for c := range 3 {
				m[r][c] += v[r] * v[c]
			}
		}
	}
	for col := range 2 {
		for r := col + 1; r < 3; r++ {
			f := m[r][col] / m[col][col]
			for c := range 3 {
				m[r][c] -= f * m[col][c]
			}
		}
	}
	seK = math.Sqrt(rss/float64(len(ts)-3)/m[2][2]) / span
	return k / span, rate / span, start, seK, rss
}

// TestEstimateEqualsPlainTwin compares the estimate with the twin on random traces.
func TestEstimateEqualsPlainTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		n := rapid.IntRange(20, 300).Draw(t, "n")
		ts, ys := randomTrace(rng, n, rapid.Bool().Draw(t, "even"))
		var e Estimator
		got := e.FirstOrder(ts, ys, Options{}).Classical
		k, rate, start, seK, rss := plainFirstOrder(ts, ys)
		if !got.OK || math.Abs(k*(ts[n-1]-ts[0])) > 9 {
			return // the solution lies at the end of the range: nothing to compare
		}
		// golden section on sums of squares resolves k to about 1e-7 of the span's inverse at best
		tol := 1e-4 * seK
		if tol < 1e-6*math.Abs(k) {
			tol = 1e-6 * math.Abs(k)
		}
		if math.Abs(got.DecayPerS-k) > tol || math.Abs(got.DecaySE/seK-1) > 1e-4 ||
			math.Abs(got.RateKPerS/rate-1) > 1e-5 || math.Abs(got.StartC-start) > 1e-4*got.StartSE || math.Abs(got.RSS/rss-1) > 1e-9 {
			t.Fatalf("n=%d: got %+v\nwant k %.9g se %.9g rate %.9g start %.9g rss %.12g", n, got, k, seK, rate, start, rss)
		}
	})
}
