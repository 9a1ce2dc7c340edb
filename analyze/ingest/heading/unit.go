package heading

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"ringheat/analyze/quantity"
)

// UnitMeaning is what a unit's text says.
type UnitMeaning struct {
	Quantity    Quantity
	Temperature quantity.TemperatureUnit
	Scale       float64 // see Meaning.UnitScale; 1 for a plain temperature unit
	TimeUnitS   float64 // seconds in one unit, 0 when it is no unit of time
	Time        TimeKind
	Difference  bool // the unit is of a difference or a rate ("K/min", "ΔK")
	Damaged     bool // the degree sign was damaged ("�C", "Â°C", "?C")
	Bare        bool // a single letter or short word ("C", "K", "min", "s") that means something else elsewhere
}

// ReadUnit says what a text that should be nothing but a unit means: a cell of a unit row, a bracket
// of a heading, the value of a "units" line. Brackets and spaces around are ignored. ok is false when
// it is no unit that the vocabulary knows; the empty text is no unit.
func ReadUnit(text string) (u UnitMeaning, ok bool) {
	if len(text) > maxUnit {
		return UnitMeaning{}, false
	}
	plain, damaged := repair(text)
	u, ok = unitOf(plain)
	u.Damaged = ok && damaged && u.Temperature != quantity.UnknownUnit
	return u, ok
}

// CellSuffix says which temperature unit stands behind the figures of a cell ("23.4 °C": pass " °C").
// ok is false when the suffix is something else, also a unit of another quantity.
func CellSuffix(suffix string) (u quantity.TemperatureUnit, ok bool) {
	m, ok := ReadUnit(suffix)
	if !ok || m.Temperature == quantity.UnknownUnit || m.Difference || m.Scale != 1 {
		return quantity.UnknownUnit, false
	}
	return m.Temperature, true
}

// maxUnit is the most bytes of a text that can be a unit.
const maxUnit = 64

// unitKey brings a unit into the form of the table: lower case, no blanks, no brackets around, superscripts as
// figures, no accents, no full stop at the end. "" when it can't be a unit.
func unitKey(plain string) string {
	s := trimBrackets(plain)
	if s == "" || len(s) > maxUnit {
		return ""
	}
	clean := true
	for i := 0; i < len(s); i++ {
		if c := s[i]; c >= utf8.RuneSelf || c >= 'A' && c <= 'Z' || c == ' ' || c == '_' || c == '.' {
			clean = false
			break
		}
	}
	if clean {
		return s
	}
	out := make([]byte, 0, len(s))
	for _, r := range s {
		switch {
		case r == ' ' || r == '_':
		case r == '²':
			out = append(out, '2')
		case r == '³':
			out = append(out, '3')
		case r == '⁻':
			out = append(out, '-')
		case r == '¹':
			out = append(out, '1')
		case r == '·' || r == '∙' || r == '×':
			out = append(out, '*')
		case r < utf8.RuneSelf:
			if r >= 'A' && r <= 'Z' {
				r += 'a' - 'A'
			}
			out = append(out, byte(r))
		default:
			r = unicode.ToLower(r)
			if c := plainLetter(r); c != 0 {
				out = append(out, c)
			} else {
				out = utf8.AppendRune(out, r)
			}
		}
	}
	for len(out) > 1 && out[len(out)-1] == '.' {
		out = out[:len(out)-1]
	}
	return string(out)
}

// trimBrackets takes blanks and pairs of brackets, also bars and a leading "in", off both ends.
func trimBrackets(s string) string {
	for {
		s = strings.Trim(s, " \t")
		if len(s) < 2 {
			return s
		}
		switch s[0] {
		case '(', '[', '{', '<', '|', '"', '\'':
			if closing := s[len(s)-1]; closing == closingOf(s[0]) && strings.IndexByte(s[1:len(s)-1], s[0]) <= 0 {
				s = s[1 : len(s)-1]
				continue
			}
		case '/':
			s = s[1:]
			continue
		}
		return s
	}
}

