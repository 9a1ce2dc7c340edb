package curve

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestDeadTimePublished: the delayed start of R's CO2 data, plant Qn1 (SSasympOff): A (1 - exp(-(x - x0)/tau)).
func TestDeadTimePublished(t *testing.T) {
	x, y := readColumns(t, "co2_qn1.csv")
	var e Estimator
	r := e.DeadTime(x, y, 0, 0, 0, Options{})
	if !r.ClassicalOK {
		t.Fatal(r.Why)
	}
	c := r.Curve.Classical
	for _, w := range []struct {
		what      string
		got, want float64
		tol       float64
		source    string
	}{
		{"x0", r.ClassicalS, 51.2232765016, 1e-9, "same model and data, converged in extended precision; agrees with R 4.2.2 nlsLM to 8 digits"},
		{"x0 se", r.ClassicalSE, 11.6698311271, 1e-9, "the same"},
		{"A", c.FinalC, 38.1397800138, 1e-9, "the same"},
		{"A se", c.FinalSE, 0.916388807534, 1e-9, "the same"},
		{"tau", c.TimeConstantS, 79.8896442857, 1e-9, "the same"},
		{"tau se", c.TimeConstantSE, 16.3098668356, 1e-9, "the same"},
		{"residual sd", c.ResidualSD, 1.6626406071, 1e-9, "the same"},
		{"x0", r.ClassicalS, 51.2232384673, 1e-6, "R 4.2.2 nls SSasympOff, default stopping rule"},
		{"A", c.FinalC, 38.1397820059, 1e-6, "R 4.2.2 nls SSasympOff, default stopping rule"},
		{"lrc", -math.Log(c.TimeConstantS), -4.38064701069, 1e-6, "R 4.2.2 nls SSasympOff, default stopping rule"},
	} {
		if d := math.Abs(w.got/w.want - 1); !(d < w.tol) {
			t.Errorf("%s = %.12g, want %.12g, off by %.2g (source: %s)", w.what, w.got, w.want, d, w.source)
		}
	}
	if r.Status != Undetermined || r.DeadTimeS.Known || !strings.Contains(r.Why, "too few") {
		t.Errorf("seven values: %s, %s", r.Status, r.Why)
	}
}

// TestDeadTimeCoverage: the interval of the dead time, with the start temperature known within its uncertainty.
func TestDeadTimeCoverage(t *testing.T) {
	seeds := seedsFor(250)
	var e Estimator
	for _, c := range []struct {
		n     int
		span  float64 // time constants
		noise float64
		ar    float64
		u     float64
	}{{60, 0.5, 0.2, 0, 0.05}, {300, 1, 0.5, 0, 0.2}, {300, 2.5, 0.2, 0.6, 0}, {1200, 0.5, 0.5, 0.8, 0.1}, {60, 1, 2, 0, 0.3}} {
		const dead = 25.0
		covered, printed := 0, 0
		for seed := 1; seed <= seeds; seed++ {
			s := simRise{spanTaus: c.span, riseK: 100, n: c.n, noiseK: c.noise, stepK: 0.1, ar: c.ar, stream: 70}
			ts, ys := make([]float64, c.n), make([]float64, c.n)
			start := s.draw(uint64(seed), ts, ys)
			for i := range ts {
				ts[i] += 1000 + dead
			}
			known := start + c.u*rand.New(rand.NewPCG(uint64(seed), 71)).NormFloat64()
			r := e.DeadTime(ts, ys, known, c.u, 1000, Options{StepK: 0.1})
			if r.Status != Determined {
				continue
			}
			printed++
			covered += covers(r.DeadTimeS.CI, dead)
		}
		p := percent(covered, printed)
		t.Logf("%+v: covers %.1f %% of %d", c, p, printed)
		if p < 94-300*math.Sqrt(0.06*0.94/float64(printed)) || percent(printed, seeds) < 80 {
			t.Errorf("%+v: covers %.1f %% of %d printed", c, p, printed)
		}
	}
}

// TestNoDeadTime: without one, the interval includes 0 and the words say so.
func TestNoDeadTime(t *testing.T) {
	var e Estimator
	wrong := 0
	for seed := uint64(1); seed <= 200; seed++ {
		ts, ys := rise(300, 600, 0.3, seed, func(t float64) float64 { return 20 + 100*(1-math.Exp(-t/900)) })
		r := e.DeadTime(ts, ys, 20, 0.02, 0, Options{StepK: 0.01})
		if r.Status != Determined || !strings.Contains(r.Why, "no dead time shows") {
			wrong++
		}
	}
	if wrong > 13 { // 2.5 % of 200, three standard errors
		t.Errorf("%d of 200 show a dead time that is none", wrong)
	}
	r := e.DeadTime(nil, nil, 20, 0, 0, Options{})
	if r.Status != Undetermined || r.DeadTimeS.Known || r.ClassicalOK {
		t.Errorf("%+v", r)
	}
}
