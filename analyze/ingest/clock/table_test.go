package clock

import (
	"math"
	"strings"
	"testing"
	"time"
)

// rowsOf cuts lines at '|' into a table; the first line is the header unless it is "".
func rowsOf(header string, lines ...string) Table {
	var t Table
	if header != "" {
		t.Headed = true
		for _, h := range strings.Split(header, "|") {
			name, unit, _ := strings.Cut(h, "~")
			t.Columns = append(t.Columns, Column{Heading: name, Unit: unit})
		}
	}
	for _, l := range lines {
		var cells [][]byte
		for _, c := range strings.Split(l, "|") {
			cells = append(cells, trim([]byte(c)))
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// readAll reads every row through the best candidate, again when the reader asks for it.
func readAll(t *testing.T, tb Table, s Settings) (Detection, []float64, []Status, Outcome) {
	t.Helper()
	d := Detect(tb, s)
	b := d.Best()
	if b == nil {
		return d, nil, nil, Outcome{}
	}
	p := b.Plan
	for range 3 {
		r := p.Reader()
		var secs []float64
		var sts []Status
		for _, row := range tb.Rows {
			cells := make([][]byte, 0, 8)
			for _, c := range p.Columns() {
				if c < len(row) {
					cells = append(cells, row[c])
				} else {
					cells = append(cells, nil)
				}
			}
			sec, st := r.Parse(cells)
			secs, sts = append(secs, sec), append(sts, st)
		}
		o := r.Finish()
		if !o.Reread {
			return d, secs, sts, o
		}
		p = o.Plan
	}
	t.Fatal("the reader asks for a third reading")
	return d, nil, nil, Outcome{}
}

type columnCase struct {
	name     string
	header   string
	rows     []string
	settings Settings
	kind     Kind
	columns  []int // nil: {0}
	seconds  []float64
	start    string // RFC 3339, "" for no date
	asks     bool
	even     bool // date ambiguous
}

func TestColumns(t *testing.T) {
	iso := "2024-05-13T08:36:00Z"
	for _, c := range []columnCase{
		// ISO 8601
		{name: "iso", header: "Time", rows: []string{"2024-05-13 08:36:00", "2024-05-13 08:36:05", "2024-05-14 08:36:00"}, kind: DateTime, seconds: []float64{0, 5, 86400}, start: iso},
		{name: "iso T Z", header: "Time", rows: []string{"2024-05-13T08:36:00Z", "2024-05-13T08:36:05Z"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "iso fraction", header: "Time", rows: []string{"2024-05-13T08:36:00.000Z", "2024-05-13T08:36:00.125Z"}, kind: DateTime, seconds: []float64{0, 0.125}, start: iso},
		{name: "iso comma fraction", header: "Time", rows: []string{"2024-05-13 08:36:00,000", "2024-05-13 08:36:00,125"}, kind: DateTime, seconds: []float64{0, 0.125}, start: iso},
		{name: "iso offset", header: "Time", rows: []string{"2024-05-13T08:36:00+02:00", "2024-05-13T08:36:05+02:00"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T06:36:00Z"},
		{name: "iso offset glued", header: "Time", rows: []string{"2024-05-13T08:36:00-0430", "2024-05-13T08:36:05-0430"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T13:06:00Z"},
		{name: "iso short offset", header: "Time", rows: []string{"2024-05-13 08:36:00+02", "2024-05-13 08:36:05+02"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T06:36:00Z"},
		{name: "iso offset and area", header: "Time", rows: []string{"2024-05-13T08:36:00+02:00[Europe/Somewhere]", "2024-05-13T08:36:05+02:00[Europe/Somewhere]"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T06:36:00Z"},
		{name: "offset changes within the log", header: "Time", rows: []string{"2024-10-27T02:59:55+02:00", "2024-10-27T02:00:00+01:00", "2024-10-27T02:00:05+01:00"}, kind: DateTime, seconds: []float64{0, 5, 10}, start: "2024-10-27T00:59:55Z"},
		{name: "zone by name changes", header: "Time", rows: []string{"27.10.2024 02:59:55 CEST", "27.10.2024 02:00:00 CET", "27.10.2024 02:00:05 CET"}, kind: DateTime, seconds: []float64{0, 5, 10}, start: "2024-10-27T00:59:55Z"},
		{name: "UTC behind", header: "Time", rows: []string{"2024-05-13 08:36:00 UTC", "2024-05-13 08:36:05 UTC"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "UTC with offset", header: "Time", rows: []string{"2024-05-13 08:36:00 UTC+02:00", "2024-05-13 08:36:05 UTC+02:00"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T06:36:00Z"},
		{name: "bracketed offset", header: "Time", rows: []string{"2024-05-13 08:36:00 (GMT+2)", "2024-05-13 08:36:05 (GMT+2)"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T06:36:00Z"},
		{name: "iso without seconds", header: "Time", rows: []string{"2024-05-13 08:36", "2024-05-13 08:37"}, kind: DateTime, seconds: []float64{0, 60}, start: iso},
		{name: "iso glued", header: "Time", rows: []string{"20240513T083600", "20240513T083605"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "iso glued Z", header: "Time", rows: []string{"20240513T083600Z", "20240513T083605Z"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "fourteen digits", header: "Time", rows: []string{"20240513083600", "20240513083605"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "fourteen digits without a heading", header: "", rows: []string{"20240513083600", "20240513083605"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "hyphens all through", header: "Time", rows: []string{"2024-05-13 08-36-00", "2024-05-13 08-36-05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "underscore", header: "Time", rows: []string{"2024-05-13_08:36:00", "2024-05-13_08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "milliseconds behind a colon", header: "Time", rows: []string{"2024-05-13 08:36:00:000", "2024-05-13 08:36:00:250"}, kind: DateTime, seconds: []float64{0, 0.25}, start: iso},
		{name: "yyyy/mm/dd", header: "Time", rows: []string{"2024/05/13 08:36:00", "2024/05/13 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "yyyy.mm.dd", header: "Time", rows: []string{"2024.05.13 08:36:00", "2024.05.13 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "east Asian", header: "Time", rows: []string{"2024年5月13日 08:36:00", "2024年5月13日 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		// day and month first
		{name: "dd/mm by value", header: "Time", rows: []string{"13/05/2024 08:36:00", "13/05/2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "mm/dd by value", header: "Time", rows: []string{"05/13/2024 08:36:00", "05/13/2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "dots are day first", header: "Time", rows: []string{"03.05.2024 08:36:00", "03.05.2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-03T08:36:00Z"},
		{name: "dots and blanks", header: "Time", rows: []string{"3. 5. 2024 8:36:00", "3. 5. 2024 8:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-03T08:36:00Z"},
		{name: "dots in date and time", header: "Time", rows: []string{"13.05.2024 08.36.00", "13.05.2024 08.36.05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "Uhr", header: "Zeit", rows: []string{"13.05.2024, 08:36:00 Uhr", "13.05.2024, 08:36:05 Uhr"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "one even date: same elapsed times", header: "Time", rows: []string{"03/04/2024 08:36:00", "03/04/2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-04-03T08:36:00Z", even: true},
		{name: "even date with AM leans to mm/dd", header: "Time", rows: []string{"3/4/2024 8:36:00 AM", "3/4/2024 8:36:05 AM"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-03-04T08:36:00Z", even: true},
		{name: "even date pinned", header: "Time", rows: []string{"03/04/2024 08:36:00", "03/04/2024 08:36:05"}, settings: Settings{Order: MDY}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-03-04T08:36:00Z"},
		{name: "even date by neighbours", header: "Time", rows: []string{"03/04/2024 08:36:00", "03/04/2024 08:36:05"}, settings: Settings{NeighbourOrder: MDY}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-03-04T08:36:00Z"},
		{name: "even date by the preamble", header: "Time", rows: []string{"03/04/2024 08:36:00", "03/04/2024 08:36:05"}, settings: Settings{PreambleStart: time.Date(2024, 3, 4, 8, 36, 0, 0, time.UTC)}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-03-04T08:36:00Z"},
		{name: "even date by its heading", header: "Date (mm/dd/yyyy)|Time|T", rows: []string{"03/04/2024|08:36:00|20.1", "03/04/2024|08:36:05|20.2"}, kind: DateTime, columns: []int{0, 1}, seconds: []float64{0, 5}, start: "2024-03-04T08:36:00Z"},
		{name: "a heading that the dates belie", header: "Date (mm/dd/yyyy)", rows: []string{"13/05/2024 08:36:00", "13/05/2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "midnight settles mm/dd", header: "Time", rows: []string{"03/04/2024 23:59:50", "03/04/2024 23:59:55", "03/05/2024 00:00:00", "03/05/2024 00:00:05"}, kind: DateTime, seconds: []float64{0, 5, 10, 15}, start: "2024-03-04T23:59:50Z"},
		{name: "midnight settles dd/mm", header: "Time", rows: []string{"03/04/2024 23:59:50", "03/04/2024 23:59:55", "04/04/2024 00:00:00", "04/04/2024 00:00:05"}, kind: DateTime, seconds: []float64{0, 5, 10, 15}, start: "2024-04-03T23:59:50Z"},
		{name: "a night's gap settles it", header: "Time", rows: []string{"03/04/2024 16:00:00", "03/04/2024 16:00:05", "04/04/2024 07:00:00", "04/04/2024 07:00:05"}, kind: DateTime, seconds: []float64{0, 5, 54000, 54005}, start: "2024-04-03T16:00:00Z"},
		{name: "monotony settles it", header: "Time", rows: []string{"01/02/2024 12:00:00", "12/02/2024 12:00:00", "01/03/2024 12:00:00"}, kind: DateTime, seconds: []float64{0, 11 * 86400, 29 * 86400}, start: "2024-02-01T12:00:00Z"},
		{name: "two rows a day apart are even", header: "Time", rows: []string{"01/02/2024 12:00:00", "02/02/2024 12:00:00"}, kind: DateTime, seconds: []float64{0, 86400}, start: "2024-02-01T12:00:00Z", asks: true},
		{name: "one row a day settles it", header: "Time", rows: []string{"01/02/2024 12:00:00", "02/02/2024 12:00:00", "03/02/2024 12:00:00"}, kind: DateTime, seconds: []float64{0, 86400, 172800}, start: "2024-02-01T12:00:00Z"},
		{name: "a weekend's gap alone is even", header: "Time", rows: []string{"07/06/2024 16:00:00", "07/06/2024 16:00:05", "10/06/2024 07:00:00", "10/06/2024 07:00:05"}, kind: DateTime, start: "2024-06-07T16:00:00Z", asks: true},
		{name: "one row a month is even", header: "Time", rows: []string{"01/02/2024 12:00:00", "07/02/2024 12:00:00", "12/02/2024 12:00:00"}, kind: DateTime, seconds: []float64{0, 6 * 86400, 11 * 86400}, start: "2024-02-01T12:00:00Z", asks: true},
		{name: "a late day overturns the first guess", header: "Time", rows: append(repeat(40, "03/04/2024 08:36:", 0), "03/13/2024 08:36:00"), kind: DateTime, start: "2024-03-04T08:36:00Z"},
		{name: "two-digit years", header: "Time", rows: []string{"13/05/24 08:36:00", "13/05/24 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "two-digit years with dots", header: "Time", rows: []string{"13.05.24 08:36:00", "13.05.24 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "yy-mm-dd by value", header: "Time", rows: []string{"24-05-13 08:36:00", "24-05-13 08:36:05", "24-05-14 08:36:00"}, kind: DateTime, seconds: []float64{0, 5, 86400}, start: iso},
		{name: "dd-mm-yy", header: "Time", rows: []string{"31-12-24 23:59:55", "01-01-25 00:00:00"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-12-31T23:59:55Z"},
		// names of months
		{name: "English", header: "Time", rows: []string{"13-May-24 08:36:00", "13-May-24 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "English, month first", header: "Time", rows: []string{"May 13, 2024 8:36:00 AM", "May 13, 2024 8:36:05 AM"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "English, ordinal and weekday", header: "Time", rows: []string{"Monday, 13th May 2024 08:36:00", "Monday, 13th May 2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "C library's form", header: "Time", rows: []string{"Mon May 13 08:36:00 2024", "Mon May 13 08:36:05 2024"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "C library's form with zone", header: "Time", rows: []string{"Mon May 13 08:36:00 UTC 2024", "Mon May 13 08:36:05 UTC 2024"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "mail", header: "Time", rows: []string{"Mon, 13 May 2024 08:36:00 +0200", "Mon, 13 May 2024 08:36:05 +0200"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T06:36:00Z"},
		{name: "German", header: "Zeit", rows: []string{"Mo, 13. März 2024 08:36:00", "Mo, 13. März 2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-03-13T08:36:00Z"},
		{name: "German, cut", header: "Zeit", rows: []string{"13. Dez. 2024 08:36:00", "13. Dez. 2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-12-13T08:36:00Z"},
		{name: "French", header: "Temps", rows: []string{"lundi 13 août 2024 08:36:00", "lundi 13 août 2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-08-13T08:36:00Z"},
		{name: "French Tuesday in March", header: "Temps", rows: []string{"mar. 13 mars 2024 08:36:00", "mar. 13 mars 2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-03-13T08:36:00Z"},
		{name: "French first", header: "Temps", rows: []string{"1er févr. 2024 08:36:00", "1er févr. 2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-02-01T08:36:00Z"},
		{name: "Spanish", header: "Fecha", rows: []string{"13 de enero de 2024 8:36:00 a. m.", "13 de enero de 2024 8:36:05 a. m."}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-01-13T08:36:00Z"},
		{name: "Italian", header: "Data", rows: []string{"13 gennaio 2024 08:36:00", "13 gennaio 2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-01-13T08:36:00Z"},
		{name: "Dutch", header: "Tijd", rows: []string{"13 mrt 2024 08:36:00", "13 mrt 2024 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-03-13T08:36:00Z"},
		{name: "year first with a name", header: "Time", rows: []string{"2024-May-13 08:36:00", "2024-May-13 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "web server's form", header: "Time", rows: []string{"13/May/2024:08:36:00 +0000", "13/May/2024:08:36:05 +0000"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "colons in the date", header: "Time", rows: []string{"2024:05:13 08:36:00", "2024:05:13 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "hours marked by letters", header: "Temps", rows: []string{"13/05/2024 08h36", "13/05/2024 08h37"}, kind: DateTime, seconds: []float64{0, 60}, start: iso},
		{name: "hours, minutes, seconds marked by letters", header: "Temps", rows: []string{"13/05/2024 8h36m00s", "13/05/2024 8h36m05s"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "all marked by characters", header: "Time", rows: []string{"2024年5月13日 8時36分00秒", "2024年5月13日 8時36分05秒"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "day of the year, ISO 8601", header: "Time", rows: []string{"2024-134T08:36:00", "2024-134T08:36:05", "2024-135T08:36:00"}, kind: DateTime, seconds: []float64{0, 5, 86400}, start: iso},
		{name: "no year, month named", header: "Time", rows: []string{"Dec 31 23:59:55", "Jan  1 00:00:00", "Jan  1 00:00:05"}, kind: DateTime, seconds: []float64{0, 5, 10}},
		{name: "no year, numbers", header: "Time", rows: []string{"13.05. 08:36:00", "13.05. 08:36:05", "14.05. 08:36:00"}, kind: DateTime, seconds: []float64{0, 5, 86400}},
		{name: "no year, but the preamble's", header: "Time", rows: []string{"13/05 08:36:00", "13/05 08:36:05"}, settings: Settings{PreambleStart: time.Date(2024, 5, 13, 0, 0, 0, 0, time.UTC)}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "day nought in front of a time of day", header: "Time", rows: []string{"1899-12-30 08:36:00", "1899-12-30 08:36:05"}, kind: TimeOfDay, seconds: []float64{0, 5}},
		{name: "date with day nought behind", header: "Date|Time", rows: []string{"13/05/2024|30/12/1899 08:36:00", "13/05/2024|30/12/1899 08:36:05"}, kind: TimeOfDay, columns: []int{1}, seconds: []float64{0, 5}},
		{name: "date that says midnight beside a time", header: "Date|Time", rows: []string{"13/05/2024 0:00|08:36:00", "13/05/2024 0:00|08:36:05"}, kind: DateTime, columns: []int{0, 1}, seconds: []float64{0, 5}, start: iso},
		{name: "long name of a zone", header: "Time", rows: []string{"13/05/2024 08:36:00 Central European Summer Time", "13/05/2024 08:36:05 Central European Summer Time"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		// halves of the day
		{name: "noon and midnight", header: "Time", rows: []string{"13-May-24 12:30:00 am", "13-May-24 1:30:00 am", "13-May-24 12:30:00 pm", "13-May-24 1:30:00 pm"}, kind: DateTime, seconds: []float64{0, 3600, 43200, 46800}, start: "2024-05-13T00:30:00Z"},
		{name: "glued", header: "Time", rows: []string{"13-May-24 11:59:55AM", "13-May-24 12:00:00PM"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T11:59:55Z"},
		{name: "one letter", header: "Time", rows: []string{"13-May-24 11:59:55a", "13-May-24 12:00:00p"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T11:59:55Z"},
		{name: "dots", header: "Time", rows: []string{"13-May-24 11:59:55 a.m.", "13-May-24 12:00:00 p.m."}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T11:59:55Z"},
		{name: "dots, blanks and no-break blanks", header: "Time", rows: []string{"13/05/2024 11:59:55\u202fa.\u00a0m.", "13/05/2024 12:00:00\u202fp.\u00a0m."}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T11:59:55Z"},
		{name: "German halves", header: "Time", rows: []string{"13.05.2024 11:59:55 vorm.", "13.05.2024 12:00:00 nachm."}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T11:59:55Z"},
		{name: "Chinese halves before the time", header: "Time", rows: []string{"2024/5/13 上午11:59:55", "2024/5/13 下午12:00:00"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T11:59:55Z"},
		{name: "Greek halves", header: "Time", rows: []string{"13/5/2024 11:59:55 πμ", "13/5/2024 12:00:00 μμ"}, kind: DateTime, seconds: []float64{0, 5}, start: "2024-05-13T11:59:55Z"},
		{name: "halves in a column of their own", header: "Date|Time|", rows: []string{"13/05/2024|11:59:55|AM", "13/05/2024|12:00:00|PM"}, kind: DateTime, columns: []int{0, 1, 2}, seconds: []float64{0, 5}, start: "2024-05-13T11:59:55Z"},
		// several columns, and orders
		{name: "date and time apart", header: "Date|Time|T", rows: []string{"13.05.2024|08:36:00|20", "13.05.2024|08:36:05|21"}, kind: DateTime, columns: []int{0, 1}, seconds: []float64{0, 5}, start: iso},
		{name: "time and date apart", header: "Time|Date", rows: []string{"08:36:00|13.05.2024", "08:36:05|13.05.2024"}, kind: DateTime, columns: []int{0, 1}, seconds: []float64{0, 5}, start: iso},
		{name: "date and time far apart", header: "Date|T|Time", rows: []string{"13.05.2024|20.5|08:36:00", "13.05.2024|21|08:36:05"}, kind: DateTime, columns: []int{0, 2}, seconds: []float64{0, 5}, start: iso},
		{name: "date written where it changes", header: "Date|Time", rows: []string{"13.05.2024|23:59:55", "|23:59:58", "14.05.2024|00:00:00", "|00:00:05"}, kind: DateTime, columns: []int{0, 1}, seconds: []float64{0, 3, 5, 10}, start: "2024-05-13T23:59:55Z"},
		{name: "time before date", header: "Time", rows: []string{"08:36:00 13/05/2024", "08:36:05 13/05/2024"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "time before date, hyphens", header: "Time", rows: []string{"08:36:00-13-05-2024", "08:36:05-13-05-2024"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "time before named date", header: "Time", rows: []string{"08:36:00 13/May/2024", "08:36:05 13/May/2024"}, kind: DateTime, seconds: []float64{0, 5}, start: iso},
		{name: "delimiter inside the date", header: "", rows: []string{"May 13| 2024|08:36:00|20.5", "May 13| 2024|08:36:05|20.6"}, kind: DateTime, columns: []int{0, 1, 2}, seconds: []float64{0, 5}, start: iso},
		{name: "delimiter inside the date, weekday too", header: "", rows: []string{"Mon|13 May 2024 08:36:00|20.5", "Mon|13 May 2024 08:36:05|20.6"}, kind: DateTime, columns: []int{1}, seconds: []float64{0, 5}, start: iso},
		{name: "midnight as a date alone", header: "Time", rows: []string{"13.05.2024 23:59:55", "14.05.2024", "14.05.2024 00:00:05"}, kind: DateTime, seconds: []float64{0, 5, 10}, start: "2024-05-13T23:59:55Z"},
		{name: "24:00:00", header: "Time", rows: []string{"13.05.2024 23:59:55", "13.05.2024 24:00:00", "14.05.2024 00:00:05"}, kind: DateTime, seconds: []float64{0, 5, 10}, start: "2024-05-13T23:59:55Z"},
		{name: "milliseconds in the next column", header: "Date|Time|ms|T", rows: []string{"13.05.2024|08:36:00|0|20", "13.05.2024|08:36:00|500|21", "13.05.2024|08:36:01|0|22"}, kind: DateTime, columns: []int{0, 1, 2}, seconds: []float64{0, 0.5, 1}, start: iso},
		{name: "parts by heading", header: "Year|Month|Day|Hour|Minute|Second|T", rows: []string{"2024|5|13|8|36|0|20", "2024|5|13|8|36|5|21"}, kind: Parts, columns: []int{0, 1, 2, 3, 4, 5}, seconds: []float64{0, 5}, start: iso},
		{name: "parts unnamed", header: "", rows: []string{"2024|5|13|23|59|55|20", "2024|5|14|0|0|0|21", "2024|5|14|0|0|5|21"}, kind: Parts, columns: []int{0, 1, 2, 3, 4, 5}, seconds: []float64{0, 5, 10}, start: "2024-05-13T23:59:55Z"},
		{name: "parts in letters", header: "YYYY|MM|DD|hh|mm|ss", rows: []string{"2024|5|13|8|36|0", "2024|5|13|8|36|5"}, kind: Parts, columns: []int{0, 1, 2, 3, 4, 5}, seconds: []float64{0, 5}, start: iso},
		{name: "parts with fractions", header: "Year|Month|Day|Hour|Min|Sec", rows: []string{"2024|5|13|8|36|0.25", "2024|5|13|8|36|0.75"}, kind: Parts, columns: []int{0, 1, 2, 3, 4, 5}, seconds: []float64{0, 0.5}, start: "2024-05-13T08:36:00.25Z"},
		{name: "parts, German", header: "Jahr|Monat|Tag|Stunde|Minute|Sekunde", rows: []string{"2024|5|13|8|36|0", "2024|5|13|8|36|5"}, kind: Parts, columns: []int{0, 1, 2, 3, 4, 5}, seconds: []float64{0, 5}, start: iso},
		{name: "day of the year in words", header: "Year|Day of year|Hour|Minute|Second", rows: []string{"2024|134|8|36|0", "2024|134|8|36|5"}, kind: Parts, columns: []int{0, 1, 2, 3, 4}, seconds: []float64{0, 5}, start: iso},
		{name: "day of the year", header: "Year|DOY|Hour|Min", rows: []string{"2024|134|8|36", "2024|134|8|37"}, kind: Parts, columns: []int{0, 3, 2, 1}, seconds: []float64{0, 60}, start: iso},
		// lengths of time
		{name: "seconds", header: "Time (s)", rows: []string{"0", "0.1", "0.2", "0.3"}, kind: Elapsed, seconds: []float64{0, 0.1, 0.2, 0.3}},
		{name: "seconds, comma", header: "Zeit [s]", rows: []string{"0,0", "0,1", "0,2"}, settings: Settings{Decimal: ','}, kind: Elapsed, seconds: []float64{0, 0.1, 0.2}},
		{name: "thousands marks", header: "Time (s)", rows: []string{"960", "1,080", "1,200.5"}, kind: Elapsed, seconds: []float64{0, 120, 240.5}},
		{name: "thousands points", header: "Zeit (s)", rows: []string{"960", "1.080", "1.200,5"}, settings: Settings{Decimal: ','}, kind: Elapsed, seconds: []float64{0, 120, 240.5}},
		{name: "thousands blanks and apostrophes", header: "Zeit (s)", rows: []string{"960", "1 080", "1'200"}, settings: Settings{Decimal: ','}, kind: Elapsed, seconds: []float64{0, 120, 240}},
		{name: "its own decimal mark", header: "Zeit (s)|T", rows: []string{"0.0|20,1", "0.5|20,2", "1.0|20,3"}, settings: Settings{Decimal: ','}, kind: Elapsed, seconds: []float64{0, 0.5, 1}},
		{name: "seconds by unit row", header: "Time~[s]|Inner~[C]", rows: []string{"0|20", "1|21", "2|22"}, kind: Elapsed, seconds: []float64{0, 1, 2}},
		{name: "milliseconds", header: "time_ms", rows: []string{"0", "500", "1000"}, kind: Elapsed, seconds: []float64{0, 0.5, 1}},
		{name: "milliseconds in camel case", header: "elapsedMs", rows: []string{"100", "600", "1100"}, kind: Elapsed, seconds: []float64{0, 0.5, 1}},
		{name: "minutes", header: "t / min", rows: []string{"0", "0.5", "1"}, kind: Elapsed, seconds: []float64{0, 30, 60}},
		{name: "hours", header: "Elapsed (h)", rows: []string{"0", "0.001", "0.002"}, kind: Elapsed, seconds: []float64{0, 3.6, 7.2}},
		{name: "hours, French", header: "Temps (heures)", rows: []string{"0", "0.5", "1"}, kind: Elapsed, seconds: []float64{0, 1800, 3600}},
		{name: "no heading, seconds", header: "", rows: []string{"0|20.1", "1|20.4", "2|20.5", "3|21.6"}, kind: Elapsed, seconds: []float64{0, 1, 2, 3}},
		{name: "no heading, milliseconds", header: "", rows: []string{"45032|20", "50032|20", "55032|21", "60068|22", "65032|22"}, kind: Elapsed, seconds: []float64{0, 5, 10, 15.036, 20}},
		{name: "no heading, even milliseconds", header: "", rows: []string{"0|20.4", "5000|20.1", "10000|21", "15000|22"}, kind: Elapsed, seconds: []float64{0, 5, 10, 15}},
		{name: "the evener of two times", header: "Heater time|Time", rows: []string{"0|0", "7|10", "7.5|20", "30|30", "31|40"}, kind: Elapsed, columns: []int{1}, seconds: []float64{0, 10, 20, 30, 40}, asks: true},
		{name: "minutes by their step", header: "Time|T", rows: []string{"0.0000|20", "0.0167|20", "0.0333|21", "0.0500|21"}, kind: Elapsed, seconds: []float64{0, 1.002, 1.998, 3}},
		{name: "unit by the interval", header: "Time|T", rows: []string{"0|20", "1|20", "2|21"}, settings: Settings{PreambleIntervalS: 60}, kind: Elapsed, seconds: []float64{0, 60, 120}},
		{name: "scientific", header: "Time", rows: []string{"0.000000000000000000e+00", "3.001000000000000000e+00", "6.002e+00"}, kind: Elapsed, seconds: []float64{0, 3.001, 6.002}},
		{name: "far from nought", header: "Time (s)", rows: []string{"86400.5", "86401.5"}, kind: Elapsed, seconds: []float64{0, 1}},
		{name: "h:mm:ss from nought", header: "Time", rows: []string{"0:00:00", "0:00:05", "1:00:00"}, kind: Elapsed, seconds: []float64{0, 5, 3600}},
		{name: "more than a day", header: "Time", rows: []string{"23:59:55", "24:00:00", "100:00:00"}, kind: Elapsed, seconds: []float64{0, 5, 273605}},
		{name: "days in front", header: "Elapsed", rows: []string{"0.23:59:55", "1.00:00:00"}, kind: Elapsed, seconds: []float64{0, 5}},
		{name: "days in words", header: "Elapsed", rows: []string{"0 days 23:59:55", "1 day 00:00:00"}, kind: Elapsed, seconds: []float64{0, 5}},
		{name: "a negative start", header: "Elapsed", rows: []string{"-0:00:05", "0:00:00", "0:00:05"}, kind: Elapsed, seconds: []float64{0, 5, 10}},
		{name: "in words", header: "Elapsed", rows: []string{"0 s", "30 s", "1 min", "1 min 30 s"}, kind: Elapsed, seconds: []float64{0, 30, 60, 90}},
		{name: "unit in the cell", header: "Time", rows: []string{"0.5 s", "1.0 s", "1.5 s"}, kind: Elapsed, seconds: []float64{0, 0.5, 1}},
		{name: "ISO 8601 durations", header: "Elapsed", rows: []string{"PT0S", "PT0M5S", "PT1M0.5S", "P1DT1H"}, kind: Elapsed, seconds: []float64{0, 5, 60.5, 90000}},
		{name: "plus before each", header: "Elapsed", rows: []string{"+0:00:00", "+0:00:05", "+0:01:00"}, kind: Elapsed, seconds: []float64{0, 5, 60}},
		{name: "d:hh:mm:ss", header: "Elapsed (d:hh:mm:ss)", rows: []string{"0:23:59:55", "1:00:00:00", "1:00:00:05"}, kind: Elapsed, seconds: []float64{0, 5, 10}},
		{name: "h:mm:ss:ff", header: "Elapsed (h:mm:ss:ff)", rows: []string{"0:00:00:00", "0:00:00:50", "0:00:01:00"}, kind: Elapsed, seconds: []float64{0, 0.5, 1}},
		{name: "mm:ss by heading", header: "Time (mm:ss)", rows: []string{"00:00", "00:05", "60:00"}, kind: Elapsed, seconds: []float64{0, 5, 3600}},
		{name: "mm:ss.f", header: "Time", rows: []string{"00:00.0", "00:05.5", "75:00.0"}, kind: Elapsed, seconds: []float64{0, 5.5, 4500}},
		{name: "mm:ss by value", header: "Time", rows: []string{"59:50", "59:55", "60:00"}, kind: Elapsed, seconds: []float64{0, 5, 10}},
		{name: "mm:ss then h:mm:ss", header: "Time", rows: []string{"59:50", "59:55", "1:00:00"}, kind: Elapsed, seconds: []float64{0, 5, 10}},
		{name: "mm:ss or h:mm is asked", header: "Time", rows: []string{"00:00", "00:01", "00:02"}, kind: Elapsed, seconds: []float64{0, 1, 2}, asks: true},
		{name: "mm:ss or h:mm by the flag", header: "Time", rows: []string{"00:00", "00:01", "00:02"}, settings: Settings{IntervalS: 60}, kind: Elapsed, seconds: []float64{0, 60, 120}},
		{name: "h:mm that does not start at nought", header: "Time", rows: []string{"14:05", "14:06", "14:07"}, kind: TimeOfDay, seconds: []float64{0, 60, 120}},
		// time of day without a date
		{name: "clock past midnight", header: "Time", rows: []string{"23:59:55", "00:00:00", "00:00:05"}, kind: TimeOfDay, seconds: []float64{0, 5, 10}},
		{name: "clock with halves past noon and midnight", header: "Time", rows: []string{"11:59:55 AM", "12:00:00 PM", "11:59:55 PM", "12:00:00 AM"}, kind: TimeOfDay, seconds: []float64{0, 5, 43200, 43205}},
		{name: "clock of twelve hours, nothing named", header: "Time", rows: []string{"12:59:50", "12:59:55", "1:00:00", "1:00:05"}, kind: TimeOfDay, seconds: []float64{0, 5, 10, 15}},
		{name: "clock with dots", header: "Uhrzeit", rows: []string{"06.10.00", "06.10.05", "06.11.00", "23.59.59", "00.00.04"}, kind: TimeOfDay, seconds: []float64{0, 5, 60, 64199, 64204}},
		{name: "clock with dots, no word for it", header: "Zeit", rows: []string{"06.10.00", "06.10.05", "06.11.00"}, kind: TimeOfDay, seconds: []float64{0, 5, 60}},
		{name: "dates with dots are no clock", header: "Datum", rows: []string{"06.10.20", "07.10.20", "08.10.20"}, kind: DateTime, seconds: []float64{0, 86400, 172800}, start: "2020-10-06T00:00:00Z"},
		{name: "date and clock, both with dots", header: "Datum|Uhrzeit", rows: []string{"13.05.2024|08.36.00", "13.05.2024|08.36.05"}, kind: DateTime, columns: []int{0, 1}, seconds: []float64{0, 5}, start: iso},
		{name: "six figures", header: "Time (hhmmss)", rows: []string{"061000", "061005", "061100"}, kind: TimeOfDay, seconds: []float64{0, 5, 60}},
		{name: "six figures, nought in front", header: "Time", rows: []string{"061000", "061005", "061100"}, kind: TimeOfDay, seconds: []float64{0, 5, 60}},
		{name: "six figures beside a date", header: "Date|Time", rows: []string{"20240513|83600", "20240513|83605", "20240513|83700"}, kind: DateTime, columns: []int{0, 1}, seconds: []float64{0, 5, 60}, start: iso},
		{name: "six figures beside a date with dots", header: "Date|Time", rows: []string{"13.05.2024|083600", "13.05.2024|083605", "13.05.2024|083700"}, kind: DateTime, columns: []int{0, 1}, seconds: []float64{0, 5, 60}, start: iso},
		{name: "four figures", header: "Time (hhmm)", rows: []string{"0836", "0837", "0900"}, kind: TimeOfDay, seconds: []float64{0, 60, 1440}},
		{name: "six figures are seconds where nothing says otherwise", header: "Time (s)", rows: []string{"61000", "61005", "61010"}, kind: Elapsed, seconds: []float64{0, 5, 10}},
		{name: "written to the minute", header: "Time", rows: []string{"14:05", "14:05", "14:05", "14:05", "14:06", "14:06", "14:06"}, kind: TimeOfDay, seconds: []float64{0, 0, 0, 0, 60, 60, 60}},
		{name: "a small step back stays", header: "Time", rows: []string{"14:00:00", "14:00:05", "14:00:03", "14:00:08"}, kind: TimeOfDay, seconds: []float64{0, 5, 3, 8}},
		{name: "newest first past midnight", header: "Time", rows: []string{"00:00:05", "00:00:00", "23:59:55", "23:59:50"}, kind: TimeOfDay, seconds: []float64{0, -5, -10, -15}},
		// counts since an epoch
		{name: "Unix", header: "Time (sec)", rows: []string{"1715589360", "1715589365"}, kind: Unix, seconds: []float64{0, 5}, start: iso},
		{name: "Unix with fraction", header: "timestamp", rows: []string{"1715589360.000", "1715589360.125"}, kind: Unix, seconds: []float64{0, 0.125}, start: iso},
		{name: "Unix ms", header: "timestamp", rows: []string{"1715589360000", "1715589360125"}, kind: Unix, seconds: []float64{0, 0.125}, start: iso},
		{name: "Unix µs", header: "timestamp", rows: []string{"1715589360000000", "1715589360000001"}, kind: Unix, seconds: []float64{0, 0.000001}, start: iso},
		{name: "Unix ns", header: "timestamp", rows: []string{"1715589360000000000", "1715589360000000001"}, kind: Unix, seconds: []float64{0, 1e-9}, start: iso},
		{name: "Unix without a heading", header: "", rows: []string{"1715589360|20.4", "1715589365|20.5"}, kind: Unix, seconds: []float64{0, 5}, start: iso},
		{name: "Unix in scientific notation", header: "Time", rows: []string{"1.71558936e9", "1.715589365e+09"}, kind: Unix, seconds: []float64{0, 5}, start: iso},
		{name: "1904 epoch", header: "Time", rows: []string{"3798434160.0", "3798434165.5"}, kind: Unix, seconds: []float64{0, 5.5}, start: iso},
		{name: "spreadsheet days", header: "Date/Time", rows: []string{"45425.3583333333", "45425.3583912037"}, kind: Serial, seconds: []float64{0, 5}, start: iso},
		{name: "spreadsheet days, comma", header: "Datum", rows: []string{"45425,3583333333", "45425,3583912037"}, settings: Settings{Decimal: ','}, kind: Serial, seconds: []float64{0, 5}, start: iso},
		{name: "spreadsheet days of 1904", header: "Date (1904)", rows: []string{"43963.3583333333", "43963.3583912037"}, kind: Serial, seconds: []float64{0, 5}, start: iso},
		{name: "spreadsheet days of 1904 by the preamble", header: "Date", rows: []string{"43963.3583333333", "43963.3583912037"}, settings: Settings{PreambleStart: time.Date(2024, 5, 13, 0, 0, 0, 0, time.UTC)}, kind: Serial, seconds: []float64{0, 5}, start: iso},
		{name: "seconds that look like days", header: "Time", rows: []string{"45425.5", "45426.5", "45427.5"}, kind: Elapsed, seconds: []float64{0, 1, 2}},
		{name: "dd-mm-yy or yy-mm-dd", header: "Time", rows: []string{"13-05-24 08:36:00", "13-05-24 08:36:05"}, kind: DateTime, seconds: []float64{0, 5}, start: iso, even: true},
		// sample numbers, and which column
		{name: "an even first column under a strange heading", header: "X value|A", rows: []string{"0|20", "5|20.4", "10|22", "15|22.1", "20|22.4", "25|22.3"}, kind: Elapsed, seconds: []float64{0, 5, 10, 15, 20, 25}},
		{name: "sample number by the flag", header: "No.|Inner", rows: []string{"1|20", "2|21", "3|22"}, settings: Settings{IntervalS: 0.5}, kind: Index, seconds: []float64{0, 0.5, 1}},
		{name: "sample number by the preamble", header: "Sample|Inner", rows: []string{"1|20", "2|21", "4|22"}, settings: Settings{PreambleIntervalS: 5}, kind: Index, seconds: []float64{0, 5, 15}},
		{name: "sample number that is asked for", header: "No.|Inner", rows: []string{"1|20", "2|21", "3|22"}, kind: Index, seconds: []float64{0, 1, 2}, asks: true},
		{name: "rows counted", header: "Inner|Outer", rows: []string{"20.1|20", "20.0|20", "22.3|21"}, settings: Settings{IntervalS: 5}, kind: Index, columns: []int{}, seconds: []float64{0, 5, 10}},
		{name: "time beside a sample number", header: "|Time|T1", rows: []string{"0|0.0|20", "1|0.99|21", "2|2.01|22"}, kind: Elapsed, columns: []int{1}, seconds: []float64{0, 0.99, 2.01}},
		{name: "dead date beside seconds", header: "Date/Time|Time (s)|T", rows: []string{"2024-05-13 08:36:00|0|20", "2024-05-13 08:36:00|1|21", "2024-05-13 08:36:00|2|22"}, kind: Elapsed, columns: []int{1}, seconds: []float64{0, 1, 2}},
		{name: "minutes only beside seconds", header: "Date/Time|Time (s)|T", rows: []string{"2024-05-13 08:36|0|20", "2024-05-13 08:36|10|21", "2024-05-13 08:36|20|22", "2024-05-13 08:36|30|22", "2024-05-13 08:36|40|22", "2024-05-13 08:36|50|22", "2024-05-13 08:37|60|23"}, kind: Elapsed, columns: []int{1}, seconds: []float64{0, 10, 20, 30, 40, 50, 60}},
		{name: "date beside seconds", header: "Date/Time|Time (s)|T", rows: []string{"2024-05-13 08:36:00|0|20", "2024-05-13 08:36:01|1|21", "2024-05-13 08:36:02|2|22"}, kind: DateTime, seconds: []float64{0, 1, 2}, start: iso},
		{name: "two clocks that disagree", header: "Date/Time|Time (s)|T", rows: []string{"2024-05-13 08:36:00|0|20", "2024-05-13 08:36:10|1|21", "2024-05-13 08:36:20|2|22", "2024-05-13 08:36:30|3|22"}, kind: DateTime, seconds: []float64{0, 10, 20, 30}, start: iso, asks: true},
		{name: "times and readings are no dates", header: "time|outer [C]|inner [C]", rows: []string{"0:00:00|15.1|15.1", "0:00:01|15.4|15.5", "0:00:02|15.10|15.12"}, kind: Elapsed, seconds: []float64{0, 1, 2}},
		{name: "times and readings without headings", header: "", rows: []string{"0:00:00|15.10|15.12", "0:00:01|15.11|15.10", "0:00:02|15.12|15.10"}, kind: Elapsed, seconds: []float64{0, 1, 2}},
		{name: "times and whole readings without headings", header: "", rows: []string{"0:00:00|15|10|20", "0:00:01|15|11|20", "0:00:02|15|11|20"}, kind: Elapsed, seconds: []float64{0, 1, 2}},
		{name: "no heading, from nought, not quite even", header: "", rows: []string{"0.0|20.4", "1.0|20.1", "2.1|21", "3.0|22.3", "3.9|22"}, kind: Elapsed, seconds: []float64{0, 1, 2.1, 3, 3.9}},
		{name: "readings that make a date with their neighbours", header: "", rows: []string{"12:00:00|15|10|2000", "12:00:01|16|10|2000", "12:00:02|17|10|2000", "12:00:03|18|10|2000", "12:00:04|19|10|2000"}, kind: TimeOfDay, seconds: []float64{0, 1, 2, 3, 4}},
		{name: "two probes and an interval", header: "", rows: []string{"24.9|24.9", "27.2|24.9", "29.5|25.0", "31.8|25.2"}, settings: Settings{IntervalS: 5}, kind: Index, columns: []int{}, seconds: []float64{0, 5, 10, 15}},
		{name: "two probes and nothing else", header: "", rows: []string{"24.9|24.9", "27.2|24.9", "29.5|25.0", "31.7|25.2", "34.0|26"}, kind: ""},
		{name: "ticks", header: "tick(s)|T", rows: []string{"5000|20", "10000|20", "15000|21", "20000|21"}, kind: Elapsed, seconds: []float64{0, 5, 10, 15}},
		{name: "a heading that says nothing", header: "X_Value|Inner|Outer", rows: []string{"0,000|20,1|20", "5,000|22,4|20", "10,000|24,6|20,1", "15,000|26,9|20,3"}, settings: Settings{Decimal: ','}, kind: Elapsed, seconds: []float64{0, 5, 10, 15}},
		{name: "a heading that says nothing, and no start at nought", header: "X_Value|Inner|Outer", rows: []string{"100|20.1|20", "105|22.4|20", "110|24.6|20.1", "115|26.9|20.3"}, kind: Elapsed, seconds: []float64{0, 5, 10, 15}, asks: true},
		{name: "a temperature whose heading has a word for time", header: "When|INNER:Temperature [C](TimeStep)", rows: []string{"03/17 06:10:00|18.5", "03/17 06:10:05|19.0", "03/17 06:10:10|19.5"}, kind: DateTime, seconds: []float64{0, 5, 10}},
		{name: "two clocks of one pace", header: "Time1|T1|Time2|T2", rows: []string{"0|20||", "5|20||", "10|21||", "15|22|0|20", "20|22|5|20", "25|23|10|20"}, kind: Elapsed, seconds: []float64{0, 5, 10, 15, 20, 25}},
		{name: "a warming probe is no clock", header: "Inner|Outer", rows: []string{"20.1|20.0", "21.0|20.4", "22.3|21.0", "23.1|22.2"}, kind: ""},
		{name: "T1 and T2 are no clock", header: "T1|T2", rows: []string{"20|20", "21|21", "22|22", "23|23"}, kind: ""},
		{name: "the user's column", header: "A|B", rows: []string{"20|0.5", "21|1.0", "22|1.5"}, settings: Settings{Columns: []int{1}}, kind: Elapsed, columns: []int{1}, seconds: []float64{0, 0.5, 1}},
		{name: "the user's two columns", header: "A|B|C", rows: []string{"13/05/2024|x|08:36:00", "13/05/2024|y|08:36:05"}, settings: Settings{Columns: []int{0, 2}}, kind: DateTime, columns: []int{0, 2}, seconds: []float64{0, 5}, start: iso},
		{name: "the user's column is no time", header: "A|B", rows: []string{"abc|0.5", "def|1.0"}, settings: Settings{Columns: []int{0}}, kind: ""},
		{name: "newest first", header: "Time", rows: []string{"13.05.2024 08:36:10", "13.05.2024 08:36:05", "13.05.2024 08:36:00", "13.05.2024 08:35:55"}, kind: DateTime, seconds: []float64{0, -5, -10, -15}, start: "2024-05-13T08:36:10Z"},
		{name: "one bad cell in a short log", header: "time_s|inner_c", rows: []string{"0|20", "1|21", "x8|22", "3|22"}, kind: Elapsed, seconds: []float64{0, 1, math.NaN(), 3}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tb := rowsOf(c.header, c.rows...)
			d, secs, sts, o := readAll(t, tb, c.settings)
			b := d.Best()
			if c.kind == "" {
				if b != nil {
					t.Fatalf("taken for time: %+v", *b)
				}
				return
			}
			if b == nil {
				t.Fatal("no time found")
			}
			fail := func(format string, args ...any) {
				t.Helper()
				t.Errorf(format, args...)
				t.Logf("candidates %v\noutcome %+v", d.Candidates, o)
			}
			if o.Kind != c.kind {
				fail("kind %q, want %q", o.Kind, c.kind)
			}
			want := c.columns
			if want == nil {
				want = []int{0}
			}
			if !sameSet(b.Plan.Columns(), want) {
				fail("columns %v, want %v", b.Plan.Columns(), want)
			}
			for i, w := range c.seconds {
				if w != w {
					if sts[i] != Bad {
						fail("row %d is not bad", i)
					}
					continue
				}
				if sts[i] != OK || secs[i] != w {
					fail("row %d (%s): %v, status %d; want %v", i, c.rows[i], secs[i], sts[i], w)
				}
			}
			start := ""
			if !o.Start.IsZero() {
				start = o.Start.Format(time.RFC3339Nano)
			}
			if start != c.start {
				fail("start %q, want %q", start, c.start)
			}
			if asks := len(d.Questions)+len(o.Questions) > 0; asks != c.asks {
				fail("questions %v %v", d.Questions, o.Questions)
			}
			if o.DateAmbiguous != c.even {
				fail("ambiguous is %v", o.DateAmbiguous)
			}
		})
	}
}

func sameSet(a, b []int) bool {
	if len(a) != len(b) {
		return false
	}
	for _, x := range a {
		found := false
		for _, y := range b {
			found = found || x == y
		}
		if !found {
			return false
		}
	}
	return true
}

func repeat(n int, prefix string, from int) []string {
	var rows []string
	for i := range n {
		s := from + i
		rows = append(rows, prefix+string(rune('0'+s/10))+string(rune('0'+s%10)))
	}
	return rows
}
