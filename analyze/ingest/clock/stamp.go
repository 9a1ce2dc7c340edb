package clock

import "unicode/utf8"

// The three readings of a numeric date, as indices.
const (
	dmy = iota
	mdy
	ymd
	orders // how many
)

var orderNames = [orders]Order{DMY, MDY, YMD}

// half of the day
const (
	noHalf = iota
	beforeNoon
	afterNoon
)

// stamp is what one text says about time: a date, a time of day, a zone, or a length of time.
type stamp struct {
	hasDate  bool
	days     [orders]int64 // days since 1970-01-01 under each order
	valid    uint8         // bit i: order i gives a real date
	fixed    bool          // all orders read the same date: the month has a name or the year stands first in full
	dateSep  byte          // byte between the date's numbers; 0 when glued
	named    bool          // the month has a name
	yearLast bool
	nameLead bool // the month's name stands before the day
	digits2  bool // the year has two digits
	noYear   bool // no year is written; days are counted in noYearBase

	hasTime    bool
	daySeconds int64 // seconds of the time of day, or of the length of time; 0 .. 86400 for a time of day
	hour       int32
	ns         int32
	timeParts  uint8 // numbers in the time: 2 = h:mm (or mm:ss), 3 = h:mm:ss
	fracDigits uint8
	half       uint8
	timeFirst  bool // the time stands before the date
	hasDays    bool // "1d 02:03:04": a length of time with days
	negative   bool // a minus before a length of time
	signed     bool // a sign before a length of time
	four       bool // four numbers with colons: h:mm:ss:ff or d:hh:mm:ss
	fourth     int32
	worded     bool  // a length of time in words: "1 h 2 min"
	first      int64 // first number of the time as written
	second     int64

	hasZone  bool
	offsetS  int32
	zoneName bool // the zone is a name that only custom explains (CEST), not an offset

	// Where the digits of a plain time d:dd[:dd[.f]] stand in the text; simple says that everything around
	// them can be compared as bytes and the time alone read anew.
	simple           bool
	timeFrom, timeTo int
}

type tokenKind uint8

const (
	tokNumber tokenKind = iota
	tokWord
	tokPunct
)

type token struct {
	kind     tokenKind
	used     bool
	spaced   bool // blanks before it
	from, to int
	value    int64
	digits   int
}

const maxTokens = 28

// maxStamp is the longest text that is looked at as a date; longer ones are no dates.
const maxStamp = 80

// spaceAt gives the length of the blank that starts at b[i], 0 if there is none. No-break and thin blanks count.
func spaceAt(b []byte, i int) int {
	switch c := b[i]; {
	case c == ' ' || c == '\t' || c == '"':
		return 1
	case c == 0xC2 && i+1 < len(b) && b[i+1] == 0xA0:
		return 2
	case c == 0xE2 && i+2 < len(b) && b[i+1] == 0x80 && (b[i+2] >= 0x80 && b[i+2] <= 0x8A || b[i+2] == 0xAF || b[i+2] == 0x8E):
		return 3
	}
	return 0
}

func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t' || b[0] == '"') {
		b = b[1:]
	}
	for len(b) > 0 {
		if c := b[len(b)-1]; c != ' ' && c != '\t' && c != '"' && c != '\r' {
			break
		}
		b = b[:len(b)-1]
	}
	return b
}

// tokens cuts a text into numbers, words and signs; ok is false when it is too long or has too many.
func tokens(b []byte, t *[maxTokens]token) (n int, ok bool) {
	if len(b) > maxStamp {
		return 0, false
	}
	spaced := false
	for i := 0; i < len(b); {
		if k := spaceAt(b, i); k > 0 {
			i += k
			spaced = true
			continue
		}
		if n == maxTokens {
			return 0, false
		}
		from := i
		tk := &t[n]
		*tk = token{spaced: spaced, from: from}
		spaced = false
		c := b[i]
		switch {
		case '0' <= c && c <= '9':
			v := int64(0)
			for i < len(b) && '0' <= b[i] && b[i] <= '9' {
				if i-from < 18 {
					v = v*10 + int64(b[i]-'0')
				}
				i++
			}
			if i-from > 18 {
				return 0, false
			}
			tk.kind, tk.value, tk.digits = tokNumber, v, i-from
		case isLetter(c):
			i++
			for i < len(b) && isLetter(b[i]) && spaceAt(b, i) == 0 {
				i++
			}
			tk.kind = tokWord
		default:
			i++
			tk.kind = tokPunct
		}
		tk.to = i
		n++
	}
	return n, n > 0
}

