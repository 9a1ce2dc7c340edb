package report

import (
	"ringheat/analyze"
	"ringheat/analyze/curve"
	"ringheat/analyze/quantity"
)

// deepLines puts the estimates that were asked for beside the verdict into words.
func deepLines(d *analyze.Deep) []Line {
	if d == nil {
		return nil
	}
	var lines []Line
	if r := d.Rings; r != nil {
		text := "equalising time not determined"
		if r.Status == curve.Determined && r.EqualisingS.Known {
			text = "they equalise with " + quantity.Format(r.EqualisingS.Value, r.EqualisingS.StdErr) + " s" + span(r.EqualisingS.CI, r.EqualisingS.StdErr, 1, " s")
			if e := r.DifferencePerRateS; e.Known {
				text += "; a ramp tends to " + quantity.Format(e.Value/60, e.StdErr/60) + " K between them for each K/min" + span(e.CI, e.StdErr/60, 1.0/60, "")
			}
		} else if r.Why != "" {
			text += ": " + sentenceText(r.Why)
		}
		lines = append(lines, Line{"rings", text})
	}
	if w := d.Wait; w != nil {
		lines = append(lines, Line{"wait", waitText(w, d.WithinK)})
	}
	for _, l := range []struct {
		ring string
		lag  *curve.ProbeLag
	}{{"inner probe", d.LagInner}, {"outer probe", d.LagOuter}} {
		if l.lag != nil {
			lines = append(lines, Line{"lag", l.ring + ": " + lagText(l.lag)})
		}
	}
	if c := d.Cooling; c != nil {
		text := "not known from this record"
		if c.Status == curve.Determined && c.TimeConstantS.Known {
			text = "time constant " + quantity.Format(c.TimeConstantS.Value, c.TimeConstantS.StdErr) + " s" + span(c.TimeConstantS.CI, c.TimeConstantS.StdErr, 1, " s") +
				", hanging free, in surroundings of " + quantity.FormatDecimals(d.AmbientC, 0) + " °C (" + sentenceText(d.AmbientBasis) + ")"
		} else if c.Why != "" {
			text += ": " + sentenceText(c.Why)
		}
		lines = append(lines, Line{"cooling", text})
	} else if d.Rings != nil {
		lines = append(lines, Line{"cooling", "not known: the rings' equalising time is not determined, or the end of heating is not in the log"})
	}
	if w := d.Window; w != nil {
		lines = append(lines, Line{"mounting", windowText(w)})
	}
	return lines
}

func waitText(w *curve.Wait, withinK float64) string {
	within := quantity.FormatDecimals(withinK, trimmed(withinK)) + " K"
	switch {
	case w.Status != curve.Determined:
		return sentence("how long until the rings are within "+within+" is not determined", w.Why)
	case !w.Reached:
		return within + " between the rings will not be reached; losses keep " + quantity.FormatDecimals(w.RestK, 1) + " K up"
	case w.AfterS.Value <= 0:
		return "the rings are within " + within + " at switch-off"
	}
	enough := w.AfterS.Value
	if w.AfterS.CI.HasHigh {
		enough = w.AfterS.CI.High
	}
	return "wait " + quantity.FormatDecimals(enough, 0) + " s after switch-off until the rings are within " + within
}

func lagText(l *curve.ProbeLag) string {
	if l.Status != curve.Determined || !l.LagS.Known {
		return sentence("not determined", l.Why)
	}
	text := "it lags, with the heater's own delay, by " + quantity.Format(l.LagS.Value, l.LagS.StdErr) + " s" + span(l.LagS.CI, l.LagS.StdErr, 1, " s")
	if l.RaisedK > 0 && l.TruePeakC.Known {
		text += "; the ring was " + quantity.FormatDecimals(l.RaisedK, 1) + " K hotter than shown at switch-off (" + quantity.Format(l.TruePeakC.Value, l.TruePeakC.StdErr) + " °C)"
	}
	return text + " (" + sentenceText(l.Why) + ")"
}

func windowText(w *curve.Window) string {
	switch {
	case w.Status != curve.Determined:
		return sentence("how long the bore stays warm enough is not known", w.Why)
	case !w.Open:
		return sentence("no window", w.Why)
	}
	return "the bore stays warm enough until " + Seconds(w.UntilS) + " of the log's time (lower 95 % prediction bound; " + sentenceText(w.Why) + ")"
}

