package ingest

import (
	"strconv"
	"strings"
)

// ErrorKind groups the reasons why a log can't be read at all.
type ErrorKind string

// The reasons why a log can't be read. A bad cell or line is none of them: it is a series.Problem
// and reading goes on.
const (
	ErrRead        ErrorKind = "read"        // the bytes could not be had
	ErrEmpty       ErrorKind = "empty"       // no text in the file
	ErrBinary      ErrorKind = "binary"      // the file is no text
	ErrCompressed  ErrorKind = "compressed"  // a damaged, doubtful or ambiguous archive
	ErrTooLong     ErrorKind = "too-long"    // a line, cell or column count over its cap
	ErrNoData      ErrorKind = "no-data"     // headings or talk only, no row of readings
	ErrNoChannel   ErrorKind = "no-channel"  // no column that could hold a probe's temperature
	ErrNoTime      ErrorKind = "no-time"     // no clock and no interval
	ErrColumn      ErrorKind = "column"      // a column that was asked for is not there, or not one
	ErrOption      ErrorKind = "option"      // an option's value can't be used
	ErrUnsupported ErrorKind = "unsupported" // a layout that the reader knows and refuses
)

// Error says why a log can't be read and what to do next. errors.As finds it in what Read returns.
type Error struct {
	Kind    ErrorKind
	File    string // as the user named it
	Line    int    // 1-based line of the decoded file; 0 when the whole file is meant
	Column  int    // 1-based column; 0 when the whole line is meant
	Message string // what is wrong
	Hint    string // what to do next; "" when nothing helps
	Err     error  // the cause, where another package reported one
}

// Error gives file, line and column, what is wrong and what to do next, in one line.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		b.WriteString(":")
		b.WriteString(strconv.Itoa(e.Line))
	}
	if e.Column > 0 {
		b.WriteString(": column ")
		b.WriteString(strconv.Itoa(e.Column))
	}
	b.WriteString(": ")
	b.WriteString(e.Message)
	if e.Err != nil {
		b.WriteString(": ")
		b.WriteString(e.Err.Error())
	}
	if e.Hint != "" {
		b.WriteString("; ")
		b.WriteString(e.Hint)
	}
	return b.String()
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }
