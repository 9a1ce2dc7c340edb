package clock

// scanTime finds a time written with colons, its half of the day and its zone. It is false only when there is a
// time that cannot be (25 minutes past 99).
func (s *stamp) scanTime(b []byte, tk []token) bool {
	at, colonDate := -1, false
	for i := 0; i+2 < len(tk); i++ {
		if !colons(b, tk, i) {
			continue
		}
		if y := &tk[i]; y.digits == 4 && y.value >= firstYear && y.value <= lastYear {
			// A year before the colon: "17/Mar/2026:06:10:00", or a date with colons, "2026:03:17 06:10:00".
			if i >= 2 && !y.spaced && (tk[i-1].kind == tokWord || punct(b, tk, i-1, '/') || punct(b, tk, i-1, '-') || punct(b, tk, i-1, '.')) {
				colonDate = true
				tk[i+1].used = true
				continue
			}
			if i == 0 && colons(b, tk, 2) && tk[2].digits == 2 && tk[4].digits == 2 && tk[2].value <= 12 && tk[4].value <= 31 && tk[2].value*tk[4].value > 0 {
				tk[1].used, tk[3].used = true, true
				i += 4
				continue
			}
		}
		at = i
		break
	}
	if at < 0 {
		return s.wordTime(b, tk)
	}
	if tk[at].digits > 6 || tk[at+2].digits != 2 {
		return false
	}
	end := at + 3
	h, m, sec := tk[at].value, tk[at+2].value, int64(0)
	s.first, s.second = h, m
	s.timeParts = 2
	s.simple = true
	fracAt := -1
	if punct(b, tk, end, ':') && number(tk, end+1) && !tk[end].spaced && !tk[end+1].spaced {
		if tk[end+1].digits != 2 {
			return false
		}
		sec = tk[end+1].value
		s.timeParts = 3
		end += 2
		if punct(b, tk, end, ':') && number(tk, end+1) && !tk[end].spaced && !tk[end+1].spaced && tk[end+1].digits >= 2 {
			fracAt = end + 1 // h:mm:ss:fff
			s.simple = false
			if f := &tk[end+1]; f.digits == 2 && f.value < 60 && m < 24 && tk[at].digits <= 4 {
				s.four, s.fourth = true, int32(f.value) // or d:hh:mm:ss
			}
		}
	}
	if fracAt < 0 && (punct(b, tk, end, '.') || punct(b, tk, end, ',')) && number(tk, end+1) && !tk[end].spaced && !tk[end+1].spaced {
		// A fraction. "8:36.2021" cannot be told from one and is no form that is written.
		if !(punct(b, tk, end+2, '.') && number(tk, end+3) && !tk[end+3].spaced) {
			fracAt = end + 1
		}
	}
	if fracAt >= 0 {
		f := &tk[fracAt]
		s.fractionOf(f)
		if f.digits > 9 {
			s.simple = false
		}
		end = fracAt + 1
	}
	if m > 59 || sec > 60 {
		return false
	}
	s.timeFrom, s.timeTo = tk[at].from, tk[end-1].to
	s.hour = int32(h)
	s.daySeconds = h*3600 + m*60 + sec
	s.hasTime = true
	for i := at; i < end; i++ {
		tk[i].used = true
	}
	if at > 0 && tk[at-1].kind == tokPunct && !tk[at].spaced {
		switch b[tk[at-1].from] {
		case '.', '+':
			s.simple = false
		case ':':
			s.simple = s.simple && colonDate
		}
	}
	// A length of time with days, or with a sign.
	if at == 1 && (punct(b, tk, 0, '-') || punct(b, tk, 0, '+')) && !tk[1].spaced {
		s.signed = true
		s.negative = b[tk[0].from] == '-'
		s.simple = false
		tk[0].used = true
	}
	if at == 2 && number(tk, 0) && punct(b, tk, 1, '.') && !tk[1].spaced && !tk[2].spaced && tk[2].digits == 2 && end == len(tk) && h < 24 && tk[0].digits <= 4 {
		s.hasDays = true
		s.daySeconds += tk[0].value * 86400
		s.simple = false
		tk[0].used, tk[1].used = true, true
	}
	if at >= 2 && at <= 3 && number(tk, 0) && word(tk, 1) && (at == 2 || punct(b, tk, 2, ',')) && tk[0].digits <= 4 && h < 24 {
		var buf [24]byte
		if durationUnit(fold(b[tk[1].from:tk[1].to], &buf)) == 86400e9 && end == len(tk) {
			s.hasDays = true
			s.daySeconds += tk[0].value * 86400
			s.simple = false
			tk[0].used, tk[1].used = true, true
			if at == 3 {
				tk[2].used = true
			}
		}
	}
	end = s.scanHalf(b, tk, at, end)
	s.scanZone(b, tk, end)
	zoneWords(b, tk, end)
	if s.half != noHalf {
		if h < 1 || h > 12 {
			// "13:05 PM" and "0:05 AM" are written by some loggers; the 24 h reading is the only one.
			if h > 23 || s.half == beforeNoon && h > 12 {
				return false
			}
		} else {
			s.daySeconds -= h * 3600
			s.daySeconds += (h % 12) * 3600
			if s.half == afterNoon {
				s.daySeconds += 12 * 3600
			}
		}
	}
	return true
}

