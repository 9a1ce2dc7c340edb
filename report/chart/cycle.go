package chart

import (
	"cmp"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"ringheat/analyze/judge"
	"ringheat/analyze/series"
)

// Distances, points.
const (
	margin       vg.Length = 10 // round the sheet
	gutter       vg.Length = 10 // between a panel and the labels of its levels
	maxSideLabel vg.Length = 92 // width of a level's label
	axisLabel    vg.Length = 24 // left of the panels: axis label in up to two lines, and tick marks
	panelGap     vg.Length = 15 // between the panels
	minPanels    vg.Length = 150
	diffShare              = 0.33 // of the panels' height
)

// panel is an area with axes.
type panel struct {
	box
	x, y scale
}

// drawCycle lays the sheet out from the top and from the bottom towards the panels, which get what is
// left. It gives the panels, the upper one first.
func drawCycle(s *sheet, c *CycleChart) []*panel {
	free := box{margin, margin, s.w - margin, s.h - margin}

	below := sizeSmall*leading*2 + 8 // time ticks and axis label
	above := sizeSmall*leading + 8   // moments
	var foot, title []titleLine
	var legend [][]legendItem
	var reasons verdictBlock
	for cut := 0; ; cut++ {
		most, ok := lineBudget(cut)
		foot = s.footerLines(c.Footer, free.width(), most.footer)
		title = s.titleLines(c.Title, free.width(), most.title)
		legend = s.legendRows(c, free.width(), most.legend)
		reasons = s.verdictLines(c, free.width(), most.reasons)
		left := free.height() - below - above - footerHeight(foot) - linesHeight(title) - legendHeight(legend) - reasons.height
		if left >= minPanels || !ok {
			break
		}
	}
	s.footer(free.takeBottom(footerHeight(foot)), foot)
	s.title(free.takeTop(linesHeight(title)), title)
	s.verdict(free.takeTop(reasons.height), c.Verdict, reasons)
	s.legend(free.takeTop(legendHeight(legend)), legend)

	times, temperatures, differences := c.timeReach(), c.temperatureReach(), c.Diff.reach()
	axisRoom := axisLabel + 7 + max(s.widestTick(temperatures), s.widestTick(differences))
	moments := free.takeTop(above)
	if c.Diff == nil {
		if note := s.t.wrap(c.DiffNote, regular, sizeText, free.width(), 2); len(note) > 0 {
			s.note(free.takeBottom(vg.Length(len(note))*sizeText*leading+6), note)
		}
	}
	axis := free.takeBottom(below)
	free.x1 -= s.sideLabelWidth(c)
	free.x0 += axisRoom
	var lower *panel
	if c.Diff != nil {
		lower = &panel{box: free.takeBottom((free.height() - panelGap) * diffShare)}
		free.takeBottom(panelGap)
	}
	upper := &panel{box: free}
	upper.x = scale{times.lo, times.hi, free.x0, free.x1}
	upper.y = scale{temperatures.lo, temperatures.hi, upper.y0, upper.y1}
	s.temperaturePanel(upper, c)
	panels := []*panel{upper}
	if lower != nil {
		lower.x = scale{times.lo, times.hi, lower.x0, lower.x1}
		lower.y = scale{differences.lo, differences.hi, lower.y0, lower.y1}
		s.differencePanel(lower, c.Diff)
		panels = append(panels, lower)
	}
	s.moments(box{upper.x0, moments.y0, upper.x1, moments.y1}, panels, c.Moments)
	s.timeAxis(panels, axis, c.TimeLabel)
	return panels
}

// budget is the most lines that each block of text may have.
type budget struct{ title, reasons, legend, footer int }

// lineBudget gives the budget after so many cuts; false when there is nothing left to cut. Cuts come
// in the order in which a reader misses the lines least.
func lineBudget(cuts int) (budget, bool) {
	b := budget{title: 4, reasons: 6, legend: 6, footer: 5}
	order := [...]*int{&b.legend, &b.footer, &b.title, &b.reasons, &b.legend, &b.reasons, &b.title, &b.legend, &b.footer, &b.reasons, &b.legend}
	for i := range min(cuts, len(order)) {
		*order[i]--
	}
	return b, cuts < len(order)
}

