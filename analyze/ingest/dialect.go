package ingest

import (
	"bytes"
	"fmt"
	"math"

	"ringheat/analyze/ingest/cell"
	"ringheat/analyze/series"
)

// span is a line of the head, without its end.
type span struct{ start, end int32 }

// dialect is the third stage's finding: how a line is cut into cells and how numbers are written.
type dialect struct {
	delim   byte
	decimal byte
	columns int // cells in the usual data line, a trailing empty one included
	pairs   int // cells before those that a decimal comma has cut in two; -1 when none has
	sepLine int // 1-based line of a "sep=" instruction; 0 without
}

// cellClass sorts a cell by its look alone.
type cellClass uint8

const (
	classText cellClass = iota
	classEmpty
	classNumber
	classTime
	classMarker
)

// classify sorts a trimmed cell by its look. A number with either decimal mark counts.
func classify(b []byte) cellClass {
	if len(b) == 0 {
		return classEmpty
	}
	if len(b) > 64 {
		return classText
	}
	if plainNumber(b) {
		return classNumber
	}
	if n := prefixLen(b); n > 0 {
		return classify(trim(b[n:]))
	}
	if timeLike(b) || isHalfDay(b) {
		return classTime
	}
	v := cell.Parse(b, '.')
	if v.Kind == cell.Text {
		v = cell.Parse(b, ',')
	}
	switch v.Kind {
	case cell.Number:
		return classNumber
	case cell.Marker:
		return classMarker
	case cell.Empty:
		return classEmpty
	}
	return classText
}

// durationLike says whether b is figures with units of time behind them: "1 min 20 s".
func durationLike(b []byte) bool {
	if b[0] < '0' || b[0] > '9' {
		return false
	}
	pairs := 0
	for len(b) > 0 {
		i := 0
		for i < len(b) && (b[i] >= '0' && b[i] <= '9' || b[i] == '.') {
			i++
		}
		if i == 0 {
			return false
		}
		b = trim(b[i:])
		for i = 0; i < len(b) && b[i]|0x20 >= 'a' && b[i]|0x20 <= 'z'; i++ {
		}
		switch string(b[:i]) {
		case "h", "hr", "hrs", "std", "min", "m", "mn", "sec", "s", "sek", "d", "ms":
		default:
			return false
		}
		pairs++
		b = trim(b[i:])
	}
	return pairs >= 2
}

// isHalfDay says whether b is AM or PM in a cell of its own.
func isHalfDay(b []byte) bool {
	switch len(b) {
	case 2:
		return (b[0]|0x20 == 'a' || b[0]|0x20 == 'p') && b[1]|0x20 == 'm'
	case 4:
		return isHalfDay([]byte{b[0], b[2]}) && b[1] == '.' && b[3] == '.'
	}
	return false
}

// prefixLen gives the length of the name and the equals sign before a value ("inner=21.5"), 0 without.
func prefixLen(b []byte) int {
	i := bytes.IndexByte(b, '=')
	if i < 1 || i == len(b)-1 || i > 40 {
		return 0
	}
	letters := 0
	for _, c := range b[:i] {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= 0x80:
			letters++
		case c >= '0' && c <= '9', c == '_', c == ' ', c == '-', c == '.':
		default:
			return 0
		}
	}
	if letters == 0 {
		return 0
	}
	return i + 1
}

// plainNumber says whether b is digits with at most one mark and a sign.
func plainNumber(b []byte) bool {
	if b[0] == '-' || b[0] == '+' {
		b = b[1:]
	}
	digits, marks := 0, 0
	for _, c := range b {
		switch {
		case c >= '0' && c <= '9':
			digits++
		case c == '.' || c == ',':
			marks++
		default:
			return false
		}
	}
	return digits > 0 && marks <= 1
}

