package clock

// scanDate reads the date from the tokens that the time left over. It is false when they hold something that is no date.
func (s *stamp) scanDate(b []byte, tk []token) bool {
	var num [6]int // token indices of the numbers
	count := 0
	month, monthAt, softMonth := 0, -1, false
	for i := range tk {
		if tk[i].used {
			continue
		}
		switch tk[i].kind {
		case tokNumber:
			if count == len(num) {
				return false
			}
			num[count] = i
			count++
		case tokWord:
			var buf [24]byte
			w := fold(b[tk[i].from:tk[i].to], &buf)
			if m := monthOf(w); m > 0 && (month == 0 || softMonth) {
				month, monthAt = m, i
				softMonth = string(w) == "mar" || string(w) == "lis" || string(w) == "set"
				tk[i].used = true
				continue
			} else if m > 0 && string(w) == "mar" {
				tk[i].used = true // Tuesday in French, Italian, Spanish
				continue
			}
			// A word that nothing takes up later is found at the end.
			tk[i].used = isFiller(w)
		}
	}
	if count == 0 {
		return month == 0
	}
	if month > 0 {
		return s.namedDate(b, tk, num[:count], month, monthAt)
	}
	first := &tk[num[0]]
	if count <= 4 && first.digits >= 8 {
		return s.gluedDate(b, tk, num[:count])
	}
	if count == 1 && first.digits == 6 && s.hasTime {
		return s.gluedDate(b, tk, num[:count])
	}
	if count == 2 {
		return s.shortDate(b, tk, num[0], num[1])
	}
	if count < 3 {
		return false
	}
	if first.digits == 3 || tk[num[1]].digits > 2 || first.digits > 4 {
		return false
	}
	// The three numbers of the date stand together and share their separator.
	sep, glued := separator(b, tk, num[0], num[1])
	sep2, glued2 := separator(b, tk, num[1], num[2])
	if sep != sep2 || glued || glued2 || sep == ':' && first.digits != 4 || sep == '+' {
		return false
	}
	s.dateSep = sep
	last := &tk[num[2]]
	for i := range 3 {
		tk[num[i]].used = true
	}
	s.hasDate = true
	if s.hasTime {
		s.timeFirst = s.timeFrom < first.from
	}
	a, m, c := int(first.value), int(tk[num[1]].value), int(last.value)
	if zeroDate(first, &tk[num[1]], last) {
		// The day nought of databases and spreadsheets: the cell holds a time of day and no date.
		s.hasDate = false
		return count == 3
	}
	switch {
	case first.digits == 4:
		if last.digits > 2 {
			return false
		}
		s.set(ymd, a, m, c)
		s.fixed = true
		s.days[dmy], s.days[mdy] = s.days[ymd], s.days[ymd]
		if s.valid == 0 {
			return false
		}
		s.valid = 1<<orders - 1
	case last.digits == 4:
		s.yearLast = true
		s.set(dmy, c, m, a)
		s.set(mdy, c, a, m)
	case last.digits <= 2:
		s.digits2 = true
		if last.digits == 2 {
			s.set(dmy, fullYear(c), m, a)
			s.set(mdy, fullYear(c), a, m)
		}
		if first.digits == 2 {
			s.set(ymd, fullYear(a), m, c)
		}
	default:
		return false
	}
	if s.valid == 0 {
		return false
	}
	if count > 3 {
		return s.looseTime(b, tk, num[3:count], sep)
	}
	return true
}

// zeroDate recognises 30 or 31 December 1899, which stand for "no date" (the zero of spreadsheet days).
func zeroDate(a, m, c *token) bool {
	december := func(x, y *token) bool { return x.value == 12 && (y.value == 30 || y.value == 31) }
	switch {
	case a.digits == 4 && a.value == 1899:
		return december(m, c)
	case c.digits == 4 && c.value == 1899:
		return december(m, a) || december(a, m)
	}
	return false
}

// noYearBase is the year that dates without a year are counted in; a leap year, so that every day exists.
const noYearBase = 2000

// shortDate reads a date of two numbers: 2024-134 (year and day of the year, ISO 8601), or day and month of an unnamed year
// with a time.
func (s *stamp) shortDate(b []byte, tk []token, i, j int) bool {
	p, q := &tk[i], &tk[j]
	sep, glued := separator(b, tk, i, j)
	if glued || q.spaced && sep != '.' {
		return false
	}
	switch {
	case p.digits == 4 && q.digits == 3 && sep == '-':
		y := int(p.value)
		if !validDate(y, 1, 1) || q.value < 1 || q.value > 366 || q.value == 366 && !validDate(y, 2, 29) {
			return false
		}
		days := daysFromCivil(y, 1, 1) + q.value - 1
		s.days = [orders]int64{days, days, days}
		s.valid, s.fixed = 1<<orders-1, true
	case s.hasTime && p.digits <= 2 && q.digits <= 2 && (sep == '/' || sep == '-' || sep == '.' && p.digits == 2 && q.digits == 2):
		s.noYear = true
		s.set(dmy, noYearBase, int(q.value), int(p.value))
		s.set(mdy, noYearBase, int(p.value), int(q.value))
		if s.valid == 0 {
			return false
		}
	default:
		return false
	}
	p.used, q.used = true, true
	s.hasDate = true
	s.dateSep = sep
	if s.hasTime {
		s.timeFirst = s.timeFrom < p.from
	}
	return true
}