func isLetter(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || c >= utf8.RuneSelf
}

// scan reads a text as a date, a time of day, both, or a length of time. It is the tolerant and slow way; readers go
// through it once for each new date. It does not allocate.
func (s *stamp) scan(b []byte) bool {
	*s = stamp{}
	var t [maxTokens]token
	n, ok := tokens(b, &t)
	if !ok {
		return false
	}
	tk := t[:n]
	if !s.scanTime(b, tk) {
		return false
	}
	if !s.hasTime && s.scanDuration(b, tk) {
		return true
	}
	if !s.scanDate(b, tk) {
		return false
	}
	if !s.hasDate && !s.hasTime {
		return false
	}
	for i := range tk {
		if tk[i].used {
			continue
		}
		if tk[i].kind != tokPunct {
			return false
		}
		switch b[tk[i].from] {
		case ',', '-', '/', '.', '(', ')', '[', ']', '|', ';', '_', '\'', '@':
			// signs between the parts carry nothing, but a trailing or leading one belongs to no known form
			if (i == len(tk)-1 || i == 0) && b[tk[i].from] != ',' && b[tk[i].from] != ')' && b[tk[i].from] != '(' && b[tk[i].from] != ']' && b[tk[i].from] != '[' && b[tk[i].from] != '.' && b[tk[i].from] != '\'' {
				return false
			}
		default:
			return false
		}
	}
	return true
}

func punct(b []byte, tk []token, i int, c byte) bool {
	return i >= 0 && i < len(tk) && tk[i].kind == tokPunct && b[tk[i].from] == c
}

func number(tk []token, i int) bool { return i >= 0 && i < len(tk) && tk[i].kind == tokNumber }

func word(tk []token, i int) bool { return i >= 0 && i < len(tk) && tk[i].kind == tokWord }

