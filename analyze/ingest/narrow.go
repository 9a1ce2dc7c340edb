package ingest

import (
	"fmt"
	"strings"

	"ringheat/analyze/ingest/clock"
	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// A long layout has one reading a row: a column names the probe, another holds its value, perhaps a third the
// unit. It is turned into channels here: consecutive rows with one and the same time become one sample.

// narrowPlan says how a long layout is read.
type narrowPlan struct {
	on       bool
	name     int // 0-based column with the probe's name
	value    int
	unit     int            // -1 without
	channels map[string]int // name -> channel; -1 for a name whose readings are no temperatures
}

// maxProbes is the most probes that a long layout may name.
const maxProbes = 64

// missingOther is the missing kind of a channel that has no row of its own at a time of another's.
const missingOther = "no row at this time"

// findNarrow decides whether the layout is long. A name column repeats few words, and its rows differ in nothing
// else but the value: several words at one time, or a heading that calls it a name.
func (p *planner) findNarrow(pl *plan) (bool, error) {
	n := &pl.narrow
	*n = narrowPlan{unit: -1}
	t := &p.table
	isTime := func(c int) bool {
		for _, k := range pl.time.columns {
			if k == c {
				return true
			}
		}
		return false
	}
	var numbers []int
	for c := range t.columns {
		col := &t.columns[c]
		if !isTime(c) && col.numbers > 0 && col.numbers+col.markers > 2*(col.texts+col.times) && !p.ignoredAlready(c) {
			numbers = append(numbers, c)
		}
	}
	best := -1
	for c := range t.columns {
		col := &t.columns[c]
		if isTime(c) || col.texts < col.numbers+col.times+1 || len(col.words) < 2 || len(col.words) > maxProbes {
			continue
		}
		if col.texts < 2*len(col.words) {
			continue // hardly a word comes twice
		}
		units := 0
		telling := 0
		for _, w := range col.words {
			if _, ok := heading.ReadUnit(w); ok {
				units++
			}
			if m := heading.Read(w, ""); m.Role != series.NoRole || m.Quantity == heading.Temperature {
				telling++
			}
		}
		if 2*units > len(col.words) {
			continue
		}
		said := col.meaning.Quantity == heading.Name
		together := p.namesShareTimes(pl, c)
		if said && (together || len(numbers) == 1) || telling > 0 && len(numbers) <= 2 || together && len(numbers) == 1 {
			best = c
			break
		}
	}
	if best < 0 || len(numbers) == 0 {
		return false, nil
	}
	if p.partial {
		return false, errLookAtAll // every name counts
	}
	n.name = best
	// The value: a column called so, else the only one, else the first behind the name.
	n.value = -1
	for _, c := range numbers {
		m := &t.columns[c].meaning
		if m.Quantity == heading.Value || m.Quantity == heading.Temperature {
			n.value = c
			break
		}
	}
	if n.value < 0 {
		for _, c := range numbers {
			if c > best {
				n.value = c
				break
			}
		}
	}
	if n.value < 0 {
		n.value = numbers[0]
	}
	for c := range t.columns {
		col := &t.columns[c]
		if c == best || isTime(c) || len(col.words) == 0 {
			continue
		}
		units := 0
		for _, w := range col.words {
			if _, ok := heading.ReadUnit(w); ok {
				units++
			}
		}
		if 2*units > len(col.words) {
			n.unit = c
		}
	}
	return true, p.narrowChannels(pl)
}

func (p *planner) ignoredAlready(c int) bool {
	for _, i := range p.read.Ignored {
		if i.Column == c+1 {
			return true
		}
	}
	return false
}

// namesShareTimes says whether rows that follow each other have the same time and different names.
func (p *planner) namesShareTimes(pl *plan, name int) bool {
	same, pairs := 0, 0
	rows := p.table.rows
	for i := 1; i < len(rows); i++ {
		if name >= len(rows[i]) || name >= len(rows[i-1]) || string(rows[i][name]) == string(rows[i-1][name]) {
			continue
		}
		pairs++
		equal := len(pl.time.columns) > 0
		for _, c := range pl.time.columns {
			if c >= len(rows[i]) || c >= len(rows[i-1]) || string(rows[i][c]) != string(rows[i-1][c]) {
				equal = false
			}
		}
		if equal {
			same++
		}
	}
	return pairs > 2 && 3*same >= pairs
}

// narrowChannels makes a channel of every probe that the head names.
func (p *planner) narrowChannels(pl *plan) error {
	n := &pl.narrow
	type probe struct {
		name string
		unit string
		rows int
		col  column
	}
	var probes []probe
	for i := p.layout.first; i < len(p.lines); i++ {
		p.cells, _ = p.cut(p.lineAt(i), p.cells[:0])
		if n.name >= len(p.cells) || n.value >= len(p.cells) || len(p.cells[n.name]) == 0 || !p.cellsLikeData(p.cells) {
			continue
		}
		at := -1
		for k := range probes {
			if probes[k].name == string(p.cells[n.name]) {
				at = k
				break
			}
		}
		if at < 0 {
			if len(probes) == maxProbes {
				return p.fail(ErrUnsupported, i+1, n.name+1, fmt.Sprintf("one row a reading with more than %d probe names", maxProbes), "export fewer probes at a time")
			}
			w := probe{name: string(p.cells[n.name]), col: newColumn()}
			if n.unit >= 0 && n.unit < len(p.cells) {
				w.unit = cleanText(p.cells[n.unit])
			}
			probes = append(probes, w)
			at = len(probes) - 1
		}
		probes[at].rows++
		probes[at].col.add(p.cells[n.value], p.dial.decimal)
	}
	// A name that comes once where others come often is a damaged one.
	often := 0
	for k := range probes {
		often = max(often, probes[k].rows)
	}
	kept := probes[:0]
	for k := range probes {
		if probes[k].rows == 1 && often >= 10 {
			continue
		}
		kept = append(kept, probes[k])
	}
	probes = kept
	n.on = true
	n.channels = make(map[string]int, len(probes))
	var ms []heading.Meaning
	value := &p.table.columns[n.value]
	for k := range probes {
		w := &probes[k]
		w.col.name = cleanText([]byte(w.name))
		unit := w.unit
		if unit == "" {
			unit = value.meaning.UnitText
		}
		ms = append(ms, heading.Read(w.col.name, unit))
	}
	heading.Settle(ms)
	pl.channels = pl.channels[:0]
	var sure, maybe []int
	for k := range probes {
		w, m := &probes[k], &ms[k]
		w.col.meaning = *m
		n.channels[w.name] = -1
		switch {
		case w.col.numbers == 0 && w.col.markers == 0:
		case m.NotProbe == heading.SetPointColumn:
			sure = append(sure, k)
		case m.NotProbe != heading.MayBeProbe:
			p.read.Ignored = append(p.read.Ignored, IgnoredColumn{Column: n.value + 1, Name: w.name, Reason: m.Reason})
		case m.Quantity == heading.Temperature || m.Unit != quantity.UnknownUnit || m.Role != series.NoRole || w.col.suffixes > 0:
			sure = append(sure, k)
		case m.Quantity != heading.NoQuantity && m.Quantity != heading.Value && m.Quantity != heading.Name:
			p.read.Ignored = append(p.read.Ignored, IgnoredColumn{Column: n.value + 1, Name: w.name, Reason: "holds no temperature: " + m.Evidence})
		default:
			maybe = append(maybe, k)
		}
	}
	valueSays := value.meaning.Quantity == heading.Temperature || value.meaning.Unit != quantity.UnknownUnit
	for _, k := range maybe {
		w := &probes[k]
		if reason := w.col.implausible(); len(sure) > 0 && !valueSays {
			p.read.Ignored = append(p.read.Ignored, IgnoredColumn{Column: n.value + 1, Name: w.name, Reason: "nothing names it a temperature while others are named so"})
		} else if reason != "" && !valueSays {
			p.read.Ignored = append(p.read.Ignored, IgnoredColumn{Column: n.value + 1, Name: w.name, Reason: reason})
		} else {
			sure = append(sure, k)
		}
	}
	sortInts(sure)
	named := map[string]series.Role{}
	for _, f := range p.roleFlags() {
		for _, r := range f.refs {
			found := false
			for _, k := range sure {
				if r.Heading != "" && strings.EqualFold(strings.TrimSpace(r.Heading), probes[k].col.name) {
					named[probes[k].name], found = f.role, true
				}
			}
			if !found {
				var list []string
				for _, k := range sure {
					list = append(list, fmt.Sprintf("%q", probes[k].name))
				}
				what := r.Heading
				if r.Number > 0 {
					what = fmt.Sprint(r.Number)
				}
				return p.fail(ErrColumn, p.layout.first+1, n.name+1, fmt.Sprintf("--%s %s matches no probe of a log with one row a reading", f.flag, what), "name the probe: "+strings.Join(list, ", "))
			}
		}
	}
	for _, k := range sure {
		w := &probes[k]
		ch := channelPlan{column: n.value, scale: 1, decimal: p.dial.decimal}
		ch.Name, ch.Column = w.col.name, n.value+1
		ch.summary(&w.col.meaning)
		flagged := map[int]series.Role{}
		if r, ok := named[w.name]; ok {
			ch.Role, ch.RoleSource = r, series.ByFlag
			flagged[n.value] = r
		} else if w.col.meaning.NotProbe == heading.SetPointColumn {
			ch.Role, ch.RoleSource = series.SetPoint, series.ByHeading
		} else if w.col.meaning.Role != series.NoRole {
			ch.Role, ch.RoleSource = w.col.meaning.Role, series.ByHeading
		}
		p.findUnit(&ch, &w.col, flagged)
		ch.evidence, ch.number = w.col.meaning.Evidence, w.col.meaning.Number
		n.channels[w.name] = len(pl.channels)
		pl.channels = append(pl.channels, ch)
	}
	if len(pl.channels) == 0 {
		return p.fail(ErrNoChannel, p.layout.first+1, n.name+1, "no probe named in the rows measures a temperature", "see how it is read with look")
	}
	p.read.Layout = "long"
	p.guess(Guess{Stage: "layout", Choice: "one row a reading", Evidence: fmt.Sprintf("column %d names %d probes, column %d holds the value", n.name+1, len(probes), n.value+1), By: series.ByPlausibility})
	p.findRoles(pl)
	pl.probes = len(pl.channels)
	return nil
}

// narrow reads one line of a long layout.
func (r *rows) narrow(cells [][]byte, line []byte, lineNo int) {
	pl := r.plan
	n := &pl.narrow
	if len(cells) <= n.name || len(cells) <= n.value {
		r.problem(lineNo, 0, line, ProblemWidth, fmt.Sprintf("%d cells where the log's rows have %d", len(cells), pl.columns))
		return
	}
	k, ok := n.channels[string(cells[n.name])]
	if !ok {
		r.problem(lineNo, n.name+1, cells[n.name], ProblemLine, "no probe of this log has this name, or it comes only once: a damaged name?")
		return
	}
	t, st := r.time(cells)
	if st != clock.OK {
		r.badTime(cells, lineNo, st)
		return
	}
	if k < 0 {
		r.skip(skipOther)
		return
	}
	raw := cells[n.value]
	v := parseCell(raw, pl.decimal)
	value, kind := r.reading(&pl.channels[k], v)
	if kind == missingUnreadable {
		r.problem(lineNo, n.value+1, raw, ProblemCell, badCellMessage(v))
		return
	}
	r.settlePending(false)
	last := len(r.timeS) - 1
	if last < 0 || r.timeS[last] != t || r.taken[k] {
		for i, was := range r.taken {
			if last >= 0 && !was {
				r.miss(i, missingOther)
			}
			r.taken[i] = false
		}
		r.timeS = append(r.timeS, t)
		r.lines = append(r.lines, int32(lineNo))
		for i := range pl.channels {
			r.values[i] = append(r.values[i], missingValue)
		}
		last++
	}
	r.taken[k] = true
	r.values[k][last] = value
	if kind != "" {
		r.miss(k, kind)
	} else {
		r.decimals[k] = max(r.decimals[k], v.Decimals)
	}
	r.account.Samples++
}

// narrowEnd accounts for the channels without a row at the last time.
func (r *rows) narrowEnd() {
	for i, was := range r.taken {
		if len(r.timeS) > 0 && !was {
			r.miss(i, missingOther)
		}
		r.taken[i] = true
	}
}
