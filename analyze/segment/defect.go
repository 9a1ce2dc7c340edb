package segment

import (
	"fmt"

	"ringheat/analyze/series"
)

// maxStretches is how many stretches of one kind and channel are listed one by one.
const maxStretches = 6

func (s *Segmenter) addDefect(cy *Cycle, kind DefectKind, channel, first, end int, format string, args ...any) {
	n := s.clock.log.Len()
	first, end = max(first, 0), min(end, n)
	if end <= first {
		end = min(first+1, n)
		first = max(end-1, 0)
	}
	t := s.clock.log.TimeS
	cy.Defects = append(cy.Defects, Defect{kind, channel, first, end, t[first], t[end-1], fmt.Sprintf(format, args...)})
}

// defects lists what makes the record of a cycle weaker evidence. p is nil for a cycle whose rise lies
// before the log.
func (s *Segmenter) defects(cy *Cycle, p *plan, traces []trace, o Options) {
	if p != nil {
		s.courseDefects(cy, p, o)
	}
	for i := range traces {
		tr := &traces[i]
		s.openStretches(cy, tr)
		s.lossDefects(cy, tr)
		s.spikeDefect(cy, tr, o)
	}
	s.clockDefects(cy)
}

func (s *Segmenter) courseDefects(cy *Cycle, p *plan, o Options) {
	c := &p.course
	log := s.clock.log
	if !cy.Onset.Known {
		first := s.clock.rowAt(c.onset.u)
		s.addDefect(cy, OnsetNotSeen, -1, first, first+1, "the record began at %.1f °C with the part already warm and rising", c.baseY)
	}
	if c.rising {
		s.addDefect(cy, StillRising, -1, cy.Rows.End-1, cy.Rows.End, "the record stopped at %.0f s, while the part was still being heated", log.TimeS[cy.Rows.End-1])
	}
	tr := c.tr
	if c.end.known && !c.hold && !c.rising {
		k := tr.at(c.end.u)
		k = min(max(k, 1), len(tr.t)-1)
		dt := max(tr.t[k]-tr.t[k-1], tr.spacing)
		up, down := c.ramps[len(c.ramps)-1].slopeEnd, c.fallRate
		if up > 0 && down > 0 {
			if excess := up * down / (up + down) * dt; excess > max(float64(o.CoarsePeak), 2*tr.stepK) {
				s.addDefect(cy, TooCoarse, tr.channel, cy.End.Row, cy.End.Row+1, "readings %.3g s apart are too coarse to see the peak: it may lie up to %.0f K above the highest reading", dt, excess)
			}
		}
	}
	w := cy.RiseInner
	who := "inner"
	if tr.ring == "outer" {
		w, who = cy.RiseOuter, "outer"
	}
	if w.Len() < 4 {
		s.addDefect(cy, NotIdentifiable, -1, cy.Rows.First, cy.Rows.End, "the rise has only %d readings of the %s probe between the start-up and its end: too few for a heating curve", w.Len(), who)
	}
}

// openStretches finds stretches in which a channel gave no reading though the log has rows.
func (s *Segmenter) openStretches(cy *Cycle, tr *trace) {
	if tr.valid == s.clock.log.Len() {
		return
	}
	ch := &s.clock.log.Channels[tr.channel]
	long := max(4*tr.spacing, 3*s.clock.intervalS)
	u, tm := s.clock.u, s.clock.log.TimeS
	count := 0
	first, end := -1, -1 // the open stretch found last
	report := func() {
		if first < 0 {
			return
		}
		if count++; count <= maxStretches {
			s.addDefect(cy, ProbeOpen, tr.channel, first, end, "the %s probe gave no reading from %.0f s to %.0f s", tr.ring, tm[first], tm[end-1])
		}
		first = -1
	}
	prev, sinceOpen := cy.Rows.First-1, 0 // last row with a reading, readings since the last open stretch
	for i := cy.Rows.First; i <= cy.Rows.End; i++ {
		if i < cy.Rows.End && series.IsMissing(ch.C[i]) {
			continue
		}
		if i-prev > 1 && u[min(i, len(u)-1)]-u[max(prev, 0)] > long {
			if first >= 0 && sinceOpen > 3 {
				report()
			}
			if first < 0 {
				first = prev + 1
			}
			end, sinceOpen = i, 0
		}
		prev = i
		sinceOpen++
	}
	report()
	if count > maxStretches {
		d := &cy.Defects[len(cy.Defects)-1]
		d.Message += fmt.Sprintf(", and in %d more stretches", count-maxStretches)
	}
}

