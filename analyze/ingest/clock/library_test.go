package clock

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// The layouts that are held against Go's time package, which reads and writes them independently.
var layouts = []struct {
	layout string
	order  Order // needed where day and month are numbers
	unit   time.Duration
}{
	{"2006-01-02T15:04:05Z07:00", AnyOrder, time.Second},
	{"2006-01-02T15:04:05.000Z07:00", AnyOrder, time.Millisecond},
	{"2006-01-02T15:04:05.000000000Z07:00", AnyOrder, time.Nanosecond},
	{"2006-01-02 15:04:05 -0700", AnyOrder, time.Second},
	{"2006-01-02T15:04:05-07", AnyOrder, time.Second},
	{"2006-01-02 15:04:05", AnyOrder, time.Second},
	{"2006-01-02 15:04:05,000", AnyOrder, time.Millisecond},
	{"2006-01-02 15:04:05.0", AnyOrder, 100 * time.Millisecond},
	{"2006-01-02 15:04", AnyOrder, time.Minute},
	{"2006/01/02 15:04:05", AnyOrder, time.Second},
	{"2006/1/2 15:04:05", AnyOrder, time.Second},
	{"2006.01.02 15:04:05", AnyOrder, time.Second},
	{"20060102T150405", AnyOrder, time.Second},
	{"20060102T150405Z0700", AnyOrder, time.Second},
	{"20060102150405", AnyOrder, time.Second},
	{"20060102150405-0700", AnyOrder, time.Second},
	{"20060102T150405.000Z", AnyOrder, time.Millisecond},
	{"20060102 150405", AnyOrder, time.Second},
	{"200601021504", AnyOrder, time.Minute},
	{"02.01.2006 15:04:05", DMY, time.Second},
	{"2.1.2006 15:04:05", DMY, time.Second},
	{"02/01/2006 15:04:05", DMY, time.Second},
	{"02/01/2006 15:04:05.000", DMY, time.Millisecond},
	{"02-01-2006 15:04:05", DMY, time.Second},
	{"02-01-06 15:04:05", DMY, time.Second},
	{"02/01/06 15:04", DMY, time.Minute},
	{"02.01.06, 15:04:05", DMY, time.Second},
	{"15:04:05 02.01.2006", DMY, time.Second},
	{"15:04 02/01/2006", DMY, time.Minute},
	{"02/01/2006 3:04:05 pm", DMY, time.Second},
	{"01/02/2006 15:04:05", MDY, time.Second},
	{"1/2/2006 3:04:05 PM", MDY, time.Second},
	{"1/2/06 3:04 PM", MDY, time.Minute},
	{"01-02-2006 03:04:05PM", MDY, time.Second},
	{"06-01-02 15:04:05", YMD, time.Second},
	{"06/01/02 15:04:05", YMD, time.Second},
	{"060102 15:04:05", YMD, time.Second},
	{"02-Jan-2006 15:04:05", AnyOrder, time.Second},
	{"02-Jan-06 3:04:05 PM", AnyOrder, time.Second},
	{"2 January 2006 15:04:05", AnyOrder, time.Second},
	{"January 2, 2006 3:04:05 PM", AnyOrder, time.Second},
	{"Monday, 02-Jan-06 15:04:05", AnyOrder, time.Second},
	{"Mon, 02 Jan 2006 15:04:05 -0700", AnyOrder, time.Second},
	{"Mon Jan _2 15:04:05 2006", AnyOrder, time.Second},
	{"15:04:05 02/Jan/2006", AnyOrder, time.Second},
	{"2006-Jan-02 15:04:05.00", AnyOrder, 10 * time.Millisecond},
}

