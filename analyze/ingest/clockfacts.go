package ingest

import (
	"fmt"
	"math"
	"slices"

	"ringheat/analyze/series"
)

// GapFactor is how many usual intervals a step must be longer than to be a gap.
const GapFactor = 1.5

// MaxEvents is the most clock events that a Log keeps.
const MaxEvents = 10000

func sortFloats(v []float64) { slices.Sort(v) }

// stepS gives a step between two times, s, to the nanosecond: what the subtraction adds behind it means nothing.
func stepS(from, to float64) float64 { return math.Round((to-from)*1e9) / 1e9 }

// usualStep gives the median of the forward steps, and the length over which a step is a gap. Both are 0 without
// any. scratch comes back for the next call, with the forward steps in it, shortest first.
func usualStep(t, scratch []float64) (interval, limit float64, steps []float64) {
	steps = scratch[:0]
	same := true
	var raw, rounded float64 // the last step as subtracted, and to the nanosecond
	for i := 1; i < len(t); i++ {
		if d := t[i] - t[i-1]; d == raw && rounded > 0 {
			steps = append(steps, rounded)
			continue
		}
		if d := stepS(t[i-1], t[i]); d > 0 {
			raw, rounded = t[i]-t[i-1], d
			same = same && (len(steps) == 0 || d == steps[0])
			steps = append(steps, d)
		}
	}
	if len(steps) == 0 {
		return 0, 0, steps
	}
	if !same {
		slices.Sort(steps)
	}
	interval = steps[(len(steps)-1)/2]
	limit = GapFactor * interval
	if p80 := steps[(len(steps)-1)*80/100]; p80 > limit {
		limit = 3 * p80 // sampled unevenly: only what stands out
	}
	return interval, limit, steps
}

// clockFacts finds the usual interval and the places where the clock did not keep to it. Nothing is repaired.
func clockFacts(l *series.Log, scratch []float64) []float64 {
	c, t := &l.Clock, l.TimeS
	var limit float64
	c.IntervalS, limit, scratch = usualStep(t, scratch)
	if n := len(scratch); n > 0 && n == len(t)-1 && scratch[0] == scratch[n-1] {
		return scratch
	}
	smallest, largest := 0.0, 0.0
	for i := 1; i < len(t); i++ {
		d := stepS(t[i-1], t[i])
		if d > 0 && d <= limit {
			if smallest == 0 || d < smallest {
				smallest = d
			}
			largest = max(largest, d)
			continue
		}
		if len(c.Events) < MaxEvents {
			c.Events = append(c.Events, event(i, int(l.Lines[i]), t[i-1], d, c.IntervalS))
		}
	}
	c.SpreadS = largest - smallest
	return scratch
}

// event describes one step that is no usual one.
func event(row, line int, at, step, usual float64) series.ClockEvent {
	e := series.ClockEvent{Row: row, Line: line, AtS: at, JumpS: step}
	switch {
	case step == 0:
		e.Kind, e.Message = series.Repeat, "the same time as the row before"
	case step < 0:
		e.Kind, e.Message = series.StepBack, fmt.Sprintf("the clock steps back by %g s", -step)
	default:
		e.Kind, e.Message = series.Gap, fmt.Sprintf("%g s without a row, where %g s is usual", step, usual)
	}
	return e
}
