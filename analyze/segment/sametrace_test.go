package segment

import (
	"math"
	"slices"
	"testing"

	"ringheat/analyze/series"
)

// TestSameTrace: one probe logged twice is named; two probes 0.1 K apart are not, on any display.
func TestSameTrace(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(20)) {
		r, p := draw(seed)
		p.noise = []float64{0, 0.02, 0.1}[seed%3]
		step := []float64{0.1, 0.5, 1}[seed%3]
		p.step = 0 // the display rounds after the two probes have differed
		log := p.log(r, p.run(r, warmAndHold))
		twin := &series.Log{TimeS: log.TimeS, Clock: log.Clock, Channels: slices.Clone(log.Channels)}
		twin.Channels[1].C = slices.Clone(twin.Channels[1].C)
		for i, v := range log.Channels[0].C {
			log.Channels[0].C[i] = math.Round(v/step) * step
			log.Channels[1].C[i] = log.Channels[0].C[i]
			twin.Channels[1].C[i] = math.Round((v+0.1*float64(1+i/7%2))/step) * step
		}
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || !hasDefect(res.Cycles[0], SameTrace) {
			t.Errorf("seed %d: not named: %+v", seed, res.Cycles)
		}
		for _, c := range s.Find(twin, []int{0}, []int{1}, Options{}).Cycles {
			if hasDefect(c, SameTrace) {
				t.Errorf("seed %d: two probes taken for one: %+v", seed, c.Defects)
			}
		}
	}
}
