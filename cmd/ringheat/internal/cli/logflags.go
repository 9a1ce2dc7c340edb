package cli

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"ringheat/analyze/ingest"
	"ringheat/analyze/quantity"
)

// readingFlags are the flags that say how a log is to be read. They are the same for every command that
// reads a log.
type readingFlags struct {
	time, inner, outer, ambient, shaft, setPoint string
	tempUnit, delimiter, decimal, encoding       string
	dateOrder, reading                           string
	intervalS                                    float64
}

func (f *readingFlags) register(fs *pflag.FlagSet) {
	fs.StringVar(&f.time, "time", "", "time `column`: a heading or a 1-based number; date,time for two")
	fs.StringVar(&f.inner, "inner", "", "inner ring's (bore's) `column`; several as 2,4")
	fs.StringVar(&f.outer, "outer", "", "outer ring's `column`; several as 3,5")
	fs.StringVar(&f.ambient, "ambient", "", "`column` of the air temperature")
	fs.StringVar(&f.shaft, "shaft", "", "`column` of the shaft seat's temperature")
	fs.StringVar(&f.setPoint, "set-point", "", "`column` of the heater's set-point")
	fs.StringVar(&f.tempUnit, "temp-unit", "", "`unit` of the temperatures where the log names none: C, F or K")
	fs.StringVar(&f.delimiter, "delimiter", "", "`mark` between cells: comma, semicolon, tab, pipe, spaces, or the mark itself")
	fs.StringVar(&f.decimal, "decimal", "", "decimal `mark`: . or ,")
	fs.StringVar(&f.encoding, "encoding", "", "`name` of the text encoding: utf-8, utf-16le, utf-16be, windows-1252")
	fs.StringVar(&f.dateOrder, "date-order", "", "`order` of numeric dates: dmy, mdy or ymd")
	fs.StringVar(&f.reading, "reading", "", "a saved reading, `file` made by ringheat look --save-reading; a log that it does not suit is refused")
	fs.Float64Var(&f.intervalS, "interval-s", 0, "`seconds` between rows where the log has no clock")
}

// withSaved gives the flags with those of the saved reading that --reading names in the places that are
// empty, and the saved reading; nil when none is named.
func (f readingFlags) withSaved() (readingFlags, *ingest.Saved, error) {
	if f.reading == "" {
		return f, nil, nil
	}
	file, err := os.Open(f.reading)
	if err != nil {
		return f, nil, usagef("check the spelling and the folder", "can't open the saved reading %s: %v", f.reading, reason(err))
	}
	defer file.Close()
	saved, err := ingest.LoadSaved(file, f.reading)
	if err != nil {
		return f, nil, usagef("", "%v", err)
	}
	var kept readingFlags
	fs := newFlags("saved reading")
	kept.register(fs)
	for _, flag := range saved.Flags {
		name, value, _ := strings.Cut(strings.TrimPrefix(flag, "--"), " ")
		if err := fs.Set(name, value); err != nil || name == "reading" {
			return f, nil, usagef("make it anew with ringheat look LOG --save-reading FILE", "%s holds the flag %q, which is none of this version's", f.reading, flag)
		}
	}
	for _, p := range []struct{ own, saved *string }{
		{&f.time, &kept.time}, {&f.inner, &kept.inner}, {&f.outer, &kept.outer}, {&f.ambient, &kept.ambient},
		{&f.shaft, &kept.shaft}, {&f.setPoint, &kept.setPoint}, {&f.tempUnit, &kept.tempUnit}, {&f.delimiter, &kept.delimiter},
		{&f.decimal, &kept.decimal}, {&f.encoding, &kept.encoding}, {&f.dateOrder, &kept.dateOrder},
	} {
		if *p.own == "" {
			*p.own = *p.saved
		}
	}
	if f.intervalS == 0 {
		f.intervalS = kept.intervalS
	}
	return f, &saved, nil
}

