package judge

import (
	"fmt"
	"math"

	"ringheat/analyze/curve"
	"ringheat/analyze/quantity"
)

// lagOf is the lag estimate of a trace's probe; nil when none was looked for or it tells nothing.
func (sc *scene) lagOf(t *trace) *curve.ProbeLag {
	lag := sc.c.LagInner
	if t.outer {
		lag = sc.c.LagOuter
	}
	if lag == nil || lag.Status != curve.Determined || !lag.LagS.Known {
		return nil
	}
	return lag
}

// truePeak is the ring's own peak where its lagging probe never showed it: value and standard error, °C.
// raised is how far it lies above the indicated peak, K; 0 when the indicated one stands.
func (sc *scene) truePeak(t *trace) (value, se, raised float64) {
	lag := sc.lagOf(t)
	if lag == nil || !lag.TruePeakC.Known {
		return t.peak.Value, t.peak.StdErr, 0
	}
	offset := 0.0
	if cal := sc.s.Calibration; cal != nil {
		// The estimate was made from the readings as they stand.
		offset = cal.InnerOffsetK
		if t.outer {
			offset = cal.OuterOffsetK
		}
	}
	value = lag.TruePeakC.Value - offset
	if !(value > t.peak.Value) {
		return t.peak.Value, t.peak.StdErr, 0
	}
	return value, math.Max(lag.TruePeakC.StdErr, t.peak.StdErr), value - t.peak.Value
}

func (sc *scene) lagWords(t *trace, raised float64) string {
	lag := sc.lagOf(t)
	return fmt.Sprintf("the probe lags by %s s, so the %s is taken to have been %s K hotter than it showed at switch-off",
		figure(lag.LagS.Value, lag.LagS.StdErr), sc.body(t), quantity.FormatDecimals(raised, 1))
}
