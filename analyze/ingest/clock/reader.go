package clock

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

// breakHere tells the reader that rows were left out before the next one.
func (r *Reader) breakHere() {
	r.broken = true
	r.stats.broken = true
}
