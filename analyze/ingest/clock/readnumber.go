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

// Counts is how a clock that counts units turns a plain number into nanoseconds: a number of digits m (at most 18)
// of which dec < 10 are decimals is m * Mul[dec] where m <= Limit[dec].
type Counts struct {
	Decimal byte
	Limit   *[10]uint64
	Mul     *[10]int64
}

// Counts gives the rule of a plan whose cells are plain counts; ok is false for any other. With it a caller that
// reads digits anyway need not read them twice: TakeCount books the row as ParseCell would.
func (r *Reader) Counts() (c Counts, ok bool) {
	p := r.plan
	if p.mode != modeNumber || p.snap || len(p.columns) != 1 {
		return c, false
	}
	return Counts{p.decimal, &p.limit, &p.mul}, true
}

// TakeCount books one row at ns, by the rule of Counts, and gives its seconds.
func (r *Reader) TakeCount(ns int64) float64 {
	s, _ := r.take(ns, OK)
	return s
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
