package judge

import (
	"math"
	"testing"

	"ringheat/analyze/curve"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"

	"pgregory.net/rapid"
)

func drawRule(t *rapid.T) Rule {
	return rapid.SampledFrom([]Rule{Strict, ThreeZone, Simple}).Draw(t, "rule")
}

// TestNoRulePassesBeyondTheLimit: whatever the uncertainty and the guard band.
func TestNoRulePassesBeyondTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := math.Round(rapid.Float64Range(20, 400).Draw(t, "limit")*10) / 10
		over := float64(rapid.IntRange(1, 500).Draw(t, "steps over")) / 10
		U := rapid.Float64Range(0, 50).Draw(t, "U")
		g := rapid.Float64Range(0, 4).Draw(t, "g")
		rule := drawRule(t)
		if d := atMost(inSteps(limit+over, 0.1), limit, U, g, rule); d.verdict == Pass {
			t.Fatalf("%v above the limit passes", over)
		}
		if d := atLeast(inSteps(limit-over, 0.1), limit, U, g, rule); d.verdict == Pass {
			t.Fatalf("%v short of the need passes", over)
		}
		if d := atMost(limit, limit, 0, g, rule); d.verdict != Pass {
			t.Fatalf("equality does not accept: %s", d.verdict)
		}
	})
}

// TestUncertaintyNeverTurnsPassIntoFail: at the same reading PASS and FAIL never stand on the two ends
// of a larger and a smaller uncertainty; UNPROVEN lies between.
func TestUncertaintyNeverTurnsPassIntoFail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := inSteps(rapid.Float64Range(90, 150).Draw(t, "y"), 0.1)
		rule := drawRule(t)
		g := rapid.Float64Range(0, 3).Draw(t, "g")
		seen := map[Verdict]bool{}
		last := Verdict(255)
		for U := 0.0; U < 40; U += 0.5 {
			v := atMost(y, 120, U, g, rule).verdict
			if last == Pass && v == Fail || last == Fail && v == Pass {
				t.Fatalf("y %v: %s turns into %s at U %v", y, last, v, U)
			}
			if last == Unproven && v != Unproven {
				t.Fatalf("y %v: a larger U %v proves more: %s", y, U, v)
			}
			last, seen[v] = v, true
		}
		if seen[Pass] && seen[Fail] {
			t.Fatalf("y %v passes and fails", y)
		}
	})
}

// drawBench makes a warming whose answers lie about the limits.
func drawBench(t *rapid.T) (bench, Settings) {
	b := defaultBench()
	b.every = rapid.SampledFrom([]float64{1, 2, 5}).Draw(t, "every")
	b.heatS = float64(rapid.IntRange(60, 400).Draw(t, "heat"))
	b.offS = b.heatS + float64(rapid.SampledFrom([]int{0, 0, 60}).Draw(t, "hold"))
	b.endS = b.offS + float64(rapid.IntRange(20, 200).Draw(t, "cool"))
	b.innerC = rapid.Float64Range(100, 125).Draw(t, "inner")
	b.outerC = rapid.Float64Range(70, 125).Draw(t, "outer")
	b.noise = rapid.SampledFrom([]float64{0, 0.05}).Draw(t, "noise")
	s := Settings{MaxTempC: num(120), MaxRingDiffK: num(30), ProbeToleranceK: num(rapid.SampledFrom([]float64{0.1, 1, 2.5}).Draw(t, "a"))}
	s.Rule = drawRule(t)
	if rapid.Bool().Draw(t, "need") {
		s.NeedTempC = num(rapid.Float64Range(80, 115).Draw(t, "need at"))
	}
	if rapid.Bool().Draw(t, "allowance") {
		s.OverTimeAllowedS = num(rapid.Float64Range(0, 100).Draw(t, "allowed"))
	}
	return b, s
}

// TestLessEvidenceNeverPasses: taking readings or a probe away, or finding a defect, never turns
// UNPROVEN or FAIL into PASS.
func TestLessEvidenceNeverPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, s := drawBench(t)
		whole := Judge(b.build(), s)
		if whole.Verdict == Pass {
			return
		}
		c := b.build()
		var took string
		switch took = rapid.SampledFrom([]string{"readings", "readings", "readings", "probe", "defect", "labels", "tail"}).Draw(t, "take"); took {
		case "readings":
			for range rapid.IntRange(1, 3).Draw(t, "holes") {
				// While it is heated: what comes after can't have been hotter.
				from := rapid.Float64Range(0, b.offS).Draw(t, "from")
				missing(c.Log, rapid.IntRange(0, 1).Draw(t, "channel"), from, from+rapid.Float64Range(0, 120).Draw(t, "for"))
			}
		case "probe":
			if rapid.Bool().Draw(t, "which") {
				c.Inner = nil
			} else {
				c.Outer = nil
			}
		case "defect":
			kind := rapid.SampledFrom([]segment.DefectKind{segment.StillRising, segment.PoorContact, segment.ProbeDetached, segment.ProbeLate,
				segment.CoolingOnly, segment.TooCoarse, segment.NotIdentifiable, segment.OnsetNotSeen, segment.ClockFault, segment.ManySpikes}).Draw(t, "kind")
			from := rapid.Float64Range(0, b.endS).Draw(t, "from")
			defect(&c, kind, rapid.IntRange(-1, 1).Draw(t, "channel"), from, rapid.Float64Range(from, b.endS).Draw(t, "to"))
		case "labels":
			c.RolesInDoubt = "the probes look swapped"
		case "tail":
			// The log stops early, and the segmenter says so.
			n := rapid.IntRange(2, c.Log.Len()).Draw(t, "rows")
			c.Cycle.Rows.End = n
			if at := c.Log.TimeS[n-1]; at < b.heatS {
				c.Cycle.End = segment.Moment{Row: -1}
				defect(&c, segment.StillRising, -1, at, at)
			}
		}
		less := Judge(c, s)
		if less.Verdict == Pass {
			t.Fatalf("without %s %s (%s) became %s (%s)", took, verdicts(whole), whole.Reason, verdicts(less), less.Reason)
		}
	})
}

