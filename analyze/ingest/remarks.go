package ingest

import (
	"fmt"

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

// wildProbe asks about a channel that jumps about, as an open or loose probe does.
func (r *Reader) wildProbe(cp *channelPlan, t *trace) {
	if cp.Role == series.SetPoint || t.valid < 20 || t.jumps < 4 || t.jumps*100 <= wildShare*(t.valid-1) {
		return
	}
	r.planner.ask(fmt.Sprintf("%q jumps by more than %g K in %d of %d steps, first at line %d, as an open or loose probe does: readings from there on can't be trusted", cp.Name, wildStepK, t.jumps, t.valid-1, r.rows.lines[t.firstRow]))
}
