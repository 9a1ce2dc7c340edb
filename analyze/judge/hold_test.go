package judge

import (
	"testing"

	"ringheat/analyze/curve"
)

// TestNoisyHoldBelowTheLimitIsNoFail: the highest of 600 noisy samples lies well above the truth. A part
// held 3u below the limit is a FAIL in under 1 % of seeds; by its raw maximum it would often be one.
func TestNoisyHoldBelowTheLimitIsNoFail(t *testing.T) {
	seeds := 1000
	if raceEnabled || testing.Short() {
		seeds = 100
	}
	for _, noise := range []float64{0.2, 1} {
		fails, rawAbove := 0, 0
		for seed := range seeds {
			b := defaultBench()
			b.offS, b.endS, b.noise, b.seed = b.heatS+600, b.heatS+700, noise, uint64(seed+1)
			s := Settings{MaxTempC: num(120), ProbeToleranceK: num(0.05)}
			// u is that of the probe, the display, and the noise of one reading.
			u := noise
			b.innerC = 120 - 3*u
			b.outerC = b.innerC - 5
			j := Judge(b.build(), s)
			f := j.Finding(MaxTemp)
			if f.Verdict == Fail {
				fails++
			}
			if j.PeakInner.RawC > 120 {
				rawAbove++
			}
		}
		t.Logf("noise %v K: %d of %d fail; the raw maximum is above the limit in %d", noise, fails, seeds, rawAbove)
		if fails*100 >= seeds {
			t.Errorf("noise %v K: %d of %d seeds fail", noise, fails, seeds)
		}
		if rawAbove*4 < seeds {
			t.Errorf("noise %v K: the raw maximum is above the limit in %d of %d seeds only, so this test shows little", noise, rawAbove, seeds)
		}
	}
}

func benchCase(noise float64) Case {
	b := defaultBench()
	b.heatS, b.offS, b.endS, b.noise, b.seed = 1400, 1700, 2199, noise, 1
	b.innerC, b.outerC = 112, 95
	return b.build()
}

func BenchmarkJudge2200Rows(b *testing.B) {
	c := benchCase(0.1)
	c.Local, c.Work = &curve.Estimator{}, &Workspace{}
	s := Settings{Kind: Bearing, MaxTempC: num(120), MaxRingDiffK: num(35), NeedTempC: num(95), ProbeToleranceK: num(2.5), Limits: DefaultLimits()}
	b.ReportAllocs()
	for b.Loop() {
		if j := Judge(c, s); j.Verdict != Pass {
			b.Fatal(j.Reason)
		}
	}
}

func BenchmarkLargest2200Rows(b *testing.B) {
	c := benchCase(0.1)
	e := &curve.Estimator{}
	o := curve.ExtremeOptions{StepK: 0.1, CornersS: []float64{0, 1400, 1700}}
	for b.Loop() {
		e.Largest(c.Log.TimeS, c.Log.Channels[0].C, o)
	}
}

func BenchmarkJudgeAboveTheLimit(b *testing.B) {
	c := benchCase(0.1)
	for i := range c.Log.Channels {
		for k := range c.Log.Channels[i].C {
			c.Log.Channels[i].C[k] += 20
		}
	}
	c.Local, c.Work = &curve.Estimator{}, &Workspace{}
	s := Settings{Kind: Bearing, MaxTempC: num(120), MaxRingDiffK: num(35), ProbeToleranceK: num(2.5), OverTimeAllowedS: num(20), Limits: DefaultLimits()}
	b.ReportAllocs()
	for b.Loop() {
		if j := Judge(c, s); j.Verdict != Fail {
			b.Fatal(j.Reason)
		}
	}
}
