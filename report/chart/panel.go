package chart

import (
	"cmp"
	"slices"

	"gonum.org/v1/plot/vg"
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

// grid draws the panel's ground, its grid lines, the figures of the upright axis, and the axis label.
func (s *sheet) grid(p *panel, across []tick, label string) {
	for _, t := range across {
		x := p.x.at(t.value)
		s.line(look{colour: gridGrey, width: 0.5}, x, p.y0, x, p.y1)
	}
	up := ticks(p.y.lo, p.y.hi, niceStep(p.y.hi-p.y.lo, max(2, int(p.height()/(sizeSmall*1.7)))))
	if len(up) < 3 { // a low panel: closer, rather than a lone figure
		up = ticks(p.y.lo, p.y.hi, niceStep(p.y.hi-p.y.lo, max(2, int(p.height()/(sizeSmall*1.2)))))
	}
	for _, t := range up {
		y := p.y.at(t.value)
		s.line(look{colour: gridGrey, width: 0.5}, p.x0, y, p.x1, y)
		s.line(look{colour: axisGrey, width: 0.6}, p.x0-3, y, p.x0, y)
		s.text(p.x0-5, y-sizeSmall*0.35, t.label, regular, sizeSmall, ink, right)
	}
	s.uprightText(margin-4, (p.y0+p.y1)/2, s.t.balanced(label, regular, sizeSmall, p.height()+panelGap-1), sizeSmall)
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
func (s *sheet) sideLabelWidth(texts []string) vg.Length {
	widest := vg.Length(0)
	for _, text := range texts {
		w := s.t.width(s.t.clean("↑ "+text, regular), regular, sizeSmall)
		widest = max(widest, min(w, maxSideLabel))
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
	marks, unit := s.timeTicks(panels[0].x)
	if label = s.t.clean(label, regular); label == "" {
		label = wordTime
	}
	s.acrossAxis(panels, strip, marks, label, ", "+unit.symbol)
}

// acrossAxis sets marks and a label below the lowest panel, and ticks all panels. unit ends the label and is not cut.
func (s *sheet) acrossAxis(panels []*panel, strip box, marks []tick, label, unit string) {
	p := panels[len(panels)-1]
	base := strip.y1 - 4 - sizeSmall*ascent
	for _, t := range marks {
		x := p.x.at(t.value)
		for _, q := range panels {
			s.line(look{colour: axisGrey, width: 0.6}, x, q.y0-3, x, q.y0)
		}
		half := s.t.width(t.label, regular, sizeSmall) / 2
		s.text(min(max(x, strip.x0+half), strip.x1-half), base, t.label, regular, sizeSmall, ink, centre)
	}
	label = s.t.cut(label, regular, sizeSmall, p.width()-s.t.width(unit, regular, sizeSmall)) + unit
	s.text((p.x0+p.x1)/2, base-sizeSmall*leading-1, label, regular, sizeSmall, ink, centre)
}

// note sets lines in the middle of a box.
func (s *sheet) note(b box, lines []string) {
	top := (b.y0+b.y1)/2 + vg.Length(len(lines))*sizeText*leading/2
	for i, line := range lines {
		s.text((b.x0+b.x1)/2, top-vg.Length(i)*sizeText*leading-sizeText*ascent, line, regular, sizeText, ink, centre)
	}
}
