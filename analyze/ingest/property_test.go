package ingest

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"

	"ringheat/analyze/quantity"
)

// dialectOf is one way to write the same log.
type dialectOf struct {
	delim, decimal, quote, ends, encoding, clock, unit, order string
	preamble                                                  bool
}

// writeLog writes readings (°C, in tenths) a second apart.
func writeLog(d dialectOf, inner, outer []int) []byte {
	var b strings.Builder
	line := func(cells ...string) {
		for i, c := range cells {
			if i > 0 {
				b.WriteString(d.delim)
			}
			if d.quote != "" || d.decimal == "," && d.delim == "," && strings.Contains(c, ",") {
				c = `"` + c + `"`
			}
			b.WriteString(c)
		}
		b.WriteString(d.ends)
	}
	if d.preamble {
		b.WriteString("Logger: 7" + d.ends + "Operator: nobody" + d.ends + d.ends)
	}
	unit := map[string]string{"C": "°C", "F": "°F", "K": "K"}[d.unit]
	names := []string{"time", "inner [" + unit + "]", "outer [" + unit + "]"}
	if d.delim == " " {
		names = []string{"time", "inner_" + d.unit, "outer_" + d.unit}
	}
	if d.order == "mixed" {
		names[1], names[2] = names[2], names[1]
	}
	line(names...)
	start := time.Date(2026, 3, 29, 23, 58, 0, 0, time.UTC)
	number := func(tenths int) string {
		var s string
		switch d.unit {
		case "F":
			s = fmt.Sprintf("%.2f", float64(tenths)/10*1.8+32)
		case "K":
			s = fmt.Sprintf("%.2f", float64(tenths)/10+273.15)
		default:
			s = fmt.Sprintf("%.1f", float64(tenths)/10)
		}
		return strings.ReplaceAll(s, ".", d.decimal)
	}
	for i := range inner {
		var t string
		at := start.Add(time.Duration(i) * time.Second)
		switch d.clock {
		case "elapsed":
			t = fmt.Sprintf("%d", i)
		case "hms":
			t = fmt.Sprintf("%d:%02d:%02d", i/3600, i/60%60, i%60)
		case "iso":
			t = at.Format("2006-01-02T15:04:05")
		case "iso blank":
			t = at.Format("2006-01-02 15:04:05")
		case "dmy":
			t = at.Format("02.01.2006 15:04:05")
		case "mdy":
			t = at.Format("01/02/2006 03:04:05 PM")
		case "unix":
			t = fmt.Sprint(at.Unix())
		}
		cells := []string{t, number(inner[i]), number(outer[i])}
		if d.order == "mixed" {
			cells[1], cells[2] = cells[2], cells[1]
		}
		line(cells...)
	}
	out := b.String()
	switch d.encoding {
	case "utf-8 bom":
		out = "\ufeff" + out
	case "utf-16le":
		out, _ = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(out)
	case "utf-16be bare":
		out, _ = unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM).NewEncoder().String(out)
	case "windows-1252":
		out, _ = charmap.Windows1252.NewEncoder().String(out)
	}
	return []byte(out)
}

func drawDialect(t *rapid.T) dialectOf {
	d := dialectOf{
		delim:    rapid.SampledFrom([]string{",", ";", "\t", "|", " "}).Draw(t, "delim"),
		decimal:  rapid.SampledFrom([]string{".", ","}).Draw(t, "decimal"),
		quote:    rapid.SampledFrom([]string{"", `"`}).Draw(t, "quote"),
		ends:     rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(t, "ends"),
		encoding: rapid.SampledFrom([]string{"utf-8", "utf-8 bom", "utf-16le", "utf-16be bare", "windows-1252"}).Draw(t, "encoding"),
		clock:    rapid.SampledFrom([]string{"elapsed", "hms", "iso", "iso blank", "dmy", "mdy", "unix"}).Draw(t, "clock"),
		unit:     rapid.SampledFrom([]string{"C", "F", "K"}).Draw(t, "unit"),
		order:    rapid.SampledFrom([]string{"", "mixed"}).Draw(t, "order"),
		preamble: rapid.Bool().Draw(t, "preamble"),
	}
	return d
}

func drawRise(t *rapid.T) (inner, outer []int) {
	n := rapid.IntRange(30, 200).Draw(t, "rows")
	start := rapid.IntRange(150, 280).Draw(t, "start")
	rise := rapid.Float64Range(300, 1200).Draw(t, "rise")
	tau := rapid.Float64Range(20, 300).Draw(t, "tau")
	for i := range n {
		inner = append(inner, start+int(rise*(1-math.Exp(-float64(i)/tau))))
		outer = append(outer, start+int(0.8*rise*(1-math.Exp(-float64(i)/tau/1.3))))
	}
	return inner, outer
}

