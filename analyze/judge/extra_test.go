package judge

import (
	"math"
	"strings"
	"testing"
	"time"

	"ringheat/analyze/series"
)

func TestHoldAtTheLimitIsSaidOnce(t *testing.T) {
	held := func(top float64, f func(l *series.Log, c *Case)) Case {
		b := defaultBench()
		b.innerC, b.outerC, b.offS, b.endS, b.spoil = top, top-5, 900, 1000, f
		return b.build()
	}
	for _, tc := range []struct {
		name string
		c    Case
		s    Settings
		want string // "" means nothing is said
	}{
		// U = 2.61 K: 117 °C is the highest whole degree that could have been proven.
		{"hold within U", held(119.5, nil), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5)}, "the part was held at 119.5 °C, which lies within the uncertainty of 2.6 K of the limit of 120 °C; a set-point of 117 °C or lower could have been proven"},
		{"hold at the limit", held(120, nil), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5)}, "set-point of 117 °C"},
		{"hold well below", held(110, nil), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5)}, ""},
		{"hold far above", held(130, nil), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5)}, ""},
		{"simple rule has no guard band", held(119.5, nil), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5), Rule: Simple}, ""},
		{"set-point given, part overshoots it by 2 K", held(120, nil), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5), SetPointC: num(118)}, "the heater was set to 118.0 °C, which lies within the uncertainty of 2.6 K of the limit of 120 °C; a set-point of 115 °C or lower"},
		{"set-point channel", held(120, func(l *series.Log, c *Case) {
			ch := series.Channel{Name: "SP", Role: series.SetPoint, RoleSource: series.ByHeading, C: make([]float64, l.Len())}
			for i := range ch.C {
				ch.C[i] = 120
			}
			l.Channels = append(l.Channels, ch)
		}), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5)}, "the heater was set to 120.0 °C"},
	} {
		j := Judge(tc.c, tc.s)
		n := 0
		for _, note := range j.Notes {
			if strings.Contains(note, "could have been proven") {
				n++
				if tc.want == "" || !strings.Contains(note, tc.want) {
					t.Errorf("%s: said %q, want %q", tc.name, note, tc.want)
				}
			}
		}
		if want := map[bool]int{true: 1, false: 0}[tc.want != ""]; n != want {
			t.Errorf("%s: said %d times, want %d: %q", tc.name, n, want, j.Notes)
		}
	}
}

func TestClearanceLimit(t *testing.T) {
	for _, tc := range []struct {
		name           string
		innerC, outerC float64
		clearance      float64
		doubt          bool
		want           Verdict
		say            string
	}{
		{"inner hotter, clearance used up", 110, 90, 15, false, Fail, "5.0 K above the limit of 15 K at which the clearance is used up"},
		{"outer hotter eats none", 90, 110, 15, false, Pass, "below the limit of 35 K"},
		{"stricter decides", 110, 100, 20, false, Pass, "limit of 20 K at which the clearance is used up"},
		{"customary is stricter", 110, 100, 60, false, Pass, "below the limit of 35 K"},
		{"customary fails", 110, 70, 60, false, Fail, "above the limit of 35 K"},
		{"not settled which is hotter", 110, 90, 15, true, Unproven, "clearance"},
	} {
		b := defaultBench()
		b.innerC, b.outerC = tc.innerC, tc.outerC
		if tc.doubt {
			b.source = series.ByOrder
		}
		j := Judge(b.build(), mustCheck(t, Settings{MaxTempC: num(150), MaxRingDiffK: num(35), ClearanceDiffK: num(tc.clearance), ProbeToleranceK: num(1)}))
		f := j.Finding(RingDiff)
		if f.Verdict != tc.want || !strings.Contains(f.Reason, tc.say) {
			t.Errorf("%s: %s: %s, want %s: %s", tc.name, f.Verdict, f.Reason, tc.want, tc.say)
		}
		complete(t, j)
	}
}

