package cell

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"ringheat/analyze/quantity"
)

// seeds are cells of every kind; the test below holds that the fuzz target starts from them.
var seeds = []string{"", "23.4", "-0.05", "1,234.5", "1.234,5", "1 234,5", "−５．２", "23.4 °C", "74.1F", "2.1E+01", "1e308", "1e-400", "--.-", "OL", "NaN", "-1.#IND",
	"#N/A", ">150", "Err 12", "Fühlerbruch", "21.08.2021 08:36", "\ufeff\"12\"", "\xb0\xff", "='1", "9007199254740993", "0.1e22", "5.", ".5", "+ 5"}

func FuzzParse(f *testing.F) {
	for _, s := range seeds {
		f.Add([]byte(s), true)
		f.Add([]byte(s), false)
	}
	f.Fuzz(func(t *testing.T, b []byte, comma bool) {
		decimal := byte('.')
		if comma {
			decimal = ','
		}
		before := string(b)
		v := Parse(b, decimal)
		if string(b) != before {
			t.Fatalf("the cell was changed from %q to %q", before, b)
		}
		// The kinds exclude each other, and a number is finite and bounded.
		if math.IsNaN(v.Number) || math.Abs(v.Number) > MaxMagnitude {
			t.Fatalf("%q: number %v", b, v.Number)
		}
		switch v.Kind {
		case Number:
			if v.Marker != "" || v.Decimals < 0 || v.OutOfRange && math.Abs(v.Number) != MaxMagnitude {
				t.Fatalf("%q: %+v", b, v)
			}
		case Marker:
			if v.Marker == "" || v.Number != 0 || v.Suffix != NoSuffix {
				t.Fatalf("%q: %+v", b, v)
			}
		default:
			if v != (Value{Kind: v.Kind}) {
				t.Fatalf("%q: %+v", b, v)
			}
		}
		// What the library reads from plain characters must come out the same.
		if plain(before, decimal) {
			text := strings.Replace(before, ",", ".", 1)
			want, err := strconv.ParseFloat(text, 64)
			got, _, ok := ParsePlain(b, decimal)
			if len(b) <= 64 && ok != (err == nil) {
				t.Fatalf("ParsePlain(%q): ok is %v, the library says %v", b, ok, err)
			}
			if ok && math.Float64bits(got) != math.Float64bits(want) {
				t.Fatalf("ParsePlain(%q) = %v, the library gives %v", b, got, want)
			}
			if ok && math.Abs(want) <= MaxMagnitude && (v.Kind != Number || v.Number != want) {
				t.Fatalf("Parse(%q) = %+v, the library gives %v", b, v, want)
			}
		} else if _, _, ok := ParsePlain(b, decimal); ok {
			t.Fatalf("ParsePlain took %q", b)
		}
		// Blanks and quotes round a cell change nothing.
		for _, w := range []string{" " + before + " ", "\u00a0" + before + "\t"} {
			if got := Parse([]byte(w), decimal); got != v && len(before) < 60 {
				t.Fatalf("%q gives %+v, with blanks %+v", before, v, got)
			}
		}
		var e DecimalEvidence
		e.Add(b)
		if e.Point+e.Comma+e.Ambiguous+e.Neither > 1 {
			t.Fatalf("%q was counted twice: %+v", b, e)
		}
	})
}

// plain says whether a text is [sign]digits[mark digits][e[sign]digits], by a plain reading of that grammar.
func plain(s string, decimal byte) bool {
	s = strings.TrimPrefix(s, "+")
	if len(s) > 0 && s[0] == '-' && !strings.HasPrefix(s, "+") {
		s = s[1:]
	}
	digits := func() int {
		n := 0
		for n < len(s) && '0' <= s[n] && s[n] <= '9' {
			n++
		}
		s = s[n:]
		return n
	}
	n := digits()
	if len(s) > 0 && s[0] == decimal {
		s = s[1:]
		n += digits()
	}
	if n == 0 {
		return false
	}
	if len(s) > 0 && (s[0] == 'e' || s[0] == 'E') {
		s = s[1:]
		if len(s) > 0 && (s[0] == '+' || s[0] == '-') {
			s = s[1:]
		}
		if digits() == 0 {
			return false
		}
	}
	return s == ""
}

// FuzzFindErrors: bytes make a column; nothing is marked twice, and what is marked has the value it is said to have.
func FuzzFindErrors(f *testing.F) {
	f.Add([]byte{20, 21, 22, 255, 23, 24}, uint8(1))
	f.Add([]byte{20, 250, 250, 20, 251, 20, 252, 0, 0}, uint8(0))
	special := []float64{math.NaN(), -9999, 850, 85, -127, 1372, 3276.7, 0, 1e20, -400, 999.9, 120}
	f.Fuzz(func(t *testing.T, b []byte, u uint8) {
		v := make([]float64, len(b))
		for i, x := range b {
			v[i] = float64(x)
			if x >= 240 {
				v[i] = special[(int(x)-240)%len(special)]
			}
		}
		seen := map[int]bool{}
		for _, e := range FindErrors(v, quantity.TemperatureUnit(u%4)) {
			n := 0
			for _, r := range e.Runs {
				for i := r.First; i <= r.Last; i++ {
					if seen[i] || v[i] != v[i] || e.Name != BelowZero && e.Name != Beyond && e.Name != FarOff && v[i] != e.Value {
						t.Fatalf("row %d of %v: %+v", i, v, e)
					}
					seen[i] = true
					n++
				}
			}
			if n != e.Count || n == 0 {
				t.Fatalf("%+v counts %d of %d rows", e, e.Count, n)
			}
		}
	})
}

func TestFuzzSeeds(t *testing.T) {
	if len(seeds) < 25 {
		t.Errorf("only %d seeds for FuzzParse", len(seeds))
	}
}
