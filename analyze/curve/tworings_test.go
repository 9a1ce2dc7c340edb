package curve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// ringTruth are two rings in SI-like units, integrated by Runge-Kutta: no closed form, no code of the
// estimator.
type ringTruth struct {
	ci, co, g, hi, ho float64 // J/K, J/K, W/K, W/K, W/K
	pi, po            float64 // W
	ambient           float64
}

func (b ringTruth) slope(ti, to float64, on bool) (di, do float64) {
	pi, po := b.pi, b.po
	if !on {
		pi, po = 0, 0
	}
	return (pi - b.g*(ti-to) - b.hi*(ti-b.ambient)) / b.ci, (po + b.g*(ti-to) - b.ho*(to-b.ambient)) / b.co
}

// run gives noise-free temperatures of both rings at multiples of dt from start.
func (b ringTruth) run(ti, to, dt float64, n int, on bool) (ts, is, os []float64) {
	const sub = 20
	h := dt / sub
	for i := range n {
		ts, is, os = append(ts, dt*float64(i)), append(is, ti), append(os, to)
		for range sub {
			k1i, k1o := b.slope(ti, to, on)
			k2i, k2o := b.slope(ti+h/2*k1i, to+h/2*k1o, on)
			k3i, k3o := b.slope(ti+h/2*k2i, to+h/2*k2o, on)
			k4i, k4o := b.slope(ti+h*k3i, to+h*k3o, on)
			ti += h / 6 * (k1i + 2*k2i + 2*k3i + k4i)
			to += h / 6 * (k1o + 2*k2o + 2*k3o + k4o)
		}
	}
	return
}

func (b ringTruth) te() float64 { return b.ci * b.co / (b.g * (b.ci + b.co)) }

// a bearing of about 6 kg: inner ring 2 kg, outer 3 kg of steel with c = 480 J/(kg K), 1.5 kW mostly in the inner ring
var ringExample = ringTruth{ci: 960, co: 1440, g: 12, hi: 0.35, ho: 0.8, pi: 700, po: 60, ambient: 21}

func noisy(rng *rand.Rand, v []float64, noise, step float64) []float64 {
	return noisyAR(rng, v, noise, step, 0)
}

// noisyAR adds noise with correlation ar from sample to sample and rounds to the display step.
func noisyAR(rng *rand.Rand, v []float64, noise, step, ar float64) []float64 {
	out := make([]float64, len(v))
	z := rng.NormFloat64()
	for i, x := range v {
		z = ar*z + math.Sqrt(1-ar*ar)*rng.NormFloat64()
		out[i] = x + noise*z
		if step > 0 {
			out[i] = math.Round(out[i]/step) * step
		}
	}
	return out
}

func TestTwoRingsNoiseFree(t *testing.T) {
	b := ringExample
	ts, is, os := b.run(21.5, 20.5, 1, 400, true)
	ta, ia, oa := b.run(is[399], os[399], 1, 300, false)
	var e RingsEstimator
	for _, after := range []bool{false, true} {
		in := RingTraces{TimeS: ts, InnerC: is, OuterC: os, AmbientC: b.ambient}
		if after {
			in.AfterTimeS, in.AfterInnerC, in.AfterOuterC = ta, ia, oa
		}
		r := e.TwoRings(in)
		if r.Status != Determined {
			t.Fatal(r.Why)
		}
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"equalising time", r.EqualisingS.Value, b.te()},
			{"G/Ci", r.CouplingInnerPerS.Value, b.g / b.ci}, {"G/Co", r.CouplingOuterPerS.Value, b.g / b.co},
			{"hi/Ci", r.LossInnerPerS.Value, b.hi / b.ci}, {"ho/Co", r.LossOuterPerS.Value, b.ho / b.co},
			{"Pi/Ci", r.HeatInnerKPerS.Value, b.pi / b.ci}, {"Po/Co", r.HeatOuterKPerS.Value, b.po / b.co},
			{"difference per rate", r.DifferencePerRateS.Value, b.te() * (b.pi/b.ci - b.po/b.co) / ((b.pi + b.po) / (b.ci + b.co))},
		} {
			if math.Abs(c.got/c.want-1) > 1e-4 {
				t.Errorf("after %v: %s %.8g, want %.8g", after, c.what, c.got, c.want)
			}
		}
	}
}

