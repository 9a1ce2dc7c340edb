package judge

import (
	"strings"
	"testing"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// TestUnitInDoubt: a PASS or FAIL that rests on an unnamed unit has to hold under every unit that is as
// plausible.
func TestUnitInDoubt(t *testing.T) {
	for _, c := range []struct {
		name     string
		taken    quantity.TemperatureUnit
		top      float64 // as taken, °C
		need     *float64
		max      float64
		doubtful bool
		maxTemp  Verdict
		needTemp Verdict
	}{
		{"sure", quantity.DegreeCelsius, 160, num(130), 200, false, Pass, Pass},
		// 167 as °F is 75 °C
		{"need reached in °C alone", quantity.DegreeCelsius, 167, num(130), 200, true, Pass, Unproven},
		{"reached in both", quantity.DegreeCelsius, 167, num(60), 200, true, Pass, Pass},
		// 75 °C taken from °F is 167 °C if it was °C
		{"within the limit in °F alone", quantity.DegreeFahrenheit, 75, nil, 120, true, Unproven, NotAsked},
		{"within it in both", quantity.DegreeFahrenheit, 75, nil, 180, true, Pass, NotAsked},
		{"beyond it in °C alone", quantity.DegreeCelsius, 167, nil, 120, true, Unproven, NotAsked},
	} {
		b := defaultBench()
		b.oneProbe, b.innerC = true, c.top
		b.spoil = func(l *series.Log, _ *Case) {
			l.Channels[0].Unit, l.Channels[0].UnitDoubtful = c.taken, c.doubtful
		}
		j := Judge(b.build(), mustCheck(t, Settings{Kind: Coupling, MaxTempC: num(c.max), NeedTempC: c.need, ProbeToleranceK: tight}))
		m, n, r := j.Finding(MaxTemp), j.Finding(NeedTemp), j.Finding(Record)
		if m.Verdict != c.maxTemp || n.Verdict != c.needTemp {
			t.Errorf("%s: %s: %s / %s", c.name, verdicts(j), m.Reason, n.Reason)
		}
		if (m.Verdict == Unproven || n.Verdict == Unproven) != (r.Verdict == Unproven) {
			t.Errorf("%s: record %s", c.name, r.Verdict)
		}
		if j.Verdict == Unproven && !strings.Contains(j.Reason, "--temp-unit") {
			t.Errorf("%s: %s", c.name, j.Reason)
		}
	}
}

// TestPlausibleSettings: figures that no part and no probe has are refused in words that name the flag.
func TestPlausibleSettings(t *testing.T) {
	for _, c := range []struct {
		s    Settings
		says string
	}{
		{Settings{OverTimeAllowedS: num(1e9)}, "--over-time-allowed-s"},
		{Settings{OverTimeAllowedS: num(10), OverCeilingK: num(1e9)}, "--over-ceiling-k"},
		{Settings{ProbeToleranceK: num(1e-9)}, "--probe-tolerance-k"},
		{Settings{Calibration: &Calibration{InnerOffsetK: 50, ExpandedK: 1}}, "--inner-offset-k"},
		{Settings{Calibration: &Calibration{OuterOffsetK: -11, ExpandedK: 1}}, "--outer-offset-k"},
		{Settings{OverTimeAllowedS: num(24 * 3600), OverCeilingK: num(50), ProbeToleranceK: num(0.01)}, ""},
		{Settings{Calibration: &Calibration{InnerOffsetK: 10, ExpandedK: 1}}, ""},
	} {
		err := c.s.Check()
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v", c.says, err)
		}
	}
}

// TestCageAloneSaysNothingOfTheRings: what a cage or seal stands lifts no ring's limit.
func TestCageAloneSaysNothingOfTheRings(t *testing.T) {
	for _, c := range []struct {
		classes string
		maxC    float64
	}{
		{"cage-brass", 120}, {"cage-steel", 120}, {"Cage-Brass + cage-steel", 120}, {"sealed", 80}, {"greased+cage-brass", 80},
		{"s1+cage-brass", 200}, {"s1", 200}, {"s2 + sealed", 80},
	} {
		l, err := DefaultLimits().Find(Bearing, c.classes)
		if err != nil || l.MaxTemp.Value != c.maxC {
			t.Errorf("%s: %v °C, want %v (%v)", c.classes, l.MaxTemp.Value, c.maxC, err)
		}
	}
}
