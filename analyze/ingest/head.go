package ingest

import "bytes"

// What of the head is looked at: its first lines, where preamble and headings stand, and windows on rows further down.
// A short text is looked at as a whole, and so is one whose record begins behind the first lines.
const (
	wholeBytes  = 12 << 10
	firstBytes  = 8 << 10
	windowBytes = 1 << 10
	lastBytes   = 2 << 10
)

// indexLines lists the lines of the head that the plan is made on.
func (p *planner) indexLines(t *text, all bool) {
	p.lines, p.gaps, p.partial = p.lines[:0], p.gaps[:0], false
	from, to := t.start, len(t.buf)
	// Lines that carriage returns end can't be found from the middle without care, and are rare.
	if all || to-from <= wholeBytes || bytes.IndexByte(t.buf[from:min(to, from+firstBytes)], '\n') < 0 {
		p.lines = t.headLines(p.lines, from, to)
	} else {
		p.partial = true
		end := t.lineStart(from+firstBytes, to)
		p.lines = t.headLines(p.lines, from, end)
		at := end
		for _, w := range [...]struct{ at, n int }{{from + (to-from)/3, windowBytes}, {from + (to-from)*2/3, windowBytes}, {to - lastBytes, lastBytes}} {
			if w.at < at {
				continue
			}
			start := t.lineStart(w.at, to)
			stop := min(start+w.n, to)
			if stop < to {
				stop = t.lineStart(stop, to)
			}
			if start >= stop {
				continue
			}
			p.gaps = append(p.gaps, len(p.lines))
			p.lines = t.headLines(p.lines, start, stop)
			at = stop
		}
	}
	p.filled = p.filled[:0]
	for i := range p.lines {
		b := p.lineAt(i)
		if len(b) > 0 && (b[0] > ' ' || len(trim(b)) > 0) {
			p.filled = append(p.filled, int32(i))
		}
	}
}

// firstGap is the number of lines that are listed without a gap from the first on.
func (p *planner) firstGap() int {
	if len(p.gaps) > 0 {
		return p.gaps[0]
	}
	return len(p.lines)
}
