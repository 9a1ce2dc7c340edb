package clock

import "time"

// ParseInstant reads one date with time of day, as preambles write it ("Start: 21.08.2021 08:36:00"). order may be
// AnyOrder: then ok is false for a numeric date that two orders read differently, unless it is written with dots,
// which is day first. zoneKnown says that the text names its zone; without one the wall clock comes back as UTC.
func ParseInstant(text string, order Order) (t time.Time, zoneKnown, ok bool) {
	if len(text) > maxStamp {
		return time.Time{}, false, false
	}
	var buf [maxStamp]byte
	b := trim(buf[:copy(buf[:], text)])
	var s stamp
	if !s.scan(b) || !s.hasDate || s.noYear || s.hour > 24 || s.hour == 24 && s.daySeconds != 86400 {
		return time.Time{}, false, false
	}
	k := orderIndex(order)
	if s.fixed {
		k = dmy
	}
	if k < 0 {
		if n, one := only(s.valid); one {
			k = n
		} else if s.dateSep == '.' && s.valid&(1<<dmy) != 0 {
			k = dmy
		} else if s.valid == 1<<dmy|1<<mdy && s.days[dmy] == s.days[mdy] {
			k = dmy // 05/05
		} else {
			return time.Time{}, false, false
		}
	}
	if s.valid&(1<<k) == 0 {
		return time.Time{}, false, false
	}
	sec := s.days[k]*86400 + s.daySeconds
	zone := time.UTC
	if s.hasZone {
		sec -= int64(s.offsetS)
		if s.offsetS != 0 {
			zone = time.FixedZone(zoneText(s.offsetS), int(s.offsetS))
		}
	}
	return time.Unix(sec, int64(s.ns)).In(zone), s.hasZone, true
}

// ParseInterval reads a sampling interval as preambles write it: "5 s", "00:00:05", "500 ms", "1 min", "10". unit is the
// unit to take for a bare number ("" means seconds). Intervals of nothing or less are no intervals.
func ParseInterval(text, unit string) (seconds float64, ok bool) {
	if len(text) > maxStamp || len(unit) > maxStamp {
		return 0, false
	}
	var buf [maxStamp]byte
	b := trim(buf[:copy(buf[:], text)])
	n, isNumber := readDecimal(b, '.')
	if !isNumber {
		n, isNumber = readDecimal(b, ',')
	}
	if isNumber {
		ns := int64(second)
		if unit != "" {
			var ubuf [maxStamp]byte
			var fbuf [24]byte
			u := trim(ubuf[:copy(ubuf[:], unit)])
			for len(u) > 0 && (u[0] == '(' || u[0] == '[') {
				u = u[1:]
			}
			for len(u) > 0 && (u[len(u)-1] == ')' || u[len(u)-1] == ']' || u[len(u)-1] == '.') {
				u = u[:len(u)-1]
			}
			if ns = durationUnit(fold(u, &fbuf)); ns == 0 {
				return 0, false
			}
		}
		v, fits := n.ns(ns)
		return secondsOf(v), fits && v > 0
	}
	var s stamp
	if !s.scan(b) || s.hasDate || s.hasZone || s.half != noHalf || s.negative {
		return 0, false
	}
	v := s.daySeconds*second + int64(s.ns)
	if s.timeParts == 2 && !s.worded && s.fracDigits > 0 {
		v = s.daySeconds/60*second + int64(s.ns)
	}
	return secondsOf(v), v > 0
}
