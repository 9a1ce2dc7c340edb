package curve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// simRise is a simulated rise whose truth is known. Its time constant is simTauS.
type simRise struct {
	spanTaus float64 // recorded span in time constants
	riseK    float64 // final less start temperature
	n        int
	noiseK   float64
	stepK    float64 // display step; 0 for none
	ar       float64 // correlation of the noise from one mean step to the next
	uneven   bool
	stream   uint64 // tells the cells' random numbers apart
}

const simTauS = 1200.0

// draw makes the samples of one seed and returns the start temperature, which varies with the seed so
// that the display step falls differently.
func (s simRise) draw(seed uint64, ts, ys []float64) (start float64) {
	rng := rand.New(rand.NewPCG(seed, s.stream))
	start = 20 + rng.Float64()
	dt := s.spanTaus * simTauS / float64(s.n-1)
	prev := rng.NormFloat64()
	rho, fresh := s.ar, math.Sqrt(1-s.ar*s.ar)
	for i := range s.n {
		t := dt * float64(i)
		if s.uneven {
			t += dt * 0.8 * rng.Float64()
			if i > 0 {
				rho = math.Pow(s.ar, (t-ts[i-1])/dt)
				fresh = math.Sqrt(1 - rho*rho)
			}
		}
		ts[i] = t
		prev = rho*prev + fresh*rng.NormFloat64()
		v := start - s.riseK*math.Expm1(-t/simTauS) + s.noiseK*prev
		if s.stepK > 0 {
			v = math.Round(v/s.stepK) * s.stepK
		}
		ys[i] = v
	}
	return start
}

// hits counts how often printed intervals cover the truth. An interval that is not printed can't be
// wrong and counts as covering; printed says how many were.
type hits struct {
	n, tau, rate, start, final int
	printed                    int
	status                     map[Status]int
}

func (h *hits) add(o hits) {
	h.n += o.n
	h.tau += o.tau
	h.rate += o.rate
	h.start += o.start
	h.final += o.final
	h.printed += o.printed
	if h.status == nil {
		h.status = map[Status]int{}
	}
	for k, v := range o.status {
		h.status[k] += v
	}
}

func covers(ci Interval, v float64) int {
	if (!ci.HasLow || ci.Low <= v) && (!ci.HasHigh || v <= ci.High) {
		return 1
	}
	return 0
}

// run estimates the seeds 1..seeds. Every rise counts, whatever its status.
func (s simRise) run(seeds int) hits {
	h := hits{status: map[Status]int{}}
	ts, ys := make([]float64, s.n), make([]float64, s.n)
	var e Estimator
	for seed := 1; seed <= seeds; seed++ {
		start := s.draw(uint64(seed), ts, ys)
		decayed := math.Exp(-ts[0] / simTauS) // the curve starts at the first sample
		r := e.FirstOrder(ts, ys, Options{StepK: s.stepK})
		h.n++
		h.tau += covers(r.TimeConstantS.CI, simTauS)
		h.rate += covers(r.RateKPerS.CI, s.riseK/simTauS*decayed)
		h.start += covers(r.StartC.CI, start+s.riseK*(1-decayed))
		h.final += covers(r.FinalC.CI, start+s.riseK)
		h.status[r.Status]++
		if r.RateKPerS.CI.HasLow {
			h.printed++
		}
	}
	return h
}

func percent(k, n int) float64 { return 100 * float64(k) / float64(n) }

// each calls f for the four printed intervals.
func (h hits) each(f func(what string, covered int)) {
	f("time constant", h.tau)
	f("initial rate", h.rate)
	f("start temperature", h.start)
	f("final temperature", h.final)
}

func (h hits) log(t *testing.T, name string) {
	t.Helper()
	t.Logf("%-34s covers %%: time constant %.1f rate %.1f start %.1f final %.1f; printed %.1f, determined %.1f, not first-order %.2f (n=%d)", name,
		percent(h.tau, h.n), percent(h.rate, h.n), percent(h.start, h.n), percent(h.final, h.n),
		percent(h.printed, h.n), percent(h.status[Determined], h.n), percent(h.status[NotFirstOrder], h.n), h.n)
}

// seedsFor gives the number of seeds: all of them, a tenth in short runs, a thirtieth under the race detector.
func seedsFor(full int) int {
	switch {
	case raceEnabled:
		return max(2, full/30)
	case testing.Short():
		return max(2, full/10)
	}
	return full
}

// shortRun is 1 when seeds are few and limits must allow for chance, else 0.
func shortRun() float64 {
	if raceEnabled || testing.Short() {
		return 1
	}
	return 0
}