// scanTime finds a time written with colons, its half of the day and its zone. It is false only when there is a
// time that cannot be (25 minutes past 99).
func (s *stamp) scanTime(b []byte, tk []token) bool {
	at, colonDate := -1, false
	for i := 0; i+2 < len(tk); i++ {
		if !colons(b, tk, i) {
			continue
		}
		if y := &tk[i]; y.digits == 4 && y.value >= firstYear && y.value <= lastYear {
			// A year before the colon: "17/Mar/2026:06:10:00", or a date with colons, "2026:03:17 06:10:00".
			if i >= 2 && !y.spaced && (tk[i-1].kind == tokWord || punct(b, tk, i-1, '/') || punct(b, tk, i-1, '-') || punct(b, tk, i-1, '.')) {
				colonDate = true
				tk[i+1].used = true
				continue
			}
			if i == 0 && colons(b, tk, 2) && tk[2].digits == 2 && tk[4].digits == 2 && tk[2].value <= 12 && tk[4].value <= 31 && tk[2].value*tk[4].value > 0 {
				tk[1].used, tk[3].used = true, true
				i += 4
				continue
			}
		}
		at = i
		break
	}
	if at < 0 {
		return s.wordTime(b, tk)
	}
	if tk[at].digits > 6 || tk[at+2].digits != 2 {
		return false
	}
	end := at + 3
	h, m, sec := tk[at].value, tk[at+2].value, int64(0)
	s.first, s.second = h, m
	s.timeParts = 2
	s.simple = true
	fracAt := -1
	if punct(b, tk, end, ':') && number(tk, end+1) && !tk[end].spaced && !tk[end+1].spaced {
		if tk[end+1].digits != 2 {
			return false
		}
		sec = tk[end+1].value
		s.timeParts = 3
		end += 2
		if punct(b, tk, end, ':') && number(tk, end+1) && !tk[end].spaced && !tk[end+1].spaced && tk[end+1].digits >= 2 {
			fracAt = end + 1 // h:mm:ss:fff
			s.simple = false
			if f := &tk[end+1]; f.digits == 2 && f.value < 60 && m < 24 && tk[at].digits <= 4 {
				s.four, s.fourth = true, int32(f.value) // or d:hh:mm:ss
			}
		}
	}
	if fracAt < 0 && (punct(b, tk, end, '.') || punct(b, tk, end, ',')) && number(tk, end+1) && !tk[end].spaced && !tk[end+1].spaced {
		// A fraction. "8:36.2021" cannot be told from one and is no form that is written.
		if !(punct(b, tk, end+2, '.') && number(tk, end+3) && !tk[end+3].spaced) {
			fracAt = end + 1
		}
	}
	if fracAt >= 0 {
		f := &tk[fracAt]
		s.fractionOf(f)
		if f.digits > 9 {
			s.simple = false
		}
		end = fracAt + 1
	}
	if m > 59 || sec > 60 {
		return false
	}
	s.timeFrom, s.timeTo = tk[at].from, tk[end-1].to
	s.hour = int32(h)
	s.daySeconds = h*3600 + m*60 + sec
	s.hasTime = true
	for i := at; i < end; i++ {
		tk[i].used = true
	}
	if at > 0 && tk[at-1].kind == tokPunct && !tk[at].spaced {
		switch b[tk[at-1].from] {
		case '.', '+':
			s.simple = false
		case ':':
			s.simple = s.simple && colonDate
		}
	}
	// A length of time with days, or with a sign.
	if at == 1 && (punct(b, tk, 0, '-') || punct(b, tk, 0, '+')) && !tk[1].spaced {
		s.signed = true
		s.negative = b[tk[0].from] == '-'
		s.simple = false
		tk[0].used = true
	}
	if at == 2 && number(tk, 0) && punct(b, tk, 1, '.') && !tk[1].spaced && !tk[2].spaced && tk[2].digits == 2 && end == len(tk) && h < 24 && tk[0].digits <= 4 {
		s.hasDays = true
		s.daySeconds += tk[0].value * 86400
		s.simple = false
		tk[0].used, tk[1].used = true, true
	}
	if at >= 2 && at <= 3 && number(tk, 0) && word(tk, 1) && (at == 2 || punct(b, tk, 2, ',')) && tk[0].digits <= 4 && h < 24 {
		var buf [24]byte
		if durationUnit(fold(b[tk[1].from:tk[1].to], &buf)) == 86400e9 && end == len(tk) {
			s.hasDays = true
			s.daySeconds += tk[0].value * 86400
			s.simple = false
			tk[0].used, tk[1].used = true, true
			if at == 3 {
				tk[2].used = true
			}
		}
	}
	end = s.scanHalf(b, tk, at, end)
	s.scanZone(b, tk, end)
	zoneWords(b, tk, end)
	if s.half != noHalf {
		if h < 1 || h > 12 {
			// "13:05 PM" and "0:05 AM" are written by some loggers; the 24 h reading is the only one.
			if h > 23 || s.half == beforeNoon && h > 12 {
				return false
			}
		} else {
			s.daySeconds -= h * 3600
			s.daySeconds += (h % 12) * 3600
			if s.half == afterNoon {
				s.daySeconds += 12 * 3600
			}
		}
	}
	return true
}

// colons says whether tokens i, i+1, i+2 are two numbers with a colon between and no blank.
func colons(b []byte, tk []token, i int) bool {
	return number(tk, i) && punct(b, tk, i+1, ':') && number(tk, i+2) && !tk[i+1].spaced && !tk[i+2].spaced
}

// wordTime reads a time whose numbers are followed by letters, behind a date: "08h36", "8h36m05s", "6時10分00秒". Without a date
// it is a length of time, which scanDuration reads.
func (s *stamp) wordTime(b []byte, tk []token) bool {
	at := -1
	for i := 1; i+2 < len(tk); i++ {
		if number(tk, i) && tk[i].digits <= 2 && unitWord(b, tk, i+1) == 3600e9 && number(tk, i+2) && tk[i+2].digits <= 2 {
			at = i
			break
		}
	}
	if at < 0 {
		return true
	}
	h, m, sec := tk[at].value, tk[at+2].value, int64(0)
	end := at + 3
	s.timeParts = 2
	if unitWord(b, tk, end) == 60e9 {
		end++
		if number(tk, end) && tk[end].digits <= 2 {
			s.timeParts = 3
			sec = tk[end].value
			end++
			if (punct(b, tk, end, '.') || punct(b, tk, end, ',')) && number(tk, end+1) && !tk[end+1].spaced {
				s.fractionOf(&tk[end+1])
				end += 2
			}
			if unitWord(b, tk, end) == 1e9 {
				end++
			}
		}
	}
	if h > 24 || m > 59 || sec > 60 {
		return false
	}
	for i := at; i < end; i++ {
		tk[i].used = true
	}
	s.hasTime = true
	s.hour, s.first, s.second = int32(h), h, m
	s.daySeconds = h*3600 + m*60 + sec
	s.timeFrom, s.timeTo = tk[at].from, tk[end-1].to
	s.scanZone(b, tk, end)
	return true
}

