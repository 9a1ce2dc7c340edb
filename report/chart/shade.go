package chart

import (
	"image/color"
	"slices"

	"gonum.org/v1/plot/vg"
)

// hatch is the direction of a shading's lines.
type hatch uint8

const (
	rising  hatch = iota // like /
	falling              // like \
)

// hatchStep is the distance between hatch lines along the x axis, points.
const hatchStep vg.Length = 5

// shadeBeyond paints the area between a level and those parts of a trace that pass beyond it: above
// when side is +1, below when it is -1.
func (s *sheet) shadeBeyond(x, y scale, timeS, v []float64, spikes []int32, level float64, side vg.Length,
	tint, line color.NRGBA, h hatch) {
	base := y.at(level)
	var area []vg.Point
	flush := func() {
		if len(area) > 2 {
			s.shade(area, tint, line, h)
		}
		area = area[:0]
	}
	s.reduce(x, y, timeS, v, spikes, func(run []vg.Point) {
		for i, p := range run {
			beyond := (p.Y-base)*side > 0
			if i > 0 {
				q := run[i-1]
				if was := (q.Y-base)*side > 0; was != beyond {
					cut := vg.Point{X: q.X + (p.X-q.X)*(base-q.Y)/(p.Y-q.Y), Y: base}
					area = append(area, cut)
					if was {
						flush()
					}
				}
			} else if beyond {
				area = append(area, vg.Point{X: p.X, Y: base})
			}
			if beyond {
				area = append(area, p)
			}
		}
		if len(area) > 0 {
			area = append(area, vg.Point{X: area[len(area)-1].X, Y: base})
			flush()
		}
	})
}

// stretch is a range of the time axis, in points of the sheet.
type stretch struct{ from, to vg.Length }

// beyond adds to list the stretches in which a trace stands beyond a level. Stretches less than
// a hatch line apart are joined, so that noise about the level doesn't make a comb.
func (s *sheet) beyond(list []stretch, x, y scale, timeS, v []float64, spikes []int32, level float64, side vg.Length) []stretch {
	base := y.at(level)
	first := len(list)
	s.reduce(x, y, timeS, v, spikes, func(run []vg.Point) {
		for i, p := range run {
			if (p.Y-base)*side <= 0 {
				continue
			}
			from, to := p.X, p.X
			if i > 0 {
				from = (from + run[i-1].X) / 2
			}
			if i+1 < len(run) {
				to = (to + run[i+1].X) / 2
			}
			if n := len(list); n > first && from <= list[n-1].to+hatchStep/2 {
				list[n-1].to = max(list[n-1].to, to)
			} else {
				list = append(list, stretch{from, to})
			}
		}
	})
	return list
}

// columns tints the whole height of a panel over stretches, so that a short or low excursion is seen as well.
func (s *sheet) columns(p *panel, list []stretch, tint color.NRGBA) {
	for _, st := range list {
		from, to := st.from, st.to
		if d := 1 - (to - from); d > 0 {
			from, to = from-d/2, to+d/2
		}
		s.fillBox(tint, box{max(from, p.x0), p.y0, min(to, p.x1), p.y1})
	}
}

// shade fills a polygon with a tint and hatches it.
func (s *sheet) shade(area []vg.Point, tint, line color.NRGBA, h hatch) {
	s.fill(tint, area)
	slope := vg.Length(1)
	if h == falling {
		slope = -1
	}
	// Hatch lines are y = slope (x - c) for c in steps of hatchStep, fixed to the sheet so that
	// neighbouring areas line up.
	key := func(p vg.Point) vg.Length { return p.X - p.Y*slope }
	lo, hi := key(area[0]), key(area[0])
	for _, p := range area {
		lo, hi = min(lo, key(p)), max(hi, key(p))
	}
	path := s.scratch.path[:0]
	var cuts []vg.Length
	for c := hatchStep * vg.Length(int(lo/hatchStep)); c <= hi; c += hatchStep {
		cuts = cuts[:0]
		for i, p := range area {
			q := area[(i+1)%len(area)]
			a, b := key(p)-c, key(q)-c
			if (a > 0) != (b > 0) {
				cuts = append(cuts, p.X+(q.X-p.X)*a/(a-b))
			}
		}
		slices.Sort(cuts)
		for k := 0; k+1 < len(cuts); k += 2 {
			path.Move(vg.Point{X: cuts[k], Y: slope * (cuts[k] - c)})
			path.Line(vg.Point{X: cuts[k+1], Y: slope * (cuts[k+1] - c)})
		}
	}
	s.stroke(look{colour: line, width: 0.6}, path)
}

// swatch is the small hatched box that stands for a shading in the legend.
func (s *sheet) swatch(b box, tint, line color.NRGBA, h hatch) {
	s.shade([]vg.Point{{X: b.x0, Y: b.y0}, {X: b.x1, Y: b.y0}, {X: b.x1, Y: b.y1}, {X: b.x0, Y: b.y1}}, tint, line, h)
}
