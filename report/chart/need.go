package chart

import (
	"fmt"
	"io"

	"gonum.org/v1/plot/vg"

	"ringheat/analyze/judge"
)

// NeedChart is the bore temperature that a seat needs, over the temperature of the shaft, for several
// interferences. Temperatures are °C. No slice is changed or kept.
type NeedChart struct {
	Title   []string
	Verdict judge.Verdict // chooses the badge: Pass when warming alone does the joint, Fail when it does not, else NotAsked
	Answer  string        // set large beside the badge: "set 118 °C"
	Scope   string        // bold, first of the lines beside it
	Reasons []string

	AcrossLabel string // of the axis across: "temperature of the shaft"; the unit is added
	Lines       []NeedLine
	Levels      []Level
	Point       *NeedPoint // the joint at hand; nil for none

	Footer []string // cautions first
}

// NeedLine is the needed temperature for one interference.
type NeedLine struct {
	Label   string
	ShaftC  []float64 // ascending
	NeededC []float64 // as long as ShaftC; NaN where there is no answer
	Main    bool      // drawn heavier: the joint at hand
	BandK   float64   // half-width of the band about the line, its expanded uncertainty; 0 for none
}

// NeedPoint marks one shaft temperature and its need.
type NeedPoint struct {
	ShaftC, NeededC float64
	Label           string // for the legend
}

// Need writes the picture of a need to w as a PNG. The same input gives the same bytes.
func (d *Drawer) Need(w io.Writer, c NeedChart, size Size) error {
	for i, l := range c.Lines {
		if len(l.ShaftC) != len(l.NeededC) {
			return fmt.Errorf("line %d (%s): %d shaft temperatures for %d needed ones", i+1, l.Label, len(l.ShaftC), len(l.NeededC))
		}
	}
	sh, err := d.begin(size)
	if err != nil {
		return err
	}
	drawNeed(sh, &c)
	return d.raster.encode(w)
}

func (l *NeedLine) look() look {
	if l.Main {
		return look{colour: blue, width: 2, mark: disc}
	}
	return look{colour: axisGrey, width: 0.9}
}

func (l *NeedLine) hasBand() bool { return l.BandK > 0 && drawable(l.BandK) }

// drawNeed lays the sheet out and gives its panel.
func drawNeed(s *sheet, c *NeedChart) []*panel {
	const below = sizeSmall*leading*2 + 8
	shafts, needs := c.reaches()
	free := s.surround(&surroundings{
		title: c.Title, verdict: c.Verdict, word: c.Answer, scope: c.Scope, reasons: c.Reasons,
		legend: s.legendOfNeed(c, needs), footer: c.Footer, panels: below + 8 + minPanels,
	})
	free.takeTop(8)
	axis := free.takeBottom(below)
	var texts []string
	for _, l := range c.Lines {
		texts = append(texts, l.Label)
	}
	for _, l := range c.Levels {
		texts = append(texts, l.Label)
	}
	free.x0 += axisLabel + 7 + s.widestTick(needs)
	free.x1 -= s.sideLabelWidth(texts)
	p := &panel{box: free, x: scale{shafts.lo, shafts.hi, free.x0, free.x1}, y: scale{needs.lo, needs.hi, free.y0, free.y1}}

	marks := ticks(p.x.lo, p.x.hi, niceStep(p.x.hi-p.x.lo, int(p.width()/44)))
	s.tooHot(p, c.Levels)
	s.grid(p, marks, wordNeeded)
	s.bands(p, c.Lines)
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
	for _, main := range [...]bool{false, true} {
		for i := range c.Lines {
			l := &c.Lines[i]
			if l.Main != main {
				continue
			}
			s.trace(p.x, p.y, l.ShaftC, l.NeededC, nil, l.look())
			s.markers(p.x, p.y, l.ShaftC, l.NeededC, nil, l.look(), 0)
			if end, ok := l.end(p.x); ok {
				labels = append(labels, sideLabel{value: end, text: s.t.clean(l.Label, regular)})
				seen = true
			}
		}
	}
	if !seen {
		s.note(box{p.x0, p.y0 + p.height()/2 - 10, p.x1, p.y0 + p.height()/2 + 10}, []string{wordNothing})
	}
	if pt := c.Point; pt != nil && p.x.holds(pt.ShaftC) && p.y.holds(pt.NeededC) {
		x, y := p.x.at(pt.ShaftC), p.y.at(pt.NeededC)
		thin := look{colour: axisGrey, width: 0.8, dash: dashMoment}
		s.line(thin, x, p.y0, x, y)
		s.line(thin, p.x0, y, x, y)
		s.target(x, y)
	}
	s.frame(p)
	s.sideLabels(p, labels)
	s.acrossAxis([]*panel{p}, axis, marks, s.t.clean(c.AcrossLabel, regular), ", °C")
	return []*panel{p}
}

