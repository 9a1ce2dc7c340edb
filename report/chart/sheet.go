package chart

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// sheetWidth is the width of every sheet in points: A4 upright (595 pt) rounded up.
const sheetWidth vg.Length = 600

// Sizes of type, points. Nothing is smaller than 9.
const (
	sizeVerdict vg.Length = 17
	sizeTitle   vg.Length = 11
	sizeText    vg.Length = 9.5
	sizeSmall   vg.Length = 9
	leading               = 1.2 // distance of baselines over size of type
)

// Letters of Liberation Sans reach this far above and below the baseline, in ems (accents included).
const (
	ascent  = 0.91
	descent = 0.22
)

// box is a rectangle of the sheet in points, y upwards from the bottom edge.
type box struct{ x0, y0, x1, y1 vg.Length }

func (b box) width() vg.Length  { return b.x1 - b.x0 }
func (b box) height() vg.Length { return b.y1 - b.y0 }

// takeTop cuts a strip off the top of b.
func (b *box) takeTop(h vg.Length) box {
	strip := box{b.x0, b.y1 - h, b.x1, b.y1}
	b.y1 -= h
	return strip
}

// takeBottom cuts a strip off the bottom of b.
func (b *box) takeBottom(h vg.Length) box {
	strip := box{b.x0, b.y0, b.x1, b.y0 + h}
	b.y0 += h
	return strip
}

// align says which point of a text its x stands for.
type align uint8

const (
	left align = iota
	centre
	right
)

// scratch holds buffers that outlive a picture.
type scratch struct {
	path   vg.Path
	points []vg.Point
}

// sheet is a picture being drawn.
type sheet struct {
	canvas  vg.Canvas
	t       *typesetter
	w, h    vg.Length
	pixel   vg.Length // one pixel, in points
	scratch *scratch
}

func newSheet(c vg.Canvas, size Size, t *typesetter, sc *scratch) *sheet {
	return &sheet{
		canvas: c, t: t, scratch: sc,
		w:     sheetWidth,
		h:     sheetWidth * vg.Length(size.Height) / vg.Length(size.Width),
		pixel: sheetWidth / vg.Length(size.Width),
	}
}

// text sets one cleaned line with its baseline at y.
func (s *sheet) text(x, y vg.Length, str string, w weight, size vg.Length, c color.NRGBA, a align) {
	if str == "" {
		return
	}
	switch a {
	case centre:
		x -= s.t.width(str, w, size) / 2
	case right:
		x -= s.t.width(str, w, size)
	}
	s.canvas.SetColor(c)
	s.canvas.FillString(s.t.face(w, size), vg.Point{X: x, Y: y}, str)
}

// uprightText sets lines that read from bottom to top, the first line's top edge at x, centred on y.
func (s *sheet) uprightText(x, y vg.Length, lines []string, size vg.Length) {
	for i, line := range lines {
		s.canvas.Push()
		s.canvas.Translate(vg.Point{X: x + size*ascent + vg.Length(i)*size*leading, Y: y - s.t.width(line, regular, size)/2})
		s.canvas.Rotate(math.Pi / 2)
		s.text(0, 0, line, regular, size, ink, left)
		s.canvas.Pop()
	}
}

// line strokes one straight line.
func (s *sheet) line(l look, x0, y0, x1, y1 vg.Length) {
	p := s.scratch.path[:0]
	p.Move(vg.Point{X: x0, Y: y0})
	p.Line(vg.Point{X: x1, Y: y1})
	s.stroke(l, p)
}

// polyline strokes a line through points.
func (s *sheet) polyline(l look, pts []vg.Point) {
	p := s.scratch.path[:0]
	for i, pt := range pts {
		if i == 0 {
			p.Move(pt)
		} else {
			p.Line(pt)
		}
	}
	s.stroke(l, p)
}

func (s *sheet) stroke(l look, p vg.Path) {
	s.canvas.SetColor(l.colour)
	s.canvas.SetLineWidth(l.width)
	s.canvas.SetLineDash(l.dash, 0)
	s.canvas.Stroke(p)
	s.scratch.path = p[:0]
}

// fill paints a polygon.
func (s *sheet) fill(c color.NRGBA, pts []vg.Point) {
	p := s.scratch.path[:0]
	for i, pt := range pts {
		if i == 0 {
			p.Move(pt)
		} else {
			p.Line(pt)
		}
	}
	p.Close()
	s.canvas.SetColor(c)
	s.canvas.Fill(p)
	s.scratch.path = p[:0]
}

func (s *sheet) fillBox(c color.NRGBA, b box) {
	s.fill(c, []vg.Point{{X: b.x0, Y: b.y0}, {X: b.x1, Y: b.y0}, {X: b.x1, Y: b.y1}, {X: b.x0, Y: b.y1}})
}

func (s *sheet) disc(c color.NRGBA, x, y, r vg.Length) {
	p := s.scratch.path[:0]
	p.Move(vg.Point{X: x + r, Y: y})
	p.Arc(vg.Point{X: x, Y: y}, r, 0, 2*math.Pi)
	p.Close()
	s.canvas.SetColor(c)
	s.canvas.Fill(p)
	s.scratch.path = p[:0]
}

// markSize is the half-width of a marker.
const markSize vg.Length = 2.6

func (s *sheet) marker(m marker, c color.NRGBA, x, y vg.Length) {
	const r = markSize
	switch m {
	case disc:
		s.disc(c, x, y, r)
	case square:
		b := box{x - r, y - r, x + r, y + r}
		s.fillBox(c, b)
		const rim = 1.1
		s.fillBox(white, box{b.x0 + rim, b.y0 + rim, b.x1 - rim, b.y1 - rim})
	case triangle:
		s.fill(c, []vg.Point{{X: x - r*1.15, Y: y - r}, {X: x + r*1.15, Y: y - r}, {X: x, Y: y + r*1.2}})
	case diamond:
		s.fill(c, []vg.Point{{X: x - r*1.25, Y: y}, {X: x, Y: y - r*1.25}, {X: x + r*1.25, Y: y}, {X: x, Y: y + r*1.25}})
	case ring:
		s.disc(c, x, y, r)
		s.disc(white, x, y, r-1.1)
	case block:
		s.fillBox(c, box{x - r, y - r, x + r, y + r})
	case downwards:
		s.fill(c, []vg.Point{{X: x - r*1.15, Y: y + r}, {X: x + r*1.15, Y: y + r}, {X: x, Y: y - r*1.2}})
	case plus:
		l := look{colour: c, width: 1.2}
		s.line(l, x-r*1.2, y, x+r*1.2, y)
		s.line(l, x, y-r*1.2, x, y+r*1.2)
	case cross:
		l := look{colour: c, width: 0.9}
		s.line(l, x-r, y-r, x+r, y+r)
		s.line(l, x-r, y+r, x+r, y-r)
	}
}
