package ingest

import (
	"bytes"
	"fmt"

	"ringheat/analyze/ingest/cell"
	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// ProblemFlagged is a figure that the logger marked: an alarm, a limit passed, a doubt. What the mark means is not known, so the
// figure is no reading.
const ProblemFlagged series.ProblemKind = "flagged"

// missingFlagged is the kind of a sample that is missing because its figure carries a flag.
const missingFlagged = "flagged"

// longestFlag is the most letters or signs that a flag has.
const longestFlag = 3

// cutFlag takes a cell apart into a plain figure and a flag before or behind it: "114.2*", "115.3 H", "AL 115", ">120". flag is
// nil for anything else.
func cutFlag(b []byte, decimal byte) (figure, flag []byte) {
	b = trim(b)
	first, last := -1, -1
	for i, c := range b {
		if c >= '0' && c <= '9' {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return nil, nil
	}
	if first > 0 && (b[first-1] == '-' || b[first-1] == '+') {
		first--
	}
	before, behind := trim(b[:first]), trim(b[last+1:])
	if len(before) > 0 == (len(behind) > 0) || len(before)+len(behind) > longestFlag {
		return nil, nil
	}
	if flag = before; len(flag) == 0 {
		flag = behind
	}
	for _, c := range flag {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', bytes.IndexByte([]byte("*!#?<>=~^$&"), c) >= 0:
		default:
			return nil, nil
		}
	}
	figure = b[first : last+1]
	if _, _, ok := shortDecimal(figure, decimal); !ok {
		return nil, nil
	}
	return figure, flag
}

// readFlags reads a column anew whose cells nearly all carry one and the same flag: there it tells nothing and is a suffix. It is
// taken off in the sampled rows as well, so that "115.3 H" is not taken for hours.
func (c *column) readFlags(rows [][][]byte, at int, decimal byte) {
	if c.texts+c.times+c.otherSuffixes == 0 {
		return
	}
	if c.decimal == 0 {
		c.decimal = decimal
	}
	counts := map[string]int{}
	most := ""
	for _, row := range rows {
		if at < len(row) {
			if _, flag := cutFlag(row[at], c.decimal); flag != nil && letters(flag) {
				counts[string(flag)]++
				if n := counts[string(flag)]; n > counts[most] || n == counts[most] && string(flag) < most {
					most = string(flag)
				}
			}
		}
	}
	if most == "" || 2*counts[most] <= c.numbers+c.texts+c.times+c.markers || cell.Parse([]byte("1"+most), '.').Suffix.Temperature() != quantity.UnknownUnit {
		return
	}
	if m := heading.Read(c.name, c.unit); m.Quantity != heading.Temperature {
		return // its letters are its unit: "3 s", "85 W"
	}
	fresh := newColumn()
	fresh.name, fresh.unit, fresh.decimal, fresh.flag = c.name, c.unit, c.decimal, most
	fresh.values = c.values[:0]
	for _, row := range rows {
		if at >= len(row) {
			fresh.empties++
			continue
		}
		b := row[at]
		if figure, flag := cutFlag(b, c.decimal); flag != nil && string(flag) == most {
			b = figure
			row[at] = figure
		}
		fresh.add(b, c.decimal)
	}
	*c = fresh
}

// boundOf says whether a marker of a reading beyond the range names a figure: ">120".
func boundOf(b []byte, decimal byte, kind string) bool {
	if kind != cell.MarkOver && kind != cell.MarkUnder {
		return false
	}
	_, flag := cutFlag(b, decimal)
	return flag != nil
}

// letters says whether a flag is of letters alone.
func letters(flag []byte) bool {
	for _, c := range flag {
		if c|0x20 < 'a' || c|0x20 > 'z' {
			return false
		}
	}
	return true
}

// sayFlag tells of a suffix that was taken off a channel's figures.
func (p *planner) sayFlag(ch *channelPlan, col *column) {
	if ch.flag = col.flag; ch.flag != "" {
		p.guess(Guess{Stage: "columns", Choice: fmt.Sprintf("%s: %q beside its figures is a suffix and is taken off", ch.Name, ch.flag), Evidence: "most of its sampled cells carry it", By: series.ByPlausibility})
	}
}

// flagged looks at a cell that gave no reading: a figure with a flag is a kind of its own. Where the flag is the column's usual
// one, it gives the figure.
func (r *rows) flagged(k int, b []byte, v cell.Value, kind string) (cell.Value, string) {
	ch := &r.plan.channels[k]
	if kind != missingUnreadable {
		return v, kind
	}
	figure, flag := cutFlag(b, ch.decimal)
	switch {
	case flag == nil:
		return v, kind
	case ch.flag != "" && string(flag) == ch.flag:
		return parseCell(figure, ch.decimal), ""
	}
	return v, missingFlagged
}

// flaggedMessage says what is wrong with a flagged figure.
func flaggedMessage(b []byte, decimal byte) string {
	figure, flag := cutFlag(b, decimal)
	return fmt.Sprintf("the figure %s with the flag %q: not taken for a reading, as the log does not say what the flag means", figure, flag)
}
