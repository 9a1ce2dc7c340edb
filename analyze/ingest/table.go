package ingest

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"ringheat/analyze/ingest/cell"
	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// table is a sample of the rows, cut into cells: what the clock and the columns are decided on.
type table struct {
	rows    [][][]byte
	arena   [][]byte
	lines   []int // 0-based line of every sampled row
	breaks  []int
	columns []column
}

// column is what heading and sampled cells say of one column.
type column struct {
	name    string // heading rows joined by " / ", "" without
	unit    string // the unit row's cell
	meaning heading.Meaning

	numbers, texts, empties, markers, times int
	suffix                                  quantity.TemperatureUnit
	suffixes, otherSuffixes                 int
	values                                  []float64 // numbers, in row order
	min, max                                float64
	integers                                bool
	decimal                                 byte     // this column's mark
	flag                                    string   // letters beside most of its figures, a suffix
	words                                   []string // different texts, up to maxWords, in order
	wordCount                               []int
}

func newColumn() column {
	return column{min: math.Inf(1), max: math.Inf(-1), integers: true}
}

// sampleRows takes stretches of rows from the start, middle and end of the head.
func (p *planner) sampleRows() {
	t := &p.table
	t.rows, t.lines, t.breaks, t.arena = t.rows[:0], t.lines[:0], t.breaks[:0], t.arena[:0]
	first, gap := p.layout.first, p.firstGap()
	take := func(from, to, n int) {
		if from >= to {
			return
		}
		if len(t.lines) > 0 && from > t.lines[len(t.lines)-1]+1 || len(t.lines) > 0 && slices.Contains(p.gaps, from) {
			t.breaks = append(t.breaks, len(t.rows))
		}
		for i := from; i < to && n > 0; i++ {
			if len(t.lines) > 0 && i <= t.lines[len(t.lines)-1] {
				continue
			}
			start := len(t.arena)
			t.arena, _ = p.cut(p.lineAt(i), t.arena)
			for len(t.arena)-start > p.dial.columns && len(t.arena[len(t.arena)-1]) == 0 {
				t.arena = t.arena[:len(t.arena)-1]
			}
			row := t.arena[start:len(t.arena):len(t.arena)]
			if len(row) < p.layout.minCells || len(row) > p.dial.columns || isRule(p.lineAt(i)) || !p.cellsLikeData(row) {
				t.arena = t.arena[:start]
				continue
			}
			t.rows = append(t.rows, row)
			t.lines = append(t.lines, i)
			n--
		}
	}
	if !p.partial {
		total := len(p.lines) - first
		if total <= 80 {
			take(first, len(p.lines), total)
			return
		}
		take(first, len(p.lines), 28)
		take(first+total/3, len(p.lines), 8)
		take(first+2*total/3, len(p.lines), 8)
		take(first+total-28, len(p.lines), 28)
		return
	}
	take(first, gap, 24)
	take(gap-8, gap, 8)
	for k, from := range p.gaps {
		to, n := len(p.lines), 24
		if k+1 < len(p.gaps) {
			to, n = p.gaps[k+1], 6
		}
		take(max(from, to-n), to, n)
	}
}

// readColumns sets up the columns from the headings and the sampled rows.
func (p *planner) readColumns() error {
	t := &p.table
	old := t.columns
	t.columns = t.columns[:0]
	for c := range p.dial.columns {
		col := newColumn()
		if c < cap(old) && c < len(old[:cap(old)]) {
			was := &old[:cap(old)][c]
			col.values, col.words, col.wordCount = was.values[:0], was.words[:0], was.wordCount[:0]
		}
		t.columns = append(t.columns, col)
	}
	p.findPrefixes()
	for _, h := range p.layout.headers {
		p.headerCells(h)
		at, by := p.headingShift(len(p.cells))
		if by == 0 && h != p.layout.unit && len(p.cells) < p.dial.columns && len(p.cells) > 1 {
			if err := p.fewHeadings(h, len(p.cells)); err != nil {
				return err
			}
		}
		for c, b := range p.cells {
			if c > at {
				c += by
			}
			if c >= len(t.columns) || len(b) == 0 {
				continue
			}
			col := &t.columns[c]
			text := cleanText(b)
			switch {
			case h == p.layout.unit:
				col.unit = text
			case col.name == "":
				col.name = text
			case col.name != text && !strings.HasSuffix(col.name, " / "+text):
				col.name += " / " + text
			}
		}
	}
	for c := range t.columns {
		col := &t.columns[c]
		for _, row := range t.rows {
			if c >= len(row) {
				col.empties++
				continue
			}
			col.add(row[c], p.dial.decimal)
		}
	}
	p.findMarks()
	for c := range t.columns {
		t.columns[c].readFlags(t.rows, c, p.dial.decimal)
		t.columns[c].leaveOutErrors()
	}
	p.nameByNeighbours()
	p.meanings = p.meanings[:0]
	for c := range t.columns {
		p.meanings = append(p.meanings, heading.Read(t.columns[c].name, t.columns[c].unit))
	}
	heading.Settle(p.meanings)
	for c := range t.columns {
		t.columns[c].meaning = p.meanings[c]
	}
	return nil
}

