package chart

import (
	"gonum.org/v1/plot/vg"

	"ringheat/analyze/series"
)

// drawCycle lays the sheet out from the top and from the bottom towards the panels, which get what is
// left. It gives the panels, the upper one first.
func drawCycle(s *sheet, c *CycleChart) []*panel {
	times, temperatures, differences := c.timeReach(), c.temperatureReach(), c.Diff.reach()
	const above = sizeSmall*leading + 8   // moments
	const below = sizeSmall*leading*2 + 8 // time ticks and axis label
	free := s.surround(&surroundings{
		title: c.Title, verdict: c.Verdict, word: verdictWord(c.Verdict), scope: c.Scope, reasons: c.Reasons,
		legend: s.legendOf(c), footer: c.Footer, panels: above + below + minPanels,
	})
	moments := free.takeTop(above)
	if c.Diff == nil {
		if note := s.t.wrap(c.DiffNote, regular, sizeText, free.width(), 2); len(note) > 0 {
			s.note(free.takeBottom(vg.Length(len(note))*sizeText*leading+6), note)
		}
	}
	axis := free.takeBottom(below)
	labels := make([]string, 0, 8)
	for _, l := range c.Levels {
		labels = append(labels, l.Label)
	}
	if c.Diff != nil && c.Diff.hasLimit() {
		labels = append(labels, c.Diff.LimitLabel)
	}
	free.x0 += axisLabel + 7 + max(s.widestTick(temperatures), s.widestTick(differences))
	free.x1 -= s.sideLabelWidth(labels)
	var lower *panel
	if c.Diff != nil {
		b := free.takeBottom((free.height() - panelGap) * diffShare)
		lower = &panel{box: b, x: scale{times.lo, times.hi, b.x0, b.x1}, y: scale{differences.lo, differences.hi, b.y0, b.y1}}
		free.takeBottom(panelGap)
	}
	upper := &panel{box: free, x: scale{times.lo, times.hi, free.x0, free.x1}, y: scale{temperatures.lo, temperatures.hi, free.y0, free.y1}}
	panels := []*panel{upper}
	s.temperaturePanel(upper, c)
	if lower != nil {
		s.differencePanel(lower, c.Diff)
		panels = append(panels, lower)
	}
	s.moments(box{upper.x0, moments.y0, upper.x1, moments.y1}, panels, c.Moments)
	s.timeAxis(panels, axis, c.TimeLabel)
	return panels
}

// timeReach is the time axis' range: all samples, with a little room on both sides.
func (c *CycleChart) timeReach() reach {
	var r reach
	for _, tr := range c.Traces {
		for i, v := range tr.C {
			if drawable(v) && drawableTime(tr.TimeS[i]) {
				r.add(tr.TimeS[i])
			}
		}
	}
	if c.Diff != nil {
		for i, v := range c.Diff.K {
			if drawable(v) && drawableTime(c.Diff.TimeS[i]) {
				r.add(c.Diff.TimeS[i])
			}
		}
	}
	if !r.any {
		return reach{lo: 0, hi: 60, any: true}
	}
	pad := (r.hi - r.lo) * 0.01
	if r.hi-r.lo < 1e-3 {
		pad = 1
	}
	return reach{lo: r.lo - pad, hi: r.hi + pad, any: true}
}

// temperatureReach is the range of the upper panel: all readings that are no spikes, the curves, and those
// levels that leave the readings at least a third of the panel. The other levels are named at the edge.
func (c *CycleChart) temperatureReach() reach {
	var r reach
	for _, tr := range c.Traces {
		k := 0
		for i, v := range tr.C {
			for k < len(tr.Spikes) && int(tr.Spikes[k]) < i {
				k++
			}
			if k < len(tr.Spikes) && int(tr.Spikes[k]) == i {
				continue
			}
			if drawable(v) {
				r.add(v)
			}
		}
	}
	if !r.any {
		r = reach{lo: 0, hi: 100, any: true}
	}
	span := max(r.hi-r.lo, 5)
	out := r
	for _, l := range c.Levels {
		if l.drawable() && l.C <= r.hi+2*span && l.C >= r.lo-span {
			out.add(l.C)
		}
	}
	for _, f := range c.Curves {
		for i := 0; i <= 8; i++ {
			if v := f.at(f.FromS + (f.ToS-f.FromS)*float64(i)/8); v <= r.hi+span && v >= r.lo-span {
				out.add(v)
			}
		}
	}
	return padded(out, 5)
}

