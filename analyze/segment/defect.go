package segment

import (
	"fmt"
	"math"

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
		s.poorContact(cy, p)
	}
	for i := range traces {
		tr := &traces[i]
		s.openStretches(cy, tr)
		s.lossDefects(cy, tr)
		s.standDefects(cy, tr)
		s.spikeDefect(cy, tr, o)
	}
	s.sameTraces(cy, traces)
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
		if dt, above := tr.unseenPeak(c.end.u, c.ramps[len(c.ramps)-1].slopeEnd); above > max(float64(o.CoarsePeak), 2*tr.stepK) {
			s.addDefect(cy, TooCoarse, tr.channel, cy.End.Row, cy.End.Row+1, "readings %.3g s apart are too coarse to see the peak: it may lie up to %.0f K above the highest reading", dt, above)
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

// unseenPeak is how far the true peak may lie above the highest reading about u, where the trace rose at
// the given slope (K/s), and the time between the readings there. A part falls no faster than it was heated.
func (tr *trace) unseenPeak(u, slope float64) (dt, above float64) {
	a := max(tr.at(u-2.5*tr.spacing), 1)
	b := min(tr.at(u+2.5*tr.spacing)+1, len(tr.t)-1)
	k := a
	for i := a; i < b; i++ {
		if tr.y[i] > tr.y[k] {
			k = i
		}
	}
	for _, j := range [2]int{k - 1, k + 1} {
		if j < 0 || j >= len(tr.t) {
			continue
		}
		d := math.Abs(tr.t[k] - tr.t[j])
		if v := 0.5 * (slope*d - (tr.y[k] - tr.y[j])); v > above {
			dt, above = d, v
		}
	}
	return dt, above
}

// poorContact reports a probe that reads low and slow against the other ring's. An outer ring is cooler and
// later by nature, so it is suspected only if it stays far behind long after the end of heating. An inner
// ring is heated first: it is suspected if it is behind while heated and still behind when the rings have had
// time to equalise, or later than the outer one where no such time is on record.
func (s *Segmenter) poorContact(cy *Cycle, p *plan) {
	c := &p.course
	in, out := c.tr, p.other
	if out == nil || len(out.binT) == 0 || c.rising || !c.onset.known {
		return
	}
	if in.ring == "outer" {
		in, out = out, in
	}
	fromU, toU := c.onset.u, c.rampEnd.u
	if len(in.losses)+len(out.losses) > 0 || !in.there(fromU, toU, s.clock.gapS) || !out.there(fromU, toU, s.clock.gapS) {
		return
	}
	reach := max(2*probeSpanS, 3*in.spacing, 3*out.spacing)
	at := func(u float64) (yi, yo float64, ok bool) {
		yi, ok1 := in.level(u, reach)
		yo, ok2 := out.level(u, reach)
		return yi, yo, ok1 && ok2
	}
	i0, o0, ok0 := at(fromU)
	i1, o1, ok1 := at(toU)
	riseI, riseO := i1-i0, o1-o0
	if !ok0 || !ok1 || max(riseI, riseO) < 20 || min(riseI, riseO) < 3 {
		return
	}
	// How much later the inner trace is: on a ramp the mean difference of both, each as a share of its
	// own rise, is half the lag over the ramp's length.
	const points = 12
	sum := 0.0
	for k := 1; k < points; k++ {
		yi, yo, ok := at(fromU + (toU-fromU)*float64(k)/points)
		if !ok {
			return
		}
		sum += (yo-o0)/riseO - (yi-i0)/riseI
	}
	laterS := 2 * sum / (points - 1) * (toU - fromU)
	slow := max(15, 0.04*(toU-fromU))
	a, b := s.clock.nearestRow(fromU), s.clock.nearestRow(toU)
	last := min(in.t[len(in.t)-1], out.t[len(out.t)-1], s.clock.u[cy.Rows.End-1])
	yi, yo, cooled := at(last)
	cooled = cooled && last > toU+max(0.4*(toU-fromU), 90)
	behind := laterS > slow
	if cooled {
		behind = yi-i0 < 0.85*(yo-o0) && yo-o0 > 10
	}
	switch {
	case riseI < 0.8*riseO && behind:
		s.addDefect(cy, PoorContact, in.channel, a, b+1, "the inner probe reads low and slow: it rose by %.0f K while the outer one rose by %.0f K; poor contact, or the two probes are swapped", riseI, riseO)
	case riseO < 0.4*riseI && -laterS > slow && cooled && yi-i0 > 10 && yo-o0 < 0.5*(yi-i0):
		s.addDefect(cy, PoorContact, out.channel, a, cy.Rows.End, "the outer probe reads low and slow: it rose by %.0f K while the inner one rose by %.0f K, and was still only %.0f K up when the rings had had time to equalise", riseO, riseI, yo-o0)
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
		if b < cy.Rows.First || a >= cy.Rows.End || l.afterEnd && a < cy.Rows.First {
			continue
		}
		a, b = max(a, cy.Rows.First), min(b, cy.Rows.End-1)
		switch {
		case l.never:
			s.addDefect(cy, ProbeDetached, tr.channel, a, b+1, "the %s probe stayed at %.0f °C while the other one was heated: it was not on the ring", tr.ring, l.fromY)
		case l.late:
			s.addDefect(cy, ProbeLate, tr.channel, a, b+1, "the %s probe was put on late: it read %.0f °C until it jumped to %.0f °C at %.0f s", tr.ring, l.fromY, l.toY, t[b])
		case l.afterEnd:
			s.addDefect(cy, ProbeDetached, tr.channel, a, b+1, "the %s probe fell from %.0f to %.0f °C at %.0f s, faster than the ring can cool in air: taken off, or the part was put on its seat", tr.ring, l.fromY, l.toY, t[a])
		case l.back:
			s.addDefect(cy, ProbeDetached, tr.channel, a, b+1, "the %s probe lost its ring from %.0f s to %.0f s: it fell from %.0f °C while the other one went on rising", tr.ring, t[a], t[b], l.fromY)
		default:
			s.addDefect(cy, ProbeDetached, tr.channel, a, b+1, "the %s probe came off at %.0f s: it fell from %.0f °C while the other one went on rising", tr.ring, t[a], l.fromY)
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
