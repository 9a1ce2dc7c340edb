package clock

// part is what one column of a clock in parts holds.
type part uint8

const (
	partYear part = iota
	partMonth
	partDay
	partHour
	partMinute
	partSecond
	partFraction // thousandths of a second
	partHalf     // AM or PM
	partDayOfYear
	partCount
)

var partNames = [partCount]string{"year", "month", "day", "hour", "minute", "second", "millisecond", "am/pm", "day of year"}

// partsState keeps the latest date, so that its days are worked out once a day.
type partsState struct {
	y, m, d int
	days    int64
}

// parts reads a row whose date and time stand in columns of their own.
func (r *Reader) parts(cells [][]byte) (int64, Status) {
	p := r.plan
	var v [partCount]int64
	v[partYear], v[partMonth], v[partDay] = 1970, 1, 1
	blank, half := 0, 0
	frac := int64(0)
	for i, k := range p.parts {
		if i >= len(cells) {
			return 0, Bad
		}
		c := cells[i]
		n, ok := smallInt(c)
		if !ok {
			c = trim(c)
			if len(c) == 0 {
				blank++
				continue
			}
			var buf [24]byte
			switch k {
			case partMonth:
				n = int64(monthOf(fold(c, &buf)))
				ok = n > 0
			case partHalf:
				half = halfOf(fold(c, &buf))
				ok = half != noHalf
			case partSecond, partMinute, partHour:
				unit := second
				if k == partMinute {
					unit *= 60
				} else if k == partHour {
					unit *= 3600
				}
				dn, okn := readDecimal(c, p.decimal)
				ns, okns := dn.ns(unit)
				if ok = okn && okns && ns >= 0 && ns < 60*unit; ok {
					n = ns / unit
					frac += ns % unit
				}
			default:
				dn, okn := readDecimal(c, p.decimal)
				ns, okns := dn.ns(1)
				n, ok = ns, okn && okns && dn.dec <= 1
			}
			if !ok {
				return 0, Bad
			}
		}
		v[k] = n
	}
	if blank == len(p.parts) {
		return 0, Blank
	}
	if blank > 0 {
		return 0, Bad
	}
	y, m, d := int(v[partYear]), int(v[partMonth]), int(v[partDay])
	if y >= 0 && y < 100 {
		y = fullYear(y)
	}
	if v[partHour] > 24 || v[partMinute] > 59 || v[partSecond] > 60 || v[partFraction] > 999 {
		return 0, Bad
	}
	h := v[partHour]
	if half != noHalf {
		if h < 1 || h > 12 {
			return 0, Bad
		}
		h %= 12
		if half == afterNoon {
			h += 12
		}
	}
	s := &r.partsState
	if y != s.y || m != s.m || d != s.d {
		if !validDate(y, m, d) {
			return 0, Bad
		}
		s.y, s.m, s.d, s.days = y, m, d, daysFromCivil(y, m, d)
	}
	days := s.days
	if doy := v[partDayOfYear]; doy > 0 {
		if doy > 366 {
			return 0, Bad
		}
		days += doy - 1
	}
	r.timeOfDay = (h*3600+v[partMinute]*60+v[partSecond])*second + v[partFraction]*1e6 + frac
	return days*day + r.timeOfDay, OK
}

// smallInt reads up to nine plain digits.
func smallInt(b []byte) (int64, bool) {
	if len(b) == 0 || len(b) > 9 {
		return 0, false
	}
	v := int64(0)
	for _, c := range b {
		if c-'0' > 9 {
			return 0, false
		}
		v = v*10 + int64(c-'0')
	}
	return v, true
}
