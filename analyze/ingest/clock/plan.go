package clock

// mode is the way a plan's cells are read.
type mode uint8

const (
	modeStamp  mode = iota // dates, times of day, lengths of time with colons or words
	modeNumber             // a number that counts units
	modeRows               // no column: rows are counted
	modeParts              // year, month, day, hour, minute, second apart
)

// Plan says which columns carry time and how they are written. It is made by Detect and does not change; it may be
// shared between goroutines.
type Plan struct {
	kind    Kind
	columns []int
	format  string
	order   Order

	mode     mode
	decimal  byte
	settings Settings

	// modeStamp
	choice     int  // the order in use, an index
	settled    bool // the order was settled over a whole column and is not changed again
	minSec     bool // two numbers with a colon are minutes and seconds
	rolls      bool // a step back means that midnight has passed
	halfDays   bool // hours run from 1 to 12 and nothing names the half of the day
	fraction   bool // the last column holds thousandths of a second
	descending bool // newest row first
	days4      bool // four numbers with colons are d:hh:mm:ss
	rewrite    rewrite
	rewritten  int // the column that rewrite is for

	// modeNumber
	unit     int64 // nanoseconds of one unit
	mul      [10]int64
	limit    [10]uint64
	epochSec int64 // instant of the count's zero, Unix seconds; noEpoch for an unnamed start
	taken    bool  // nothing names the unit: it is taken
	asked    bool  // and another is as plausible
	snap     bool  // spreadsheet days: a written value stands for the nearest whole second or millisecond

	// modeParts: which part each column is
	parts []part
}

// noEpoch says that a count starts at an unnamed instant.
const noEpoch = -1 << 62

// Kind is the kind of clock.
func (p *Plan) Kind() Kind { return p.kind }

// Columns lists the 0-based columns whose cells Reader.Parse wants, in its order. Empty for a plan that only counts rows.
func (p *Plan) Columns() []int { return p.columns }

// Format says in words how the time is written.
func (p *Plan) Format() string { return p.format }

// Order is the order of numeric dates in use; AnyOrder where there are none.
func (p *Plan) Order() Order { return p.order }

// UnitTaken says that nothing names the unit of an elapsed time, so that it is only taken for the usual one.
func (p *Plan) UnitTaken() bool { return p.taken }

// UnitAsked says that another unit is as plausible by the column alone, and that a question says so.
func (p *Plan) UnitAsked() bool { return p.asked }

// Descending says that the newest row stands first, so that seconds run to negative values.
func (p *Plan) Descending() bool { return p.descending }

// Reader gives a fresh reader for all rows of the log, first row first.
func (p *Plan) Reader() *Reader { return &Reader{plan: p} }

func (p *Plan) setUnit(ns int64) {
	p.unit = ns
	for d := range p.mul {
		m := ns / int64(pow10[d])
		if m*int64(pow10[d]) != ns {
			break
		}
		p.mul[d] = m
		p.limit[d] = uint64(maxNs / m)
	}
}
