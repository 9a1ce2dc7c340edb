package cell

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringheat/analyze/quantity"
)

// rise is a noise-free warming trace in °C, to a tenth.
func rise(n int, from, to float64) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = math.Round(10*(from+(to-from)*float64(i)/float64(n-1))) / 10
	}
	return v
}

func put(v []float64, x float64, rows ...int) []float64 {
	v = append([]float64(nil), v...)
	for _, r := range rows {
		v[r] = x
	}
	return v
}

func each(v []float64, f func(float64) float64) []float64 {
	w := make([]float64, len(v))
	for i, x := range v {
		w[i] = f(x)
	}
	return w
}

func TestFindErrors(t *testing.T) {
	base := rise(400, 20, 110)
	const C, F, K, U = quantity.DegreeCelsius, quantity.DegreeFahrenheit, quantity.KelvinUnit, quantity.UnknownUnit
	toF := func(c float64) float64 { return math.Round(10*(c*1.8+32)) / 10 }
	toK := func(c float64) float64 { return math.Round(10*(c+273.15)) / 10 }
	zigzag := make([]float64, 300)
	for i := range zigzag {
		zigzag[i] = 20
		if i%20 >= 10 {
			zigzag[i] = 110
		}
	}
	fast := []float64{20, 70, 120, 170, 220, 270, 320, 370, 420, 470, 520, 570, 620, 670, 720, 770, 820, 850, 850, 850, 820, 770, 700}
	peak := []float64{20, 45, 70, 95, 120, 95, 70, 45, 20}
	open := put(base, 1372, 100, 101, 102, 103)
	open = put(open, math.NaN(), 104, 105)
	open = put(open, 1372, 106)
	mixed := put(base, -9999, 50, 51, 52)
	mixed = put(mixed, 850, 53, 54)
	mixed = put(mixed, -9999, 55)
	for _, c := range []struct {
		name string
		v    []float64
		unit quantity.TemperatureUnit
		want map[string]int
	}{
		{"clean", base, C, nil},
		{"short", []float64{20}, C, nil},
		{"nothing", []float64{math.NaN(), math.NaN()}, C, nil},
		{"-9999 once", put(base, -9999, 30), C, map[string]int{"-9999": 1}},
		{"-9999 unit unknown", put(base, -9999, 30, 31), U, map[string]int{"-9999": 2}},
		{"-9999 at both ends", put(base, -9999, 0, 1, 398, 399), C, map[string]int{"-9999": 4}},
		{"-200", put(base, -200, 10, 11), C, map[string]int{"-200": 2}},
		{"850 on a warm trace", put(base, 850, 390, 391), C, map[string]int{"850": 2}},
		{"1372 beside blanks", open, C, map[string]int{"1372": 5}},
		{"999.9", put(base, 999.9, 200), C, map[string]int{"999.9": 1}},
		{"3276.7", put(base, 3276.7, 200), C, map[string]int{"3276.7": 1}},
		{"6553.5", put(base, 6553.5, 200), C, map[string]int{"6553.5": 1}},
		{"-127", put(base, -127, 7, 70, 300), C, map[string]int{"-127": 3}},
		{"-127 as Fahrenheit", each(put(base, -127, 7, 70), toF), F, map[string]int{"-196.6": 2}},
		{"-273.15 as kelvin", each(put(base, -273.15, 7), toK), K, map[string]int{"0": 1}},
		{"850 as Fahrenheit", each(put(base, 850, 200), toF), F, map[string]int{"1562": 1}},
		{"nought", put(base, 0, 200, 201, 202), C, map[string]int{"0": 3}},
		{"-273.15", put(base, -273.15, 7), C, map[string]int{"-273.15": 1}},
		{"two kinds side by side", mixed, C, map[string]int{"-9999": 4, "850": 2}},
		{"85 at power-on", put(base, 85, 0), C, map[string]int{"85": 1}},
		{"85 between equals, though the trace passes 85", put(base, 85, 40), C, map[string]int{"85": 1}},
		{"85 passed by the trace", base, C, nil},
		{"85 at the end of a cooling", put(base, 85, 399), C, nil},
		{"a held 120.0", append(rise(200, 20, 120), each(make([]float64, 50), func(float64) float64 { return 120 })...), C, nil},
		{"true 850 reached slowly", append(rise(900, 20, 850), 850, 850, 850, 849.5), C, nil},
		{"true 850 reached in jumps", fast, C, nil},
		{"a sharp real peak of 120.0", peak, C, nil},
		{"single unknown spike", put(base, 412.3, 200), C, nil},
		{"repeated unknown number far out", put(base, 1234.5, 50, 120, 121, 300), C, map[string]int{"1234.5": 4}},
		{"unknown number that readings come near", put(put(base, 180.5, 50, 120, 300), 176, 200, 201), C, nil},
		{"two levels are no errors", zigzag, C, nil},
		{"whole column -9999", each(base, func(float64) float64 { return -9999 }), U, map[string]int{"-9999": 400}},
		{"whole column 850", each(base, func(float64) float64 { return 850 }), C, map[string]int{"850": 400}},
		{"whole column 21.5", each(base, func(float64) float64 { return 21.5 }), C, nil},
		{"whole column 0", each(base, func(float64) float64 { return 0 }), C, nil},
		{"impossible and varied", put(put(base, -312.4, 10), -401.7, 11), C, map[string]int{BelowZero: 2}},
		{"negative kelvin", put(each(base, toK), -5, 10), K, map[string]int{BelowZero: 1}},
		{"absurd and varied", put(put(base, 7123.4, 10), 1e20, 11), C, map[string]int{Beyond: 2}},
		{"thousandths of a degree are not absurd", each(base, func(c float64) float64 { return 1000 * c }), U, nil},
		{"mostly open", put(base, 1372, span(0, 350)...), C, map[string]int{"1372": 350}},
		{"85 fifteen kelvin above its neighbours", put(rise(100, 69, 71), 85, 50), C, nil},
		{"85 for five rows", put(base, 85, 40, 41, 42, 43, 44), C, nil},
		{"85 between readings that differ", append(append(rise(50, 39, 40), 85), rise(50, 62, 63)...), C, nil},
		{"nought that is also passed", append(append(put(rise(50, 29, 30), 0, 10, 11, 12), 0), rise(50, -25, -24)...), C, nil},
		{"a number between two levels", put(append(append(rise(100, 19, 21), math.NaN()), rise(100, 199, 201)...), 110, 30, 40, 50), C, nil},
		{"400 on the way up", append(append(rise(100, 290, 300), 400), rise(100, 500, 510)...), C, nil},
		{"thousandths below zero", each(base, func(c float64) float64 { return -1000 * c }), U, nil},
		{"an unknown number broken by a known one", put(put(base, 1234.5, 50, 51, 53), -9999, 52), C, map[string]int{"1234.5": 3, "-9999": 1}},
		{"an open probe's varied numbers", wild(base), C, map[string]int{FarOff: 9}},
		{"mostly absurd", func() []float64 {
			v := append([]float64(nil), base...)
			for i := range v {
				if i%7 != 0 {
					v[i] = 650 + float64(i*7919%700)
				}
			}
			return v
		}(), C, map[string]int{FarOff: 342}},
		{"one absurd reading", put(base, 1250.3, 200), C, map[string]int{FarOff: 1}},
		{"one absurd reading in Fahrenheit", each(put(base, 1250.3, 200), toF), F, map[string]int{FarOff: 1}},
		{"somewhere hot and smooth", append(append(rise(100, 20, 25), rise(100, 845, 850)...), rise(100, 30, 25)...), C, nil},
		{"hot from the first row to the last", rise(100, 700, 900), C, nil},
		{"400 that readings come near to", append(put(rise(100, 299, 300), 400, 50), rise(100, 380, 395)...), C, nil},
		{"85 where a fast rise begins", append([]float64{85, 140, 192, 239, 282, 322, 359, 392, 424, 452}, rise(200, 470, 500)...), C, nil},
		{"85 where a part cools fast", append([]float64{85, 60, 50, 44, 40, 38}, rise(200, 37, 20)...), C, nil},
		{"set-point step to 400", append(rise(10, 20, 25), 400, 400, 400), C, map[string]int{"400": 3}},
	} {
		got := FindErrors(c.v, c.unit)
		seen := map[string]int{}
		for _, e := range got {
			seen[e.Name] += e.Count
			n := 0
			for _, r := range e.Runs {
				n += r.Last - r.First + 1
			}
			if n != e.Count || e.Evidence == "" {
				t.Errorf("%s: runs hold %d rows, count is %d, evidence %q", c.name, n, e.Count, e.Evidence)
			}
		}
		if len(seen) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.name, seen, c.want)
			continue
		}
		for k, n := range c.want {
			if seen[k] != n {
				t.Errorf("%s: %v, want %v", c.name, seen, c.want)
			}
		}
	}
}

