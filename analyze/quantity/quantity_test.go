package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestConvert(t *testing.T) {
	for _, c := range []struct {
		unit   TemperatureUnit
		v      float64
		want   float64
		source string
	}{
		{DegreeFahrenheit, 212, 100, "boiling point of water on both scales, definition of the Fahrenheit scale"},
		{DegreeFahrenheit, 32, 0, "freezing point of water on both scales, definition of the Fahrenheit scale"},
		{DegreeFahrenheit, -40, -40, "the one point where the scales agree, by arithmetic"},
		{DegreeFahrenheit, 250, 121.11111111111111, "MIL-HDBK-1164 table 17: 250 °F beside 121 °C"},
		{KelvinUnit, 273.15, 0, "SI brochure 9th ed. 2.3.1: t/°C = T/K - 273.15"},
		{KelvinUnit, 0, -273.15, "SI brochure 9th ed. 2.3.1"},
		{DegreeCelsius, 120, 120, "identity"},
	} {
		if got := float64(c.unit.Convert(c.v)); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v %v = %v °C, want %v (%s)", c.v, c.unit, got, c.want, c.source)
		}
	}
	if got := float64(DegreeFahrenheit.ConvertStep(36)); math.Abs(got-20) > 1e-12 {
		t.Errorf("a difference of 36 °F is %v K, want 20", got)
	}
}

// A difference does not depend on where on the scale it is taken.
func TestStepIsDifferenceOfPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]TemperatureUnit{DegreeCelsius, DegreeFahrenheit, KelvinUnit}).Draw(t, "unit")
		a := rapid.Float64Range(-400, 900).Draw(t, "a")
		d := rapid.Float64Range(-500, 500).Draw(t, "d")
		got := float64(u.Convert(a + d).Minus(u.Convert(a)))
		if want := float64(u.ConvertStep(d)); math.Abs(got-want) > 1e-9 {
			t.Fatalf("step of %v %v at %v: %v K by points, %v K by step", d, u, a, got, want)
		}
	})
}

// The edges of the digit rule, each with the float just below it (GUM 7.2.6: at most two significant figures).
func TestDecimalsEdges(t *testing.T) {
	for _, c := range []struct {
		u    float64
		want int
	}{
		{0.1, 2}, {math.Nextafter(0.1, 0), 2}, {0.0949, 2}, {0.29, 2}, {0.2949, 2}, {0.3, 1}, {0.96, 1},
		{1, 1}, {2.9, 1}, {3, 0}, {29, 0}, {1000, 0}, {1e-9, 6}, {0, 1}, {-1, 1}, {math.NaN(), 1}, {math.Inf(1), 1},
	} {
		if got := Decimals(c.u); got != c.want {
			t.Errorf("Decimals(%v) = %d, want %d", c.u, got, c.want)
		}
	}
}

func TestFormatDecimals(t *testing.T) {
	for _, c := range []struct {
		v    float64
		d    int
		want string
	}{
		{-0.04, 1, "0.0"}, {-0.05001, 1, "-0.1"}, {128.449, 1, "128.4"}, {120, 0, "120"}, {-0.4, 0, "0"},
		{math.NaN(), 1, "not known"}, {math.Inf(-1), 1, "not known"},
	} {
		if got := FormatDecimals(c.v, c.d); got != c.want {
			t.Errorf("FormatDecimals(%v, %d) = %q, want %q", c.v, c.d, got, c.want)
		}
	}
}
