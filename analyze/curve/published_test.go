package curve

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// readColumns reads a published data set from testdata: a heading and two columns.
func readColumns(t testing.TB, name string) (x, y []float64) {
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
	for _, row := range rows[1:] {
		a, errA := strconv.ParseFloat(row[0], 64)
		b, errB := strconv.ParseFloat(row[1], 64)
		if errA != nil || errB != nil {
			t.Fatalf("%s: %v", name, row)
		}
		x, y = append(x, a), append(y, b)
	}
	if len(x) < 6 {
		t.Fatalf("%s: only %d rows", name, len(x))
	}
	return x, y
}

func ptr(v float64) *float64 { return &v }

// TestPublishedEstimates compares the classical least-squares solution with published ones, from the
// data alone: no start values are given.
func TestPublishedEstimates(t *testing.T) {
	const (
		nist = "NIST/ITL StRD, nonlinear regression, certified values (11 digits)"
		rRef = "R 4.2.2 nls, default stopping rule, printed to 12 digits"
		conv = "same model and data, converged in extended precision; agrees with R 4.2.2 nlsLM (ftol 1e-15) to 8 digits"
	)
	zero := Options{FixedStart: ptr(0), RefS: ptr(0)}
	free := Options{RefS: ptr(0)}
	type want struct {
		what      string
		value     float64
		tolerance float64 // relative
		source    string
	}
	cases := []struct {
		name, file string
		options    Options
		want       []want
	}{
		{"Misra1a", "misra1a.csv", zero, []want{
			{"final", 2.3894212918e+02, 1e-10, nist},
			{"final se", 2.7070075241e+00, 1e-9, nist},
			{"decay", 5.5015643181e-04, 1e-10, nist},
			{"decay se", 7.2668688436e-06, 1e-9, nist},
			{"residual sd", 1.0187876330e-01, 1e-9, nist},
			{"rss", 1.2455138894e-01, 1e-9, nist},
			{"time constant", 1817.66483529, 1e-9, conv},
			{"time constant se", 24.0090476018, 1e-9, conv},
			{"final", 238.942128779, 1e-6, rRef},
			{"time constant", 1817.66483174, 1e-6, rRef},
		}},
		{"BoxBOD", "boxbod.csv", zero, []want{
			{"final", 2.1380940889e+02, 1e-10, nist},
			{"final se", 1.2354515176e+01, 1e-9, nist},
			{"decay", 5.4723748542e-01, 1e-10, nist},
			{"decay se", 1.0455993237e-01, 1e-9, nist},
			{"residual sd", 1.7088072423e+01, 1e-9, nist},
			{"rss", 1.1680088766e+03, 1e-9, nist},
			{"time constant", 1.82736019853, 1e-9, conv},
			{"time constant se", 0.349151262231, 1e-9, conv},
			{"time constant", 1.82736017016, 1e-6, rRef},
		}},
		{"BOD", "bod.csv", zero, []want{
			{"final", 19.1425752846, 1e-9, conv},
			{"final se", 2.49591733221, 1e-9, conv},
			{"time constant", 1.88291515052, 1e-9, conv},
			{"time constant se", 0.720001077581, 1e-9, conv},
			{"residual sd", 2.54903252637, 1e-9, conv},
			{"rss", 25.9902672819, 1e-9, conv},
			{"final", 19.1425780866, 1e-6, rRef + ", SSasympOrig"},
			{"final se", 2.49591866564, 1e-6, rRef + ", SSasympOrig"},
			{"log decay", -0.632821691244, 1e-6, rRef + ", SSasympOrig"},
		}},
		{"Loblolly seed 329", "loblolly329.csv", free, []want{
			{"final", 94.1282098738, 1e-9, conv},
			{"final se", 8.40301914473, 1e-9, conv},
			{"start", -8.25075255698, 1e-9, conv},
			{"start se", 1.22610794632, 1e-9, conv},
			{"time constant", 24.9675822214, 1e-9, conv},
			{"time constant se", 3.46009937057, 1e-9, conv},
			{"residual sd", 0.749311119155, 1e-9, conv},
			{"rss", 1.68440145987, 1e-9, conv},
			{"final", 94.128204274, 1e-6, rRef + ", SSasymp"},
			{"start", -8.25075323963, 1e-6, rRef + ", SSasymp"},
			{"log decay", -3.21757817917, 1e-6, rRef + ", SSasymp"},
		}},
	}
	var e Estimator
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			x, y := readColumns(t, c.file)
			got := e.FirstOrder(x, y, c.options).Classical
			if !got.OK {
				t.Fatal("no classical solution")
			}
			have := map[string]float64{
				"final": got.FinalC, "final se": got.FinalSE, "start": got.StartC, "start se": got.StartSE,
				"decay": got.DecayPerS, "decay se": got.DecaySE, "log decay": math.Log(got.DecayPerS),
				"time constant": got.TimeConstantS, "time constant se": got.TimeConstantSE,
				"residual sd": got.ResidualSD, "rss": got.RSS,
			}
			for _, w := range c.want {
				v, ok := have[w.what]
				if !ok {
					t.Fatalf("no value called %q", w.what)
				}
				if d := math.Abs(v/w.value - 1); !(d <= w.tolerance) {
					t.Errorf("%s = %.12g, want %.12g within %g, is off by %.2g (source: %s)", w.what, v, w.value, w.tolerance, d, w.source)
				}
			}
		})
	}
}
