package clock

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

func TestHeadingOrder(t *testing.T) {
	for _, c := range []struct {
		heading string
		want    Order
	}{
		{"Date (dd/mm/yyyy)", DMY}, {"Date (MM/DD/YYYY)", MDY}, {"Datum TT.MM.JJJJ", DMY}, {"date jj/mm/aaaa", DMY}, {"Data gg/mm/aaaa", DMY}, {"Timestamp [yyyy-mm-dd hh:mm:ss]", YMD},
		{"Datum (dd-mm-jjjj)", DMY}, {"mm/dd/yy", MDY}, {"Time (hh:mm:ss)", AnyOrder}, {"Date", AnyOrder}, {"", AnyOrder}, {"add/mm/yyyyy", AnyOrder}, {"d m y", DMY},
	} {
		if got := headingOrder(c.heading); got != c.want {
			t.Errorf("%q: %q, want %q", c.heading, got, c.want)
		}
	}
}

// feed reads rows through a plan that was made from the first of them.
func feed(t *testing.T, head string, sample int, rows []string, s Settings) (*Plan, []float64, Outcome) {
	t.Helper()
	d := Detect(rowsOf(head, rows[:min(sample, len(rows))]...), s)
	if d.Best() == nil {
		t.Fatalf("%q is not read as time", rows[0])
	}
	p := d.Best().Plan
	r := p.Reader()
	var secs []float64
	for _, row := range rows {
		sec, st := r.ParseCell([]byte(row))
		if st != OK {
			sec = -1e9
		}
		secs = append(secs, sec)
	}
	return p, secs, r.Finish()
}

// The day after the sample ends an order may turn out wrong: the reader says so, and the second reading is right.
func TestOrderTurnsAfterTheSample(t *testing.T) {
	start := time.Date(2024, 3, 4, 23, 50, 0, 0, time.UTC)
	var rows []string
	for i := range 200 {
		rows = append(rows, start.Add(time.Duration(i)*time.Minute).Format("01/02/2006 15:04:05"))
	}
	p, _, o := feed(t, "Time", 5, rows, Settings{})
	if p.Order() != DMY || !o.Reread || o.Order != MDY {
		t.Fatalf("sample says %q, the column %q, read again: %v; want dmy, mdy, true", p.Order(), o.Order, o.Reread)
	}
	r := o.Plan.Reader()
	for i, row := range rows {
		if sec, st := r.ParseCell([]byte(row)); st != OK || sec != float64(60*i) {
			t.Fatalf("row %d: %v, %v", i, sec, st)
		}
	}
	o2 := r.Finish()
	if o2.Reread || !o2.Start.Equal(start) || o2.Format != "mm/dd/yyyy h:mm:ss" || o2.DateAmbiguous {
		t.Errorf("%+v", o2)
	}
}

// Both orders give the same elapsed times: no second reading, the date is said to be open, both starts are given.
func TestOpenDate(t *testing.T) {
	_, secs, o := feed(t, "Time", 5, []string{"03/04/2024 08:00:00", "03/04/2024 08:00:10", "03/04/2024 08:00:20"}, Settings{})
	if o.Reread || !o.DateAmbiguous || secs[2] != 20 {
		t.Errorf("%v %+v", secs, o)
	}
	if !o.Start.Equal(time.Date(2024, 4, 3, 8, 0, 0, 0, time.UTC)) || !o.AltStart.Equal(time.Date(2024, 3, 4, 8, 0, 0, 0, time.UTC)) {
		t.Errorf("start %v, other start %v", o.Start, o.AltStart)
	}
	if len(o.Questions) != 0 || len(o.Evidence) == 0 {
		t.Errorf("questions %v, evidence %v", o.Questions, o.Evidence)
	}
}

func TestEvenOrderIsAsked(t *testing.T) {
	_, _, o := feed(t, "Time", 9, []string{"01/02/2024 12:00:00", "07/02/2024 12:00:00", "12/02/2024 12:00:00"}, Settings{})
	if len(o.Questions) != 1 || !strings.Contains(o.Questions[0], "--date-order dmy") || !strings.Contains(o.Questions[0], "--date-order mdy") {
		t.Errorf("%+v", o)
	}
}

