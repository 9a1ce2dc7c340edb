package joint

import (
	"math"
	"strconv"
	"testing"
)

// TestShaftCells holds every cell of the published table of limit deviations, at both ends of its range of sizes.
func TestShaftCells(t *testing.T) {
	for _, row := range reference(t, "iso286_shaft_limits.csv", 660) {
		over, incl := num(t, row, "over_mm"), num(t, row, "incl_mm")
		for _, d := range []float64{math.Nextafter(over, incl), (over + incl) / 2, incl} {
			got, err := Shaft(d, row["class"])
			if err != nil {
				t.Errorf("%s at %v mm: %v", row["class"], d, err)
				continue
			}
			near(t, row["class"]+" upper", got.UpperUM, num(t, row, "es_um"), 0, row["source"])
			near(t, row["class"]+" lower", got.LowerUM, num(t, row, "ei_um"), 0, row["source"])
			if row["evidence"] == "equal in two tables" && got.Origin.Confidence != Verified {
				t.Errorf("%s at %v mm is said to be %q, but stands in two tables", row["class"], d, got.Origin.Confidence)
			}
			if row["evidence"] == "from memory" && got.Origin.Confidence != Memory {
				t.Errorf("%s at %v mm is said to be %q, but was only remembered", row["class"], d, got.Origin.Confidence)
			}
		}
	}
}

// TestToleranceGrades holds the standard tolerances against the formula they were made with: i = 0.45 D^(1/3) + 0.001 D up to 500 mm,
// I = 0.004 D + 2.1 over it, D the geometric mean of the range; IT5 = 7, IT6 = 10, IT7 = 16, IT8 = 25, IT9 = 40 units
// (ISO 286-1:2010, generating formulas as published; the table is rounded: 8 µm for 7.33 at 3 to 6 mm is the farthest).
func TestToleranceGrades(t *testing.T) {
	units := map[int]float64{5: 7, 6: 10, 7: 16, 8: 25, 9: 40}
	seen := 0
	for _, c := range toleranceTable() {
		factor, known := units[c.grade]
		if !known || c.sizes.overMM < 3 {
			continue
		}
		seen++
		d := math.Sqrt(c.sizes.overMM * c.sizes.inclMM)
		i := 0.45*math.Cbrt(d) + 0.001*d
		if c.sizes.overMM >= 500 {
			i = 0.004*d + 2.1
		}
		if ratio := c.um / (factor * i); ratio < 0.9 || ratio > 1.1 {
			t.Errorf("IT%d over %v mm: %v µm is %.3f of the formula", c.grade, c.sizes.overMM, c.um, ratio)
		}
	}
	if seen != 70 {
		t.Errorf("%d tolerances compared, want 70", seen)
	}
}

// TestEveryClassHasEverySize walks the whole promised range: g5 to s7, over 3 to 800 mm, with no hole between two rows.
func TestEveryClassHasEverySize(t *testing.T) {
	for _, letter := range []string{"g", "h", "js", "k", "m", "n", "p", "r", "s"} {
		for grade := 5; grade <= 7; grade++ {
			for d := 2.0; d <= 800; d += 0.5 {
				got, err := Shaft(d, letter+strconv.Itoa(grade))
				if err != nil {
					t.Fatalf("%s%d at %v mm: %v", letter, grade, d, err)
				}
				if !(got.UpperUM > got.LowerUM) || got.Origin.Source == "" {
					t.Fatalf("%s%d at %v mm: %+v", letter, grade, d, got)
				}
			}
		}
	}
}

