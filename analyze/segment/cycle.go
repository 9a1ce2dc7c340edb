package segment

import (
	"fmt"
	"math"

	"ringheat/analyze/series"
)

func (s *Segmenter) moment(m mark) Moment {
	if !m.known {
		return Moment{Row: -1, Evidence: m.evidence}
	}
	return Moment{Row: s.clock.nearestRow(m.u), AtS: s.clock.logTime(m.u), Known: true, Evidence: m.evidence}
}

// cycle turns a course into its result.
func (s *Segmenter) cycle(p *plan, o Options) Cycle {
	c := &p.course
	var other *begin
	if p.otherLeg != nil {
		g := s.read.readBegin(p.other, *p.otherLeg, p.fromU)
		other = &g
		// The inner ring shows the onset better than the outer one, where its probe was there by then.
		if p.other.ring == "inner" && g.before > 0 && p.other.there(c.onset.u-5*c.tr.spacing, c.ramps[0].cleanU, s.clock.gapS) && g.u < c.ramps[0].cleanU && math.Abs(g.u-c.onset.u) < 0.3*(c.ramps[0].toU-c.ramps[0].fromU) {
			c.onset = mark{u: g.u, known: true, evidence: fmt.Sprintf("the inner trace leaves %.1f °C, where it stood before, and goes on to rise", g.baseY)}
			c.ramps[0].fromU = g.u
			c.atStart = false
		}
	}
	if c.atStart && s.coldAtStart(p, o) {
		c.onset.known = true
		c.onset.evidence = fmt.Sprintf("the trace rises from the first row on, at %.1f °C", c.baseY)
	}
	cy := Cycle{
		Rows:    Window{p.firstRow, p.endRow},
		Onset:   s.moment(c.onset),
		RampEnd: s.moment(c.rampEnd),
		End:     s.moment(c.end),
	}
	s.phases(&cy, p, o)
	s.windows(&cy, p, other)
	return cy
}

// there says whether a probe was on its ring and gave readings all through a stretch.
func (tr *trace) there(fromU, toU, gapS float64) bool {
	return !overlaps(tr.losses, fromU, toU) && tr.coverage(fromU, toU, max(gapS, gapFactor*tr.spacing)) > 0.9
}

// coldAtStart says whether a rise that begins with the record begins at the level of its surroundings.
func (s *Segmenter) coldAtStart(p *plan, o Options) bool {
	c := &p.course
	if p.firstRow > 0 && c.onset.u > s.clock.u[p.firstRow]+s.clock.gapS {
		return false
	}
	limit := float64(o.WarmC)
	if limit <= 0 {
		limit = 30
		if v, ok := s.ambient(s.clock.rowAt(c.onset.u)); ok {
			limit = v + 4
		}
	}
	if c.baseY > limit {
		return false
	}
	if p.other != nil {
		if y, ok := p.other.level(c.onset.u, 2*probeSpanS); ok && (y-c.baseY > max(4, p.other.tolK(8)) || c.baseY-y > max(4, p.other.tolK(8))) {
			return false
		}
	}
	return true
}

// ambient is the first reading of the ambient channel from a row on.
func (s *Segmenter) ambient(row int) (float64, bool) {
	log := s.clock.log
	for i := range log.Channels {
		ch := &log.Channels[i]
		if ch.Role != series.Ambient {
			continue
		}
		for _, v := range ch.C[min(row, len(ch.C)):] {
			if !series.IsMissing(v) {
				return v, true
			}
		}
	}
	return 0, false
}