func TestDaylightSaving(t *testing.T) {
	// The European change of 2024: 31 March 02:00 -> 03:00, 27 October 03:00 -> 02:00 (Directive 2000/84/EC).
	var rows []string
	for i := range 20 {
		wall := time.Date(2024, 10, 27, 2, 58, 0, 0, time.UTC).Add(time.Duration(i) * 10 * time.Second)
		if i >= 12 {
			wall = wall.Add(-time.Hour)
		}
		rows = append(rows, wall.Format("2006-01-02 15:04:05"))
	}
	_, secs, o := feed(t, "Time", 5, rows, Settings{})
	if len(o.DST) != 1 || o.DST[0].Row != 12 || o.DST[0].JumpS != -3590 || o.DST[0].Forward {
		t.Errorf("autumn: %+v", o.DST)
	}
	if secs[12]-secs[11] != -3590 {
		t.Errorf("the step was smoothed: %v", secs)
	}
	rows = nil
	for i := range 20 {
		wall := time.Date(2024, 3, 31, 1, 58, 0, 0, time.UTC).Add(time.Duration(i) * 10 * time.Second)
		if i >= 12 {
			wall = wall.Add(time.Hour)
		}
		rows = append(rows, wall.Format("02.01.2006 15:04:05"))
	}
	if _, _, o = feed(t, "Time", 5, rows, Settings{}); len(o.DST) != 1 || o.DST[0].Row != 12 || o.DST[0].JumpS != 3610 || !o.DST[0].Forward {
		t.Errorf("spring: %+v", o.DST)
	}
	// The same steps in July, at noon, or with offsets in the text are no change of time.
	for _, start := range []time.Time{time.Date(2024, 7, 27, 2, 58, 0, 0, time.UTC), time.Date(2024, 10, 27, 12, 58, 0, 0, time.UTC)} {
		rows = nil
		for i := range 20 {
			d := time.Duration(i) * 10 * time.Second
			if i >= 12 {
				d += time.Hour
			}
			rows = append(rows, start.Add(d).Format("2006-01-02 15:04:05"))
		}
		if _, _, o = feed(t, "Time", 5, rows, Settings{}); len(o.DST) != 0 {
			t.Errorf("%v: %+v", start, o.DST)
		}
	}
	zone := time.FixedZone("", 7200)
	rows = nil
	for i := range 20 {
		d := time.Duration(i) * 10 * time.Second
		if i >= 12 {
			zone = time.FixedZone("", 3600)
		}
		rows = append(rows, time.Date(2024, 10, 27, 0, 58, 0, 0, time.UTC).Add(d).In(zone).Format(time.RFC3339))
	}
	if _, secs, o = feed(t, "Time", 5, rows, Settings{}); len(o.DST) != 0 || secs[19] != 190 || o.Zone != "+02:00, +01:00" || !o.ZoneKnown {
		t.Errorf("%v %+v", secs, o)
	}
}

// A clock without a date runs over many midnights, at any interval.
func TestRollover(t *testing.T) {
	for _, step := range []time.Duration{time.Second * 7, time.Minute, time.Hour, 5 * time.Hour} {
		for _, layout := range []string{"15:04:05", "3:04:05 PM", "03:04:05pm"} {
			start := time.Date(2024, 5, 13, 14, 5, 0, 0, time.UTC)
			var rows []string
			n := int(100*time.Hour/step) + 1
			for i := range n {
				rows = append(rows, start.Add(time.Duration(i)*step).Format(layout))
			}
			_, secs, o := feed(t, "Uhrzeit", 60, rows, Settings{})
			for i := range rows {
				if secs[i] != (time.Duration(i) * step).Seconds() {
					t.Fatalf("%v %s row %d (%s): %v", step, layout, i, rows[i], secs[i])
				}
			}
			if o.Rollovers != 4 || o.TimeOfDayS != 14*3600+300 {
				t.Errorf("%v %s: %+v", step, layout, o)
			}
		}
	}
}

// A sample with rows left out measures no step across the gaps.
func TestBreaks(t *testing.T) {
	var rows []string
	for i := range 30 {
		s := i * 5
		if i >= 15 {
			s += 100000
		}
		rows = append(rows, fmt.Sprintf("%d|20.%d", s, i))
	}
	tb := rowsOf("Time|T (C)", rows...)
	tb.Breaks = []int{15}
	d := Detect(tb, Settings{})
	if d.Best() == nil || strings.Contains(d.Best().Evidence, "15 of") || d.Best().Plan.Kind() != Elapsed {
		t.Errorf("%+v", d.Candidates)
	}
}

