package curve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func TestCoolingPublishedExample(t *testing.T) {
	// source: public worked example (single source): coffee at 90 °C in a room of 20 °C, k = 0.05 per minute;
	// after 10 minutes 62.457 °C (exact; published 62.455 with a rounded factor)
	var ts, ys []float64
	for i := range 100 {
		ts = append(ts, 5*float64(i))
		ys = append(ys, 20+70*math.Exp(-0.05*ts[i]/60))
	}
	var e Estimator
	c := e.Cooling(CoolingTrace{TimeS: ts, TempC: ys, AmbientC: 20, AmbientU: 0.1})
	v, lower, ok := c.At(600)
	if !ok || math.Abs(v-62.45714618) > 1e-3 || lower > v || lower < v-0.5 {
		t.Errorf("%s: %.6f, lower bound %.6f", c.Why, v, lower)
	}
	if math.Abs(c.TimeConstantS.Value-1200) > 0.1 {
		t.Errorf("time constant %g", c.TimeConstantS.Value)
	}
}

// TestCoolingCoverage: intervals of time constant and surroundings, lower prediction bound beyond the record, and the
// mounting window, with the surroundings off by their own uncertainty.
func TestCoolingCoverage(t *testing.T) {
	seeds := seedsFor(500)
	for _, c := range []struct {
		n           int
		dt          float64
		noise, step float64
		ar          float64
		u           float64
	}{{120, 5, 0.2, 0.1, 0, 3}, {600, 1, 0.2, 0.1, 0, 1}, {600, 1, 0.2, 0.1, 0.7, 3}, {60, 10, 0.5, 0.1, 0, 3}, {300, 2, 0.1, 1, 0, 2}, {300, 2, 0.1, 0.1, 0, 0}} {
		const k, top = 1. / 2400, 110.0
		var tau, room, below, reading, window, early, determined int
		var e Estimator
		for seed := 1; seed <= seeds; seed++ {
			rng := rand.New(rand.NewPCG(uint64(seed), 41))
			room0 := 20 + rng.Float64()
			given := room0 + c.u*rng.NormFloat64()
			ts, clean := make([]float64, c.n), make([]float64, c.n)
			truth := func(t float64) float64 { return room0 + (top-room0)*math.Exp(-k*(t-500)) }
			for i := range ts {
				ts[i] = 500 + c.dt*float64(i)
				clean[i] = truth(ts[i])
			}
			r := e.Cooling(CoolingTrace{TimeS: ts, TempC: noisyAR(rng, clean, c.noise, c.step, c.ar), SwitchOffS: 500, AmbientC: given, AmbientU: c.u, StepK: c.step})
			if r.Status != Determined {
				continue
			}
			determined++
			tau += covers(r.TimeConstantS.CI, 1/k)
			room += covers(r.AmbientC.CI, room0)
			at := ts[c.n-1] + 900
			if _, lower, ok := r.At(at); ok && lower <= truth(at) {
				below++
			}
			if _, lower, ok := r.At(at); ok && lower <= truth(at)+c.noise*rng.NormFloat64() {
				reading++
			}
			const need = 75.0
			true75 := 500 + math.Log((top-room0)/(need-room0))/k
			w := r.Window(need, 500)
			if w.UntilS <= true75 {
				window++
			}
			if w.UntilS < true75-200 {
				early++
			}
		}
		name := fmt.Sprintf("%d samples each %g s, noise %g K, step %g K, lag 1 %g, surroundings within %g K", c.n, c.dt, c.noise, c.step, c.ar, c.u)
		t.Logf("%s: determined %.1f %%, covers: time constant %.1f surroundings %.1f; lower bound holds %.1f, window holds %.1f; over 200 s early %.1f", name, percent(determined, seeds),
			percent(tau, determined), percent(room, determined), percent(below, determined), percent(window, determined), percent(early, determined))
		if percent(determined, seeds) < 90 {
			t.Errorf("%s: only %d of %d determined", name, determined, seeds)
		}
		slack := 300 * math.Sqrt(0.06*0.94/float64(determined))
		for what, v := range map[string]int{"time constant": tau, "surroundings": room, "lower bound": below, "lower bound for a reading": reading, "window": window} {
			if p := percent(v, determined); p < 94-slack {
				t.Errorf("%s: %s holds in %.1f %%", name, what, p)
			}
		}
		if percent(early, determined) > 60 {
			t.Errorf("%s: the window is so cautious that it serves nobody", name)
		}
	}
}

