package ingest

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/series"
)

// structure is the fourth stage's finding: which lines of the head are what.
type structure struct {
	first    int    // 0-based line of the first row of data
	headers  []int  // 0-based heading lines, in file order
	unit     int    // 0-based unit row, -1 without
	typed    []bool // by column: cells of data lines are numbers, times or markers
	leading  int    // first typed column
	minCells int
	maxCells int
}

// errLookAtAll says that the lines looked at were too few: the record begins behind them.
var errLookAtAll = errors.New("look at all lines")

// kind of line in Rows.Skipped.
const (
	skipBlank    = "blank"
	skipPreamble = "preamble"
	skipHeader   = "header"
	skipUnit     = "unit"
	skipComment  = "comment"
	skipFooter   = "footer"
	skipRepeated = "repeated header"
	skipOther    = "other record" // a reading that is no temperature, in a long layout; a record of another kind
)

// commentMark says whether a line begins like a comment.
func commentMark(line []byte) bool {
	b := trim(line)
	if len(b) == 0 {
		return false
	}
	switch b[0] {
	case '#', '%', '!':
		return true
	case '/':
		return len(b) > 1 && b[1] == '/'
	}
	return false
}

// findStructure finds the data lines and what stands above them.
func (p *planner) findStructure() error {
	s := &p.layout
	*s = structure{unit: -1, headers: s.headers[:0], typed: s.typed[:0]}
	d := p.dial

	// Which columns hold data, over sampled lines of the usual width.
	sample := p.sampleLines(fewLines)
	counts := make([][3]int, d.columns) // typed, text, empty
	usual := 0
	s.minCells, s.maxCells = d.columns, d.columns
	for _, l := range sample {
		p.cells, _ = p.cut(p.lineAt(l), p.cells[:0])
		if len(p.cells) != d.columns || commentMark(p.lineAt(l)) {
			continue
		}
		any := false
		for _, b := range p.cells {
			k := classify(b)
			any = any || k != classText && k != classEmpty
		}
		if !any {
			continue // headings
		}
		usual++
		for c, b := range p.cells {
			switch classify(b) {
			case classText:
				counts[c][1]++
			case classEmpty:
				counts[c][2]++
			default:
				counts[c][0]++
			}
		}
	}
	s.leading = -1
	any := false
	for c := range counts {
		typed := counts[c][0] > 0 && counts[c][0] > 2*counts[c][1]
		s.typed = append(s.typed, typed)
		if typed {
			any = true
			if s.leading < 0 && counts[c][0] > 3*counts[c][2] {
				s.leading = c
			}
		}
	}
	if (!any || usual == 0) && p.partial {
		return errLookAtAll
	}
	if !any || usual == 0 {
		return p.noData()
	}

	// The first data line: one that looks like data, as most of those behind it do. A small table of settings above
	// the headings looks so too; it is soon over.
	first := p.firstOfRun(8)
	if p.partial && (first < 0 || first >= p.firstGap()-8) {
		return errLookAtAll
	}
	if first < 0 {
		first = p.firstOfRun(2)
	}
	if first < 0 {
		first = p.firstOfRun(0)
	}
	if first < 0 {
		return p.noData()
	}
	s.first = first
	p.findHeaders()
	p.countedHeadings()
	p.findWidth()

	r := p.read
	r.FirstDataLine = first + 1
	for _, h := range s.headers {
		r.HeaderLines = append(r.HeaderLines, h+1)
		for k := h + 1; p.cont[k]; k++ {
			r.HeaderLines = append(r.HeaderLines, k+1)
		}
	}
	g := Guess{Stage: "header", By: series.ByPlausibility}
	if len(s.headers) == 0 {
		g.Choice, g.Evidence = "none", fmt.Sprintf("line %d is the first of data and no line above it has %d headings", first+1, d.columns)
	} else {
		var list []string
		for _, h := range s.headers {
			w := fmt.Sprint(h + 1)
			if h == s.unit {
				w += " (units)"
			}
			list = append(list, w)
		}
		g.Choice = "line " + strings.Join(list, ", ")
		g.Evidence = fmt.Sprintf("words above the first data line %d", first+1)
	}
	p.guess(g)
	return nil
}

func lineCount(n int) string {
	if n == 1 {
		return "1 line"
	}
	return fmt.Sprintf("%d lines", n)
}