// TestClockShiftChangesNothing: the same readings an hour later give the same answer.
func TestClockShiftChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, s := drawBench(t)
		if s.NeedTempC != nil && rapid.Bool().Draw(t, "mounted") {
			s.MountedAtS = num(float64(rapid.IntRange(1, int(b.endS)).Draw(t, "at")))
		}
		here := Judge(b.build(), s)
		const shift = 4096
		b.shiftS = shift
		if s.MountedAtS != nil {
			s.MountedAtS = num(*s.MountedAtS + shift)
		}
		there := Judge(b.build(), s)
		if verdicts(here) != verdicts(there) {
			t.Fatalf("%s became %s", verdicts(here), verdicts(there))
		}
		for i := range here.Findings {
			f, g := &here.Findings[i], &there.Findings[i]
			for _, p := range [][2]*float64{{f.Value, g.Value}, {f.Uncertainty, g.Uncertainty}, {f.Acceptance, g.Acceptance}, {f.Conformance, g.Conformance}} {
				if (p[0] == nil) != (p[1] == nil) || p[0] != nil && math.Abs(*p[0]-*p[1]) > 1e-9 {
					t.Fatalf("%s: %+v became %+v", f.Check, f, g)
				}
			}
			if (f.AtS == nil) != (g.AtS == nil) || f.AtS != nil && math.Abs(*f.AtS+shift-*g.AtS) > 1e-6 {
				t.Fatalf("%s is dated %v and %v", f.Check, f.AtS, g.AtS)
			}
		}
		if math.Abs(*here.OverLimitS-*there.OverLimitS) > 1e-6 {
			t.Fatalf("%v s above the limit became %v s", *here.OverLimitS, *there.OverLimitS)
		}
	})
}

// TestColumnOrderChangesNothing: with roles from headings, the order of the columns is of no account.
func TestColumnOrderChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, s := drawBench(t)
		here := Judge(b.build(), s)
		c := b.build()
		c.Log.Channels[0], c.Log.Channels[1] = c.Log.Channels[1], c.Log.Channels[0]
		c.Inner, c.Outer = []int{1}, []int{0}
		there := Judge(c, s)
		if verdicts(here) != verdicts(there) || here.Reason != there.Reason {
			t.Fatalf("%s %q became %s %q", verdicts(here), here.Reason, verdicts(there), there.Reason)
		}
	})
}

// TestJudgementIsWholeOnAnyReadings: rubbish in never gives a panic, a NaN or a check left out.
func TestJudgementIsWholeOnAnyReadings(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(0, 60).Draw(rt, "rows")
		l := &series.Log{Name: "any", Clock: series.Clock{IntervalS: rapid.SampledFrom([]float64{0, 1, 7}).Draw(rt, "interval")}}
		at := 0.0
		for range n {
			l.TimeS = append(l.TimeS, at)
			at += rapid.SampledFrom([]float64{1, 1, 1, 0, -5, 300}).Draw(rt, "step")
		}
		for k := range 3 {
			ch := series.Channel{Name: "c", Role: series.Inner, RoleSource: series.Source(rapid.IntRange(0, 8).Draw(rt, "source"))}
			for range n {
				v := rapid.SampledFrom([]float64{20, 60, 119.9, 120, 500, -273.15, series.Missing()}).Draw(rt, "v")
				ch.C = append(ch.C, v)
			}
			_ = k
			l.Channels = append(l.Channels, ch)
		}
		c := Case{Log: l, Local: &curve.Estimator{}}
		split := rapid.IntRange(0, 3).Draw(rt, "split")
		for k := range 3 {
			if k < split {
				c.Inner = append(c.Inner, k)
			} else {
				c.Outer = append(c.Outer, k)
			}
		}
		first := rapid.IntRange(-1, n+1).Draw(rt, "first")
		c.Cycle.Rows = segment.Window{First: first, End: rapid.IntRange(first, n+3).Draw(rt, "end")}
		if n > 0 {
			r := rapid.IntRange(0, n-1).Draw(rt, "end row")
			c.Cycle.End = segment.Moment{Row: r, AtS: l.TimeS[r], Known: rapid.Bool().Draw(rt, "end known")}
			for range rapid.IntRange(0, 2).Draw(rt, "defects") {
				defect(&c, rapid.SampledFrom([]segment.DefectKind{segment.ClockFault, segment.PoorContact, segment.ProbeDetached, segment.TooCoarse, segment.OnsetNotSeen}).Draw(rt, "kind"),
					rapid.IntRange(-1, 2).Draw(rt, "channel"), rapid.Float64Range(-1, 100).Draw(rt, "from"), rapid.Float64Range(-1, 100).Draw(rt, "to"))
			}
			c.Spikes = [][]int32{{0, int32(n - 1), int32(n + 4)}}
		}
		s := Settings{NeedTempC: num(60), OverTimeAllowedS: num(5), ClearanceDiffK: num(30)}
		if rapid.Bool().Draw(rt, "mounted") {
			s.MountedAtS = num(rapid.Float64Range(0, 400).Draw(rt, "at"))
		}
		complete(t, Judge(c, s))
	})
}
