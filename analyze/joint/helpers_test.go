package joint

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"ringheat/analyze/quantity"
)

func near(t *testing.T, what string, got, want, tolerance float64, source string) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v within %v (%s)", what, got, want, tolerance, source)
	}
}

func refused(t *testing.T, what string, err error, words string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), words) {
		t.Errorf("%s: error %v, want one with %q", what, err, words)
	}
}

func celsius(c float64) *quantity.Celsius { v := quantity.Celsius(c); return &v }
func um(v float64) *float64               { return &v }

// reference reads a table of testdata; least guards against an empty one.
func reference(t *testing.T, name string, least int) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, r := range records[1:] {
		row := map[string]string{}
		for i, name := range records[0] {
			row[name] = r[i]
		}
		rows = append(rows, row)
	}
	if len(rows) < least {
		t.Fatalf("%s has %d rows, want at least %d", name, len(rows), least)
	}
	return rows
}

func num(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, row, err)
	}
	return v
}
