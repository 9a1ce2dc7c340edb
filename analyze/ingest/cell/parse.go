package cell

import (
	"math"
	"strconv"
	"unicode/utf8"
)

// Powers of ten that a float64 holds exactly.
var tens = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// ParsePlain reads a plain number: an optional sign, digits with at most one decimal mark, an optional
// exponent; nothing else, no blanks. decimal is '.' or ','. It returns the number, correctly rounded
// (the same bits as strconv.ParseFloat gives for the cell with its mark written '.'), and the digits
// written behind the mark less the exponent, not below 0. ok is false for anything else, and for a number too
// large for a float64. It never allocates.
//
// Short numbers are read as a whole number and divided by a power of ten. Both are exact in a float64, so the quotient
// is the correctly rounded value (Clinger, How to read floating point numbers accurately, 1990); longer ones go to strconv.
func ParsePlain(b []byte, decimal byte) (v float64, decimals int, ok bool) {
	i, n := 0, len(b)
	negative := false
	if n > 0 && (b[0] == '-' || b[0] == '+') {
		negative = b[0] == '-'
		i = 1
	}
	from := i
	m := uint64(0)
	for i < n {
		d := b[i] - '0'
		if d > 9 {
			break
		}
		m = m*10 + uint64(d)
		i++
	}
	digits := i - from
	frac := 0
	if i < n && b[i] == decimal {
		i++
		from = i
		for i < n {
			d := b[i] - '0'
			if d > 9 {
				break
			}
			m = m*10 + uint64(d)
			i++
		}
		frac = i - from
		digits += frac
	}
	if digits == 0 {
		return 0, 0, false
	}
	if i == n && digits <= 15 { // below 2^53
		v = float64(m)
		if frac > 0 {
			v /= tens[frac]
		}
		if negative {
			v = -v
		}
		return v, frac, true
	}
	return plainRest(b, decimal, i, m, digits, frac, negative)
}

// plainRest finishes numbers with an exponent or with many digits.
func plainRest(b []byte, decimal byte, i int, m uint64, digits, frac int, negative bool) (v float64, decimals int, ok bool) {
	n := len(b)
	e := 0
	if i < n && (b[i] == 'e' || b[i] == 'E') {
		i++
		minus := false
		if i < n && (b[i] == '-' || b[i] == '+') {
			minus = b[i] == '-'
			i++
		}
		from := i
		for i < n && b[i]-'0' <= 9 {
			if e < 10000 {
				e = e*10 + int(b[i]-'0')
			}
			i++
		}
		if i == from {
			return 0, 0, false
		}
		if minus {
			e = -e
		}
	}
	if i != n {
		return 0, 0, false
	}
	decimals = max(0, frac-e)
	if p := e - frac; digits <= 19 && m < 1<<53 && p >= -22 && p <= 22 {
		v = float64(m)
		if p < 0 {
			v /= tens[-p]
		} else {
			v *= tens[p]
		}
		if negative {
			v = -v
		}
		return v, decimals, true
	}
	var buf [64]byte
	if n > len(buf) {
		return 0, 0, false
	}
	c := buf[:copy(buf[:], b)]
	if decimal != '.' {
		for k := range c {
			if c[k] == decimal {
				c[k] = '.'
			}
		}
	}
	v, err := strconv.ParseFloat(string(c), 64)
	if err != nil {
		return 0, 0, false
	}
	return v, decimals, true
}

// Parse reads a cell the tolerant way; see Value. decimal is '.' or ','. It takes blanks and quotes round the cell,
// a plus sign, a sign apart from its digits, typographic and full-width signs and digits, thousands marks,
// a unit behind the number, scientific notation, and the words in many languages that loggers write for "no reading".
// A number that only the other decimal mark would explain ("23,4" where '.' is the mark) is Text. It does not allocate.
func Parse(b []byte, decimal byte) Value {
	if v, d, ok := ParsePlain(b, decimal); ok {
		return bounded(Value{Kind: Number, Number: v, Decimals: d})
	}
	b = strip(b)
	if len(b) == 0 {
		return Value{Kind: Empty}
	}
	if v, ok := tolerant(b, decimal); ok {
		return bounded(v)
	}
	if name := markerName(b); name != "" {
		return Value{Kind: Marker, Marker: name}
	}
	return Value{}
}

