package curve

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// TestLag1Published: lag-1 autocorrelation.
func TestLag1Published(t *testing.T) {
	for _, c := range []struct {
		file string
		n    int
		want float64
	}{
		// source: NIST/ITL StRD, univariate summary statistics, certified lag-1 autocorrelation (15 digits)
		{"lew.csv", 200, -0.307304800605679}, {"mavro.csv", 50, 0.937989183438248}, {"michelson.csv", 100, 0.535199668621283},
	} {
		f, err := os.Open(filepath.Join("testdata", c.file))
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		var r []float64
		mean := 0.0
		for _, row := range rows[1:] {
			v, err := strconv.ParseFloat(row[0], 64)
			if err != nil {
				t.Fatal(err)
			}
			r = append(r, v)
			mean += v / float64(c.n)
		}
		if len(r) != c.n {
			t.Fatalf("%s: %d values", c.file, len(r))
		}
		for i := range r {
			r[i] -= mean
		}
		if got := lag1(r); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.15f, want %.15f", c.file, got, c.want)
		}
	}
}

// TestVarianceFactor: for a first-order autoregression the mean of n samples has f^2 times the variance of
// independent ones, f^2 = (1 + r)/(1 - r). source: any text on time series; from memory.
func TestVarianceFactor(t *testing.T) {
	for _, r := range []float64{0, 0.3, 0.9, 0.995} {
		want := (1 + r) / (1 - r)
		if got := (correlation{r, r}).factor(); math.Abs(got-want) > 1e-12*want {
			t.Errorf("%g: %g, want %g", r, got, want)
		}
	}
	// with white noise on top that halves all correlations: 1 + 2 * 0.5 r/(1 - r)
	if got, want := (correlation{0.45, 0.9}).factor(), 1+2*0.45/0.1; math.Abs(got-want) > 1e-12 {
		t.Errorf("%g, want %g", got, want)
	}
}
