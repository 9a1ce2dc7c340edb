package cell

import "unicode/utf8"

// suffixOf reads the unit behind a number. ok is false for anything that is no known unit.
func suffixOf(b []byte) (Suffix, bool) {
	if len(b) > 24 {
		return NoSuffix, false
	}
	for _, p := range [2][2]byte{{'[', ']'}, {'(', ')'}} {
		if len(b) > 2 && b[0] == p[0] && b[len(b)-1] == p[1] {
			b = b[1 : len(b)-1]
		}
	}
	if s := degrees(b); s != NoSuffix {
		return s, true
	}
	var buf [foldLen]byte
	switch string(fold(b, &buf)) {
	case "c", "cel", "celsius", "degc", "grad c", "gradc", "degrees c", "deg c", "degree c", "deg. c", "grad celsius", "degrees celsius":
		return Celsius, true
	case "f", "fahrenheit", "degf", "deg f", "degrees f", "deg. f", "degrees fahrenheit":
		return Fahrenheit, true
	case "kelvin", "degk", "deg k":
		return Kelvin, true
	case "k":
		if b[0] == 'K' {
			return Kelvin, true
		}
	case "mv", "millivolt", "millivolts":
		if b[0] == 'M' && len(b) == 2 && b[1] != 'V' {
			return NoSuffix, false
		}
		return Millivolt, true
	case "v", "volt", "volts", "vdc", "vac":
		return Volt, true
	case "%", "percent", "prozent":
		return Percent, true
	case "% rh", "%rh", "rh", "%r.h.", "% r.h.", "% rf", "%rf", "w", "kw", "a", "ma", "hpa", "mbar", "bar", "kpa", "pa", "psi", "s", "sec", "ms", "min", "h",
		"rpm", "hz", "khz", "kwh", "wh", "va", "ohm", "ohms", "m", "mm", "µv", "μv", "uv", "ω", "g", "kg", "lx", "lux", "ppm", "db", "dbm", "d":
		return OtherSuffix, true
	}
	return NoSuffix, false
}

// degrees reads a degree sign, whole or damaged, and its letter: "°C", "ºC", "℃", "Â°C", "�C", "?C", "*C".
func degrees(b []byte) Suffix {
	signs := 0
	for len(b) > 0 {
		if k := blank(b); k > 0 {
			b = b[k:]
			continue
		}
		r, size := utf8.DecodeRune(b)
		switch r {
		case '℃':
			if len(b) == size {
				return Celsius
			}
			return NoSuffix
		case '℉':
			if len(b) == size {
				return Fahrenheit
			}
			return NoSuffix
		case '°', 'º', '˚', '∘', 'Â', '\uFFFD', '?', '*', 'ï', '¿', '½', 'ø', '¡', '^', '`', '\'', '_', '~', 'o', 0xB2:
			// RuneError also stands for a lone byte of another encoding, as 0xB0 of Latin-1
			signs++
			b = b[size:]
			continue
		}
		if signs == 0 || signs > 8 || len(b) != 1 {
			return NoSuffix
		}
		switch b[0] {
		case 'C', 'c':
			return Celsius
		case 'F', 'f':
			return Fahrenheit
		case 'K', 'k':
			return Kelvin
		}
		return NoSuffix
	}
	return NoSuffix
}
