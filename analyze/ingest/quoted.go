package ingest

import "bytes"

// A quoted cell may hold line ends. They are honoured where that makes a sound record and nowhere else, so that a
// stray quote never swallows the lines behind it.

// maxRecordLines is the most lines that one record may take.
const maxRecordLines = 16

// skipContinued is the kind of the second and later lines of a record; the first counts as what the record is.
const skipContinued = "continuation"

// joinQuoted joins heading lines whose quoted cells hold line ends, among the first lines of the head. The joined
// text stands in the first line's span, the other lines are marked in cont.
func (p *planner) joinQuoted() {
	p.cont = nil
	if bytes.IndexByte(p.text[:min(len(p.text), 32<<10)], '"') < 0 {
		return
	}
	for i := 0; i < min(len(p.lines), 200); i++ {
		line := p.lineAt(i)
		if bytes.IndexByte(line, '"') < 0 {
			continue
		}
		cells, open := split(line, p.dial.delim, p.cells[:0])
		p.cells = cells
		if !open {
			continue
		}
		for k := i + 1; k < min(len(p.lines), i+maxRecordLines); k++ {
			joined := p.text[p.lines[i].start:p.lines[k].end]
			cells, open := split(joined, p.dial.delim, p.cells[:0])
			p.cells = cells
			if open {
				continue
			}
			if len(cells) >= p.dial.columns-1 && len(cells) <= p.dial.columns+1 && len(cells) > 1 {
				if p.cont == nil {
					p.cont = map[int]bool{}
				}
				p.lines[i].end = p.lines[k].end
				for n := i + 1; n <= k; n++ {
					p.cont[n] = true
					p.lines[n].start = p.lines[n].end
				}
				i = k
			}
			break
		}
	}
}

// joinRow tries to make one row of line, which has an open quote, and of those that follow in the window. lines is
// how many lines it took, 0 when no sound row came out.
func (r *Reader) joinRow(line []byte) (joined []byte, lines int) {
	pl, t := &r.plan, &r.text
	cells, open := split(line, pl.delim, r.rows.cells[:0])
	r.rows.cells = cells
	if !open {
		return nil, 0
	}
	r.joined = append(r.joined[:0], line...)
	at := t.start
	for n := 1; n < maxRecordLines && at < len(t.buf); n++ {
		end := bytes.IndexAny(t.buf[at:], "\r\n")
		if end < 0 {
			if !t.whole() {
				return nil, 0
			}
			end = len(t.buf) - at
		}
		r.joined = append(append(r.joined, '\n'), t.buf[at:at+end]...)
		at += end
		if at < len(t.buf) {
			if t.buf[at] == '\r' && at+1 < len(t.buf) && t.buf[at+1] == '\n' {
				at++
			}
			at++
		}
		cells, open := split(r.joined, pl.delim, r.rows.cells[:0])
		r.rows.cells = cells
		if open {
			continue
		}
		if len(cells) != pl.columns || !r.rows.readable(cells) {
			return nil, 0
		}
		t.start = at
		t.line += n
		return r.joined, n + 1
	}
	return nil, 0
}

// readable says whether cells are a sound row: every channel's cell is a reading or a marker of none.
func (r *rows) readable(cells [][]byte) bool {
	for k := range r.plan.channels[:r.plan.probes] {
		ch := &r.plan.channels[k]
		if _, kind := r.reading(ch, parseCell(cells[ch.column], ch.decimal)); kind == missingUnreadable {
			return false
		}
	}
	return true
}