// firstOfRun finds the first line that looks like data and has mostly data among the next lines with text.
func (p *planner) firstOfRun(ahead int) int {
	for k, l := range p.filled {
		i := int(l)
		if i == p.dial.sepLine-1 || p.cont[i] || !p.looksLikeData(i) {
			continue
		}
		good, seen := 0, 0
		for n := k + 1; n < len(p.filled) && seen < ahead; n++ {
			if i := int(p.filled[n]); commentMark(p.lineAt(i)) {
				continue
			} else if p.looksLikeData(i) {
				good++
			} else if seen < 3 && len(p.filled)-n > 2 && p.allWords(i) {
				good -= ahead // headings follow: what stands above them is no record
			}
			seen++
		}
		if 3*good >= 2*seen {
			return i
		}
	}
	return -1
}

// allWords says whether a line has words in every column, as headings have.
func (p *planner) allWords(i int) bool {
	p.cells, _ = p.cut(p.lineAt(i), p.cells[:0])
	words := 0
	for _, c := range p.cells {
		switch classify(c) {
		case classText:
			words++
		case classNumber, classTime, classMarker:
			return false
		}
	}
	return words >= 2 && words*4 >= 3*p.dial.columns
}

// findTags finds a column that tells kinds of record apart: one word where the readings stand, others elsewhere.
func (p *planner) findTags(pl *plan) {
	pl.tag, pl.otherTags = -1, pl.otherTags[:0]
	if pl.narrow.on {
		return
	}
	for c := range p.table.columns {
		col := &p.table.columns[c]
		if col.texts == 0 || col.numbers > 0 || col.empties > 0 || len(col.words) > 8 {
			continue
		}
		// The words of lines whose readings can be read, and of those whose can't.
		var with, without []string
		for _, l := range p.sampleLines(200) {
			if l < p.layout.first {
				continue
			}
			p.cells, _ = p.cut(p.lineAt(l), p.cells[:0])
			if c >= len(p.cells) || classify(p.cells[c]) != classText && classify(p.cells[c]) != classMarker {
				continue
			}
			reads := false
			for i := range pl.channels[:pl.probes] {
				if k := pl.channels[i].column; k < len(p.cells) && len(p.cells) == p.dial.columns && classify(p.cells[k]) != classText {
					reads = true
				}
			}
			w := string(p.cells[c])
			if reads {
				if !slices.Contains(with, w) {
					with = append(with, w)
				}
			} else {
				without = append(without, w)
			}
		}
		if len(with) == 0 || len(without) == 0 {
			continue
		}
		for i, w := range without {
			if !slices.Contains(with, w) && !slices.Contains(pl.otherTags, w) && (slices.Contains(without[i+1:], w) || len(w) == len(with[0])) {
				pl.otherTags = append(pl.otherTags, w)
			}
		}
		if len(pl.otherTags) > 0 {
			pl.tag = c
			p.guess(Guess{Stage: "layout", Choice: fmt.Sprintf("records of several kinds: %s is read, %s is passed over", strings.Join(with, ", "), strings.Join(pl.otherTags, ", ")), Evidence: fmt.Sprintf("column %d tells them apart", c+1), By: series.ByPlausibility})
			return
		}
	}
}

// noData is the error of a log in which no row of readings was found.
func (p *planner) noData() error {
	words := 0
	last := 0
	for i := range p.lines {
		if len(trim(p.lineAt(i))) > 0 {
			words++
			last = i + 1
		}
	}
	if words == 0 {
		return p.fail(ErrEmpty, 0, 0, "has no text in it", "export the log again")
	}
	return p.fail(ErrNoData, last, 0, fmt.Sprintf("headings or text only, no row of readings in %s", lineCount(len(p.lines))), "export the log with its readings, or name --delimiter and --decimal if it has some")
}

// looksLikeData says whether line i could be a row: its cells are what the data columns usually hold.
func (p *planner) looksLikeData(i int) bool {
	line := p.lineAt(i)
	if len(line) == 0 || isRule(line) {
		return false
	}
	p.cells, _ = p.cut(line, p.cells[:0])
	return p.cellsLikeData(p.cells)
}

func (p *planner) cellsLikeData(cells [][]byte) bool {
	s := &p.layout
	if len(cells) < 2 && len(s.typed) > 1 {
		return false
	}
	if len(cells) > len(s.typed)+1 || 2*len(cells) < len(s.typed) {
		return false
	}
	typed, text := 0, 0
	for c, b := range cells {
		if c >= len(s.typed) || !s.typed[c] {
			continue
		}
		switch classify(b) {
		case classEmpty:
		case classText:
			if c == s.leading {
				return false
			}
			text++
		default:
			typed++
		}
	}
	return typed > 0 && text <= typed
}