// timeLike says whether b looks like a date, a clock time or both: digits, the marks between them, and no
// more letters than a month, a zone and a half of the day need.
func timeLike(b []byte) bool {
	digits, colons, slashes, dashes, dots, commas, letters := 0, 0, 0, 0, 0, 0, 0
	for i, c := range b {
		switch {
		case c >= '0' && c <= '9':
			digits++
		case c == ':':
			colons++
		case c == '/':
			slashes++
		case c == '-':
			if i > 0 {
				dashes++
			}
		case c == '.':
			dots++
		case c == ',':
			if commas++; commas > 1 || colons == 0 || i+1 == len(b) || b[i+1]-'0' > 9 {
				return false // only before a fraction of a second
			}
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= 0xC0: // the first byte of a character outside ASCII
			letters++
		case c >= 0x80:
		case c == ' ' || c == '+' || c == '[' || c == ']':
		default:
			return false
		}
	}
	if digits > 0 && letters > 0 && (b[0] == 'P' || b[0] == '-' && len(b) > 1 && b[1] == 'P') && len(bytes.Trim(b, "-PYMWDTHS0123456789.,")) == 0 {
		return true // a duration after ISO 8601
	}
	if digits < 2 || letters > 16 || letters > 2*digits {
		return false
	}
	if durationLike(b) {
		return true
	}
	if colons >= 1 && colons <= 3 && digits >= 2 {
		return b[0] >= '0' && b[0] <= '9' || colons >= 2
	}
	if digits < 3 {
		return false
	}
	return slashes == 2 || dashes == 2 || dots >= 2 && dots <= 5 && letters == 0 || slashes+dashes+dots == 0 && letters >= 3 && digits >= 3 && b[0] >= '0' && b[0] <= '9' && len(b) >= 8
}

// How many lines a decision looks at: few where they are clear.
const (
	fewLines  = 24
	manyLines = 60
)

// dialectTrial is what one delimiter makes of the sample.
type dialectTrial struct {
	delim   byte
	columns int
	lines   int     // data-like lines with that many cells
	score   float64 // share of lines times share of cells that look like data
}

// findDialect decides the delimiter and the decimal mark on lines spread over the head.
func (p *planner) findDialect() (dialect, error) {
	d := dialect{pairs: -1}
	if len(p.filled) > 0 {
		first := int(p.filled[0])
		b := bytes.Trim(trim(p.lineAt(first)), `"`)
		if len(b) >= 5 && len(b) <= 6 && bytes.EqualFold(b[:4], []byte("sep=")) {
			if delim, ok := ParseDelimiter(string(b[4:])); ok {
				d.sepLine, d.delim = first+1, delim
			}
		} else if line := p.lineAt(first); len(line) == 5 && bytes.EqualFold(line, []byte("sep=\t")) {
			d.sepLine, d.delim = first+1, tab
		}
	}
	p.findWrapping()
	sample := p.sampleLines(fewLines)
	var best, second dialectTrial
	for {
		for _, c := range delimiterWords {
			t := p.tryDelimiter(c.b, sample)
			switch {
			case t.score > best.score:
				best, second = t, best
			case t.score > second.score:
				second = t
			}
		}
		if len(sample) < fewLines || best.score > 0.8 && second.score < 0.6 || len(sample) > fewLines {
			break
		}
		if sample = p.sampleLines(manyLines); len(sample) <= fewLines {
			break
		}
		best, second = dialectTrial{}, dialectTrial{}
	}
	g := Guess{Stage: "delimiter"}
	switch {
	case p.o.Delimiter != 0:
		d.delim, g.By, g.Evidence = p.o.Delimiter, series.ByFlag, "named by flag"
		best = p.tryDelimiter(d.delim, sample)
	case d.sepLine > 0:
		g.By, g.Evidence = series.ByPreamble, fmt.Sprintf("line %d says so (sep=)", d.sepLine)
		best = p.tryDelimiter(d.delim, sample)
	case best.score == 0:
		d.delim, g.By, g.Evidence = noDelim, series.ByPlausibility, "no delimiter cuts the lines into cells of numbers"
	default:
		d.delim, g.By = best.delim, series.ByPlausibility
		g.Evidence = fmt.Sprintf("%d of %d sampled lines are %d cells of data", best.lines, len(sample), best.columns)
		if second.score > 0.5*best.score {
			g.RunnerUp = fmt.Sprintf("%s (%d cells)", delimiterName(second.delim), second.columns)
		}
	}
	d.columns = max(best.columns, 1)
	g.Choice = delimiterName(d.delim)
	if d.delim != noDelim {
		g.Flag = "--delimiter " + g.Choice
	}
	p.guess(g)

	// The decimal mark, over the cells that the delimiter gives.
	var e cell.DecimalEvidence
	for n := range sample {
		if n >= 8 && n%4 == 0 && e.Ambiguous == 0 && e.Point+e.Comma >= 8 && (e.Point == 0 || e.Comma == 0) {
			break // clear
		}
		l := sample[len(sample)-1-n]
		p.cells, _ = split(p.lineAt(l), d.delim, p.cells[:0])
		if len(p.cells) != d.columns {
			continue
		}
		for _, c := range p.cells {
			if len(c) > 0 && !timeLike(c) {
				e.Add(c)
			}
		}
	}
	mark, decided, why := e.Decide()
	g = Guess{Stage: "decimal", Choice: string(rune(mark)), Evidence: why, By: series.ByPlausibility}
	if p.o.Decimal != 0 {
		mark, g.By, g.Evidence = p.o.Decimal, series.ByFlag, "named by flag"
		g.Choice = string(rune(mark))
	} else if !decided && e.Ambiguous > 0 {
		// "71,862" is 71.862 or 71862; as a temperature, or its thousandth, only the decimal mark makes sense.
		g.RunnerUp = "a mark of thousands"
		g.Evidence = why + "; as thousands they would be no temperatures"
	}
	g.Flag = "--decimal " + g.Choice
	d.decimal = mark
	p.guess(g)
	return d, nil
}