func TestCalibrationDue(t *testing.T) {
	due := time.Date(2026, 3, 31, 0, 0, 0, 0, time.UTC)
	for _, tc := range []struct {
		name     string
		start    time.Time
		innerC   float64
		want     Verdict
		wantHeat Verdict
	}{
		{"in time", time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC), 100, Pass, Pass},
		{"on the last day", time.Date(2026, 3, 31, 23, 0, 0, 0, time.UTC), 100, Pass, Pass},
		{"a day late", time.Date(2026, 4, 1, 0, 30, 0, 0, time.UTC), 100, Unproven, Unproven},
		{"no date", time.Time{}, 100, Unproven, Unproven},
		{"late and exceeded", time.Date(2026, 4, 2, 0, 30, 0, 0, time.UTC), 128, Fail, Fail},
	} {
		b := defaultBench()
		b.innerC, b.outerC = tc.innerC, tc.innerC-10
		c := b.build()
		c.Log.Clock.Start = tc.start
		j := Judge(c, mustCheck(t, Settings{CalibrationDue: due, ProbeToleranceK: num(2.5)}))
		f := j.Finding(MaxTemp)
		if j.Verdict != tc.want || f.Verdict != tc.wantHeat {
			t.Errorf("%s: %s, %s", tc.name, j.Verdict, f.Reason)
		}
		if f.Verdict == Fail && *f.Proven {
			t.Errorf("%s: proven by a probe past its calibration", tc.name)
		}
		if j.Finding(NeedTemp).Verdict != NotAsked {
			t.Errorf("%s: need-temp is %s", tc.name, j.Finding(NeedTemp).Verdict)
		}
		complete(t, j)
	}
	// A run sheet's date stands in for a log without one.
	c := defaultBench().build()
	c.RunDate = time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	if j := Judge(c, Settings{CalibrationDue: due}); j.Verdict != Pass {
		t.Errorf("with a run date: %s", j.Reason)
	}
}

func TestResidualMagnetism(t *testing.T) {
	for _, tc := range []struct {
		name string
		m    Magnetism
		rule Rule
		want Verdict
		say  string
	}{
		{"clean", Magnetism{Value: 1}, Strict, Pass, "residual field of 1.00 A/cm, 1.00 A/cm below the limit of 2 A/cm"},
		{"south pole", Magnetism{Value: -1}, Strict, Pass, "residual field of 1.00 A/cm, 1.00"},
		{"at the limit", Magnetism{Value: 2}, Strict, Unproven, "only 0.00"},
		{"at the limit, simple", Magnetism{Value: 2}, Simple, Pass, ""},
		{"within the field of the surroundings", Magnetism{Value: 1.8}, Strict, Unproven, "only 0.20 A/cm below"},
		{"above", Magnetism{Value: 2.2}, Strict, Fail, "0.20 A/cm above"},
		// 0.3 mT = 2.387 A/cm in air.
		{"millitesla", Magnetism{Value: 0.3, Unit: Millitesla}, Strict, Fail, "2.39 A/cm"},
		{"gauss", Magnetism{Value: 1.5, Unit: Gauss}, Strict, Pass, "1.19 A/cm"},
		{"oersted with a stronger background", Magnetism{Value: 1.5, Unit: Oersted, Background: num(1.2)}, Strict, Unproven, "1.19 A/cm"},
		// 1.9 G is 1.51 A/cm; 0.5 G of the surroundings is 0.40 A/cm.
		{"gauss with a background in gauss", Magnetism{Value: 1.9, Unit: Gauss, Background: num(-0.5)}, Strict, Pass, "1.51 A/cm"},
		{"own limit", Magnetism{Value: 5, LimitAcm: num(8)}, Strict, Pass, "limit of 8 A/cm"},
	} {
		j := Judge(defaultBench().build(), mustCheck(t, Settings{Magnetism: &tc.m, Rule: tc.rule}))
		f := j.Finding(Magnet)
		if f == nil || f.Verdict != tc.want || !strings.Contains(f.Reason, tc.say) {
			t.Errorf("%s: %+v, want %s: %s", tc.name, f, tc.want, tc.say)
			continue
		}
		if want := map[Verdict]Verdict{Pass: Pass, Fail: Fail, Unproven: Unproven}[tc.want]; j.Verdict != want {
			t.Errorf("%s: the cycle is %s, the field %s", tc.name, j.Verdict, tc.want)
		}
		complete(t, j)
	}
	if j := Judge(defaultBench().build(), Settings{}); j.Finding(Magnet) != nil {
		t.Error("magnetism was judged without a reading")
	}
}

