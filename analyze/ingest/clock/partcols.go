package clock

import (
	"fmt"
	"slices"
)

// parts proposes year, month, day, hour, minute and second in columns of their own: by their headings, or
// unnamed and side by side.
func (d *detector) parts() {
	if cols, parts := d.partsByHeading(nil); cols != nil {
		d.partsPlan(cols, parts, "by their headings")
		return
	}
	for c := 0; c+5 <= len(d.cols); c++ {
		for _, order := range [...][6]part{
			{partYear, partMonth, partDay, partHour, partMinute, partSecond},
			{partDay, partMonth, partYear, partHour, partMinute, partSecond},
			{partMonth, partDay, partYear, partHour, partMinute, partSecond},
		} {
			if n := d.fits(c, order[:]); n >= 5 {
				cols := make([]int, n)
				for i := range cols {
					cols[i] = c + i
				}
				if d.partsPlan(cols, slices.Clone(order[:n]), "by what they hold") {
					return
				}
			}
		}
	}
}

// fits counts how many columns from c on can be the parts of order; a seconds column may be missing.
func (d *detector) fits(c int, order []part) int {
	for i, k := range order {
		if c+i >= len(d.cols) || !d.holds(c+i, k, true) {
			return i
		}
	}
	return len(order)
}

// holds says whether a column's numbers can be a part of a date or time. unnamed: its heading must not speak against it.
func (d *detector) holds(c int, k part, unnamed bool) bool {
	q := &d.cols[c]
	if unnamed && (q.says.other || q.says.index || q.says.elapsed) {
		return false
	}
	if q.filled == 0 {
		return false
	}
	if k == partMonth && q.months > 0 && q.numbers == 0 {
		return true
	}
	if k == partHalf {
		return q.halves > 0
	}
	if q.numbers*10 < q.filled*8 {
		return false
	}
	whole := q.integers == q.numbers
	switch k {
	case partYear:
		return whole && (q.lo >= 1970 && q.hi < 2100 || !unnamed && q.lo >= 0 && q.hi < 100) && q.hi-q.lo <= 2
	case partMonth:
		return whole && q.lo >= 1 && q.hi <= 12
	case partDay:
		return whole && q.lo >= 1 && q.hi <= 31
	case partDayOfYear:
		return whole && q.lo >= 1 && q.hi <= 366
	case partHour:
		return (whole || !unnamed) && q.lo >= 0 && q.hi <= 24
	case partMinute:
		return (whole || !unnamed) && q.lo >= 0 && q.hi < 60
	case partSecond:
		return q.lo >= 0 && q.hi < 61
	case partFraction:
		return whole && q.lo >= 0 && q.hi < 1000
	}
	return false
}

// partsByHeading finds the parts by their headings, among the columns given or among all. A date needs a year with month and day
// or day of the year, and an hour; hours, minutes and seconds alone make a time without a date.
func (d *detector) partsByHeading(among []int) (cols []int, parts []part) {
	var at [partCount]int
	for i := range at {
		at[i] = -1
	}
	afterHour := false
	for c := range d.cols {
		if among != nil && !slices.Contains(among, c) {
			continue
		}
		says := &d.cols[c].says
		k, ok := says.part, says.hasPart
		if says.letterM {
			ok = true
			k = partMonth
			if afterHour || at[partMonth] >= 0 {
				k = partMinute
			}
		}
		if !ok || says.other || says.elapsed || at[k] >= 0 || !d.holds(c, k, false) {
			continue
		}
		if k == partHour {
			afterHour = true
		}
		at[k] = c
	}
	has := func(k part) bool { return at[k] >= 0 }
	date := has(partYear) && (has(partMonth) && has(partDay) || has(partDayOfYear))
	if !has(partHour) || !has(partMinute) && !date || !has(partMinute) && d.cols[at[partHour]].integers == d.cols[at[partHour]].numbers {
		return nil, nil
	}
	if !date && !has(partSecond) {
		return nil, nil
	}
	for k, c := range at {
		if c < 0 || !date && k < int(partHour) || part(k) == partDayOfYear && has(partMonth) && has(partDay) {
			continue
		}
		cols = append(cols, c)
		parts = append(parts, part(k))
	}
	if len(cols) < 3 {
		return nil, nil
	}
	// in the file's order
	for i := range cols {
		for j := i; j > 0 && cols[j] < cols[j-1]; j-- {
			cols[j], cols[j-1] = cols[j-1], cols[j]
			parts[j], parts[j-1] = parts[j-1], parts[j]
		}
	}
	return cols, parts
}

func (d *detector) partsPlan(cols []int, parts []part, how string) bool {
	p := &Plan{kind: Parts, mode: modeParts, columns: cols, parts: parts, decimal: d.s.Decimal, settings: d.s, choice: ymd}
	p.rolls = !slices.Contains(parts, partYear)
	for i, k := range parts {
		if i > 0 {
			p.format += ", "
		}
		p.format += partNames[k]
	}
	m := d.measure(p)
	if m.ok == 0 || how != "by their headings" && m.backwards > 0 && !p.descending {
		return false
	}
	before := len(d.out)
	d.add(p, m, 95, fmt.Sprintf("%s: %s in columns of their own, %s", d.columnsText(cols), p.format, how))
	if len(d.out) == before {
		return false
	}
	d.used = append(d.used, cols...)
	return true
}

// named proposes the columns that the user named, and nothing else.
func (d *detector) named() {
	cols := slices.Clone(d.s.Columns)
	for _, c := range cols {
		if c < 0 || c >= len(d.cols) {
			return
		}
	}
	if len(cols) > 1 {
		if pc, parts := d.partsByHeading(cols); pc != nil && len(pc) == len(cols) {
			d.partsPlan(pc, parts, "named by the user")
			return
		}
		d.dateTime(cols)
		if len(d.out) > 0 {
			return
		}
		// the columns' own order may not be the text's
		slices.Sort(cols)
		d.dateTime(cols)
		if len(d.out) == 0 && len(cols) >= 5 {
			for _, order := range [...][6]part{
				{partYear, partMonth, partDay, partHour, partMinute, partSecond},
				{partDay, partMonth, partYear, partHour, partMinute, partSecond},
			} {
				if len(cols) <= len(order) && d.partsPlan(d.s.Columns, slices.Clone(order[:len(cols)]), "named by the user") {
					return
				}
			}
		}
		return
	}
	c := cols[0]
	q := &d.cols[c]
	switch {
	case q.stamps == 0 || q.numbers*2 > q.filled && q.stamps < q.numbers:
		d.number(c, true)
	case q.dates*2 > q.stamps:
		d.dateTime(cols)
	default:
		d.timeOnly(c)
	}
	if len(d.out) == 0 && q.numbers > 0 {
		d.number(c, true)
	}
}
