package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// coverage is how much of each pixel the path at hand covers, 0 to 255, with the range of each row that
// was touched. Pieces of one path are joined by taking the larger coverage, so a line that runs over
// itself is no darker there.
type coverage struct {
	w, h      int
	pix       []uint8
	low, high []int32 // of each row, [low, high)
	top, end  int     // rows touched, [top, end)
}

func (c *coverage) resize(w, h int) {
	*c = coverage{w: w, h: h, pix: make([]uint8, w*h), low: make([]int32, h), high: make([]int32, h), top: h}
	for y := range c.low {
		c.low[y] = int32(w)
	}
}

// piece covers one straight piece of a line with half-width r, with round ends. A pixel is covered by how far
// its centre lies within the edge: fully from half a pixel inside on, not at all from half a pixel outside on.
func (c *coverage) piece(a, b dot, r float64) {
	outer := r + 0.5
	dx, dy := b.x-a.x, b.y-a.y
	length2 := dx*dx + dy*dy
	y0 := max(0, int(math.Floor(min(a.y, b.y)-outer)))
	y1 := min(c.h-1, int(math.Ceil(max(a.y, b.y)+outer)))
	left, right := min(a.x, b.x)-outer, max(a.x, b.x)+outer
	inner := max(r-0.5, 0)
	inner2, outer2 := inner*inner, outer*outer
	invLength2, slope, lean := 0.0, 0.0, 0.0
	if length2 > 0 {
		invLength2 = 1 / length2
	}
	steep := math.Abs(dy) > 1e-6 // else the strip is as wide as the piece, and its sums lose all digits
	if steep {
		slope, lean = dx/dy, outer*math.Sqrt(length2)/math.Abs(dy)
	}
	for y := y0; y <= y1; y++ {
		py := float64(y) + 0.5 - a.y
		l, h := left, right
		if steep { // the row's part of the strip along the line
			mid := a.x + slope*py
			l, h = max(l, mid-lean), min(h, mid+lean)
		}
		x0, x1 := max(0, int(math.Floor(l-0.5))), min(c.w-1, int(math.Ceil(h-0.5)))
		if x1 < x0 {
			continue
		}
		row := c.pix[y*c.w : (y+1)*c.w]
		touched := false
		for x := x0; x <= x1; x++ {
			if row[x] == 255 {
				continue
			}
			px := float64(x) + 0.5 - a.x
			t := min(max((px*dx+py*dy)*invLength2, 0), 1)
			ex, ey := px-t*dx, py-t*dy
			d2 := ex*ex + ey*ey
			if d2 >= outer2 {
				continue
			}
			cov := uint8(255)
			if d2 > inner2 {
				cov = uint8(min(outer-math.Sqrt(d2), 1) * 255)
			}
			if cov > row[x] {
				row[x] = cov
				touched = true
			}
		}
		if touched {
			c.low[y], c.high[y] = min(c.low[y], int32(x0)), max(c.high[y], int32(x1)+1)
			c.top, c.end = min(c.top, y), max(c.end, y+1)
		}
	}
}

// Stroke draws a path's line. A single line along an axis is snapped to whole pixels, to be sharp.
func (r *raster) Stroke(p vg.Path) {
	if r.now.width <= 0 {
		return
	}
	width := float64(r.now.width) * r.dots
	straight := len(p) == 2 && p[0].Type == vg.MoveComp && p[1].Type == vg.LineComp &&
		(p[0].Pos.X == p[1].Pos.X || p[0].Pos.Y == p[1].Pos.Y)
	if straight {
		width = max(1, math.Round(width))
	}
	snap := func(v float64) float64 {
		if int(width)%2 == 1 {
			return math.Floor(v) + 0.5
		}
		return math.Round(v)
	}
	dash := dasher{cover: &r.cover, half: width / 2, pattern: r.now.dash, dots: r.dots}
	var cur dot
	aligned := func(d dot) dot {
		if straight {
			if p[0].Pos.X == p[1].Pos.X {
				d.x = snap(d.x)
			} else {
				d.y = snap(d.y)
			}
		}
		return d
	}
	r.flatten(p,
		func(d dot) {
			cur = aligned(d)
			dash.start()
		},
		func(d dot) {
			d = aligned(d)
			dash.line(cur, d)
			cur = d
		})
	r.ink()
}

// ink lays the pen's ink over what the path covers, and clears the coverage.
func (r *raster) ink() {
	c := &r.cover
	for y := c.top; y < c.end; y++ {
		l, h := c.low[y], c.high[y]
		if l >= h {
			continue
		}
		cover := c.pix[y*c.w+int(l) : y*c.w+int(h)]
		out := r.img.Pix[y*r.img.Stride+int(l):][:len(cover)]
		for x, v := range cover {
			if v != 0 {
				r.lay(&out[x], v)
			}
		}
		clear(cover)
		c.low[y], c.high[y] = int32(c.w), 0
	}
	c.top, c.end = c.h, 0
}

// dasher cuts a line into dashes. Dashes have round ends that stay within their length.
type dasher struct {
	cover   *coverage
	half    float64
	pattern []vg.Length // points; empty for a whole line
	dots    float64     // pixels a point
	at      int         // the pattern's part at hand: even ones are drawn
	left    float64     // of it, pixels
}

func (d *dasher) start() {
	d.at = 0
	if len(d.pattern) > 0 {
		d.left = float64(d.pattern[0]) * d.dots
	}
}

func (d *dasher) line(a, b dot) {
	if len(d.pattern) == 0 {
		d.cover.piece(a, b, d.half)
		return
	}
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length == 0 {
		return
	}
	ux, uy := (b.x-a.x)/length, (b.y-a.y)/length
	for done := 0.0; done < length; {
		step := min(d.left, length-done)
		full := float64(d.pattern[d.at%len(d.pattern)]) * d.dots
		if d.at%2 == 0 {
			// Shorten a dash at the ends that are its own, not where the line only bends.
			from, to := done, done+step
			if d.left == full {
				from += d.half
			}
			if step == d.left {
				to -= d.half
			}
			if from > to {
				from = (from + to) / 2
				to = from
			}
			d.cover.piece(dot{a.x + ux*from, a.y + uy*from}, dot{a.x + ux*to, a.y + uy*to}, d.half)
		}
		done += step
		if d.left -= step; d.left <= 1e-9 {
			d.at++
			d.left = float64(d.pattern[d.at%len(d.pattern)]) * d.dots
		}
	}
}
