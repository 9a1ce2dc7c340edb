package cell

import (
	"math"
	"strconv"
	"testing"

	"ringheat/analyze/quantity"
)

func benchCells(b *testing.B, decimal byte, cells ...string) {
	bytes := make([][]byte, len(cells))
	for i, c := range cells {
		bytes[i] = []byte(c)
	}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		for _, c := range bytes {
			if Parse(c, decimal).Kind == Number {
				n++
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(cells)), "ns/cell")
}

func BenchmarkPlain(b *testing.B) {
	cells := [][]byte{[]byte("23.4"), []byte("101.25"), []byte("-5.0"), []byte("118.9")}
	sum := 0.0
	for b.Loop() {
		for _, c := range cells {
			v, _, _ := ParsePlain(c, '.')
			sum += v
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(cells)), "ns/cell")
}

// BenchmarkLibrary is the same through strconv, for comparison.
func BenchmarkLibrary(b *testing.B) {
	cells := []string{"23.4", "101.25", "-5.0", "118.9"}
	sum := 0.0
	for b.Loop() {
		for _, c := range cells {
			v, _ := strconv.ParseFloat(c, 64)
			sum += v
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(cells)), "ns/cell")
}

func BenchmarkScientific(b *testing.B) {
	benchCells(b, '.', "2.106998109817504883e+01", "2.10E+01", "1.973999999999999844e+01")
}
func BenchmarkUnit(b *testing.B)   { benchCells(b, '.', "23.4 °C", "101.2 °C") }
func BenchmarkMarker(b *testing.B) { benchCells(b, '.', "---", "OL", "NaN", "Fühlerbruch") }
func BenchmarkEmpty(b *testing.B)  { benchCells(b, '.', "", " ") }

// One clean column of 2200 rows: the price that every column pays.
func BenchmarkFindErrorsClean(b *testing.B) {
	v := make([]float64, 2200)
	for i := range v {
		v[i] = math.Round(10*(20+float64(i)/22)) / 10
	}
	b.ReportAllocs()
	for b.Loop() {
		FindErrors(v, quantity.DegreeCelsius)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(v)), "ns/row")
}