// phases lists the stretches of a cycle in order of time.
func (s *Segmenter) phases(cy *Cycle, p *plan, o Options) {
	c := &p.course
	at := cy.Rows.First
	add := func(kind PhaseKind, toRow int) {
		toRow = min(toRow, cy.Rows.End)
		if toRow <= at {
			return
		}
		log := s.clock.log
		endS := log.TimeS[toRow-1]
		if toRow < log.Len() && log.TimeS[toRow] >= endS {
			endS = log.TimeS[toRow]
		}
		cy.Phases = append(cy.Phases, Phase{Kind: kind, First: at, End: toRow, FromS: log.TimeS[at], ToS: endS})
		at = toRow
	}
	row := func(u float64) int { return s.clock.nearestRow(u) }
	add(Before, row(c.onset.u))
	for i, r := range c.ramps {
		if i > 0 {
			prev := c.ramps[i-1]
			if r.fromU-prev.toU > 2*c.tr.spacing {
				kind := Interruption
				if r.fromU-prev.toU >= o.MinHoldS && s.read.held(c, prev.toU, prev.toY, r.fromU) {
					kind = Hold
				}
				add(kind, row(r.fromU))
			}
		}
		kind := Ramp
		if r.hold {
			kind = Hold
		}
		end := row(r.toU)
		if c.rising && i == len(c.ramps)-1 {
			end = cy.Rows.End
		}
		add(kind, end)
	}
	switch {
	case c.end.known:
		if c.hold {
			add(Hold, row(c.end.u))
		}
		add(Cooling, cy.Rows.End)
	case !c.rising && !c.lost:
		add(Hold, cy.Rows.End)
	}
}

// held says whether the trace, between two rises, stands at the level that the first one reached, or above
// it for an overshoot, and doesn't move in the end.
func (s *reader) held(c *course, fromU, level, toU float64) bool {
	third := (toU - fromU) / 3
	middle, ok1 := c.tr.mean(fromU+third, toU-third)
	late, ok2 := c.tr.mean(toU-third, toU)
	rise := level - c.baseY
	return ok1 && ok2 && math.Abs(middle-late) < max(0.5, 0.01*rise, c.tr.tolK(4)) && late > level-max(0.5, 0.03*rise, c.tr.tolK(4))
}

// mean is the mean of the bins between two times, and whether there are any.
func (tr *trace) mean(fromU, toU float64) (float64, bool) {
	sum, n := 0.0, 0.0
	for b := tr.binAt(fromU); b < len(tr.binT) && tr.binT[b] < toU; b++ {
		sum += tr.binY[b]
		n++
	}
	return sum / max(n, 1), n > 0
}

// windows chooses the stretch whose rise is fitted: the ramp with the largest rise.
func (s *Segmenter) windows(cy *Cycle, p *plan, other *begin) {
	c := &p.course
	main := &c.ramps[0]
	for i := range c.ramps {
		if r := &c.ramps[i]; r.toY-r.fromY > main.toY-main.fromY {
			main = r
		}
	}
	fromU, toU := main.cleanU, main.safeU
	for _, l := range c.tr.losses {
		if l.back && l.toU+2*probeSpanS > fromU && l.fromU < fromU {
			fromU = l.toU + 2*probeSpanS
		}
	}
	w := s.uncut(Window{s.clock.rowAt(fromU) + 1, s.clock.rowAt(toU) + 1})
	otherFrom := fromU
	if other != nil && main == &c.ramps[0] {
		otherFrom = max(fromU, min(other.clean(p.other.spacing), fromU+0.3*(toU-fromU)))
	}
	otherTo := toU
	if p.other != nil {
		for _, l := range p.other.losses {
			switch {
			case l.afterEnd || l.fromU > toU || l.toU < otherFrom:
			case l.back && otherTo-l.toU > l.fromU-otherFrom:
				otherFrom = l.toU + 2*probeSpanS
			default:
				otherTo = min(otherTo, l.fromU-2*p.other.spacing)
			}
		}
	}
	w2 := s.uncut(Window{s.clock.rowAt(otherFrom) + 1, s.clock.rowAt(otherTo) + 1})
	if w2.Len() < 4 {
		w2 = Window{}
	}
	if p.other == nil || len(p.other.t) == 0 {
		w2 = Window{}
	}
	if c.tr.ring == "inner" {
		cy.RiseInner, cy.RiseOuter = w, w2
	} else {
		cy.RiseInner, cy.RiseOuter = w2, w
	}
}

