package heading

import (
	"fmt"
	"strings"
	"testing"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// What stands around the word for a place must not change the place: channel numbers, units, the word for temperature,
// capitals and underscores. Common practice, no source.
func TestAffixes(t *testing.T) {
	places := []struct {
		word string
		role series.Role
	}{
		{"inner ring", series.Inner}, {"outer ring", series.Outer}, {"bore", series.Inner}, {"outer race", series.Outer}, {"ambient", series.Ambient}, {"shaft", series.Shaft},
		{"Innenring", series.Inner}, {"Außenring", series.Outer}, {"Bohrung", series.Inner}, {"Umgebung", series.Ambient}, {"Welle", series.Shaft},
		{"bague intérieure", series.Inner}, {"bague extérieure", series.Outer}, {"alésage", series.Inner}, {"arbre", series.Shaft},
		{"anello interno", series.Inner}, {"anello esterno", series.Outer}, {"albero", series.Shaft},
		{"aro interior", series.Inner}, {"aro exterior", series.Outer}, {"eje", series.Shaft},
		{"binnenring", series.Inner}, {"buitenring", series.Outer}, {"omgeving", series.Ambient},
		{"innerring", series.Inner}, {"ytterring", series.Outer}, {"omgivning", series.Ambient}, {"axel", series.Shaft},
		{"pierścień wewnętrzny", series.Inner}, {"pierścień zewnętrzny", series.Outer}, {"otoczenie", series.Ambient}, {"wał", series.Shaft},
		{"anel interno", series.Inner}, {"anel externo", series.Outer}, {"veio", series.Shaft},
	}
	forms := []struct {
		form string
		unit quantity.TemperatureUnit
	}{
		{"%s", quantity.UnknownUnit}, {"Temp. %s", quantity.UnknownUnit}, {"Temperature %s", quantity.UnknownUnit}, {"%s temp", quantity.UnknownUnit}, {"%s temperature", quantity.UnknownUnit},
		{"T %s", quantity.UnknownUnit}, {"T_%s", quantity.UnknownUnit}, {"CH1 %s", quantity.UnknownUnit}, {"Ch. 1 - %s", quantity.UnknownUnit}, {"Channel 2: %s", quantity.UnknownUnit}, {"1 %s", quantity.UnknownUnit},
		{"%s 2", quantity.UnknownUnit}, {"%s_1", quantity.UnknownUnit}, {"Probe 1 (%s)", quantity.UnknownUnit}, {"TC1 %s", quantity.UnknownUnit}, {"Pt100 %s", quantity.UnknownUnit}, {"%s actual", quantity.UnknownUnit},
		{"%s (°C)", quantity.DegreeCelsius}, {"%s [°C]", quantity.DegreeCelsius}, {"%s, °C", quantity.DegreeCelsius}, {"%s °C", quantity.DegreeCelsius}, {"%s_degC", quantity.DegreeCelsius}, {"%s_C", quantity.DegreeCelsius}, {"%s / °C", quantity.DegreeCelsius},
		{"%s (deg C)", quantity.DegreeCelsius}, {"Temp. %s [°F]", quantity.DegreeFahrenheit}, {"%s (F)", quantity.DegreeFahrenheit}, {"%s [K]", quantity.KelvinUnit}, {"%s \uFFFDC", quantity.DegreeCelsius}, {"T %s (?C)", quantity.DegreeCelsius},
		{"Line 2 %s (°C)", quantity.DegreeCelsius}, {"%s (S/N: 4417)", quantity.UnknownUnit}, {"bearing %s", quantity.UnknownUnit},
	}
	for _, p := range places {
		for _, f := range forms {
			plain := fmt.Sprintf(f.form, p.word)
			for _, h := range []string{plain, fmt.Sprintf(f.form, strings.ToUpper(p.word)), fmt.Sprintf(f.form, strings.ReplaceAll(p.word, " ", "_"))} {
				m := Read(h, "")
				if m.Role != p.role || m.Confidence < Sure || m.Unit != f.unit || m.NotProbe != MayBeProbe {
					t.Errorf("Read(%q): role %q at %.2f, unit %q, ruled out for %q; want %q, %q", h, m.Role, m.Confidence, m.Unit, m.Reason, p.role, f.unit)
				}
			}
		}
		// What makes it no probe makes it so in every language.
		for _, f := range []string{"%s set point", "Sollwert %s", "diff %s", "Δ %s [K]", "max %s °C", "%s limit °C", "%s ± K", "%s K/min"} {
			h := fmt.Sprintf(f, p.word)
			if m := Read(h, ""); m.NotProbe == MayBeProbe {
				t.Errorf("Read(%q) may be a probe (%s)", h, m.Evidence)
			}
		}
	}
}
