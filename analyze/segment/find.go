package segment

import (
	"slices"

	"ringheat/analyze/series"
)

// Segmenter finds cycles. It keeps its buffers between logs; the zero value is ready for use. It must
// not be used by two goroutines at once. Results don't share its memory.
type Segmenter struct {
	clock   clock
	traces  []trace
	spikes  spikeFinder
	scratch []float64
	turns   []turn
	legs    []leg
	found   []warming
	read    reader
}

// Find gives the cycles of a log. inner and outer list the channels (indices into log.Channels) of each
// ring's probes; either may be empty, and of several probes on one ring the one with most readings leads.
// Spikes are looked for in these channels only. A log without any of them has no cycles.
func (s *Segmenter) Find(log *series.Log, inner, outer []int, o Options) Result {
	o = o.withDefaults()
	res := Result{Spikes: make([][]int32, len(log.Channels))}
	if len(inner)+len(outer) == 0 || log.Len() == 0 {
		return res
	}
	s.clock.read(log)
	n := len(inner) + len(outer)
	for len(s.traces) < n {
		s.traces = append(s.traces, trace{})
	}
	for i := range n {
		ch := 0
		if i < len(inner) {
			ch = inner[i]
		} else {
			ch = outer[i-len(inner)]
		}
		tr := &s.traces[i]
		tr.load(log, &s.clock, ch)
		res.Spikes[ch] = s.clean(tr, o)
		tr.bin(tr.binSize(), max(s.clock.gapS, gapFactor*tr.spacing))
	}
	in := leading(s.traces[:len(inner)])
	out := leading(s.traces[len(inner):n])
	driver := in
	if driver == nil || len(driver.t) < 4 {
		driver = out
	}
	if driver == nil || len(driver.t) < 4 {
		return res
	}
	delta := max(2, 7*driver.binNoiseK, 3*driver.stepK)
	s.turns = turns(driver.binY, delta, s.turns)
	s.found, s.legs = warmings(driver, s.turns, o, s.found, s.legs)
	for i := range s.found {
		c := course{w: s.found[i]}
		s.read.readOnset(driver, &c, driver.t[driver.binFirst[c.w.start]])
		s.read.readTop(driver, &c, o)
		res.Cycles = append(res.Cycles, s.cycle(driver, out, &c))
	}
	return res
}

// clean marks and drops the spikes of a trace and gives their rows.
func (s *Segmenter) clean(tr *trace, o Options) []int32 {
	var rows []int32
	gap := max(s.clock.gapS, gapFactor*tr.spacing)
	for range spikePass {
		s.scratch = tr.measureNoise(s.scratch)
		if len(tr.t) < 5 || s.spikes.mark(tr, gap, o) == 0 {
			break
		}
		rows = tr.drop(s.spikes.marked, rows)
	}
	slices.Sort(rows)
	return rows
}

// leading is the trace with most readings; nil when there is none.
func leading(tr []trace) *trace {
	var best *trace
	for i := range tr {
		if best == nil || len(tr[i].t) > len(best.t) {
			best = &tr[i]
		}
	}
	return best
}

func (s *Segmenter) moment(m mark) Moment {
	if !m.known {
		return Moment{Row: -1, Evidence: m.evidence}
	}
	return Moment{Row: s.clock.nearestRow(m.u), AtS: s.clock.logTime(m.u), Known: true, Evidence: m.evidence}
}

func (s *Segmenter) cycle(driver, out *trace, c *course) Cycle {
	cy := Cycle{Onset: s.moment(c.onset), RampEnd: s.moment(c.rampEnd), End: s.moment(c.end)}
	cy.Rows = Window{int(driver.row[driver.binFirst[c.w.start]]), int(driver.row[driver.binFirst[c.w.end]-1]) + 1}
	from := max(c.onset.u+max(2*driver.spacing, 4.5*c.lagS), c.riseU)
	level := c.topY - 0.02*(c.topY-c.baseY)
	to := c.rampEnd.u - max(2*driver.spacing, min((c.topY-level)/max(c.slopeEnd, 1e-9), 0.15*(c.rampEnd.u-c.onset.u)))
	a := s.clock.rowAt(from) + 1
	b := s.clock.rowAt(to) + 1
	if b > a {
		cy.RiseInner = Window{a, b}
		if out != nil && len(out.t) > 0 {
			cy.RiseOuter = cy.RiseInner
		}
	}
	return cy
}
