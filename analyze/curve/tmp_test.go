package curve

import "testing"

func BenchmarkPartPrepare(b *testing.B) {
	ts, ys := benchTrace(true)
	var e Estimator
	for b.Loop() {
		e.prepare(ts, ys, Options{})
	}
}
func BenchmarkPartEvaluate(b *testing.B) {
	ts, ys := benchTrace(true)
	var e Estimator
	e.prepare(ts, ys, Options{})
	for b.Loop() {
		e.evaluate(1.001, 100, -50)
	}
}
func BenchmarkPartSums(b *testing.B) {
	ts, ys := benchTrace(true)
	var e Estimator
	e.prepare(ts, ys, Options{})
	for b.Loop() {
		e.sums(1.001)
	}
}
func BenchmarkPartSearch(b *testing.B) {
	ts, ys := benchTrace(true)
	var e Estimator
	e.prepare(ts, ys, Options{})
	for b.Loop() {
		e.search()
	}
}
func BenchmarkPartSum(b *testing.B) {
	_, ys := benchTrace(true)
	for b.Loop() {
		s := 0.0
		for _, v := range ys {
			s += v
		}
		_ = s
	}
}
