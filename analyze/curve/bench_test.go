package curve

import (
	"math/rand/v2"
	"testing"
)

// benchTrace is a rise of 1200 samples, one a second, that spans one time constant.
func benchTrace(even bool) (ts, ys []float64) {
	rng := rand.New(rand.NewPCG(1, 1))
	for i := range 1200 {
		at := float64(i)
		if !even {
			at += 0.8 * rng.Float64()
		}
		phi, _ := basis(1./1200, at)
		ts, ys = append(ts, at), append(ys, 20+phi/6+0.2*rng.NormFloat64())
	}
	return ts, ys
}

func benchmarkFirstOrder(b *testing.B, even bool) {
	ts, ys := benchTrace(even)
	var e Estimator
	b.ReportAllocs()
	for b.Loop() {
		if r := e.FirstOrder(ts, ys, Options{StepK: 0.1}); r.Status != Determined {
			b.Fatal(r.Status)
		}
	}
}

func BenchmarkFirstOrderUniform1200(b *testing.B) { benchmarkFirstOrder(b, true) }
func BenchmarkFirstOrderUneven1200(b *testing.B)  { benchmarkFirstOrder(b, false) }