// sampleLines picks up to n lines with text in them, spread over the head: most from its second half,
// where preambles are over.
func (p *planner) sampleLines(n int) []int {
	p.picked = p.picked[:0]
	total := len(p.filled)
	if total <= n {
		for _, i := range p.filled {
			p.picked = append(p.picked, int(i))
		}
		return p.picked
	}
	for k := range n {
		i := total/2 + (k-n/4)*(total-total/2-1)/(n-n/4-1)
		if k < n/4 {
			i = k * (total / 2) / (n / 4)
		}
		p.picked = append(p.picked, int(p.filled[i]))
	}
	return p.picked
}

// tryDelimiter says what a delimiter makes of the sampled lines.
func (p *planner) tryDelimiter(delim byte, sample []int) dialectTrial {
	t := dialectTrial{delim: delim}
	type group struct {
		lines int
		typed float64
	}
	var groups [65]group // by number of cells; the last takes all wider ones
	var widest, tabs int
	seen := false
	for _, l := range sample {
		line := p.lineAt(l)
		if delim != blanks && bytes.IndexByte(line, delim) < 0 {
			continue
		}
		if delim == blanks && bytes.IndexByte(trim(line), tab) >= 0 {
			tabs++
		}
		p.cells, _ = split(line, delim, p.cells[:0])
		n := len(p.cells)
		if n < 2 {
			continue
		}
		seen = true
		typed, worth := 0, 0.0
		if len(p.cells[n-1]) == 0 {
			worth += 0.3 // an empty cell behind a last delimiter is nothing missing
		}
		for _, c := range p.cells[:min(n, 64)] {
			switch classify(c) {
			case classNumber:
				typed++
				if bytes.IndexByte(c, ' ') > 0 && c[len(c)-1] <= '9' {
					worth += 0.4 // "12 345": thousands, or two cells
				} else {
					worth++
				}
			case classTime, classMarker:
				typed++
				worth++
			case classEmpty:
				worth += 0.7
			}
		}
		if typed == 0 {
			continue
		}
		g := &groups[min(n, 64)]
		g.lines++
		g.typed += worth / float64(min(n, 64))
		widest = max(widest, n)
	}
	if !seen {
		return t
	}
	for n, g := range groups {
		if g.lines == 0 {
			continue
		}
		// Quality counts for more than quantity: a long preamble may have more lines than the record.
		q := g.typed / float64(g.lines)
		s := q * q * math.Sqrt(float64(g.lines)/float64(len(sample)))
		if delim == blanks {
			s *= 0.95
			if tabs*10 >= 8*len(sample) {
				s *= 0.6 // a tab in every line settles it
			}
		}
		if s > t.score {
			t.score, t.columns, t.lines = s, n, g.lines
			if n == 64 {
				t.columns = widest
			}
		}
	}
	return t
}
