package ingest

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// optionsOf reads flags as Reading.Flags gives them.
func optionsOf(t *testing.T, flags []string) Options {
	t.Helper()
	var o Options
	refs := func(text string) (out []ColumnRef) {
		for _, w := range strings.Split(text, ",") {
			if n, err := strconv.Atoi(w); err == nil {
				out = append(out, ColumnRef{Number: n})
			} else {
				out = append(out, ColumnRef{Heading: strings.TrimPrefix(w, "=")})
			}
		}
		return out
	}
	for _, f := range flags {
		name, value, _ := strings.Cut(f, " ")
		switch name {
		case "--encoding":
			o.Encoding = value
		case "--delimiter":
			d, ok := ParseDelimiter(value)
			if !ok {
				t.Fatalf("flag %q: no delimiter", f)
			}
			o.Delimiter = d
		case "--decimal":
			o.Decimal = value[0]
		case "--time":
			o.Time = refs(value)
		case "--inner":
			o.Inner = refs(value)
		case "--outer":
			o.Outer = refs(value)
		case "--ambient":
			o.Ambient = refs(value)
		case "--shaft":
			o.Shaft = refs(value)
		case "--set-point":
			o.SetPoint = refs(value)
		case "--date-order":
			o.DateOrder = DateOrder(value)
		case "--interval-s":
			s, err := strconv.ParseFloat(value, 64)
			if err != nil {
				t.Fatalf("flag %q: %v", f, err)
			}
			o.IntervalS = s
		case "--temp-unit":
			o.Unit = map[string]quantity.TemperatureUnit{"C": quantity.DegreeCelsius, "F": quantity.DegreeFahrenheit, "K": quantity.KelvinUnit}[value]
		default:
			t.Fatalf("flag %q is not known", f)
		}
	}
	return o
}

// The flags that a reading prints pin it: read with them, the log gives the same series.
func TestFlagsPinTheReading(t *testing.T) {
	files, err := filepath.Glob("../../testdata/dialect/*/*")
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for _, name := range files {
		if strings.HasSuffix(name, ".json") || strings.HasSuffix(name, ".md") {
			continue
		}
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		first, err := Read(name, bytes.NewReader(raw), Options{})
		if err != nil {
			continue
		}
		read++
		second, err := Read(name, bytes.NewReader(raw), optionsOf(t, first.Reading.Flags))
		if err != nil {
			t.Errorf("%s: with %q: %v", name, first.Reading.Flags, err)
			continue
		}
		a, b := first.Log, second.Log
		if a.Len() != b.Len() || len(a.Channels) != len(b.Channels) {
			t.Errorf("%s: with %q: %d rows and %d channels became %d and %d", name, first.Reading.Flags, a.Len(), len(a.Channels), b.Len(), len(b.Channels))
			continue
		}
		for i := range a.TimeS {
			if a.TimeS[i] != b.TimeS[i] {
				t.Errorf("%s: with %q: row %d at %v s became %v s", name, first.Reading.Flags, i, a.TimeS[i], b.TimeS[i])
				break
			}
		}
		for k := range a.Channels {
			x, y := &a.Channels[k], &b.Channels[k]
			if x.Role != y.Role || x.Unit != y.Unit || x.Valid != y.Valid {
				t.Errorf("%s: with %q: channel %d was %s in %s, %d readings, became %s in %s, %d", name, first.Reading.Flags, k, x.Role, x.Unit, x.Valid, y.Role, y.Unit, y.Valid)
			}
			if y.Role != series.NoRole && y.RoleSource != series.ByFlag && second.Reading.Layout != "blocks" {
				t.Errorf("%s: channel %d: role by %s, want flag", name, k, y.RoleSource)
			}
			for i := range x.C {
				if x.C[i] != y.C[i] && (x.C[i] == x.C[i] || y.C[i] == y.C[i]) {
					t.Errorf("%s: with %q: channel %d row %d: %v became %v", name, first.Reading.Flags, k, i, x.C[i], y.C[i])
					break
				}
			}
		}
	}
	if read < 100 {
		t.Errorf("only %d logs were read", read)
	}
}

// The date order that the whole column settled is among the flags; a year of four figures in front needs none.
func TestFlagsNameTheDateOrder(t *testing.T) {
	for _, c := range []struct{ first, second, want string }{
		{"03/25/2026", "03/26/2026", "--date-order mdy"},
		{"25/03/2026", "26/03/2026", "--date-order dmy"},
	} {
		text := "time,inner_c,outer_c\n"
		for i, d := range []string{c.first, c.first, c.first, c.second, c.second} {
			text += d + " " + []string{"23:58", "23:59", "23:59", "00:00", "00:01"}[i] + ",20.0,20.0\n"
		}
		res := readText(t, text, Options{})
		if got := strings.Join(res.Reading.Flags, " "); !strings.Contains(got, c.want) {
			t.Errorf("%s: flags %q, want %q", c.first, got, c.want)
		}
	}
}