// bounded flags numbers beyond MaxMagnitude.
func bounded(v Value) Value {
	if v.Number > MaxMagnitude || v.Number < -MaxMagnitude {
		v.Number = math.Copysign(MaxMagnitude, v.Number)
		v.OutOfRange = true
	}
	return v
}

// blank gives the length of the blank that b starts with, 0 if it starts with none. Tabs, no-break, thin, figure and
// zero-width blanks and the byte order mark count, and so does a stray NUL.
func blank(b []byte) int {
	switch c := b[0]; {
	case c == ' ' || c >= 9 && c <= 13 || c == 0:
		return 1
	case c < 0xC2:
		return 0
	case c == 0xC2 && len(b) > 1 && b[1] == 0xA0:
		return 2
	case len(b) > 2 && c == 0xE2 && b[1] == 0x80 && (b[2] >= 0x80 && b[2] <= 0x8F || b[2] == 0xAF):
		return 3
	case len(b) > 2 && c == 0xE3 && b[1] == 0x80 && b[2] == 0x80, len(b) > 2 && c == 0xEF && b[1] == 0xBB && b[2] == 0xBF:
		return 3
	}
	return 0
}

func skipBlanks(b []byte) []byte {
	for len(b) > 0 {
		k := blank(b)
		if k == 0 {
			break
		}
		b = b[k:]
	}
	return b
}

func cutBlanks(b []byte) []byte {
	for len(b) > 0 {
		c := b[len(b)-1]
		if c == ' ' || c >= 9 && c <= 13 || c == 0 {
			b = b[:len(b)-1]
			continue
		}
		if c < 0x80 {
			break
		}
		cut := 0
		for k := 2; k <= 3 && k <= len(b); k++ {
			if blank(b[len(b)-k:]) == k {
				cut = k
				break
			}
		}
		if cut == 0 {
			break
		}
		b = b[:len(b)-cut]
	}
	return b
}

// strip takes blanks and what is left of quoting off a cell: "23.4", ="23.4", '23.4.
func strip(b []byte) []byte {
	b = cutBlanks(skipBlanks(b))
	if len(b) > 2 && b[0] == '=' && b[1] == '"' {
		b = b[1:]
	}
	for len(b) > 0 && (b[0] == '"' || b[0] == '\'') {
		b = skipBlanks(b[1:])
	}
	for len(b) > 0 && (b[len(b)-1] == '"' || b[len(b)-1] == '\'') {
		b = cutBlanks(b[:len(b)-1])
	}
	return b
}

// sign reads the sign that b starts with and gives its length in bytes, 0 if there is none.
func sign(b []byte) (negative bool, n int) {
	switch b[0] {
	case '-':
		return true, 1
	case '+':
		return false, 1
	}
	if b[0] < utf8.RuneSelf {
		return false, 0
	}
	r, size := utf8.DecodeRune(b)
	switch r {
	case '\u2212', '\u2010', '\u2011', '\u2012', '\u2013', '\u2014', '\uFE63', '\uFF0D':
		return true, size
	case '\uFF0B', '\uFE62':
		return false, size
	}
	return false, 0
}

// mark classes of a sign inside a number
const (
	noMark    = 0
	spaceMark = ' '
	quoteMark = '\''
)

