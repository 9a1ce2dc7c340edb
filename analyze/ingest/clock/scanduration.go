package clock

// scanDuration reads a length of time with unit words: "1 h 2 min 3.5 s", "12.5s".
func (s *stamp) scanDuration(b []byte, tk []token) bool {
	if word(tk, 0) {
		return s.scanISODuration(b, tk)
	}
	i := 0
	neg := false
	if punct(b, tk, 0, '-') || punct(b, tk, 0, '+') {
		neg = b[tk[0].from] == '-'
		i++
	}
	total := int64(0)
	last := int64(1 << 62)
	count := 0
	var fracDigits int
	for i < len(tk) {
		if !number(tk, i) || tk[i].digits > 12 {
			return false
		}
		v, dec := tk[i].value, 0
		i++
		if (punct(b, tk, i, '.') || punct(b, tk, i, ',')) && number(tk, i+1) && !tk[i].spaced && !tk[i+1].spaced {
			if tk[i+1].digits+tk[i-1].digits > 18 {
				return false
			}
			dec = tk[i+1].digits
			for range dec {
				v *= 10
			}
			v += tk[i+1].value
			i += 2
		}
		if !word(tk, i) {
			return false
		}
		var buf [24]byte
		unit := durationUnit(fold(b[tk[i].from:tk[i].to], &buf))
		if unit == 0 || unit >= last {
			return false
		}
		last = unit
		i++
		if punct(b, tk, i, '.') && (i+1 == len(tk) || tk[i+1].spaced) {
			i++
		}
		if punct(b, tk, i, ',') && i+1 < len(tk) {
			i++
		}
		ns, ok := scaleToNs(uint64(v), dec, unit)
		if !ok {
			return false
		}
		total += ns
		if total < 0 || total > maxNs {
			return false
		}
		fracDigits = dec
		count++
	}
	if count == 0 {
		return false
	}
	s.hasTime, s.worded = true, true
	s.daySeconds, s.ns = total/1e9, int32(total%1e9)
	s.negative = neg
	s.fracDigits = uint8(min(fracDigits, 9))
	s.timeParts = uint8(count)
	s.hour = -1
	return true
}

// scanISODuration reads P1DT2H3M4.5S (ISO 8601, durations with days and times).
func (s *stamp) scanISODuration(b []byte, tk []token) bool {
	inTime := false
	switch string(b[tk[0].from:tk[0].to]) {
	case "PT":
		inTime = true
	case "P":
	default:
		return false
	}
	total, last := int64(0), int64(1<<62)
	i := 1
	for i < len(tk) {
		if !number(tk, i) || tk[i].digits > 12 || tk[i].spaced {
			return false
		}
		v, dec := tk[i].value, 0
		i++
		if (punct(b, tk, i, '.') || punct(b, tk, i, ',')) && number(tk, i+1) && tk[i+1].digits <= 9 && v < 1e9 {
			dec = tk[i+1].digits
			v = v*int64(pow10[dec]) + tk[i+1].value
			i += 2
			s.fracDigits = uint8(dec)
		}
		if !word(tk, i) {
			return false
		}
		unit := int64(0)
		switch w := string(b[tk[i].from:tk[i].to]); {
		case !inTime && (w == "D" || w == "DT"):
			unit = 86400e9
			inTime = w == "DT"
		case inTime && w == "H":
			unit = 3600e9
		case inTime && w == "M":
			unit = 60e9
		case inTime && w == "S":
			unit = 1e9
		}
		i++
		ns, ok := scaleToNs(uint64(v), dec, unit)
		if unit == 0 || unit >= last || !ok || total+ns < 0 || total+ns > maxNs {
			return false
		}
		last = unit
		total += ns
		s.timeParts++
	}
	if s.timeParts == 0 {
		return false
	}
	s.hasTime, s.worded = true, true
	s.daySeconds, s.ns = total/1e9, int32(total%1e9)
	s.hour = -1
	return true
}