// TestCoolingOfTwoRings: right after switch-off the bore loses heat to the outer ring as well. All samples taken, Newton's law
// fails or is refused; after three equalising times it holds.
func TestCoolingOfTwoRings(t *testing.T) {
	b := ringExample
	_, is, os := b.run(21, 21, 1, 300, true)
	ts, ia, _ := b.run(is[299], os[299], 2, 1500, false)
	var e Estimator
	held, early, refused := 0, 0, 0
	const seeds = 100
	for seed := uint64(1); seed <= seeds; seed++ {
		rng := rand.New(rand.NewPCG(seed, 43))
		read := noisy(rng, ia, 0.1, 0.1)
		in := CoolingTrace{TimeS: ts[:400], TempC: read[:400], AmbientC: b.ambient, AmbientU: 1, StepK: 0.1}
		in.EqualisingS = b.te()
		r := e.Cooling(in)
		if _, lower, ok := r.At(2000); ok && lower <= ia[1000] && lower > ia[1000]-5 {
			held++
		}
		in.EqualisingS = 0
		in.TimeS, in.TempC = ts[:60], read[:60]
		r = e.Cooling(in)
		if v, _, ok := r.At(2000); !ok {
			refused++
		} else if v < ia[1000]-5 {
			early++
		}
	}
	t.Logf("after three equalising times the bound holds in %d of %d; from switch-off: %d refused, %d more than 5 K low", held, seeds, refused, early)
	if held < 90 {
		t.Errorf("the bound holds in only %d of %d", held, seeds)
	}
	if refused < 60 || refused+early < 90 {
		t.Errorf("from switch-off on: %d refused, %d low", refused, early)
	}
}

// TestCoolingNotKnown: no number without evidence.
func TestCoolingNotKnown(t *testing.T) {
	var e Estimator
	falls := func(n int, span, noise float64, f func(float64) float64) CoolingTrace {
		ts, ys := rise(n, span, noise, 7, f)
		return CoolingTrace{TimeS: ts, TempC: ys, AmbientC: 20, AmbientU: 3, StepK: 0.1}
	}
	late := falls(100, 100, 0.1, func(t float64) float64 { return 100 })
	late.SwitchOffS, late.EqualisingS = 0, 60
	for _, c := range []struct {
		name string
		in   CoolingTrace
	}{
		{"none", CoolingTrace{}},
		{"ends within three equalising times", late},
		{"ten seconds", falls(11, 10, 0.2, func(t float64) float64 { return 20 + 90*math.Exp(-t/2400) })},
		{"half a minute in noise", falls(30, 30, 1.5, func(t float64) float64 { return 20 + 90*math.Exp(-t/2400) })},
		{"level", falls(300, 300, 0.2, func(t float64) float64 { return 110 })},
		{"rising", falls(300, 300, 0.2, func(t float64) float64 { return 100 + 0.03*t })},
		{"below the surroundings and warming", falls(300, 3000, 0.1, func(t float64) float64 { return 20 - 15*math.Exp(-t/900) })},
	} {
		r := e.Cooling(c.in)
		w := r.Window(60, 0)
		if _, _, ok := r.At(1000); ok || r.Status == Determined || r.Why == "" || w.Status != Undetermined || w.UntilS != 0 || w.Why == "" {
			t.Errorf("%s: %s %q, window %+v", c.name, r.Status, r.Why, w)
		}
	}
}

// TestWindowClosed: a bore that is already too cool has no window.
func TestWindowClosed(t *testing.T) {
	ts, ys := rise(300, 600, 0.1, 8, func(t float64) float64 { return 20 + 60*math.Exp(-t/2400) })
	var e Estimator
	c := e.Cooling(CoolingTrace{TimeS: ts, TempC: ys, AmbientC: 20, AmbientU: 1, StepK: 0.1})
	if w := c.Window(90, 0); w.Open || w.UntilS != 0 || w.Status != Determined {
		t.Errorf("%+v", w)
	}
	if w := c.Window(60, 0); !w.Open || w.UntilS < 800 || w.UntilS > 2400*math.Log(60./40) || w.CentreS < w.UntilS {
		t.Errorf("%+v", w)
	}
}
