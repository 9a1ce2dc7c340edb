package ingest

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

const threeProbes = "time_s,inner_c,outer_c,room_c\n0,20.0,20.0,20\n1,20.5,20.1,20\n2,21.0,20.2,20\n3,21.4,20.4,20\n"

func number(n int) []ColumnRef   { return []ColumnRef{{Number: n}} }
func named(h string) []ColumnRef { return []ColumnRef{{Heading: h}} }

// An error names file and place, says what is wrong and what to do next.
func TestErrors(t *testing.T) {
	for _, c := range []struct {
		name, in string
		o        Options
		kind     ErrorKind
		says     []string
	}{
		{"column number too large", threeProbes, Options{Inner: number(9)}, ErrColumn, []string{"--inner names column 9, but the rows have 4", "2 \"inner_c\""}},
		{"heading not there", threeProbes, Options{Outer: named("shell")}, ErrColumn, []string{`--outer "shell" matches no heading`, "the headings are"}},
		{"heading twice", "t,T,T\n0,20.0,20.0\n1,20.5,20.1\n2,21,20.3\n", Options{Inner: named("t ")}, ErrColumn, []string{"matches columns 1 and 2"}},
		{"one column, two roles", threeProbes, Options{Inner: number(2), Outer: number(2)}, ErrColumn, []string{"column 2", "named both as inner and as outer"}},
		{"the time as a probe", threeProbes, Options{Inner: number(1)}, ErrColumn, []string{"it is the time column"}},
		{"no time", "inner_c,outer_c\n20.0,20.0\n20.5,20.1\n21.0,20.0\n20.2,20.1\n", Options{}, ErrNoTime, []string{"--time", "--interval-s"}},
		{"no temperature", "time_s,humidity_%,power_w\n0,40,900\n1,41,900\n2,40,900\n", Options{}, ErrNoChannel, []string{"no column could be a probe's temperature", "humidity"}},
		{"millivolts", "time_s,inner [mV],outer [mV]\n0,0.79,0.79\n1,0.81,0.80\n2,0.83,0.80\n", Options{}, ErrNoChannel, []string{"mV"}},
		{"encoding that is none", threeProbes, Options{Encoding: "latin-9"}, ErrOption, []string{`no encoding "latin-9"`, "windows-1252"}},
		{"decimal mark that is none", threeProbes, Options{Decimal: ';'}, ErrOption, []string{"no decimal mark"}},
		{"interval below 0", threeProbes, Options{IntervalS: -1}, ErrOption, []string{"no interval"}},
		{"headings only", "time_s,inner_c,outer_c\n", Options{}, ErrNoData, []string{"no row of readings in 1 line;"}},
		{"UTF-32", "\xff\xfe\x00\x00t\x00\x00\x00", Options{}, ErrUnsupported, []string{"UTF-32"}},
		{"one endless line", strings.Repeat("1,", 1<<20), Options{}, ErrTooLong, []string{"a line of more than"}},
		{"too many columns", strings.Repeat(strings.Repeat("1,", 5000)+"1\n", 20), Options{}, ErrTooLong, []string{"5001 columns"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read("plant/log.csv", strings.NewReader(c.in), c.o)
			var e *Error
			if !errors.As(fmt.Errorf("check: %w", err), &e) {
				t.Fatalf("got %v, want an *Error", err)
			}
			if e.Kind != c.kind || e.File != "plant/log.csv" {
				t.Errorf("kind %s of file %s, want %s", e.Kind, e.File, c.kind)
			}
			for _, w := range c.says {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not say %q", err, w)
				}
			}
		})
	}
}

// A log of markers alone is no error: it has no valid sample, and the markers are counted.
func TestAllMarkersIsALog(t *testing.T) {
	res := readText(t, "time_s,inner_c,outer_c\n0,OL,OL\n1,OL,---\n2,OL,OL\n3,,OL\n", Options{})
	for i := range res.Log.Channels {
		if c := &res.Log.Channels[i]; c.Valid != 0 || len(c.C) != 4 {
			t.Errorf("%s: %d valid of %d", c.Name, c.Valid, len(c.C))
		}
	}
	if got := res.Log.Channels[0].MissingKind; got["OL"] != 3 || got["empty"] != 1 {
		t.Errorf("missing %v", got)
	}
}

// Several columns of one role by flag, numbers and headings mixed; the unit named goes to those that have none.
func TestRolesByFlag(t *testing.T) {
	text := "t,a,b,c,d [°F]\n0,20.0,20.1,20.2,68\n1,20.5,20.6,20.3,69\n2,21.0,21.1,20.5,70\n3,21.5,21.6,20.6,71\n"
	res := readText(t, text, Options{Inner: []ColumnRef{{Number: 2}, {Heading: " B "}}, Outer: number(4), Ambient: named("d [°f]"), Unit: quantity.DegreeCelsius})
	want := []struct {
		role series.Role
		unit string
	}{{series.Inner, "°C"}, {series.Inner, "°C"}, {series.Outer, "°C"}, {series.Ambient, "°C"}}
	if len(res.Log.Channels) != 4 {
		t.Fatalf("%d channels", len(res.Log.Channels))
	}
	for i, w := range want {
		c := &res.Log.Channels[i]
		if c.Role != w.role || c.RoleSource != series.ByFlag || c.Unit.String() != w.unit {
			t.Errorf("%s: %s by %s in %s, want %s by flag in %s", c.Name, c.Role, c.RoleSource, c.Unit, w.role, w.unit)
		}
	}
	for _, q := range res.Reading.Questions {
		if strings.Contains(q, "inner") || strings.Contains(q, "outer") {
			t.Errorf("asks %q though flags settle it", q)
		}
	}
}

// Problems are counted all, and kept up to a cap.
func TestProblemsAreCapped(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("time_s,inner_c,outer_c\n")
	for i := range 3000 {
		if i%2 == 1 && i > 100 {
			fmt.Fprintf(&b, "%d,20.5\n", i)
		} else {
			fmt.Fprintf(&b, "%d,20.5,20.%d\n", i, i%10)
		}
	}
	res := readText(t, b.String(), Options{MaxProblems: 10})
	l := res.Log
	if len(l.Problems) != 10 || l.ProblemCount != l.Rows.Problems || l.ProblemCount < 1000 {
		t.Errorf("%d kept of %d, %d lines", len(l.Problems), l.ProblemCount, l.Rows.Problems)
	}
}

// The Log is the Reader's: the next Read takes it.
func TestReaderReusesItsLog(t *testing.T) {
	var r Reader
	a, err := r.Read("a", strings.NewReader(threeProbes), Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := r.Read("b", strings.NewReader(smallLog), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if a.Log != b.Log || b.Log.Name != "b" || len(b.Log.Channels) != 2 || len(b.Log.Problems) != 0 {
		t.Errorf("log %q with %d channels", b.Log.Name, len(b.Log.Channels))
	}
	fresh, err := Read("b", strings.NewReader(smallLog), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if fmt.Sprintf("%+v", fresh.Reading) != fmt.Sprintf("%+v", b.Reading) || fmt.Sprintf("%+v", *fresh.Log) != fmt.Sprintf("%+v", *b.Log) {
		t.Errorf("a used reader gives\n%+v\n%+v\na fresh one\n%+v\n%+v", b.Reading, *b.Log, fresh.Reading, *fresh.Log)
	}
}
