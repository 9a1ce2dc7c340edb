package clock

import "time"

// Kind says what a time column holds. The words are those of the look report.
type Kind string

// The kinds of clock.
const (
	Elapsed   Kind = "elapsed"  // time since some start: s, ms, min, h, days, h:mm:ss, mm:ss
	TimeOfDay Kind = "clock"    // clock time without a date; past midnight it rolls over
	DateTime  Kind = "datetime" // date and time of day, in one column or several
	Unix      Kind = "unix"     // a count since 1970-01-01 (or 1904-01-01) UTC
	Serial    Kind = "serial"   // spreadsheet days
	Index     Kind = "index"    // sample number, or no time column at all; needs an interval
	Parts     Kind = "parts"    // year, month, day, hour, minute, second in columns of their own
)

// Order is the order of day, month and year in a numeric date.
type Order string

// The orders of a numeric date; AnyOrder leaves it to the evidence.
const (
	AnyOrder Order = ""
	DMY      Order = "dmy"
	MDY      Order = "mdy"
	YMD      Order = "ymd"
)

// Column is what the table's head says of one column.
type Column struct {
	Heading string // all header rows of this column joined by blanks; "" if it has none
	Unit    string // the unit row's text, "" if there is none
}

// Table is the sample of rows that Detect looks at: the first rows of data, and better some from the
// middle and the end of the log as well. Rows[i][j] is the trimmed, unquoted cell of row i, column j; a short row has fewer cells.
type Table struct {
	Columns []Column // may be shorter than the rows: the rest has no heading
	Rows    [][][]byte
	Headed  bool // the file has a header row at all
	// Breaks lists the indices into Rows before which rows were left out of the sample, so that no step is
	// measured across it. Nil when Rows are consecutive.
	Breaks []int
}

// Settings narrow what Detect may find. The zero value leaves all to the evidence.
type Settings struct {
	Decimal           byte      // '.' or ','; 0 means '.'
	Columns           []int     // 0-based columns that the user named as time: one, or date and time apart
	Order             Order     // pinned date order
	HeadingOrder      Order     // order that the heading spells out; AnyOrder: Detect reads the headings itself
	NeighbourOrder    Order     // order found in other files of the same folder: breaks an even tie, and is said
	IntervalS         float64   // > 0: interval named by flag, s: rows are this far apart where there is no clock
	PreambleIntervalS float64   // > 0: interval that the preamble names, s
	PreambleStart     time.Time // start that the preamble names; the zero Time if none
}

// Detection is what Detect found.
type Detection struct {
	// Candidates lists all that could be time, best first. Empty: nothing could, and no interval was given.
	Candidates []Candidate
	// Dated is the index of the best candidate that names a date, -1 if none: where the best candidate
	// counts from an unnamed start, the date can be had there.
	Dated int
	// Questions lists what the evidence leaves even, each with the flag that settles it.
	Questions []string
}

// Best gives the first candidate, nil if there is none.
func (d *Detection) Best() *Candidate {
	if len(d.Candidates) == 0 {
		return nil
	}
	return &d.Candidates[0]
}

// Candidate is one way to read the log's time.
type Candidate struct {
	Plan     *Plan
	Score    float64 // higher is better; comparable within one Detection only
	Evidence string  // why it may be time, and what speaks against it
	// Dead says that the column does not advance; such a candidate comes last and only so that it can be reported.
	Dead bool

	durationS, medianS float64
}

// Status says what became of one row's time.
type Status uint8

// The outcomes of reading one row's time.
const (
	OK    Status = iota
	Blank        // the cells are empty: the row names no time
	Bad          // the cells hold something that is no time of this plan
)

// Outcome is what a Reader says when all rows are read.
type Outcome struct {
	Kind   Kind
	Format string // in words, e.g. "dd/mm/yyyy h:mm:ss"; final, with the order that was settled
	Order  Order  // order of numeric dates that was settled or preferred; AnyOrder where there are none
	// Start is the first row's instant; the zero Time when the clock names no date. Without a zone in the
	// text it is the wall clock written as UTC.
	Start      time.Time
	ZoneKnown  bool
	Zone       string  // "UTC", "+02:00", "" when the text names none; "+02:00, +01:00" when it changes
	TimeOfDayS float64 // seconds since midnight of the first row in the log's own zone, -1 if unknown
	OffsetS    float64 // what the log's own counter showed at the first row, s; 0 for clock times
	Rows       int     // rows read as OK
	BadRows    int     // rows that were Bad
	BlankRows  int
	// Reread says that another date order fits the whole column better than the one in use: the seconds
	// given so far must be thrown away, and the rows read again through Plan.
	Reread bool
	Plan   *Plan // the plan with everything settled that can be; use it for a second reading
	// DateAmbiguous says that another order gives the same elapsed times, so that only the date is open.
	// AltStart is the first row's instant under that other order.
	DateAmbiguous bool
	AltStart      time.Time
	// Evidence tells what settled the order and the like; Questions what is still open and which flag settles it.
	Evidence  []string
	Questions []string
	// DST lists steps of exactly one hour back, or forward beyond the usual interval, without a change of zone in the text.
	DST []DSTStep
	// Descending says that the newest row stands first: seconds run to negative values.
	Descending bool
	// Rollovers counts the midnights passed by a clock without a date.
	Rollovers int
}

// DSTStep is a step that looks like a change to or from daylight-saving time.
type DSTStep struct {
	Row     int     // 0-based among the rows given to the reader
	JumpS   float64 // the step as the clock shows it, s
	Forward bool
}
