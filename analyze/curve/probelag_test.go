package curve

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestRampLag(t *testing.T) {
	// source: first-order response to a ramp, exact: lag = rate tau (1 - exp(-t/tau)), steady rate tau (any text on
	// sensor dynamics; from memory for a page)
	for _, c := range []struct{ rate, lag, t, want float64 }{
		{1, 2, 2, 1.264241118}, {1, 2, 6, 1.900425863}, {1, 2, 20, 1.9999092}, {0.5, 5, 15, 2.375532329}, {2, 10, 30, 19.00425863},
		{2, 10, 100, 19.999092}, {0.25, 30, 90, 7.126596987}, {0.25, 30, 300, 7.499659501}, {1, 0, 10, 0},
	} {
		if got := RampLag(c.rate, c.lag, c.t); math.Abs(got-c.want) > 1e-7 {
			t.Errorf("rate %g, lag %g, %g s: %.9f, want %.9f", c.rate, c.lag, c.t, got, c.want)
		}
	}
}

// lagged passes a finely sampled temperature through a first-order probe (exponential step, linear input) and keeps every
// keep-th sample.
func lagged(ts, ys []float64, lag float64, keep int) (t2, y2 []float64) {
	v := ys[0]
	for i := range ts {
		if i > 0 && lag > 0 {
			h := ts[i] - ts[i-1]
			rate := (ys[i] - ys[i-1]) / h
			// exact for a linear input: v - (input - rate*lag) decays
			x0 := ys[i-1] - rate*lag
			v = ys[i] - rate*lag + (v-x0)*math.Exp(-h/lag)
		} else {
			v = ys[i]
		}
		if i%keep == 0 {
			t2, y2 = append(t2, ts[i]), append(y2, v)
		}
	}
	return
}

// lagExample is the inner ring of two heated to off seconds and left alone, seen through a probe.
func lagExample(lag, off float64, dt int) (ts, ys []float64, truePeak, trueRate float64) {
	b := ringExample
	const fine = 0.1
	_, is, os := b.run(21, 21, fine, int(off/fine)+1, true)
	end := len(is) - 1
	_, ia, _ := b.run(is[end], os[end], fine, 3000, false)
	var t, y []float64
	for i := range end {
		t, y = append(t, fine*float64(i)), append(y, is[i])
	}
	for i := range ia {
		t, y = append(t, off+fine*float64(i)), append(y, ia[i])
	}
	rate, _ := b.slope(is[end], os[end], true)
	ts, ys = lagged(t, y, lag, 10*dt)
	return ts, ys, is[end], rate
}

// TestProbeLagLittleNoise: lag, rate and true peak of a record with hardly any noise, up to what the model leaves out (slow
// losses bend the trace a little).
func TestProbeLagLittleNoise(t *testing.T) {
	for _, lag := range []float64{3, 6, 9} {
		for _, u := range []float64{0, 2} {
			ts, clean, peak, rate := lagExample(lag, 300.4, 1)
			r := EstimateProbeLag(LagTrace{TimeS: ts, TempC: noisy(rand.New(rand.NewPCG(1, 52)), clean, 0.01, 0), SwitchOffS: 300.4 + 0.6*u, SwitchOffU: u, EqualisingS: ringExample.te()})
			if r.Status != Determined || math.Abs(r.LagS.Value/lag-1) > 0.03 || math.Abs(r.TruePeakC.Value-peak) > 0.03 || math.Abs(r.RateKPerS.Value/rate-1) > 0.005 || math.Abs(r.SwitchOffS-300.4) > 0.1 {
				t.Errorf("lag %g s, switch-off within %g s: %s; lag %.4f, peak %+.4f K, rate %+.2f %%, switch-off %+.3f s", lag, u, r.Why, r.LagS.Value, r.TruePeakC.Value-peak, 100*(r.RateKPerS.Value/rate-1), r.SwitchOffS-300.4)
			}
		}
	}
}