// colons says whether tokens i, i+1, i+2 are two numbers with a colon between and no blank.
func colons(b []byte, tk []token, i int) bool {
	return number(tk, i) && punct(b, tk, i+1, ':') && number(tk, i+2) && !tk[i+1].spaced && !tk[i+2].spaced
}

// wordTime reads a time whose numbers are followed by letters, behind a date: "08h36", "8h36m05s", "6時10分00秒". Without a date
// it is a length of time, which scanDuration reads.
func (s *stamp) wordTime(b []byte, tk []token) bool {
	at, before := -1, 0
	for i := 0; i+2 < len(tk); i++ {
		switch {
		case number(tk, i-1):
			before++
		case word(tk, i-1):
			var buf [24]byte
			if monthOf(fold(b[tk[i-1].from:tk[i-1].to], &buf)) > 0 {
				before++
			}
		}
		if before >= 2 && number(tk, i) && tk[i].digits <= 2 && unitWord(b, tk, i+1) == 3600e9 && number(tk, i+2) && tk[i+2].digits <= 2 {
			at = i
			break
		}
	}
	if at < 0 {
		return true
	}
	h, m, sec := tk[at].value, tk[at+2].value, int64(0)
	end := at + 3
	s.timeParts = 2
	if unitWord(b, tk, end) == 60e9 {
		end++
		if number(tk, end) && tk[end].digits <= 2 {
			s.timeParts = 3
			sec = tk[end].value
			end++
			if (punct(b, tk, end, '.') || punct(b, tk, end, ',')) && number(tk, end+1) && !tk[end+1].spaced {
				s.fractionOf(&tk[end+1])
				end += 2
			}
			if unitWord(b, tk, end) == 1e9 {
				end++
			}
		}
	}
	if h > 24 || m > 59 || sec > 60 {
		return true // a length of time, or nothing
	}
	for i := at; i < end; i++ {
		tk[i].used = true
	}
	s.hasTime = true
	s.hour, s.first, s.second = int32(h), h, m
	s.daySeconds = h*3600 + m*60 + sec
	s.timeFrom, s.timeTo = tk[at].from, tk[end-1].to
	s.scanZone(b, tk, end)
	return true
}

// unitWord gives the unit of time, in ns, that token i writes behind a number of a time; 0 for anything else.
func unitWord(b []byte, tk []token, i int) int64 {
	if !word(tk, i) {
		return 0
	}
	switch string(b[tk[i].from:tk[i].to]) {
	case "h", "H", "hr", "时", "時", "点", "點", "시":
		return 3600e9
	case "m", "M", "min", "mn", "分", "분":
		return 60e9
	case "s", "S", "sec", "秒", "초":
		return 1e9
	}
	return 0
}

