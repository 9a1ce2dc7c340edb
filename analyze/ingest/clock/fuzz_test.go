package clock

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"
)

var columnSeeds = []string{
	"2024-05-13T08:36:00Z\n2024-05-13T08:36:01Z\n2024-05-14T08:36:01Z",
	"13.05.2024 23:59:55\n14.05.2024\n14.05.2024 00:00:05",
	"03/04/2024 08:36:00\n04/04/2024 08:36:00\n03/13/2024 08:36:00",
	"1/2/2024 11:59:59 AM\n1/2/2024 12:00:00 PM",
	"08:36:00 13/May/2024\n08:36:05 13/May/2024",
	"0:00:00\n0:00:05\n1.00:00:00\n-0:00:01",
	"23:59:55\n00:00:00\n00:00:05",
	"59:50\n59:55\n1:00:00",
	"0\n0.1\n0.2\n1e1",
	"1715589360\n1715589365",
	"45425.3583333333\n45425.3583912037",
	"2024|5|13|8|36|0\n2024|5|13|8|36|5",
	"May 13| 2024|08:36:00\nMay 13| 2024|08:36:05",
	"20240513083600\n20240513083605",
	"2024/5/13 上午11:59:55\n2024/5/13 下午12:00:00",
	"1 min 30 s\n2 min",
	"27.10.2024 02:59:55 CEST\n27.10.2024 02:00:00 CET",
	"1|20.5\n2|20.6\n3|20.7",
}

// FuzzPlan: any bytes are a table. Detect and the readers must end, keep the cells, book every row once, give
// finite seconds that count from the first row, and a second reading must settle.
func FuzzPlan(f *testing.F) {
	for _, s := range columnSeeds {
		f.Add(s, uint8(0))
		f.Add("Time|T (C)\n"+s, uint8(1))
	}
	f.Fuzz(func(t *testing.T, text string, flags uint8) {
		if len(text) > 2000 {
			return
		}
		var tb Table
		lines := strings.Split(text, "\n")
		if flags&1 != 0 {
			tb.Headed = true
			for _, h := range strings.Split(lines[0], "|") {
				tb.Columns = append(tb.Columns, Column{Heading: h})
			}
			lines = lines[1:]
		}
		for _, l := range lines {
			var row [][]byte
			for _, c := range strings.Split(l, "|") {
				row = append(row, []byte(c))
			}
			tb.Rows = append(tb.Rows, row)
		}
		s := Settings{Decimal: '.'}
		if flags&2 != 0 {
			s.Decimal = ','
		}
		if flags&4 != 0 {
			s.Columns = []int{0}
		}
		if flags&8 != 0 {
			s.PreambleIntervalS = 5
		}
		if flags&16 != 0 {
			s.Order = MDY
		}
		if flags&32 != 0 && len(tb.Rows) > 2 {
			tb.Breaks = []int{len(tb.Rows) / 2}
		}
		d := Detect(tb, s)
		if d.Dated >= len(d.Candidates) {
			t.Fatal("Dated names no candidate")
		}
		for n, c := range d.Candidates {
			if n > 0 && c.Score > d.Candidates[n-1].Score {
				t.Fatal("candidates are not sorted")
			}
			if c.Evidence == "" || math.IsNaN(c.Score) {
				t.Fatalf("candidate without evidence or score: %+v", c)
			}
			p := c.Plan
			for round := 0; ; round++ {
				r := p.Reader()
				ok, bad, blank, first := 0, 0, 0, true
				for _, row := range tb.Rows {
					var cells [][]byte
					for _, k := range p.Columns() {
						if k < len(row) {
							cells = append(cells, row[k])
						} else {
							cells = append(cells, nil)
						}
					}
					before := bytes.Join(cells, []byte("|"))
					sec, st := r.Parse(cells)
					if !bytes.Equal(before, bytes.Join(cells, []byte("|"))) {
						t.Fatal("a cell was changed")
					}
					switch st {
					case OK:
						ok++
						if first && sec != 0 {
							t.Fatalf("the first row stands at %v s", sec)
						}
						first = false
						if math.IsNaN(sec) || math.Abs(sec) > 1e10 {
							t.Fatalf("%q gives %v s", before, sec)
						}
						if p.mode == modeStamp && p.kind == DateTime && !p.fraction && len(cells) == 1 {
							alone(t, p, r, cells[0])
						}
					case Bad:
						bad++
					case Blank:
						blank++
					}
				}
				o := r.Finish()
				if o.Rows != ok || o.BadRows != bad || o.BlankRows != blank || ok+bad+blank != len(tb.Rows) {
					t.Fatalf("%d, %d, %d rows booked, %d, %d, %d seen", o.Rows, o.BadRows, o.BlankRows, ok, bad, blank)
				}
				if !o.Reread {
					break
				}
				if round == 2 {
					t.Fatalf("%q asks for a third reading", text)
				}
				p = o.Plan
			}
		}
	})
}

// alone checks that a date read after other rows is what it is by itself.
func alone(t *testing.T, p *Plan, r *Reader, cell []byte) {
	q := p.Reader()
	ns, st := q.stamp(cell)
	if st != OK || ns != r.last && !r.noYear {
		t.Fatalf("%q gives %v after other rows and %v (%v) alone", cell, r.last, ns, st)
	}
}

// FuzzInstant: the tolerant scan never gives a date that the calendar does not have, and agrees with the library on ISO 8601.
func FuzzInstant(f *testing.F) {
	for _, s := range columnSeeds {
		f.Add(strings.SplitN(s, "\n", 2)[0])
	}
	f.Add("2024-02-30 08:00:00")
	f.Add("2024-05-13T08:36:00.123456789+14:00")
	f.Fuzz(func(t *testing.T, text string) {
		got, _, ok := ParseInstant(text, DMY)
		if ok && (got.Year() < firstYear-1 || got.Year() > lastYear+1) {
			t.Fatalf("%q gives %v", text, got)
		}
		want, err := time.Parse(time.RFC3339Nano, text)
		if err != nil || want.Year() < firstYear || want.Year() > lastYear {
			return
		}
		if _, off := want.Zone(); off > 15*3600 || off < -15*3600 || len(text) > 40 {
			return
		}
		if !ok || !got.Equal(want) {
			t.Fatalf("%q gives %v, %v; the library gives %v", text, got, ok, want)
		}
	})
}