// TestSpikesAreCountedAndNamed: a marked sample is no temperature, and no secret either.
func TestSpikesAreCountedAndNamed(t *testing.T) {
	b := defaultBench()
	b.spoil = func(l *series.Log, c *Case) {
		l.Channels[0].C[100], l.Channels[0].C[200] = 300, 250.5
		c.Spikes = [][]int32{{100, 200}, nil}
	}
	j := Judge(b.build(), Settings{})
	if j.Verdict != Pass || j.PeakInner.RawC > 101 {
		t.Errorf("%s, raw peak %v", j.Verdict, j.PeakInner.RawC)
	}
	if all := strings.Join(j.Notes, "\n"); !strings.Contains(all, "2 readings of the inner ring were left out as spikes, which no heat capacity could follow; the highest shows 300 °C at t = 100 s") {
		t.Errorf("notes %q", all)
	}
}

// TestRealPeakOfOneSample: a reading at switch-off that stands out and was not marked is a temperature.
func TestRealPeakOfOneSample(t *testing.T) {
	b := defaultBench()
	b.innerC, b.outerC = 115, 105
	b.spoil = func(l *series.Log, c *Case) { l.Channels[0].C[300] = 126 }
	s := Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5), NeedTempC: num(122)}
	j := Judge(b.build(), s)
	if f := j.Finding(MaxTemp); f.Verdict != Fail || *f.Value != 126 {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
	// What may raise a maximum never helps a need.
	if f := j.Finding(NeedTemp); f.Verdict == Pass {
		t.Errorf("a single reading shows the need reached: %s", f.Reason)
	}
}

// TestMergedLoggers: two loggers in one file, each with readings in every other row only.
func TestMergedLoggers(t *testing.T) {
	for _, outerC := range []float64{90, 40} {
		b := defaultBench()
		b.outerC = outerC
		b.spoil = func(l *series.Log, c *Case) {
			for i := range l.TimeS {
				l.Channels[i%2].C[i] = series.Missing()
			}
		}
		j := Judge(b.build(), Settings{MaxTempC: num(120), MaxRingDiffK: num(35), ProbeToleranceK: num(2.5)})
		f := j.Finding(RingDiff)
		if want := map[float64]Verdict{90: Pass, 40: Fail}[outerC]; f.Verdict != want || math.Abs(*f.Value-(100-outerC)) > 0.3 {
			t.Errorf("outer at %v: %s: %s", outerC, f.Verdict, f.Reason)
		}
		if f := j.Finding(MaxTemp); f.Verdict != Pass {
			t.Errorf("%s: %s", f.Verdict, f.Reason)
		}
	}
}

