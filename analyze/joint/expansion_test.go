package joint

import (
	"math"
	"testing"

	"ringheat/analyze/quantity"
)

func TestEurocodeElongation(t *testing.T) {
	hub := CarbonSteelHub()
	for _, row := range reference(t, "en1993_1_2.csv", 11) {
		c := quantity.Celsius(num(t, row, "t_c"))
		got, err := hub.Strain(c)
		if err != nil {
			t.Errorf("%v °C: %v", c, err)
			continue
		}
		near(t, "elongation", got, num(t, row, "elongation"), 1e-15, row["source"])
		back, _, err := hub.temperature(got)
		if err != nil {
			t.Error(err)
		}
		near(t, "temperature of that elongation", float64(back), float64(c), 1e-7, "inverse of the formula")
	}
	if _, err := hub.Strain(750); err != nil {
		t.Errorf("750 °C is inside the range of EN 1993-1-2 3.4.1.1 (1)a: %v", err)
	}
	_, err := hub.Strain(750.1)
	refused(t, "above the range", err, "750")
	_, _, err = hub.temperature(0.0113)
	refused(t, "elongation above the range", err, "750")
	// Below 20 °C the formula says nothing: the linear coefficient of the table is used.
	cold, err := hub.Strain(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "at 0 °C", cold, -20*11.7e-6, 1e-15, "mean coefficient of the materials table")
}

// TestColdSteel holds the law for cold shafts against what is remembered of low-temperature compilations: iron and ferritic
// steels shrink by 1.90 mm/m from 20 to -196 °C (from memory), and by about 1.05 mm/m to -79 °C (from memory).
func TestColdSteel(t *testing.T) {
	steel := GivenMaterial(12.0e-6, true)
	for _, c := range []struct{ celsius, want float64 }{{-196, -1.90e-3}, {-79, -1.05e-3}} {
		got, err := steel.Strain(quantity.Celsius(c.celsius))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "cold strain", got, c.want, 0.05*math.Abs(c.want), "iron, low-temperature compilations, from memory")
	}
	_, err := steel.Strain(-197)
	refused(t, "colder than known", err, "-196")
	if c, slope, err := steel.temperature(-0.0021); c != -196 || slope <= 0 || err == nil {
		t.Errorf("shrinking more than is known: %v °C, slope %v, %v", c, slope, err)
	}
	plainSteel := GivenMaterial(12e-6, false)
	_, err = plainSteel.Strain(-21)
	refused(t, "no cold law", err, "below -20 °C")
	if v, err := plainSteel.Strain(-20); err != nil || v != -40*12e-6 {
		t.Errorf("-20 °C: %v, %v", v, err)
	}
}

// TestStrainIsContinuousAndInvertible walks every law over its range.
func TestStrainIsContinuousAndInvertible(t *testing.T) {
	for _, m := range append(Materials(), CarbonSteelHub(), GivenMaterial(11e-6, true)) {
		lowest := ColdFromC
		if m.ColdLaw {
			lowest = ColdestC
		}
		last := math.Inf(-1)
		for c := lowest; c <= 400; c += 0.25 {
			v, err := m.Strain(c)
			if err != nil {
				t.Fatalf("%s at %v °C: %v", m.Name, c, err)
			}
			if !(v > last) || !math.IsInf(last, -1) && v-last > 0.25*1.5*max(m.AlphaPerK, 1.2e-5) {
				t.Fatalf("%s at %v °C: strain goes from %v to %v", m.Name, c, last, v)
			}
			last = v
			back, slope, err := m.temperature(v)
			if err != nil {
				t.Fatalf("%s at %v °C: %v", m.Name, c, err)
			}
			if math.Abs(float64(back-c)) > 1e-6 || slope <= 0 {
				t.Fatalf("%s: %v °C comes back as %v, slope %v", m.Name, c, back, slope)
			}
		}
	}
}

func TestMaterials(t *testing.T) {
	m, err := FindMaterial(" Bearing-Steel ")
	if err != nil || m.AlphaPerK != 12e-6 || m.Origin.Confidence != Memory {
		t.Errorf("%+v, %v", m, err)
	}
	near(t, "relative uncertainty", m.relativeStd(), 0.05/math.Sqrt(3), 1e-15, "GUM 4.3.7")
	_, err = FindMaterial("unobtainium")
	refused(t, "unknown material", err, "bearing-steel")
	if len(Materials()) < 10 {
		t.Errorf("%d materials", len(Materials()))
	}
	for _, m := range Materials() {
		if err := m.Check(); err != nil || m.Origin.Source == "" || m.ToC <= m.FromC {
			t.Errorf("%+v: %v", m, err)
		}
	}
	for _, alpha := range []float64{0, -1e-6, 12, math.NaN(), 60e-6} {
		bad := GivenMaterial(alpha, false)
		if bad.Check() == nil {
			t.Errorf("a coefficient of %v was let through", alpha)
		}
	}
	wide := GivenMaterial(12e-6, false)
	wide.HalfWidth = 0.6
	refused(t, "half-width", wide.Check(), "half-width")
	_, err = wide.Strain(20)
	refused(t, "strain of a bad material", err, "half-width")
	fine := GivenMaterial(12e-6, false)
	_, err = fine.Strain(quantity.Celsius(math.NaN()))
	refused(t, "no number", err, "no number")
}
