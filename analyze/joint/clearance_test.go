package joint

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ringheat/analyze/quantity"
)

var clearanceFiles = []struct {
	kind BearingType
	file string
	rows int
}{
	{DeepGrooveBall, "iso5753_deep_groove_ball.csv", 14},
	{CylindricalRoller, "iso5753_cylindrical_roller.csv", 20},
	{SphericalRoller, "iso5753_spherical_roller.csv", 20},
}

func TestClearanceCells(t *testing.T) {
	for _, f := range clearanceFiles {
		for _, row := range reference(t, f.file, f.rows) {
			over, incl := num(t, row, "over_mm"), num(t, row, "incl_mm")
			for _, group := range []string{"C2", "CN", "C3", "C4", "C5"} {
				for _, d := range []float64{math.Nextafter(over, incl), incl} {
					r, err := InternalClearance(f.kind, d, group)
					if err != nil {
						t.Errorf("%s %s at %v mm: %v", f.kind, group, d, err)
						continue
					}
					near(t, string(f.kind)+" "+group+" smallest", r.MinUM, num(t, row, group+"_min"), 0, row["source"])
					disputed := f.kind == SphericalRoller && group == "C5" && (over == 24 || over == 65)
					if r.MaxKnown == disputed {
						t.Errorf("%s %s at %v mm: largest known is %v", f.kind, group, d, r.MaxKnown)
					}
					if r.MaxKnown {
						near(t, string(f.kind)+" "+group+" largest", r.MaxUM, num(t, row, group+"_max"), 0, row["source"])
					} else if r.Note == "" {
						t.Errorf("%s %s at %v mm: nothing says why the largest is not known", f.kind, group, d)
					}
				}
			}
		}
	}
}

// TestClearanceTableIsSound: groups follow each other upwards in every range, and ranges follow each other without a hole.
func TestClearanceTableIsSound(t *testing.T) {
	last := map[BearingType]sizeRange{}
	for _, c := range clearanceTable() {
		if l, ok := last[c.kind]; ok && c.sizes != l && c.sizes.overMM != l.inclMM {
			t.Errorf("%s: %v follows %v", c.kind, c.sizes, l)
		}
		last[c.kind] = c.sizes
		if c.from.Confidence == Disputed != (c.why != "") {
			t.Errorf("%s over %v mm %s: disputed without a reason, or the other way round", c.kind, c.sizes.overMM, c.group)
		}
	}
	for _, kind := range []BearingType{DeepGrooveBall, CylindricalRoller, SphericalRoller} {
		for d := 25.0; d <= 200; d += 5 {
			before := -1.0
			for _, g := range strings.Split(Groups, ", ") {
				r, err := InternalClearance(kind, d, g)
				if err != nil {
					t.Fatal(err)
				}
				if r.MinUM <= before || r.MaxKnown && r.MaxUM <= r.MinUM {
					t.Errorf("%s %v mm: %s is %v to %v µm after %v", kind, d, g, r.MinUM, r.MaxUM, before)
				}
				before = r.MinUM
			}
		}
	}
}

func TestClearanceRefused(t *testing.T) {
	for _, d := range []float64{201, 225, 281, 320, 500} {
		_, err := InternalClearance(DeepGrooveBall, d, "CN")
		refused(t, "disputed range", err, "give the bearing's own clearance")
	}
	_, err := InternalClearance(DeepGrooveBall, 501, "CN")
	refused(t, "out of range", err, "not in the table")
	_, err = InternalClearance(SphericalRoller, 10, "CN")
	refused(t, "out of range", err, "not in the table")
	_, err = InternalClearance(DeepGrooveBall, math.NaN(), "CN")
	refused(t, "no number", err, "not in the table")
	_, err = InternalClearance(DeepGrooveBall, 50, "C9")
	refused(t, "group", err, "none of C2")
	_, err = InternalClearance("taper", 50, "CN")
	refused(t, "type", err, "spherical-roller")
	a, err := InternalClearance(DeepGrooveBall, 50, " c3 ")
	if err != nil || a.MinUM != 18 || a.MaxUM != 36 {
		t.Errorf("C3 at 50 mm: %+v, %v (ISO 5753-1:2009: 18 to 36)", a, err)
	}
	if b, err := InternalClearance(DeepGrooveBall, 50, ""); err != nil || b.MinUM != 6 || b.MaxUM != 23 {
		t.Errorf("no group at 50 mm: %+v, %v (ISO 5753-1:2009 CN: 6 to 23)", b, err)
	}
}

