package analyze_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ringheat/analyze"
	"ringheat/analyze/curve"
	"ringheat/analyze/judge"
)

// coupledRings is the log of two coupled rings warmed for 480 s from 60 s on and left hanging, by the equations that
// DEVELOPERS.md names, seen by lagging probes through a display of 0.1 K, a row a second.
type coupledRings struct {
	coupleInner, coupleOuter, lossInner, lossOuter, heatInner, heatOuter, lagS float64
	seed                                                                       uint64
}

func (c coupledRings) equalisingS() float64 { return 1 / (c.coupleInner + c.coupleOuter) }

func (c coupledRings) log() (text string, metalPeakC float64) {
	rng := rand.New(rand.NewPCG(c.seed, 1))
	const ambient, dt = 20.0, 0.05
	in, out, pin, pout := ambient, ambient, ambient, ambient
	var b strings.Builder
	b.WriteString("time_s,inner °C,outer °C\n")
	for step := 0; step < 1500*20; step++ {
		s := float64(step) * dt
		if step%20 == 0 {
			fmt.Fprintf(&b, "%.0f,%.1f,%.1f\n", s, pin+0.05*rng.NormFloat64(), pout+0.05*rng.NormFloat64())
		}
		on := 0.0
		if s >= 60 && s < 540 {
			on = 1
		}
		di := on*c.heatInner - c.coupleInner*(in-out) - c.lossInner*(in-ambient)
		do := on*c.heatOuter + c.coupleOuter*(in-out) - c.lossOuter*(out-ambient)
		in, out = in+dt*di, out+dt*do
		metalPeakC = math.Max(metalPeakC, in)
		pin, pout = pin+(in-pin)*dt/c.lagS, pout+(out-pout)*dt/c.lagS
	}
	return b.String(), metalPeakC
}

func TestDeepFindsWhatTheRingsWereMadeFrom(t *testing.T) {
	rings := coupledRings{coupleInner: 0.006, coupleOuter: 0.004, lossInner: 0.0004, lossOuter: 0.0005, heatInner: 0.26, heatOuter: 0.09, lagS: 8}
	need, tolerance := 60.0, 1.0
	const seeds = 20
	covered, lagged, raised := 0, 0, 0
	for seed := range uint64(seeds) {
		rings.seed = seed
		text, metalPeak := rings.log()
		var a analyze.Analyzer
		s := analyze.Settings{Judge: judge.Settings{NeedTempC: &need, ProbeToleranceK: &tolerance}, Deep: analyze.DeepSettings{Rings: true, WithinK: 5}}
		r := a.Log("log.csv", strings.NewReader(text), s)
		if r.Err != nil || len(r.Cycles) != 1 {
			t.Fatalf("%v, %d cycles", r.Err, len(r.Cycles))
		}
		d := r.Cycles[0].Deep
		if d == nil || d.Rings == nil || d.Wait == nil || d.LagInner == nil || d.Cooling == nil || d.Window == nil {
			t.Fatalf("not run: %+v", d)
		}
		if e := d.Rings.EqualisingS; e.Known && e.CI.Low <= rings.equalisingS() && rings.equalisingS() <= e.CI.High {
			covered++
		}
		if l := d.LagInner.LagS; l.Known && math.Abs(l.Value-rings.lagS) < 4 {
			lagged++
		}
		if p := r.Cycles[0].Judgement.Finding(judge.MaxTemp); p.Value != nil && *p.Value > metalPeak-0.3 {
			raised++
		}
		// The two rings themselves, solved by the equations: within 5 K of each other some 130 s after switch-off.
		if d.Wait.Status != curve.Determined || !d.Wait.Reached || d.Wait.AfterS.Value < 60 || d.Wait.AfterS.Value > 300 {
			t.Errorf("seed %d: wait %+v", seed, *d.Wait)
		}
		if !d.Window.Open || d.Window.UntilS < 800 {
			t.Errorf("seed %d: window %+v", seed, *d.Window)
		}
		// Nothing of it runs where it was not asked for.
		s.Deep = analyze.DeepSettings{}
		if plain := a.Log("log.csv", strings.NewReader(text), s); plain.Cycles[0].Deep != nil {
			t.Error("deep estimates ran without being asked for")
		}
	}
	if covered < 16 {
		t.Errorf("the equalising time's interval covers the truth in %d of %d", covered, seeds)
	}
	if lagged < 16 || raised < 16 {
		t.Errorf("lag near the truth in %d, peak of the ring reached in %d of %d", lagged, raised, seeds)
	}
}

func TestDeepSettingsAreRefused(t *testing.T) {
	for _, v := range []float64{-1, math.NaN(), 1e9} {
		s := analyze.Settings{Deep: analyze.DeepSettings{ProbeLag: &v}}
		if err := s.Check(); err == nil || !strings.Contains(err.Error(), "--probe-lag-s") {
			t.Errorf("--probe-lag-s %v: %v", v, err)
		}
	}
}