// unitWord gives the unit of time, in ns, that token i writes behind a number of a time; 0 for anything else.
func unitWord(b []byte, tk []token, i int) int64 {
	if !word(tk, i) {
		return 0
	}
	switch string(b[tk[i].from:tk[i].to]) {
	case "h", "H", "hr", "时", "時", "点", "點", "시":
		return 3600e9
	case "m", "M", "min", "mn", "分", "분":
		return 60e9
	case "s", "S", "sec", "秒", "초":
		return 1e9
	}
	return 0
}

// scanHalf looks for the half of the day behind the time, or directly before it, and gives the token after it.
func (s *stamp) scanHalf(b []byte, tk []token, at, end int) int {
	if h, next := halfAt(b, tk, end); h != noHalf {
		s.half = uint8(h)
		for i := end; i < next; i++ {
			tk[i].used = true
		}
		return next
	}
	if at > 0 && word(tk, at-1) && !tk[at-1].used {
		if h, next := halfAt(b, tk, at-1); h != noHalf && next == at {
			s.half = uint8(h)
			tk[at-1].used = true
		}
	}
	return end
}

// halfAt reads "am", "p.m.", "a. m.", "vorm." or a single a or p that is glued to the time.
func halfAt(b []byte, tk []token, i int) (half, next int) {
	if !word(tk, i) {
		return noHalf, i
	}
	var buf [24]byte
	w := fold(b[tk[i].from:tk[i].to], &buf)
	next = i + 1
	if len(w) == 1 && (w[0] == 'a' || w[0] == 'p') || string(w) == "π" || string(w) == "μ" {
		first := w[0]
		if string(w) == "π" {
			first = 'a'
		} else if string(w) == "μ" {
			first = 'p'
		}
		j := next
		if punct(b, tk, j, '.') {
			j++
		}
		if word(tk, j) {
			var buf2 [24]byte
			if m := string(fold(b[tk[j].from:tk[j].to], &buf2)); m == "m" || m == "μ" {
				j++
				if punct(b, tk, j, '.') {
					j++
				}
				if first == 'a' {
					return beforeNoon, j
				}
				return afterNoon, j
			}
		}
		if tk[i].spaced && next != len(tk) {
			return noHalf, i
		}
		switch w[0] {
		case 'a':
			return beforeNoon, next
		case 'p':
			return afterNoon, next
		}
		return noHalf, i
	}
	h := halfOf(w)
	if h == noHalf {
		return noHalf, i
	}
	if punct(b, tk, next, '.') {
		next++
	}
	return h, next
}

// scanZone reads an offset or a zone's name behind the time.
func (s *stamp) scanZone(b []byte, tk []token, i int) {
	open := punct(b, tk, i, '(')
	if open {
		i++
	}
	named := false
	mark := i
	if word(tk, i) {
		var buf [24]byte
		off, ok := zoneOf(fold(b[tk[i].from:tk[i].to], &buf))
		if !ok {
			return
		}
		s.hasZone, s.offsetS = true, off
		s.zoneName = off != 0
		named = true
		i++
	}
	if (punct(b, tk, i, '+') || punct(b, tk, i, '-')) && number(tk, i+1) && !tk[i+1].spaced {
		sign := int32(1)
		if b[tk[i].from] == '-' {
			sign = -1
		}
		v, d := tk[i+1].value, tk[i+1].digits
		next := i + 2
		off, ok := int32(0), false
		switch {
		case d <= 2 && punct(b, tk, next, ':') && number(tk, next+1) && tk[next+1].digits == 2 && v <= 15 && tk[next+1].value < 60:
			off, ok = int32(v*3600+tk[next+1].value*60), true
			next += 2
		case d == 2 && v <= 15 && !dateFollows(b, tk, next):
			off, ok = int32(v*3600), true
		case d == 1 && named && !dateFollows(b, tk, next):
			off, ok = int32(v*3600), true
		case d == 4 && v/100 <= 15 && v%100 < 60 && !dateFollows(b, tk, next):
			off, ok = int32(v/100*3600+v%100*60), true
		}
		if ok {
			s.hasZone, s.zoneName = true, false
			s.offsetS = sign * off
			i = next
		} else if named {
			s.hasZone = true
		}
	}
	if !s.hasZone {
		return
	}
	for j := mark; j < i; j++ {
		tk[j].used = true
	}
	if open {
		tk[mark-1].used = true
		if punct(b, tk, i, ')') {
			tk[i].used = true
		}
	} else if punct(b, tk, i, '[') { // [Area/City] behind the offset
		for j := i; j < len(tk); j++ {
			tk[j].used = true
			if punct(b, tk, j, ']') {
				break
			}
		}
	}
}