func TestGivenClearance(t *testing.T) {
	r, err := GivenClearance(12, 36)
	if err != nil || r.MinUM != 12 || r.MaxUM != 36 || !r.MaxKnown || r.Origin.Confidence != Given {
		t.Errorf("%+v, %v", r, err)
	}
	for _, c := range [][2]float64{{36, 12}, {-1, 12}, {0, math.Inf(1)}, {math.NaN(), 12}} {
		_, err := GivenClearance(c[0], c[1])
		refused(t, "clearance", err, "the smaller first")
	}
}

func TestLossCountsRollingElements(t *testing.T) {
	r, err := GivenRaceways(116, 164) // rolling elements of 24 mm
	if err != nil {
		t.Fatal(err)
	}
	// The three lengths one by one: inner raceway, two rolling elements, outer raceway.
	threeLengths := func(inner, element, outer float64) float64 {
		const alpha = 12e-6
		return 1000 * alpha * (116*(inner-20) + 2*24*(element-20) - 164*(outer-20))
	}
	const source = "loss = alpha (Fi dTi + 2 Dw dTw - Eo dTo)"
	l := LossAt(r, 12e-6, 100, 80)
	near(t, "elements as hot as the inner ring", l.CautiousUM, threeLengths(100, 100, 80), 1e-9, source)
	near(t, "elements halfway", l.MeanUM, threeLengths(100, 90, 80), 1e-9, source)
	if l.CautiousUM <= l.MeanUM {
		t.Errorf("the cautious loss %v is not above the mean one %v", l.CautiousUM, l.MeanUM)
	}
	if l := LossAt(r, 12e-6, 100, 100); l.CautiousUM != 0 || l.MeanUM != 0 {
		t.Errorf("uniform warming takes %+v", l)
	}
	if l := LossAt(r, 12e-6, 80, 100); l.CautiousUM != 0 || l.MeanUM != 0 {
		t.Errorf("a hotter outer ring takes %+v", l)
	}
	// Leaving the rolling elements out gives 12e-6 (116 * 80 - 164 * 60) < 0: a gain where there is a loss.
	if naive := 1000 * 12e-6 * (116*80 - 164*60); naive > 0 {
		t.Errorf("the naive formula gives %v, so this test shows nothing", naive)
	}
}

func TestEvennessLimit(t *testing.T) {
	r, err := EstimateRaceways(100, 180)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "inner raceway", r.InnerMM, 116, 1e-12, "(4 d + D)/5")
	near(t, "outer raceway", r.OuterMM, 164, 1e-12, "(d + 4 D)/5")
	clearance, err := InternalClearance(DeepGrooveBall, 100, "C3")
	if err != nil {
		t.Fatal(err)
	}
	steel := GivenMaterial(12e-6, true)
	e, err := EvennessLimit(r, steel, clearance)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cautious", float64(e.CautiousK), 30/(12.6e-3*164), 1e-9, "30 µm (ISO 5753-1 C3 at 100 mm) over alpha Eo, alpha 5 % larger")
	near(t, "halfway", float64(e.MeanK), 30/(12.6e-3*140), 1e-9, "30 µm over alpha (Fi + Eo)/2")
	if e.Confidence != Memory || !strings.Contains(e.Words, "estimated") {
		t.Errorf("estimated raceways are said to be %q: %s", e.Confidence, e.Words)
	}
	given, err := GivenRaceways(116, 164)
	if err != nil {
		t.Fatal(err)
	}
	if e, err := EvennessLimit(given, steel, clearance); err != nil || e.Confidence != Verified {
		t.Errorf("given raceways: %v, %v", e.Confidence, err)
	}
	none, err := EvennessLimit(r, steel, Radial{})
	if err != nil || none.CautiousK != 0 {
		t.Errorf("no clearance: %+v, %v", none, err)
	}
	_, err = EvennessLimit(r, steel, Radial{MinUM: -3})
	refused(t, "preloaded", err, "preloaded")
	_, err = EvennessLimit(r, GivenMaterial(0, true), clearance)
	refused(t, "no coefficient", err, "coefficient")
}

func TestLeftWhileWarm(t *testing.T) {
	r, err := GivenRaceways(116, 164)
	if err != nil {
		t.Fatal(err)
	}
	steel := GivenMaterial(12e-6, true)
	for _, c := range []struct {
		inner, outer quantity.Celsius
		left         float64
		words        string
	}{
		{100, 90, 30 - 19.68, "at least 10 µm"},
		{100, 70, 30 - 59.04, "29 µm too little"},
		{90, 90, 30, "no clearance is lost"},
		{90, 120, 30, "no clearance is lost"},
	} {
		l, err := LeftWhileWarm(r, steel, Radial{MinUM: 30, MaxUM: 58, MaxKnown: true}, c.inner, c.outer)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "left", l.CautiousUM, c.left, 1e-9, "30 µm - 12e-6 * 164 mm * difference")
		near(t, "left of the largest", l.LargestUM, c.left+28, 1e-9, "28 µm more")
		if !strings.Contains(l.Words, c.words) {
			t.Errorf("words %q, want %q in them", l.Words, c.words)
		}
	}
	_, err = LeftWhileWarm(r, steel, Radial{}, quantity.Celsius(math.NaN()), 20)
	refused(t, "no number", err, "two numbers")
}

