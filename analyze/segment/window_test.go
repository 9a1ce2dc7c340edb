package segment

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestLoblolly checks the estimator of these tests, not the package's: R's dataset Loblolly, seed 329, with
// the self-starting model SSasymp gives lrc = -3.21757, so 1/k = exp(-lrc).
// source: R 4.2.2 datasets::Loblolly, stats::SSasymp, converged to 1e-15: 24.9675822214, standard error 3.46009937057.
func TestLoblolly(t *testing.T) {
	age := []float64{3, 5, 10, 15, 20, 25}
	height := []float64{3.93, 9.34, 26.08, 37.79, 48.31, 56.43}
	k, se := firstOrder(age, height)
	if math.Abs(1/k-24.9675822214) > 1e-5 || math.Abs(se/(k*k)-3.46009937057) > 1e-5 {
		t.Errorf("time constant %.7f, standard error %.7f", 1/k, se/(k*k))
	}
}

// TestWindowsKeepTheTruth: a body that is truly first-order, behind heater lag and probe lag and under any
// control, must give back its time constant from the window: the 95 % interval of plain least squares over
// the window covers it as often as it should. A late or an early sample would show here first.
func TestWindowsKeepTheTruth(t *testing.T) {
	var s Segmenter
	n, in := 0, 0
	var z float64
	for seed := range uint64(seedCount(200)) {
		r := rand.New(rand.NewPCG(seed, 3))
		between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
		heat := between(300, 1200)
		spans := between(0.7, 2.5) // length of the rise in time constants
		k := spans / heat
		p := plant{outShare: between(0.6, 1), hi: k, ho: k, heaterS: between(4, 12), probeS: between(2, 8), ambient: 20, start: 20,
			noise: between(0.1, 0.3), step: 0.1, dt: []float64{1, 2}[seed%2]}
		p.ratePK = 90 * k / (1 - math.Exp(-spans))
		var st []stage
		switch seed % 3 {
		case 0:
			st = []stage{{kind: "off", s: between(20, 60)}, {kind: "heat", s: heat}, {kind: "off", s: 600}}
		case 1:
			st = []stage{{kind: "off", s: between(20, 60)}, {kind: "to", s: 5 * heat, level: 108}, {kind: "prop", s: 200, level: 108}, {kind: "off", s: 400}}
		case 2:
			st = []stage{{kind: "off", s: between(20, 60)}, {kind: "to", s: 5 * heat, level: 108}, {kind: "onoff", s: 300, level: 108, band: 2}, {kind: "off", s: 400}}
		}
		log := p.log(r, p.run(r, st))
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 {
			t.Fatalf("seed %d: %d cycles", seed, len(res.Cycles))
		}
		for ch, w := range []Window{res.Cycles[0].RiseInner, res.Cycles[0].RiseOuter} {
			got, se := firstOrder(log.TimeS[w.First:w.End], log.Channels[ch].C[w.First:w.End])
			n++
			z += (got - k) / se
			if math.Abs(got-k) <= 1.96*se {
				in++
			}
		}
	}
	if raceEnabled || testing.Short() {
		if float64(in) < 0.85*float64(n) {
			t.Errorf("the interval covers the truth in %d of %d", in, n)
		}
		return
	}
	share, mean := float64(in)/float64(n), z/float64(n)
	t.Logf("%d of %d = %.3f, mean deviation %.3f standard errors", in, n, share, mean)
	// Three standard deviations of a binomial share about 0.95, and of a mean about 0.
	if d := 3 * math.Sqrt(0.95*0.05/float64(n)); share < 0.95-d || share > 0.95+d {
		t.Errorf("the interval covers the truth in %.3f of %d", share, n)
	}
	if math.Abs(mean) > 3/math.Sqrt(float64(n))+0.1 {
		t.Errorf("the rate constant is off by %.3f standard errors on the average", mean)
	}
}