// Dates on the two sides of a break say nothing about the order by their distance.
func TestBreakBetweenDates(t *testing.T) {
	tb := rowsOf("Time", "03/04/2024 20:00:00", "03/04/2024 20:00:05", "03/05/2024 08:00:00", "03/05/2024 08:00:05")
	if d := Detect(tb, Settings{}); d.Best().Plan.Order() != MDY {
		t.Errorf("without a break: %q", d.Best().Plan.Order())
	}
	tb.Breaks = []int{2}
	if d := Detect(tb, Settings{}); d.Best().Plan.Order() != DMY {
		t.Errorf("with a break: %q", d.Best().Plan.Order())
	}
}

// A gap of an hour in a log that names its zone is a gap.
func TestZonedGapIsNoChangeOfTime(t *testing.T) {
	var rows []string
	for i := range 20 {
		d := time.Duration(i) * 10 * time.Second
		if i >= 12 {
			d += time.Hour
		}
		rows = append(rows, time.Date(2024, 3, 31, 1, 58, 0, 0, time.UTC).Add(d).Format(time.RFC3339))
	}
	if _, _, o := feed(t, "Time", 5, rows, Settings{}); len(o.DST) != 0 {
		t.Errorf("%+v", o.DST)
	}
}

// What is no time is Bad, before and after good rows.
func TestBadStamps(t *testing.T) {
	for _, kind := range []Kind{DateTime, TimeOfDay} {
		for _, cell := range []string{"2024-05-13 25:00:00", "2024-05-13 24:00:01", "2024-05-13 08:60:00", "2024-05-13 08:36:61", "2024-02-30 08:00:00", "2023-02-29 08:00:00", "2024-13-01 08:00:00", "2024-05-00 08:00:00",
			"0000-00-00 00:00:00", "1601-01-01 00:00:00", "2024-05-13 8:3:00", "2024-05-13 08:36:00 XY", "2024-05-13 13:00:00 AM", "2024-05-13 08:36:00+99:00", "25:00:00", "08:36:61", "8:5", "-08:00:00",
			"13/05/2024/06 08:00:00", "2024-05-13-14 08:00:00", "abc", "2024-05-13 08:36:00 2024-05-14", "08:36:00 08:37:00"} {
			p := &Plan{kind: kind, mode: modeStamp, columns: []int{0}}
			r := p.Reader()
			if _, st := r.ParseCell([]byte(cell)); st != Bad {
				t.Errorf("%v: %q is %v", kind, cell, st)
			}
			good := "2024-05-13 08:36:00"
			if kind == TimeOfDay {
				good = "08:36:00"
			}
			if _, st := r.ParseCell([]byte(good)); st != OK {
				t.Errorf("%q is %v", good, st)
			}
			if _, st := r.ParseCell([]byte(cell)); st != Bad {
				t.Errorf("%v: %q is %v after a good row", kind, cell, st)
			}
		}
	}
}

func TestTwoDigitYears(t *testing.T) {
	for _, c := range []struct{ in, want int }{{0, 2000}, {24, 2024}, {68, 2068}, {69, 1969}, {99, 1999}} { // POSIX, strptime %y
		if got := fullYear(c.in); got != c.want {
			t.Errorf("%d gives %d, want %d", c.in, got, c.want)
		}
	}
}

func TestSnapDays(t *testing.T) {
	for _, c := range []struct {
		text string
		want int64
	}{
		{"0.3583333333", 30960 * second},
		{"0.35833", 30960 * second},
		{"0.1234567", 10666_658_880_000},  // seven digits cannot name a millisecond
		{"0.00000289351852", 250_000_000}, // a quarter of a second
		{"0.3583", 30957_120_000_000},     // four digits name no second
		{"0.358334", 30960_057_600_000},   // off by more than its rounding
		{"0.000000001", 86_400},           // finer than a millisecond
		{"45425.3583333333", 3924750960 * second},
	} {
		n, _ := readDecimal([]byte(c.text), '.')
		ns, _ := n.ns(day)
		if got := snapDays(ns, n.dec); got != c.want {
			t.Errorf("%s gives %d, want %d", c.text, got, c.want)
		}
	}
}

