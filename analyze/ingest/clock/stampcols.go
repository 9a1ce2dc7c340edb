package clock

import (
	"fmt"
	"slices"
)

// stamps proposes columns, and groups of columns, that hold dates and times.
func (d *detector) stamps() {
	var dates, times, full []int
	for c := range d.cols {
		p := &d.cols[c]
		switch {
		case d.rewriteOf(c) != asWritten:
			times = append(times, c)
		case d.most(p.dates, p.looked) && p.times > 0:
			full = append(full, c)
		case d.most(p.dates, p.looked):
			dates = append(dates, c)
		case d.most(p.times, p.looked) && p.dates == 0 && p.numbers*2 < p.filled:
			times = append(times, c)
		}
	}
	for _, c := range full {
		// A date that always says midnight belongs to the time beside it.
		if t := nearest(times, c); t >= 0 && !d.cols[c].notMidnight && d.cols[c].rewrite == asWritten {
			d.cols[c].rewrite = dateOnly
			d.dateTime([]int{min(c, t), max(c, t)})
			d.cols[c].rewrite = asWritten
		}
		d.dateTime([]int{c})
	}
	for _, c := range times {
		if near := nearest(dates, c); near >= 0 {
			cols := []int{min(near, c), max(near, c)}
			if h := d.halfColumn(c); h >= 0 {
				cols = append(cols, h)
				slices.Sort(cols)
			}
			d.dateTime(cols)
		}
		d.timeOnly(c)
	}
	if len(full) == 0 && (len(dates) == 0 || len(times) == 0) {
		d.joins(dates)
	}
	for _, c := range dates {
		d.dateTime([]int{c})
	}
}

// halfColumn finds a column of AM and PM right behind a time.
func (d *detector) halfColumn(c int) int {
	if c+1 < len(d.cols) && d.most(d.cols[c+1].halves, min(d.cols[c+1].looked, stampLook)) {
		return c + 1
	}
	return -1
}

func nearest(list []int, c int) int {
	best := -1
	for _, x := range list {
		if best < 0 || abs(x-c) < abs(best-c) {
			best = x
		}
	}
	return best
}

func abs(x int) int {
	if x < 0 {
		return -x
	}
	return x
}

// joins tries neighbouring columns that give a date and time only when put together, as when the delimiter stands inside the date.
func (d *detector) joins(dates []int) {
	words := false
	for c := range d.cols {
		words = words || d.cols[c].months > 0 || d.cols[c].stamps > 0 || d.cols[c].halves > 0
	}
	if !words {
		return // numbers alone: years, months and days apart are looked for elsewhere
	}
	for c := 0; c < len(d.cols) && c < 12; c++ {
		p := &d.cols[c]
		if p.filled == 0 || p.months == 0 && p.dates == 0 && p.numbers < p.filled && p.stamps == 0 && !p.weekday(d, c) {
			continue
		}
		for width := 2; width <= 6 && c+width <= len(d.cols); width++ {
			cols := make([]int, width)
			for i := range cols {
				cols[i] = c + i
			}
			hits, tries, changes := 0, 0, 0
			lastDay := int64(-1 << 62)
			numeric := 0
			for _, k := range cols {
				if q := &d.cols[k]; q.says.other || q.decimals > 0 && q.numbers == q.filled && k > c {
					numeric++
				}
			}
			if numeric > 0 {
				break // a probe's readings are no part of a date, and wider groups hold them too
			}
			for _, row := range d.t.Rows {
				if tries == stampLook {
					break
				}
				d.joined = d.joinCells(row, cols, nil)
				b := trim(d.joined)
				if len(b) == 0 || len(b) > maxStamp {
					continue
				}
				tries++
				s := &d.st
				if !s.scan(b) || !s.hasDate || !s.hasTime || !s.named && (s.noYear || s.digits2 && s.dateSep == ' ') {
					break // figures that might as well be readings make no date
				}
				hits++
				if at := firstOrder(s.valid); s.days[at] != lastDay {
					lastDay = s.days[at]
					changes++
				}
			}
			if tries > 0 && hits == tries && (changes <= 2 || changes*3 <= tries) {
				// a following column of AM and PM belongs to it
				if h := d.halfColumn(c + width - 1); h >= 0 {
					cols = append(cols, h)
				}
				d.dateTime(cols)
				return
			}
		}
	}
}

