package clock

// number reads a cell that counts units.
func (r *Reader) number(b []byte) (int64, Status) {
	p := r.plan
	m, i := uint64(0), 0
	for i < len(b) && b[i]-'0' < 10 {
		m = m*10 + uint64(b[i]-'0')
		i++
	}
	if i > 0 && i <= 18 {
		dec := 0
		if i < len(b) && b[i] == p.decimal && len(b) <= 19 {
			from := i + 1
			i++
			for i < len(b) && b[i]-'0' < 10 {
				m = m*10 + uint64(b[i]-'0')
				i++
			}
			dec = i - from
		}
		if i == len(b) && dec < 10 && m <= p.limit[dec] && !p.snap {
			return int64(m) * p.mul[dec], OK
		}
	}
	return r.slowNumber(b)
}

func (r *Reader) slowNumber(b []byte) (int64, Status) {
	p := r.plan
	b = trim(b)
	if len(b) == 0 {
		return 0, Blank
	}
	n, ok := readDecimal(b, p.decimal)
	if !ok {
		// the unit may stand in the cell: "12.5 s"
		if r.st.scan(b) && r.st.worded && !r.st.hasDate {
			v := r.st.daySeconds*second + int64(r.st.ns)
			if r.st.negative {
				v = -v
			}
			return v, OK
		}
		return 0, Bad
	}
	v, ok := n.ns(p.unit)
	if !ok || v > maxNs || v < -maxNs {
		return 0, Bad
	}
	if p.snap {
		v = snapDays(v, n.dec)
	}
	return v, OK
}

// snapDays moves a time that was written in days with dec decimals to the whole second, or else the whole
// millisecond, that lies within the notation's rounding: 44429.3583333333 stands for 08:36:00.
func snapDays(ns int64, dec int) int64 {
	if dec < 5 || dec > 18 {
		return ns
	}
	half := day/int64(pow10[dec])*5/10 + day/int64(pow10[dec])/20 + 2000
	for _, grid := range [2]int64{second, 1e6} {
		if half > grid/2 {
			continue
		}
		near := (ns + grid/2) / grid * grid
		if d := near - ns; d <= half && d >= -half {
			return near
		}
	}
	return ns
}
