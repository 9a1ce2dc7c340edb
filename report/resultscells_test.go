package report

import (
	"bytes"
	"encoding/csv"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/gocarina/gocsv"
)

// TestResultCellsAreThoseOfTheLibrary: the list's rows are, byte for byte, what the CSV-struct library writes of
// the same rows through the cells' own MarshalCSV.
func TestResultCellsAreThoseOfTheLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 41))
	texts := []string{"", "pass", "=1+1", "-5", "a,b", "he said \"no\"", "two\nlines", " blank", "°C", "\\.", "@x", "tab\t"}
	figures := []float64{0, math.Copysign(0, -1), 119.123456789, 1e-9, 1e21, -3.5, math.NaN(), math.Inf(1)}
	rows := make([]resultRow, 400)
	for i := range rows {
		v := reflect.ValueOf(&rows[i]).Elem()
		for k := range v.NumField() {
			switch f := v.Field(k).Addr().Interface().(type) {
			case *words:
				*f = words(texts[rng.IntN(len(texts))])
			case *int:
				*f = rng.IntN(100) - 2
			case *number:
				if rng.IntN(3) > 0 {
					c := figures[rng.IntN(len(figures))]
					f.v = &c
				}
			}
		}
	}
	var got, want bytes.Buffer
	if err := gocsv.Marshal(rows, &want); err != nil {
		t.Fatal(err)
	}
	w := csv.NewWriter(&got)
	w.Write(headings(nil))
	var buffer []string
	for i := range rows {
		buffer = cells(&rows[i], buffer[:0])
		w.Write(buffer)
	}
	w.Flush()
	if !bytes.Equal(got.Bytes(), want.Bytes()) {
		t.Errorf("the cells differ:\n%.3000s\nthe library's:\n%.3000s", got.Bytes(), want.Bytes())
	}
}
