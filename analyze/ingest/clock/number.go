package clock

import "math/bits"

var pow10 = [20]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19}

// scaleToNs gives m · 10^-dec · unit nanoseconds, rounded half up; ok is false when it does not fit.
func scaleToNs(m uint64, dec int, unit int64) (int64, bool) {
	hi, lo := bits.Mul64(m, uint64(unit))
	for dec < 0 {
		h2, l2 := bits.Mul64(lo, 10)
		if hi > (1<<63)/10 {
			return 0, false
		}
		hi = hi*10 + h2
		lo = l2
		dec++
		if hi != 0 {
			return 0, false
		}
	}
	for dec > 19 { // digits far below a nanosecond
		q := hi / 10
		rem := hi % 10
		l, _ := bits.Div64(rem, lo, 10)
		hi, lo = q, l
		dec--
		if hi == 0 && lo == 0 {
			return 0, true
		}
	}
	p := pow10[dec]
	if hi >= p {
		return 0, false
	}
	q, rem := bits.Div64(hi, lo, p)
	if rem >= p-rem && rem > 0 {
		q++
	}
	if q > 1<<63-1 {
		return 0, false
	}
	return int64(q), true
}

// decimal is a number as written: ±mantissa · 10^-dec.
type decimalNumber struct {
	mantissa uint64
	dec      int
	negative bool
}

// readDecimal reads [sign]digits[mark digits][e[sign]digits], with blanks around; both '.' and the given mark are taken
// as the decimal mark unless they differ and both occur. Digits beyond the nineteenth are dropped.
func readDecimal(b []byte, mark byte) (n decimalNumber, ok bool) {
	b = trim(b)
	i := 0
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		n.negative = b[i] == '-'
		i++
		for i < len(b) && b[i] == ' ' {
			i++
		}
	}
	digits, seen, frac := 0, false, false
	for ; i < len(b); i++ {
		c := b[i]
		if '0' <= c && c <= '9' {
			seen = true
			if digits < 18 || digits == 18 && n.mantissa < 1e18 {
				n.mantissa = n.mantissa*10 + uint64(c-'0')
				if n.mantissa > 0 {
					digits++
				}
				if frac {
					n.dec++
				}
			} else if !frac {
				n.dec--
			}
			continue
		}
		if (c == mark || c == '.') && !frac {
			frac = true
			continue
		}
		break
	}
	if !seen {
		return n, false
	}
	if i < len(b) && (b[i] == 'e' || b[i] == 'E') {
		i++
		neg := false
		if i < len(b) && (b[i] == '-' || b[i] == '+') {
			neg = b[i] == '-'
			i++
		}
		e, any := 0, false
		for ; i < len(b) && '0' <= b[i] && b[i] <= '9'; i++ {
			any = true
			if e < 10000 {
				e = e*10 + int(b[i]-'0')
			}
		}
		if !any {
			return n, false
		}
		if neg {
			e = -e
		}
		n.dec -= e
	}
	return n, i == len(b)
}

// ns gives the number as nanoseconds when it counts units of unit nanoseconds.
func (n decimalNumber) ns(unit int64) (int64, bool) {
	if n.mantissa == 0 {
		return 0, true
	}
	if n.dec < -30 {
		return 0, false
	}
	v, ok := scaleToNs(n.mantissa, n.dec, unit)
	if n.negative {
		v = -v
	}
	return v, ok
}

// float gives the number as a float64, for judging only, not for times.
func (n decimalNumber) float() float64 {
	v := float64(n.mantissa)
	for d := n.dec; d > 0 && v != 0; d -= 15 {
		v /= float64(pow10[min(d, 15)])
	}
	for d := n.dec; d < 0 && v < 1e300; d += 15 {
		v *= float64(pow10[min(-d, 15)])
	}
	if n.negative {
		return -v
	}
	return v
}
