package cell

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// sameAsLibrary holds ParsePlain against strconv.ParseFloat (Go's standard library), which rounds correctly.
func sameAsLibrary(t *testing.T, text string, decimal byte) {
	t.Helper()
	v, _, ok := ParsePlain([]byte(text), decimal)
	if !ok {
		return
	}
	want, err := strconv.ParseFloat(strings.Replace(text, string(decimal), ".", 1), 64)
	if err != nil || math.Float64bits(v) != math.Float64bits(want) {
		t.Errorf("ParsePlain(%q) = %v, the library gives %v, %v", text, v, want, err)
	}
}

func TestParsePlainTable(t *testing.T) {
	for _, c := range []struct {
		in       string
		want     float64
		decimals int
		ok       bool
	}{
		{"23.4", 23.4, 1, true},
		{"-0.05", -0.05, 2, true},
		{"+4.146", 4.146, 3, true},
		{"5.", 5, 0, true},
		{".5", 0.5, 1, true},
		{"2.310E+01", 23.1, 2, true},
		{"2.106998109817504883e+01", 21.06998109817504883, 17, true},
		{"1e22", 1e22, 0, true},
		{"1e23", 1e23, 0, true},
		{"9007199254740993", 9007199254740992, 0, true},
		{"123456789012345678901234567890", 123456789012345678901234567890, 0, true},
		{"", 0, 0, false},
		{"-", 0, 0, false},
		{".", 0, 0, false},
		{"1e", 0, 0, false},
		{"1e+", 0, 0, false},
		{"1_000", 0, 0, false},
		{"0x10", 0, 0, false},
		{"NaN", 0, 0, false},
		{"Inf", 0, 0, false},
		{"1e400", 0, 0, false},
		{" 1", 0, 0, false},
		{"1,5", 0, 0, false},
		{"--1", 0, 0, false},
	} {
		v, d, ok := ParsePlain([]byte(c.in), '.')
		if ok != c.ok || ok && (v != c.want || d != c.decimals) {
			t.Errorf("ParsePlain(%q) = %v, %d, %v; want %v, %d, %v", c.in, v, d, ok, c.want, c.decimals, c.ok)
		}
	}
}

func TestParsePlainAgainstLibrary(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	n := 400_000
	if raceEnabled || testing.Short() {
		n = 20_000
	}
	for i := range n {
		var s string
		switch i % 5 {
		case 0:
			s = strconv.FormatFloat(rnd.Float64()*2000-300, 'f', rnd.IntN(8), 64)
		case 1:
			s = strconv.FormatFloat(math.Float64frombits(rnd.Uint64()), 'e', rnd.IntN(25), 64)
		case 2:
			s = strconv.FormatFloat(rnd.Float64(), 'f', rnd.IntN(30), 64)
		case 3:
			s = strconv.FormatUint(rnd.Uint64(), 10) + "." + strconv.FormatUint(rnd.Uint64()>>uint(rnd.IntN(64)), 10)
		case 4:
			s = strconv.FormatUint(rnd.Uint64()>>uint(rnd.IntN(64)), 10) + "e" + strconv.Itoa(rnd.IntN(80)-40)
		}
		sameAsLibrary(t, s, '.')
		if !strings.ContainsAny(s, "NIn") {
			_, err := strconv.ParseFloat(s, 64)
			if _, _, ok := ParsePlain([]byte(s), '.'); !ok && err == nil {
				t.Errorf("%q not taken", s)
			}
		}
		sameAsLibrary(t, strings.Replace(s, ".", ",", 1), ',')
	}
}

func TestParseDoesNotAllocate(t *testing.T) {
	if raceEnabled {
		t.Skip("the race detector allocates")
	}
	cells := [][]byte{[]byte("23.4"), []byte("2.106998109817504883e+01"), []byte(" 23,4 °C"), []byte("---"), []byte("Fühlerbruch"), []byte("1'234.5"), []byte("some text"), []byte("")}
	if n := testing.AllocsPerRun(100, func() {
		for _, c := range cells {
			Parse(c, '.')
			Parse(c, ',')
		}
	}); n > 0 {
		t.Errorf("%v allocations for %d cells", n, 2*len(cells))
	}
}