func TestShaftConfidence(t *testing.T) {
	for _, c := range []struct {
		mm    float64
		class string
		want  Confidence
		why   string
	}{
		{100, "m6", Verified, "both parts found in two tables"},
		{450, "j6", Memory, "value over 400 mm only remembered"},
		{560, "m5", Memory, "IT5 over 500 mm only remembered"},
		{560, "m6", Verified, "IT6 over 500 mm found in two tables"},
		{2.5, "k6", Memory, "up to 3 mm only remembered"},
		{40, "p4", SingleSource, "IT4 found in one table"},
	} {
		d, err := Shaft(c.mm, c.class)
		if err != nil || d.Origin.Confidence != c.want {
			t.Errorf("%s at %v mm: %v (%v), want %v: %s", c.class, c.mm, d.Origin.Confidence, err, c.want, c.why)
		}
	}
}

func TestHole(t *testing.T) {
	const source = "ISO 286-1:2010 table 1, EI = 0 for H"
	for _, c := range []struct {
		mm    float64
		class string
		upper float64
	}{{40, "H6", 16}, {50, "H7", 25}, {50.001, "H7", 30}, {120, "H7", 35}, {500, "H8", 97}, {800, "H9", 200}} {
		d, err := Hole(c.mm, c.class)
		if err != nil {
			t.Errorf("%s: %v", c.class, err)
			continue
		}
		near(t, c.class, d.UpperUM, c.upper, 0, source)
		near(t, c.class, d.LowerUM, 0, 0, source)
	}
}

func TestClassesRefused(t *testing.T) {
	for _, c := range []struct {
		what string
		err  func() error
		want string
	}{
		{"capital shaft", func() error { _, err := Shaft(50, "M6"); return err }, "write m6"},
		{"unknown letter", func() error { _, err := Shaft(50, "u6"); return err }, "not in the tables"},
		{"no grade", func() error { _, err := Shaft(50, "m"); return err }, "such as m6"},
		{"grade 06", func() error { _, err := Shaft(50, "m06"); return err }, "such as m6"},
		{"grade 3", func() error { _, err := Shaft(50, "m3"); return err }, "IT4 to IT9"},
		{"empty", func() error { _, err := Shaft(50, ""); return err }, "not in the tables"},
		{"too large", func() error { _, err := Shaft(801, "m6"); return err }, "outside the tables"},
		{"too small", func() error { _, err := Shaft(1, "m6"); return err }, "outside the tables"},
		{"not a number", func() error { _, err := Shaft(math.NaN(), "m6"); return err }, "no number"},
		{"j over 500", func() error { _, err := Shaft(560, "j6"); return err }, "no value at 560 mm"},
		{"j7", func() error { _, err := Shaft(50, "j7"); return err }, "no value"},
		{"k8", func() error { _, err := Shaft(50, "k8"); return err }, "grades 4 to 7"},
		{"hole with a shaft's letter", func() error { _, err := Hole(50, "h7"); return err }, "H4 to H9"},
		{"hole of another letter", func() error { _, err := Hole(50, "K7"); return err }, "H4 to H9"},
		{"hole grade", func() error { _, err := Hole(50, "H11"); return err }, "IT4 to IT9"},
	} {
		refused(t, c.what, c.err(), c.want)
	}
}

func TestBearingBoreCells(t *testing.T) {
	for _, row := range reference(t, "iso492_normal_bore.csv", 14) {
		over, incl := num(t, row, "over_mm"), num(t, row, "incl_mm")
		for _, d := range []float64{math.Nextafter(over, incl), incl} {
			got, err := BearingBore(d)
			if err != nil {
				t.Errorf("%v mm: %v", d, err)
				continue
			}
			near(t, "upper", got.UpperUM, num(t, row, "upper_um"), 0, row["source"])
			near(t, "lower", got.LowerUM, num(t, row, "lower_um"), 0, row["source"])
			want := Verified
			if incl > 250 {
				want = SingleSource
			}
			if got.Origin.Confidence != want {
				t.Errorf("%v mm is said to be %q, want %q", d, got.Origin.Confidence, want)
			}
		}
	}
	for _, d := range []float64{2.5, 1000.1, math.NaN(), -5} {
		_, err := BearingBore(d)
		refused(t, "bore out of range", err, "outside the table")
	}
}