// end is a line's value at the right edge of the panel, or its last one.
func (l *NeedLine) end(x scale) (float64, bool) {
	for i := len(l.ShaftC) - 1; i >= 0; i-- {
		if x.holds(l.ShaftC[i]) && drawable(l.NeededC[i]) {
			return l.NeededC[i], true
		}
	}
	return 0, false
}

// reaches are the ranges of the axes. Levels that would leave the lines less than a third of the panel
// are named at the edge.
func (c *NeedChart) reaches() (shafts, needs reach) {
	for i := range c.Lines {
		l := &c.Lines[i]
		for k, v := range l.NeededC {
			if drawable(v) && drawable(l.ShaftC[k]) {
				shafts.add(l.ShaftC[k])
				needs.add(v)
				if l.hasBand() {
					needs.add(v - l.BandK)
					needs.add(v + l.BandK)
				}
			}
		}
	}
	if !shafts.any {
		shafts, needs = reach{0, 40, true}, reach{0, 100, true}
	}
	if shafts.hi-shafts.lo < 1 {
		shafts.lo, shafts.hi = shafts.lo-0.5, shafts.hi+0.5
	}
	span := max(needs.hi-needs.lo, 5)
	out := needs
	for _, l := range c.Levels {
		if l.drawable() && l.C <= needs.hi+2*span && l.C >= needs.lo-span {
			out.add(l.C)
		}
	}
	return shafts, padded(out, 5)
}

// tooHot tints the part of the panel above the lowest tolerance limit.
func (s *sheet) tooHot(p *panel, levels []Level) {
	top := p.y1
	for _, l := range levels {
		if l.Kind == ToleranceLimit && p.y.holds(l.C) {
			top = min(top, p.y.at(l.C))
		}
	}
	if top < p.y1 {
		s.swatch(box{p.x0, top, p.x1, p.y1}, overPale, overTint, rising)
	}
}

// bands fills the uncertainty about lines.
func (s *sheet) bands(p *panel, lines []NeedLine) {
	for i := range lines {
		l := &lines[i]
		if !l.hasBand() {
			continue
		}
		s.reduce(p.x, p.y, l.ShaftC, l.NeededC, nil, func(run []vg.Point) {
			half := p.y.at(p.y.lo+l.BandK) - p.y0
			area := make([]vg.Point, 0, 2*len(run))
			for _, q := range run {
				area = append(area, vg.Point{X: q.X, Y: q.Y + half})
			}
			for i := len(run) - 1; i >= 0; i-- {
				area = append(area, vg.Point{X: run[i].X, Y: run[i].Y - half})
			}
			s.fill(bandBlue, area)
		})
	}
}

// target marks a point by a ring with a dot.
func (s *sheet) target(x, y vg.Length) {
	s.disc(black, x, y, 4.6)
	s.disc(white, x, y, 3.2)
	s.disc(black, x, y, 1.6)
}

func (s *sheet) legendOfNeed(c *NeedChart, needs reach) []legendItem {
	var items []legendItem
	add := func(text string, sample func(*sheet, box)) { items = append(items, s.legendItem(text, sample)) }
	if c.Point != nil {
		add(c.Point.Label, func(s *sheet, b box) { s.target((b.x0+b.x1)/2, (b.y0+b.y1)/2) })
	}
	band := false
	for i := range c.Lines {
		l := &c.Lines[i]
		if l.Main {
			add(l.Label, lineSample(l.look()))
		}
		band = band || l.hasBand()
	}
	if band {
		add(wordBand, func(s *sheet, b box) { s.fillBox(bandBlue, b) })
	}
	if len(c.Lines) > 1 {
		add(wordOthers, lineSample((&NeedLine{}).look()))
	}
	for _, l := range c.Levels {
		if l.Kind == ToleranceLimit && l.C <= needs.hi {
			add(wordTooHot, func(s *sheet, b box) { s.swatch(b, overPale, overTint, rising) })
			break
		}
	}
	return items
}
