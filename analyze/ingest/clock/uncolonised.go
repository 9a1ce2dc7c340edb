package clock

// rewriteOf says whether a column is a time of day without colons, which alone would be read as a date or as a number.
func (d *detector) rewriteOf(c int) rewrite {
	p := &d.cols[c]
	if p.known {
		return p.rewrite
	}
	p.known = true
	if p.filled == 0 || p.says.other {
		return asWritten
	}
	dots, six, four, noughts := 0, 0, 0, 0
	for _, row := range d.t.Rows {
		if c >= len(row) {
			continue
		}
		b := trim(row[c])
		switch {
		case len(b) == 0:
			continue
		case dottedTime(b):
			dots++
		}
		if gluedTime(b, glued6) {
			six++
			if len(b) >= 6 && b[0] == '0' {
				noughts++
			}
		}
		if gluedTime(b, glued4) {
			four++
		}
		if dots+six+four == 0 {
			return asWritten
		}
	}
	switch {
	case dots == p.filled:
		as := Plan{kind: TimeOfDay, mode: modeStamp, columns: []int{c}, decimal: p.decimal, settings: d.s, rolls: true, rewrite: dotted, rewritten: c}
		m := d.measureOnce(&as)
		if m.bad > 0 {
			break
		}
		if !p.says.ofDay && !p.says.elapsed {
			// As dates they would have to run on better.
			date := Plan{kind: DateTime, mode: modeStamp, columns: []int{c}, decimal: p.decimal, settings: d.s}
			n := d.measureOnce(&date)
			if m.backwards > 0 || m.forward == 0 || n.bad == 0 && n.backwards == 0 && n.medianS < 20*86400 {
				break
			}
		}
		p.rewrite = dotted
	case p.says.glued6 && six == p.filled, six == p.filled && p.says.unit == 0 && (p.says.time || p.says.ofDay) && p.integers > 0 &&
		(noughts == p.filled || p.says.ofDay && p.hi >= 1e4 || p.hi >= 1e4 && d.dateBeside(c)):
		p.rewrite = glued6
	case p.says.glued4 && four == p.filled:
		p.rewrite = glued4
	}
	if p.rewrite != asWritten {
		p.stamps, p.times, p.looked, p.dates, p.numbers = p.filled, p.filled, p.filled, 0, 0
		for _, row := range d.t.Rows {
			if c < len(row) {
				d.joined = colonised(d.joined[:0], trim(row[c]), p.rewrite)
				if p.hasTime.scan(d.joined) {
					break
				}
			}
		}
	}
	return p.rewrite
}

// dateBeside says whether the column before or behind holds dates alone.
func (d *detector) dateBeside(c int) bool {
	for _, k := range [2]int{c - 1, c + 1} {
		if k >= 0 && k < len(d.cols) && d.most(d.cols[k].dates, d.cols[k].looked) && d.cols[k].times == 0 {
			return true
		}
	}
	return false
}
