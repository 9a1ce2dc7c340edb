package ingest

import (
	"fmt"
	"slices"
	"strings"

	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/series"
)

// Some exports write the probes one below the other: a title, the headings, the rows of the first probe, then a title,
// the same headings and the rows of the next. They become channels on one clock; never one trace.

// block is a stretch of rows under a title of its own.
type block struct {
	row     int // index of its first row
	line    int
	title   string
	missing []map[string]int // counts of missing samples up to its first row, by channel
}

// startBlock notes that the log's headings were met again, below line title.
func (r *rows) startBlock(title string, line int) {
	if len(r.blocks) >= maxProbes || len(r.timeS) == 0 || title == "" {
		return
	}
	b := block{row: len(r.timeS), line: line, title: title}
	for _, m := range r.missing {
		b.missing = append(b.missing, cloneCounts(m))
	}
	r.blocks = append(r.blocks, b)
}

func cloneCounts(m map[string]int) map[string]int {
	out := make(map[string]int, len(m))
	for k, n := range m {
		out[k] = n
	}
	return out
}

// blockTitle gives the name in a title line: "[Outer ring]" is Outer ring.
func blockTitle(line string) string {
	return strings.TrimSpace(strings.Trim(strings.TrimSpace(line), "[]<>#*=-:,;\" \t"))
}

// firstTitle gives the title above the log's headings, "" without one.
func (p *planner) firstTitle() string {
	if len(p.layout.headers) == 0 {
		return ""
	}
	for i := p.layout.headers[0] - 1; i >= 0; i-- {
		if line := trim(p.lineAt(i)); len(line) > 0 {
			return blockTitle(cleanText(line))
		}
	}
	return ""
}

// splitBlocks turns blocks of probes into channels. It gives false when the rows are no such blocks.
func (r *Reader) splitBlocks() bool {
	rs, pl, l := &r.rows, &r.plan, &r.log
	if len(rs.blocks) == 0 || pl.narrow.on {
		return false
	}
	blocks := []block{{title: r.planner.firstTitle()}}
	for _, b := range rs.blocks {
		if b.row < len(rs.timeS) && b.row > blocks[len(blocks)-1].row {
			blocks = append(blocks, b) // a block without a row is none
		}
	}
	if len(blocks) < 2 {
		return false
	}
	var meanings []heading.Meaning
	for i, b := range blocks {
		m := heading.Read(b.title, "")
		if b.title == "" || m.Role == series.NoRole && m.Quantity != heading.Temperature && m.Number < 0 {
			return false
		}
		for _, other := range blocks[:i] {
			if strings.EqualFold(other.title, b.title) {
				return false
			}
		}
		// Each block has to start its time anew; else the logger only wrote its headings again.
		if i > 0 && rs.timeS[b.row] > rs.timeS[b.row-1] {
			return false
		}
		meanings = append(meanings, m)
	}
	heading.Settle(meanings)

	// One clock for all: the times of every block, each once.
	var times []float64
	var lines []int32
	type at struct {
		t    float64
		line int32
	}
	var all []at
	for i, t := range rs.timeS {
		all = append(all, at{t, rs.lines[i]})
	}
	slices.SortStableFunc(all, func(a, b at) int {
		switch {
		case a.t < b.t:
			return -1
		case a.t > b.t:
			return 1
		}
		return int(a.line) - int(b.line)
	})
	for _, a := range all {
		if n := len(times); n == 0 || times[n-1] != a.t {
			times, lines = append(times, a.t), append(lines, a.line)
		}
	}
	first := times[0]
	channels := l.Channels
	var out []series.Channel
	for i, b := range blocks {
		end := len(rs.timeS)
		var after []map[string]int
		if i+1 < len(blocks) {
			end, after = blocks[i+1].row, blocks[i+1].missing
		}
		for k := range channels {
			ch := channels[k]
			ch.Name = b.title
			if len(channels) > 1 {
				ch.Name += " / " + channels[k].Name
			}
			if len(channels) == 1 && ch.RoleSource != series.ByFlag {
				ch.Role, ch.RoleSource = series.NoRole, series.NoSource
				if meanings[i].Role != series.NoRole {
					ch.Role, ch.RoleSource = meanings[i].Role, series.ByHeading
				}
			}
			values := make([]float64, len(times))
			for n := range values {
				values[n] = missingValue
			}
			ch.Valid = 0
			for n := b.row; n < end; n++ {
				at, _ := slices.BinarySearch(times, rs.timeS[n])
				if v := channels[k].C[n]; !series.IsMissing(v) {
					if series.IsMissing(values[at]) {
						ch.Valid++
					}
					values[at] = v
				}
			}
			ch.C = values
			ch.MissingKind = map[string]int{}
			counted := 0
			total := channels[k].MissingKind
			if after != nil {
				total = after[k]
			}
			for kind, n := range total {
				if b.missing != nil {
					n -= b.missing[k][kind]
				}
				if n > 0 {
					ch.MissingKind[kind] = n
					counted += n
				}
			}
			if rest := len(times) - ch.Valid - counted; rest > 0 {
				ch.MissingKind[missingOther] = rest
			} else if rest < 0 {
				return false // one block has a time twice: not told apart
			}
			if len(ch.MissingKind) == 0 {
				ch.MissingKind = nil
			}
			out = append(out, ch)
		}
	}
	for i := range times {
		times[i] -= first
	}
	l.TimeS, l.Lines, l.Channels = times, lines, out
	p := r.planner.read
	p.Layout = "blocks"
	p.Questions = slices.DeleteFunc(p.Questions, func(q string) bool { return strings.HasPrefix(q, "only one probe") })
	r.planner.guess(Guess{Stage: "layout", Choice: fmt.Sprintf("%d probes one below the other", len(blocks)), Evidence: fmt.Sprintf("the headings come again at line %d, below the title %q, and the time starts anew", blocks[1].line, blocks[1].title), By: series.ByPlausibility})
	return true
}
