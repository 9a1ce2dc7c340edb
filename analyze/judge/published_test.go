package judge

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// table reads a reference table of testdata as one map a row; every row names its source.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		if m["source"] == "" {
			t.Fatalf("%s: row %v names no source", name, r)
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return out
}

func value(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestProbeTolerances(t *testing.T) {
	for _, r := range table(t, "probe_tolerance.csv") {
		class, err := ParseProbeClass(r["class"])
		if err != nil {
			t.Error(err)
			continue
		}
		at := value(t, r["at_c"])
		if from, to := value(t, r["from_c"]), value(t, r["to_c"]); class.LowC != from || class.HighC != to {
			t.Errorf("%s is stated from %v to %v °C, want %v to %v (%s)", r["class"], class.LowC, class.HighC, from, to, r["source"])
		}
		if r["tolerance_k"] == "" {
			if class.Covers(at) {
				t.Errorf("%s covers %v °C, where the standard states none (%s)", r["class"], at, r["source"])
			}
			continue
		}
		if got, want := class.ToleranceK(at), value(t, r["tolerance_k"]); math.Abs(got-want) > 0.0005+1e-9 || !class.Covers(at) {
			t.Errorf("%s at %v °C: ±%v K, want ±%v K (%s)", r["class"], at, got, want, r["source"])
		}
	}
}

func TestRectangularUncertainty(t *testing.T) {
	for _, r := range table(t, "rectangular.csv") {
		class, err := ParseProbeClass(r["class"])
		if err != nil {
			t.Fatal(err)
		}
		var m uncertainty
		m.rectangular("probe", class.ToleranceK(value(t, r["at_c"])), r["source"])
		if got, want := m.budget[0].HalfWidth, value(t, r["half_width_k"]); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: half-width %v, want %v (%s)", r["class"], got, want, r["source"])
		}
		if got, want := m.standard(), value(t, r["standard_u_k"]); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: u %v, want %v (%s)", r["class"], got, want, r["source"])
		}
	}
}

func TestConformanceProbability(t *testing.T) {
	for _, r := range table(t, "conformance.csv") {
		y, u := value(t, r["value"]), value(t, r["standard_u"])
		got := conformance(y, value(t, r["upper"]), u)
		if r["lower"] != "" {
			// Two-sided: what conforms above less what lies below (the mirror image of an upper limit).
			got -= 1 - conformance(-y, -value(t, r["lower"]), u)
		}
		if want := value(t, r["conformance"]); math.Abs(got-want) > 1e-9 {
			t.Errorf("y %v, u %v: %v, want %v (%s)", y, u, got, want, r["source"])
		}
	}
}

func TestRiskAtTheAcceptanceLimit(t *testing.T) {
	for _, r := range table(t, "risk.csv") {
		w := value(t, r["guard_in_u"])
		// A guard factor g in units of U = 2u gives a guard band of 2g in units of u.
		d := atMost(120, 120, 2, w/2, Strict)
		if got, want := conformance(d.acceptance, 120, 1), value(t, r["conformance"]); math.Abs(got-want) > 1e-9 {
			t.Errorf("guard band %v u: %v, want %v (%s)", w, got, want, r["source"])
		}
	}
}

func TestDecisionRules(t *testing.T) {
	words := map[string]Verdict{"accept": Pass, "reject": Fail, "undetermined": Unproven}
	for _, r := range table(t, "three_zone.csv") {
		y, limit, U := value(t, r["value"]), value(t, r["limit"]), value(t, r["expanded_u"])
		if got, want := atMost(y, limit, U, 1, ThreeZone).verdict, words[r["three_zone"]]; got != want {
			t.Errorf("three-zone at %v: %s, want %s (%s)", y, got, want, r["source"])
		}
		if got, want := atMost(y, limit, U, 1, Simple).verdict, words[r["simple"]]; got != want {
			t.Errorf("simple at %v: %s, want %s (%s)", y, got, want, r["source"])
		}
		// Strict differs from three zones only above the limit, where nothing is accepted.
		want := words[r["three_zone"]]
		if y > limit {
			want = Fail
		}
		if got := atMost(y, limit, U, 1, Strict).verdict; got != want {
			t.Errorf("strict at %v: %s, want %s (%s)", y, got, want, r["source"])
		}
		if got, want := atMost(y, limit, U, 1, Strict).proven, y > limit+U; got != want {
			t.Errorf("at %v proven %v", y, got)
		}
		// The mirror image, for a value that must be reached.
		for _, rule := range []Rule{Strict, ThreeZone, Simple} {
			if up, down := atMost(y, limit, U, 1, rule), atLeast(-y, -limit, U, 1, rule); up.verdict != down.verdict || up.proven != down.proven || up.acceptance != -down.acceptance {
				t.Errorf("%s: %v and its mirror image %v differ", rule, up, down)
			}
		}
	}
}

