package ingest

import (
	"fmt"

	"ringheat/analyze/series"
)

// Some exports write a decimal comma and delimit with commas as well, nothing quoted: every reading then takes two
// cells. Where the headings tell how many readings there are, the cells can be joined again.

// joinDecimals joins the cells behind the first skip ones of cells[from:] two by two, "21" and "5" to "21,5". Cells that
// don't stand side by side in one line stay as they are.
func joinDecimals(cells [][]byte, from, skip int) [][]byte {
	n := from + skip
	if n > len(cells) || (len(cells)-n)%2 != 0 {
		return cells
	}
	out := cells[:n]
	for k := n; k+1 < len(cells); k += 2 {
		a, b := cells[k], cells[k+1]
		joined := a
		if len(a) > 0 && len(b) > 0 {
			if cap(a) < len(a)+1+len(b) || &a[:len(a)+2][len(a)+1] != &b[0] {
				return cells
			}
			joined = a[:len(a)+1+len(b)]
		}
		out = append(out, joined)
	}
	return out
}

// cut cuts a line into cells as the dialect has it.
func (p *planner) cut(line []byte, cells [][]byte) (out [][]byte, open bool) {
	from := len(cells)
	out, open = split(line, p.dial.delim, cells)
	if p.dial.pairs >= 0 {
		out = joinDecimals(out, from, p.dial.pairs)
	}
	return out, open
}

// cutDecimals looks whether the rows have twice the cells that the headings call for: the number of leading cells that
// are whole, -1 when the log is not so.
func (p *planner) cutDecimals(headings int) int {
	columns := p.dial.columns
	skip := 2*headings - columns
	if p.dial.delim != comma || p.o.Decimal == '.' || headings < 2 || skip < 0 || skip >= headings {
		return -1
	}
	rows, good := 0, 0
	for _, l := range p.sampleLines(manyLines) {
		if l < p.layout.first {
			continue
		}
		p.cells, _ = split(p.lineAt(l), p.dial.delim, p.cells[:0])
		if len(p.cells) != columns {
			continue
		}
		rows++
		sound := true
		for k := skip; k+1 < columns; k += 2 {
			a, b := p.cells[k], p.cells[k+1]
			if len(a) == 0 && len(b) == 0 {
				continue
			}
			_, da, ok := shortDecimal(a, '.')
			if !ok || da > 0 || len(b) == 0 || len(b) > 6 {
				sound = false
			}
			for _, c := range b {
				if c < '0' || c > '9' {
					sound = false
				}
			}
		}
		if sound {
			good++
		}
	}
	if rows < 3 || good*10 < rows*9 {
		return -1
	}
	return skip
}

// joinCutDecimals settles a log whose decimal comma is its delimiter too. It gives true when the structure has to be
// found anew.
func (p *planner) joinCutDecimals() bool {
	if p.dial.pairs >= 0 || len(p.layout.headers) == 0 {
		return false
	}
	p.cells, _ = split(trim(p.lineAt(p.layout.headers[0])), p.dial.delim, p.cells[:0])
	n := len(p.cells)
	skip := p.cutDecimals(n)
	if skip < 0 {
		return false
	}
	p.guess(Guess{Stage: "decimal", Choice: ",", Evidence: fmt.Sprintf("%d headings over %d cells: a decimal comma, unquoted, with commas as delimiters; cells are joined two by two", n, p.dial.columns), By: series.ByPlausibility})
	p.dial.pairs, p.dial.columns, p.dial.decimal = skip, n, ','
	p.read.Decimal = ","
	return true
}