// digitOrMark reads one digit or separating mark at the start of b: c is the digit's ASCII byte, '.' or ',', ' ' for
// any blank, an ASCII apostrophe for any apostrophe; size 0 means neither.
func digitOrMark(b []byte) (c byte, size int) {
	switch x := b[0]; {
	case x-'0' <= 9 || x == '.' || x == ',' || x == '\'':
		return x, 1
	case x == ' ':
		return spaceMark, 1
	case x < utf8.RuneSelf:
		return 0, 0
	}
	if k := blank(b); k > 0 {
		return spaceMark, k
	}
	r, k := utf8.DecodeRune(b)
	switch {
	case r >= 0xFF10 && r <= 0xFF19:
		return byte(r-0xFF10) + '0', k
	case r == 0xFF0E:
		return '.', k
	case r == 0xFF0C:
		return ',', k
	case r == 0x2019 || r == 0xFF07 || r == 0x02BC:
		return quoteMark, k
	}
	return 0, 0
}

// tolerant reads a number with all that may stand round it. b is stripped and not empty.
func tolerant(b []byte, decimal byte) (Value, bool) {
	var buf [96]byte // the number in plain notation
	n := 0
	v := Value{Kind: Number}
	negative, k := sign(b)
	if k > 0 {
		b = skipBlanks(b[k:])
		if negative {
			buf[n] = '-'
			n++
		}
		if len(b) == 0 {
			return v, false
		}
	}
	// Digits and marks, in groups between marks.
	group := byte(noMark) // the thousands mark in use
	run := 0              // digits in the group at hand
	groups := 0           // thousands marks taken
	seen := false         // any digit
	fraction := false
	leadZero := false
	for len(b) > 0 && n < len(buf)-30 {
		c, size := digitOrMark(b)
		if size == 0 {
			break
		}
		if c-'0' <= 9 {
			if !seen && c == '0' {
				leadZero = true
			}
			seen = true
			buf[n] = c
			n++
			run++
			b = b[size:]
			continue
		}
		if c == decimal {
			if fraction || group != noMark && run != 3 {
				return v, false
			}
			if !seen && (len(b) == size || !startsWithDigit(b[size:])) {
				return v, false
			}
			fraction = true
			buf[n] = '.'
			n++
			run = 0
			b = b[size:]
			continue
		}
		// A thousands mark stands between digits, and three digits follow it.
		if !seen || !startsWithDigit(b[size:]) {
			break
		}
		if fraction || leadZero || group != noMark && (c != group || run != 3) || group == noMark && run > 3 {
			return v, false
		}
		group = c
		groups++
		run = 0
		b = b[size:]
	}
	if !seen || group != noMark && !fraction && run != 3 {
		return v, false
	}
	v.Grouped = groups > 0
	// exponent
	if len(b) > 1 && (b[0] == 'e' || b[0] == 'E' || b[0] == 'D') {
		i := 1
		minus, k := sign(b[i:])
		i += k
		from := i
		for i < len(b) && b[i]-'0' <= 9 {
			i++
		}
		if i > from && (b[0] != 'D' || k > 0) {
			buf[n] = 'e'
			n++
			if minus {
				buf[n] = '-'
				n++
			}
			for from < i-1 && b[from] == '0' {
				from++
			}
			n += copy(buf[n:n+5], b[from:i]) // five digits are more than any float64's exponent
			b = b[i:]
		}
	}
	if rest := cutBlanks(skipBlanks(b)); len(rest) > 0 {
		s, ok := suffixOf(rest)
		if !ok {
			return v, false
		}
		v.Suffix = s
	}
	x, d, ok := ParsePlain(buf[:n], '.')
	if !ok {
		if f, err := strconv.ParseFloat(string(buf[:n]), 64); err == nil || !math.IsInf(f, 0) {
			return v, false
		} else if f > 0 {
			x = math.MaxFloat64
		} else {
			x = -math.MaxFloat64
		}
	}
	v.Number, v.Decimals = x, d
	return v, true
}

func startsWithDigit(b []byte) bool {
	if len(b) == 0 {
		return false
	}
	c, size := digitOrMark(b)
	return size > 0 && c-'0' <= 9
}
