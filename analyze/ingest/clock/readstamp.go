package clock

const cacheLen = 48

// stamp reads a cell that holds a date, a time of day, or a length of time with colons.
func (r *Reader) stamp(b []byte) (int64, Status) {
	if r.cached {
		if ns, ok := r.sameText(b); ok {
			return r.rolled(ns), OK
		}
	}
	return r.slowStamp(b)
}

// sameText reads a cell that differs from an earlier one in nothing but the digits of its time. This is where
// nearly all rows go: no date is taken apart again until it changes.
func (r *Reader) sameText(b []byte) (int64, bool) {
	i := r.prefixN
	if len(b) < i+4 || string(b[:i]) != string(r.prefix[:i]) {
		return 0, false
	}
	h := int64(b[i] - '0')
	if h > 9 {
		return 0, false
	}
	i++
	if d := int64(b[i] - '0'); d <= 9 {
		h = h*10 + d
		i++
	}
	for i < len(b) && b[i]-'0' <= 9 && h < 100000 {
		h = h*10 + int64(b[i]-'0')
		i++
	}
	if i+3 > len(b) || b[i] != ':' {
		return 0, false
	}
	m1, m2 := b[i+1]-'0', b[i+2]-'0'
	if m1 > 5 || m2 > 9 {
		return 0, false
	}
	i += 3
	secs := h*3600 + (int64(m1)*10+int64(m2))*60
	three := false
	if i+3 <= len(b) && b[i] == ':' {
		s1, s2 := b[i+1]-'0', b[i+2]-'0'
		if s1 > 5 || s2 > 9 {
			return 0, false
		}
		secs += int64(s1)*10 + int64(s2)
		i += 3
		three = true
	}
	ns := int64(0)
	if i+1 < len(b) && (b[i] == '.' || b[i] == ',') && b[i+1]-'0' <= 9 {
		i++
		from := i
		for i < len(b) && b[i]-'0' <= 9 {
			if i-from == 9 {
				return 0, false
			}
			ns = ns*10 + int64(b[i]-'0')
			i++
		}
		ns *= int64(pow10[9-(i-from)])
	}
	if string(b[i:]) != string(r.suffix[:r.suffixN]) {
		return 0, false
	}
	p := r.plan
	if p.kind != Elapsed {
		if h > 23 {
			return 0, false
		}
		if r.half != noHalf {
			if h > 12 || h == 0 {
				return 0, false
			}
			if h == 12 {
				secs -= 12 * 3600
			}
			if r.half == afterNoon {
				secs += 12 * 3600
			}
		} else if h == 0 || h > 12 {
			r.lateHour = true
		}
	}
	if !three && p.minSec {
		secs /= 60
	}
	r.timeOfDay = secs*second + ns
	return r.base + secs*second + ns, true
}

// rolled adds the midnights that a clock without a date has passed.
func (r *Reader) rolled(ns int64) int64 {
	p := r.plan
	if !p.rolls || !r.begun && r.rows == 0 {
		return ns + r.carry
	}
	v := ns + r.carry
	jump := v - r.last
	const (
		hour = 3600 * second
		noon = 12 * hour
	)
	if p.descending {
		jump = -jump
	}
	if jump >= 0 {
		return v
	}
	add := int64(0)
	switch {
	case p.kind == Elapsed:
		// A display that starts again at 60 minutes or at 24 hours goes on; any other step back is a counter
		// that was started anew, or a fault, and is kept as it stands.
		add = day
		if p.minSec {
			add = hour
		}
		if jump > -add+add/16 {
			return v
		}
		r.rollovers++
	case jump >= -2*hour:
		return v // a step back, kept as it stands
	case p.halfDays && !r.lateHour && jump >= -noon && jump+noon <= 5*r.step+60*second:
		// hours from 1 to 12 and nothing names the half of the day: 12:59 goes on to 1:00
		add = noon
	default:
		add = day
		if jump > -noon {
			r.backRolls++
		}
		r.rollovers++
	}
	if p.descending {
		add = -add
	}
	if c := r.carry + add; c < maxNs/2 && c > -maxNs/2 {
		r.carry = c
	}
	return ns + r.carry
}

