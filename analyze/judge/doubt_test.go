package judge

import (
	"strings"
	"testing"

	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// TestDoubtsUndoAPass: what makes a reading less than a reading turns a PASS into UNPROVEN in the checks that
// it touches, and in no other.
func TestDoubtsUndoAPass(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(l *series.Log, c *Case)
		want  map[Check]Verdict
		says  string
	}{
		{"sound", func(*series.Log, *Case) {}, map[Check]Verdict{MaxTemp: Pass, RingDiff: Pass, NeedTemp: Pass, Record: Pass}, ""},
		{"averages", func(l *series.Log, _ *Case) { l.Channels[0].Averaged, l.Channels[1].Averaged = true, true },
			map[Check]Verdict{MaxTemp: Unproven, RingDiff: Pass, NeedTemp: Pass, Record: Unproven}, "means over each interval"},
		{"lowest", func(l *series.Log, _ *Case) { l.Channels[0].Lowest, l.Channels[1].Lowest = true, true },
			map[Check]Verdict{MaxTemp: Unproven, RingDiff: Pass, NeedTemp: Pass}, "lowest of each interval"},
		{"cooler ring averaged", func(l *series.Log, _ *Case) { l.Channels[1].Averaged = true },
			map[Check]Verdict{MaxTemp: Unproven, NeedTemp: Pass}, "means over each interval"},
		{"left out above", func(l *series.Log, _ *Case) {
			l.LeftOut = []series.LeftOut{{Column: 4, Name: "T3 (C)", MaxC: 132, Why: "no role"}}
		}, map[Check]Verdict{MaxTemp: Unproven, RingDiff: Pass, NeedTemp: Pass, Record: Unproven}, "column 4 'T3 (C)', which is not judged (no role), went up to 132.0 °C"},
		{"left out below", func(l *series.Log, _ *Case) {
			l.LeftOut = []series.LeftOut{{Column: 4, Name: "T3 (C)", MaxC: 115, Why: "no role"}}
		}, map[Check]Verdict{MaxTemp: Pass, Record: Pass}, ""},
		{"frozen while warming", func(_ *series.Log, c *Case) { defect(c, segment.Frozen, 0, 200, 600) },
			map[Check]Verdict{MaxTemp: Unproven, RingDiff: Unproven, NeedTemp: Pass}, "repeat to the last digit"},
		{"frozen while cooling", func(_ *series.Log, c *Case) { defect(c, segment.Frozen, 0, 450, 480) },
			map[Check]Verdict{MaxTemp: Pass, RingDiff: Pass, NeedTemp: Pass, Record: Pass}, ""},
		{"saturated", func(_ *series.Log, c *Case) { defect(c, segment.Saturated, 0, 290, 310) },
			map[Check]Verdict{MaxTemp: Unproven, RingDiff: Unproven, NeedTemp: Pass}, "the end of a range"},
		{"same trace", func(_ *series.Log, c *Case) { defect(c, segment.SameTrace, -1, 0, 600) },
			map[Check]Verdict{MaxTemp: Pass, RingDiff: Unproven, NeedTemp: Pass}, "agree in every digit"},
		{"end not seen", func(_ *series.Log, c *Case) {
			c.Cycle.End.Known = false
			c.Cycle.Rows.End = 301
		}, map[Check]Verdict{MaxTemp: Unproven, NeedTemp: Pass}, "the end of heating is not in the log"},
		{"slow spike above", func(l *series.Log, c *Case) {
			l.Channels[0].C[400] = 129.9
			c.Spikes = [][]int32{{400}, nil}
			defect(c, segment.SlowSpike, 0, 400, 400)
		}, map[Check]Verdict{MaxTemp: Unproven, RingDiff: Pass, NeedTemp: Pass}, "1 reading of the inner ring, up to 129.9 °C"},
		{"slow spike below", func(l *series.Log, c *Case) {
			l.Channels[0].C[400] = 112
			c.Spikes = [][]int32{{400}, nil}
			defect(c, segment.SlowSpike, 0, 400, 400)
		}, map[Check]Verdict{MaxTemp: Pass, RingDiff: Pass, NeedTemp: Pass}, ""},
		{"spike above", func(l *series.Log, c *Case) {
			l.Channels[0].C[400] = 300
			c.Spikes = [][]int32{{400}, nil}
		}, map[Check]Verdict{MaxTemp: Pass, RingDiff: Pass, NeedTemp: Pass}, "the highest shows 300 °C"},
	} {
		b := defaultBench()
		b.noise = 0.02
		b.spoil = c.spoil
		j := Judge(b.build(), mustCheck(t, Settings{ProbeToleranceK: tight, NeedTempC: num(90)}))
		for check, want := range c.want {
			if f := j.Finding(check); f.Verdict != want {
				t.Errorf("%s: %s is %s, want %s: %s", c.name, check, f.Verdict, want, f.Reason)
			}
		}
		if !strings.Contains(j.Finding(MaxTemp).Reason+j.Finding(RingDiff).Reason, c.says) {
			t.Errorf("%s: %q is not said in %q", c.name, c.says, j.Finding(MaxTemp).Reason)
		}
	}
}