// TestColdShaftIsNoUnevenness: once mounted, the shaft cools the bore.
func TestColdShaftIsNoUnevenness(t *testing.T) {
	b := defaultBench()
	b.spoil = func(l *series.Log, c *Case) {
		for i := 401; i < l.Len(); i++ {
			l.Channels[0].C[i] = 40
		}
	}
	s := Settings{NeedTempC: num(80), MaxRingDiffK: num(35), MaxTempC: num(120)}
	whole := Judge(b.build(), s)
	if f := whole.Finding(RingDiff); f.Verdict != Fail {
		t.Errorf("without a mounting time: %s: %s", f.Verdict, f.Reason)
	}
	s.MountedAtS = num(400)
	j := Judge(b.build(), s)
	if f := j.Finding(RingDiff); f.Verdict != Pass || *f.Value > 11 {
		t.Errorf("with a mounting time: %s: %s", f.Verdict, f.Reason)
	}
	if f := j.Finding(NeedTemp); f.Verdict != Pass {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
}

// TestWorkspaceIsNoMemory: buffers used again change no answer.
func TestWorkspaceIsNoMemory(t *testing.T) {
	w := &Workspace{}
	for _, b := range []bench{benchWith(100, 90, 1), benchWith(128, 60, 5), benchWith(90, 95, 2), benchWith(119, 100, 1)} {
		s := Settings{NeedTempC: num(85)}
		fresh, c := Judge(b.build(), s), b.build()
		c.Work = w
		again := Judge(c, s)
		if fresh.Reason != again.Reason || verdicts(fresh) != verdicts(again) || *fresh.OverLimitS != *again.OverLimitS {
			t.Errorf("%q became %q", fresh.Reason, again.Reason)
		}
	}
}

func benchWith(inner, outer, every float64) bench {
	b := defaultBench()
	b.innerC, b.outerC, b.every = inner, outer, every
	return b
}

// TestCalibrationStandsInForTheTolerance: offsets come off, and the certificate's uncertainty counts.
func TestCalibrationStandsInForTheTolerance(t *testing.T) {
	cal := &Calibration{InnerOffsetK: -1.5, OuterOffsetK: 0.5, ExpandedK: 0.6, DriftK: 0.3}
	b := defaultBench()
	b.innerC, b.outerC = 118.9, 100.5
	j := Judge(b.build(), mustCheck(t, Settings{MaxTempC: num(120), MaxRingDiffK: num(20), Calibration: cal}))
	f := j.Finding(MaxTemp)
	if f.Verdict != Fail || math.Abs(*f.Value-120.4) > 1e-9 {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
	// u^2 = (0.6/2)^2 + 0.3^2/3 + 0.05^2/3 (GUM 4.3.7 and 5.1.2), and hardly any noise.
	if want := 2 * math.Sqrt(0.09+0.03+0.0025/3); math.Abs(*f.Uncertainty-want) > 0.01 {
		t.Errorf("U %v, want %v", *f.Uncertainty, want)
	}
	if f := j.Finding(RingDiff); f.Verdict != Fail || math.Abs(*f.Value-20.4) > 1e-9 {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
	if !strings.Contains(strings.Join(j.Notes, "\n"), "inner 1.50 K, outer -0.50 K") {
		t.Errorf("notes %q", j.Notes)
	}
	for _, bad := range []Settings{
		{Calibration: &Calibration{}}, {Calibration: &Calibration{ExpandedK: math.NaN()}}, {Calibration: &Calibration{ExpandedK: 1, DriftK: -1}},
		{Calibration: &Calibration{ExpandedK: 1, InnerOffsetK: 80}}, {Calibration: cal, ProbeClass: "K1"}, {Calibration: cal, ProbeToleranceK: num(1)},
	} {
		if bad.Check() == nil {
			t.Errorf("%+v was taken", bad.Calibration)
		}
	}
}

// TestRiskOfADecision: the consumer's risk of a PASS and the producer's of a FAIL (JCGM 106:2012 9.3.2,
// from memory): at the guarded acceptance limit, 2u below, 2.3 %; see testdata/risk.csv.
func TestRiskOfADecision(t *testing.T) {
	for _, tc := range []struct {
		innerC float64
		rule   Rule
		want   Verdict
		high   float64 // largest risk that the decision may carry
		low    float64
	}{{110, Strict, Pass, 0.01, 0}, {120, Simple, Pass, 0.51, 0.49}, {121, Strict, Fail, 0.35, 0.15}, {128, Strict, Fail, 0.001, 0}} {
		b := defaultBench()
		b.innerC, b.outerC = tc.innerC, tc.innerC-5
		j := Judge(b.build(), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5), Rule: tc.rule})
		f := j.Finding(MaxTemp)
		if f.Verdict != tc.want || f.Risk == nil || *f.Risk > tc.high || *f.Risk < tc.low {
			t.Errorf("%v under %s: %s with risk %v (conformance %v)", tc.innerC, tc.rule, f.Verdict, f.Risk, *f.Conformance)
		}
	}
	b := defaultBench()
	b.innerC = 119
	j := Judge(b.build(), Settings{MaxTempC: num(120), ProbeToleranceK: num(2.5)})
	if f := j.Finding(MaxTemp); f.Verdict != Unproven || f.Risk != nil {
		t.Errorf("an undecided value carries the risk %v of a decision", f.Risk)
	}
}

// TestCoarseDisplayIsComparedInTenths: a display of whole degrees does not hide 0.4 K above the limit.
func TestCoarseDisplayIsComparedInTenths(t *testing.T) {
	for y, want := range map[float64]float64{120.4: 120.4, 120.04: 120, 119.96: 120, 119.94: 119.9} {
		if got := inSteps(y, 1); got != want {
			t.Errorf("%v in whole steps is %v, want %v", y, got, want)
		}
	}
	// 248 °F is 120 °C, and on the grid of a display of tenths of a degree Fahrenheit.
	if got := inSteps(120.02, 0.1/1.8); math.Abs(got-120) > 1e-9 {
		t.Errorf("120.02 °C on a display of 0.1 °F is %v", got)
	}
	if got := inSteps(117.4, 0.1); got != 117.4 {
		t.Errorf("117.4 became %v", got)
	}
}
