package heading

import (
	"testing"

	"ringheat/analyze/quantity"
)

func TestReadUnit(t *testing.T) {
	for _, c := range []struct {
		text, source string
		q            Quantity
		u            quantity.TemperatureUnit
		scale, timeS float64
		difference   bool
	}{
		{"°C", "SI brochure 9th ed., table 4", Temperature, quantity.DegreeCelsius, 1, 0, false},
		{"[°C]", practice, Temperature, quantity.DegreeCelsius, 1, 0, false},
		{" ( deg C ) ", practice, Temperature, quantity.DegreeCelsius, 1, 0, false},
		{"C", practice, Temperature, quantity.DegreeCelsius, 1, 0, false},
		{"\xb0C", practice, Temperature, quantity.DegreeCelsius, 1, 0, false},
		{"\uFFFDF", practice, Temperature, quantity.DegreeFahrenheit, 1, 0, false},
		{"K", "SI brochure 9th ed., table 2", Temperature, quantity.KelvinUnit, 1, 0, false},
		{"k", practice, Temperature, quantity.KelvinUnit, 1, 0, false},
		{"m°C", practice, Temperature, quantity.DegreeCelsius, 0.001, 0, false},
		{"1/10 °C", practice, Temperature, quantity.DegreeCelsius, 0.1, 0, false},
		{"K/min", practice, Temperature, quantity.KelvinUnit, 1, 0, true},
		{"°C/s", practice, Temperature, quantity.DegreeCelsius, 1, 0, true},
		{"ΔK", practice, Temperature, quantity.KelvinUnit, 1, 0, true},
		{"s", "SI brochure 9th ed., table 2", Time, quantity.UnknownUnit, 0, 1, false},
		{"min", "SI brochure 9th ed., table 8", Time, quantity.UnknownUnit, 0, 60, false},
		{"h", "SI brochure 9th ed., table 8", Time, quantity.UnknownUnit, 0, 3600, false},
		{"d", "SI brochure 9th ed., table 8", Time, quantity.UnknownUnit, 0, 86400, false},
		{"ms", practice, Time, quantity.UnknownUnit, 0, 0.001, false},
		{"µs", practice, Time, quantity.UnknownUnit, 0, 1e-6, false},
		{"hh:mm:ss", practice, Time, quantity.UnknownUnit, 0, 0, false},
		{"mV", practice, Voltage, quantity.UnknownUnit, 0, 0, false},
		{"%RH", practice, Humidity, quantity.UnknownUnit, 0, 0, false},
		{"RH(%)", practice, Humidity, quantity.UnknownUnit, 0, 0, false},
		{"%", practice, Percent, quantity.UnknownUnit, 0, 0, false},
		{"kW", practice, Power, quantity.UnknownUnit, 0, 0, false},
		{"lx", practice, Light, quantity.UnknownUnit, 0, 0, false},
		{"W/(m²·K)", practice, Other, quantity.UnknownUnit, 0, 0, false},
		{"A/cm", practice, Magnetism, quantity.UnknownUnit, 0, 0, false},
		{"min-1", practice, Speed, quantity.UnknownUnit, 0, 0, false},
	} {
		u, ok := ReadUnit(c.text)
		if !ok || u.Quantity != c.q || u.Temperature != c.u || u.Scale != c.scale || u.TimeUnitS != c.timeS || u.Difference != c.difference {
			t.Errorf("ReadUnit(%q) = %+v, %v; want %s %q %g %g %v (%s)", c.text, u, ok, c.q, c.u, c.scale, c.timeS, c.difference, c.source)
		}
	}
	for _, s := range []string{"", " ", "()", "12", "Temperature", "Inner", "foo", "C4", "°", "°X", "12 °C", "2026-01-02", "OK"} {
		if u, ok := ReadUnit(s); ok {
			t.Errorf("ReadUnit(%q) = %+v, want no unit", s, u)
		}
	}
	if u, _ := ReadUnit("?C"); !u.Damaged {
		t.Error(`ReadUnit("?C") doesn't say that the degree sign was damaged`)
	}
}

func TestCellSuffix(t *testing.T) {
	for s, want := range map[string]quantity.TemperatureUnit{" °C": quantity.DegreeCelsius, "C": quantity.DegreeCelsius, "°F": quantity.DegreeFahrenheit, " K": quantity.KelvinUnit,
		" degC": quantity.DegreeCelsius, "\uFFFDC": quantity.DegreeCelsius, "ºC": quantity.DegreeCelsius, " Grad C": quantity.DegreeCelsius} {
		if u, ok := CellSuffix(s); !ok || u != want {
			t.Errorf("CellSuffix(%q) = %q, %v; want %q", s, u, ok, want)
		}
	}
	for _, s := range []string{"", " mV", "%", " s", "K/min", "x", "m°C", " °C *"} {
		if u, ok := CellSuffix(s); ok {
			t.Errorf("CellSuffix(%q) = %q, want none", s, u)
		}
	}
}
