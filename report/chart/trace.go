package chart

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// A line breaks where samples are missing and the stretch without one is longer than missingGap usual
// intervals, or longer than plainGap intervals without any marker (a logger that skips rows). Intervals are
// those between samples that are there: a column filled in every second row only is a whole line.
const (
	missingGap = 1.6
	plainGap   = 4.0
)

// usualInterval is the median step between samples that are there, looked at in at most about a
// thousand places; 0 with fewer than two.
func usualInterval(timeS, v []float64) float64 {
	stride := max(1, len(v)/4096)
	var steps []float64
	for i := 0; i < len(v); i += stride {
		if v[i] != v[i] {
			continue
		}
		for j := i + 1; j < len(v); j++ {
			if v[j] == v[j] {
				if d := timeS[j] - timeS[i]; d > 0 {
					steps = append(steps, d)
				}
				break
			}
		}
	}
	if len(steps) == 0 {
		return 0
	}
	slices.Sort(steps)
	return steps[len(steps)/2]
}

// drawable says whether a value can stand on a temperature axis.
func drawable(v float64) bool { return math.Abs(v) < 1e6 } // false for NaN

// drawableTime says whether a time can stand on a time axis: within thirty years of the first row.
func drawableTime(t float64) bool { return math.Abs(t) < 1e9 }

func hasReading(v []float64) bool { return slices.ContainsFunc(v, drawable) }

// reduce turns samples into runs of joined points, and gives every run to emit. Of all samples that fall on
// one pixel column it keeps the first, the lowest, the highest and the last, in their order, which draws
// the same pixels as all of them would. Spikes are passed over. The slice given to emit is reused.
func (s *sheet) reduce(x, y scale, timeS, v []float64, spikes []int32, emit func(run []vg.Point)) {
	usual := usualInterval(timeS, v)
	pts := s.scratch.points[:0]
	column := math.MinInt
	var first, last, low, high vg.Point // of the column at hand
	lowFirst := false
	flushColumn := func() {
		if column == math.MinInt {
			return
		}
		add := func(p vg.Point) {
			if len(pts) == 0 || pts[len(pts)-1] != p {
				pts = append(pts, p)
			}
		}
		add(first)
		if lowFirst {
			add(low)
			add(high)
		} else {
			add(high)
			add(low)
		}
		add(last)
		column = math.MinInt
	}
	flushRun := func() {
		flushColumn()
		if len(pts) > 0 {
			emit(pts)
		}
		pts = pts[:0]
	}
	spike, prev, missing := 0, math.NaN(), false
	for i, c := range v {
		for spike < len(spikes) && int(spikes[spike]) < i {
			spike++
		}
		if spike < len(spikes) && int(spikes[spike]) == i {
			continue
		}
		t := timeS[i]
		if !drawable(c) || !x.holds(t) {
			missing = true
			continue
		}
		step := t - prev
		if step < 0 || step > plainGap*usual || missing && step > missingGap*usual {
			flushRun()
		}
		prev, missing = t, false
		p := vg.Point{X: x.at(t), Y: y.at(c)}
		if col := int(p.X / s.pixel); col != column {
			flushColumn()
			column, first, low, high, lowFirst = col, p, p, p, true
		} else {
			if p.Y < low.Y {
				low, lowFirst = p, false
			}
			if p.Y > high.Y {
				high, lowFirst = p, true
			}
		}
		last = p
	}
	flushRun()
	s.scratch.points = pts[:0]
}

// trace draws one trace's line.
func (s *sheet) trace(x, y scale, timeS, v []float64, spikes []int32, l look) {
	s.reduce(x, y, timeS, v, spikes, func(run []vg.Point) {
		if len(run) == 1 { // a sample with no neighbour: a dot
			s.disc(l.colour, run[0].X, run[0].Y, l.width)
			return
		}
		s.polyline(l, run)
	})
}

// markers sets a trace's markers: n of them, evenly along the panel, each on a sample. nth shifts them
// so that those of several traces don't hide one another.
func (s *sheet) markers(x, y scale, timeS, v []float64, spikes []int32, l look, nth int) {
	const n = 9
	if l.mark == noMarker {
		return
	}
	shift := 0.2 + 0.35*float64(nth%3)
	next := 0 // the stretch of the panel, of n, that wants a marker
	for i, c := range v {
		if !drawable(c) || !x.holds(timeS[i]) {
			continue
		}
		at := (timeS[i]-x.lo)/(x.hi-x.lo)*n - shift
		if at < float64(next) {
			continue
		}
		if _, spike := slices.BinarySearch(spikes, int32(i)); spike {
			continue
		}
		s.marker(l.mark, l.colour, x.at(timeS[i]), y.at(c))
		next = int(at) + 1
	}
}

// curve evaluates and draws a curve over its window, a point every two pixels.
func (s *sheet) curve(x, y scale, c Curve) {
	from, to := max(c.FromS, x.lo), min(c.ToS, x.hi)
	if !(to > from) {
		return
	}
	n := int((x.at(to)-x.at(from))/(2*s.pixel)) + 2
	pts := s.scratch.points[:0]
	for i := 0; i <= n; i++ {
		t := from + (to-from)*float64(i)/float64(n)
		if v := c.at(t); y.holds(v) {
			pts = append(pts, vg.Point{X: x.at(t), Y: y.at(v)})
		}
	}
	s.scratch.points = pts[:0]
	if len(pts) > 1 {
		s.polyline(curveLook(c.Role), pts)
	}
}

// at is T(t) = StartC + RateKPerS (1 - exp(-k (t - T0S)))/k, written so that it is smooth through k = 0.
func (c Curve) at(t float64) float64 {
	d := t - c.T0S
	z := c.DecayPerS * d
	if math.Abs(z) < 1e-9 {
		return c.StartC + c.RateKPerS*d
	}
	return c.StartC - c.RateKPerS*d*math.Expm1(-z)/z
}
