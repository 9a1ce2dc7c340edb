package clock

import "time"

// Reader turns the time cells of consecutive rows into seconds. It keeps what it needs between rows
// (midnights passed, all readings of an ambiguous date) in a few words of memory.
type Reader struct {
	plan *Plan

	begun   bool
	first   int64 // ns of the first row
	last    int64 // ns of the row before
	step    int64 // the latest step that was forward, ns
	row     int   // rows given so far
	rows    int
	bad     int
	blank   int
	broken  bool // rows were left out before the next one
	zonedNo int  // rows without a zone

	// The text round the digits of the latest time, and what it means.
	cached    bool
	prefix    [cacheLen]byte
	suffix    [cacheLen]byte
	prefixN   int
	suffixN   int
	half      uint8
	hasDate   bool
	base      int64         // ns to add to the time of day: date under the order in use, less the zone's offset
	days      [orders]int64 // the latest date
	noYear    bool
	yearCarry int64 // days

	carry      int64 // ns added for midnights passed
	rollovers  int
	backRolls  int // midnights taken from a step back of less than twelve hours
	timeOfDay  int64
	startZone  bool
	zones      [4]int32
	zoneCount  int
	zoneNamed  bool
	dst        []DSTStep
	stats      orderStats
	scratch    []byte
	st         stamp
	dateOnly   int
	lateHour   bool // an hour 0 or above 12 was seen
	partsState partsState
}

const cacheLen = 48

const (
	second = int64(1e9)
	day    = 86400 * second
)

// Parse reads one row's time: cells are those of Plan.Columns, in that order. The seconds count from the first
// row that was OK. cells are not kept. It does not allocate on the usual formats.
func (r *Reader) Parse(cells [][]byte) (seconds float64, st Status) {
	p := r.plan
	switch p.mode {
	case modeRows:
		return r.take(int64(r.row)*p.unit, OK)
	case modeParts:
		ns, st := r.parts(cells)
		if st == OK && p.rolls {
			ns = r.rolled(ns)
		}
		return r.take(ns, st)
	}
	switch len(cells) {
	case 0:
		return r.take(0, Blank)
	case 1:
		return r.ParseCell(cells[0])
	}
	return r.joined(cells)
}

// ParseCell is Parse for a plan of one column.
func (r *Reader) ParseCell(cell []byte) (seconds float64, st Status) {
	switch r.plan.mode {
	case modeNumber:
		ns, st := r.number(cell)
		return r.take(ns, st)
	case modeStamp:
		if r.plan.rewrite != asWritten {
			r.scratch = colonised(r.scratch[:0], trim(cell), r.plan.rewrite)
			cell = r.scratch
		}
		ns, st := r.stamp(cell)
		return r.take(ns, st)
	case modeRows:
		return r.take(int64(r.row)*r.plan.unit, OK)
	}
	r.scratch = r.scratch[:0]
	return r.take(0, Bad)
}

// joined reads a time that stands in several columns: their cells are put together with blanks.
func (r *Reader) joined(cells [][]byte) (float64, Status) {
	p := r.plan
	last := len(cells)
	if p.fraction {
		last--
	}
	b := r.scratch[:0]
	blank := 0
	for i, c := range cells[:last] {
		c = trim(c)
		if len(c) == 0 {
			blank++
		}
		if i > 0 {
			b = append(b, ' ')
		}
		if p.rewrite != asWritten && p.columns[i] == p.rewritten {
			b = colonised(b, c, p.rewrite)
			continue
		}
		b = append(b, c...)
	}
	r.scratch = b
	if blank == last {
		return r.take(0, Blank)
	}
	ns, st := r.stamp(b)
	if st == OK && p.fraction {
		n, ok := readDecimal(cells[last], p.decimal)
		f, ok2 := n.ns(1e6)
		if !ok || !ok2 || f < 0 || f >= second {
			st = Bad
		}
		ns += f
	}
	return r.take(ns, st)
}

// take books one row and gives its seconds.
func (r *Reader) take(ns int64, st Status) (float64, Status) {
	r.row++
	switch st {
	case Blank:
		r.blank++
		return 0, st
	case Bad:
		r.bad++
		return 0, st
	}
	r.rows++
	if !r.begun {
		r.begun = true
		r.first, r.last = ns, ns
		return 0, OK
	}
	jump := ns - r.last
	r.last = ns
	if jump <= 0 || jump > r.step {
		r.oddStep(jump)
	} else {
		r.step = jump
	}
	return secondsOf(ns - r.first), OK
}

// secondsOf gives nanoseconds as seconds, correctly rounded below 104 days and to less than a microsecond beyond.
func secondsOf(d int64) float64 {
	if d < 1<<53 && d > -1<<53 {
		return float64(d) / 1e9
	}
	return float64(d/second) + float64(d%second)/1e9
}