// padded adds room above and below, and widens a range narrower than least.
func padded(r reach, least float64) reach {
	if d := least - (r.hi - r.lo); d > 0 {
		r.lo, r.hi = r.lo-d/2, r.hi+d/2
	}
	pad := (r.hi - r.lo) * 0.05
	return reach{lo: r.lo - pad, hi: r.hi + pad, any: true}
}

func (s *sheet) temperaturePanel(p *panel, c *CycleChart) {
	forEachExcess := func(do func(tr Trace, nth int, limit float64)) {
		for nth, tr := range c.Traces {
			for _, l := range c.Levels {
				if l.Kind == ToleranceLimit && p.y.holds(l.C) && tr.isRing() {
					do(tr, nth, l.C)
				}
			}
		}
	}
	var over []stretch
	forEachExcess(func(tr Trace, _ int, limit float64) {
		over = s.beyond(over, p.x, p.y, tr.TimeS, tr.C, tr.Spikes, limit, +1)
	})
	s.columns(p, over, overPale)
	marks, _ := s.timeTicks(p.x)
	s.grid(p, marks, wordTemperature)
	forEachExcess(func(tr Trace, nth int, limit float64) {
		s.shadeBeyond(p.x, p.y, tr.TimeS, tr.C, tr.Spikes, limit, +1, overTint, vermillion, c.hatchOf(nth))
	})

	var labels []sideLabel
	for _, l := range c.Levels {
		if !l.drawable() {
			continue
		}
		labels = append(labels, sideLabel{value: l.C, text: s.t.clean(l.Label, regular)})
		if p.y.holds(l.C) {
			s.line(levelLook(l.Kind), p.x0, p.y.at(l.C), p.x1, p.y.at(l.C))
		}
	}
	seen := false
	for _, inner := range [...]bool{false, true} { // the inner ring's narrower line comes last, on top
		for nth, tr := range c.Traces {
			if (tr.Role == series.Inner) == inner {
				s.trace(p.x, p.y, tr.TimeS, tr.C, tr.Spikes, c.lookOf(nth))
				seen = seen || hasReading(tr.C)
			}
		}
	}
	for nth, tr := range c.Traces {
		s.markers(p.x, p.y, tr.TimeS, tr.C, tr.Spikes, c.lookOf(nth), nth)
	}
	for _, f := range c.Curves {
		s.curve(p.x, p.y, f)
	}
	for _, tr := range c.Traces {
		s.spikes(p, tr)
	}
	if !seen {
		s.note(box{p.x0, p.y0 + p.height()/2 - 10, p.x1, p.y0 + p.height()/2 + 10}, []string{wordNothing})
	}
	s.frame(p)
	s.sideLabels(p, labels)
}

// isRing says whether a trace is one of the part itself, to which the part's limit applies.
func (t *Trace) isRing() bool {
	return t.Role == series.Inner || t.Role == series.Outer || t.Role == series.NoRole
}

// nthOfRole counts the traces before a trace that have its role.
func (c *CycleChart) nthOfRole(nth int) int {
	n := 0
	for _, tr := range c.Traces[:nth] {
		if tr.Role == c.Traces[nth].Role {
			n++
		}
	}
	return n
}

func (c *CycleChart) lookOf(nth int) look { return traceLook(c.Traces[nth].Role, c.nthOfRole(nth)) }

