package clock

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

// maxStamp is the longest text that is looked at as a date; longer ones are no dates.
const maxStamp = 80

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
