package chart

import (
	"gonum.org/v1/plot/vg"

	"ringheat/analyze/judge"
	"ringheat/analyze/series"
)

// Distances, points.
const (
	margin       vg.Length = 10 // round the sheet
	gutter       vg.Length = 10 // between a panel and the labels of its levels
	maxSideLabel vg.Length = 92 // width of a level's label
	axisRoom     vg.Length = 46 // left of the panels: tick labels and the axis label
	panelGap     vg.Length = 15 // between the panels
	minPanels    vg.Length = 150
	diffShare              = 0.33 // of the panels' height
)

// panel is an area with axes.
type panel struct {
	box
	x, y scale
}

// drawCycle lays the sheet out from the top and from the bottom towards the panels, which get what is left.
func drawCycle(s *sheet, c *CycleChart) {
	s.fillBox(white, box{0, 0, s.w, s.h})
	free := box{margin, margin, s.w - margin, s.h - margin}

	foot := s.footerLines(c.Footer, free.width(), 3)
	s.footer(free.takeBottom(footerHeight(foot)), foot)

	title := s.titleLines(c.Title, free.width())
	s.title(free.takeTop(titleHeight(title)), title)

	legend := s.legendRows(c, free.width(), 5)
	legendHeight := vg.Length(len(legend))*sizeText*leading + 5
	below := sizeSmall*leading*2 + 8 // time ticks and axis label
	above := sizeSmall*leading + 8   // moments
	reasonRoom := free.height() - legendHeight - below - above - minPanels
	s.verdict(&free, c, reasonRoom)
	s.legend(free.takeTop(legendHeight), legend)

	times := c.timeReach()
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
	s.temperaturePanel(upper, c)
	panels := []*panel{upper}
	if lower != nil {
		lower.x = scale{times.lo, times.hi, lower.x0, lower.x1}
		s.differencePanel(lower, c)
		panels = append(panels, lower)
	}
	s.moments(moments, panels, c.Moments)
	s.timeAxis(panels, axis, c.TimeLabel)
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
	r := c.temperatureReach()
	p.y = scale{r.lo, r.hi, p.y0, p.y1}
	s.grid(p, wordTemperature)

	for nth, tr := range c.Traces {
		for _, l := range c.Levels {
			if l.Kind == ToleranceLimit && p.y.holds(l.C) && tr.isRing() {
				s.shadeBeyond(p.x, p.y, tr.TimeS, tr.C, tr.Spikes, l.C, +1, overTint, vermillion, hatchFor(tr.Role, nth))
			}
		}
	}
	var labels []sideLabel
	for _, l := range c.Levels {
		labels = append(labels, sideLabel{value: l.C, text: l.Label})
		if p.y.holds(l.C) {
			s.line(levelLook(l.Kind), p.x0, p.y.at(l.C), p.x1, p.y.at(l.C))
		}
	}
	seen := false
	for nth, tr := range c.Traces {
		l := traceLook(tr.Role, nth)
		s.trace(p.x, p.y, tr.TimeS, tr.C, tr.Spikes, l)
		seen = seen || usualInterval(tr.TimeS, tr.C) > 0
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

func (s *sheet) differencePanel(p *panel, c *CycleChart) {
	d := c.Diff
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
	out = padded(out, 2)
	p.y = scale{out.lo, out.hi, p.y0, p.y1}
	s.grid(p, d.Label)
	s.line(look{colour: axisGrey, width: 0.7}, p.x0, p.y.at(0), p.x1, p.y.at(0))
	var labels []sideLabel
	if d.LimitK > 0 {
		for _, side := range [...]float64{1, -1} {
			l := d.LimitK * side
			switch {
			case p.y.holds(l):
				s.shadeBeyond(p.x, p.y, d.TimeS, d.K, nil, l, vg.Length(side), unevenTint, purple, falling)
				s.line(levelLook(ToleranceLimit), p.x0, p.y.at(l), p.x1, p.y.at(l))
				labels = append(labels, sideLabel{value: l, text: d.LimitLabel})
			case side > 0:
				labels = append(labels, sideLabel{value: l, text: d.LimitLabel})
			}
		}
	}
	s.trace(p.x, p.y, d.TimeS, d.K, nil, look{colour: black, width: 1.3})
	s.frame(p)
	s.sideLabels(p, labels)
}

// grid draws the panel's ground, its horizontal grid lines with their figures, and the axis label.
func (s *sheet) grid(p *panel, label string) {
	n := max(2, int(p.height()/(sizeSmall*2.4)))
	for _, t := range ticks(p.y.lo, p.y.hi, niceStep(p.y.hi-p.y.lo, n)) {
		y := p.y.at(t.value)
		s.line(look{colour: gridGrey, width: 0.5}, p.x0, y, p.x1, y)
		s.line(look{colour: axisGrey, width: 0.6}, p.x0-3, y, p.x0, y)
		s.text(p.x0-5, y-sizeSmall*0.35, t.label, regular, sizeSmall, ink, right)
	}
	lines := s.t.wrap(label, regular, sizeSmall, p.height()+4, 2)
	x := p.x0 - axisRoom
	if len(lines) > 1 {
		x -= 4
	}
	s.uprightText(x, (p.y0+p.y1)/2, lines, sizeSmall)
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
	if len(labels) == 0 {
		return
	}
	const lineHeight = sizeSmall * 1.1
	lo, hi := p.y0-4, p.y1+4
	var text [][]string
	var want, size []vg.Length
	for most := 3; ; most-- {
		text, want, size = text[:0], want[:0], size[:0]
		total := vg.Length(0)
		for _, l := range labels {
			str, at := l.text, p.y.at(min(max(l.value, p.y.lo), p.y.hi))
			if l.value > p.y.hi {
				str = "↑ " + str
			} else if l.value < p.y.lo {
				str = "↓ " + str
			}
			lines := s.t.wrap(str, regular, sizeSmall, maxSideLabel, most)
			text, want, size = append(text, lines), append(want, at), append(size, vg.Length(len(lines))*lineHeight)
			total += vg.Length(len(lines)) * lineHeight
		}
		if total <= hi-lo || most == 1 {
			break
		}
	}
	for n := len(labels); n > 0; n-- { // too many for the panel: the last ones stay without a label
		at, ok := spread(want[:n], size[:n], lo, hi, 1)
		if !ok && n > 1 {
			continue
		}
		for i, y := range at {
			top := y + size[i]/2
			for k, line := range text[i] {
				s.text(p.x1+gutter, top-vg.Length(k)*lineHeight-sizeSmall*0.85, line, regular, sizeSmall, ink, left)
			}
			if p.y.holds(labels[i].value) {
				thin := look{colour: axisGrey, width: 0.6}
				s.line(thin, p.x1, want[i], p.x1+gutter-3, y)
			}
		}
		return
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
	room := strip.width() - axisRoom
	at, ok := spread(want, size, strip.x0+axisRoom, strip.x1, gap)
	if !ok {
		each := room/vg.Length(len(shown)) - gap
		for i := range shown {
			shown[i].Label = s.t.cut(shown[i].Label, regular, sizeSmall, each)
			size[i] = s.t.width(shown[i].Label, regular, sizeSmall)
		}
		at, _ = spread(want, size, strip.x0+axisRoom, strip.x1, gap)
	}
	l := look{colour: axisGrey, width: 0.8, dash: dashMoment}
	for i, m := range shown {
		for _, q := range panels {
			s.line(l, want[i], q.y0, want[i], q.y1)
		}
		base := strip.y1 - sizeSmall*ascent
		s.text(at[i], base, m.Label, regular, sizeSmall, ink, centre)
		s.line(look{colour: axisGrey, width: 0.6}, at[i], base-sizeSmall*descent-0.5, want[i], p.y1)
	}
}

// timeAxis labels the time axis below the lowest panel, and ticks it in all.
func (s *sheet) timeAxis(panels []*panel, strip box, label string) {
	p := panels[len(panels)-1]
	unit := unitFor(p.x.hi - p.x.lo)
	lo, hi := p.x.lo/unit.seconds, p.x.hi/unit.seconds
	step := unit.step(hi-lo, int(p.width()/44))
	base := strip.y1 - 4 - sizeSmall*ascent
	for _, t := range ticks(lo, hi, step) {
		x := p.x.at(t.value * unit.seconds)
		for _, q := range panels {
			s.line(look{colour: axisGrey, width: 0.6}, x, q.y0-3, x, q.y0)
		}
		s.text(x, base, t.label, regular, sizeSmall, ink, centre)
	}
	if label == "" {
		label = wordTime
	}
	str := s.t.cut(s.t.clean(label+", "+unit.symbol, regular), regular, sizeSmall, p.width())
	s.text((p.x0+p.x1)/2, base-sizeSmall*leading-1, str, regular, sizeSmall, ink, centre)
}

// note sets lines in the middle of a box.
func (s *sheet) note(b box, lines []string) {
	top := (b.y0+b.y1)/2 + vg.Length(len(lines))*sizeText*leading/2
	for i, line := range lines {
		s.text((b.x0+b.x1)/2, top-vg.Length(i)*sizeText*leading-sizeText*ascent, line, regular, sizeText, ink, centre)
	}
}

// verdict sets the badge, the word and the reasons, in as many lines as room allows.
func (s *sheet) verdict(free *box, c *CycleChart, room vg.Length) {
	const pad, badge = 5, 18
	word := verdictWord(c.Verdict)
	indent := pad + badge + 6 + s.t.width(word, bold, sizeVerdict) + 14
	width := free.width() - indent - pad
	most := min(6, max(1, int((room-2*pad)/(sizeText*leading))))
	type styled struct {
		text string
		w    weight
	}
	var lines []styled
	add := func(text string, w weight) {
		for _, l := range s.t.wrap(text, w, sizeText, width, most-len(lines)) {
			lines = append(lines, styled{l, w})
		}
	}
	if c.Scope != "" {
		add(c.Scope, bold)
	}
	for i, r := range c.Reasons {
		if most == len(lines) && i > 0 {
			// What is left out is said, not dropped.
			last := &lines[len(lines)-1]
			last.text = s.t.cut(last.text+" …", last.w, sizeText, width)
			break
		}
		add(r, regular)
	}
	height := max(badge+2*pad-2, vg.Length(len(lines))*sizeText*leading+2*pad-2)
	b := free.takeTop(height)
	free.takeTop(4)
	s.fillBox(bandGrey, b)
	mid := (b.y0 + b.y1) / 2
	s.badge(c.Verdict, b.x0+pad+badge/2, mid, badge/2)
	s.text(b.x0+pad+badge+6, mid-sizeVerdict*0.36, word, bold, sizeVerdict, ink, left)
	top := mid + vg.Length(len(lines))*sizeText*leading/2
	for i, l := range lines {
		s.text(b.x0+indent, top-vg.Length(i)*sizeText*leading-sizeText*0.95, l.text, l.w, sizeText, ink, left)
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

// titleLines are the heading's lines: the first one bold, up to three in all.
func (s *sheet) titleLines(title []string, width vg.Length) []string {
	var out []string
	for i, t := range title {
		w, size := regular, sizeText
		if i == 0 {
			w, size = bold, sizeTitle
		}
		if t = s.t.cut(s.t.clean(t, w), w, size, width); len(out) < 3 {
			out = append(out, t)
		}
	}
	return out
}

func titleHeight(lines []string) vg.Length {
	if len(lines) == 0 {
		return 0
	}
	return sizeTitle*leading + vg.Length(len(lines)-1)*sizeText*leading + 4
}

func (s *sheet) title(b box, lines []string) {
	y := b.y1
	for i, l := range lines {
		w, size := regular, sizeText
		if i == 0 {
			w, size = bold, sizeTitle
		}
		s.text(b.x0, y-size*ascent, l, w, size, ink, left)
		y -= size * leading
	}
}

func (s *sheet) footerLines(footer []string, width vg.Length, most int) []string {
	var out []string
	for i, f := range footer {
		rest := len(footer) - 1 - i // each later text keeps a line
		out = append(out, s.t.wrap(f, regular, sizeSmall, width, max(1, most-len(out)-rest))...)
		if len(out) >= most {
			return out[:most]
		}
	}
	return out
}

func footerHeight(lines []string) vg.Length {
	if len(lines) == 0 {
		return 0
	}
	return vg.Length(len(lines))*sizeSmall*leading + 4
}

func (s *sheet) footer(b box, lines []string) {
	if len(lines) == 0 {
		return
	}
	s.line(look{colour: axisGrey, width: 0.5}, b.x0, b.y1-1, b.x1, b.y1-1)
	for i, l := range lines {
		s.text(b.x0, b.y1-3-vg.Length(i)*sizeSmall*leading-sizeSmall*ascent, l, regular, sizeSmall, ink, left)
	}
}
