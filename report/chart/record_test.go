package chart

import (
	"image"
	"image/color"
	"math"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// recorder is a canvas that draws nothing and remembers where everything would stand, in sheet points.
type recorder struct {
	state
	stack  []state
	texts  []setText
	lines  []setLine
	filled []box
	t      *typesetter
}

type state struct {
	xx, xy, yx, yy, dx, dy float64
	width                  vg.Length
	dash                   []vg.Length
	colour                 color.Color
}

// setText is a text with the box of its letters: from the baseline's descenders to the capitals.
type setText struct {
	text   string
	size   vg.Length
	colour color.Color
	box    box
}

// setLine is one straight piece of a stroked path.
type setLine struct {
	a, b   vg.Point
	width  vg.Length
	colour color.Color
}

func newRecorder(t *typesetter) *recorder {
	return &recorder{state: state{xx: 1, yy: 1}, t: t}
}

func (r *recorder) at(p vg.Point) vg.Point {
	x, y := float64(p.X), float64(p.Y)
	return vg.Point{X: vg.Length(r.xx*x + r.xy*y + r.dx), Y: vg.Length(r.yx*x + r.yy*y + r.dy)}
}

func (r *recorder) SetLineWidth(w vg.Length)               { r.width = w }
func (r *recorder) SetLineDash(d []vg.Length, _ vg.Length) { r.dash = d }
func (r *recorder) SetColor(c color.Color)                 { r.colour = c }
func (r *recorder) Push()                                  { r.stack = append(r.stack, r.state) }
func (r *recorder) Pop() {
	r.state = r.stack[len(r.stack)-1]
	r.stack = r.stack[:len(r.stack)-1]
}
func (r *recorder) Translate(p vg.Point) {
	q := r.at(p)
	r.dx, r.dy = float64(q.X), float64(q.Y)
}
func (r *recorder) Rotate(rad float64) {
	s, c := math.Sincos(rad)
	r.xx, r.xy, r.yx, r.yy = r.xx*c+r.xy*s, r.xy*c-r.xx*s, r.yx*c+r.yy*s, r.yy*c-r.yx*s
}
func (r *recorder) Scale(x, y float64) { panic("not used by the charts") }

func (r *recorder) DrawImage(vg.Rectangle, image.Image) { panic("not used by the charts") }

func bounds(pts ...vg.Point) box {
	b := box{pts[0].X, pts[0].Y, pts[0].X, pts[0].Y}
	for _, p := range pts {
		b = box{min(b.x0, p.X), min(b.y0, p.Y), max(b.x1, p.X), max(b.y1, p.Y)}
	}
	return b
}

func (r *recorder) FillString(f font.Face, p vg.Point, s string) {
	w := f.Width(s) // the library's own measure, not ours
	up, down := f.Font.Size*0.74, f.Font.Size*0.21
	r.texts = append(r.texts, setText{s, f.Font.Size, r.colour, bounds(
		r.at(vg.Point{X: p.X, Y: p.Y - down}), r.at(vg.Point{X: p.X + w, Y: p.Y + up}))})
}

// corners walks over a path's points; arcs are walked by their box.
func (r *recorder) walk(p vg.Path, step func(from, to vg.Point)) {
	var start, cur vg.Point
	for _, c := range p {
		switch c.Type {
		case vg.MoveComp:
			cur = r.at(c.Pos)
			start = cur
		case vg.LineComp:
			q := r.at(c.Pos)
			step(cur, q)
			cur = q
		case vg.ArcComp:
			a := r.at(vg.Point{X: c.Pos.X - c.Radius, Y: c.Pos.Y - c.Radius})
			b := r.at(vg.Point{X: c.Pos.X + c.Radius, Y: c.Pos.Y + c.Radius})
			step(a, b)
		case vg.CloseComp:
			step(cur, start)
			cur = start
		default:
			panic("not used by the charts")
		}
	}
}

func (r *recorder) Stroke(p vg.Path) {
	r.walk(p, func(a, b vg.Point) { r.lines = append(r.lines, setLine{a, b, r.width, r.colour}) })
}

func (r *recorder) Fill(p vg.Path) {
	var pts []vg.Point
	r.walk(p, func(a, b vg.Point) { pts = append(pts, a, b) })
	if len(pts) > 0 {
		r.filled = append(r.filled, bounds(pts...))
	}
}
