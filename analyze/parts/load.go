package parts

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/gocarina/gocsv"

	"ringheat/analyze/judge"
)

// maxBytes bounds a parts list.
const maxBytes = 16 << 20

// remark begins a line that is no row. Column part stands first, so that no row begins with it.
const remark = '#'

// Load reads a parts list from CSV. name is the file's, for messages; limits is the table of limits in force, in which the
// parts' classes must stand. The error names file, line and column and says what to write.
func Load(r io.Reader, name string, limits *judge.LimitsTable) (*List, error) {
	raw, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read parts list %s: %w", name, err)
	}
	if len(raw) > maxBytes {
		return nil, fmt.Errorf("parts list %s is larger than %d bytes: is it the right file?", name, maxBytes)
	}
	raw = bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(raw) || bytes.IndexByte(raw, 0) >= 0 {
		return nil, fmt.Errorf("parts list %s is not UTF-8 text: save it as CSV UTF-8", name)
	}
	rows, lines, err := rowsOf(raw, name)
	if err != nil {
		return nil, err
	}
	if err := checkHeader(rows[0], name, lines[0]); err != nil {
		return nil, err
	}
	var records []record
	if err := gocsv.UnmarshalCSV(&rowReader{rows: rows}, &records); err != nil {
		return nil, fmt.Errorf("parts list %s: %w", name, err)
	}
	if len(records) != len(rows)-1 {
		return nil, fmt.Errorf("parts list %s: %d rows read of %d", name, len(records), len(rows)-1)
	}
	list := &List{Name: name}
	seen := map[string]int{}
	for i := range records {
		line := lines[i+1]
		part, err := records[i].part(limits)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		part.Line = line
		key := strings.ToLower(part.Name)
		if at, twice := seen[key]; twice {
			return nil, fmt.Errorf("%s:%d: column part: %q stands in line %d already: give every part one row", name, line, shorten(part.Name), at)
		}
		seen[key] = line
		list.Parts = append(list.Parts, part)
	}
	return list, nil
}

// rowsOf splits a file into its rows, the header first, with the line of each. Remarks are left out.
func rowsOf(raw []byte, name string) (rows [][]string, lines []int, err error) {
	if err := checkRemarks(raw, name); err != nil {
		return nil, nil, err
	}
	r := csv.NewReader(bytes.NewReader(raw))
	r.FieldsPerRecord = -1
	r.Comment = remark
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			return nil, nil, fmt.Errorf("%s:%d: character %d: %w: double a quote that belongs to a text, and quote a cell that holds one", name, parse.Line, parse.Column, parse.Err)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("parts list %s: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		if blank(cells) || strings.HasPrefix(cells[0], string(remark)) && blank(cells[1:]) {
			continue // what a spreadsheet leaves of deleted rows, and makes of remarks
		}
		if len(rows) > 0 && len(cells) != len(rows[0]) {
			return nil, nil, fmt.Errorf("%s:%d: %d cells where the header has %d: give every row as many cells as the header, quote a text that holds a comma, and write numbers with a point as decimal mark",
				name, line, len(cells), len(rows[0]))
		}
		rows, lines = append(rows, cells), append(lines, line)
	}
	switch {
	case len(rows) == 0:
		return nil, nil, fmt.Errorf("parts list %s is empty: start from the output of 'ringheat parts --template'", name)
	case len(rows[0]) == 1 && strings.Contains(rows[0][0], ";"):
		return nil, nil, fmt.Errorf("%s:%d: the columns are parted by semicolons: save it with commas, and with a point as decimal mark", name, lines[0])
	case len(rows) == 1:
		return nil, nil, fmt.Errorf("parts list %s has no row below its header: add a row for each part", name)
	}
	return rows, lines, nil
}

// checkRemarks refuses lines that begin like a remark and may be a row, so that no part is lost.
func checkRemarks(raw []byte, name string) error {
	n := 0
	for line := range bytes.Lines(raw) {
		n++
		line = bytes.TrimRight(line, "\r\n")
		if len(line) > 1 && line[0] == remark && line[1] != ' ' && line[1] != remark && line[1] != ',' {
			return fmt.Errorf("%s:%d: %q begins with %c and would be passed over: put a space behind the %c of a remark, or give the part another name",
				name, n, shorten(string(line)), remark, remark)
		}
	}
	return nil
}

func blank(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// checkHeader refuses a heading that is none of the columns, one that stands twice, and a missing one.
func checkHeader(header []string, name string, line int) error {
	seen := map[string]bool{}
	for i, h := range header {
		if findColumn(h) == nil {
			hint := "the columns are " + strings.Join(Columns(), ", ")
			if c := likely(h); c != "" {
				hint = "write " + c
			}
			return fmt.Errorf("%s:%d: column %d: %q is not a column of a parts list: %s", name, line, i+1, shorten(h), hint)
		}
		if seen[h] {
			return fmt.Errorf("%s:%d: column %d: %q stands twice: leave one of them out", name, line, i+1, h)
		}
		seen[h] = true
	}
	if seen["part"] && header[0] != "part" {
		return fmt.Errorf("%s:%d: column part must be the first: move it to the front", name, line)
	}
	for _, c := range columns {
		if c.required && !seen[c.name] {
			return fmt.Errorf("%s:%d: column %s is missing: add it; it holds the %s", name, line, c.name, c.words)
		}
	}
	return nil
}

// rowReader hands rows that were read already to the list's decoder.
type rowReader struct {
	rows [][]string
	next int
}

func (r *rowReader) Read() ([]string, error) {
	if r.next == len(r.rows) {
		return nil, io.EOF
	}
	r.next++
	return r.rows[r.next-1], nil
}

func (r *rowReader) ReadAll() ([][]string, error) { return r.rows[r.next:], nil }

// shorten keeps foreign text in messages short and on one line.
func shorten(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
	const most = 60
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return s
}