// Every instant that the library writes comes back: same instant, by the slow way and by the quick one.
func TestAgainstLibrary(t *testing.T) {
	n := 3000
	if raceEnabled || testing.Short() {
		n = 200
	}
	zones := []*time.Location{time.UTC, time.FixedZone("", 2*3600), time.FixedZone("", -(4*3600 + 1800)), time.FixedZone("", 14*3600)}
	for _, l := range layouts {
		t.Run(l.layout, func(t *testing.T) {
			rnd := rand.New(rand.NewPCG(3, uint64(len(l.layout))))
			zoned := strings.Contains(l.layout, "07")
			p := &Plan{kind: DateTime, mode: modeStamp, columns: []int{0}, decimal: '.', settings: Settings{Order: l.order}}
			if k := orderIndex(l.order); k >= 0 {
				p.choice = k
			}
			r := p.Reader()
			var first, now time.Time
			for i := range n {
				zone := time.UTC
				if zoned {
					zone = zones[rnd.IntN(len(zones))]
				}
				switch {
				case i == 0 || rnd.IntN(5) == 0: // anywhere between 1970 and 2068
					now = time.Unix(rnd.Int64N(3_100_000_000), rnd.Int64N(1e9))
				case rnd.IntN(3) == 0:
					now = now.Add(time.Duration(rnd.Int64N(int64(12 * time.Hour))))
				default:
					now = now.Add(time.Duration(rnd.Int64N(int64(10 * time.Second))))
				}
				text := now.In(zone).Format(l.layout)
				want, err := time.Parse(l.layout, text)
				if err != nil {
					t.Fatal(err)
				}
				if i == 0 {
					first = want
				}
				got, st := r.ParseCell([]byte(text))
				if st != OK {
					t.Fatalf("row %d: %q is bad", i, text)
				}
				if exact := float64(want.Unix()-first.Unix()) + float64(want.Nanosecond()-first.Nanosecond())/1e9; abs64(got-exact) > 1e-6 {
					t.Fatalf("row %d: %q gives %v s, the library %v s", i, text, got, exact)
				}
				if r.last != want.UnixNano() {
					t.Fatalf("row %d: %q gives %v, the library %v", i, text, time.Unix(0, r.last).UTC(), want.UTC())
				}
			}
			if o := r.Finish(); !o.Start.Equal(first) || o.Rows != n {
				t.Errorf("start %v, %d rows; want %v, %d", o.Start, o.Rows, first, n)
			}
		})
	}
}

func abs64(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// What the quick way reads is what the slow way reads, row by row, on columns that change their form in the middle.
func TestQuickIsSlow(t *testing.T) {
	n := 20000
	if raceEnabled || testing.Short() {
		n = 1000
	}
	rnd := rand.New(rand.NewPCG(5, 5))
	for _, kind := range []Kind{DateTime, TimeOfDay, Elapsed} {
		for _, choice := range []int{dmy, mdy} {
			p := &Plan{kind: kind, mode: modeStamp, columns: []int{0}, decimal: '.', choice: choice}
			quick := p.Reader()
			for range n {
				cell := []byte(randomStamp(rnd, kind))
				slow := p.Reader()
				quick.yearCarry, quick.hasDate = 0, false // years that pass between rows without a year
				ns1, st1 := quick.stamp(cell)
				ns2, st2 := slow.stamp(cell)
				if st1 != st2 || st1 == OK && ns1 != ns2 {
					t.Fatalf("%v: %q gives %v, %v after other rows and %v, %v alone", kind, cell, ns1, st1, ns2, st2)
				}
			}
		}
	}
}

func randomStamp(rnd *rand.Rand, kind Kind) string {
	dates := []string{"2024-05-13", "13/05/2024", "05/06/2024", "5/6/2024", "13.05.24", "13-May-2024", "May 13, 2024", "Mon, 13 May 2024", "20240513", "2024年5月13日", ""}
	times := []string{"8:36", "08:36", "08:36:00", "8:36:59.5", "12:00:00", "0:00:00", "23:59:59,999", "24:00:00", "12:36:00:250", "99:10:00", "7:60:00", "7:05:61", "1234:05:06", "083600", "-0:01:00", "1.02:03:04"}
	tails := []string{"", "", "", " AM", " PM", "pm", " p. m.", "Z", " UTC", "+02:00", " -0400", " CET", ".", ",", " x", " nachm."}
	seps := []string{" ", "T", ", ", "  ", "\u00a0", "_", "-", ":"}
	pick := func(s []string) string { return s[rnd.IntN(len(s))] }
	date := ""
	if kind == DateTime {
		date = pick(dates)
	}
	tail := pick(tails)
	if kind == Elapsed {
		tail = ""
	}
	switch rnd.IntN(4) {
	case 0:
		return pick(times) + tail + pick(seps) + date
	case 1:
		return date
	}
	if date == "" {
		return pick(times) + tail
	}
	return date + pick(seps) + pick(times) + tail
}

// Seconds since the first row keep a millisecond over centuries, and a microsecond in Unix counts.
func TestSecondsAreExact(t *testing.T) {
	p := &Plan{kind: DateTime, mode: modeStamp, columns: []int{0}}
	r := p.Reader()
	for _, c := range []struct {
		text string
		want float64
	}{
		{"1970-01-01 00:00:00.001", 0},
		{"1970-01-01 00:00:00.002", 0.001},
		{"1970-04-01 00:00:00.002", 7776000.001},
		{"2069-12-31 23:59:59.999", 3155759999.998},
	} {
		if got, st := r.ParseCell([]byte(c.text)); st != OK || got != c.want {
			t.Errorf("%s: %v, %v; want %v", c.text, got, st, c.want)
		}
	}
	q := &Plan{kind: Unix, mode: modeNumber, columns: []int{0}, decimal: '.', epochSec: 0}
	q.setUnit(1e3)
	r = q.Reader()
	for i := range 1000 {
		got, st := r.ParseCell([]byte(fmt.Sprint(1715589360000000 + int64(i)*100_001)))
		if want := float64(int64(i)*100_001) / 1e6; st != OK || got != want {
			t.Fatalf("%d: %v, want %v", i, got, want)
		}
	}
}

// A decimal count of seconds, milliseconds, minutes comes back as the exact decimal it is.
func TestElapsedIsExact(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 9))
	for range 20000 {
		dec := rnd.IntN(10)
		v := rnd.Int64N(1e15)
		text := fmt.Sprintf("%d", v)
		if dec > 0 {
			text = fmt.Sprintf("%d.%0*d", v/int64(pow10[dec]), dec, v%int64(pow10[dec]))
		}
		p := &Plan{kind: Elapsed, mode: modeNumber, columns: []int{0}, decimal: '.', epochSec: noEpoch}
		p.setUnit(second)
		ns, st := p.Reader().number([]byte(text))
		exact := float64(v) * 1e9 / float64(pow10[dec])
		if exact > maxNs {
			if st != Bad {
				t.Fatalf("%s: %d is beyond what a log can hold", text, ns)
			}
			continue
		}
		slow, st2 := p.Reader().slowNumber([]byte(text))
		if st != OK || st2 != OK || ns != slow || ns != v*int64(pow10[9-dec]) {
			t.Fatalf("%s: %d, %d, %v; want %d", text, ns, slow, st, v*int64(pow10[9-dec]))
		}
	}
}

