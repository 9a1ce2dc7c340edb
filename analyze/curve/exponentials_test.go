package curve

import (
	"math"
	"testing"
)

// TestPublishedExponentialSums compares sums of exponentials with published solutions, from both
// certified start points.
func TestPublishedExponentialSums(t *testing.T) {
	const (
		nist = "NIST/ITL StRD, nonlinear regression, certified values (11 digits)"
		conv = "R 4.2.2 data set Indometh, SSbiexp; converged in extended precision, agrees with R nlsLM to 8 digits"
	)
	type amplitude struct {
		term      int // 0: offset where there is one
		value, se float64
	}
	cases := []struct {
		name, file, source string
		offset             bool
		starts             [][]float64
		rates, rateSE      []float64
		amplitudes         []amplitude
		sd, rss            float64
		tolerance          float64 // of the parameters; errors are compared at ten times this
	}{
		{
			name: "MGH17", file: "mgh17.csv", source: nist, offset: true,
			starts: [][]float64{{1, 2}, {0.01, 0.02}},
			rates:  []float64{1.2867534640e-02, 2.2122699662e-02}, rateSE: []float64{4.4861358114e-04, 8.9471996575e-04},
			amplitudes: []amplitude{{0, 3.7541005211e-01, 2.0723153551e-03}, {1, 1.9358469127e+00, 2.2031669222e-01}, {2, -1.4646871366e+00, 2.2175707739e-01}},
			sd:         1.3970497866e-03, rss: 5.4648946975e-05, tolerance: 1e-8,
		},
		{
			name: "Lanczos3", file: "lanczos3.csv", source: nist,
			starts: [][]float64{{0.3, 5.5, 7.6}, {0.7, 4.2, 6.3}},
			rates:  []float64{9.5498101505e-01, 2.9515951832e+00, 4.9863565084e+00},
			rateSE: []float64{9.7041624475e-02, 1.0766312506e-01, 3.4436403035e-02},
			amplitudes: []amplitude{{0, 8.6816414977e-02, 1.7197908859e-02}, {1, 8.4400777463e-01, 4.1488663282e-02},
				{2, 1.5825685901e+00, 5.8371576281e-02}},
			sd: 2.9923229172e-05, rss: 1.6117193594e-08, tolerance: 1e-6,
		},
		{
			name: "Indometh subject 1", file: "indometh1.csv", source: conv,
			starts: [][]float64{{0.3, 3}, {0.05, 1}},
			rates:  []float64{1 / 5.9761904046, 1 / 0.560240138974}, rateSE: []float64{4.70401099318 / (5.9761904046 * 5.9761904046), 0.0698358294496 / (0.560240138974 * 0.560240138974)},
			amplitudes: []amplitude{{0, 0.191547959425, 0.110626458576}, {1, 2.02927801564, 0.109902840036}},
			sd:         0.0410261483438, rss: 0.0117820139355, tolerance: 1e-9,
		},
	}
	x := exponentials{polish: 20}
	for _, c := range cases {
		xs, ys := readColumns(t, c.file)
		for s, start := range c.starts {
			x.set(len(c.rates), series{t: xs, y: ys, offset: c.offset})
			if !x.solve(start) {
				t.Errorf("%s, start %d: no convergence; rates %v", c.name, s+1, x.rate)
				continue
			}
			var theta [maxParams]float64
			var cov [maxParams][maxParams]float64
			x.covariance(&theta, &cov)
			// published without phi: amplitude b exp(-rate t) is -b/... of phi; offset is the value in the end
			sd := math.Sqrt(x.rss / float64(x.n-x.params))
			order := []int{0, 1, 2}
			for i := range c.rates {
				for j := range c.rates {
					if math.Abs(theta[j]-c.rates[i]) < math.Abs(theta[order[i]]-c.rates[i]) {
						order[i] = j
					}
				}
			}
			check := func(what string, got, want, tol float64) {
				t.Helper()
				if d := math.Abs(got/want - 1); !(d < tol) {
					t.Errorf("%s, start %d: %s = %.12g, want %.11g, off by %.2g (source: %s)", c.name, s+1, what, got, want, d, c.source)
				}
			}
			for i, w := range c.rates {
				check("rate", theta[order[i]], w, c.tolerance)
				check("rate se", sd*math.Sqrt(cov[order[i]][order[i]]), c.rateSE[i], 10*c.tolerance)
			}
			m := len(c.rates)
			for _, a := range c.amplitudes {
				// gradient of the published amplitude with respect to our parameters
				var grad [maxParams]float64
				value := 0.0
				switch {
				case !c.offset:
					grad[m+order[a.term]] = 1
					value = theta[m+order[a.term]]
				case a.term == 0: // offset + sum of amplitude/rate
					grad[m] = 1
					value = theta[m]
					for j := range m {
						value += theta[m+1+j] / theta[j]
						grad[m+1+j] = 1 / theta[j]
						grad[j] = -theta[m+1+j] / (theta[j] * theta[j])
					}
				default: // -amplitude/rate
					j := order[a.term-1]
					value = -theta[m+1+j] / theta[j]
					grad[m+1+j] = -1 / theta[j]
					grad[j] = theta[m+1+j] / (theta[j] * theta[j])
				}
				v := 0.0
				for i := range grad {
					for j := range grad {
						v += grad[i] * cov[i][j] * grad[j]
					}
				}
				check("amplitude", value, a.value, c.tolerance)
				check("amplitude se", sd*math.Sqrt(v), a.se, 10*c.tolerance)
			}
			check("residual sd", sd, c.sd, c.tolerance)
			check("rss", x.rss, c.rss, c.tolerance)
		}
	}
}
