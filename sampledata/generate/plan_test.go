package generate

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"
)

// TestExpectationsFollowFromTruth holds the hand-written expectations against the noise-free values: whatever is to
// pass or fail must do so by more than the probe's half-width, half a display step and three standard
// deviations of noise, and whatever is to stay unproven must have a reason that one can name.
func TestExpectationsFollowFromTruth(t *testing.T) {
	verdicts := map[string]int{}
	for _, e := range plantMade() {
		for _, c := range truthOf(t, &e) {
			guard := c.ProbeToleranceK + c.DisplayStepK/2 + 3*max(c.NoiseInnerK, c.NoiseOuterK.Value)
			top := c.PeakShownInnerC
			if c.PeakShownOuterC.Known {
				top = max(top, c.PeakShownOuterC.Value)
			}
			hidden := len(e.log.Session.Outer.Open) > 0
			stopped := !c.EndS.Known
			allowed := c.OverTimeAllowedS > 0 && c.OverLimitShownS < c.OverTimeAllowedS-30
			bad := func(check, got string, right bool) {
				if !right {
					t.Errorf("%s cycle %d: %s can't be expected to be %q", c.File, c.Cycle, check, got)
				}
			}
			switch got := c.ExpectMaxTemp; got {
			case "pass":
				bad("max-temp", got, (top < c.MaxTempC-guard || allowed) && !hidden && !stopped)
			case "fail":
				bad("max-temp", got, top > c.MaxTempC+guard && !allowed)
			case "unproven":
				bad("max-temp", got, top < c.MaxTempC && (hidden || stopped || top > c.MaxTempC-1.1*c.ProbeToleranceK))
			default:
				bad("max-temp", got, false)
			}
			diffGuard := guard + c.ProbeToleranceK
			switch got := c.ExpectRingDiff; got {
			case "pass":
				bad("ring-diff", got, c.DiffShownK.Value < c.MaxRingDiffK.Value-diffGuard && !hidden && !stopped)
			case "fail":
				bad("ring-diff", got, c.DiffShownK.Value > c.MaxRingDiffK.Value+diffGuard)
			case "unproven":
				bad("ring-diff", got, hidden || stopped)
			case "not-asked":
				bad("ring-diff", got, !c.DiffShownK.Known && !c.MaxRingDiffK.Known)
			}
			unlabelled := strings.Contains(e.log.Dialect.Columns[1].Heading, "CH1")
			switch got := c.ExpectNeedTemp; got {
			case "pass":
				bad("need-temp", got, c.PeakShownInnerC > c.NeedTempC.Value+guard && !unlabelled)
			case "fail":
				bad("need-temp", got, c.PeakShownInnerC < c.NeedTempC.Value-guard && !unlabelled)
			case "unproven":
				bad("need-temp", got, unlabelled && c.PeakShownOuterC.Value < c.NeedTempC.Value-guard)
			}
			// A record is unproven exactly when a defect of it leaves an asked check open.
			bad("record", c.ExpectRecord, (c.ExpectRecord == "unproven") == (hidden || stopped || unlabelled))
			all := []string{c.ExpectMaxTemp, c.ExpectRingDiff, c.ExpectNeedTemp, c.ExpectRecord}
			overall := "pass"
			if slices.Contains(all, "fail") {
				overall = "fail"
			} else if slices.Contains(all, "unproven") {
				overall = "unproven"
			}
			bad("verdict", c.ExpectVerdict, c.ExpectVerdict == overall)
			verdicts[overall]++

			// The probes are inside the tolerance that the run sheet gives them, and the lag does not hide a harmed part.
			bad("probe offset", "inside its tolerance", math.Abs(c.OffsetInnerK) <= c.ProbeToleranceK && math.Abs(c.OffsetOuterK.Value) <= c.ProbeToleranceK)
			if c.ExpectMaxTemp == "pass" && c.OverTimeAllowedS == 0 {
				bad("max-temp", "pass", c.OverLimitMetalS == 0)
			}
			if c.ExpectNeedTemp == "pass" {
				bad("need-temp", "pass", c.PeakMetalInnerC >= c.NeedTempC.Value)
			}
		}
	}
	for _, v := range []string{"pass", "fail", "unproven"} {
		if verdicts[v] < 3 {
			t.Errorf("only %d cycles are to be %s", verdicts[v], v)
		}
	}
}

func TestMostRisesAreNotFirstOrder(t *testing.T) {
	bent, all := 0, 0
	for _, e := range plantMade() {
		for _, c := range truthOf(t, &e) {
			all++
			if c.Rise == "not-first-order" {
				bent++
			}
			if rate := c.RateInnerKPerS; rate < 0.05 || rate > 0.4 {
				t.Errorf("%s: initial rate %.3f K/s is no heater of this kind", c.File, rate)
			}
		}
	}
	if 2*bent < all || bent == all {
		t.Errorf("%d of %d rises are not first-order; at least half should be, and some should not", bent, all)
	}
}

// TestSmall holds the demo small enough to travel inside the program.
func TestSmall(t *testing.T) {
	total := 0
	names := map[string]bool{}
	seeds := map[uint64]bool{}
	for _, e := range plantMade() {
		total += len(e.Bytes)
		if names[e.log.Name] || seeds[e.log.Seed] {
			t.Errorf("%s: name or seed is used twice", e.log.Name)
		}
		names[e.log.Name], seeds[e.log.Seed] = true, true
	}
	if total > 400_000 {
		t.Errorf("the logs are %d bytes", total)
	}
}

func TestSeedMakesTheNoise(t *testing.T) {
	e := plant()[0]
	a, b := Make(&e.log), Make(&e.log)
	if !bytes.Equal(a.Bytes, b.Bytes) {
		t.Error("the same seed gave other bytes")
	}
	e.log.Seed++
	if bytes.Equal(a.Bytes, Make(&e.log).Bytes) {
		t.Error("another seed gave the same bytes")
	}
}

func TestNoise(t *testing.T) {
	n := newNoise(1)
	const draws = 200000
	var sum, squares float64
	inside := 0
	for range draws {
		v := n.normal()
		sum += v
		squares += v * v
		if math.Abs(v) < 1.959963985 {
			inside++
		}
	}
	near(t, "mean", sum/draws, 0, 4/math.Sqrt(draws), "standard normal, four standard errors")
	near(t, "variance", squares/draws, 1, 4*math.Sqrt(2.0/draws), "standard normal, four standard errors")
	near(t, "share within 1.96", float64(inside)/draws, 0.95, 4*math.Sqrt(0.95*0.05/draws), "standard normal, four standard errors")
}
