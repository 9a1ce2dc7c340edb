package cell

import (
	"testing"
)

func TestParse(t *testing.T) {
	num := func(v float64, decimals int) Value { return Value{Kind: Number, Number: v, Decimals: decimals} }
	unit := func(v float64, decimals int, s Suffix) Value {
		return Value{Kind: Number, Number: v, Decimals: decimals, Suffix: s}
	}
	grouped := func(v float64, decimals int) Value {
		return Value{Kind: Number, Number: v, Decimals: decimals, Grouped: true}
	}
	text := Value{}
	empty := Value{Kind: Empty}
	mark := func(name string) Value { return Value{Kind: Marker, Marker: name} }
	for _, c := range []struct {
		in      string
		decimal byte
		want    Value
	}{
		// plain and padded
		{"23.4", '.', num(23.4, 1)},
		{"  23.4 ", '.', num(23.4, 1)},
		{"\"23.4\"", '.', num(23.4, 1)},
		{"=\"23.4\"", '.', num(23.4, 1)},
		{"'23.4", '.', num(23.4, 1)},
		{"\u00a023,4\u202f", ',', num(23.4, 1)},
		{"\ufeff23.4", '.', num(23.4, 1)},
		{"23.4\x00", '.', num(23.4, 1)},
		{"+14.287", '.', num(14.287, 3)},
		{"1.5D+02", '.', num(150, 0)},
		{"1.5E+02", '.', num(150, 0)},
		{"1,5E-02", ',', num(0.015, 3)},
		// signs
		{"- 5.2", '.', num(-5.2, 1)},
		{"−5.2", '.', num(-5.2, 1)},
		{"–5,2", ',', num(-5.2, 1)},
		{"－５．２", '.', num(-5.2, 1)},
		{"＋２３．４", '.', num(23.4, 1)},
		{"−.5", '.', num(-0.5, 1)},
		// thousands marks
		{"1,234.5", '.', grouped(1234.5, 1)},
		{"1.234,5", ',', grouped(1234.5, 1)},
		{"1 234,5", ',', grouped(1234.5, 1)},
		{"1\u00a0234,5", ',', grouped(1234.5, 1)},
		{"1\u2009234.5", '.', grouped(1234.5, 1)},
		{"1'234.5", '.', grouped(1234.5, 1)},
		{"1’234.5", '.', grouped(1234.5, 1)},
		{"1,234,567", '.', grouped(1234567, 0)},
		{"1,234", '.', grouped(1234, 0)},
		{"1.234", ',', grouped(1234, 0)},
		{"1,234", ',', num(1.234, 3)},
		// what is no grouping stays text: never a guess
		{"23,4", '.', text},
		{"23.4", ',', text},
		{"1234,567", '.', text},
		{"12,34,567", '.', text},
		{"0,234", '.', text},
		{"12,34.5", '.', text},
		{"1,234'567", '.', text},
		{"1 234,567", '.', text},
		{"1,2345", '.', text},
		{"1 23", '.', text},
		{"23.4 5", '.', text},
		{"21.08.2021", '.', text},
		{"08:36", '.', text},
		{"2021-08-21", '.', text},
		{"23.4abc", '.', text},
		{"12abc", '.', text},
		{"T1", '.', text},
		{"1e", '.', text},
		{"5-", '.', text},
		{"0x1F", '.', text},
		{"1_000", '.', text},
		// units
		{"23.4 °C", '.', unit(23.4, 1, Celsius)},
		{"23,4°C", ',', unit(23.4, 1, Celsius)},
		{"74.1F", '.', unit(74.1, 1, Fahrenheit)},
		{"74.1 °F", '.', unit(74.1, 1, Fahrenheit)},
		{"296.5 K", '.', unit(296.5, 1, Kelvin)},
		{"23.4 ℃", '.', unit(23.4, 1, Celsius)},
		{"23.4 Â°C", '.', unit(23.4, 1, Celsius)},
		{"23.4 �C", '.', unit(23.4, 1, Celsius)},
		{"23.4 \xb0C", '.', unit(23.4, 1, Celsius)},
		{"23.4 ï¿½C", '.', unit(23.4, 1, Celsius)},
		{"23.4 ?C", '.', unit(23.4, 1, Celsius)},
		{"23.4 ºC", '.', unit(23.4, 1, Celsius)},
		{"23.4'C", '.', unit(23.4, 1, Celsius)},
		{"23.4 deg C", '.', unit(23.4, 1, Celsius)},
		{"23.4 degC", '.', unit(23.4, 1, Celsius)},
		{"23.4 [°C]", '.', unit(23.4, 1, Celsius)},
		{"4.095 mV", '.', unit(4.095, 3, Millivolt)},
		{"4.1 V", '.', unit(4.1, 1, Volt)},
		{"45 %", '.', unit(45, 0, Percent)},
		{"45.2 %RH", '.', unit(45.2, 1, OtherSuffix)},
		{"1'234.5 °C", '.', Value{Kind: Number, Number: 1234.5, Decimals: 1, Grouped: true, Suffix: Celsius}},
		{"12.5 s", '.', unit(12.5, 1, OtherSuffix)},
		// empty
		{"", '.', empty},
		{"   ", '.', empty},
		{"\"\"", '.', empty},
		{"\u00a0", '.', empty},
		// markers
		{"---", '.', mark("---")},
		{"-", '.', mark("---")},
		{"—", '.', mark("---")},
		{"****", '.', mark("---")},
		{"####", '.', mark("---")},
		{"--.-", '.', mark("--.-")},
		{"--,-", ',', mark("--.-")},
		{"-.-", '.', mark("--.-")},
		{"--.- °C", '.', mark("--.-")},
		{"OL", '.', mark("OL")},
		{"O.L", '.', mark("OL")},
		{"-OL", '.', mark("OL")},
		{"0L", '.', mark("OL")},
		{"OL °C", '.', mark("OL")},
		{"Open", '.', mark("OPEN")},
		{"OPEN TC", '.', mark("OPEN")},
		{"Fühlerbruch", '.', mark("OPEN")},
		{"sonde ouverte", '.', mark("OPEN")},
		{"circuito abierto", '.', mark("OPEN")},
		{"NaN", '.', mark("NaN")},
		{"-nan", '.', mark("NaN")},
		{"1.#QNAN", '.', mark("NaN")},
		{"-1.#IND", '.', mark("NaN")},
		{"Inf", '.', mark("Inf")},
		{"-Infinity", '.', mark("Inf")},
		{"N/A", '.', mark("N/A")},
		{"n.a.", '.', mark("N/A")},
		{"#N/A", '.', mark("#N/A")},
		{"#NV", '.', mark("#N/A")},
		{"#WERT!", '.', mark("Err")},
		{"#DIV/0!", '.', mark("Err")},
		{"Err", '.', mark("Err")},
		{"ERROR", '.', mark("Err")},
		{"Err 12", '.', mark("Err")},
		{"E-03", '.', mark("Err")},
		{"Fehler", '.', mark("Err")},
		{"Störung", '.', mark("Err")},
		{"null", '.', mark("null")},
		{"(null)", '.', mark("null")},
		{"<none>", '.', mark("null")},
		{"OVER RANGE", '.', mark("over-range")},
		{"overflow", '.', mark("over-range")},
		{">150", '.', mark("over-range")},
		{"> 150,5", ',', mark("over-range")},
		{"<-40.0", '.', mark("under-range")},
		{"Lo", '.', mark("under-range")},
		{"keine Daten", '.', mark("no data")},
		{"brak danych", '.', mark("no data")},
		{"not connected", '.', mark("not connected")},
		{"n.c.", '.', mark("not connected")},
		{"ungültig", '.', mark("invalid")},
		{"OFF", '.', mark("off")},
		{"inner ring", '.', text},
		{"PASS", '.', text},
		{"heating", '.', text},
		{"#", '.', text},
		{"x", '.', text},
		{"/", '.', text},
		{".", '.', text},
		// out of range
		{"1e308", '.', Value{Kind: Number, Number: MaxMagnitude, OutOfRange: true}},
		{"-1e999", '.', Value{Kind: Number, Number: -MaxMagnitude, OutOfRange: true}},
		{"1e308 °C", '.', Value{Kind: Number, Number: MaxMagnitude, OutOfRange: true, Suffix: Celsius}},
	} {
		if got := Parse([]byte(c.in), c.decimal); got != c.want {
			t.Errorf("Parse(%q, %q) = %+v, want %+v", c.in, c.decimal, got, c.want)
		}
	}
}

