package judge

import (
	"fmt"
	"time"
)

// calibrationDoubt says why the probe's calibration does not cover the run; "" when it does or was not
// asked. The calibration is good up to and with the day on which it is due. A log without a date can't
// show that it was warmed before that day.
func (sc *scene) calibrationDoubt() string {
	due := sc.s.CalibrationDue
	if due.IsZero() {
		return ""
	}
	run := sc.c.RunDate
	if run.IsZero() {
		run = sc.c.Log.Clock.Start
		if !run.IsZero() && len(sc.timeS) > 0 {
			run = run.Add(time.Duration(sc.timeS[0] * float64(time.Second)))
		}
	}
	day := due.Format(time.DateOnly)
	if run.IsZero() {
		return fmt.Sprintf("the log has no date, so it can't be shown that the probe's calibration (due %s) was still good", day)
	}
	if run.Format(time.DateOnly) > day {
		return fmt.Sprintf("the probe's calibration was due %s, before the part was warmed on %s", day, run.Format(time.DateOnly))
	}
	return ""
}

// overdue makes a temperature finding unproven for want of a calibration. A FAIL stays: a part seen too
// hot is not accepted on the ground that the probe was not checked; but it is no longer proven.
func overdue(f *Finding, why string) {
	switch f.Verdict {
	case Pass, Unproven:
		f.Verdict = Unproven
		f.Reason = why + "; " + f.Reason
		f.Conformance = nil
	case Fail:
		f.Proven = ptr(false)
		f.Reason += "; " + why
	}
}
