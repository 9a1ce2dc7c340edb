package ingest

import (
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// ColumnRef names a column as a user does: by its 1-based number or by its heading.
// The zero ColumnRef names nothing.
type ColumnRef struct {
	Number  int    // 1-based; 0 when the heading is meant
	Heading string // matched trimmed and without case
}

// DateOrder is the order of day, month and year in a numeric date.
type DateOrder string

// The date orders a flag can name; the empty one leaves it to the evidence.
const (
	AnyOrder DateOrder = ""
	DMY      DateOrder = "dmy"
	MDY      DateOrder = "mdy"
	YMD      DateOrder = "ymd"
)

// Options narrows what the reader may find. The zero value leaves everything to the evidence.
type Options struct {
	Time                                   []ColumnRef // one, or date and time of day apart
	Inner, Outer, Ambient, Shaft, SetPoint []ColumnRef
	Unit                                   quantity.TemperatureUnit // of every channel that the user named or that names none
	Delimiter                              byte                     // 0: find it
	Decimal                                byte                     // '.' or ','; 0: find it
	Encoding                               string                   // "", "utf-8", "utf-16le", "utf-16be", "windows-1252"
	DateOrder                              DateOrder
	IntervalS                              float64   // > 0: rows are this far apart where the log has no clock, s
	OneBody                                bool      // the part has no outer ring: a single unlabelled probe is the bore's
	MaxProblems                            int       // problems kept; 0 means DefaultMaxProblems
	NeighbourOrder                         DateOrder // order found in other logs of the same folder: breaks an even tie, and is said
}

// DefaultMaxProblems is how many problems a Log keeps when Options names no number; all are counted.
const DefaultMaxProblems = 1000

// Guess is one decision the reader took: what, why, what came second, and the flag that pins it.
type Guess struct {
	Stage    string // "encoding", "delimiter", "decimal", "header", "clock", "unit", "role", ...
	Choice   string
	Evidence string
	RunnerUp string // "" when nothing else was possible
	Flag     string // e.g. "--delimiter ;"
	By       series.Source
}

// Reading says how a log was read.
type Reading struct {
	Encoding      string
	Compressed    string // "", "gzip", "zip"
	Delimiter     string // "comma", "semicolon", "tab", "pipe", "spaces"
	Decimal       string // "." or ","
	HeaderLines   []int  // 1-based lines of the header, unit row included
	FirstDataLine int
	Layout        string // "wide", "long", ...
	ClockKind     string // elapsed, clock, datetime, unix, serial, index, parts
	ClockColumns  []int  // 1-based
	ClockFormat   string // in words, e.g. "dd/mm/yyyy hh:mm"
	Zone          string // "UTC", "+02:00", or "" when the file names none
	// DateOrder is the order of numeric dates that was settled or, when DateOrderEven, only preferred: the
	// log's own dates leave it even. AnyOrder where there are no numeric dates.
	DateOrder     DateOrder
	DateOrderEven bool
	Guesses       []Guess
	Ignored       []IgnoredColumn
	Questions     []string // what could not be settled, with the flag that settles it
	Flags         []string // the exact flags that pin this reading
	Preamble      []KeyValue
	BadCells      int // cells that should have held a reading and could not be read; their lines are samples all the same
}

// IgnoredColumn is a column that holds no probe's temperature, and why it is thought so.
type IgnoredColumn struct {
	Column int
	Name   string
	Reason string
}

// KeyValue is one line of a preamble that names something.
type KeyValue struct {
	Line  int
	Key   string
	Value string
}

// Result is a log and how it was read.
type Result struct {
	Log     *series.Log
	Reading Reading
}