// The JSON form of the same.
type jsonDeep struct {
	AmbientC *float64      `json:"ambient_c"`
	Rings    *jsonRings    `json:"two_rings"`
	Lag      *jsonLags     `json:"probe_lag"`
	Cooling  *jsonEstimate `json:"cooling_time_constant_s"`
	WindowS  *float64      `json:"mounting_until_s"`
}

type jsonEstimate struct {
	Status string   `json:"status"`
	Why    string   `json:"why"`
	Value  *float64 `json:"value"`
	SE     *float64 `json:"se"`
	CI     interval `json:"ci"`
}

type jsonRings struct {
	EqualisingS   jsonEstimate `json:"equalising_s"`
	CouplingInner jsonEstimate `json:"coupling_inner_per_s"`
	CouplingOuter jsonEstimate `json:"coupling_outer_per_s"`
	LossInner     jsonEstimate `json:"loss_inner_per_s"`
	LossOuter     jsonEstimate `json:"loss_outer_per_s"`
	HeatInner     jsonEstimate `json:"heat_inner_k_per_s"`
	HeatOuter     jsonEstimate `json:"heat_outer_k_per_s"`
	DiffPerRateS  jsonEstimate `json:"difference_per_rate_s"`
	WithinK       float64      `json:"within_k"`
	WaitS         *float64     `json:"wait_s"`
	WaitReached   *bool        `json:"wait_reached"`
}

type jsonLags struct {
	Inner *jsonLag `json:"inner"`
	Outer *jsonLag `json:"outer"`
}

type jsonLag struct {
	LagS      jsonEstimate `json:"lag_s"`
	TruePeakC *float64     `json:"true_peak_c"`
	RaisedK   float64      `json:"raised_k"`
}

func estimateJSON(status curve.Status, why string, e curve.Estimate) jsonEstimate {
	out := jsonEstimate{Status: string(status), Why: why, CI: interval(e.CI)}
	if e.Known {
		out.Value, out.SE = &e.Value, &e.StdErr
	}
	return out
}

// deepJSON gives the keys of the estimates that run only where asked; every one null when not run.
func deepJSON(d *analyze.Deep) jsonDeep {
	var out jsonDeep
	if d == nil {
		return out
	}
	out.AmbientC = &d.AmbientC
	if r := d.Rings; r != nil {
		j := &jsonRings{WithinK: d.WithinK}
		for _, p := range []struct {
			to   *jsonEstimate
			from curve.Estimate
		}{
			{&j.EqualisingS, r.EqualisingS}, {&j.CouplingInner, r.CouplingInnerPerS}, {&j.CouplingOuter, r.CouplingOuterPerS},
			{&j.LossInner, r.LossInnerPerS}, {&j.LossOuter, r.LossOuterPerS}, {&j.HeatInner, r.HeatInnerKPerS},
			{&j.HeatOuter, r.HeatOuterKPerS}, {&j.DiffPerRateS, r.DifferencePerRateS},
		} {
			*p.to = estimateJSON(r.Status, r.Why, p.from)
		}
		if w := d.Wait; w != nil && w.Status == curve.Determined {
			j.WaitReached = &w.Reached
			if w.Reached {
				j.WaitS = &w.AfterS.Value
			}
		}
		out.Rings = j
	}
	if d.LagInner != nil || d.LagOuter != nil {
		out.Lag = &jsonLags{lagJSON(d.LagInner), lagJSON(d.LagOuter)}
	}
	if c := d.Cooling; c != nil {
		e := estimateJSON(c.Status, c.Why, c.TimeConstantS)
		out.Cooling = &e
	}
	if w := d.Window; w != nil && w.Status == curve.Determined && w.Open {
		out.WindowS = &w.UntilS
	}
	return out
}

func lagJSON(l *curve.ProbeLag) *jsonLag {
	if l == nil {
		return nil
	}
	out := &jsonLag{LagS: estimateJSON(l.Status, l.Why, l.LagS), RaisedK: l.RaisedK}
	if l.TruePeakC.Known {
		out.TruePeakC = &l.TruePeakC.Value
	}
	return out
}
