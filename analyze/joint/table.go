package joint

import (
	"bytes"
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
)

//go:embed tables/*.csv
var tableFiles embed.FS

// sizeRange is "over ... up to and including ... mm", as the standards' tables have it.
type sizeRange struct{ overMM, inclMM float64 }

func (r sizeRange) holds(mm float64) bool { return mm > r.overMM && mm <= r.inclMM }

// readTable reads one of the package's own tables and hands over each row as a reader of cells. The tables are
// part of the program, so a mistake in them is the programmer's: it panics, and a test reads them all.
func readTable(name string, columns []string, row func(c cells)) {
	raw, err := tableFiles.ReadFile("tables/" + name)
	if err != nil {
		panic(err)
	}
	records, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("%s: %v", name, err))
	}
	if fmt.Sprint(records[0]) != fmt.Sprint(columns) {
		panic(fmt.Sprintf("%s: columns %v, want %v", name, records[0], columns))
	}
	for i, r := range records[1:] {
		row(cells{table: name, line: i + 2, columns: columns, values: r})
	}
}

// cells is one row of a table.
type cells struct {
	table           string
	line            int
	columns, values []string
}

func (c cells) text(column string) string {
	for i, name := range c.columns {
		if name == column {
			return c.values[i]
		}
	}
	panic(fmt.Sprintf("%s has no column %s", c.table, column))
}

func (c cells) number(column string) float64 {
	v, err := strconv.ParseFloat(c.text(column), 64)
	if err != nil {
		panic(fmt.Sprintf("%s:%d: column %s: %v", c.table, c.line, column, err))
	}
	return v
}

func (c cells) sizes() sizeRange { return sizeRange{c.number("over_mm"), c.number("incl_mm")} }

func (c cells) origin() Origin {
	conf, ok := parseConfidence(c.text("confidence"))
	if !ok {
		panic(fmt.Sprintf("%s:%d: confidence %q", c.table, c.line, c.text("confidence")))
	}
	return Origin{Source: c.text("source"), Confidence: conf}
}
