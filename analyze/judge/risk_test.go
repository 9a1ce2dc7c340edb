package judge

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// TestUncertaintyCoversTheTruth: with probes that err as their tolerance says, a display that rounds and
// noisy readings, the true peak lies within U of the value in at least 95 % of logs (U = 2u; where the
// rectangular tolerance rules, nearly always), and a part that truly reached the limit passes in at most
// 2.3 % of them (JCGM 106:2012, guarded acceptance with w = U; see testdata/risk.csv).
func TestUncertaintyCoversTheTruth(t *testing.T) {
	seeds := 600
	if raceEnabled || testing.Short() {
		seeds = 60
	}
	for _, tc := range []struct {
		name      string
		tolerance float64
		noise     float64
		step      float64
		atLeast   float64
	}{
		{"probe rules", 2.5, 0.1, 0.1, 0.99},
		{"noise rules", 0.05, 1, 0.1, 0.93},
		{"display rules", 0.05, 0.02, 0.5, 0.95},
	} {
		covered, passed, peaks := 0, 0, 0
		for seed := range seeds {
			rng := rand.New(rand.NewPCG(uint64(seed), 99))
			b := defaultBench()
			b.every, b.offS, b.endS, b.noise, b.step, b.seed = 2, 600, 700, tc.noise, 0, uint64(seed)
			b.innerC, b.outerC = 120, 100
			b.spoil = func(l *series.Log, c *Case) {
				for k := range l.Channels {
					off := tc.tolerance * (2*rng.Float64() - 1)
					l.Channels[k].StepK = quantity.Kelvin(tc.step)
					for i, v := range l.Channels[k].C {
						l.Channels[k].C[i] = math.Round((v+off)/tc.step) * tc.step
					}
				}
			}
			j := Judge(b.build(), Settings{MaxTempC: num(120), MaxRingDiffK: num(35), ProbeToleranceK: num(tc.tolerance)})
			f := j.Finding(MaxTemp)
			peaks++
			if math.Abs(*f.Value-120) <= *f.Uncertainty+1e-9 {
				covered++
			}
			if f.Verdict == Pass {
				passed++
			}
		}
		share := float64(covered) / float64(peaks)
		t.Logf("%s: covered %.3f, passed %d of %d", tc.name, share, passed, peaks)
		slack := 3 * math.Sqrt(0.05/float64(seeds))
		if share < tc.atLeast-slack {
			t.Errorf("%s: the truth lies within U in %.3f of %d logs", tc.name, share, peaks)
		}
		if limit := 0.023 + slack; float64(passed)/float64(peaks) > limit {
			t.Errorf("%s: %d of %d parts at the limit pass", tc.name, passed, peaks)
		}
	}
}