func (c *CycleChart) hatchOf(nth int) hatch {
	if r := c.Traces[nth].Role; r == series.Outer || r == series.NoRole && c.nthOfRole(nth)%2 == 1 {
		return falling
	}
	return rising
}

// spikes marks them by crosses; one outside the panel's range stands at its edge, and crosses on one
// spot are drawn once.
func (s *sheet) spikes(p *panel, tr Trace) {
	lastX := vg.Length(-1)
	for _, i := range tr.Spikes {
		if int(i) >= len(tr.C) || !drawable(tr.C[i]) || !p.x.holds(tr.TimeS[i]) {
			continue
		}
		x := p.x.at(tr.TimeS[i])
		if x-lastX < 1 {
			continue
		}
		lastX = x
		y := min(max(p.y.at(tr.C[i]), p.y0+markSize), p.y1-markSize)
		s.marker(cross, black, min(max(x, p.x0+markSize), p.x1-markSize), y)
	}
}

// reach is the range of the lower panel: 0, all differences, and those limits that leave the differences
// enough of it.
func (d *Diff) reach() reach {
	if d == nil {
		return reach{}
	}
	var r reach
	r.add(0)
	d.each(r.add)
	span := max(r.hi-r.lo, 2)
	out := r
	if d.hasLimit() {
		for _, l := range [...]float64{d.LimitK, -d.LimitK} {
			far := 0.4 // of the span: the side that the differences keep away from
			if sign(l) == d.side() {
				far = 1.5
			}
			if l <= r.hi+far*span && l >= r.lo-far*span {
				out.add(l)
			}
		}
	}
	return padded(out, 2)
}

// each calls do with every difference that is there and no spike.
func (d *Diff) each(do func(float64)) {
	k := 0
	for i, v := range d.K {
		for k < len(d.Spikes) && int(d.Spikes[k]) < i {
			k++
		}
		if drawable(v) && !(k < len(d.Spikes) && int(d.Spikes[k]) == i) {
			do(v)
		}
	}
}

func (d *Diff) hasLimit() bool { return d.LimitK > 0 && drawable(d.LimitK) }

// side is the side of 0 on which the largest difference lies.
func (d *Diff) side() vg.Length {
	var r reach
	r.add(0)
	d.each(r.add)
	return sign(r.hi + r.lo)
}

func (s *sheet) differencePanel(p *panel, d *Diff) {
	var limits []float64 // those inside the panel
	var labels []sideLabel
	for _, l := range [...]float64{d.LimitK, -d.LimitK} {
		switch {
		case !d.hasLimit():
		case p.y.holds(l):
			limits = append(limits, l)
			labels = append(labels, sideLabel{value: l, text: s.t.clean(d.LimitLabel, regular)})
		case sign(l) == d.side(): // named at the edge
			labels = append(labels, sideLabel{value: l, text: s.t.clean(d.LimitLabel, regular)})
		}
	}
	var uneven []stretch
	for _, l := range limits {
		uneven = s.beyond(uneven, p.x, p.y, d.TimeS, d.K, d.Spikes, l, sign(l))
	}
	s.columns(p, uneven, unevenPale)
	marks, _ := s.timeTicks(p.x)
	s.grid(p, marks, d.Label)
	s.line(look{colour: axisGrey, width: 0.7}, p.x0, p.y.at(0), p.x1, p.y.at(0))
	for _, l := range limits {
		s.shadeBeyond(p.x, p.y, d.TimeS, d.K, d.Spikes, l, sign(l), unevenTint, purple, falling)
		s.line(levelLook(ToleranceLimit), p.x0, p.y.at(l), p.x1, p.y.at(l))
	}
	s.trace(p.x, p.y, d.TimeS, d.K, d.Spikes, look{colour: black, width: 1.1})
	s.frame(p)
	s.sideLabels(p, labels)
}

func sign(v float64) vg.Length {
	if v < 0 {
		return -1
	}
	return 1
}