// fewHeadings looks at a heading row with fewer cells than the rows have. Cells without a heading at the end are no harm
// when they are empty; figures there mean that headings and cells may not belong together.
func (p *planner) fewHeadings(line, n int) error {
	rows := p.table.rows
	last := p.dial.columns - 1
	filled, pairs := 0, 0
	for _, r := range rows {
		if last < len(r) && len(r[last]) > 0 {
			filled++
		}
		whole := true
		for _, b := range r {
			if _, d, ok := shortDecimal(b, '.'); !ok || d > 0 {
				whole = false
			}
		}
		if whole {
			pairs++
		}
	}
	if 2*filled < len(rows) {
		return nil
	}
	extra := p.dial.columns - n
	if pairs*10 >= 9*len(rows) && extra >= n-2 && extra <= n && extra > 1 && p.dial.delim == comma && p.o.Decimal != '.' {
		return p.fail(ErrUnsupported, line+1, 0, fmt.Sprintf("%d headings over %d whole numbers in every row: the decimal comma is also the delimiter, so the cells can't be told apart", n, p.dial.columns), "export with another delimiter or with a decimal point; --decimal . reads the cells as they stand")
	}
	if extra == 1 {
		p.guess(Guess{Stage: "header", Choice: "the last column has no heading", Evidence: fmt.Sprintf("%d headings over %d cells; taken from the left", n, p.dial.columns), By: series.ByPlausibility})
		return nil
	}
	p.ask(fmt.Sprintf("%d headings over %d cells: headings were taken from the left; name columns by number with --time, --inner and --outer if they don't belong so", n, p.dial.columns))
	return nil
}

// findMarks reads a column anew with the other decimal mark where its cells are numbers only so: some exports
// write a comma in one column and a point in the next.
func (p *planner) findMarks() {
	t := &p.table
	other := byte('.')
	if p.dial.decimal == '.' {
		other = ','
	}
	for c := range t.columns {
		col := &t.columns[c]
		col.decimal = p.dial.decimal
		if col.texts == 0 || col.numbers > col.texts {
			continue
		}
		again := newColumn()
		for _, row := range t.rows {
			if c < len(row) {
				again.add(row[c], other)
			}
		}
		if again.numbers > 0 && again.numbers >= 4*again.texts {
			again.name, again.unit, again.decimal = col.name, col.unit, other
			*col = again
			p.guess(Guess{Stage: "decimal", Choice: fmt.Sprintf("%c in column %d", other, c+1), Evidence: "its cells are numbers only so", By: series.ByPlausibility})
		}
	}
}

