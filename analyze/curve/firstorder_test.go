package curve

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func TestStudentQuantile(t *testing.T) {
	// source: gonum v0.17.0 stat/distuv StudentsT.Quantile
	for nu := 7.0; nu < 1e5; nu *= 1.13 {
		want := distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile(0.975)
		if got := studentQuantile975(nu); math.Abs(got-want) > 1e-4 {
			t.Errorf("nu %g: %.6f, want %.6f", nu, got, want)
		}
	}
}

// TestBODIsUndetermined: six scattered values do not determine a time constant by our gate; that the
// classical numbers still agree with the published ones is TestPublishedEstimates.
func TestBODIsUndetermined(t *testing.T) {
	x, y := readColumns(t, "bod.csv")
	var e Estimator
	r := e.FirstOrder(x, y, Options{FixedStart: ptr(0), RefS: ptr(0)})
	if r.Status != Undetermined || r.TimeConstantS.Known || r.FinalC.Known || r.TimeConstantS.CI.HasHigh {
		t.Errorf("status %s, time constant %+v", r.Status, r.TimeConstantS)
	}
	if !strings.Contains(r.Why, "too few independent samples") {
		t.Errorf("why: %q", r.Why)
	}
}

// TestPercentAtTimeConstants: the share of the rise after 1 to 5 time constants.
func TestPercentAtTimeConstants(t *testing.T) {
	// source: exact, 100 (1 - exp(-n)); the 63.2, 86.5, 95.0, 98.2, 99.3 % of every textbook on step responses
	want := []float64{63.21205588, 86.46647168, 95.02129316, 98.16843611, 99.3262053}
	var ts, ys []float64
	for i := range 501 {
		at := float64(i) / 100 * 600
		ts, ys = append(ts, at), append(ys, 20+100*(1-math.Exp(-at/600)))
	}
	var e Estimator
	r := e.FirstOrder(ts, ys, Options{})
	if r.Status != Determined {
		t.Fatal(r.Status, r.Why)
	}
	for i, w := range want {
		phi, _ := basis(r.DecayPerS.Value, float64(i+1)*r.TimeConstantS.Value)
		got := 100 * r.RateKPerS.Value * phi / (r.FinalC.Value - r.StartC.Value)
		if math.Abs(got-w) > 1e-7 {
			t.Errorf("%d time constants: %.8f %%, want %.8f", i+1, got, w)
		}
	}
	if math.Abs(r.TimeConstantS.Value-600) > 1e-6 || math.Abs(r.FinalC.Value-120) > 1e-6 || math.Abs(r.StartC.Value-20) > 1e-7 {
		t.Errorf("%+v", r)
	}
}

// TestPublishedTextbookCases are worked answers of first-order problems.
func TestPublishedTextbookCases(t *testing.T) {
	cases := []struct {
		name, source             string
		start, final, timeOne    float64 // temperature at time 0, in the end, and the time of the known reading
		atOne                    float64
		wantTau, tolerance       float64
		atTwo, wantTwo, toleranT float64
	}{
		{"cooling of a pie", "public worked answer (single source), recomputed: T0 375, surroundings 72, 215 °F after 15 min, k 0.05006 per min, 120 °F after 36.8 min",
			375, 72, 15, 215, 1 / 0.05005921168, 1e-6, 36.80704775, 120, 1e-4},
		{"cooling of a pizza", "public worked answer (single source), recomputed: T0 425, surroundings 75, 300 °F after 5 min, k 0.08837 per min",
			425, 75, 5, 300, 1 / 0.08836655046, 1e-6, 19.95764894, 135, 1e-4},
		{"temperature sensor step", "measurement textbook, worked example 8.4 (single source, recomputed): 70 to 300 °C reads 200 °C at 3 s, time constant 3.6 s",
			70, 300, 3, 200, 3.601833522, 1e-6, 5, 242.6084295, 1e-4},
	}
	var e Estimator
	for _, c := range cases {
		// the curve of the problem, sampled; the estimate must find the published constant
		k := -math.Log((c.atOne-c.final)/(c.start-c.final)) / c.timeOne
		var ts, ys []float64
		for i := range 200 {
			at := 4 / k * float64(i) / 199
			ts, ys = append(ts, at), append(ys, c.final+(c.start-c.final)*math.Exp(-k*at))
		}
		r := e.FirstOrder(ts, ys, Options{})
		if r.Status != Determined || math.Abs(r.TimeConstantS.Value/c.wantTau-1) > c.tolerance {
			t.Errorf("%s: %s, time constant %.9g, want %.9g (source: %s)", c.name, r.Status, r.TimeConstantS.Value, c.wantTau, c.source)
		}
		phi, _ := basis(r.DecayPerS.Value, c.atTwo)
		if got := r.StartC.Value + r.RateKPerS.Value*phi; math.Abs(got-c.wantTwo) > c.toleranT {
			t.Errorf("%s: at %g: %.6f, want %g (source: %s)", c.name, c.atTwo, got, c.wantTwo, c.source)
		}
	}
}