// TestProbeLagModel: a body that follows the estimator's own description exactly, seen through a probe by another road
// (stepwise integration), gives its lag back. Each term of the description has to respond rightly for it.
func TestProbeLagModel(t *testing.T) {
	const te, off, peak, rate = 50.0, 300.4, 120.0, 0.3
	for _, c := range []struct{ lag, bend, settle, fall, decay float64 }{
		{6, 0, 0, -0.05, -0.3}, {6, -2e-3, 0, -0.05, -0.3}, {8, 0, 2, -0.05, -0.3}, {4, -3e-3, 1, -0.2, 0.1},
	} {
		var ts, ys []float64
		for i := range 25000 {
			at := 0.02 * float64(i)
			s := at - off
			v := peak + rate*s + c.bend*s*s + c.settle*(math.Exp(-s/te)-1+s/te)
			if s >= 0 {
				v = peak + c.fall*s + c.decay*te*(1-math.Exp(-s/te))
			}
			ts, ys = append(ts, at), append(ys, v)
		}
		ts, ys = lagged(ts, ys, c.lag, 50)
		r := EstimateProbeLag(LagTrace{TimeS: ts, TempC: noisy(rand.New(rand.NewPCG(1, 55)), ys, 0.001, 0), SwitchOffS: off, EqualisingS: te})
		if r.Status != Determined || math.Abs(r.LagS.Value/c.lag-1) > 0.002 || math.Abs(r.TruePeakC.Value-peak) > 0.002 || math.Abs(r.RateKPerS.Value/rate-1) > 0.002 {
			t.Errorf("%+v: %s; lag %.4f, peak %+.4f K, rate %.5f", c, r.Why, r.LagS.Value, r.TruePeakC.Value-peak, r.RateKPerS.Value)
		}
	}
}

// TestProbeLagCoverage: the intervals of the probe's lag, the rate and the true peak, with the switch-off exactly known and
// known within two seconds, and with the lag given.
func TestProbeLagCoverage(t *testing.T) {
	for _, c := range []struct {
		lag, noise, step, offU, given float64
		ar                            float64
		least                         float64 // % determined
	}{{6, 0.1, 0.1, 0, 0, 0, 99}, {4, 0.2, 0.1, 0, 0, 0, 95}, {6, 0.1, 0.1, 2, 0, 0, 90}, {6, 0.1, 0.1, 0, 0, 0.6, 90}, {5, 0.2, 0.1, 0, 1, 0, 99}, {5, 0.2, 0.1, 2, 1, 0, 99}, {6, 0.1, 1, 0, 0, 0, 0}} {
		seeds := seedsFor(200)
		if c.offU > 0 {
			seeds = seedsFor(60) // a search within the search
		}
		ts, clean, peak, rate := lagExample(c.lag, 300.4, 1)
		var lag, top, slope, determined int
		raw := 0.0
		for seed := 1; seed <= seeds; seed++ {
			rng := rand.New(rand.NewPCG(uint64(seed), 51))
			in := LagTrace{TimeS: ts, TempC: noisyAR(rng, clean, c.noise, c.step, c.ar), SwitchOffS: 300.4 + c.offU*rng.NormFloat64(), SwitchOffU: c.offU,
				EqualisingS: ringExample.te(), StepK: c.step}
			if c.given > 0 {
				in.GivenS, in.GivenU = c.lag+c.given*rng.NormFloat64(), c.given
			}
			r := EstimateProbeLag(in)
			if r.Status != Determined {
				continue
			}
			determined++
			lag += covers(r.LagS.CI, c.lag)
			top += covers(r.TruePeakC.CI, peak)
			slope += covers(r.RateKPerS.CI, rate)
			high := 0.0
			for _, v := range in.TempC {
				high = math.Max(high, v)
			}
			raw += (high - peak) / float64(seeds)
		}
		t.Logf("lag %g s, noise %g K, step %g K, switch-off within %g s, lag given within %g s, lag 1 %g: determined %.1f %%; covers lag %.1f peak %.1f rate %.1f; raw peak %+.2f K", c.lag, c.noise, c.step, c.offU, c.given, c.ar,
			percent(determined, seeds), percent(lag, determined), percent(top, determined), percent(slope, determined), raw)
		if percent(determined, seeds) < c.least {
			t.Errorf("%+v: only %d of %d determined", c, determined, seeds)
		}
		if determined == 0 {
			continue
		}
		slack := 300 * math.Sqrt(0.06*0.94/float64(determined))
		for what, v := range map[string]int{"lag": lag, "true peak": top, "rate": slope} {
			if p := percent(v, determined); p < 94-slack {
				t.Errorf("%+v: %s covers %.1f %%", c, what, p)
			}
		}
	}
}