// findHeaders takes the heading lines and the unit row: the lines right above the first row that have
// words in as many cells, nearest first.
func (p *planner) findHeaders() {
	s, d := &p.layout, p.dial
	nearest, width := -1, 0
	blank := 0
	typical := p.lineAt(s.first)
	if n := len(p.picked); n > 0 {
		typical = p.lineAt(p.picked[n/2])
	}
	usualLetters, usualDigits := lettersAndDigits(typical)
	for i := s.first - 1; i >= 0 && len(s.headers) < MaxHeaderLines; i-- {
		if i == d.sepLine-1 {
			break
		}
		line := trim(p.lineAt(i))
		if p.cont[i] {
			continue
		}
		if len(line) == 0 {
			if blank++; blank > 2 || nearest >= 0 {
				break
			}
			continue
		}
		if isRule(line) {
			continue
		}
		if nearest < 0 && blank == 0 && i == s.first-1 && !commentMark(line) {
			if letters, digits := lettersAndDigits(line); letters <= usualLetters+1 && 2*digits >= usualDigits && digits >= 4 {
				s.first = i // a damaged row, to be reported as such
				continue
			}
		}
		p.headerCells(i)
		words, filled, units, numbers := 0, 0, 0, 0
		for _, c := range p.cells {
			if len(c) == 0 {
				continue
			}
			filled++
			switch classify(c) {
			case classNumber, classTime:
				numbers++
			default:
				words++
			}
			if _, ok := heading.ReadUnit(string(c)); ok {
				units++
			}
		}
		n := len(p.cells)
		if n > d.columns && len(p.cells[n-1]) == 0 {
			n--
		}
		if nearest < 0 {
			// The first row upwards is a heading or a unit row when its width fits.
			if words == 0 && numbers == 0 || n > d.columns+1 || 2*n < d.columns+1 && d.columns > 1 || filled == 1 && d.columns > 2 {
				break
			}
			if d.columns > 1 && n < 2 {
				break
			}
			if commentMark(line) && n < d.columns {
				if _, _, ok := heading.SplitKeyValue(string(trimComment(line))); ok {
					break
				}
			}
			nearest = i
			if units > 0 && units >= filled-1 && i > 0 && p.isHeadingAbove(i) {
				s.unit = i
			}
			width = n
			s.headers = append(s.headers, i)
			continue
		}
		if commentMark(line) && !commentMark(p.lineAt(nearest)) {
			break // notes above the headings
		}
		if n > d.columns && width <= d.columns {
			break // as many cells as no row has
		}
		if !p.upperHeading(line, n, width, filled) {
			break
		}
		if s.unit < 0 && units >= 2 && 5*units >= 3*filled {
			s.unit = i // between the names and a row that says what kind of value it is
			s.headers = append(s.headers, i)
			continue
		}
		if n < 2 || n > d.columns+1 || 2*n < d.columns || words == 0 || filled < 2 {
			break
		}
		if p.keyValue(p.cells, filled) && s.unit < 0 {
			break
		}
		if s.unit < 0 || len(s.headers) > 1 {
			// A second heading row has to look like one: words of the trade, or as many cells as the first.
			known := 0
			for _, c := range p.cells {
				if heading.IsHeading(string(c)) {
					known++
				}
			}
			if 2*known < filled && !(filled >= 3 && filled*3 >= d.columns*2 && numbers == 0) {
				break
			}
		}
		s.headers = append(s.headers, i)
	}
	for i, j := 0, len(s.headers)-1; i < j; i, j = i+1, j-1 {
		s.headers[i], s.headers[j] = s.headers[j], s.headers[i]
	}
}

// upperHeading says whether a line above the nearest heading row can be one as well, by its width: as many cells as the
// row below, for a preamble's key and value stand in fewer. The line's cells are in p.cells.
func (p *planner) upperHeading(line []byte, n, width, filled int) bool {
	first := p.cells[0]
	if n != width && n != p.dial.columns && !(len(first) == 0 && n >= width-1) {
		return false
	}
	for _, c := range p.cells {
		if len(c) > 0 && (c[len(c)-1] == ':' || classify(c) == classNumber) {
			return false // a key; a figure, as "Run 1" over several columns
		}
	}
	if bytes.IndexByte(first, ':') > 0 || bytes.IndexByte(first, '=') > 0 {
		return false
	}
	if len(first) > 0 && filled <= 2 {
		m := heading.Read(cleanText(first), "")
		return m.Quantity == heading.Time || m.Quantity == heading.Index
	}
	return true
}

// countedHeadings takes the first line for headings when it does nothing but count the columns, 0, 1, 2, and the next
// line does not: a table written without names.
func (p *planner) countedHeadings() {
	s := &p.layout
	if len(s.headers) > 0 || p.dial.columns < 2 || s.first+1 >= p.firstGap() || !p.countsColumns(s.first) || p.countsColumns(s.first+1) {
		return
	}
	s.headers = append(s.headers, s.first)
	s.first++
	for s.first < len(p.lines)-1 && !p.looksLikeData(s.first) {
		s.first++
	}
}