// rise gives n samples over spanS of f, with noise.
func rise(n int, spanS, noiseK float64, seed uint64, f func(t float64) float64) (ts, ys []float64) {
	rng := rand.New(rand.NewPCG(seed, 3))
	for i := range n {
		at := spanS * float64(i) / float64(n-1)
		ts, ys = append(ts, at), append(ys, f(at)+noiseK*rng.NormFloat64())
	}
	return ts, ys
}

// TestStatus: what a naive fit would have called a time constant, and what is said instead.
func TestStatus(t *testing.T) {
	cases := []struct {
		name   string
		n      int
		spanS  float64
		noiseK float64
		f      func(t float64) float64
		status Status
		why    string
	}{
		{"a good rise", 600, 1200, 0.1, func(t float64) float64 { return 20 + 100*(1-math.Exp(-t/900)) }, Determined, "bends enough"},
		{"twenty time constants long", 600, 600, 0.1, func(t float64) float64 { return 20 + 100*(1-math.Exp(-t/30)) }, Determined, "bends enough"},
		{"nearly straight", 120, 120, 0.3, func(t float64) float64 { return 20 + 400*(1-math.Exp(-t/3600)) }, Undetermined, "too short or too straight"},
		{"speeds up", 600, 600, 0.1, func(t float64) float64 { return 20 + 30*(math.Exp(t/600)-1) }, NotFirstOrder, "speeds up"},
		{"power doubled half way", 600, 600, 0.1, func(t float64) float64 {
			return 20 + 0.1*t + 0.1*math.Max(0, t-300)
		}, NotFirstOrder, "power or the losses changed"},
		{"power halved half way", 600, 600, 0.1, func(t float64) float64 {
			return 20 + 0.2*t - 0.1*math.Max(0, t-300)
		}, NotFirstOrder, "power or the losses changed"},
		{"slow start of a lagging probe", 600, 600, 0.1, func(t float64) float64 {
			return 20 + 0.2*(t-40*(1-math.Exp(-t/40))) - 0.00012*t*t
		}, NotFirstOrder, "start does not belong"},
		{"no rise", 600, 600, 0.3, func(t float64) float64 { return 21 }, NoRise, "no rise"},
		{"constant readings", 600, 600, 0, func(t float64) float64 { return 21 }, NoRise, "no rise"},
		{"three samples", 3, 600, 0, func(t float64) float64 { return 20 + t }, NoRise, "too few samples"},
		{"jump", 600, 600, 0.05, func(t float64) float64 { return 20 + 100*(1-math.Exp(-t/0.3)) }, Undetermined, "first few samples"},
	}
	var e Estimator
	for _, c := range cases {
		ts, ys := rise(c.n, c.spanS, c.noiseK, 1, c.f)
		r := e.FirstOrder(ts, ys, Options{StepK: 0.01})
		if r.Status != c.status || !strings.Contains(r.Why, c.why) {
			t.Errorf("%s: %s (%s), want %s (.. %s ..); misfit %.3g K p %.2g", c.name, r.Status, r.Why, c.status, c.why, r.MisfitK, r.MisfitP)
		}
		if c.name == "twenty time constants long" && math.Abs(r.TimeConstantS.Value/30-1) > 0.01 {
			t.Errorf("%s: time constant %g", c.name, r.TimeConstantS.Value)
		}
		if known := r.Status == Determined; r.TimeConstantS.Known != known || r.FinalC.Known != known || (!known && r.TimeConstantS.Value != 0) {
			t.Errorf("%s: time constant %+v", c.name, r.TimeConstantS)
		}
	}
}

