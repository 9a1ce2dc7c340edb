package judge

import (
	"errors"
	"fmt"
	"math"
	"time"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// Calibration is what a calibration certificate says of the probes with their logger.
type Calibration struct {
	// InnerOffsetK and OuterOffsetK are what the probes read too high near the limit, K. They are taken
	// off every reading before it is judged.
	InnerOffsetK, OuterOffsetK float64
	ExpandedK                  float64 // expanded uncertainty of the certificate with k = 2, K, above 0
	DriftK                     float64 // half-width of what the probes may have drifted since, K; 0 for none
}

func (c *Calibration) check() error {
	for _, v := range []float64{c.InnerOffsetK, c.OuterOffsetK, c.ExpandedK, c.DriftK} {
		if !quantity.Finite(v) || math.Abs(v) > 50 {
			return errors.New("a figure of the probes' calibration is impossible: give offsets and uncertainties in K, at most 50")
		}
	}
	if math.Max(math.Abs(c.InnerOffsetK), math.Abs(c.OuterOffsetK)) > largestOffsetK {
		return fmt.Errorf("a probe that reads more than %v K wrong is no probe to judge by: check the offsets of its calibration (--inner-offset-k, --outer-offset-k)", float64(largestOffsetK))
	}
	if !(c.ExpandedK > 0) || c.DriftK < 0 {
		return errors.New("the uncertainty of the probes' calibration must be above 0 K and their drift not negative")
	}
	return nil
}

// offset is what a trace's probe reads too high, K.
func (c *Calibration) offset(t *trace) float64 {
	if t.outer {
		return c.OuterOffsetK
	}
	return c.InnerOffsetK
}

// correct takes the probe's offset off the samples of a trace.
func (c *Calibration) correct(t *trace) {
	off := c.offset(t)
	for i, v := range t.c {
		if !series.IsMissing(v) {
			t.c[i] = v - off
		}
	}
}

// words say what was corrected, for the notes.
func (c *Calibration) words() string {
	return fmt.Sprintf("readings corrected by the calibration: inner %s K, outer %s K",
		quantity.FormatDecimals(-c.InnerOffsetK, 2), quantity.FormatDecimals(-c.OuterOffsetK, 2))
}

// measureProbe adds what one probe leaves uncertain at a temperature.
func (sc *scene) measureProbe(m *uncertainty, name string, valueC float64) {
	c := sc.s.Calibration
	if c == nil {
		m.rectangular("probe tolerance"+name, sc.p.halfWidth(valueC), sc.p.probeWords)
		return
	}
	m.normal("probe calibration"+name, c.ExpandedK/2, 0, "certificate, half of its expanded uncertainty (k = 2)")
	if c.DriftK > 0 {
		m.rectangular("drift since calibration"+name, c.DriftK, "as given")
	}
}

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