func (p *planner) countsColumns(i int) bool {
	p.cells, _ = p.cut(p.lineAt(i), p.cells[:0])
	if len(p.cells) != p.dial.columns {
		return false
	}
	base := -1.0
	for c, b := range p.cells {
		v, d, ok := shortDecimal(b, '.')
		if c == 0 && len(b) == 0 {
			continue // an index column without a name
		}
		if !ok || d > 0 {
			return false
		}
		if base < 0 {
			if base = v - float64(c); base != 0 && base != 1 && base != -1 {
				return false
			}
		}
		if v != base+float64(c) {
			return false
		}
	}
	return base >= -1
}

// isRule says whether a line is a rule under headings or between parts: dashes and the like in every cell.
func isRule(line []byte) bool {
	dashes := 0
	for _, c := range line {
		switch c {
		case '-', '=', '_', '~', '*':
			dashes++
		case '+', '|', ':', ' ', '\t', ',', ';', '"':
		default:
			return false
		}
	}
	return dashes >= 6
}

// isHeadingAbove says whether a line above a unit row could be its heading row.
func (p *planner) isHeadingAbove(unit int) bool {
	for i := unit - 1; i >= 0; i-- {
		line := p.lineAt(i)
		if len(trim(line)) == 0 {
			continue
		}
		if commentMark(line) {
			line = trimComment(trim(line))
		}
		cells, _ := split(line, p.dial.delim, nil)
		filled := 0
		for _, c := range cells {
			if len(c) > 0 {
				filled++
			}
		}
		return (filled >= 2 || p.dial.columns == 1) && 2*len(cells) >= p.dial.columns
	}
	return false
}

// keyValue says whether cells are a preamble's key and value rather than headings.
func (p *planner) keyValue(cells [][]byte, filled int) bool {
	if filled > 2 || len(cells) == 0 {
		return false
	}
	key := string(cells[0])
	if strings.HasSuffix(key, ":") || strings.HasSuffix(key, "=") {
		return true
	}
	value := ""
	for _, c := range cells[1:] {
		if len(c) > 0 {
			value = string(c)
		}
	}
	return heading.ReadFact(key, value).Kind != heading.NoFact
}

// findWidth finds how many cells a row may have besides the usual number.
func (p *planner) findWidth() {
	s, d := &p.layout, p.dial
	short := 0
	shortest := d.columns
	seen := 0
	for _, l := range p.sampleLines(manyLines) {
		if l < s.first {
			continue
		}
		p.cells, _ = p.cut(p.lineAt(l), p.cells[:0])
		n := len(p.cells)
		if !p.cellsLikeData(p.cells) {
			continue
		}
		seen++
		if n < d.columns && n >= 2 {
			short++
			shortest = min(shortest, n)
		}
	}
	if short >= 2 && short*20 >= seen {
		s.minCells = shortest
	}
}

// readPreamble keeps what the lines above the headings state.
func (p *planner) readPreamble() {
	s := &p.layout
	top := s.first
	if len(s.headers) > 0 {
		top = s.headers[0]
	}
	for i := range top {
		line := p.lineAt(i)
		if i == p.dial.sepLine-1 || len(trim(line)) == 0 {
			continue
		}
		key, value, ok := p.keyAndValue(line)
		if ok {
			p.read.Preamble = append(p.read.Preamble, KeyValue{Line: i + 1, Key: key, Value: value})
		}
	}
}

// keyAndValue cuts a preamble line in two: at the delimiter, else at a colon or equals sign.
func (p *planner) keyAndValue(line []byte) (key, value string, ok bool) {
	if commentMark(line) {
		line = trim(bytes.TrimLeft(trim(line), "#%!/"))
	}
	if p.dial.delim != blanks {
		cells, _ := split(line, p.dial.delim, nil)
		for len(cells) > 0 && len(cells[len(cells)-1]) == 0 {
			cells = cells[:len(cells)-1]
		}
		if len(cells) >= 2 && len(cells[0]) > 0 {
			var rest []string
			for _, c := range cells[1:] {
				if len(c) > 0 {
					rest = append(rest, string(c))
				}
			}
			return strings.TrimRight(string(cells[0]), ": ="), strings.Join(rest, " "), true
		}
		if len(cells) == 1 {
			line = cells[0]
		}
	}
	return heading.SplitKeyValue(string(trim(line)))
}