func TestScaleToNs(t *testing.T) {
	for _, c := range []struct {
		m    uint64
		dec  int
		unit int64
		want int64
		ok   bool
	}{
		{15, 10, second, 2, true}, {14, 10, second, 1, true}, {1, 0, day, day, true}, {2107, 2, 1, 21, true}, {2106998109817504883, 17, second, 21069981098, true},
		{1, -3, second, 1000 * second, true}, {1, 40, second, 0, true}, {1 << 63, 0, second, 0, false}, {1, -20, second, 0, false},
	} {
		got, ok := scaleToNs(c.m, c.dec, c.unit)
		if ok != c.ok || ok && got != c.want {
			t.Errorf("%d e-%d of %d ns: %d, %v; want %d, %v", c.m, c.dec, c.unit, got, ok, c.want, c.ok)
		}
	}
}

func TestReadDecimal(t *testing.T) {
	for _, c := range []struct {
		text string
		mark byte
		want float64
		ok   bool
	}{
		{"1,234.5", '.', 1234.5, true}, {"1.234,5", ',', 1234.5, true}, {"1 234", '.', 1234, true}, {"1'234'567", '.', 1234567, true}, {"1\u202f234,5", ',', 1234.5, true},
		{"0,234", '.', 0, false}, {"12,34", '.', 0, false}, {"1234,567", '.', 0, false}, {"1,234'567", '.', 0, false}, {"1.234", ',', 1234, true}, {"1,5", '.', 0, false},
		{"1.5e3", '.', 1500, true}, {"-2", '.', -2, true}, {"+ 2", '.', 2, true}, {"1.2.3", '.', 0, false}, {"", '.', 0, false}, {"-", '.', 0, false}, {"e5", '.', 0, false}, {"12345678901234567890123", '.', 12345678901234567890123, true},
	} {
		n, ok := readDecimal([]byte(c.text), c.mark)
		if ok != c.ok || ok && abs64(n.float()-c.want) > 1e-12*abs64(c.want) {
			t.Errorf("%q, %q: %v, %v; want %v, %v", c.text, c.mark, n.float(), ok, c.want, c.ok)
		}
	}
}

// A sample number tells no time of its own, and a column of milliseconds is no second clock.
func TestNoSecondClock(t *testing.T) {
	_, _, _, o := readAll(t, rowsOf("No.|T", "7|20", "8|21", "9|22"), Settings{IntervalS: 5})
	if o.Kind != Index || o.OffsetS != 0 {
		t.Errorf("%+v", o)
	}
	d := Detect(rowsOf("Date|Time|ms|T", "13.05.2024|08:36:00|0|20", "13.05.2024|08:36:00|250|21", "13.05.2024|08:36:00|500|22", "13.05.2024|08:36:00|750|22"), Settings{})
	for _, c := range d.Candidates[1:] {
		if len(c.Plan.Columns()) == 1 && c.Plan.Columns()[0] == 2 {
			t.Errorf("the milliseconds are offered as a clock: %+v", c)
		}
	}
	if len(d.Questions) > 0 {
		t.Error(d.Questions)
	}
}

// Dates that fit no order: the second reading is the last.
func TestRereadEnds(t *testing.T) {
	tb := rowsOf("When", "03/1 05:36:00", "/2024 08:33:00", "24/04/2000", "03/1 05:36:00", "03/13/24")
	for _, s := range []Settings{{}, {Decimal: ',', Columns: []int{0}}} {
		readAll(t, tb, s)
	}
}

// Dated points to the column that names the date when the best clock does not.
func TestDated(t *testing.T) {
	d := Detect(rowsOf("Date/Time|Time (s)", "2024-05-13 08:36|0", "2024-05-13 08:36|10", "2024-05-13 08:36|20", "2024-05-13 08:36|30", "2024-05-13 08:36|40", "2024-05-13 08:37|60"), Settings{})
	if d.Best() == nil || d.Best().Plan.Kind() != Elapsed || d.Dated != 1 || d.Candidates[1].Plan.Kind() != DateTime {
		t.Errorf("%+v", d)
	}
}