// wild puts an open probe's numbers into a trace.
func wild(v []float64) []float64 {
	v = append([]float64(nil), v...)
	for i, x := range []float64{1367.2, 980.4, math.NaN(), 1290.8, 760.1, -88.2, 1371.9} {
		v[200+i] = x
	}
	v[300], v[301], v[399] = 905.5, 1210.1, 1340.4
	return v
}

func span(from, to int) []int {
	var r []int
	for i := from; i < to; i++ {
		r = append(r, i)
	}
	return r
}

// A smooth trace, however fast, warm, noisy or coarsely displayed, loses no reading.
func TestFindErrorsEatsNoReading(t *testing.T) {
	n := 4000
	if raceEnabled || testing.Short() {
		n = 300
	}
	for seed := range n {
		rnd := rand.New(rand.NewPCG(7, uint64(seed)))
		rows := 5 + rnd.IntN(400)
		final := 60 + 800*rnd.Float64()
		start := 10 + 20*rnd.Float64()
		tau := float64(rows) * (0.05 + rnd.Float64())
		step := []float64{0.01, 0.1, 0.5, 1}[rnd.IntN(4)]
		noise := rnd.Float64() * 2
		off := rows * (5 + rnd.IntN(6)) / 10
		v := make([]float64, rows)
		x := start
		for i := range v {
			goal := final
			if i > off {
				goal = start
			}
			x += (goal - x) * (1 - math.Exp(-1/tau))
			v[i] = math.Round((x+noise*rnd.NormFloat64())/step) * step
		}
		if got := FindErrors(v, quantity.DegreeCelsius); got != nil {
			t.Fatalf("seed %d: %+v of %v", seed, got, v)
		}
	}
}

// Many islands of several numbers must not take quadratic time.
func TestFindErrorsManyIslands(t *testing.T) {
	n := 300_000
	if raceEnabled || testing.Short() {
		n = 20_000
	}
	v := make([]float64, n)
	for i := range v {
		v[i] = []float64{-9999, 850, 20 + float64(i%7), 1e9 + float64(i)}[i%4]
	}
	got := FindErrors(v, quantity.DegreeCelsius)
	if len(got) < 2 {
		t.Errorf("%d kinds found", len(got))
	}
}