// TestProbeLagRefused: what is not a lag, or can't be told from something else, gives no number, although the corner
// of a slow part can always be described by some time constant.
func TestProbeLagRefused(t *testing.T) {
	te := ringExample.te()
	for _, c := range []struct {
		name  string
		lag   float64
		dt    int
		noise float64
		te    float64
	}{
		{"no lag", 0, 1, 0.2, te},
		{"sampled every 5 s", 4, 5, 0.05, te},
		{"as slow as the rings equalise", 30, 1, 0.1, te},
		{"lost in noise", 2, 1, 3, te},
	} {
		refused := 0
		ts, clean, _, _ := lagExample(c.lag, 300.4, c.dt)
		for seed := uint64(1); seed <= 30; seed++ {
			rng := rand.New(rand.NewPCG(seed, 53))
			r := EstimateProbeLag(LagTrace{TimeS: ts, TempC: noisy(rng, clean, c.noise, 0.1), SwitchOffS: 300.4, EqualisingS: c.te, StepK: 0.1})
			if r.Status == Determined {
				continue
			}
			refused++
			if r.LagS.Known || r.TruePeakC.Known || r.Why == "" || r.RaisedK != 0 {
				t.Fatalf("%s: %+v", c.name, r)
			}
		}
		t.Logf("%s: refused in %d of 30", c.name, refused)
		if refused < 28 {
			t.Errorf("%s: refused in only %d of 30", c.name, refused)
		}
	}
	// no record, and one that ends at switch-off
	if r := EstimateProbeLag(LagTrace{}); r.Status != Undetermined || r.Why == "" {
		t.Errorf("%+v", r)
	}
	ts, clean, _, _ := lagExample(6, 300.4, 1)
	if r := EstimateProbeLag(LagTrace{TimeS: ts[:305], TempC: clean[:305], SwitchOffS: 300.4, EqualisingS: te}); r.Status != Undetermined || r.Why != lagFew {
		t.Errorf("%+v", r)
	}
}

// TestPointDifferencesAreNoLag: the simple recipe, indication plus lag times the difference of neighbours, has many times
// the noise of the fitted ramp.
func TestPointDifferencesAreNoLag(t *testing.T) {
	ts, clean, peak, _ := lagExample(6, 300.4, 1)
	var fitted, points float64
	const seeds = 60
	for seed := uint64(1); seed <= seeds; seed++ {
		rng := rand.New(rand.NewPCG(seed, 54))
		y := noisy(rng, clean, 0.2, 0.1)
		r := EstimateProbeLag(LagTrace{TimeS: ts, TempC: y, SwitchOffS: 300.4, EqualisingS: ringExample.te(), GivenS: 6, GivenU: 0.01, StepK: 0.1})
		if r.Status != Determined || !(r.RaisedK > 0) {
			t.Fatalf("%+v", r)
		}
		fitted += (r.TruePeakC.Value - peak) * (r.TruePeakC.Value - peak) / seeds
		p := y[300] + 6*(y[300]-y[299])
		points += (p - peak) * (p - peak) / seeds
	}
	gain := math.Sqrt(points / fitted)
	t.Logf("rms error: fitted %.2f K, point differences %.2f K", math.Sqrt(fitted), math.Sqrt(points))
	if gain < 5 {
		t.Errorf("point differences are only %.1f times as noisy", gain)
	}
}