// zoneWords passes over a zone's long name behind the time: "Central European Summer Time", "Mitteleuropäische Sommerzeit". Such a name
// says nothing that could be counted on.
func zoneWords(b []byte, tk []token, from int) {
	last := -1
	for i := from; i < len(tk); i++ {
		switch {
		case tk[i].kind == tokNumber:
			return
		case tk[i].kind == tokWord:
			var buf [24]byte
			switch string(fold(b[tk[i].from:tk[i].to], &buf)) {
			case "time", "zeit", "normalzeit", "sommerzeit", "winterzeit", "tid", "tijd":
				last = i
			}
		}
	}
	for i := from; i <= last; i++ {
		tk[i].used = true
	}
}

// dateFollows says whether the tokens from i on go on as a date: "-21.08.2021", "-2021-08-21".
func dateFollows(b []byte, tk []token, i int) bool {
	return i+1 < len(tk) && !tk[i].spaced && !tk[i+1].spaced && (punct(b, tk, i, '-') || punct(b, tk, i, '.') || punct(b, tk, i, '/')) && tk[i+1].kind != tokPunct
}

// scanDuration reads a length of time with unit words: "1 h 2 min 3.5 s", "12.5s".
func (s *stamp) scanDuration(b []byte, tk []token) bool {
	if word(tk, 0) {
		return s.scanISODuration(b, tk)
	}
	i := 0
	neg := false
	if punct(b, tk, 0, '-') || punct(b, tk, 0, '+') {
		neg = b[tk[0].from] == '-'
		i++
	}
	total := int64(0)
	last := int64(1 << 62)
	count := 0
	var fracDigits int
	for i < len(tk) {
		if !number(tk, i) || tk[i].digits > 12 {
			return false
		}
		v, dec := tk[i].value, 0
		i++
		if (punct(b, tk, i, '.') || punct(b, tk, i, ',')) && number(tk, i+1) && !tk[i].spaced && !tk[i+1].spaced {
			if tk[i+1].digits+tk[i-1].digits > 18 {
				return false
			}
			dec = tk[i+1].digits
			for range dec {
				v *= 10
			}
			v += tk[i+1].value
			i += 2
		}
		if !word(tk, i) {
			return false
		}
		var buf [24]byte
		unit := durationUnit(fold(b[tk[i].from:tk[i].to], &buf))
		if unit == 0 || unit >= last {
			return false
		}
		last = unit
		i++
		if punct(b, tk, i, '.') && (i+1 == len(tk) || tk[i+1].spaced) {
			i++
		}
		if punct(b, tk, i, ',') && i+1 < len(tk) {
			i++
		}
		ns, ok := scaleToNs(uint64(v), dec, unit)
		if !ok {
			return false
		}
		total += ns
		if total < 0 || total > maxNs {
			return false
		}
		fracDigits = dec
		count++
	}
	if count == 0 {
		return false
	}
	s.hasTime, s.worded = true, true
	s.daySeconds, s.ns = total/1e9, int32(total%1e9)
	s.negative = neg
	s.fracDigits = uint8(min(fracDigits, 9))
	s.timeParts = uint8(count)
	s.hour = -1
	return true
}

// scanISODuration reads P1DT2H3M4.5S (ISO 8601, durations with days and times).
func (s *stamp) scanISODuration(b []byte, tk []token) bool {
	inTime := false
	switch string(b[tk[0].from:tk[0].to]) {
	case "PT":
		inTime = true
	case "P":
	default:
		return false
	}
	total, last := int64(0), int64(1<<62)
	i := 1
	for i < len(tk) {
		if !number(tk, i) || tk[i].digits > 12 || tk[i].spaced {
			return false
		}
		v, dec := tk[i].value, 0
		i++
		if (punct(b, tk, i, '.') || punct(b, tk, i, ',')) && number(tk, i+1) && tk[i+1].digits <= 9 && v < 1e9 {
			dec = tk[i+1].digits
			v = v*int64(pow10[dec]) + tk[i+1].value
			i += 2
			s.fracDigits = uint8(dec)
		}
		if !word(tk, i) {
			return false
		}
		unit := int64(0)
		switch w := string(b[tk[i].from:tk[i].to]); {
		case !inTime && (w == "D" || w == "DT"):
			unit = 86400e9
			inTime = w == "DT"
		case inTime && w == "H":
			unit = 3600e9
		case inTime && w == "M":
			unit = 60e9
		case inTime && w == "S":
			unit = 1e9
		}
		i++
		ns, ok := scaleToNs(uint64(v), dec, unit)
		if unit == 0 || unit >= last || !ok || total+ns < 0 || total+ns > maxNs {
			return false
		}
		last = unit
		total += ns
		s.timeParts++
	}
	if s.timeParts == 0 {
		return false
	}
	s.hasTime, s.worded = true, true
	s.daySeconds, s.ns = total/1e9, int32(total%1e9)
	s.hour = -1
	return true
}

