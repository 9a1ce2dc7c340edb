package chart

import (
	"strings"

	"gonum.org/v1/plot/vg"

	"ringheat/analyze/judge"
)

// surroundings is what stands above and below the panels.
type surroundings struct {
	title   []string
	verdict judge.Verdict // chooses the badge
	word    string        // set large beside it
	scope   string
	reasons []string
	legend  []legendItem
	footer  []string
	panels  vg.Length // height that the panels and what belongs to them need at least
}

// surround draws the surroundings from the top and from the bottom of the sheet, and gives what is left for
// the panels. When there is more text than room, lines are cut in the order of lineBudget.
func (s *sheet) surround(p *surroundings) box {
	free := box{margin, margin, s.w - margin, s.h - margin}
	p.word = s.t.cut(s.t.clean(p.word, bold), bold, sizeVerdict, free.width()/2)
	var foot, title []titleLine
	var legend [][]legendItem
	var reasons verdictBlock
	for cuts := 0; ; cuts++ {
		most, more := lineBudget(cuts)
		foot = s.footerLines(p.footer, free.width(), most.footer)
		title = s.titleLines(p.title, free.width(), most.title)
		legend = s.legendRows(p.legend, free.width(), most.legend)
		reasons = s.verdictLines(p, free.width(), most.reasons)
		used := footerHeight(foot) + linesHeight(title) + legendHeight(legend) + reasons.height
		if free.height()-used >= p.panels || !more {
			break
		}
	}
	s.footer(free.takeBottom(footerHeight(foot)), foot)
	s.title(free.takeTop(linesHeight(title)), title)
	s.verdict(free.takeTop(reasons.height), p.verdict, p.word, reasons)
	s.legend(free.takeTop(legendHeight(legend)), legend)
	return free
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
func (s *sheet) verdictLines(p *surroundings, width vg.Length, most int) verdictBlock {
	v := verdictBlock{indent: bandPad + badgeSize + 6 + s.t.width(p.word, bold, sizeVerdict) + 14}
	width -= v.indent + bandPad
	add := func(text string, w weight) {
		for _, l := range s.t.wrap(text, w, sizeText, width, most-len(v.lines)) {
			v.lines = append(v.lines, titleLine{l, w, sizeText})
		}
	}
	add(p.scope, bold)
	for _, r := range p.reasons {
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
func (s *sheet) verdict(b box, v judge.Verdict, word string, block verdictBlock) {
	b.y0 += bandGap
	s.fillBox(bandGrey, b)
	mid := (b.y0 + b.y1) / 2
	s.badge(v, b.x0+bandPad+badgeSize/2, mid, badgeSize/2)
	s.text(b.x0+bandPad+badgeSize+6, mid-sizeVerdict*0.36, word, bold, sizeVerdict, ink, left)
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