// slowStamp reads a cell whose text round the time is new.
func (r *Reader) slowStamp(b []byte) (int64, Status) {
	p := r.plan
	b = trim(b)
	if len(b) == 0 {
		return 0, Blank
	}
	s := &r.st
	if !s.scan(b) {
		return 0, Bad
	}
	if p.kind == Elapsed {
		if s.hasDate || s.half != noHalf || s.hasZone {
			return 0, Bad
		}
		secs := s.daySeconds
		if p.days4 {
			if !s.four {
				return 0, Bad
			}
			// The numbers are days, hours, minutes, seconds, not hours, minutes, seconds, hundredths.
			sec := secs - s.first*3600 - s.second*60
			secs = s.first*86400 + s.second*3600 + sec*60 + int64(s.fourth)
			s.ns = 0
		}
		if p.minSec && s.timeParts == 2 && !s.worded && !s.hasDays {
			secs /= 60
		}
		ns := secs*second + int64(s.ns)
		if s.negative {
			return -ns, OK
		}
		r.remember(b, s)
		return r.rolled(ns), OK
	}
	if s.signed || s.hasDays || s.worded {
		return 0, Bad
	}
	if s.hour > 24 || s.hour == 24 && (s.daySeconds != 86400 || s.ns != 0) {
		return 0, Bad
	}
	if p.kind == TimeOfDay {
		if s.hasDate || !s.hasTime {
			return 0, Bad
		}
		if s.hour == 0 || s.hour > 12 || s.half != noHalf {
			r.lateHour = true
		}
		r.zone(s)
		r.base = -int64(s.offsetS) * second
		r.timeOfDay = s.daySeconds*second + int64(s.ns)
		r.remember(b, s)
		return r.rolled(r.base + r.timeOfDay), OK
	}
	// date and time
	if !s.hasDate {
		if !s.hasTime || !r.hasDate || len(p.columns) < 2 {
			return 0, Bad
		}
		// The date is written only where it changes: the latest one holds.
		r.zone(s)
		r.base = (r.days[p.choice]+r.yearCarry)*day - int64(s.offsetS)*second
		r.timeOfDay = s.daySeconds*second + int64(s.ns)
		r.remember(b, s)
		return r.base + r.timeOfDay, OK
	}
	if !s.hasTime {
		if len(p.columns) > 1 {
			return 0, Bad
		}
		r.dateOnly++
	}
	if !r.stats.note(s, p, r.timeOfDay) {
		return 0, Bad
	}
	r.zone(s)
	if s.noYear {
		// December goes over to January of the next year.
		if r.hasDate && r.days[p.choice]-s.days[p.choice] > 300 {
			r.yearCarry += 366
		}
		r.noYear = true
	}
	r.hasDate = true
	r.days = s.days
	r.base = (s.days[p.choice]+r.yearCarry)*day - int64(s.offsetS)*second
	r.timeOfDay = s.daySeconds*second + int64(s.ns)
	r.remember(b, s)
	return r.base + r.timeOfDay, OK
}

// remember keeps the text round the time's digits and what it means.
func (r *Reader) remember(b []byte, s *stamp) {
	r.cached = false
	if !s.simple || !s.hasTime {
		return
	}
	pre, post := s.timeFrom, len(b)-s.timeTo
	if pre > cacheLen || post > cacheLen {
		return
	}
	copy(r.prefix[:], b[:pre])
	copy(r.suffix[:], b[s.timeTo:])
	r.prefixN, r.suffixN = pre, post
	r.half = s.half
	if r.plan.kind == Elapsed {
		r.base = 0
	}
	r.cached = true
}

// zone books the zone of a row.
func (r *Reader) zone(s *stamp) {
	if !s.hasZone {
		r.zonedNo++
		return
	}
	r.startZone = true
	r.zoneNamed = r.zoneNamed || s.zoneName
	for _, z := range r.zones[:r.zoneCount] {
		if z == s.offsetS {
			return
		}
	}
	if r.zoneCount < len(r.zones) {
		r.zones[r.zoneCount] = s.offsetS
		r.zoneCount++
	}
}
