package segment

import (
	"math"

	"ringheat/analyze/series"
)

// Two probes on two rings never agree in every digit: with 0.1 K between them every tenth reading differs on a
// display of 1 K. So many equal rows are asked for that chance is out, more on a coarser display.
const (
	sameRows    = 25  // rows at least,
	sameProbeK  = 0.1 // times the display step over this difference of any two probes, K
	sameApart   = 100 // one row in so many may differ
	sameStepsUp = 10  // display steps that the readings rise over them
)

// sameTraces reports inner and outer channels that agree in every digit, over the cycle's rise or all of it.
func (s *Segmenter) sameTraces(cy *Cycle, traces []trace) {
	first, end := cy.Rows.First, cy.Rows.End
	if s.sameOver(cy, traces, first, end) || !cy.RampEnd.Known {
		return
	}
	if cy.Onset.Known {
		first = cy.Onset.Row
	}
	s.sameOver(cy, traces, first, min(cy.RampEnd.Row+1, end))
}

func (s *Segmenter) sameOver(cy *Cycle, traces []trace, first, end int) bool {
	found := false
	for i := range traces {
		for j := range traces[i+1:] {
			x, z := &traces[i], &traces[i+1+j]
			if x.ring == z.ring {
				continue
			}
			a, b := s.clock.log.Channels[x.channel].C, s.clock.log.Channels[z.channel].C
			rows, apart := 0, 0
			low, high := math.Inf(1), math.Inf(-1)
			for k := first; k < end; k++ {
				if series.IsMissing(a[k]) || series.IsMissing(b[k]) {
					continue
				}
				rows++
				low, high = min(low, a[k]), max(high, a[k])
				if math.Abs(a[k]-b[k]) > 1e-9 {
					if apart++; apart*sameApart > end-first {
						break
					}
				}
			}
			step := max(x.stepK, z.stepK)
			if float64(rows) < sameRows*max(1, step/sameProbeK) || apart*sameApart > rows || high-low < sameStepsUp*step {
				continue
			}
			found = true
			t := s.clock.log.TimeS
			s.addDefect(cy, SameTrace, -1, first, end, "the inner and the outer channel agree in every digit from %.0f s to %.0f s: two probes never do, so it is one probe logged twice", t[first], t[end-1])
		}
	}
	return found
}