// lossDefects turns losses of contact into defects.
func (s *Segmenter) lossDefects(cy *Cycle, tr *trace) {
	t := s.clock.log.TimeS
	for _, l := range tr.losses {
		a, b := s.clock.rowAt(l.fromU), s.clock.rowAt(l.toU)
		if b < cy.Rows.First || a >= cy.Rows.End {
			continue
		}
		a, b = max(a, cy.Rows.First), min(b, cy.Rows.End-1)
		switch {
		case l.never:
			s.addDefect(cy, ProbeDetached, tr.channel, a, b+1, "the %s probe stayed at %.0f °C while the other one was heated: it was not on the ring", tr.ring, l.fromY)
		case l.late:
			s.addDefect(cy, ProbeLate, tr.channel, a, b+1, "the %s probe was put on late: it read %.0f °C until it jumped to %.0f °C at %.0f s", tr.ring, l.fromY, l.toY, t[b])
		case l.afterEnd:
			s.addDefect(cy, ProbeDetached, tr.channel, a, cy.Rows.End, "the %s probe fell from %.0f to %.0f °C at %.0f s, faster than the ring can cool in air: taken off, or the part was put on its seat", tr.ring, l.fromY, l.toY, t[a])
		case l.back:
			s.addDefect(cy, ProbeDetached, tr.channel, a, b+1, "the %s probe lost its ring from %.0f s to %.0f s: it fell from %.0f °C while the part was being heated", tr.ring, t[a], t[b], l.fromY)
		default:
			s.addDefect(cy, ProbeDetached, tr.channel, a, b+1, "the %s probe came off at %.0f s: it fell from %.0f °C while the part was being heated", tr.ring, t[a], l.fromY)
		}
	}
}

// spikeDefect reports a channel of which a large share had to be marked while it was heated.
func (s *Segmenter) spikeDefect(cy *Cycle, tr *trace, o Options) {
	first, end := cy.Rows.First, cy.Rows.End
	if cy.Onset.Known {
		first = cy.Onset.Row
	}
	if cy.End.Known {
		end = min(end, cy.End.Row+1)
	}
	marked := 0
	for _, r := range tr.spikes {
		if int(r) >= first && int(r) < end {
			marked++
		}
	}
	if marked < 5 {
		return
	}
	valid := 0
	for _, v := range s.clock.log.Channels[tr.channel].C[first:end] {
		if !series.IsMissing(v) {
			valid++
		}
	}
	if share := float64(marked) / float64(max(valid, 1)); share >= o.ManySpikesShare {
		s.addDefect(cy, ManySpikes, tr.channel, first, end, "%d of %d readings (%.0f %%) of the %s probe jump as no ring can and are marked as spikes", marked, valid, 100*share, tr.ring)
	}
}

// clockDefects lists gaps and steps back of the logger's clock within a cycle.
func (s *Segmenter) clockDefects(cy *Cycle) {
	t := s.clock.log.TimeS
	gaps := 0
	for i := cy.Rows.First + 1; i < cy.Rows.End; i++ {
		d := t[i] - t[i-1]
		switch {
		case d < 0:
			s.addDefect(cy, ClockFault, -1, i-1, i+1, "the logger's clock stepped back from %.0f s to %.0f s: times before and after can't be compared", t[i-1], t[i])
		case d > s.clock.gapS && s.clock.gapS > 0:
			if cy.Onset.Known && i <= cy.Onset.Row {
				continue
			}
			gaps++
			if gaps <= maxStretches {
				s.addDefect(cy, SamplingGap, -1, i-1, i+1, "the log has no rows from %.0f s to %.0f s", t[i-1], t[i])
			}
		}
	}
}