func TestDecimalEvidence(t *testing.T) {
	for _, c := range []struct {
		name    string
		cells   []string
		mark    byte
		decided bool
	}{
		{"points", []string{"23.4", "23.5", "100"}, '.', true},
		{"commas", []string{"23,4", "23,5"}, ',', true},
		{"comma with grouping points", []string{"1.234,5", "12"}, ',', true},
		{"point with grouping commas", []string{"1,234.5"}, '.', true},
		{"many groups", []string{"1.234.567"}, ',', true},
		{"nought in front", []string{"0,234"}, ',', true},
		{"four digits in front", []string{"1234,567"}, ',', true},
		{"even comma", []string{"23,456", "24,012"}, ',', false},
		{"even point", []string{"23.456", "24.012"}, '.', false},
		{"even comma settled by another cell", []string{"23,456", "24,01"}, ',', true},
		{"whole", []string{"1", "2"}, '.', false},
		{"nothing", []string{"", "abc", "---", "21.08.2021", "08:36:00"}, '.', false},
		{"contradiction", []string{"23.4", "23,4"}, '.', false},
	} {
		var e DecimalEvidence
		for _, s := range c.cells {
			e.Add([]byte(s))
		}
		mark, decided, why := e.Decide()
		if mark != c.mark || decided != c.decided || why == "" {
			t.Errorf("%s: %q, %v (%s); want %q, %v", c.name, mark, decided, why, c.mark, c.decided)
		}
	}
}
