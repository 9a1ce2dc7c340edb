package clock

import (
	"bytes"
	"math"
)

// profile is what the sample shows of one column.
type profile struct {
	says        headingSays
	filled      int
	looked      int // cells that were looked at as stamps, or would have been were they no numbers
	numbers     int
	stamps      int   // cells that scan as a date, a time or a length of time
	dates       int   // with a date
	times       int   // with a time
	halves      int   // nothing but AM or PM
	months      int   // cells with a month's name that are no full date
	hasTime     stamp // a stamp with a time, for its form
	maxFirst    int64 // largest first number of a two-part time
	parts2      int   // stamps of two-part times
	parts3      int
	frac2       int // two-part times with a fraction
	lengths     int // stamps that can only be lengths of time
	clockish    int // stamps with AM/PM or zone
	lo, hi      float64
	decimals    int
	integers    int
	decimal     byte      // decimal mark of this column
	values      []float64 // the number in each row, NaN where there is none
	rewrite     rewrite   // the column is a time without colons
	notMidnight bool      // some time is not 0:00
	known       bool      // rewrite was looked into
	fours       int       // stamps that may be d:hh:mm:ss
}

// stampLook is how many cells of a column are looked at before it is given up as no stamp.
const stampLook = 12

func (d *detector) profile() {
	width := len(d.t.Columns)
	for _, row := range d.t.Rows {
		width = max(width, len(row))
	}
	d.cols = make([]profile, width)
	values := make([]float64, width*len(d.t.Rows))
	for c := range d.cols {
		p := &d.cols[c]
		p.says.empty = true
		if c < len(d.t.Columns) {
			p.says = readHeading(d.t.Columns[c].Heading, d.t.Columns[c].Unit)
		}
		p.values, values = values[:len(d.t.Rows)], values[len(d.t.Rows):]
		other := byte('.')
		if d.s.Decimal == '.' {
			other = ','
		}
		// A column may have a decimal mark of its own; it has if more of its cells are numbers then.
		if failed := d.readColumn(c, d.s.Decimal); failed > 0 {
			q := *p
			if d.readColumn(c, other) >= failed {
				*p = q
				d.readColumn(c, d.s.Decimal)
			}
		}
		d.readStamps(c)
	}
}

// readColumn reads a column's cells as numbers with the given decimal mark. It gives how many cells hold a point or a comma and are none.
func (d *detector) readColumn(c int, decimal byte) (failed int) {
	p := &d.cols[c]
	p.decimal = decimal
	p.filled, p.numbers, p.decimals, p.integers = 0, 0, 0, 0
	for i, row := range d.t.Rows {
		p.values[i] = math.NaN()
		if c >= len(row) || len(row[c]) == 0 {
			continue
		}
		b := trim(row[c])
		if len(b) == 0 {
			continue
		}
		p.filled++
		n, ok := readDecimal(b, decimal)
		if !ok {
			if bytes.IndexByte(b, '.') >= 0 || bytes.IndexByte(b, ',') >= 0 {
				failed++
			}
			continue
		}
		p.numbers++
		v := n.float()
		p.values[i] = v
		if p.numbers == 1 {
			p.lo, p.hi = v, v
		}
		p.lo, p.hi = min(p.lo, v), max(p.hi, v)
		p.decimals = max(p.decimals, n.dec)
		if n.dec <= 0 {
			p.integers++
		}
	}
	return failed
}

// readStamps reads those cells of a column that are no plain numbers as dates and times.
func (d *detector) readStamps(c int) {
	p := &d.cols[c]
	p.looked = p.filled
	gluedDates := p.integers > 0 && p.hi >= 1.9e7
	if p.numbers == p.filled && !gluedDates {
		return
	}
	failed := 0
	p.looked = 0
	for i, row := range d.t.Rows {
		if c >= len(row) {
			continue
		}
		// The first rows, the last, and every fourth between are enough to know a column by.
		if i >= 16 && i&3 != 0 && i != len(d.t.Rows)-1 {
			continue
		}
		b := trim(row[c])
		if len(b) == 0 {
			continue
		}
		p.looked++
		if v := p.values[i]; v == v && !(gluedDates && (len(b) == 8 || len(b) == 12 || len(b) == 14 || len(b) == 17) && glued(b)) {
			continue
		}
		if p.stamps == 0 && failed >= stampLook {
			return
		}
		s := &d.st
		if !s.scan(b) {
			failed++
			if len(b) <= maxStamp && p.stamps == 0 {
				p.looseWords(b)
			}
			continue
		}
		p.stamps++
		if s.hasDate {
			p.dates++
		}
		if !s.hasTime {
			continue
		}
		p.times++
		p.hasTime = *s
		p.notMidnight = p.notMidnight || s.daySeconds != 0
		switch {
		case s.worded || s.signed || s.hasDays || s.hour > 24:
			p.lengths++
		case s.half != noHalf || s.hasZone:
			p.clockish++
		}
		if s.four {
			p.fours++
		}
		switch {
		case s.worded:
		case s.timeParts == 2:
			p.parts2++
			p.maxFirst = max(p.maxFirst, s.first)
			if s.fracDigits > 0 {
				p.frac2++
			}
		case s.timeParts == 3:
			p.parts3++
		}
	}
}

func (p *profile) looseWords(b []byte) {
	var t [maxTokens]token
	n, ok := tokens(b, &t)
	if !ok {
		return
	}
	if h, next := halfAt(b, t[:n], 0); h != noHalf && next == n {
		p.halves++
		return
	}
	var buf [24]byte
	for _, tk := range t[:n] {
		if tk.kind == tokWord && monthOf(fold(b[tk.from:tk.to], &buf)) > 0 {
			p.months++
			return
		}
	}
}

// glued says whether a run of digits starts with a year of this or the last century.
func glued(b []byte) bool {
	return b[0] == '2' && b[1] == '0' || b[0] == '1' && b[1] == '9'
}

func (d *detector) most(n, filled int) bool { return filled > 0 && n*10 >= filled*8 }
