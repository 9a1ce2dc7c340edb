package cli

import (
	"strconv"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"ringheat/analyze/judge"
)

// evidenceFlags say what else is known of a run beside its log: the probes' calibration and its due day, the
// day of the run, and a reading of the residual field after warming.
type evidenceFlags struct {
	runDate, calibrationDue       string
	innerOffset, outerOffset      optional
	calibrationU, calibrationWalk optional
	field, background             string
	fieldLimit                    optional
}

func (f *evidenceFlags) register(fs *pflag.FlagSet) {
	fs.StringVar(&f.calibrationDue, "calibration-due", "", "last `day` of the probes' calibration, yyyy-mm-dd; a run after it proves no temperature")
	fs.StringVar(&f.runDate, "run-date", "", "`day` of the run, yyyy-mm-dd, where the log has no date (a run sheet's column date)")
	fs.Var(&f.innerOffset, "inner-offset-k", "what the inner probe reads too high by its certificate, `K`")
	fs.Var(&f.outerOffset, "outer-offset-k", "what the outer probe reads too high by its certificate, `K`")
	fs.Var(&f.calibrationU, "calibration-u-k", "expanded uncertainty (k = 2) of the certificate, `K`; stands in for the probe's tolerance")
	fs.Var(&f.calibrationWalk, "calibration-drift-k", "half-width of what the probes may have drifted since, `K`")
	fs.StringVar(&f.field, "residual-field", "", "highest `reading` of the residual magnetic field after warming, with its unit: 1.2A/cm, 0.15mT, 1.5G, 1.5Oe")
	fs.StringVar(&f.background, "background-field", "", "`reading` of the field away from the part, with its unit")
	fs.Var(&f.fieldLimit, "residual-field-limit-a-cm", "tolerance `limit` of the residual field, A/cm (2 by custom when not given)")
}

// use puts what was given into a judge's settings, and gives the day of the run.
func (f *evidenceFlags) use(s *judge.Settings) (runDate time.Time, err error) {
	if runDate, err = day("run-date", f.runDate); err != nil {
		return runDate, err
	}
	if s.CalibrationDue, err = day("calibration-due", f.calibrationDue); err != nil {
		return runDate, err
	}
	switch {
	case f.calibrationU.v != nil:
		if s.ProbeToleranceK != nil || s.ProbeClass != "" {
			return runDate, usagef("leave --probe-tolerance-k and --probe-class out", "--calibration-u-k stands in for the probe's tolerance, and both are given")
		}
		s.Calibration = &judge.Calibration{
			InnerOffsetK: value(f.innerOffset), OuterOffsetK: value(f.outerOffset), ExpandedK: *f.calibrationU.v, DriftK: value(f.calibrationWalk),
		}
	case f.innerOffset.v != nil || f.outerOffset.v != nil || f.calibrationWalk.v != nil:
		return runDate, usagef("give the certificate's --calibration-u-k too", "a probe's offset or drift says nothing without the uncertainty of its calibration")
	}
	if f.field == "" {
		if f.background != "" || f.fieldLimit.v != nil {
			return runDate, usagef("give --residual-field too", "a background or limit of the residual field was given, and no reading of it")
		}
		return runDate, nil
	}
	v, unit, err := fieldReading("residual-field", f.field)
	if err != nil {
		return runDate, err
	}
	s.Magnetism = &judge.Magnetism{Value: v, Unit: unit, LimitAcm: f.fieldLimit.v}
	if f.background != "" {
		b, other, err := fieldReading("background-field", f.background)
		if err != nil {
			return runDate, err
		}
		if other != unit {
			return runDate, usagef("read both in one unit", "--residual-field is in %s and --background-field in %s", unit, other)
		}
		s.Magnetism.Background = &b
	}
	return runDate, nil
}

func value(o optional) float64 {
	if o.v == nil {
		return 0
	}
	return *o.v
}

func day(flag, text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return time.Time{}, usagef("write it as 2026-03-09", "--%s %q is no day", flag, text)
	}
	return t, nil
}

// fieldReading reads a figure with its unit behind it, with or without a blank between.
func fieldReading(flag, text string) (float64, judge.FieldUnit, error) {
	text = strings.TrimSpace(text)
	i := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("+-.0123456789", r) })
	if i <= 0 {
		return 0, "", usagef("write figure and unit, as 1.2A/cm", "--%s %q has no unit", flag, text)
	}
	v, err := strconv.ParseFloat(text[:i], 64)
	if err != nil {
		return 0, "", usagef("write figure and unit, as 1.2A/cm", "--%s: %q is no number", flag, text[:i])
	}
	unit, err := judge.ParseFieldUnit(text[i:])
	if err != nil {
		return 0, "", usagef("", "--%s: %v", flag, err)
	}
	return v, unit, nil
}