// TestUndeterminedRiseGivesNoAbsurdTimeConstant: the least-squares solution of a nearly straight rise often
// has a time constant of years or a negative one. It is not printed; the initial rate is.
func TestUndeterminedRiseGivesNoAbsurdTimeConstant(t *testing.T) {
	var e Estimator
	absurd, odd := 0, 0
	for seed := uint64(1); seed <= 50; seed++ {
		ts, ys := rise(120, 120, 0.3, seed, func(t float64) float64 { return 20 + 400*(1-math.Exp(-t/36000)) })
		r := e.FirstOrder(ts, ys, Options{StepK: 0.1})
		if c := r.Classical; !c.OK || c.DecayPerS < 0 || c.TimeConstantS > 1e4 {
			absurd++
		}
		if r.Status == Determined || r.Status == NotFirstOrder {
			odd++
			continue
		}
		if r.TimeConstantS.Known || r.TimeConstantS.Value != 0 || r.TimeConstantS.CI.HasHigh != (r.DecayPerS.CI.Low > 0) {
			t.Fatalf("seed %d: %+v", seed, r.TimeConstantS)
		}
		// the straight line is inside the interval of k, so the final temperature has no upper end
		if r.FinalC.CI.HasHigh != (r.DecayPerS.CI.Low > 0) || !r.FinalC.CI.HasLow || r.FinalC.CI.Low < 21 {
			t.Fatalf("seed %d: final %+v", seed, r.FinalC)
		}
		if want := 400. / 36000; math.Abs(r.RateKPerS.Value-want) > 5*r.RateKPerS.StdErr || !r.RateKPerS.Known {
			t.Fatalf("seed %d: rate %+v", seed, r.RateKPerS)
		}
	}
	if odd > 5 {
		t.Errorf("%d of 50 nearly straight rises were not called undetermined", odd)
	}
	if absurd < 10 {
		t.Errorf("only %d of 50 plain fits were absurd: the case is too easy", absurd)
	}
}

// TestMisfitNeedsSizeAndSignificance: a large departure hidden in noise and a significant but tiny one
// leave the curve first-order.
func TestMisfitNeedsSizeAndSignificance(t *testing.T) {
	wave := func(size float64) func(float64) float64 {
		return func(t float64) float64 { return 20 + 100*(1-math.Exp(-t/900)) + size*math.Sin(t/1200*3*math.Pi) }
	}
	var e Estimator
	for _, c := range []struct {
		name         string
		size, noiseK float64
		stepK        float64
		want         Status
	}{
		{"large and clear", 1.5, 0.1, 0.01, NotFirstOrder},
		{"tiny and clear", 0.15, 0.02, 0.01, Determined},
		{"within a coarse display step", 0.7, 0.1, 2, Determined},
		{"lost in noise", 0.8, 8, 0.01, Determined},
	} {
		ts, ys := rise(1200, 1200, c.noiseK, 2, wave(c.size))
		r := e.FirstOrder(ts, ys, Options{StepK: c.stepK})
		if r.Status != c.want {
			t.Errorf("%s: %s (%s), misfit %.3g K, p %.2g", c.name, r.Status, r.Why, r.MisfitK, r.MisfitP)
		}
	}
}