func TestRacewaysRefused(t *testing.T) {
	_, err := EstimateRaceways(100, 90)
	refused(t, "outside smaller", err, "the larger")
	_, err = EstimateRaceways(math.NaN(), 90)
	refused(t, "no number", err, "positive")
	_, err = GivenRaceways(120, 110)
	refused(t, "raceways crossed", err, "outer the larger")
}

// TestRacewayShare holds the share of the interference against the full solution for a thick-walled ring on a solid shaft.
func TestRacewayShare(t *testing.T) {
	const modulus, ratio = 210e9, 0.3 // Pa; cancels, as it must
	a, b := 0.050, 0.058              // m, bore and raceway radius
	pressure := 30e6
	ringAtBore := pressure * a / modulus * ((b*b+a*a)/(b*b-a*a) + ratio)
	shaftAtBore := pressure * a / modulus * (1 - ratio)
	ringAtRaceway := 2 * pressure * a * a * b / (modulus * (b*b - a*a))
	r, err := GivenRaceways(116, 164)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share", RacewayShare(100, r), ringAtRaceway/(ringAtBore+shaftAtBore), 1e-12, "Lame's thick-walled cylinder, solid shaft, same modulus")

	i, err := FindInterference(100, SizeSpec{Class: "m6"}, SizeSpec{Class: NormalBore}, Material{}, Material{})
	if err != nil {
		t.Fatal(err)
	}
	clearance, err := InternalClearance(DeepGrooveBall, 100, "C3")
	if err != nil {
		t.Fatal(err)
	}
	m, err := EstimateAfterMounting(100, r, clearance, i)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "smallest", m.MinUM, 30-55*100/116.0, 1e-9, "ISO 5753-1 C3 30 to 58, ISO 286/492 interference 13 to 55")
	near(t, "largest", m.MaxUM, 58-13*100/116.0, 1e-9, "the same")
	if !strings.Contains(m.Words, "estimate") || !strings.Contains(m.Words, "preloaded") {
		t.Errorf("words: %s", m.Words)
	}
	loose, err := EstimateAfterMounting(100, r, clearance, Interference{MinUM: -20, MaxUM: -2})
	if err != nil || loose.MinUM != 30 || loose.MaxUM != 58 {
		t.Errorf("a loose fit takes clearance: %+v, %v", loose, err)
	}
	_, err = EstimateAfterMounting(120, r, clearance, i)
	refused(t, "bore beyond the raceway", err, "smaller than the inner raceway")
}

// TestLossProperties: no loss without a difference, more loss with more difference, the cautious one never the smaller; and at the
// evenness limit nothing is left.
func TestLossProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := rapid.Float64Range(10, 500).Draw(t, "bore")
		r, err := EstimateRaceways(bore, bore*rapid.Float64Range(1.3, 2.6).Draw(t, "ratio"))
		if err != nil {
			t.Fatal(err)
		}
		m := GivenMaterial(rapid.Float64Range(10e-6, 14e-6).Draw(t, "alpha"), true)
		outer := quantity.Celsius(rapid.Float64Range(0, 120).Draw(t, "outer"))
		diff := rapid.Float64Range(0, 80).Draw(t, "difference")
		l := LossAt(r, m.AlphaPerK, outer+quantity.Celsius(diff), outer)
		more := LossAt(r, m.AlphaPerK, outer+quantity.Celsius(diff+1), outer)
		if l.CautiousUM < l.MeanUM || l.MeanUM < 0 || more.CautiousUM <= l.CautiousUM || more.MeanUM <= l.MeanUM {
			t.Fatalf("%+v, then %+v", l, more)
		}
		c := Radial{MinUM: rapid.Float64Range(0, 300).Draw(t, "clearance")}
		e, err := EvennessLimit(r, m, c)
		if err != nil {
			t.Fatal(err)
		}
		if e.CautiousK > e.MeanK {
			t.Fatalf("%+v", e)
		}
		left, err := LeftWhileWarm(r, m, c, outer+quantity.Celsius(e.CautiousK), outer)
		if err != nil {
			t.Fatal(err)
		}
		if left.CautiousUM < -1e-9 {
			t.Fatalf("%v µm left at the limit of %v K", left.CautiousUM, e.CautiousK)
		}
	})
}
