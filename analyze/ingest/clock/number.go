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

// readDecimal reads [sign]digits[mark digits][e[sign]digits], with blanks around and thousands marks between groups of
// three digits: the other of point and comma, a blank, an apostrophe. Digits beyond the nineteenth are dropped.
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
	from := i
	digits, seen, frac := 0, false, false
	group := 0 // length of the thousands mark in use
	for i < len(b) {
		c := b[i]
		if c-'0' <= 9 {
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
			i++
			continue
		}
		if c == mark {
			if frac {
				break
			}
			frac = true
			i++
			continue
		}
		k := thousandsMark(b[i:])
		if k == 0 || frac || !seen || !threeDigits(b[i+k:]) {
			break
		}
		if group == 0 && (i-from > 3 || b[from] == '0') || group != 0 && (k != group || b[i] != b[i-3-k]) {
			break
		}
		group = k
		i += k
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

// thousandsMark gives the length of a mark that can stand between groups of digits, 0 for anything else.
func thousandsMark(b []byte) int {
	switch c := b[0]; {
	case c == '.' || c == ',' || c == '\'' || c == ' ':
		return 1
	case c == 0xE2 && len(b) > 2 && b[1] == 0x80 && b[2] == 0x99: // typographic apostrophe
		return 3
	case c >= 0x80:
		return spaceAt(b, 0)
	}
	return 0
}

// threeDigits says whether b begins with exactly three digits.
func threeDigits(b []byte) bool {
	return len(b) >= 3 && b[0]-'0' <= 9 && b[1]-'0' <= 9 && b[2]-'0' <= 9 && (len(b) == 3 || b[3]-'0' > 9)
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