// scanDate reads the date from the tokens that the time left over. It is false when they hold something that is no date.
func (s *stamp) scanDate(b []byte, tk []token) bool {
	var num [6]int // token indices of the numbers
	count := 0
	month, monthAt, softMonth := 0, -1, false
	for i := range tk {
		if tk[i].used {
			continue
		}
		switch tk[i].kind {
		case tokNumber:
			if count == len(num) {
				return false
			}
			num[count] = i
			count++
		case tokWord:
			var buf [24]byte
			w := fold(b[tk[i].from:tk[i].to], &buf)
			if m := monthOf(w); m > 0 && (month == 0 || softMonth) {
				month, monthAt = m, i
				softMonth = string(w) == "mar" || string(w) == "lis" || string(w) == "set"
				tk[i].used = true
				continue
			} else if m > 0 && string(w) == "mar" {
				tk[i].used = true // Tuesday in French, Italian, Spanish
				continue
			}
			// A word that nothing takes up later is found at the end.
			tk[i].used = isFiller(w)
		}
	}
	if count == 0 {
		return month == 0
	}
	if month > 0 {
		return s.namedDate(b, tk, num[:count], month, monthAt)
	}
	first := &tk[num[0]]
	if count <= 4 && first.digits >= 8 {
		return s.gluedDate(b, tk, num[:count])
	}
	if count == 1 && first.digits == 6 && s.hasTime {
		return s.gluedDate(b, tk, num[:count])
	}
	if count == 2 {
		return s.shortDate(b, tk, num[0], num[1])
	}
	if count < 3 {
		return false
	}
	if first.digits == 3 || tk[num[1]].digits > 2 || first.digits > 4 {
		return false
	}
	// The three numbers of the date stand together and share their separator.
	sep, glued := separator(b, tk, num[0], num[1])
	sep2, glued2 := separator(b, tk, num[1], num[2])
	if sep != sep2 || glued || glued2 || sep == ':' && first.digits != 4 || sep == '+' {
		return false
	}
	s.dateSep = sep
	last := &tk[num[2]]
	for i := range 3 {
		tk[num[i]].used = true
	}
	s.hasDate = true
	if s.hasTime {
		s.timeFirst = s.timeFrom < first.from
	}
	a, m, c := int(first.value), int(tk[num[1]].value), int(last.value)
	if zeroDate(first, &tk[num[1]], last) {
		// The day nought of databases and spreadsheets: the cell holds a time of day and no date.
		s.hasDate = false
		return count == 3
	}
	switch {
	case first.digits == 4:
		if last.digits > 2 {
			return false
		}
		s.set(ymd, a, m, c)
		s.fixed = true
		s.days[dmy], s.days[mdy] = s.days[ymd], s.days[ymd]
		if s.valid == 0 {
			return false
		}
		s.valid = 1<<orders - 1
	case last.digits == 4:
		s.yearLast = true
		s.set(dmy, c, m, a)
		s.set(mdy, c, a, m)
	case last.digits <= 2:
		s.digits2 = true
		if last.digits == 2 {
			s.set(dmy, fullYear(c), m, a)
			s.set(mdy, fullYear(c), a, m)
		}
		if first.digits == 2 {
			s.set(ymd, fullYear(a), m, c)
		}
	default:
		return false
	}
	if s.valid == 0 {
		return false
	}
	if count > 3 {
		return s.looseTime(b, tk, num[3:count], sep)
	}
	return true
}

// zeroDate recognises 30 or 31 December 1899, which stand for "no date" (the zero of spreadsheet days).
func zeroDate(a, m, c *token) bool {
	december := func(x, y *token) bool { return x.value == 12 && (y.value == 30 || y.value == 31) }
	switch {
	case a.digits == 4 && a.value == 1899:
		return december(m, c)
	case c.digits == 4 && c.value == 1899:
		return december(m, a) || december(a, m)
	}
	return false
}