// timeReach is the time axis' range: all samples, with a little room on both sides.
func (c *CycleChart) timeReach() reach {
	var r reach
	for _, tr := range c.Traces {
		for i, v := range tr.C {
			if drawable(v) {
				r.add(tr.TimeS[i])
			}
		}
	}
	if c.Diff != nil {
		for i, v := range c.Diff.K {
			if drawable(v) {
				r.add(c.Diff.TimeS[i])
			}
		}
	}
	if !r.any {
		return reach{lo: 0, hi: 60, any: true}
	}
	pad := (r.hi - r.lo) * 0.01
	if pad == 0 {
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
		if l.C <= r.hi+2*span && l.C >= r.lo-span {
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
	s.grid(p, wordTemperature)
	forEachExcess(func(tr Trace, nth int, limit float64) {
		s.shadeBeyond(p.x, p.y, tr.TimeS, tr.C, tr.Spikes, limit, +1, overTint, vermillion, hatchFor(tr.Role, nth))
	})

	var labels []sideLabel
	for _, l := range c.Levels {
		labels = append(labels, sideLabel{value: l.C, text: s.t.clean(l.Label, regular)})
		if p.y.holds(l.C) {
			s.line(levelLook(l.Kind), p.x0, p.y.at(l.C), p.x1, p.y.at(l.C))
		}
	}
	seen := false
	for _, inner := range [...]bool{false, true} { // the inner ring's narrower line comes last, on top
		for nth, tr := range c.Traces {
			if (tr.Role == series.Inner) == inner {
				s.trace(p.x, p.y, tr.TimeS, tr.C, tr.Spikes, traceLook(tr.Role, nth))
				seen = seen || hasReading(tr.C)
			}
		}
	}
	for nth, tr := range c.Traces {
		s.markers(p.x, p.y, tr.TimeS, tr.C, tr.Spikes, traceLook(tr.Role, nth), nth)
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

func hatchFor(r series.Role, nth int) hatch {
	if r == series.Outer || r == series.NoRole && nth%2 == 1 {
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
	for _, v := range d.K {
		if drawable(v) {
			r.add(v)
		}
	}
	span := max(r.hi-r.lo, 2)
	out := r
	if d.LimitK > 0 {
		if d.LimitK <= r.hi+1.5*span {
			out.add(d.LimitK)
		}
		if -d.LimitK >= r.lo-0.4*span {
			out.add(-d.LimitK)
		}
	}
	return padded(out, 2)
}

func (s *sheet) differencePanel(p *panel, d *Diff) {
	var limits []float64 // those inside the panel
	var labels []sideLabel
	for _, l := range [...]float64{d.LimitK, -d.LimitK} {
		switch {
		case d.LimitK <= 0:
		case p.y.holds(l):
			limits = append(limits, l)
			labels = append(labels, sideLabel{value: l, text: s.t.clean(d.LimitLabel, regular)})
		case l > 0:
			labels = append(labels, sideLabel{value: l, text: s.t.clean(d.LimitLabel, regular)})
		}
	}
	var uneven []stretch
	for _, l := range limits {
		uneven = s.beyond(uneven, p.x, p.y, d.TimeS, d.K, nil, l, sign(l))
	}
	s.columns(p, uneven, unevenPale)
	s.grid(p, d.Label)
	s.line(look{colour: axisGrey, width: 0.7}, p.x0, p.y.at(0), p.x1, p.y.at(0))
	for _, l := range limits {
		s.shadeBeyond(p.x, p.y, d.TimeS, d.K, nil, l, sign(l), unevenTint, purple, falling)
		s.line(levelLook(ToleranceLimit), p.x0, p.y.at(l), p.x1, p.y.at(l))
	}
	s.trace(p.x, p.y, d.TimeS, d.K, nil, look{colour: black, width: 1.1})
	s.frame(p)
	s.sideLabels(p, labels)
}

func sign(v float64) vg.Length {
	if v < 0 {
		return -1
	}
	return 1
}

// grid draws the panel's ground, its grid lines, the figures of the upright axis, and the axis label.
func (s *sheet) grid(p *panel, label string) {
	marks, _ := s.timeTicks(p.x)
	for _, t := range marks {
		x := p.x.at(t.value)
		s.line(look{colour: gridGrey, width: 0.5}, x, p.y0, x, p.y1)
	}
	for _, t := range ticks(p.y.lo, p.y.hi, niceStep(p.y.hi-p.y.lo, max(2, int(p.height()/(sizeSmall*1.7))))) {
		y := p.y.at(t.value)
		s.line(look{colour: gridGrey, width: 0.5}, p.x0, y, p.x1, y)
		s.line(look{colour: axisGrey, width: 0.6}, p.x0-3, y, p.x0, y)
		s.text(p.x0-5, y-sizeSmall*0.35, t.label, regular, sizeSmall, ink, right)
	}
	s.uprightText(margin-4, (p.y0+p.y1)/2, s.t.balanced(label, regular, sizeSmall, p.height()+6), sizeSmall)
}

// widestTick is the width of the longest figure that an upright axis may need.
func (s *sheet) widestTick(r reach) vg.Length {
	if !r.any {
		return 0
	}
	widest := vg.Length(0)
	for _, n := range [...]int{2, 5, 10} {
		for _, t := range ticks(r.lo, r.hi, niceStep(r.hi-r.lo, n)) {
			widest = max(widest, s.t.width(t.label, regular, sizeSmall))
		}
	}
	return widest
}

func (s *sheet) frame(p *panel) {
	l := look{colour: axisGrey, width: 0.7}
	s.line(l, p.x0, p.y0, p.x1, p.y0)
	s.line(l, p.x0, p.y1, p.x1, p.y1)
	s.line(l, p.x0, p.y0, p.x0, p.y1)
	s.line(l, p.x1, p.y0, p.x1, p.y1)
}

// sideLabel is the label of a level, right of the panel.
type sideLabel struct {
	value float64
	text  string
}

// sideLabelWidth is the room that level labels need right of the panels.
func (s *sheet) sideLabelWidth(c *CycleChart) vg.Length {
	widest := vg.Length(0)
	measure := func(text string) {
		w := s.t.width(s.t.clean("↑ "+text, regular), regular, sizeSmall)
		widest = max(widest, min(w, maxSideLabel))
	}
	for _, l := range c.Levels {
		measure(l.Label)
	}
	if c.Diff != nil && c.Diff.LimitK > 0 {
		measure(c.Diff.LimitLabel)
	}
	if widest == 0 {
		return 14
	}
	return widest + gutter + 1
}

// sideLabels sets the labels of levels beside the panel, each at its line, moved apart where lines
// are close; a leader joins line and label. A level outside the range is named at the edge, with an arrow.
func (s *sheet) sideLabels(p *panel, labels []sideLabel) {
	labels = slices.DeleteFunc(labels, func(l sideLabel) bool { return l.text == "" })
	if len(labels) == 0 {
		return
	}
	const lineHeight, gap = sizeSmall * 1.1, 1
	lo, hi := p.y0-4, p.y1+4
	// Too many for the panel: the last ones stay without a label, as each needs a line at least.
	labels = labels[:min(len(labels), max(1, int((hi-lo+gap)/(lineHeight+gap))))]
	slices.SortStableFunc(labels, func(a, b sideLabel) int { return cmp.Compare(a.value, b.value) })
	text := make([][]string, len(labels))
	want, size := make([]vg.Length, len(labels)), make([]vg.Length, len(labels))
	for most := 3; most > 0; most-- {
		total := -vg.Length(gap)
		for i, l := range labels {
			str := l.text
			if l.value > p.y.hi {
				str = "↑ " + str
			} else if l.value < p.y.lo {
				str = "↓ " + str
			}
			text[i] = s.t.wrap(str, regular, sizeSmall, maxSideLabel, most)
			want[i] = p.y.at(min(max(l.value, p.y.lo), p.y.hi))
			size[i] = vg.Length(len(text[i])) * lineHeight
			total += size[i] + gap
		}
		if total <= hi-lo {
			break
		}
	}
	at, _ := spread(want, size, lo, hi, gap)
	for i, y := range at {
		top := y + size[i]/2
		for k, line := range text[i] {
			s.text(p.x1+gutter, top-vg.Length(k)*lineHeight-sizeSmall*0.85, line, regular, sizeSmall, ink, left)
		}
		if p.y.holds(labels[i].value) {
			s.line(look{colour: axisGrey, width: 0.6}, p.x1, want[i], p.x1+gutter-3, y)
		}
	}
}

// moments draws upright lines through the panels, with labels in the strip above.
func (s *sheet) moments(strip box, panels []*panel, moments []Moment) {
	p := panels[0]
	var shown []Moment
	var want, size []vg.Length
	for _, m := range moments {
		if !p.x.holds(m.AtS) {
			continue
		}
		label := s.t.cut(s.t.clean(m.Label, regular), regular, sizeSmall, 150)
		shown = append(shown, Moment{m.AtS, label})
		want, size = append(want, p.x.at(m.AtS)), append(size, s.t.width(label, regular, sizeSmall))
	}
	if len(shown) == 0 {
		return
	}
	const gap = 8
	room := strip.width()
	at, ok := spread(want, size, strip.x0, strip.x1, gap)
	if !ok {
		each := room/vg.Length(len(shown)) - gap
		for i := range shown {
			shown[i].Label = s.t.cut(shown[i].Label, regular, sizeSmall, each)
			size[i] = s.t.width(shown[i].Label, regular, sizeSmall)
		}
		at, _ = spread(want, size, strip.x0, strip.x1, gap)
	}
	l := look{colour: axisGrey, width: 0.8, dash: dashMoment}
	for i, m := range shown {
		for _, q := range panels {
			s.line(l, want[i], q.y0, want[i], q.y1)
		}
		base := strip.y1 - sizeSmall*ascent
		if m.Label == "" {
			continue
		}
		s.text(at[i], base, m.Label, regular, sizeSmall, ink, centre)
		s.line(look{colour: axisGrey, width: 0.6}, at[i], base-sizeSmall*descent-0.5, want[i], p.y1)
	}
}

// timeTicks are the marks of a time axis: values in seconds, labels in the unit, far enough apart for
// the labels to stand beside each other.
func (s *sheet) timeTicks(x scale) ([]tick, timeUnit) {
	unit := unitFor(x.hi - x.lo)
	lo, hi := x.lo/unit.seconds, x.hi/unit.seconds
	var marks []tick
	for n := int((x.to - x.from) / 44); ; n /= 2 {
		marks = ticks(lo, hi, unit.step(hi-lo, max(n, 1)))
		widest := vg.Length(0)
		for _, t := range marks {
			widest = max(widest, s.t.width(t.label, regular, sizeSmall))
		}
		if n < 2 || vg.Length(len(marks))*widest*1.5 <= x.to-x.from {
			break
		}
	}
	for i := range marks {
		marks[i].value *= unit.seconds
	}
	return marks, unit
}

// timeAxis labels the time axis below the lowest panel, and ticks it in all.
func (s *sheet) timeAxis(panels []*panel, strip box, label string) {
	p := panels[len(panels)-1]
	marks, unit := s.timeTicks(p.x)
	base := strip.y1 - 4 - sizeSmall*ascent
	for _, t := range marks {
		x := p.x.at(t.value)
		for _, q := range panels {
			s.line(look{colour: axisGrey, width: 0.6}, x, q.y0-3, x, q.y0)
		}
		half := s.t.width(t.label, regular, sizeSmall) / 2
		s.text(min(max(x, strip.x0+half), strip.x1-half), base, t.label, regular, sizeSmall, ink, centre)
	}
	label = s.t.clean(label, regular)
	if label == "" {
		label = wordTime
	}
	symbol := ", " + unit.symbol
	label = s.t.cut(label, regular, sizeSmall, p.width()-s.t.width(symbol, regular, sizeSmall)) + symbol
	s.text((p.x0+p.x1)/2, base-sizeSmall*leading-1, label, regular, sizeSmall, ink, centre)
}

// note sets lines in the middle of a box.
func (s *sheet) note(b box, lines []string) {
	top := (b.y0+b.y1)/2 + vg.Length(len(lines))*sizeText*leading/2
	for i, line := range lines {
		s.text((b.x0+b.x1)/2, top-vg.Length(i)*sizeText*leading-sizeText*ascent, line, regular, sizeText, ink, centre)
	}
}

// verdictBlock is the verdict's word with the lines beside it.
type verdictBlock struct {
	lines  []titleLine
	indent vg.Length // where the lines begin
	height vg.Length // with the distance to what follows
}

const (
	bandPad   vg.Length = 5
	badgeSize vg.Length = 18
	bandGap   vg.Length = 4
)

// verdictLines breaks scope and reasons into at most `most` lines. What finds no room leaves an ellipsis.
func (s *sheet) verdictLines(c *CycleChart, sheetWidth vg.Length, most int) verdictBlock {
	v := verdictBlock{indent: bandPad + badgeSize + 6 + s.t.width(verdictWord(c.Verdict), bold, sizeVerdict) + 14}
	width := sheetWidth - v.indent - bandPad
	add := func(text string, w weight) {
		for _, l := range s.t.wrap(text, w, sizeText, width, most-len(v.lines)) {
			v.lines = append(v.lines, titleLine{l, w, sizeText})
		}
	}
	add(c.Scope, bold)
	for _, r := range c.Reasons {
		if len(v.lines) == most {
			last := &v.lines[most-1]
			last.text = s.t.cut(last.text, last.w, sizeText, width-s.t.width(" …", last.w, sizeText))
			last.text = strings.TrimSuffix(strings.TrimSuffix(last.text, "…"), " ") + " …"
			break
		}
		add(r, regular)
	}
	v.height = max(badgeSize, vg.Length(len(v.lines))*sizeText*leading) + 2*bandPad - 2 + bandGap
	return v
}

// verdict sets the badge, the word and the lines on a grey band.
func (s *sheet) verdict(b box, v judge.Verdict, block verdictBlock) {
	b.y0 += bandGap
	s.fillBox(bandGrey, b)
	mid := (b.y0 + b.y1) / 2
	s.badge(v, b.x0+bandPad+badgeSize/2, mid, badgeSize/2)
	s.text(b.x0+bandPad+badgeSize+6, mid-sizeVerdict*0.36, verdictWord(v), bold, sizeVerdict, ink, left)
	y := mid + vg.Length(len(block.lines))*sizeText*leading/2
	for _, l := range block.lines {
		s.text(b.x0+block.indent, y-l.size*0.95, l.text, l.w, l.size, ink, left)
		y -= l.size * leading
	}
}

// badge draws the verdict's symbol: a disc with a tick, a square with a cross, a diamond with a question mark.
func (s *sheet) badge(v judge.Verdict, x, y, r vg.Length) {
	thick := look{colour: white, width: 2.2}
	switch v {
	case judge.Pass:
		s.disc(green, x, y, r)
		s.polyline(thick, []vg.Point{{X: x - r*0.5, Y: y}, {X: x - r*0.12, Y: y - r*0.42}, {X: x + r*0.5, Y: y + r*0.42}})
	case judge.Fail:
		s.fillBox(vermillion, box{x - r, y - r, x + r, y + r})
		s.line(thick, x-r*0.5, y-r*0.5, x+r*0.5, y+r*0.5)
		s.line(thick, x-r*0.5, y+r*0.5, x+r*0.5, y-r*0.5)
	default:
		s.fill(black, []vg.Point{{X: x - r*1.1, Y: y}, {X: x, Y: y - r*1.1}, {X: x + r*1.1, Y: y}, {X: x, Y: y + r*1.1}})
		q := r * 1.1 * vg.Length(1-1.4*1.5/float64(r*1.1))
		s.fill(white, []vg.Point{{X: x - q, Y: y}, {X: x, Y: y - q}, {X: x + q, Y: y}, {X: x, Y: y + q}})
		if v == judge.Unproven {
			s.text(x, y-12*0.36, "?", bold, 12, ink, centre)
		} else {
			s.line(look{colour: black, width: 1.8}, x-r*0.4, y, x+r*0.4, y)
		}
	}
}

// titleLine is a line of the heading.
type titleLine struct {
	text string
	w    weight
	size vg.Length
}

// titleLines are the heading's lines: the first text bold in at most two lines, the others one line
// each, so many in all.
func (s *sheet) titleLines(title []string, width vg.Length, all int) []titleLine {
	var out []titleLine
	for i, t := range title {
		style, most := titleLine{"", regular, sizeText}, 1
		if i == 0 {
			style, most = titleLine{"", bold, sizeTitle}, 2
		}
		for _, l := range s.t.wrap(t, style.w, style.size, width, min(most, all-len(out))) {
			style.text = l
			out = append(out, style)
		}
	}
	return out
}

func linesHeight(lines []titleLine) vg.Length {
	h := vg.Length(0)
	for _, l := range lines {
		h += l.size * leading
	}
	if h > 0 {
		h += 4
	}
	return h
}

func (s *sheet) title(b box, lines []titleLine) {
	y := b.y1
	for _, l := range lines {
		s.text(b.x0, y-l.size*ascent, l.text, l.w, l.size, ink, left)
		y -= l.size * leading
	}
}

// footerLines breaks the footer's texts into at most `most` lines. The first text, the cautions, is the
// last to be cut: the others get one line each.
func (s *sheet) footerLines(footer []string, width vg.Length, most int) []titleLine {
	var out []titleLine
	for i, f := range footer {
		room := 1
		if i == 0 {
			room = max(most-len(footer)+1, most-1)
		}
		for _, l := range s.t.wrap(f, regular, sizeSmall, width, min(room, most-len(out))) {
			out = append(out, titleLine{l, regular, sizeSmall})
		}
	}
	return out
}

func footerHeight(lines []titleLine) vg.Length {
	if len(lines) == 0 {
		return 0
	}
	return vg.Length(len(lines))*sizeSmall*leading + 4
}

func (s *sheet) footer(b box, lines []titleLine) {
	if len(lines) == 0 {
		return
	}
	s.line(look{colour: axisGrey, width: 0.5}, b.x0, b.y1-1, b.x1, b.y1-1)
	for i, l := range lines {
		s.text(b.x0, b.y1-3-vg.Length(i)*sizeSmall*leading-sizeSmall*ascent, l.text, l.w, l.size, ink, left)
	}
}