// nameByNeighbours takes names and units out of the cells where every row repeats them: name, value, unit, name,
// value, unit, and so on. A heading that names no quantity gives way.
func (p *planner) nameByNeighbours() {
	t := &p.table
	named := 0
	for c := range t.columns {
		col := &t.columns[c]
		if col.numbers == 0 || col.numbers < col.texts+col.times {
			continue
		}
		before, behind := "", ""
		if c > 0 {
			before = t.columns[c-1].constant()
		}
		if c+1 < len(t.columns) {
			behind = t.columns[c+1].constant()
		}
		if before == "" && behind == "" {
			continue
		}
		if col.name != "" {
			if m := heading.Read(col.name, col.unit); m.Quantity != heading.NoQuantity && m.Quantity != heading.Value || m.Role != series.NoRole {
				continue
			}
		}
		if behind != "" && col.unit == "" {
			if _, ok := heading.ReadUnit(behind); ok {
				col.unit = behind
			}
		}
		if before != "" {
			if _, unit := heading.ReadUnit(before); !unit || c == 1 {
				col.name = strings.TrimRight(before, ":= ")
				named++
			}
		}
	}
	if named > 0 {
		p.guess(Guess{Stage: "layout", Choice: "names stand beside the values in every row", Evidence: fmt.Sprintf("%d columns of numbers with one and the same word before them", named), By: series.ByCell})
		p.read.Layout = "name and value repeated"
	}
}

// headerCells cuts a heading line into p.cells. Over columns of blanks a heading may have blanks of its own.
func (p *planner) headerCells(h int) {
	line := p.lineAt(h) // a leading tab is an empty cell
	if commentMark(line) {
		line = trimComment(trim(line))
	}
	p.cells, _ = split(line, p.dial.delim, p.cells[:0])
	if p.dial.delim == blanks && len(p.cells) > p.dial.columns {
		if cells := splitWide(line, nil); len(cells) >= 2 && len(cells) <= p.dial.columns {
			p.cells = append(p.cells[:0], cells...)
		}
	}
}

// findPrefixes takes the names off cells that carry them in every row, "inner=21.5", and makes them headings.
func (p *planner) findPrefixes() {
	t := &p.table
	p.prefix = p.prefix[:0]
	found := 0
	for c := range t.columns {
		p.prefix = append(p.prefix, "")
		name := ""
		same := 0
		for _, row := range t.rows {
			if c >= len(row) {
				continue
			}
			n := prefixLen(row[c])
			if n == 0 {
				continue
			}
			if name == "" {
				name = string(row[c][:n])
			}
			if string(row[c][:n]) == name {
				same++
			}
		}
		if name == "" || 10*same < 9*len(t.rows) {
			continue
		}
		for _, row := range t.rows {
			if c < len(row) {
				row[c] = trim(bytes.TrimPrefix(row[c], []byte(name)))
			}
		}
		p.prefix[c] = name
		t.columns[c].name = strings.TrimSpace(strings.TrimSuffix(name, "="))
		found++
	}
	if found == 0 {
		p.prefix = p.prefix[:0]
		return
	}
	p.read.Layout = "name and value repeated"
	p.guess(Guess{Stage: "layout", Choice: "names stand before the values in every cell", Evidence: fmt.Sprintf("%d columns have the same name and an equals sign in every row", found), By: series.ByCell})
}

// headingShift finds where a heading row with fewer cells than the rows must be moved: a date, a time of day and
// a half of the day stand in cells of their own under one heading. Headings behind column at move right by by.
func (p *planner) headingShift(headings int) (at, by int) {
	by = p.dial.columns - headings
	if by < 1 || by > 2 || len(p.table.rows) == 0 {
		return p.dial.columns, 0
	}
	row := p.table.rows[len(p.table.rows)/2]
	for c := 0; c+by < len(row); c++ {
		if classify(row[c]) != classTime {
			continue
		}
		run := 0
		for k := c + 1; k <= c+by; k++ {
			if classify(row[k]) == classTime {
				run++
			}
		}
		if run == by {
			p.guess(Guess{Stage: "header", Choice: fmt.Sprintf("heading %d spans columns %d to %d", c+1, c+1, c+by+1), Evidence: fmt.Sprintf("%d headings over %d cells, and these hold a date and a time", headings, p.dial.columns), By: series.ByPlausibility})
			return c, by
		}
	}
	// A column in front without a heading, as statistics programs write the names of rows.
	if by == 1 && headings >= 2 {
		counts, words := 0, 0
		last := len(row) - 1
		for i, r := range p.table.rows {
			if len(r) != p.dial.columns || len(r[last]) == 0 {
				return p.dial.columns, 0
			}
			v, _, ok := shortDecimal(r[0], '.')
			switch {
			case !ok && classify(r[0]) == classText:
				words++
			case ok && i > 0:
				if w, _, ok := shortDecimal(p.table.rows[i-1][0], '.'); ok && (v == w+1 || slices.Contains(p.table.breaks, i)) {
					counts++
				}
			}
		}
		if n := len(p.table.rows); counts == n-1 && n > 1 || words == n {
			p.guess(Guess{Stage: "header", Choice: "the first column has no heading", Evidence: fmt.Sprintf("%d headings over %d cells in every row, and the first only names or counts the rows", headings, p.dial.columns), By: series.ByPlausibility})
			return -1, 1
		}
	}
	return p.dial.columns, 0
}