// TestDoubtsLeaveAFail: a limit seen exceeded stays exceeded.
func TestDoubtsLeaveAFail(t *testing.T) {
	for _, kind := range []segment.DefectKind{segment.Frozen, segment.Saturated, segment.SlowSpike, segment.SameTrace} {
		b := defaultBench()
		b.innerC = 130
		b.spoil = func(l *series.Log, c *Case) {
			l.Channels[0].Averaged = true
			l.LeftOut = []series.LeftOut{{Column: 4, Name: "T3", MaxC: 150}}
			defect(c, kind, 0, 290, 310)
		}
		if j := Judge(b.build(), mustCheck(t, Settings{ProbeToleranceK: tight})); j.Finding(MaxTemp).Verdict != Fail {
			t.Errorf("%s: %s", kind, verdicts(j))
		}
	}
}

// TestTimeOfUnknownUnit: seconds that may be minutes prove no short stay above the limit and no temperature
// when mounted.
func TestTimeOfUnknownUnit(t *testing.T) {
	for _, doubtful := range []bool{false, true} {
		want := map[bool]Verdict{false: Pass, true: Unproven}[doubtful]
		b := defaultBench()
		b.innerC = 122
		b.spoil = func(l *series.Log, _ *Case) { l.Clock.UnitDoubtful = doubtful }
		j := Judge(b.build(), mustCheck(t, Settings{ProbeToleranceK: tight, OverTimeAllowedS: num(120), OverCeilingK: num(5), NeedTempC: num(90), MountedAtS: num(400)}))
		for _, check := range []Check{MaxTemp, NeedTemp} {
			if f := j.Finding(check); f.Verdict != want {
				t.Errorf("unit in doubt %v: %s %s: %s", doubtful, check, f.Verdict, f.Reason)
			}
		}
	}
}

// TestHotStart: a part that is hot when the log begins, and not being warmed, was warmed before; one that is
// rising was colder.
func TestHotStart(t *testing.T) {
	for _, c := range []struct {
		name   string
		before func(t float64) float64 // K above the start of the warming, t s before it
		startC float64
		want   Verdict
	}{
		{"cold", func(float64) float64 { return 0 }, 20, Pass},
		{"hot and rising", nil, 80, Pass},
		{"hot and level", func(float64) float64 { return 0 }, 70, Unproven},
		{"hot and falling", func(t float64) float64 { return 0.05 * t }, 70, Unproven},
		{"hot and drifting up", func(t float64) float64 { return -0.01 * t }, 70, Unproven},
		{"warm workshop", func(float64) float64 { return 0 }, 35, Pass},
	} {
		b := defaultBench()
		b.oneProbe, b.every = true, 2
		b.spoil = func(l *series.Log, _ *Case) {
			for i, at := range l.TimeS {
				switch {
				case c.before == nil && at < 300:
					l.Channels[0].C[i] = inSteps(c.startC+(100-c.startC)*at/300, 0.1)
				case at < 140 && c.before != nil:
					l.Channels[0].C[i] = inSteps(c.startC+c.before(140-at), 0.1)
				case at < 300:
					l.Channels[0].C[i] = inSteps(c.startC+(100-c.startC)*(at-140)/160, 0.1)
				}
			}
		}
		j := Judge(b.build(), mustCheck(t, gear()))
		if f := j.Finding(MaxTemp); f.Verdict != c.want {
			t.Errorf("%s: %s: %s", c.name, f.Verdict, f.Reason)
		}
	}
}

// TestMountedInAHole: a reading after a hole is not said to be the temperature when mounted.
func TestMountedInAHole(t *testing.T) {
	b := defaultBench()
	b.spoil = func(l *series.Log, c *Case) { cutRows(l, c, 340, 560) }
	j := Judge(b.build(), mustCheck(t, Settings{ProbeToleranceK: tight, NeedTempC: num(95), MountedAtS: num(450)}))
	f := j.Finding(NeedTemp)
	if f.Verdict != Unproven || strings.Contains(f.Reason, "when mounted") || !strings.Contains(f.Reason, "lowest reading of the inner ring around mounting is 87.0") {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
}