func (p *profile) weekday(d *detector, c int) bool {
	for _, row := range d.t.Rows {
		if c < len(row) {
			var buf [24]byte
			b := trim(row[c])
			for len(b) > 0 && (b[len(b)-1] == '.' || b[len(b)-1] == ',') {
				b = b[:len(b)-1]
			}
			return len(b) > 0 && isFiller(fold(b, &buf))
		}
	}
	return false
}

// joinCells puts the cells of some columns together with blanks, as a reader of plan p does; p may be nil.
func (d *detector) joinCells(row [][]byte, cols []int, p *Plan) []byte {
	b := d.joined[:0]
	for i, c := range cols {
		if i > 0 {
			b = append(b, ' ')
		}
		if c >= len(row) {
			continue
		}
		if p != nil && p.rewrite != asWritten && p.rewritten == c {
			b = colonised(b, trim(row[c]), p.rewrite)
			continue
		}
		b = append(b, trim(row[c])...)
	}
	return b
}

// dateTime proposes columns as a date with time of day.
func (d *detector) dateTime(cols []int) {
	p := &Plan{kind: DateTime, mode: modeStamp, columns: cols, decimal: d.s.Decimal, settings: d.s}
	if len(cols) > 1 {
		for _, c := range cols {
			if how := d.rewriteOf(c); how != asWritten {
				p.rewrite, p.rewritten = how, c
			}
		}
	}
	var form stamp
	found := false
	dateOnly := true
	for _, row := range d.t.Rows {
		s := &d.st
		d.joined = d.joinCells(row, cols, p)
		if s.scan(trim(d.joined)) && s.hasDate {
			if !found || s.hasTime && !form.hasTime {
				form = *s
			}
			found = true
			if s.hasTime {
				dateOnly = false
				break
			}
		}
	}
	if !found {
		return
	}
	for _, c := range cols {
		if c < len(d.t.Columns) && p.settings.HeadingOrder == AnyOrder {
			p.settings.HeadingOrder = headingOrder(d.t.Columns[c].Heading + " " + d.t.Columns[c].Unit)
		}
	}
	if k := orderIndex(d.s.Order); k >= 0 {
		p.choice = k
	} else {
		p.choice = firstOrder(form.valid)
	}
	cols2 := cols
	if !dateOnly && form.fracDigits == 0 && form.timeParts == 3 {
		last := cols[len(cols)-1]
		if c := last + 1; c < len(d.cols) {
			q := &d.cols[c]
			if q.says.millis && q.numbers == q.filled && q.filled > 0 && q.lo >= 0 && q.hi < 1000 && !q.says.other && !q.says.elapsed {
				cols2 = append(slices.Clone(cols), c)
				p.fraction = true
				d.used = append(d.used, c)
				p.columns = cols2
				p.decimal = q.decimal
			}
		}
	}
	// Let the sample settle the order, and read it again in that order if it is another.
	m := d.measure(p)
	v := m.reader.stats.decide(p.settings, p.choice)
	if v.numeric && v.choice != p.choice {
		p.choice, p.descending = v.choice, false
		m = d.measure(p)
		v = m.reader.stats.decide(p.settings, p.choice)
	}
	p.format = describe(&form, p.choice, false)
	if p.fraction {
		p.format += " and milliseconds"
	}
	if v.numeric {
		p.order = orderNames[p.choice]
	}
	score := 100.0
	if dateOnly {
		score = 30
	}
	ev := fmt.Sprintf("%s: dates with time of day, written %s", d.columnsText(cols2), p.format)
	if dateOnly {
		ev = fmt.Sprintf("%s: dates without time of day, written %s", d.columnsText(cols2), p.format)
	}
	d.add(p, m, score, ev)
}