// scanHalf looks for the half of the day behind the time, or directly before it, and gives the token after it.
func (s *stamp) scanHalf(b []byte, tk []token, at, end int) int {
	if h, next := halfAt(b, tk, end); h != noHalf {
		s.half = uint8(h)
		for i := end; i < next; i++ {
			tk[i].used = true
		}
		return next
	}
	if at > 0 && word(tk, at-1) && !tk[at-1].used {
		if h, next := halfAt(b, tk, at-1); h != noHalf && next == at {
			s.half = uint8(h)
			tk[at-1].used = true
		}
	}
	return end
}

// halfAt reads "am", "p.m.", "a. m.", "vorm." or a single a or p that is glued to the time.
func halfAt(b []byte, tk []token, i int) (half, next int) {
	if !word(tk, i) {
		return noHalf, i
	}
	var buf [24]byte
	w := fold(b[tk[i].from:tk[i].to], &buf)
	next = i + 1
	if len(w) == 1 && (w[0] == 'a' || w[0] == 'p') || string(w) == "π" || string(w) == "μ" {
		first := w[0]
		if string(w) == "π" {
			first = 'a'
		} else if string(w) == "μ" {
			first = 'p'
		}
		j := next
		if punct(b, tk, j, '.') {
			j++
		}
		if word(tk, j) {
			var buf2 [24]byte
			if m := string(fold(b[tk[j].from:tk[j].to], &buf2)); m == "m" || m == "μ" {
				j++
				if punct(b, tk, j, '.') {
					j++
				}
				if first == 'a' {
					return beforeNoon, j
				}
				return afterNoon, j
			}
		}
		if tk[i].spaced && next != len(tk) {
			return noHalf, i
		}
		switch w[0] {
		case 'a':
			return beforeNoon, next
		case 'p':
			return afterNoon, next
		}
		return noHalf, i
	}
	h := halfOf(w)
	if h == noHalf {
		return noHalf, i
	}
	if punct(b, tk, next, '.') {
		next++
	}
	return h, next
}

// fractionOf takes the digits of a token as a fraction of a second; digits beyond nanoseconds are cut.
func (s *stamp) fractionOf(f *token) {
	v, d := f.value, f.digits
	for d < 9 {
		v *= 10
		d++
	}
	for d > 9 {
		v /= 10
		d--
	}
	s.ns = int32(v)
	s.fracDigits = uint8(f.digits)
}

// glue takes hhmm, hhmmss or hhmmssfff.
func (s *stamp) glue(v int64, digits int) bool {
	ms := int64(0)
	if digits == 9 {
		ms = v % 1000
		v /= 1000
		s.fracDigits = 3
	}
	if digits == 4 {
		v *= 100
		s.timeParts = 2
	} else {
		s.timeParts = 3
	}
	h, m, sec := v/10000, v/100%100, v%100
	if h > 24 || m > 59 || sec > 60 {
		return false
	}
	s.hour, s.first, s.second = int32(h), h, m
	s.hasTime = true
	s.daySeconds = h*3600 + m*60 + sec
	s.ns = int32(ms * 1e6)
	return true
}

// looseTime reads a time without colons behind a date: "08.36.00", "08-36-00", "08 36 00", "08h36".
func (s *stamp) looseTime(b []byte, tk []token, num []int, dateSep byte) bool {
	if s.hasTime || len(num) < 2 || len(num) > 3 {
		return false
	}
	sep, glued := separator(b, tk, num[0], num[1])
	if glued || (sep != '.' && sep != '-' && sep != ' ') {
		return false
	}
	if len(num) == 3 {
		if sep2, glued2 := separator(b, tk, num[1], num[2]); glued2 || sep2 != sep {
			return false
		}
	}
	v := int64(0)
	for k, i := range num {
		if tk[i].digits > 2 || k > 0 && tk[i].digits != 2 {
			return false
		}
		v = v*100 + tk[i].value
		tk[i].used = true
	}
	if !s.glue(v, 2*len(num)) {
		return false
	}
	next := s.scanHalf(b, tk, num[0], num[len(num)-1]+1)
	s.scanZone(b, tk, next)
	h := int64(s.hour)
	if s.half != noHalf {
		if h < 1 || h > 12 {
			return false
		}
		s.daySeconds += (h%12 - h) * 3600
		if s.half == afterNoon {
			s.daySeconds += 12 * 3600
		}
	}
	return true
}