// The days of the calendar against the library, every day from 1900 to 2114.
func TestCalendar(t *testing.T) {
	for d := time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() <= lastYear; d = d.AddDate(0, 0, 1) {
		y, m, dd := d.Date()
		if got := daysFromCivil(y, int(m), dd); got != d.Unix()/86400 && !(d.Unix() < 0 && got*86400 == d.Unix()) {
			t.Fatalf("%v: %d", d, got)
		}
		if !validDate(y, int(m), dd) {
			t.Fatalf("%v does not exist", d)
		}
		for _, no := range []int{0, 32} {
			if validDate(y, int(m), no) {
				t.Fatalf("day %d exists", no)
			}
		}
		if last := d.AddDate(0, 0, 1); last.Month() != m && validDate(y, int(m), dd+1) {
			t.Fatalf("%d-%d-%d exists", y, m, dd+1)
		}
	}
}

func TestParseDoesNotAllocate(t *testing.T) {
	if raceEnabled {
		t.Skip("the race detector allocates")
	}
	for _, col := range [][]string{
		{"2024-05-13T08:36:00Z", "2024-05-13T08:36:01Z"},
		{"13.05.2024 08:36:00", "14.05.2024 08:36:01"},
		{"1/2/2024 8:36:00 AM", "1/2/2024 8:36:01 PM"},
		{"0:00:01", "0:00:02.5"},
		{"0.5", "1.0"},
		{"2.106998109817504883e+01", "2.4e+01"},
		{"1715589360000", "1715589360125"},
	} {
		tb := rowsOf("Time", col...)
		p := Detect(tb, Settings{}).Candidates[0].Plan
		r := p.Reader()
		cells := make([][]byte, 1)
		if n := testing.AllocsPerRun(50, func() {
			for _, row := range tb.Rows {
				cells[0] = row[0]
				r.Parse(cells)
				r.ParseCell(bytes.TrimSpace(row[0]))
			}
		}); n > 0 {
			t.Errorf("%v: %v allocations", col, n)
		}
	}
}
