package ingest

import (
	"fmt"
	"math"

	"ringheat/analyze/series"
)

// What only the whole record shows, said and never mended.

// mergedLoggers notices two or more loggers merged by time: every row has the channels of one of them and blanks for
// the others, so that the blanks are no faults.
func (r *Reader) mergedLoggers() {
	l := &r.log
	n := l.Len()
	if len(l.Channels) < 2 || n < 20 || r.plan.narrow.on {
		return
	}
	blank := 0
	for i := range l.Channels {
		e := l.Channels[i].MissingKind[missingEmpty]
		if 4*e >= n && 10*e <= 9*n {
			blank++
		}
	}
	if blank < 2 {
		return
	}
	// In nearly every row some channel has a reading, and hardly a row has all of them.
	some, all := 0, 0
	for k := range n {
		valid, of := 0, 0
		for i := range l.Channels {
			if l.Channels[i].MissingKind[missingEmpty]*4 < n {
				continue
			}
			of++
			if !series.IsMissing(l.Channels[i].C[k]) {
				valid++
			}
		}
		if valid > 0 {
			some++
		}
		if valid == of {
			all++
		}
	}
	if 20*some < 19*n || 10*all > n {
		return
	}
	r.planner.read.Layout = "merged"
	r.planner.guess(Guess{Stage: "layout", Choice: "loggers merged by time", Evidence: fmt.Sprintf("%d of %d rows have a reading of one probe and blanks for others: the blanks are no faults, and each probe was read less often than the rows come", some, n), By: series.ByPlausibility})
}

// A trace that jumps by more than wildStepK in more than wildShare percent of its steps is no probe's in good contact.
const (
	wildStepK = 40.0
	wildShare = 4
)

// wildProbes asks about channels that jump about, as an open or loose probe does.
func (r *Reader) wildProbes() {
	l := &r.log
	for i := range l.Channels {
		c := &l.Channels[i]
		if c.Role == series.SetPoint || c.Valid < 20 {
			continue
		}
		jumps, steps, first := 0, 0, 0
		last := math.NaN()
		for k, v := range c.C {
			if series.IsMissing(v) {
				continue
			}
			if last == last {
				steps++
				if math.Abs(v-last) > wildStepK {
					if jumps++; jumps == 1 {
						first = int(l.Lines[k])
					}
				}
			}
			last = v
		}
		if jumps >= 4 && jumps*100 > wildShare*steps {
			r.planner.ask(fmt.Sprintf("%q jumps by more than %g K in %d of %d steps, first at line %d, as an open or loose probe does: readings from there on can't be trusted", c.Name, wildStepK, jumps, steps, first))
		}
	}
}
