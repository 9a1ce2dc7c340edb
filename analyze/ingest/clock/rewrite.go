package clock

// rewrite is how a time without colons is brought into the form with colons before it is read.
type rewrite uint8

const (
	asWritten rewrite = iota
	dotted            // 08.36.00
	glued6            // 083600, or 83600 where leading noughts are lost
	glued4            // 0836
	dateOnly          // 13.05.2024 00:00, whose time stands in another column
)

// colonised appends the time in c to dst with colons between its numbers. What has not the form that is
// looked for is appended as it stands.
func colonised(dst, c []byte, how rewrite) []byte {
	switch how {
	case dateOnly:
		for i := range c {
			if c[i] == ' ' || c[i] == 'T' {
				return append(dst, c[:i]...)
			}
		}
	case dotted:
		left := 2
		for _, x := range c {
			if x == '.' && left > 0 {
				x = ':'
				left--
			}
			dst = append(dst, x)
		}
		return dst
	case glued6, glued4:
		n := 0
		for n < len(c) && c[n]-'0' <= 9 {
			n++
		}
		want := 6
		if how == glued4 {
			want = 4
		}
		if n == 0 || n > want {
			break
		}
		for i := range want {
			if i > 0 && i%2 == 0 {
				dst = append(dst, ':')
			}
			if i < want-n {
				dst = append(dst, '0')
			} else {
				dst = append(dst, c[i-(want-n)])
			}
		}
		return append(dst, c[n:]...)
	}
	return append(dst, c...)
}

// dottedTime says whether a cell can be hh.mm or hh.mm.ss with a fraction or without.
func dottedTime(c []byte) bool {
	part, digits, v := 0, 0, 0
	for i, x := range c {
		switch {
		case x-'0' <= 9:
			digits++
			v = v*10 + int(x-'0')
			if digits > 2 && part < 3 {
				return false
			}
		case x == '.' && digits > 0 && (part == 0 || digits == 2) && i+1 < len(c):
			if part == 0 && v > 23 || part > 0 && v > 59 {
				return false
			}
			part++
			digits, v = 0, 0
		default:
			return false
		}
	}
	return part >= 2 && digits >= 2 && (part > 2 || v <= 59)
}

// gluedTime says whether a cell is hhmmss in one, noughts in front lost or not, or hhmm.
func gluedTime(c []byte, how rewrite) bool {
	if len(c) == 0 {
		return false
	}
	v := 0
	for i, x := range c {
		if x == '.' && i >= 3 && i+1 < len(c) {
			break
		}
		if x-'0' > 9 || i >= 6 {
			return false
		}
		v = v*10 + int(x-'0')
	}
	if how == glued4 {
		return len(c) <= 4 && v/100 < 24 && v%100 < 60
	}
	return v/10000 < 24 && v/100%100 < 60 && v%100 < 60
}