// uncut is the longest part of a window in which the clock did not step back; empty if there are no rows.
func (s *Segmenter) uncut(w Window) Window {
	if w.End <= w.First {
		return Window{}
	}
	best := Window{}
	first := w.First
	for _, b := range s.clock.backs {
		if k := int(b); k > first && k < w.End {
			if k-first > best.Len() {
				best = Window{first, k}
			}
			first = k
		}
	}
	if w.End-first > best.Len() {
		best = Window{first, w.End}
	}
	return best
}

// unseenWarming is the cycle whose rise lies before the log: a hot first stretch that holds or cools.
// nil when the log does not begin so.
func (s *Segmenter) unseenWarming(in, out *trace, o Options) *Cycle {
	tr := in
	if tr == nil || out != nil && len(out.t) > len(tr.t) {
		tr = out
	}
	if tr == nil || len(tr.binT) == 0 {
		return nil
	}
	last := len(tr.binT) - 1
	if len(s.plans) > 0 {
		last = min(tr.binAt(s.plans[0].w.lowU(s.plans[0].tr)), last)
	}
	high := 0
	for b := 0; b <= last; b++ {
		if tr.binY[b] > tr.binY[high] {
			high = b
		}
	}
	fall := tr.binY[high] - tr.binY[last]
	if tr.binY[high] < float64(o.HeldC) || len(s.plans) > 0 && fall < float64(o.MinRise) {
		return nil
	}
	end := s.clock.log.Len()
	if len(s.plans) > 0 {
		end = min(s.clock.rowAt(tr.binT[last])+1, end-len(s.plans))
	}
	cy := &Cycle{Rows: Window{0, end}}
	cy.Onset = Moment{Row: -1, Evidence: "the record begins after it"}
	cy.RampEnd = Moment{Row: -1, Evidence: "the record begins after it"}
	// Where does it begin to fall?
	away := high
	drop := tr.binY[high] - max(0.2*fall, 4*tr.tolK(3))
	for away < last && tr.binY[away] > drop {
		away++
	}
	kneeBin, height := 0, 0.0
	sl := (tr.binY[away] - tr.binY[0]) / max(tr.binT[away]-tr.binT[0], 1e-9)
	for b := 1; b < away; b++ {
		if v := tr.binY[b] - tr.binY[0] - sl*(tr.binT[b]-tr.binT[0]); v > height {
			height, kneeBin = v, b
		}
	}
	left := fall >= max(3, tr.tolK(6))
	c := course{tr: tr, rampEnd: mark{u: tr.t[0]}}
	switch {
	case !left:
		cy.End = Moment{Row: -1, Evidence: fmt.Sprintf("the record stays at about %.0f °C from its first row to its last", tr.binY[high])}
		kneeBin = -1
	case tr.binT[kneeBin]-tr.t[0] >= o.MinHoldS && height > tr.tolK(4) && tr.isLevel(tr.t[0], tr.binY[0], tr.binT[kneeBin], tr.binY[0]-20, away):
		s.read.dateEnd(tr, &c, tr.binT[kneeBin], tr.binT[away])
		cy.End = s.moment(c.end)
	default:
		cy.End = Moment{Row: -1, Evidence: "the record begins after it, with the trace already falling"}
	}
	log := s.clock.log
	phase := func(kind PhaseKind, a, b int) {
		if b > a {
			cy.Phases = append(cy.Phases, Phase{kind, a, b, log.TimeS[a], log.TimeS[min(b, log.Len()-1)]})
		}
	}
	switch {
	case cy.End.Known:
		phase(Hold, 0, cy.End.Row)
		phase(Cooling, cy.End.Row, end)
		s.addDefect(cy, OnsetNotSeen, -1, 0, cy.End.Row, "the record began with the part already warm (%.1f °C)", tr.binY[0])
	case !left:
		phase(Hold, 0, end)
		s.addDefect(cy, OnsetNotSeen, -1, 0, end, "the record began with the part already warm (%.1f °C)", tr.binY[0])
	default:
		phase(Cooling, 0, end)
		s.addDefect(cy, CoolingOnly, -1, 0, end, "the record shows only cooling, from %.1f °C on; how the part was heated is not known", tr.binY[high])
	}
	return cy
}
