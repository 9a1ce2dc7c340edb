package ingest

import "ringheat/analyze/ingest/cell"

// shortDecimal reads a number of at most 15 digits with an optional sign and mark, the form of nearly every
// reading: m / 10^d with both exact in a float64, so the quotient is correctly rounded (IEEE 754). ok is false for
// anything else.
func shortDecimal(b []byte, mark byte) (v float64, decimals int, ok bool) {
	i := 0
	neg := false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg = b[0] == '-'
		i = 1
	}
	var m uint64
	start, point := i, -1
	for ; i < len(b); i++ {
		if d := b[i] - '0'; d <= 9 {
			m = m*10 + uint64(d)
		} else if b[i] == mark && point < 0 {
			point = i
		} else {
			return 0, 0, false
		}
	}
	digits := i - start
	if point >= 0 {
		digits--
		decimals = i - point - 1
	}
	if digits == 0 || digits > 15 {
		return 0, 0, false
	}
	v = float64(m)
	if decimals > 0 {
		v /= powersOfTen[decimals]
	}
	if neg {
		v = -v
	}
	return v, decimals, true
}

// parseCell reads a cell: the short way where that serves, else the tolerant way.
func parseCell(b []byte, mark byte) cell.Value {
	if v, d, ok := shortDecimal(b, mark); ok {
		return cell.Value{Kind: cell.Number, Number: v, Decimals: d}
	}
	return cell.Parse(b, mark)
}