// TestTwoRingsCoverage: every printed interval of the two-ring estimate, and the wait for 5 K, over
// heating records of 150 to 300 s with and without the cooling after them. An undetermined record prints
// no interval; nearly all of these are determined.
func TestTwoRingsCoverage(t *testing.T) {
	b := ringExample
	wantD := b.te() * (b.pi/b.ci - b.po/b.co) / ((b.pi + b.po) / (b.ci + b.co))
	var e RingsEstimator
	for _, c := range []struct {
		n     int
		dt    float64
		after bool
		noise float64
		stepK float64
		ar    float64
	}{
		{300, 1, false, 0.05, 0.1, 0}, {300, 1, false, 0.2, 0.1, 0}, {300, 1, true, 0.2, 0.1, 0}, {150, 1, true, 0.5, 0.1, 0},
		{60, 5, false, 0.1, 0.1, 0}, {300, 1, false, 0.1, 1, 0}, {300, 1, false, 0.2, 0.1, 0.6}, {300, 1, true, 0.2, 0.1, 0.8},
	} {
		ts, is, os := b.run(21.5, 20.5, c.dt, c.n, true)
		ta, ia, oa := b.run(is[c.n-1], os[c.n-1], 0.5, 1200, false)
		wait := 0.0 // the difference falls through 5 K between two points of the fine record
		for i := range ta {
			if math.Abs(ia[i]-oa[i]) > 5 {
				d0, d1 := ia[i]-oa[i], ia[i+1]-oa[i+1]
				wait = ta[i] + 0.5*(d0-5)/(d0-d1)
			}
		}
		var tc, ic, oc []float64
		for i := 0; i < 400; i += int(2 * c.dt) {
			tc, ic, oc = append(tc, ta[i]), append(ic, ia[i]), append(oc, oa[i])
		}
		names := []string{"equalising time", "G/Ci", "G/Co", "hi/Ci", "ho/Co", "Pi/Ci", "Po/Co", "difference at a rate", "wait"}
		hit := make([]int, len(names))
		determined, refused := 0, 0
		seeds := seedsFor(300)
		for seed := 1; seed <= seeds; seed++ {
			rng := rand.New(rand.NewPCG(uint64(seed), 31))
			in := RingTraces{TimeS: ts, InnerC: noisyAR(rng, is, c.noise, c.stepK, c.ar), OuterC: noisyAR(rng, os, c.noise, c.stepK, c.ar), AmbientC: b.ambient, StepK: c.stepK}
			if c.after {
				in.AfterTimeS, in.AfterInnerC, in.AfterOuterC = tc, noisyAR(rng, ic, c.noise, c.stepK, c.ar), noisyAR(rng, oc, c.noise, c.stepK, c.ar)
			}
			r := e.TwoRings(in)
			if r.Status != Determined {
				continue
			}
			determined++
			w := r.Wait(is[c.n-1], os[c.n-1], b.ambient, 5)
			if w.Status == Determined && !w.Reached {
				t.Fatalf("%+v seed %d: wait %+v", c, seed, w)
			}
			if w.Status != Determined {
				refused++
			}
			for i, v := range []struct {
				e    Estimate
				want float64
			}{
				{r.EqualisingS, b.te()}, {r.CouplingInnerPerS, b.g / b.ci}, {r.CouplingOuterPerS, b.g / b.co}, {r.LossInnerPerS, b.hi / b.ci},
				{r.LossOuterPerS, b.ho / b.co}, {r.HeatInnerKPerS, b.pi / b.ci}, {r.HeatOuterKPerS, b.po / b.co}, {r.DifferenceAt(0.3), 0.3 * wantD}, {w.AfterS, wait},
			} {
				hit[i] += covers(v.e.CI, v.want)
			}
		}
		if percent(determined, seeds) < 95 {
			t.Errorf("%+v: only %d of %d determined", c, determined, seeds)
		}
		if percent(refused, determined) > 5 {
			t.Errorf("%+v: %d of %d waits refused", c, refused, determined)
		}
		for i, name := range names {
			p := percent(hit[i], determined)
			t.Logf("%d samples each %g s, cooling %v, noise %g K, step %g K, lag 1 %g: %-20s covers %.1f %% of %d", c.n, c.dt, c.after, c.noise, c.stepK, c.ar, name, p, determined)
			low := 94 - 300*math.Sqrt(0.06*0.94/float64(determined))
			if p < low {
				t.Errorf("%+v: %s covers %.1f %%, want at least %.1f", c, name, p, low)
			}
		}
	}
}