func (s *stamp) set(order, y, m, d int) {
	if validDate(y, m, d) {
		s.days[order] = daysFromCivil(y, m, d)
		s.valid |= 1 << order
	}
}

// namedDate reads a date whose month is a word.
func (s *stamp) namedDate(b []byte, tk []token, num []int, month, monthAt int) bool {
	if len(num) < 1 || len(num) > 5 {
		return false
	}
	p := &tk[num[0]]
	q := p
	if len(num) > 1 {
		q = &tk[num[1]]
	}
	s.named = true
	s.nameLead = monthAt < num[0]
	y, d := 0, 0
	switch {
	case len(num) == 1 && s.hasTime && p.digits <= 2:
		y, d = noYearBase, int(p.value)
		s.noYear = true
	case len(num) == 1:
		return false
	case p.digits == 4 && q.digits <= 2:
		y, d = int(p.value), int(q.value)
	case q.digits == 4 && p.digits <= 2:
		y, d = int(q.value), int(p.value)
		s.yearLast = true
	case p.digits <= 2 && q.digits == 2 && p.value <= 31:
		y, d = fullYear(int(q.value)), int(p.value)
		s.yearLast, s.digits2 = true, true
	case p.digits == 2 && q.digits <= 2:
		y, d = fullYear(int(p.value)), int(q.value)
		s.digits2 = true
	default:
		return false
	}
	if !validDate(y, month, d) {
		return false
	}
	p.used, q.used = true, true
	s.hasDate, s.fixed = true, true
	days := daysFromCivil(y, month, d)
	s.days = [orders]int64{days, days, days}
	s.valid = 1<<orders - 1
	if s.hasTime {
		s.timeFirst = s.timeFrom < min(p.from, tk[monthAt].from)
	}
	s.dateSep = ' '
	if monthAt+1 < len(tk) && tk[monthAt+1].kind == tokPunct {
		s.dateSep = b[tk[monthAt+1].from]
	}
	if len(num) > 2 {
		return s.looseTime(b, tk, num[2:], s.dateSep)
	}
	return true
}

// gluedDate reads 20210821, 20210821083600, 20210821T0836, 210821 with a time.
func (s *stamp) gluedDate(b []byte, tk []token, num []int) bool {
	f := &tk[num[0]]
	v, d := f.value, f.digits
	clock, clockDigits := int64(-1), 0
	switch d {
	case 8:
	case 12, 14, 17:
		div := int64(1)
		for range d - 8 {
			div *= 10
		}
		clock, clockDigits = v%div, d-8
		v /= div
	case 6:
		s.set(ymd, fullYear(int(v/10000)), int(v/100%100), int(v%100))
		s.set(dmy, fullYear(int(v%100)), int(v/100%100), int(v/10000))
		s.set(mdy, fullYear(int(v%100)), int(v/10000), int(v/100%100))
		s.hasDate, s.digits2 = true, true
		f.used = true
		s.timeFirst = s.timeFrom < f.from
		return s.valid != 0
	default:
		return false
	}
	s.set(ymd, int(v/10000), int(v/100%100), int(v%100))
	if s.valid == 0 {
		return false
	}
	s.days[dmy], s.days[mdy] = s.days[ymd], s.days[ymd]
	s.valid, s.fixed = 1<<orders-1, true
	s.hasDate = true
	f.used = true
	if s.hasTime {
		s.timeFirst = s.timeFrom < f.from
		return len(num) == 1 && clock < 0
	}
	end := num[0] + 1 // token behind the time
	if clock < 0 {
		if len(num) < 2 {
			return true
		}
		g := &tk[num[1]]
		if g.digits != 4 && g.digits != 6 {
			return false
		}
		clock, clockDigits = g.value, g.digits
		g.used = true
		end = num[1] + 1
	}
	if !s.glue(clock, clockDigits) {
		return false
	}
	if s.timeParts == 3 && s.fracDigits == 0 && (punct(b, tk, end, '.') || punct(b, tk, end, ',')) && number(tk, end+1) && !tk[end+1].spaced {
		s.fractionOf(&tk[end+1])
		tk[end+1].used = true
		end += 2
	}
	if h, _ := halfAt(b, tk, end); h != noHalf {
		return false
	}
	s.scanZone(b, tk, end)
	for _, i := range num {
		if !tk[i].used {
			return false
		}
	}
	return true
}