// TestCoverageFactor holds the expansion against a general library's quantile of Student's t.
func TestCoverageFactor(t *testing.T) {
	level := distuv.UnitNormal.CDF(2)
	for _, nu := range []float64{3, 4, 5, 8, 12, 20, 50, 200, 2000} {
		var m uncertainty
		m.normal("noise", 1, nu, "test")
		want := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(level)
		tolerance := 0.001
		if nu < 5 {
			tolerance = 0.06
		}
		if got := m.coverage(1); math.Abs(got-want) > tolerance {
			t.Errorf("nu %v: coverage factor %v, want %v (gonum v0.17.0 distuv.StudentsT)", nu, got, want)
		}
	}
	// A tolerance has no end of degrees of freedom and thins the noise's own (Welch-Satterthwaite, GUM G.4.1).
	var m uncertainty
	m.rectangular("probe", 2.5, "test")
	m.normal("noise", 0.1, 5, "test")
	if got := m.coverage(m.standard()); got != 2 {
		t.Errorf("coverage factor %v, want 2", got)
	}
}

func TestExpandedNeverBeyondTheBounds(t *testing.T) {
	for _, tc := range []struct {
		name        string
		halfWidths  []float64
		sigma       float64
		wantU       float64
		wantStandrd float64
	}{
		// U = 2u of a rectangular +-2.5 is 2.89, beyond what a tolerance allows: a + step/2 + 3 sigma holds.
		{"bounded", []float64{2.5, 0.05}, 0.02, 2.5 + 0.05 + 0.06, math.Sqrt(2.5*2.5/3 + 0.05*0.05/3 + 0.0004)},
		{"two probes, bounded", []float64{0.1, 0.1, 0.05, 0.05}, 0, 2 * math.Sqrt((0.01+0.01+0.0025+0.0025)/3), math.Sqrt((0.01 + 0.01 + 0.0025 + 0.0025) / 3)},
		{"noise rules", []float64{0.1, 0.05}, 2, 2 * math.Sqrt(0.0125/3+4), math.Sqrt(0.0125/3 + 4)},
	} {
		var m uncertainty
		for _, a := range tc.halfWidths {
			m.rectangular("part", a, "test")
		}
		m.normal("noise", tc.sigma, 0, "test")
		U, k := m.expanded()
		if math.Abs(U-tc.wantU) > 1e-12 || math.Abs(m.standard()-tc.wantStandrd) > 1e-12 || math.Abs(k*m.standard()-U) > 1e-12 {
			t.Errorf("%s: U %v with k %v and u %v, want U %v, u %v", tc.name, U, k, m.standard(), tc.wantU, tc.wantStandrd)
		}
	}
}

// TestFieldUnits: 1 A/cm = 100 A/m = 0.1256637 mT = 1.256637 G in air (mu0 = 4 pi 1e-7 H/m, by
// definition up to 2019); 1 Oe = 79.57747 A/m by the definition of the CGS unit.
func TestFieldUnits(t *testing.T) {
	for _, tc := range []struct {
		text  string
		value float64
		want  float64
	}{{"A/cm", 2, 2}, {"A/m", 200, 2}, {"mT", 0.1256637, 1}, {"G", 1.256637, 1}, {"gauss", 8, 6.36620}, {"Oe", 1, 0.7957747}, {"oersted", 3, 2.387324}} {
		u, err := ParseFieldUnit(tc.text)
		if err != nil {
			t.Error(err)
			continue
		}
		per, ok := u.perUnit()
		if !ok || math.Abs(tc.value*per-tc.want) > 1e-5 {
			t.Errorf("%v %s is %v A/cm, want %v", tc.value, tc.text, tc.value*per, tc.want)
		}
	}
	if _, err := ParseFieldUnit("tesla-ish"); err == nil {
		t.Error("a unit that is none was taken")
	}
}