// noYearBase is the year that dates without a year are counted in; a leap year, so that every day exists.
const noYearBase = 2000

// shortDate reads a date of two numbers: 2024-134 (year and day of the year, ISO 8601), or day and month of an unnamed year
// with a time.
func (s *stamp) shortDate(b []byte, tk []token, i, j int) bool {
	p, q := &tk[i], &tk[j]
	sep, glued := separator(b, tk, i, j)
	if glued || q.spaced && sep != '.' {
		return false
	}
	switch {
	case p.digits == 4 && q.digits == 3 && sep == '-':
		y := int(p.value)
		if !validDate(y, 1, 1) || q.value < 1 || q.value > 366 || q.value == 366 && !validDate(y, 2, 29) {
			return false
		}
		days := daysFromCivil(y, 1, 1) + q.value - 1
		s.days = [orders]int64{days, days, days}
		s.valid, s.fixed = 1<<orders-1, true
	case s.hasTime && p.digits <= 2 && q.digits <= 2 && (sep == '/' || sep == '.' || sep == '-'):
		s.noYear = true
		s.set(dmy, noYearBase, int(q.value), int(p.value))
		s.set(mdy, noYearBase, int(p.value), int(q.value))
		if s.valid == 0 {
			return false
		}
	default:
		return false
	}
	p.used, q.used = true, true
	s.hasDate = true
	s.dateSep = sep
	if s.hasTime {
		s.timeFirst = s.timeFrom < p.from
	}
	return true
}

func (s *stamp) set(order, y, m, d int) {
	if validDate(y, m, d) {
		s.days[order] = daysFromCivil(y, m, d)
		s.valid |= 1 << order
	}
}

// separator gives the sign between two numbers, ' ' for blanks alone; glued says that a word stands between them
// or more than one sign. A dot followed by a blank, as in "21. 8. 2021", is a dot.
func separator(b []byte, tk []token, i, j int) (sep byte, glued bool) {
	switch j - i {
	case 1:
		return ' ', false
	case 2:
		if tk[i+1].kind == tokPunct {
			return b[tk[i+1].from], false
		}
		if tk[i+1].kind == tokWord { // 2021年8月21日
			return 'w', false
		}
	}
	return 0, true
}

// namedDate reads a date whose month is a word.
func (s *stamp) namedDate(b []byte, tk []token, num []int, month, monthAt int) bool {
	if len(num) < 1 || len(num) > 5 {
		return false
	}
	p := &tk[num[0]]
	q := p
	if len(num) > 1 {
		q = &tk[num[1]]
	}
	s.named = true
	s.nameLead = monthAt < num[0]
	y, d := 0, 0
	switch {
	case len(num) == 1 && s.hasTime && p.digits <= 2:
		y, d = noYearBase, int(p.value)
		s.noYear = true
	case len(num) == 1:
		return false
	case p.digits == 4 && q.digits <= 2:
		y, d = int(p.value), int(q.value)
	case q.digits == 4 && p.digits <= 2:
		y, d = int(q.value), int(p.value)
		s.yearLast = true
	case p.digits <= 2 && q.digits == 2 && p.value <= 31:
		y, d = fullYear(int(q.value)), int(p.value)
		s.yearLast, s.digits2 = true, true
	case p.digits == 2 && q.digits <= 2:
		y, d = fullYear(int(p.value)), int(q.value)
		s.digits2 = true
	default:
		return false
	}
	if !validDate(y, month, d) {
		return false
	}
	p.used, q.used = true, true
	s.hasDate, s.fixed = true, true
	days := daysFromCivil(y, month, d)
	s.days = [orders]int64{days, days, days}
	s.valid = 1<<orders - 1
	if s.hasTime {
		s.timeFirst = s.timeFrom < min(p.from, tk[monthAt].from)
	}
	s.dateSep = ' '
	if monthAt+1 < len(tk) && tk[monthAt+1].kind == tokPunct {
		s.dateSep = b[tk[monthAt+1].from]
	}
	if len(num) > 2 {
		return s.looseTime(b, tk, num[2:], s.dateSep)
	}
	return true
}