// options turns the flags into the reader's options, and names the flag that can't be understood.
func (f *readingFlags) options() (ingest.Options, error) {
	var o ingest.Options
	for _, c := range []struct {
		flag, text string
		to         *[]ingest.ColumnRef
	}{
		{"time", f.time, &o.Time}, {"inner", f.inner, &o.Inner}, {"outer", f.outer, &o.Outer},
		{"ambient", f.ambient, &o.Ambient}, {"shaft", f.shaft, &o.Shaft}, {"set-point", f.setPoint, &o.SetPoint},
	} {
		refs, err := columnRefs(c.flag, c.text)
		if err != nil {
			return o, err
		}
		*c.to = refs
	}
	switch strings.ToUpper(strings.TrimPrefix(f.tempUnit, "°")) {
	case "":
	case "C":
		o.Unit = quantity.DegreeCelsius
	case "F":
		o.Unit = quantity.DegreeFahrenheit
	case "K":
		o.Unit = quantity.KelvinUnit
	default:
		return o, usagef("write C, F or K", "--temp-unit %q is no unit of temperature", f.tempUnit)
	}
	if f.delimiter != "" {
		mark, ok := ingest.ParseDelimiter(f.delimiter)
		if !ok {
			return o, usagef("write comma, semicolon, tab, pipe, spaces, or one mark", "--delimiter %q is no mark between cells", f.delimiter)
		}
		o.Delimiter = mark
	}
	switch f.decimal {
	case "":
	case ".", ",":
		o.Decimal = f.decimal[0]
	case "point", "dot":
		o.Decimal = '.'
	case "comma":
		o.Decimal = ','
	default:
		return o, usagef("write . or ,", "--decimal %q is no decimal mark", f.decimal)
	}
	if o.Decimal != 0 && o.Decimal == o.Delimiter && o.Decimal != ',' {
		return o, usagef("", "--decimal and --delimiter can't both be %q", f.decimal)
	}
	switch e := strings.ToLower(f.encoding); e {
	case "", "utf-8", "utf-16le", "utf-16be", "windows-1252":
		o.Encoding = e
	case "utf8":
		o.Encoding = "utf-8"
	case "latin-1", "latin1", "iso-8859-1":
		o.Encoding = "windows-1252"
	default:
		return o, usagef("write utf-8, utf-16le, utf-16be or windows-1252", "--encoding %q is not known", f.encoding)
	}
	switch d := ingest.DateOrder(strings.ToLower(f.dateOrder)); d {
	case ingest.AnyOrder, ingest.DMY, ingest.MDY, ingest.YMD:
		o.DateOrder = d
	default:
		return o, usagef("write dmy, mdy or ymd", "--date-order %q is no order of day, month and year", f.dateOrder)
	}
	if f.intervalS < 0 || math.IsNaN(f.intervalS) || f.intervalS > 86400 {
		return o, usagef("give the seconds between two rows, up to a day", "--interval-s %v is no sampling interval", f.intervalS)
	}
	o.IntervalS = f.intervalS
	return o, nil
}

// columnRefs reads a column flag: a whole number is a 1-based column, "=2" is the heading "2", anything
// else a heading. Several columns are separated by commas when all of them are numbers; a heading that
// holds a comma is thus one heading.
func columnRefs(flag, text string) ([]ingest.ColumnRef, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil, nil
	}
	if heading, ok := strings.CutPrefix(text, "="); ok {
		if strings.TrimSpace(heading) == "" {
			return nil, usagef("write the heading after the =", "--%s = names no heading", flag)
		}
		return []ingest.ColumnRef{{Heading: strings.TrimSpace(heading)}}, nil
	}
	parts := strings.Split(text, ",")
	refs := make([]ingest.ColumnRef, 0, len(parts))
	for _, p := range parts {
		n, err := strconv.Atoi(strings.TrimSpace(p))
		if err != nil {
			if len(parts) > 1 && flag == "time" && len(parts) == 2 {
				return headingPair(parts), nil
			}
			return []ingest.ColumnRef{{Heading: text}}, nil
		}
		if n < 1 {
			return nil, usagef(fmt.Sprintf("count columns from 1; for a heading that reads %d write --%s =%d", n, flag, n), "--%s %s: there is no column %d", flag, text, n)
		}
		refs = append(refs, ingest.ColumnRef{Number: n})
	}
	return refs, nil
}

func headingPair(parts []string) []ingest.ColumnRef {
	refs := make([]ingest.ColumnRef, len(parts))
	for i, p := range parts {
		refs[i].Heading = strings.TrimSpace(p)
		if n, err := strconv.Atoi(refs[i].Heading); err == nil && n > 0 {
			refs[i] = ingest.ColumnRef{Number: n}
		}
	}
	return refs
}