// TestUnitsAndClock: another clock zero, another time unit and another temperature scale change nothing
// that they should not.
func TestUnitsAndClock(t *testing.T) {
	ts, ys := rise(300, 900, 0.2, 4, func(t float64) float64 { return 20 + 100*(1-math.Exp(-t/900)) })
	var e Estimator
	a := e.FirstOrder(ts, ys, Options{})
	t2, y2 := make([]float64, len(ts)), make([]float64, len(ts))
	for i := range ts {
		t2[i], y2[i] = 5000+ts[i]/60, 32+1.8*ys[i]
	}
	b := e.FirstOrder(t2, y2, Options{})
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-7*math.Abs(want) {
			t.Errorf("%s: %.12g, want %.12g", what, got, want)
		}
	}
	near("time constant", b.TimeConstantS.Value, a.TimeConstantS.Value/60)
	near("time constant, high end", b.TimeConstantS.CI.High, a.TimeConstantS.CI.High/60)
	near("rate", b.RateKPerS.Value, a.RateKPerS.Value*60*1.8)
	near("rate, low end", b.RateKPerS.CI.Low, a.RateKPerS.CI.Low*60*1.8)
	near("start", b.StartC.Value, 32+1.8*a.StartC.Value)
	near("final, high end", b.FinalC.CI.High, 32+1.8*a.FinalC.CI.High)
	near("widening", b.Widening, a.Widening)
	if a.Status != b.Status {
		t.Error(a.Status, b.Status)
	}
}

// TestUnevenTreatmentOfEvenSamples: the code for uneven sampling, given even samples, gives the same.
func TestUnevenTreatmentOfEvenSamples(t *testing.T) {
	for _, ar := range []float64{0, 0.5, 0.9} {
		s := simRise{spanTaus: 1, riseK: 100, n: 600, noiseK: 0.3, ar: ar, stream: 3}
		ts, ys := make([]float64, s.n), make([]float64, s.n)
		s.draw(1, ts, ys)
		var e Estimator
		a := e.FirstOrder(ts, ys, Options{})
		ts[300] += 1e-4 * ts[1] // enough to count as uneven, too little to matter
		b := e.FirstOrder(ts, ys, Options{})
		for what, v := range map[string][2]float64{
			"k low": {a.DecayPerS.CI.Low, b.DecayPerS.CI.Low}, "rate high": {a.RateKPerS.CI.High, b.RateKPerS.CI.High},
			"widening": {a.Widening, b.Widening}, "residual sd": {a.ResidualSDK, b.ResidualSDK}, "lag 1": {a.Lag1, b.Lag1},
		} {
			if math.Abs(v[0]-v[1]) > 2e-3*math.Abs(v[0]) {
				t.Errorf("lag 1 %g: %s %.9g even, %.9g uneven", ar, what, v[0], v[1])
			}
		}
		if ar > 0 && !(a.Widening > 1.5) {
			t.Errorf("lag 1 %g: widening only %g", ar, a.Widening)
		}
	}
}