// Whatever the dialect, the series is the same.
func TestTranscodingGivesTheSameSeries(t *testing.T) {
	var r Reader
	rapid.Check(t, func(t *rapid.T) {
		inner, outer := drawRise(t)
		d := drawDialect(t)
		log := writeLog(d, inner, outer)
		res, err := r.Read("log", bytes.NewReader(log), Options{})
		if err != nil {
			t.Fatalf("%+v: %v\n%s", d, err, log[:min(300, len(log))])
		}
		l := res.Log
		if l.Len() != len(inner) || len(l.Channels) != 2 || l.ProblemCount != 0 {
			t.Fatalf("%+v: %d of %d rows, %d channels, problems %v\n%s", d, l.Len(), len(inner), len(l.Channels), l.Problems, log[:min(300, len(log))])
		}
		for i := range inner {
			if math.Abs(l.TimeS[i]-float64(i)) > 1e-6 {
				t.Fatalf("%+v: row %d at %v s", d, i, l.TimeS[i])
			}
		}
		for k := range l.Channels {
			c := &l.Channels[k]
			want := inner
			if c.Role.String() == "outer" {
				want = outer
			} else if c.Role.String() != "inner" {
				t.Fatalf("%+v: role %q", d, c.Role)
			}
			if c.Unit.Letter() != d.unit {
				t.Fatalf("%+v: unit %s", d, c.Unit)
			}
			for i, w := range want {
				tol := 1e-9
				if d.unit == "F" {
					tol = 0.005 / 1.8 * 1.001
				}
				if math.Abs(c.C[i]-float64(w)/10) > tol {
					t.Fatalf("%+v: %s row %d: %v, want %v", d, c.Role, i, c.C[i], float64(w)/10)
				}
			}
		}
	})
}

// °C to °F and back stays within the last digit that was written.
func TestFahrenheitAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-50, 500).Draw(t, "c")
		tenth := math.Round(c*10) / 10
		f := math.Round((tenth*1.8+32)*100) / 100
		if back := float64(quantity.DegreeFahrenheit.Convert(f)); math.Abs(back-tenth) > 0.005/1.8+1e-9 {
			t.Fatalf("%v °C is %v °F is %v °C", tenth, f, back)
		}
	})
}

// A byte changed anywhere never changes more than its own cell without a word: the other values stay, or the
// line, the clock event or the reading says that something is odd.
func TestByteFlipIsNeverSilent(t *testing.T) {
	var r, r2 Reader
	rapid.Check(t, func(t *rapid.T) {
		inner, outer := drawRise(t)
		d := drawDialect(t)
		if d.encoding != "utf-8" && d.encoding != "utf-8 bom" {
			d.encoding = "utf-8"
		}
		log := writeLog(d, inner, outer)
		whole, err := r.Read("log", bytes.NewReader(log), Options{})
		if err != nil {
			t.Fatal(err)
		}
		// Only in the rows: a changed heading is a changed statement about the whole column.
		first := int(whole.Log.Lines[0])
		lines := bytes.SplitAfter(log, []byte(d.ends[len(d.ends)-1:]))
		from := 0
		for _, l := range lines[:first] { // leave the first row, the clock's zero, alone as well
			from += len(l)
		}
		at := rapid.IntRange(from, len(log)-1).Draw(t, "at")
		with := rapid.Byte().Draw(t, "with")
		bad := bytes.Clone(log)
		bad[at] = with
		res, err := r2.Read("log", bytes.NewReader(bad), Options{})
		if err != nil {
			return // said
		}
		a, b := whole.Log, res.Log
		if b.ProblemCount > 0 || len(b.Clock.Events) > 0 || len(res.Reading.Questions) > len(whole.Reading.Questions) || len(b.Channels) != len(a.Channels) {
			return // said
		}
		if b.Len() != a.Len() {
			t.Fatalf("%+v: byte %d set to %q: %d rows became %d without a word", d, at, with, a.Len(), b.Len())
		}
		changed := 0
		for i := range a.TimeS {
			if a.TimeS[i] != b.TimeS[i] {
				changed++
			}
			for k := range a.Channels {
				x, y := a.Channels[k].C[i], b.Channels[k].C[i]
				if x != y && (x == x || y == y) {
					changed++
				}
			}
		}
		if changed > 1 {
			t.Fatalf("%+v: byte %d set to %q changed %d cells without a word", d, at, with, changed)
		}
	})
}
