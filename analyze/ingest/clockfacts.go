package ingest

import (
	"fmt"
	"slices"

	"ringheat/analyze/series"
)

// GapFactor is how many usual intervals a step must be longer than to be a gap.
const GapFactor = 1.5

// MaxEvents is the most clock events that a Log keeps.
const MaxEvents = 10000

// clockFacts finds the usual interval and the places where the clock did not keep to it. Nothing is repaired.
func clockFacts(l *series.Log, scratch []float64) []float64 {
	c, t := &l.Clock, l.TimeS
	if len(t) < 2 {
		return scratch
	}
	steps := scratch[:0]
	lo, hi := t[1]-t[0], t[1]-t[0]
	for i := 1; i < len(t); i++ {
		d := t[i] - t[i-1]
		lo, hi = min(lo, d), max(hi, d)
		steps = append(steps, d)
	}
	if lo == hi && lo > 0 {
		c.IntervalS = lo
		return steps
	}
	slices.Sort(steps)
	forward := steps
	for len(forward) > 0 && forward[0] <= 0 {
		forward = forward[1:]
	}
	if len(forward) > 0 {
		c.IntervalS = forward[(len(forward)-1)/2]
	}
	limit := GapFactor * c.IntervalS
	if n := len(forward); n > 0 {
		if p95 := forward[(n-1)*95/100]; p95 > limit {
			limit = 3 * p95 // sampled unevenly: only what stands out
		}
	}
	smallest, largest := 0.0, 0.0
	for _, d := range forward {
		if d <= limit {
			if smallest == 0 {
				smallest = d
			}
			largest = d
		}
	}
	c.SpreadS = largest - smallest
	for i := 1; i < len(t); i++ {
		d := t[i] - t[i-1]
		if d > 0 && d <= limit {
			continue
		}
		e := series.ClockEvent{Row: i, Line: int(l.Lines[i]), AtS: t[i-1], JumpS: d}
		switch {
		case d == 0:
			e.Kind, e.Message = series.Repeat, "the same time as the row before"
		case d < 0:
			e.Kind, e.Message = series.StepBack, fmt.Sprintf("the clock steps back by %g s", -d)
		default:
			e.Kind, e.Message = series.Gap, fmt.Sprintf("%g s without a row, where %g s is usual", d, c.IntervalS)
		}
		if len(c.Events) < MaxEvents {
			c.Events = append(c.Events, e)
		}
	}
	return steps
}
