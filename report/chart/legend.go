package chart

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
)

// legendItem is a sample of a line, marker or shading and the words for it.
type legendItem struct {
	text   string
	width  vg.Length // of sample and text
	sample func(s *sheet, b box)
}

const (
	sampleWidth vg.Length = 24
	legendGap   vg.Length = 14
)

// lineSample draws a piece of a line with its marker.
func lineSample(l look) func(*sheet, box) {
	return func(s *sheet, b box) {
		y := (b.y0 + b.y1) / 2
		s.line(l, b.x0, y, b.x1, y)
		if l.mark != noMarker {
			s.marker(l.mark, l.colour, (b.x0+b.x1)/2, y)
		}
	}
}

func (s *sheet) legendItem(text string, sample func(*sheet, box)) legendItem {
	text = s.t.cut(s.t.clean(text, regular), regular, sizeText, s.w-2*margin-sampleWidth-4)
	return legendItem{text, sampleWidth + 4 + s.t.width(text, regular, sizeText), sample}
}

// legendOf lists the legend's items in the order of the picture: traces, shadings, spikes, curves.
func (s *sheet) legendOf(c *CycleChart) []legendItem {
	var items []legendItem
	add := func(text string, sample func(*sheet, box)) { items = append(items, s.legendItem(text, sample)) }
	shading := func(h hatch) func(*sheet, box) {
		return func(s *sheet, b box) { s.swatch(b, overTint, vermillion, h) }
	}
	spikes := 0
	for nth, tr := range c.Traces {
		add(tr.Name, lineSample(c.lookOf(nth)))
		spikes += len(tr.Spikes)
	}
	for nth, tr := range c.Traces {
		if tr.isRing() && c.passesLimit(tr) {
			add(tr.Name+" "+wordAbove, shading(c.hatchOf(nth)))
		}
	}
	if c.Diff != nil && c.Diff.passesLimit() {
		add(wordBeyond, func(s *sheet, b box) { s.swatch(b, unevenTint, purple, falling) })
	}
	if spikes > 0 {
		add(wordSpike+" ("+strconv.Itoa(spikes)+spikeRange(c.Traces)+")", func(s *sheet, b box) {
			s.marker(cross, black, (b.x0+b.x1)/2, (b.y0+b.y1)/2)
		})
	}
	for _, f := range c.Curves {
		if f.Text != "" {
			add(f.Text, lineSample(curveLook(f.Role)))
		}
	}
	return items
}

// legendRows arranges items in rows. If there are more than `most` rows the last one ends with a count of what
// is left out.
func (s *sheet) legendRows(items []legendItem, width vg.Length, most int) [][]legendItem {
	var rows [][]legendItem
	used := width
	for i, it := range items {
		if used+legendGap+it.width > width {
			if len(rows) == most {
				s.leftOut(rows, len(items)-i, width)
				break
			}
			rows = append(rows, nil)
			used = -legendGap
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], it)
		used += legendGap + it.width
	}
	return rows
}

// leftOut replaces what stands at the end of the last row by a count of the items that have no place.
func (s *sheet) leftOut(rows [][]legendItem, n int, width vg.Length) {
	last := rows[len(rows)-1]
	for {
		text := fmt.Sprintf(wordMore, n)
		it := legendItem{text: text, width: s.t.width(text, regular, sizeText)}
		used := it.width
		for _, other := range last {
			used += other.width + legendGap
		}
		if used <= width || len(last) == 0 {
			rows[len(rows)-1] = append(last, it)
			return
		}
		last, n = last[:len(last)-1], n+1
	}
}

func legendHeight(rows [][]legendItem) vg.Length { return vg.Length(len(rows))*sizeText*leading + 5 }

func (s *sheet) legend(b box, rows [][]legendItem) {
	y := b.y1
	for _, row := range rows {
		x := b.x0
		for _, it := range row {
			at := x
			if it.sample != nil {
				it.sample(s, box{x, y - sizeText*0.95, x + sampleWidth, y - sizeText*0.15})
				at += sampleWidth + 4
			}
			s.text(at, y-sizeText*0.9, it.text, regular, sizeText, ink, left)
			x += it.width + legendGap
		}
		y -= sizeText * leading
	}
}

// passesLimit says whether any reading of a trace stands above a tolerance limit.
func (c *CycleChart) passesLimit(tr Trace) bool {
	for _, l := range c.Levels {
		if l.Kind != ToleranceLimit {
			continue
		}
		k := 0
		for i, v := range tr.C {
			for k < len(tr.Spikes) && int(tr.Spikes[k]) < i {
				k++
			}
			if v > l.C && drawable(v) && !(k < len(tr.Spikes) && int(tr.Spikes[k]) == i) {
				return true
			}
		}
	}
	return false
}

func (d *Diff) passesLimit() bool {
	passes := false
	if d.hasLimit() {
		d.each(func(v float64) { passes = passes || v > d.LimitK || v < -d.LimitK })
	}
	return passes
}

// spikeRange names the range of the marked readings, since those off the scale stand at the panel's edge.
func spikeRange(traces []Trace) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, tr := range traces {
		for _, i := range tr.Spikes {
			if int(i) < len(tr.C) && drawable(tr.C[i]) {
				low, high = min(low, tr.C[i]), max(high, tr.C[i])
			}
		}
	}
	if low > high {
		return ""
	}
	return ", " + strconv.FormatFloat(low, 'f', 0, 64) + " to " + strconv.FormatFloat(high, 'f', 0, 64) + " °C"
}