// TestTwoRingsNotDetermined: records that do not tell how the rings exchange heat. The plain solution has
// numbers all the same, and wrong ones.
func TestTwoRingsNotDetermined(t *testing.T) {
	b := ringExample
	var e RingsEstimator
	naive := func() float64 { // equalising time from the plain solution's faster rate
		return 1 / math.Max(e.x.rate[0], e.x.rate[1])
	}
	for _, c := range []struct {
		name  string
		b     ringTruth
		n     int
		dt    float64
		noise float64
	}{
		{"heated for half an equalising time", b, 25, 1, 0.3},
		{"sampled slower than the rings equalise", b, 40, 200, 0.5},
		{"rings heated alike", ringTruth{ci: 960, co: 1440, g: 12, hi: 0.4, ho: 0.6, pi: 300, po: 450, ambient: 21}, 300, 1, 0.3},
	} {
		determined, wrong := 0, 0
		for seed := uint64(1); seed <= 40; seed++ {
			rng := rand.New(rand.NewPCG(seed, 33))
			ts, is, os := c.b.run(21, 21, c.dt, c.n, true)
			r := e.TwoRings(RingTraces{TimeS: ts, InnerC: noisy(rng, is, c.noise, 0.1), OuterC: noisy(rng, os, c.noise, 0.1), AmbientC: 21, StepK: 0.1})
			if r.Status == Determined {
				determined++
				continue
			}
			if r.EqualisingS.Known || r.EqualisingS.Value != 0 || r.DifferencePerRateS.Known || r.Why == "" {
				t.Fatalf("%s: %+v", c.name, r)
			}
			if w := r.Wait(100, 80, 21, 5); w.Reached || w.Status != Undetermined || w.Why == "" {
				t.Fatalf("%s: %+v", c.name, w)
			}
			if v := naive(); !(math.Abs(v/c.b.te()-1) < 0.3) {
				wrong++
			}
		}
		t.Logf("%s: %d of 40 determined, plain solution wrong by 30 %% or more in %d", c.name, determined, wrong)
		if determined > 2 || wrong < 12 {
			t.Errorf("%s: %d of 40 determined; plain solution wrong in %d", c.name, determined, wrong)
		}
	}
}

// TestWaitNotReached: with unequal losses a difference remains that no waiting takes away.
func TestWaitNotReached(t *testing.T) {
	b := ringExample
	b.ho, b.hi = 4, 0.1
	ts, is, os := b.run(21, 21, 1, 400, true)
	var e RingsEstimator
	rng := rand.New(rand.NewPCG(3, 33))
	r := e.TwoRings(RingTraces{TimeS: ts, InnerC: noisy(rng, is, 0.05, 0.1), OuterC: noisy(rng, os, 0.05, 0.1), AmbientC: 21, StepK: 0.1})
	ta, ia, oa := b.run(is[399], os[399], 1, 1200, false)
	atHorizon := int(10 * b.te())
	rest := ia[atHorizon] - oa[atHorizon]
	w := r.Wait(is[399], os[399], 21, 0.3*rest)
	if w.Status != Determined || w.Reached || math.Abs(w.RestK/rest-1) > 0.1 {
		t.Errorf("%+v; the true difference at %g s is %.2f K", w, ta[atHorizon], rest)
	}
	// right at the difference that remains nothing can be promised
	if w := r.Wait(is[399], os[399], 21, w.RestK); w.Status != Undetermined || w.Reached || w.Why == "" {
		t.Errorf("%+v", w)
	}
	if w := r.Wait(is[399], os[399], 21, 3*rest); w.Status != Determined || !w.Reached {
		t.Errorf("%+v", w)
	}
}

func BenchmarkTwoRings1200(b *testing.B) {
	tr := ringExample
	ts, is, os := tr.run(21.5, 20.5, 0.5, 1200, true)
	rng := rand.New(rand.NewPCG(1, 31))
	in := RingTraces{TimeS: ts, InnerC: noisy(rng, is, 0.2, 0.1), OuterC: noisy(rng, os, 0.2, 0.1), AmbientC: tr.ambient, StepK: 0.1}
	var e RingsEstimator
	b.ReportAllocs()
	for b.Loop() {
		if r := e.TwoRings(in); r.Status != Determined {
			b.Fatal(r.Why)
		}
	}
}
