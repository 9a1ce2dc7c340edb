package ingest

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"ringheat/analyze/series"
)

// Saved is a reading kept to be used again for logs of the same logger: the flags that pin it, and what
// they found, so that a log they don't suit is noticed.
type Saved struct {
	Flags     []string // as Reading.Flags gives them, "--delimiter comma"
	Delimiter string
	Decimal   string
	ClockKind string
	Clock     []int // 1-based columns
	Channels  []SavedChannel
}

// SavedChannel is one channel of a saved reading.
type SavedChannel struct {
	Column  int
	Heading string
	Role    string // "" for none
	Unit    string // C, F, K, or "" where the file named none
}

const savedVersion = "1"

var savedHeader = []string{"item", "column", "value", "heading", "unit"}

// Save keeps how a log was read.
func Save(r *Result) Saved {
	s := Saved{
		Flags: append([]string(nil), r.Reading.Flags...), Delimiter: r.Reading.Delimiter, Decimal: r.Reading.Decimal,
		ClockKind: r.Reading.ClockKind, Clock: append([]int(nil), r.Reading.ClockColumns...),
	}
	for i := range r.Log.Channels {
		c := &r.Log.Channels[i]
		s.Channels = append(s.Channels, SavedChannel{c.Column, c.Name, c.Role.String(), c.Unit.Letter()})
	}
	return s
}

// WriteCSV writes the reading as a list that LoadSaved reads.
func (s *Saved) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	row := func(item, column, value, heading, unit string) {
		out.Write([]string{item, column, value, heading, unit}) // an error stays in the writer until Flush
	}
	out.Write(savedHeader)
	row("ringheat_reading", "", savedVersion, "", "")
	for _, f := range s.Flags {
		row("flag", "", f, "", "")
	}
	row("delimiter", "", s.Delimiter, "", "")
	row("decimal", "", s.Decimal, "", "")
	row("clock", spaced(s.Clock), s.ClockKind, "", "")
	for _, c := range s.Channels {
		row("channel", strconv.Itoa(c.Column), c.Role, c.Heading, c.Unit)
	}
	out.Flush()
	return out.Error()
}

func spaced(list []int) string {
	parts := make([]string, len(list))
	for i, n := range list {
		parts[i] = strconv.Itoa(n)
	}
	return strings.Join(parts, " ")
}

// LoadSaved reads a list that WriteCSV wrote. name is for messages, which give line and column.
func LoadSaved(in io.Reader, name string) (Saved, error) {
	var s Saved
	r := csv.NewReader(in)
	r.FieldsPerRecord = len(savedHeader)
	fail := func(line, column int, message string) (Saved, error) {
		return Saved{}, &Error{Kind: ErrOption, File: name, Line: line, Column: column, Message: message,
			Hint: "make it anew with ringheat look LOG --save-reading FILE"}
	}
	for n := 0; ; n++ {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			if n < 2 {
				return fail(0, 0, "is no saved reading")
			}
			return s, nil
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			return fail(parse.Line, parse.Column, "is no saved reading: "+parse.Err.Error())
		}
		if err != nil {
			return Saved{}, &Error{Kind: ErrRead, File: name, Message: "can't be read", Err: err}
		}
		line, _ := r.FieldPos(0)
		switch {
		case n == 0:
			if strings.TrimPrefix(strings.Join(cells, ","), "\ufeff") != strings.Join(savedHeader, ",") {
				return fail(line, 0, "is no saved reading: its first line must be "+strings.Join(savedHeader, ","))
			}
			continue
		case n == 1:
			if cells[0] != "ringheat_reading" || cells[2] != savedVersion {
				return fail(line, 3, "is no saved reading of a form that this version knows")
			}
			continue
		}
		switch cells[0] {
		case "flag":
			s.Flags = append(s.Flags, cells[2])
		case "delimiter":
			s.Delimiter = cells[2]
		case "decimal":
			s.Decimal = cells[2]
		case "clock":
			s.ClockKind = cells[2]
			for field := range strings.FieldsSeq(cells[1]) {
				c, err := strconv.Atoi(field)
				if err != nil || c < 1 {
					return fail(line, 2, fmt.Sprintf("%q is no column", field))
				}
				s.Clock = append(s.Clock, c)
			}
		case "channel":
			c, err := strconv.Atoi(cells[1])
			if err != nil || c < 0 {
				return fail(line, 2, fmt.Sprintf("%q is no column", cells[1]))
			}
			s.Channels = append(s.Channels, SavedChannel{c, cells[3], cells[2], cells[4]})
		default:
			return fail(line, 1, fmt.Sprintf("%q is no item of a saved reading", cells[0]))
		}
	}
}

// Differences says where a log, read with the saved flags, is not what the saved reading was made from;
// none when it suits. A log with further channels that have no role suits.
func (s *Saved) Differences(r *Result) []string {
	var list []string
	differ := func(what, saved, now string) {
		if saved != now {
			list = append(list, fmt.Sprintf("%s: saved %q, this log %q", what, saved, now))
		}
	}
	differ("delimiter", s.Delimiter, r.Reading.Delimiter)
	differ("decimal mark", s.Decimal, r.Reading.Decimal)
	differ("clock", s.ClockKind, r.Reading.ClockKind)
	differ("clock columns", spaced(s.Clock), spaced(r.Reading.ClockColumns))
	now := map[int]*series.Channel{}
	for i := range r.Log.Channels {
		now[r.Log.Channels[i].Column] = &r.Log.Channels[i]
	}
	for _, c := range s.Channels {
		what := fmt.Sprintf("column %d", c.Column)
		n, ok := now[c.Column]
		if !ok {
			list = append(list, fmt.Sprintf("%s: saved %q, this log has no such channel", what, c.Heading))
			continue
		}
		differ(what+" heading", c.Heading, n.Name)
		differ(what+" role", c.Role, n.Role.String())
		differ(what+" unit", c.Unit, n.Unit.Letter())
	}
	return list
}

// Use marks in a log's reading what the saved reading settled, and refuses a log that it does not suit. A
// nil Saved does nothing.
func (s *Saved) Use(r *Result) error {
	if s == nil {
		return nil
	}
	if d := s.Differences(r); len(d) > 0 {
		return &Error{Kind: ErrOption, File: r.Log.Name, Message: "is not what the saved reading was made from: " + strings.Join(d, "; "),
			Hint: "leave --reading out, or make a reading for this kind of log with ringheat look LOG --save-reading FILE"}
	}
	for i := range r.Log.Channels {
		if c := &r.Log.Channels[i]; c.Role != series.NoRole {
			c.RoleSource = series.BySavedReading
		}
	}
	return nil
}

// ReadSaved is Read for a log that a saved reading must suit; o holds its flags. A nil Saved asks nothing.
func (r *Reader) ReadSaved(name string, in io.Reader, o Options, s *Saved) (*Result, error) {
	result, err := r.Read(name, in, o)
	if err != nil {
		return nil, err
	}
	if err := s.Use(result); err != nil {
		return nil, err
	}
	return result, nil
}