// oddStep looks at a step that is not the usual one.
func (r *Reader) oddStep(jump int64) {
	p := r.plan
	if jump > 0 {
		defer func() { r.step = jump }()
	}
	if r.broken {
		r.broken = false
		return
	}
	if p.mode == modeNumber || p.mode == modeRows || p.kind == Elapsed || r.step <= 0 || r.startZone {
		return
	}
	const hour = 3600 * second
	if r.step >= hour/2 {
		return
	}
	tolerance := r.step/10 + 1
	change := jump - r.step
	forward := change > hour-tolerance && change < hour+tolerance
	back := change > -hour-tolerance && change < -hour+tolerance
	if !forward && !back {
		return
	}
	tod := (r.last - jump) % day
	if tod < 0 {
		tod += day
	}
	if tod > 4*hour { // the change is made at night
		return
	}
	if p.kind != TimeOfDay {
		switch time.Unix(r.last/second, 0).UTC().Month() {
		case time.March, time.April, time.September, time.October, time.November:
		default:
			return
		}
	}
	if len(r.dst) < maxDST {
		r.dst = append(r.dst, DSTStep{Row: r.row - 1, JumpS: secondsOf(jump), Forward: forward})
	}
}

const maxDST = 32

// breakHere tells the reader that rows were left out before the next one.
func (r *Reader) breakHere() {
	r.broken = true
	r.stats.broken = true
}

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

// stamp reads a cell that holds a date, a time of day, or a length of time with colons.
func (r *Reader) stamp(b []byte) (int64, Status) {
	if r.cached {
		if ns, ok := r.sameText(b); ok {
			return r.rolled(ns), OK
		}
	}
	return r.slowStamp(b)
}

// sameText reads a cell that differs from an earlier one in nothing but the digits of its time. This is where
// nearly all rows go: no date is taken apart again until it changes.
func (r *Reader) sameText(b []byte) (int64, bool) {
	i := r.prefixN
	if len(b) < i+4 || string(b[:i]) != string(r.prefix[:i]) {
		return 0, false
	}
	h := int64(b[i] - '0')
	if h > 9 {
		return 0, false
	}
	i++
	if d := int64(b[i] - '0'); d <= 9 {
		h = h*10 + d
		i++
	}
	for i < len(b) && b[i]-'0' <= 9 && h < 100000 {
		h = h*10 + int64(b[i]-'0')
		i++
	}
	if i+3 > len(b) || b[i] != ':' {
		return 0, false
	}
	m1, m2 := b[i+1]-'0', b[i+2]-'0'
	if m1 > 5 || m2 > 9 {
		return 0, false
	}
	i += 3
	secs := h*3600 + (int64(m1)*10+int64(m2))*60
	three := false
	if i+3 <= len(b) && b[i] == ':' {
		s1, s2 := b[i+1]-'0', b[i+2]-'0'
		if s1 > 5 || s2 > 9 {
			return 0, false
		}
		secs += int64(s1)*10 + int64(s2)
		i += 3
		three = true
	}
	ns := int64(0)
	if i+1 < len(b) && (b[i] == '.' || b[i] == ',') && b[i+1]-'0' <= 9 {
		i++
		from := i
		for i < len(b) && b[i]-'0' <= 9 {
			if i-from == 9 {
				return 0, false
			}
			ns = ns*10 + int64(b[i]-'0')
			i++
		}
		ns *= int64(pow10[9-(i-from)])
	}
	if string(b[i:]) != string(r.suffix[:r.suffixN]) {
		return 0, false
	}
	p := r.plan
	if p.kind != Elapsed {
		if h > 23 {
			return 0, false
		}
		if r.half != noHalf {
			if h > 12 || h == 0 {
				return 0, false
			}
			if h == 12 {
				secs -= 12 * 3600
			}
			if r.half == afterNoon {
				secs += 12 * 3600
			}
		} else if h == 0 || h > 12 {
			r.lateHour = true
		}
	}
	if !three && p.minSec {
		secs /= 60
	}
	r.timeOfDay = secs*second + ns
	return r.base + secs*second + ns, true
}

// rolled adds the midnights that a clock without a date has passed.
func (r *Reader) rolled(ns int64) int64 {
	p := r.plan
	if !p.rolls || !r.begun && r.rows == 0 {
		return ns + r.carry
	}
	v := ns + r.carry
	jump := v - r.last
	const (
		hour = 3600 * second
		noon = 12 * hour
	)
	if p.descending {
		jump = -jump
	}
	if jump >= 0 {
		return v
	}
	add := int64(0)
	switch {
	case p.kind == Elapsed:
		// A display that starts again at 60 minutes or at 24 hours goes on; any other step back is a counter
		// that was started anew, or a fault, and is kept as it stands.
		add = day
		if p.minSec {
			add = hour
		}
		if jump > -add+add/16 {
			return v
		}
		r.rollovers++
	case jump >= -2*hour:
		return v // a step back, kept as it stands
	case p.halfDays && !r.lateHour && jump >= -noon && jump+noon <= 5*r.step+60*second:
		// hours from 1 to 12 and nothing names the half of the day: 12:59 goes on to 1:00
		add = noon
	default:
		add = day
		if jump > -noon {
			r.backRolls++
		}
		r.rollovers++
	}
	if p.descending {
		add = -add
	}
	if c := r.carry + add; c < maxNs/2 && c > -maxNs/2 {
		r.carry = c
	}
	return ns + r.carry
}

// slowStamp reads a cell whose text round the time is new.
func (r *Reader) slowStamp(b []byte) (int64, Status) {
	p := r.plan
	b = trim(b)
	if len(b) == 0 {
		return 0, Blank
	}
	s := &r.st
	if !s.scan(b) {
		return 0, Bad
	}
	if p.kind == Elapsed {
		if s.hasDate || s.half != noHalf || s.hasZone {
			return 0, Bad
		}
		secs := s.daySeconds
		if p.days4 {
			if !s.four {
				return 0, Bad
			}
			// The numbers are days, hours, minutes, seconds, not hours, minutes, seconds, hundredths.
			sec := secs - s.first*3600 - s.second*60
			secs = s.first*86400 + s.second*3600 + sec*60 + int64(s.fourth)
			s.ns = 0
		}
		if p.minSec && s.timeParts == 2 && !s.worded && !s.hasDays {
			secs /= 60
		}
		ns := secs*second + int64(s.ns)
		if s.negative {
			return -ns, OK
		}
		r.remember(b, s)
		return r.rolled(ns), OK
	}
	if s.signed || s.hasDays || s.worded {
		return 0, Bad
	}
	if s.hour > 24 || s.hour == 24 && (s.daySeconds != 86400 || s.ns != 0) {
		return 0, Bad
	}
	if p.kind == TimeOfDay {
		if s.hasDate || !s.hasTime {
			return 0, Bad
		}
		if s.hour == 0 || s.hour > 12 || s.half != noHalf {
			r.lateHour = true
		}
		r.zone(s)
		r.base = -int64(s.offsetS) * second
		r.timeOfDay = s.daySeconds*second + int64(s.ns)
		r.remember(b, s)
		return r.rolled(r.base + r.timeOfDay), OK
	}
	// date and time
	if !s.hasDate {
		if !s.hasTime || !r.hasDate || len(p.columns) < 2 {
			return 0, Bad
		}
		// The date is written only where it changes: the latest one holds.
		r.zone(s)
		r.base = (r.days[p.choice]+r.yearCarry)*day - int64(s.offsetS)*second
		r.timeOfDay = s.daySeconds*second + int64(s.ns)
		r.remember(b, s)
		return r.base + r.timeOfDay, OK
	}
	if !s.hasTime {
		if len(p.columns) > 1 {
			return 0, Bad
		}
		r.dateOnly++
	}
	if !r.stats.note(s, p) {
		return 0, Bad
	}
	r.zone(s)
	if s.noYear {
		// December goes over to January of the next year.
		if r.hasDate && r.days[p.choice]-s.days[p.choice] > 300 {
			r.yearCarry += 366
		}
		r.noYear = true
	}
	r.hasDate = true
	r.days = s.days
	r.base = (s.days[p.choice]+r.yearCarry)*day - int64(s.offsetS)*second
	r.timeOfDay = s.daySeconds*second + int64(s.ns)
	r.remember(b, s)
	return r.base + r.timeOfDay, OK
}

// remember keeps the text round the time's digits and what it means.
func (r *Reader) remember(b []byte, s *stamp) {
	r.cached = false
	if !s.simple || !s.hasTime {
		return
	}
	pre, post := s.timeFrom, len(b)-s.timeTo
	if pre > cacheLen || post > cacheLen {
		return
	}
	copy(r.prefix[:], b[:pre])
	copy(r.suffix[:], b[s.timeTo:])
	r.prefixN, r.suffixN = pre, post
	r.half = s.half
	if r.plan.kind == Elapsed {
		r.base = 0
	}
	r.cached = true
}

// zone books the zone of a row.
func (r *Reader) zone(s *stamp) {
	if !s.hasZone {
		r.zonedNo++
		return
	}
	r.startZone = true
	r.zoneNamed = r.zoneNamed || s.zoneName
	for _, z := range r.zones[:r.zoneCount] {
		if z == s.offsetS {
			return
		}
	}
	if r.zoneCount < len(r.zones) {
		r.zones[r.zoneCount] = s.offsetS
		r.zoneCount++
	}
}