// gluedDate reads 20210821, 20210821083600, 20210821T0836, 210821 with a time.
func (s *stamp) gluedDate(b []byte, tk []token, num []int) bool {
	f := &tk[num[0]]
	v, d := f.value, f.digits
	clock, clockDigits := int64(-1), 0
	switch d {
	case 8:
	case 12, 14, 17:
		div := int64(1)
		for range d - 8 {
			div *= 10
		}
		clock, clockDigits = v%div, d-8
		v /= div
	case 6:
		s.set(ymd, fullYear(int(v/10000)), int(v/100%100), int(v%100))
		s.set(dmy, fullYear(int(v%100)), int(v/100%100), int(v/10000))
		s.set(mdy, fullYear(int(v%100)), int(v/10000), int(v/100%100))
		s.hasDate, s.digits2 = true, true
		f.used = true
		s.timeFirst = s.timeFrom < f.from
		return s.valid != 0
	default:
		return false
	}
	s.set(ymd, int(v/10000), int(v/100%100), int(v%100))
	if s.valid == 0 {
		return false
	}
	s.days[dmy], s.days[mdy] = s.days[ymd], s.days[ymd]
	s.valid, s.fixed = 1<<orders-1, true
	s.hasDate = true
	f.used = true
	if s.hasTime {
		s.timeFirst = s.timeFrom < f.from
		return len(num) == 1 && clock < 0
	}
	end := num[0] + 1 // token behind the time
	if clock < 0 {
		if len(num) < 2 {
			return true
		}
		g := &tk[num[1]]
		if g.digits != 4 && g.digits != 6 {
			return false
		}
		clock, clockDigits = g.value, g.digits
		g.used = true
		end = num[1] + 1
	}
	if !s.glue(clock, clockDigits) {
		return false
	}
	if s.timeParts == 3 && s.fracDigits == 0 && (punct(b, tk, end, '.') || punct(b, tk, end, ',')) && number(tk, end+1) && !tk[end+1].spaced {
		s.fractionOf(&tk[end+1])
		tk[end+1].used = true
		end += 2
	}
	if h, _ := halfAt(b, tk, end); h != noHalf {
		return false
	}
	s.scanZone(b, tk, end)
	for _, i := range num {
		if !tk[i].used {
			return false
		}
	}
	return true
}

// fractionOf takes the digits of a token as a fraction of a second; digits beyond nanoseconds are cut.
func (s *stamp) fractionOf(f *token) {
	v, d := f.value, f.digits
	for d < 9 {
		v *= 10
		d++
	}
	for d > 9 {
		v /= 10
		d--
	}
	s.ns = int32(v)
	s.fracDigits = uint8(f.digits)
}

// glue takes hhmm, hhmmss or hhmmssfff.
func (s *stamp) glue(v int64, digits int) bool {
	ms := int64(0)
	if digits == 9 {
		ms = v % 1000
		v /= 1000
		s.fracDigits = 3
	}
	if digits == 4 {
		v *= 100
		s.timeParts = 2
	} else {
		s.timeParts = 3
	}
	h, m, sec := v/10000, v/100%100, v%100
	if h > 24 || m > 59 || sec > 60 {
		return false
	}
	s.hour, s.first, s.second = int32(h), h, m
	s.hasTime = true
	s.daySeconds = h*3600 + m*60 + sec
	s.ns = int32(ms * 1e6)
	return true
}

// looseTime reads a time without colons behind a date: "08.36.00", "08-36-00", "08 36 00", "08h36".
func (s *stamp) looseTime(b []byte, tk []token, num []int, dateSep byte) bool {
	if s.hasTime || len(num) < 2 || len(num) > 3 {
		return false
	}
	sep, glued := separator(b, tk, num[0], num[1])
	if glued || (sep != '.' && sep != '-' && sep != ' ') {
		return false
	}
	if len(num) == 3 {
		if sep2, glued2 := separator(b, tk, num[1], num[2]); glued2 || sep2 != sep {
			return false
		}
	}
	v := int64(0)
	for k, i := range num {
		if tk[i].digits > 2 || k > 0 && tk[i].digits != 2 {
			return false
		}
		v = v*100 + tk[i].value
		tk[i].used = true
	}
	if !s.glue(v, 2*len(num)) {
		return false
	}
	next := s.scanHalf(b, tk, num[0], num[len(num)-1]+1)
	s.scanZone(b, tk, next)
	h := int64(s.hour)
	if s.half != noHalf {
		if h < 1 || h > 12 {
			return false
		}
		s.daySeconds += (h%12 - h) * 3600
		if s.half == afterNoon {
			s.daySeconds += 12 * 3600
		}
	}
	return true
}
