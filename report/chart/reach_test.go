package chart

import (
	"testing"

	"ringheat/analyze/series"
)

// A level stands in the panel as long as the readings keep a third of it; else it is named at the edge.
func TestLevelsInRange(t *testing.T) {
	for _, c := range []struct {
		name   string
		lo, hi float64 // readings
		level  float64
		inside bool
	}{
		{"ordinary", 20, 110, 120, true},
		{"two spans above", 20, 50, 110, true},
		{"more than two spans above", 20, 50, 111, false},
		{"one span below", 20, 50, -10, true},
		{"more than one span below", 20, 50, -11, false},
		{"steady readings count as 5 K", 20, 20, 30, true},
		{"steady readings, far level", 20, 20, 31, false},
	} {
		chart := CycleChart{
			Traces: []Trace{{Role: series.Inner, TimeS: []float64{0, 1}, C: []float64{c.lo, c.hi}}},
			Levels: []Level{{C: c.level}},
		}
		r := chart.temperatureReach()
		if in := c.level >= r.lo && c.level <= r.hi; in != c.inside {
			t.Errorf("%s: level %v in range %v to %v: %v, want %v", c.name, c.level, r.lo, r.hi, in, c.inside)
		}
		if r.lo > c.lo || r.hi < c.hi {
			t.Errorf("%s: range %v to %v leaves readings out", c.name, r.lo, r.hi)
		}
	}
}

// The limit of the difference is shown on the side on which the difference lies, on the other one only if near.
func TestLimitsOfDifferenceInRange(t *testing.T) {
	for _, c := range []struct {
		name         string
		k            []float64
		limit        float64
		above, below bool
	}{
		{"inner hotter", []float64{0, 10, 18}, 35, true, false},
		{"outer hotter", []float64{0, -10, -18}, 35, false, true},
		{"both", []float64{-18, 0, 16}, 20, true, true},
		{"far", []float64{0, 4}, 35, false, false},
		{"none", []float64{0, 4}, 0, false, false},
	} {
		d := Diff{TimeS: make([]float64, len(c.k)), K: c.k, LimitK: c.limit}
		r := d.reach()
		if above := c.limit > 0 && r.hi >= c.limit; above != c.above {
			t.Errorf("%s: range %v to %v, upper limit inside: %v, want %v", c.name, r.lo, r.hi, above, c.above)
		}
		if below := c.limit > 0 && r.lo <= -c.limit; below != c.below {
			t.Errorf("%s: range %v to %v, lower limit inside: %v, want %v", c.name, r.lo, r.hi, below, c.below)
		}
	}
	d := Diff{TimeS: []float64{0, 1, 2}, K: []float64{1, 500, 2}, Spikes: []int32{1}}
	if r := d.reach(); r.hi > 10 {
		t.Errorf("a spike stretches the range to %v", r.hi)
	}
}
