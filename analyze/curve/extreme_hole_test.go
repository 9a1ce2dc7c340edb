package curve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestLargestStaysOutOfHoles: where nothing was read there is no value to find, whatever the curves on both
// sides of the hole would say: the part may have done anything in there.
func TestLargestStaysOutOfHoles(t *testing.T) {
	var e Estimator
	for _, c := range []struct {
		name     string
		from, to float64
		corners  []float64
	}{
		{"hole across the top", 600, 1200, []float64{60, 740}},
		{"corner put before the hole", 600, 1200, []float64{60, 596}},
		{"corner in the hole", 600, 1200, []float64{60, 900}},
		{"no corner known", 600, 1200, nil},
		{"hole while rising", 400, 700, []float64{60, 740}},
	} {
		rng := rand.New(rand.NewPCG(5, 5))
		var ts, ys []float64
		var cuts []int
		for at := 0.0; at <= 3000; at += 2 {
			if at > c.from && at < c.to {
				continue
			}
			v := 20 + 0.165*math.Max(0, math.Min(at, 740)-60) - 0.03*math.Max(0, at-740) + 0.05*rng.NormFloat64()
			if n := len(ts); n > 0 && at-ts[n-1] > 6 {
				cuts = append(cuts, n)
			}
			ts, ys = append(ts, at), append(ys, v)
		}
		x := e.Largest(ts, ys, ExtremeOptions{StepK: 0.1, CornersS: c.corners, Cuts: cuts})
		if x.AtS > c.from+2 && x.AtS < c.to-2 {
			t.Errorf("%s: found at %.1f s, in the hole", c.name, x.AtS)
		}
		if math.Abs(x.Value-x.Raw) > 0.5 {
			t.Errorf("%s: %.2f, the highest reading is %.2f", c.name, x.Value, x.Raw)
		}
		if x.StdErr > 0.1 || x.NoiseSD > 0.1 {
			t.Errorf("%s: standard error %.3f, noise %.3f K", c.name, x.StdErr, x.NoiseSD)
		}
	}
}

// TestHolesTellNoNoise: the bends over a hole are no noise, so a trace of few readings is as quiet with it.
func TestHolesTellNoNoise(t *testing.T) {
	var e Estimator
	var ts, ys []float64
	for i := range 20 {
		at := float64(i)
		if i >= 10 {
			at += 1000
		}
		ts, ys = append(ts, at), append(ys, 20+0.1*at)
	}
	if x := e.Largest(ts, ys, ExtremeOptions{Cuts: []int{10}}); x.NoiseSD > 1e-9 {
		t.Errorf("noise %g K of a straight line with a hole", x.NoiseSD)
	}
}