func closingOf(c byte) byte {
	switch c {
	case '(':
		return ')'
	case '[':
		return ']'
	case '{':
		return '}'
	case '<':
		return '>'
	}
	return c
}

// unitOf reads a repaired text as a unit.
func unitOf(plain string) (UnitMeaning, bool) {
	key := unitKey(plain)
	if key == "" {
		return UnitMeaning{}, false
	}
	if u, ok := findUnit(key); ok {
		return u, true
	}
	// A difference: "ΔK", "Δ°C", "dK".
	if rest, ok := strings.CutPrefix(key, "δ"); ok {
		if u, ok := findUnit(rest); ok && u.Quantity == Temperature {
			u.Difference = true
			return u, true
		}
	}
	// A power of ten before or behind: "0.1 °C", "1/10 °C", "x10 °C", "°C/100", "°C*10".
	if scale, rest, ok := scaleBefore(key); ok {
		if u, ok := findUnit(rest); ok && u.Temperature != quantity.UnknownUnit && u.Scale == 1 {
			u.Scale = scale
			return u, true
		}
	}
	if i := strings.IndexAny(key, "*x/"); i > 0 {
		if scale := tenth(key[i+1:]); scale != 0 {
			if u, ok := findUnit(key[:i]); ok && u.Temperature != quantity.UnknownUnit && u.Scale == 1 {
				u.Scale = scale
				return u, true
			}
		}
	}
	// A quotient of two units: with time below it is a rate.
	if i := strings.IndexByte(key, '/'); i > 0 && i+1 < len(key) && key != "s/n" { // a serial number
		top, okTop := findUnit(key[:i])
		bottom, okBottom := findUnit(key[i+1:])
		if okTop && okBottom {
			if top.Temperature != quantity.UnknownUnit && bottom.TimeUnitS > 0 {
				top.Difference, top.Bare = true, false
				return top, true
			}
			return UnitMeaning{Quantity: Other, Bare: top.Bare && bottom.Bare}, true
		}
	}
	return UnitMeaning{}, false
}

// scaleBefore reads a power of ten in front of a unit: "0.1", "0,01", "1/10", "x10", "*100", "10^-1", "1e-3".
// "x10" means that the column's figures are ten times the temperature.
func scaleBefore(key string) (scale float64, rest string, ok bool) {
	for _, p := range [...]struct {
		text  string
		scale float64
	}{
		{"0.001", 0.001}, {"0,001", 0.001}, {"0.01", 0.01}, {"0,01", 0.01}, {"0.1", 0.1}, {"0,1", 0.1},
		{"1/1000", 0.001}, {"1/100", 0.01}, {"1/10", 0.1}, {"10^-3", 0.001}, {"10^-2", 0.01}, {"10^-1", 0.1},
		{"1e-3", 0.001}, {"1e-2", 0.01}, {"1e-1", 0.1},
		{"x1000", 0.001}, {"x100", 0.01}, {"x10", 0.1},
	} {
		if r, found := strings.CutPrefix(key, p.text); found {
			return p.scale, strings.TrimLeft(r, "*x"), true
		}
	}
	return 0, "", false
}

// tenth reads the figure behind "°C*" or "°C/".
func tenth(s string) float64 {
	switch s {
	case "10":
		return 0.1
	case "100":
		return 0.01
	case "1000":
		return 0.001
	}
	return 0
}

func findUnit(key string) (UnitMeaning, bool) {
	lo, hi := 0, len(units)
	for lo < hi {
		mid := int(uint(lo+hi) >> 1)
		if units[mid].text < key {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo == len(units) || units[lo].text != key {
		return UnitMeaning{}, false
	}
	e := &units[lo]
	return UnitMeaning{Quantity: e.quantity, Temperature: e.temperature, Scale: e.scale, TimeUnitS: e.timeS, Time: e.time, Bare: e.bare}, true
}
