package heading

import (
	"testing"

	"ringheat/analyze/series"
)

// A controller's demand is no reading, also beside the place it is for; what it measured is. Common practice, no source.
func TestDemandBesideAPlace(t *testing.T) {
	for _, h := range []string{"bore SP C", "SP inner", "SP_inner", "inner set C", "set inner", "Inner ring SV", "bore SV C", "bore cmd C", "cmd bore", "bore command", "bore target C", "target bore", "outer ring set °C", "heater SV °C", "T_inner_SP"} {
		if m := Read(h, ""); m.NotProbe != SetPointColumn || m.Role != series.SetPoint || m.Reason == "" {
			t.Errorf("%q: role %q, kind %d: %s", h, m.Role, m.NotProbe, m.Evidence)
		}
	}
	for h, role := range map[string]series.Role{"Set 1 inner C": series.Inner, "inner ring set 2 C": series.Inner, "bearing set outer": series.Outer, "SP1 bore C": series.Inner, "bore PV C": series.Inner, "PV inner": series.Inner} {
		if m := Read(h, ""); m.Role != role || m.NotProbe != MayBeProbe {
			t.Errorf("%q: role %q, want %q: %s", h, m.Role, role, m.Evidence)
		}
	}
	ms := settled("time", "bore SV C", "bore PV C")
	if ms[1].NotProbe != SetPointColumn || !ms[2].IsProbe() || ms[2].Role != series.Inner {
		t.Errorf("PV beside SV: %s; %s", ms[1].Evidence, ms[2].Evidence)
	}
}

// "10 min" is the interval that a mean was taken over, no minimum.
func TestIntervalOfAMean(t *testing.T) {
	for h, s := range map[string]Statistic{"bore mean (10 min) C": Average, "bore (10 min) C": Average, "bore 10 min C": Average, "5 min mean inner": Average, "inner ring 1 min avg °C": Average,
		"inner 5 min max °C": Maximum, "T1 min °C": Minimum, "Probe 2 min °C": Minimum, "inner min C": Minimum, "bore °C (min)": Minimum} {
		if m := Read(h, ""); m.Statistic != s {
			t.Errorf("%q: statistic %d, want %d: %s", h, m.Statistic, s, m.Evidence)
		}
	}
}

// What is calculated for a place is no probe there, even with no other temperature in the log; a title still may hold the word.
func TestCalculatedPlace(t *testing.T) {
	for _, h := range []string{"bore estimated C", "bore calculated C", "simulated inner ring", "predicted bore"} {
		if ms := settled("time", h); ms[1].NotProbe != ComputedColumn || ms[1].Reason == "" {
			t.Errorf("%q alone: kind %d: %s", h, ms[1].NotProbe, ms[1].Evidence)
		}
	}
	if ms := settled("time", "Calculated temperature °C"); ms[1].NotProbe != MayBeProbe {
		t.Errorf("a title: kind %d: %s", ms[1].NotProbe, ms[1].Evidence)
	}
}
