package judge

import (
	"math"
	"strings"
	"testing"

	"ringheat/analyze/curve"
	"ringheat/analyze/series"
)

func lagging(lagS, truePeakC, se float64) *curve.ProbeLag {
	return &curve.ProbeLag{Status: curve.Determined,
		LagS:      curve.Estimate{Value: lagS, StdErr: 0.1 * lagS, Known: true},
		TruePeakC: curve.Estimate{Value: truePeakC, StdErr: se, Known: true}}
}

// TestLagRaisesAMaximumAndNeverHelps: a true peak above the indicated one counts for max-temp; a lag
// never lowers a maximum and never raises what the bore reached.
func TestLagRaisesAMaximumAndNeverHelps(t *testing.T) {
	s := Settings{MaxTempC: num(120), ProbeToleranceK: num(1), NeedTempC: num(119), Rule: Simple}
	for _, tc := range []struct {
		name     string
		lag      *curve.ProbeLag
		wantY    float64
		wantHeat Verdict
	}{
		{"none", nil, 118, Pass},
		{"raises", lagging(10, 121.5, 0.3), 121.5, Fail},
		{"below the indicated peak", lagging(10, 110, 0.3), 118, Pass},
		{"not determined", &curve.ProbeLag{Status: curve.Undetermined, LagS: curve.Estimate{Value: 9, Known: true}, TruePeakC: curve.Estimate{Value: 130, Known: true}}, 118, Pass},
	} {
		b := defaultBench()
		b.innerC, b.outerC = 118, 110
		c := b.build()
		c.LagInner = tc.lag
		j := Judge(c, s)
		f := j.Finding(MaxTemp)
		if f.Verdict != tc.wantHeat || math.Abs(*f.Value-tc.wantY) > 1e-9 {
			t.Errorf("%s: %s: %s", tc.name, f.Verdict, f.Reason)
		}
		said := strings.Contains(strings.Join(f.Assumed, "\n"), "the probe lags by 10.0 s, so the inner ring is taken to have been 3.5 K hotter")
		if said != (tc.name == "raises") {
			t.Errorf("%s: said %q", tc.name, f.Assumed)
		}
		if f := j.Finding(NeedTemp); f.Verdict != Fail || *f.Value != 118 {
			t.Errorf("%s: a lag helps the need: %s", tc.name, f.Reason)
		}
		complete(t, j)
	}
}

// TestLagWhileCooling: the bore falls 0.05 K/s and the probe lags by 20 s, so it reads 1.0 K high.
func TestLagWhileCooling(t *testing.T) {
	c := defaultBench().build()
	c.LagInner = lagging(20, 90, 0.3)
	s := Settings{NeedTempC: num(80), ProbeToleranceK: num(1), MountedAtS: num(400)}
	j := Judge(c, s)
	f := j.Finding(NeedTemp)
	if math.Abs(*f.Value-94) > 0.11 {
		t.Errorf("the bore was at %v °C, want 94", *f.Value)
	}
	found := false
	for _, b := range f.Budget {
		found = found || b.Name == "probe lag while cooling" && math.Abs(b.U-0.05*2) < 0.01
	}
	if !found {
		t.Errorf("budget %+v names no lag of u = 0.1 K", f.Budget)
	}
}

// TestCoolingProvesAfterTheLastReading: a bore that cools after Newton's law is carried on beyond its last
// reading as a lower bound, which can prove the need and never disproves it.
func TestCoolingProvesAfterTheLastReading(t *testing.T) {
	build := func() Case {
		b := defaultBench()
		b.endS = 1500
		b.spoil = func(l *series.Log, c *Case) {
			for i := 301; i < l.Len(); i++ {
				v := 20 + 80*math.Exp(-(l.TimeS[i]-300)/4000)
				l.Channels[0].C[i] = inSteps(v+0.05*math.Sin(float64(i*i)), 0.1)
				l.Channels[1].C[i] = inSteps(v-1, 0.1)
			}
		}
		c := b.build()
		cooling := (&curve.Estimator{}).Cooling(curve.CoolingTrace{TimeS: c.Log.TimeS[301:], TempC: c.Log.Channels[0].C[301:],
			SwitchOffS: 300, AmbientC: 20, AmbientU: 3, StepK: 0.1})
		if cooling.Status != curve.Determined {
			t.Fatalf("cooling %s: %s", cooling.Status, cooling.Why)
		}
		c.Cooling = &cooling
		return c
	}
	// 200 s after the last reading the bore is at 20 + 80 exp(-1400/4000) = 76.4 °C.
	for _, tc := range []struct {
		needC float64
		want  Verdict
		say   string
	}{
		{70, Pass, "or more when mounted"},
		{76, Unproven, "does not prove it warm enough"},
		{90, Unproven, "does not prove it warm enough"},
	} {
		s := Settings{NeedTempC: num(tc.needC), ProbeToleranceK: num(1), MountedAtS: num(1700)}
		j := Judge(build(), s)
		f := j.Finding(NeedTemp)
		if f.Verdict != tc.want || !strings.Contains(f.Reason, tc.say) {
			t.Errorf("need %v: %s: %s", tc.needC, f.Verdict, f.Reason)
		}
		if f.Value == nil || *f.Value > 76.5 || *f.Value < 74 {
			t.Errorf("need %v: lower bound %v, truth 76.4", tc.needC, f.Value)
		}
		complete(t, j)
		without := build()
		without.Cooling = nil
		if j := Judge(without, s); j.Finding(NeedTemp).Verdict != Unproven {
			t.Errorf("need %v without a cooling record: %s", tc.needC, j.Finding(NeedTemp).Reason)
		}
		// Of which ring the probe sits on nothing is known: no proof.
		doubt := build()
		doubt.RolesInDoubt = "the probes look swapped"
		if j := Judge(doubt, s); j.Finding(NeedTemp).Verdict != Unproven {
			t.Errorf("need %v with roles in doubt: %s", tc.needC, j.Finding(NeedTemp).Reason)
		}
	}
}