// trimComment takes the comment mark off a line.
func trimComment(line []byte) []byte {
	for len(line) > 0 && (line[0] == '#' || line[0] == '%' || line[0] == '!' || line[0] == '/') {
		line = line[1:]
	}
	return trim(line)
}

// cleanText gives a heading's text: line ends become blanks, bytes that are no UTF-8 a replacement character.
func cleanText(b []byte) string {
	s := strings.ToValidUTF8(string(b), "\uFFFD")
	if strings.ContainsAny(s, "\r\n\x00") {
		s = strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == '\r' || r == '\n' || r == 0 }), " ")
	}
	return s
}

// add takes one sampled cell into the column's account.
func (c *column) add(b []byte, decimal byte) {
	v, _, ok := shortDecimal(b, decimal)
	if !ok {
		w := cell.Parse(b, decimal)
		switch w.Kind {
		case cell.Empty:
			c.empties++
			return
		case cell.Marker:
			c.markers++
			c.word(b)
			return
		case cell.Text:
			switch {
			case len(b) == 0:
				c.empties++
			case timeLike(b):
				c.times++
			default:
				c.texts++
				c.word(b)
			}
			return
		}
		v = w.Number
		if u := w.Suffix.Temperature(); u != quantity.UnknownUnit {
			c.suffix = u
			c.suffixes++
		} else if w.Suffix != cell.NoSuffix {
			c.otherSuffixes++
		}
	}
	c.numbers++
	c.values = append(c.values, v)
	c.min, c.max = min(c.min, v), max(c.max, v)
	if v != math.Trunc(v) {
		c.integers = false
	}
}

// maxWords is the most different texts that are kept of a column.
const maxWords = 64

// word keeps a text of the column.
func (c *column) word(b []byte) {
	for i, w := range c.words {
		if string(b) == w {
			c.wordCount[i]++
			return
		}
	}
	if len(c.words) <= maxWords {
		c.words = append(c.words, cleanText(b))
		c.wordCount = append(c.wordCount, 1)
	}
}

// constant gives the one text that all cells of the column hold, "" when they differ or are no text.
func (c *column) constant() string {
	if len(c.words) == 1 && c.numbers == 0 && c.times == 0 && c.empties == 0 {
		return c.words[0]
	}
	return ""
}

// leaveOutErrors takes numbers that stand for no reading out of the sampled values, so that -9999 says nothing about a
// column's unit.
func (c *column) leaveOutErrors() {
	if len(c.values) == 0 || c.min > -150 && c.max < 700 {
		return
	}
	drop := map[float64]bool{}
	for _, e := range cell.FindErrors(c.values, quantity.UnknownUnit) {
		for _, run := range e.Runs {
			for k := run.First; k <= run.Last; k++ {
				drop[c.values[k]] = true
			}
		}
	}
	if len(drop) == 0 {
		return
	}
	kept := c.values[:0]
	c.min, c.max, c.integers = math.Inf(1), math.Inf(-1), true
	for _, v := range c.values {
		if drop[v] {
			c.numbers--
			c.markers++
			continue
		}
		kept = append(kept, v)
		c.min, c.max = min(c.min, v), max(c.max, v)
		c.integers = c.integers && v == math.Trunc(v)
	}
	c.values = kept
}

// distinctValues counts the different values, up to most.
func (c *column) distinctValues(most int) int {
	var seen [16]float64
	n := 0
next:
	for _, v := range c.values {
		for _, w := range seen[:n] {
			if v == w {
				continue next
			}
		}
		if n == most || n == len(seen) {
			return n + 1
		}
		seen[n] = v
		n++
	}
	return n
}