// TestBadSamples: nothing that a caller can pass makes a number that is none.
func TestBadSamples(t *testing.T) {
	good, ys := rise(100, 600, 0.1, 5, func(t float64) float64 { return 20 + 0.1*t })
	with := func(s []float64, i int, v float64) []float64 {
		c := append([]float64(nil), s...)
		c[i] = v
		return c
	}
	huge := append([]float64(nil), ys...)
	for i := range huge {
		huge[i] *= 1e308 / 100
	}
	cases := []struct {
		name   string
		ts, ys []float64
		why    string
	}{
		{"empty", nil, nil, "too few samples"},
		{"NaN reading", good, with(ys, 50, math.NaN()), "not a temperature"},
		{"infinite reading", good, with(ys, 99, math.Inf(1)), "not a temperature"},
		{"huge readings", good, huge, "not a temperature"},
		{"clock steps back", with(good, 50, good[40]), ys, "do not ascend"},
		{"NaN time", with(good, 50, math.NaN()), ys, "do not ascend"},
		{"infinite time", with(good, 99, math.Inf(1)), ys, "span no time"},
		{"all at one time", make([]float64, 100), ys, "span no time"},
	}
	var e Estimator
	for _, c := range cases {
		r := e.FirstOrder(c.ts, c.ys, Options{})
		if r.Status != NoRise || !strings.Contains(r.Why, c.why) || r.Classical.OK {
			t.Errorf("%s: %s, %q, want .. %s ..", c.name, r.Status, r.Why, c.why)
		}
	}
}

// TestNoFiniteInputGivesNaN: random rubbish of all sizes, with repeats, steps and gaps.
func TestNoFiniteInputGivesNaN(t *testing.T) {
	var e Estimator
	for seed := uint64(1); seed <= 2000; seed++ {
		rng := rand.New(rand.NewPCG(seed, 9))
		n := 1 + rng.IntN(150)
		ts, ys := make([]float64, n), make([]float64, n)
		at := 0.0
		for i := range n {
			if rng.IntN(4) > 0 {
				at += math.Exp(rng.NormFloat64() * float64(seed%5))
			}
			ts[i] = at
			switch seed % 7 {
			case 0:
				ys[i] = float64(rng.IntN(2))
			case 1:
				ys[i] = float64(i)
			case 2:
				ys[i] = math.Exp(20 * rng.NormFloat64())
			case 3:
				ys[i] = math.Exp(-at) + 1e-9*rng.NormFloat64()
			case 4:
				ys[i] = math.Round(at/50) * 50
			default:
				ys[i] = 20 + at + rng.NormFloat64()
			}
		}
		r := e.FirstOrder(ts, ys, Options{StepK: float64(rng.IntN(2))})
		c := r.Classical
		for _, v := range []float64{r.StartC.Value, r.StartC.StdErr, r.RateKPerS.Value, r.RateKPerS.CI.Low, r.RateKPerS.CI.High, r.DecayPerS.CI.Low,
			r.DecayPerS.CI.High, r.TimeConstantS.Value, r.TimeConstantS.CI.Low, r.TimeConstantS.CI.High, r.FinalC.Value, r.FinalC.CI.Low,
			r.FinalC.CI.High, r.StartC.CI.Low, r.StartC.CI.High, c.StartSE, c.RateSE, c.DecaySE, c.TimeConstantSE, c.FinalSE, r.ResidualSDK, r.Lag1,
			r.Widening, r.NEff, r.MisfitK, r.MisfitP} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("seed %d (n %d): %+v", seed, n, r)
			}
		}
	}
}

// TestEstimatorKeepsNothing: one estimator used for many traces gives what a fresh one gives.
func TestEstimatorKeepsNothing(t *testing.T) {
	var used Estimator
	for seed := uint64(1); seed <= 100; seed++ {
		rng := rand.New(rand.NewPCG(seed, 11))
		ts, ys := randomTrace(rng, 5+rng.IntN(400), rng.IntN(2) == 0)
		var fresh Estimator
		if a, b := used.FirstOrder(ts, ys, Options{}), fresh.FirstOrder(ts, ys, Options{}); a != b {
			t.Fatalf("seed %d: %+v\n%+v", seed, a, b)
		}
	}
}

func TestFirstOrderAllocatesNothing(t *testing.T) {
	for _, even := range []bool{true, false} {
		ts, ys := benchTrace(even)
		var e Estimator
		if n := testing.AllocsPerRun(20, func() { e.FirstOrder(ts, ys, Options{StepK: 0.1}) }); n > 0 {
			t.Errorf("even %v: %g allocations", even, n)
		}
	}
}
