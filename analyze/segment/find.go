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
	fast    []float64
	stills  []still
	plans   []plan
	read    reader
}

// Find gives the cycles of a log. inner and outer list the channels (indices into log.Channels) of each
// ring's probes; either may be empty, and of several probes on one ring the one with most readings leads.
// Spikes are looked for in these channels only. A log without any of them has no cycles.
func (s *Segmenter) Find(log *series.Log, inner, outer []int, o Options) Result {
	o = o.withDefaults()
	res := Result{Spikes: make([][]int32, len(log.Channels))}
	n := len(inner) + len(outer)
	if n == 0 || log.Len() == 0 {
		return res
	}
	s.clock.read(log)
	for len(s.traces) < n {
		s.traces = append(s.traces, trace{})
	}
	traces := s.traces[:n]
	for i := range traces {
		tr := &traces[i]
		if i < len(inner) {
			tr.load(log, &s.clock, inner[i])
			tr.ring = "inner"
		} else {
			tr.load(log, &s.clock, outer[i-len(inner)])
			tr.ring = "outer"
		}
		s.clean(tr, o)
		s.findStands(tr, o)
		res.Spikes[tr.channel] = tr.spikes
		s.binned(tr)
		tr.turns = turns(tr.binY, tr.swing(), tr.turns)
	}
	for i := range traces {
		for j := range traces {
			if i != j && len(traces[j].stands) > 0 {
				s.standTogether(&traces[i], &traces[j])
			}
		}
	}
	in, out := leading(traces[:len(inner)]), leading(traces[len(inner):])
	s.judgeContacts(traces, in, out, o)
	for i := range traces {
		tr := &traces[i]
		if tr == in || tr == out {
			tr.warmings, tr.legs = warmings(tr, tr.turns, o, tr.warmings, tr.legs)
		}
	}
	s.plan(in, out, o)
	if a := s.unseenWarming(in, out, o); a != nil {
		res.Cycles = append(res.Cycles, *a)
	}
	for i := range s.plans {
		p := &s.plans[i]
		p.course = s.read.follow(p.tr, p.w, p.fromU, o)
	}
	s.settleRows(&res)
	for i := range s.plans {
		res.Cycles = append(res.Cycles, s.cycle(&s.plans[i], o))
	}
	for i := range res.Cycles {
		var p *plan
		if k := i - (len(res.Cycles) - len(s.plans)); k >= 0 {
			p = &s.plans[k]
		}
		s.defects(&res.Cycles[i], p, traces, o)
	}
	return res
}

// clean marks and drops the spikes of a trace.
func (s *Segmenter) clean(tr *trace, o Options) {
	gap := max(s.clock.gapS, gapFactor*tr.spacing)
	s.scratch = tr.findStep(s.scratch)
	for range spikePass {
		s.scratch = tr.measureNoise(s.scratch)
		if len(tr.t) < 5 || s.spikes.mark(tr, gap, o) == 0 {
			break
		}
		tr.spikes = tr.drop(s.spikes.marked, tr.spikes)
	}
	slices.Sort(tr.spikes)
}

func (s *Segmenter) binned(tr *trace) {
	tr.bin(tr.binSize(), max(s.clock.gapS, gapFactor*tr.spacing))
}

// swing is the move that makes a turning point, K. Thousands of bins of pure noise span 8 of their standard
// deviations.
func (tr *trace) swing() float64 { return max(2, 9*tr.binNoiseK, 3*tr.stepK) }

// judgeContacts finds losses of contact on every trace, each against the other ring's leading one, and
// takes the readings that don't show a ring out of the traces.
func (s *Segmenter) judgeContacts(traces []trace, in, out *trace, o Options) {
	for i := range traces {
		x, z := &traces[i], out
		if x.ring == "outer" {
			z = in
		}
		var zt []turn
		if z != nil {
			zt = z.turns
		}
		x.losses = s.contacts(x, z, x.turns, zt, o)
	}
	for i := range traces {
		if x := &traces[i]; x.without(x.losses) {
			s.binned(x)
			x.turns = turns(x.binY, x.swing(), x.turns)
		}
	}
}

// leading is the trace with most readings; nil when there is none.
func leading(tr []trace) *trace {
	var best *trace
	for i := range tr {
		if best == nil || len(tr[i].t) > len(best.t) {
			best = &tr[i]
		}
	}
	if best == nil || len(best.t) < 4 {
		return nil
	}
	return best
}
