package joint

import (
	"strings"
	"testing"
)

// TestInterferenceExamples combines seats of ISO 286 with Normal bores of ISO 492.
func TestInterferenceExamples(t *testing.T) {
	for _, row := range reference(t, "interference_examples.csv", 18) {
		d := num(t, row, "d_mm")
		i, err := FindInterference(d, SizeSpec{Class: row["class"]}, SizeSpec{Class: NormalBore}, Material{}, Material{})
		if err != nil {
			t.Errorf("%v %s: %v", d, row["class"], err)
			continue
		}
		near(t, "largest", i.MaxUM, num(t, row, "interference_max_um"), 0, row["source"])
		near(t, "smallest", i.MinUM, num(t, row, "interference_min_um"), 0, row["source"])
		zero := 0.0
		n, err := FindNeed(Seat{DiameterMM: d, Interference: i, EaseUM: &zero, ShaftC: 20, Part: GivenMaterial(num(t, row, "alpha_per_k_e6")*1e-6, true)})
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, "rise", float64(n.NeededC-20), num(t, row, "rise_k"), 5e-5, row["source"])
	}
}

func TestMeasuredSizes(t *testing.T) {
	steel := GivenMaterial(12e-6, true)
	i, err := FindInterference(100, SizeSpec{Measured: &Measured{SizeMM: 100.030, StdUM: 3, AtC: 20}},
		SizeSpec{Measured: &Measured{SizeMM: 99.995, StdUM: 4, AtC: 20}}, steel, steel)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "interference", i.MaxUM, 35, 1e-6, "100.030 - 99.995 mm")
	near(t, "smallest", i.MinUM, i.MaxUM, 0, "measured, so one number")
	near(t, "uncertainty", i.StdUM, 5, 1e-12, "3 and 4 in quadrature")

	// A shaft measured warm is smaller at 20 °C: 100 mm, 12e-6/K, 10 K: 12 µm.
	warm, err := FindInterference(100, SizeSpec{Measured: &Measured{SizeMM: 100.030, AtC: 30}}, SizeSpec{Class: NormalBore}, steel, steel)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(warm.Basis, "not stated") || strings.Contains(i.Basis, "not stated") {
		t.Errorf("what was not stated is not said, or the other way round: %q, %q", warm.Basis, i.Basis)
	}
	near(t, "warm shaft", warm.MaxUM, 30-12+20, 0.01, "thermal expansion of 100 mm over 10 K, ISO 492 bore 0/-20")
	near(t, "warm shaft, smallest", warm.MinUM, 30-12, 0.01, "the same, bore at its largest")

	drawn, err := FindInterference(100, SizeSpec{Limits: &Deviations{UpperUM: 45, LowerUM: 23}}, SizeSpec{Class: "H7"}, steel, steel)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "drawing limits, largest", drawn.MaxUM, 45, 0, "45 - 0")
	near(t, "drawing limits, smallest", drawn.MinUM, 23-35, 0, "23 - 35 (H7 at 100 mm)")
}

func TestSizesRefused(t *testing.T) {
	steel := GivenMaterial(12e-6, false)
	normal := SizeSpec{Class: NormalBore}
	for _, c := range []struct {
		what        string
		d           float64
		shaft, bore SizeSpec
		want        string
	}{
		{"nothing", 100, SizeSpec{}, normal, "exactly one"},
		{"two", 100, SizeSpec{Class: "m6", Measured: &Measured{SizeMM: 100}}, normal, "exactly one"},
		{"another diameter", 100, SizeSpec{Measured: &Measured{SizeMM: 110, AtC: 20}}, normal, "1 %"},
		{"negative size", 100, SizeSpec{Measured: &Measured{SizeMM: -100, AtC: 20}}, normal, "positive number of mm"},
		{"negative uncertainty", 100, SizeSpec{Measured: &Measured{SizeMM: 100, StdUM: -1, AtC: 20}}, normal, "positive number of mm"},
		{"limits upside down", 100, SizeSpec{Limits: &Deviations{UpperUM: 5, LowerUM: 9}}, normal, "lies above"},
		{"measured in nitrogen", 100, SizeSpec{Measured: &Measured{SizeMM: 100, AtC: -190}}, normal, "below -20 °C"},
		{"bore class", 100, SizeSpec{Class: "m6"}, SizeSpec{Class: "normal"}, "H4 to H9"},
		{"no diameter", 0, SizeSpec{Class: "m6"}, normal, "nominal diameter"},
	} {
		_, err := FindInterference(c.d, c.shaft, c.bore, steel, steel)
		refused(t, c.what, err, c.want)
	}
}

func TestGivenInterference(t *testing.T) {
	i := GivenInterference(30)
	if i.MinUM != 30 || i.MaxUM != 30 || i.Origin.Confidence != Given {
		t.Errorf("%+v", i)
	}
}
