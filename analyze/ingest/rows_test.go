package ingest

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ringheat/analyze/series"
)

// checkAccount fails when the lines do not add up: against a count of the test's own, and kind by kind.
func checkAccount(t interface {
	Helper()
	Errorf(string, ...any)
}, res *Result, lines int) {
	t.Helper()
	r := res.Log.Rows
	if r.Total != lines {
		t.Errorf("%d lines, counted apart %d", r.Total, lines)
	}
	sum := r.Samples + r.Problems
	for _, n := range r.Skipped {
		sum += n
	}
	if sum != r.Total {
		t.Errorf("%d samples + %d problems + skipped %v = %d, not %d", r.Samples, r.Problems, r.Skipped, sum, r.Total)
	}
	l := res.Log
	if len(l.Lines) != len(l.TimeS) {
		t.Errorf("%d lines for %d times", len(l.Lines), len(l.TimeS))
	}
	for i := range l.Channels {
		c := &l.Channels[i]
		n := c.Valid
		for _, k := range c.MissingKind {
			n += k
		}
		valid := 0
		for _, v := range c.C {
			if !series.IsMissing(v) {
				valid++
			}
		}
		if n != len(c.C) || valid != c.Valid || len(c.C) != len(l.TimeS) {
			t.Errorf("%s: %d rows, %d readings (%d counted), missing %v", c.Name, len(c.C), c.Valid, valid, c.MissingKind)
		}
	}
	for _, v := range l.TimeS {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("time %v", v)
		}
	}
}

func readText(t *testing.T, text string, o Options) *Result {
	t.Helper()
	res, err := Read("log.csv", strings.NewReader(text), o)
	if err != nil {
		t.Fatal(err)
	}
	checkAccount(t, res, countLines(text))
	return res
}

func TestRowsAddUp(t *testing.T) {
	text := `Logger 12
Start: 2026-03-01 10:00:00

time_s,inner_c,outer_c
0,20.0,20.0
1,20.1,20.1
2,oops,20.2
3,20.3

# pause
4,20.4,20.3,99
5,20.5,20.4
nonsense in the midst
time_s,inner_c,outer_c
6,---,20.5
7,20.7,
x8,20.8,20.7
9,20.9,20.8
`
	for i := 10; i < 40; i++ {
		text += fmt.Sprintf("%d,%d.0,21.0\n", i, 11+i)
	}
	text += "Average,20.4,20.3\n"
	res := readText(t, text, Options{})
	r := res.Log.Rows
	if r.Samples != 37 || r.Problems != 3 {
		t.Errorf("%d samples, %d problems; want 37 and 3", r.Samples, r.Problems)
	}
	for kind, n := range map[string]int{"blank": 2, "preamble": 3, "header": 1, "comment": 1, "footer": 1, "repeated header": 1} {
		if r.Skipped[kind] != n {
			t.Errorf("%s: %d lines, want %d (%v)", kind, r.Skipped[kind], n, r.Skipped)
		}
	}
	if res.Reading.BadCells != 1 {
		t.Errorf("%d bad cells, want 1", res.Reading.BadCells)
	}
	var seen []string
	for _, p := range res.Log.Problems {
		seen = append(seen, fmt.Sprintf("%d/%d %s", p.Line, p.Column, p.Kind))
	}
	if got, want := strings.Join(seen, "; "), "7/2 bad-cell; 8/0 bad-width; 11/0 bad-width; 17/1 bad-time"; got != want {
		t.Errorf("problems %s, want %s", got, want)
	}
}

// What stands in a cell is never turned into another number: no empty cell into 0, no word into a number.
func TestEmptyCellIsNoZero(t *testing.T) {
	text := "time_s,inner_c,outer_c\n0,20.0,20.0\n1,,20.1\n2,20.2,\n3,-,+\n4,.,20.4\n5,20.5,20.5\n"
	res := readText(t, text, Options{})
	inner, outer := &res.Log.Channels[0], &res.Log.Channels[1]
	for i, want := range []struct{ inner, outer bool }{{true, true}, {false, true}, {true, false}, {false, false}, {false, true}, {true, true}} {
		if i >= res.Log.Len() {
			t.Fatalf("%d rows: %v", res.Log.Len(), res.Log.Problems)
		}
		if got := !series.IsMissing(inner.C[i]); got != want.inner {
			t.Errorf("row %d: inner %v", i, inner.C[i])
		}
		if got := !series.IsMissing(outer.C[i]); got != want.outer {
			t.Errorf("row %d: outer %v", i, outer.C[i])
		}
	}
	// Not read as 0 and then taken for a numeric marker either.
	if inner.MissingKind["0"] != 0 || inner.MissingKind["empty"] != 1 || outer.MissingKind["empty"] != 1 {
		t.Errorf("missing %v and %v", inner.MissingKind, outer.MissingKind)
	}
}
