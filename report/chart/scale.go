package chart

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
)

// scale maps values [lo, hi] to points of the sheet [from, to].
type scale struct {
	lo, hi   float64
	from, to vg.Length
}

func (s scale) at(v float64) vg.Length {
	return s.from + vg.Length((v-s.lo)/(s.hi-s.lo))*(s.to-s.from)
}

func (s scale) holds(v float64) bool { return v >= s.lo && v <= s.hi }

// tick is a labelled place on an axis.
type tick struct {
	value float64 // in the axis' own unit
	label string
}

// ticks lists the multiples of step in [lo, hi], labelled with the decimals the step needs.
func ticks(lo, hi, step float64) []tick {
	decimals := 0
	for d := step; decimals < 6 && math.Abs(d-math.Round(d)) > 1e-6*d; decimals++ {
		d *= 10
	}
	var out []tick
	first, last := math.Ceil(lo/step-1e-9), math.Floor(hi/step+1e-9)
	for k := range int(min(last-first+1, 1000)) { // never without end, whatever the range
		v := (first + float64(k)) * step
		out = append(out, tick{value: v, label: number(v, decimals)})
	}
	return out
}

// number writes a figure with a real minus sign and without "-0".
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if !strings.HasPrefix(s, "-") {
		return s
	}
	if strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return "−" + s[1:]
}

// niceStep is the smallest of 1, 2, 2.5, 5 times a power of ten that divides span into at most n parts.
func niceStep(span float64, n int) float64 {
	raw := span / float64(max(n, 1))
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range [...]float64{1, 2, 2.5, 5} {
		if m*p >= raw*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// timeUnit is the unit of a time axis.
type timeUnit struct {
	symbol  string
	seconds float64
	steps   []float64 // usual tick distances, in the unit
}

var timeUnits = [...]timeUnit{
	{"s", 1, []float64{1, 2, 5, 10, 15, 20, 30, 60, 120}},
	{"min", 60, []float64{0.5, 1, 2, 5, 10, 15, 20, 30, 60}},
	{"h", 3600, []float64{0.25, 0.5, 1, 2, 4, 6, 12, 24}},
}

// unitFor chooses the unit in which a stretch of time reads best.
func unitFor(spanS float64) timeUnit {
	switch {
	case spanS <= 300:
		return timeUnits[0]
	case spanS <= 5*3600:
		return timeUnits[1]
	}
	return timeUnits[2]
}

// step is the smallest usual tick distance that divides span (in the unit) into at most n parts.
func (u timeUnit) step(span float64, n int) float64 {
	if span/float64(n) > u.steps[0]/2 {
		for _, s := range u.steps {
			if span/s <= float64(n) {
				return s
			}
		}
	}
	return niceStep(span, n)
}

// reach is a growing range of values; the zero reach is empty.
type reach struct {
	lo, hi float64
	any    bool
}

func (r *reach) add(v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return
	}
	if !r.any {
		r.lo, r.hi, r.any = v, v, true
		return
	}
	r.lo, r.hi = min(r.lo, v), max(r.hi, v)
}
