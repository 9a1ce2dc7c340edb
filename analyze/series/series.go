// Package series is ringheat's data model: one probe logger's record as columns of numbers in
// base units, with everything that was odd about it kept beside the numbers.
//
// It imports nothing but package quantity. Readers (package ingest) build a Log; every later stage
// only reads it. Times are seconds since the log's first row by the log's own clock, exactly as the
// clock ran: repeats, gaps and steps back are in the data and are listed in Clock, never repaired.
package series

import (
	"math"
	"time"

	"ringheat/analyze/quantity"
)

// Role says what a channel's probe measures.
type Role uint8

// The roles a channel can have. Inner is the bore probe of a one-body part as well.
const (
	NoRole Role = iota
	Inner
	Outer
	Ambient
	Shaft
	SetPoint
)

var roleNames = [...]string{"", "inner", "outer", "ambient", "shaft", "set-point"}

// String gives the role's name as written in JSON and lists; "" for NoRole.
func (r Role) String() string { return roleNames[r] }

// Source says what a role or a unit was taken from. The order is that of trust: a higher source
// overrules a lower one.
type Source uint8

// Sources, weakest first. ByOrder: nothing but the order of the columns spoke for it, so what hangs on
// it is not settled.
const (
	NoSource Source = iota
	ByOrder
	ByPlausibility
	ByPreamble
	ByCell
	ByUnitRow
	ByHeading
	BySavedReading
	ByFlag
)

var sourceNames = [...]string{"", "order", "plausibility", "preamble", "cell", "unit row", "heading", "saved reading", "flag"}

// String gives the source's name.
func (s Source) String() string { return sourceNames[s] }

// Missing is how a sample that the logger did not record stands in Channel.C. It is a NaN: test
// with IsMissing, never with ==. No NaN leaves the analysis: results say "not known" in other ways.
func Missing() float64 { return math.NaN() }

// IsMissing says whether a value of Channel.C stands for a sample that was not recorded.
func IsMissing(v float64) bool { return v != v }

// Channel is one probe's column.
type Channel struct {
	Name        string // the heading as the file writes it, trimmed; "column N" where there is none
	Column      int    // 1-based column in the file; 0 when the layout has no column for it
	Role        Role
	RoleSource  Source
	Unit        quantity.TemperatureUnit // as the file writes it; values below are converted
	UnitSource  Source
	C           []float64      // °C, one a row of Log.TimeS; a missing sample is a NaN (IsMissing)
	Valid       int            // number of samples that are not missing
	MissingKind map[string]int // marker of no reading -> how often; the counts and Valid add up to len(C)
	Averaged    bool           // the readings are means over each interval: a peak inside one does not show
	Lowest      bool           // the readings are the lowest of each interval: they say nothing of a peak
	// UnitDoubtful says that nothing names the unit and another than Unit is as plausible.
	UnitDoubtful bool
	StepK        quantity.Kelvin
	// StepK is the display step: the smallest difference the file's notation can show (0.1 for "23.4"),
	// or the coarser one that all its values keep to. 0 means it was not found.
}

// Label gives the channel's name for people: its heading and, if that says nothing, its column.
func (c *Channel) Label() string { return c.Name }

// ProblemKind groups problems in counts and JSON.
type ProblemKind string

// Problem is a line or cell that could not be read as what it should be. It is a record, not a stop:
// reading goes on, and the problem travels with the log into every report.
type Problem struct {
	Line    int    // 1-based line in the decoded file; 0 when it concerns the whole file
	Column  int    // 1-based column; 0 when it concerns the whole line
	Raw     string // the text that was found, shortened to MaxRaw bytes
	Kind    ProblemKind
	Message string // what was wanted and what to do
}

// MaxRaw is the most bytes of raw text that a Problem keeps.
const MaxRaw = 80

// Rows counts the lines of a decoded file. Total = Samples + Problems + the sum of Skipped.
type Rows struct {
	Total    int            // lines in the file, counting a last one without end
	Samples  int            // lines that gave at least one reading or marker and so stand in TimeS
	Problems int            // lines that should have given a sample and did not
	Skipped  map[string]int // blank, preamble, header, unit, comment, footer, repeated header -> lines
}

// ClockEvent is one place where the log's clock did not run as usual.
type ClockEvent struct {
	Row     int     // the row (index into TimeS) at which the event shows
	Line    int     // its line in the file
	AtS     float64 // time of the row before
	JumpS   float64 // TimeS[Row] - TimeS[Row-1]
	Kind    ClockEventKind
	Message string
}

// ClockEventKind names a clock event.
type ClockEventKind string

// The clock events. A gap is a step of more than GapFactor usual intervals.
const (
	Gap      ClockEventKind = "gap"
	Repeat   ClockEventKind = "repeat"
	StepBack ClockEventKind = "step-back"
)

// Clock says how the log's clock ran.
type Clock struct {
	Start      time.Time // instant of the first row; the zero Time when the file names no date
	ZoneKnown  bool      // false: Start is in the logger's own, unnamed zone and is kept as UTC
	TimeOfDayS float64   // seconds since midnight of the first row, where a clock time is known; else -1
	IntervalS  float64   // median step between rows, s; 0 with fewer than two rows
	SpreadS    float64   // largest step that is no event minus smallest, s
	OffsetS    float64   // what the log's own counter showed at the first row, s; 0 for clock times
	Events     []ClockEvent
	// UnitDoubtful says that nothing names the unit of the time column and that seconds are only taken.
	UnitDoubtful bool
}

// LeftOut is a column that may hold temperatures of the part and is used for none of its roles: a third
// probe, a cage or seal, the highest or lowest of each interval.
type LeftOut struct {
	Column int // 1-based
	Name   string
	MaxC   float64 // its highest reading, °C
	Why    string  // why it is left out, plain words
}

// Log is one probe logger's record.
type Log struct {
	Name         string // as the user named it: a path, or "-" for standard input
	SHA256       string // of the file's bytes as stored, lower-case hex
	TimeS        []float64
	Lines        []int32 // 1-based line of every row in the decoded file
	Channels     []Channel
	LeftOut      []LeftOut
	Clock        Clock
	Rows         Rows
	Problems     []Problem
	ProblemCount int // all problems found; larger than len(Problems) when too many to keep
}

// Len is the number of rows.
func (l *Log) Len() int { return len(l.TimeS) }

// WithRole lists the channels (indices into Channels) of a role, in file order.
func (l *Log) WithRole(r Role) []int {
	var out []int
	for i := range l.Channels {
		if l.Channels[i].Role == r {
			out = append(out, i)
		}
	}
	return out
}

// DurationS is the time between the first row and the latest, s.
func (l *Log) DurationS() float64 {
	if len(l.TimeS) == 0 {
		return 0
	}
	last := l.TimeS[0]
	for _, t := range l.TimeS {
		last = max(last, t)
	}
	return last - l.TimeS[0]
}
