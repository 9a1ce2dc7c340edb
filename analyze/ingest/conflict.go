package ingest

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"ringheat/analyze/series"
)

// ProblemConflict is two rows with one and the same time and readings that can't both hold.
const ProblemConflict series.ProblemKind = "conflict"

// Two readings of one time are at odds when they differ by more than leastConflictK and by more than conflictSteps times
// what the trace usually changes over two rows.
const (
	leastConflictK = 3.0
	conflictSteps  = 3.0
)

// conflicts notes, in one line for the whole log, rows with the same time that are at odds.
func (r *Reader) conflicts() {
	l := &r.log
	var rows []int
	for i := range l.Clock.Events {
		if l.Clock.Events[i].Kind == series.Repeat {
			rows = append(rows, l.Clock.Events[i].Row)
		}
	}
	if len(rows) == 0 {
		return
	}
	count, at, channel, largest := 0, -1, 0, 0.0
	odd := map[int]bool{}
	for k := range l.Channels {
		ch := &l.Channels[k]
		limit := max(leastConflictK, conflictSteps*r.usualChange(ch.C))
		for _, row := range rows {
			a, b := ch.C[row-1], ch.C[row]
			if d := math.Abs(b - a); d > limit { // false for a missing sample
				if !odd[row] {
					odd[row] = true
					count++
				}
				if d > largest {
					at, channel, largest = row, k, d
				}
			}
		}
	}
	if count == 0 {
		return
	}
	ch := &l.Channels[channel]
	more := ""
	if count > 1 {
		more = fmt.Sprintf("; so do %d more such pairs", count-1)
	}
	p := series.Problem{Line: int(l.Lines[at]), Column: ch.Column, Kind: ProblemConflict,
		Message: fmt.Sprintf("two rows with the same time differ by %.1f K: %q is %.1f °C in line %d and %.1f °C in line %d%s; are two logs or two probes mixed here? Export them apart", largest, ch.Name, ch.C[at-1], l.Lines[at-1], ch.C[at], l.Lines[at], more)}
	l.ProblemCount++
	l.Problems = append(l.Problems, p)
	sort.SliceStable(l.Problems, func(i, j int) bool { return l.Problems[i].Line < l.Problems[j].Line })
}

// usualChange gives the median change over two rows, without sign.
func (r *Reader) usualChange(values []float64) float64 {
	r.steps = r.steps[:0]
	for k := 2; k < len(values); k++ {
		if d := math.Abs(values[k] - values[k-2]); d == d {
			r.steps = append(r.steps, d)
		}
	}
	if len(r.steps) == 0 {
		return 0
	}
	slices.Sort(r.steps)
	return r.steps[len(r.steps)/2]
}
