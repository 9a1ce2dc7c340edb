package ingest

import (
	"fmt"
	"slices"
	"strings"

	"ringheat/analyze/ingest/cell"
	"ringheat/analyze/ingest/clock"
	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// timePlan is how the rows' time is read.
type timePlan struct {
	plan    *clock.Plan
	columns []int // 0-based
}

// resolve finds the columns that a flag names.
func (p *planner) resolve(flag string, refs []ColumnRef) ([]int, error) {
	var out []int
	for _, r := range refs {
		if r.Number > 0 {
			if r.Number > p.dial.columns {
				return nil, p.fail(ErrColumn, p.layout.first+1, 0, fmt.Sprintf("--%s names column %d, but the rows have %d", flag, r.Number, p.dial.columns), "columns are counted from 1; "+p.headingList())
			}
			out = append(out, r.Number-1)
			continue
		}
		want := strings.TrimSpace(r.Heading)
		if want == "" {
			return nil, p.fail(ErrColumn, 0, 0, fmt.Sprintf("--%s names no column", flag), p.headingList())
		}
		found := -1
		for c := range p.table.columns {
			col := &p.table.columns[c]
			if !matchesHeading(col, want) {
				continue
			}
			if found >= 0 {
				return nil, p.fail(ErrColumn, p.headerLine(), 0, fmt.Sprintf("--%s %q matches columns %d and %d", flag, want, found+1, c+1), "name it by its number")
			}
			found = c
		}
		if found < 0 {
			return nil, p.fail(ErrColumn, p.headerLine(), 0, fmt.Sprintf("--%s %q matches no heading", flag, want), p.headingList())
		}
		out = append(out, found)
	}
	return out, nil
}

func matchesHeading(col *column, want string) bool {
	if col.name == "" {
		return false
	}
	if strings.EqualFold(col.name, want) {
		return true
	}
	if strings.Contains(col.name, " / ") {
		for _, part := range strings.Split(col.name, " / ") {
			if strings.EqualFold(part, want) {
				return true
			}
		}
	}
	return false
}

func (p *planner) headerLine() int {
	if len(p.layout.headers) > 0 {
		return p.layout.headers[0] + 1
	}
	return 0
}

// headingList is a hint that names the headings there are.
func (p *planner) headingList() string {
	var names []string
	for c := range p.table.columns {
		n := p.table.columns[c].name
		if n == "" {
			continue
		}
		if len(names) == 12 {
			names = append(names, "...")
			break
		}
		names = append(names, fmt.Sprintf("%d %q", c+1, n))
	}
	if len(names) == 0 {
		return "the log has no headings: name columns by number"
	}
	return "the headings are " + strings.Join(names, ", ")
}

// findClock is the fifth stage: which columns are time, and how it is written.
func (p *planner) findClock(pl *plan) error {
	named, err := p.resolve("time", p.o.Time)
	if err != nil {
		return err
	}
	set := clock.Settings{Decimal: p.dial.decimal, Columns: named, Order: clock.Order(p.o.DateOrder), NeighbourOrder: clock.Order(p.o.NeighbourOrder), IntervalS: p.o.IntervalS}
	p.readFacts()
	set.PreambleIntervalS, set.PreambleStart = p.facts.intervalS, p.facts.start
	tb := clock.Table{Rows: p.table.rows, Breaks: p.table.breaks}
	for c := range p.table.columns {
		col := &p.table.columns[c]
		name := col.name
		if _, _, ok := shortDecimal([]byte(name), '.'); ok {
			name = "" // a figure for a heading says nothing
		}
		tb.Headed = tb.Headed || name != "" && len(p.layout.headers) > 0
		tb.Columns = append(tb.Columns, clock.Column{Heading: name, Unit: col.unit})
	}
	// Columns that the user names are looked for among what is found without their help, so that a reading's own
	// flags give it back; only columns that would not be found are read because they are named.
	set.Columns = nil
	det := clock.Detect(tb, set)
	best := p.bestClock(&det, false)
	if len(named) > 0 {
		if best = candidateOf(&det, named); best == nil {
			set.Columns = named
			det = clock.Detect(tb, set)
			best = p.bestClock(&det, true)
		}
	}
	if best == nil && len(named) == 0 {
		// Headings that say nothing may stand over the time as well.
		changed := false
		for c := range tb.Columns {
			m := &p.table.columns[c].meaning
			if tb.Columns[c].Heading != "" && (m.Quantity == heading.NoQuantity || m.Quantity == heading.Value) && m.Role == series.NoRole && m.Unit == quantity.UnknownUnit {
				tb.Columns[c].Heading = ""
				changed = true
			}
		}
		if changed {
			det = clock.Detect(tb, set)
			best = p.bestClock(&det, false)
		}
	}
	if best == nil || best.Plan.Kind() == clock.Index && p.o.IntervalS <= 0 && p.facts.intervalS <= 0 {
		return p.fail(ErrNoTime, p.layout.first+1, 0, "no column is a time and no interval is known", "name the time column with --time, or the time between rows with --interval-s")
	}
	if runs := p.sideBySide(&det, best); runs == nil {
		for _, q := range det.Questions {
			p.ask(q)
		}
	} else if len(named) == 0 {
		best = p.firstOfRuns(runs)
	}
	p.ownColumns(&det, best)
	pl.time.plan = best.Plan
	pl.time.columns = append(pl.time.columns[:0], best.Plan.Columns()...)
	g := Guess{Stage: "clock", Choice: best.Plan.Format(), Evidence: best.Evidence, By: series.ByPlausibility}
	if len(named) > 0 {
		g.By = series.ByFlag
	}
	var cols []string
	for _, c := range pl.time.columns {
		cols = append(cols, fmt.Sprint(c+1))
	}
	if len(cols) > 0 {
		g.Flag = "--time " + strings.Join(cols, ",")
		g.Choice = fmt.Sprintf("column %s, %s", strings.Join(cols, " and "), g.Choice)
	}
	used := map[int]bool{}
	for _, c := range pl.time.columns {
		used[c] = true
	}
	for i := 1; i < len(det.Candidates); i++ {
		c := &det.Candidates[i]
		if g.RunnerUp == "" && !c.Dead && len(c.Plan.Columns()) > 0 {
			g.RunnerUp = fmt.Sprintf("column %d, %s", c.Plan.Columns()[0]+1, c.Plan.Format())
		}
		for _, k := range c.Plan.Columns() {
			if !used[k] && len(c.Plan.Columns()) > 0 && p.timeOnly(k) {
				used[k] = true
				reason := "another time column: " + c.Evidence
				if c.Dead {
					reason = "a time column that does not run: " + c.Evidence
				}
				p.ignore(k, reason)
			}
		}
	}
	p.guess(g)
	return nil
}

// candidateOf gives the best candidate of exactly these columns; nil without any.
func candidateOf(det *clock.Detection, columns []int) *clock.Candidate {
	for i := range det.Candidates {
		if c := &det.Candidates[i]; !c.Dead && slices.Equal(c.Plan.Columns(), columns) {
			return c
		}
	}
	return nil
}

// bestClock gives the best candidate whose columns may be time by their headings; nil without any.
func (p *planner) bestClock(det *clock.Detection, named bool) *clock.Candidate {
	for i := range det.Candidates {
		c := &det.Candidates[i]
		if c.Dead {
			continue
		}
		if named {
			return c
		}
		good, told := true, len(c.Plan.Columns()) == 0
		for _, k := range c.Plan.Columns() {
			m := &p.table.columns[k].meaning
			if m.Quantity == heading.Temperature || m.Unit != quantity.UnknownUnit || m.Role != series.NoRole {
				good = false
			}
			told = told || m.Quantity == heading.Time || m.Quantity == heading.Index || p.table.columns[k].times > 0
		}
		if p.o.IntervalS > 0 && c.Plan.Kind() == clock.Elapsed && !told {
			continue // rising figures that nothing calls time, where the user names the interval
		}
		if good {
			return c
		}
	}
	return nil
}

// sideBySide lists the candidates for time that stand beside best with probes of their own behind them: several
// runs, each with its own clock. They are in column order and best is one of them; nil when there is but one run.
func (p *planner) sideBySide(det *clock.Detection, best *clock.Candidate) []*clock.Candidate {
	if len(best.Plan.Columns()) != 1 || best.Plan.Kind() == clock.Index {
		return nil
	}
	var runs []*clock.Candidate
	own := best.Plan.Columns()[0]
	for i := range det.Candidates {
		c := &det.Candidates[i]
		if c.Dead || len(c.Plan.Columns()) != 1 || c.Plan.Kind() != best.Plan.Kind() {
			continue
		}
		k := c.Plan.Columns()[0]
		same := k == own
		if !same && (p.table.columns[k].meaning.Quantity != heading.Time && p.table.columns[k].times == 0 || p.sameCells(k, own) && !p.sameHeadings(k, own)) {
			continue
		}
		double := false
		for _, r := range runs {
			double = double || r.Plan.Columns()[0] == k
		}
		if !double {
			runs = append(runs, c)
		}
	}
	if len(runs) < 2 {
		return nil
	}
	slices.SortFunc(runs, func(a, b *clock.Candidate) int { return a.Plan.Columns()[0] - b.Plan.Columns()[0] })
	for i, r := range runs {
		end := p.dial.columns
		if i+1 < len(runs) {
			end = runs[i+1].Plan.Columns()[0]
		}
		probes := 0
		for c := r.Plan.Columns()[0] + 1; c < end; c++ {
			if col := &p.table.columns[c]; col.numbers > 0 && col.meaning.Quantity != heading.Time {
				probes++
			}
		}
		if probes == 0 {
			return nil
		}
	}
	return runs
}

// sameHeadings says whether the columns behind two time columns are called alike, as those of two runs are.
func (p *planner) sameHeadings(a, b int) bool {
	t := p.table.columns
	if a+1 >= len(t) || b+1 >= len(t) {
		return false
	}
	return t[a+1].name != "" && t[a+1].name == t[b+1].name && a != b+1 && b != a+1
}

// sameCells says whether two columns hold the same text in every sampled row.
func (p *planner) sameCells(a, b int) bool {
	for _, row := range p.table.rows {
		if a < len(row) && b < len(row) && string(row[a]) != string(row[b]) {
			return false
		}
	}
	return true
}

// firstOfRuns takes the first of several runs side by side.
func (p *planner) firstOfRuns(runs []*clock.Candidate) *clock.Candidate {
	var list []string
	for _, r := range runs[1:] {
		list = append(list, fmt.Sprint(r.Plan.Columns()[0]+1))
	}
	p.ask(fmt.Sprintf("%d runs stand side by side, each with its own time column; the first was read; --time %s reads another", len(runs), strings.Join(list, " or --time ")))
	return runs[0]
}

// otherRun is why the columns of a run that is not read are left out.
const otherRun = "belongs to another run, with a time column of its own"

// ownColumns leaves out the columns of the runs that are not read.
func (p *planner) ownColumns(det *clock.Detection, best *clock.Candidate) {
	runs := p.sideBySide(det, best)
	if runs == nil {
		return
	}
	p.read.Layout = "runs side by side"
	from, end := best.Plan.Columns()[0], p.dial.columns
	for _, r := range runs {
		if k := r.Plan.Columns()[0]; k > from {
			end = min(end, k)
		}
	}
	first := runs[0].Plan.Columns()[0]
	for c := first; c < p.dial.columns; c++ {
		if c < from || c >= end {
			p.ignore(c, otherRun)
		}
	}
}

// timeOnly says whether a column that could be time can't be a probe: its cells or its heading say so.
func (p *planner) timeOnly(c int) bool {
	col := &p.table.columns[c]
	return col.times > col.numbers || col.meaning.Quantity == heading.Time || col.meaning.Quantity == heading.Index
}

// ignore keeps a column that is not read, with the reason.
func (p *planner) ignore(c int, reason string) {
	for _, i := range p.read.Ignored {
		if i.Column == c+1 {
			return
		}
	}
	p.read.Ignored = append(p.read.Ignored, IgnoredColumn{Column: c + 1, Name: p.table.columns[c].name, Reason: reason})
}

// roleFlags lists the role flags with what they name.
func (p *planner) roleFlags() []struct {
	flag string
	role series.Role
	refs []ColumnRef
} {
	return []struct {
		flag string
		role series.Role
		refs []ColumnRef
	}{
		{"inner", series.Inner, p.o.Inner},
		{"outer", series.Outer, p.o.Outer},
		{"ambient", series.Ambient, p.o.Ambient},
		{"shaft", series.Shaft, p.o.Shaft},
		{"set-point", series.SetPoint, p.o.SetPoint},
	}
}

// findColumns is the sixth stage: which columns are probes, what they measure, and in which unit.
func (p *planner) findColumns(pl *plan) error {
	t := &p.table
	if long, err := p.findNarrow(pl); long || err != nil {
		return err
	}
	flagged := map[int]series.Role{}
	for _, f := range p.roleFlags() {
		cols, err := p.resolve(f.flag, f.refs)
		if err != nil {
			return err
		}
		for _, c := range cols {
			if r, ok := flagged[c]; ok && r != f.role {
				return p.fail(ErrColumn, p.headerLine(), c+1, fmt.Sprintf("named both as %s and as %s", r, f.role), "name it once")
			}
			flagged[c] = f.role
		}
	}
	isTime := map[int]bool{}
	for _, c := range pl.time.columns {
		isTime[c] = true
		if r, ok := flagged[c]; ok {
			return p.fail(ErrColumn, p.headerLine(), c+1, fmt.Sprintf("named as %s, but it is the time column", r), "name the time column with --time")
		}
	}
	for _, i := range p.read.Ignored {
		if _, ok := flagged[i.Column-1]; !ok {
			isTime[i.Column-1] = true
		}
	}

	var sure, maybe, volts []int
	for c := range t.columns {
		col := &t.columns[c]
		if _, ok := flagged[c]; ok {
			sure = append(sure, c)
			continue
		}
		if isTime[c] {
			continue
		}
		m := &col.meaning
		switch {
		case col.numbers == 0 && col.markers == 0 && col.texts == 0:
			if col.name != "" && (m.Quantity == heading.Temperature || m.Unit != quantity.UnknownUnit || m.Role != series.NoRole) && m.NotProbe == heading.MayBeProbe {
				sure = append(sure, c)
			} else if col.name != "" {
				p.ignore(c, "empty")
			}
		case m.Role != series.NoRole && m.Role != series.SetPoint && m.NotProbe == heading.MayBeProbe && m.Quantity != heading.Status:
			sure = append(sure, c) // a column that names a probe is one, however damaged its cells
		case col.texts+col.times > col.numbers+col.markers:
			p.ignore(c, "holds text, no numbers")
		case m.NotProbe == heading.SetPointColumn && (m.Quantity == heading.Temperature || m.Unit != quantity.UnknownUnit || m.Quantity == heading.NoQuantity):
			sure = append(sure, c)
		case m.NotProbe == heading.VoltageColumn:
			volts = append(volts, c)
		case m.NotProbe != heading.MayBeProbe:
			p.ignore(c, m.Reason)
		case m.Quantity == heading.Temperature || m.Unit != quantity.UnknownUnit || m.Role != series.NoRole || col.suffixes*2 > col.numbers:
			sure = append(sure, c)
		case col.otherSuffixes*2 > col.numbers:
			p.ignore(c, "its cells carry a unit that is no temperature's")
		case (m.Quantity == heading.Value || m.Quantity == heading.Status || m.Quantity == heading.Name) && col.numbers > 4*(col.texts+col.times):
			maybe = append(maybe, c)
		case m.Quantity != heading.NoQuantity:
			reason := "holds no temperature"
			if m.Evidence != "" {
				reason += ": " + m.Evidence
			}
			p.ignore(c, reason)
		default:
			maybe = append(maybe, c)
		}
	}
	probes := 0
	for _, c := range sure {
		if r, ok := flagged[c]; ok && r != series.SetPoint || !ok && t.columns[c].meaning.NotProbe != heading.SetPointColumn {
			probes++
		}
	}
	voltProbes := 0
	for _, c := range volts {
		// A thermocouple gives less than 0.1 V, so larger figures are degrees that an export put under its volts.
		col := &t.columns[c]
		if probes == 0 && col.numbers > 0 && !strings.HasPrefix(strings.ToLower(col.meaning.UnitText), "m") && col.max > 12 && col.implausible() == "" {
			sure = append(sure, c)
			voltProbes++
			p.ask(fmt.Sprintf("%q says volts, but its values from %.4g to %.4g look like °C and were read so; --temp-unit settles it", col.name, col.min, col.max))
		} else {
			p.ignore(c, col.meaning.Reason)
		}
	}
	probes += voltProbes
	if probes == 0 {
		for _, c := range maybe {
			if reason := t.columns[c].implausible(); reason != "" {
				p.ignore(c, reason)
			} else {
				sure = append(sure, c)
				probes++
			}
		}
		if probes > 0 && len(maybe) > 0 {
			p.guess(Guess{Stage: "columns", Choice: fmt.Sprintf("%d columns read as temperatures", probes), Evidence: "no heading names a temperature; their values could be one", By: series.ByPlausibility})
		}
	} else {
		for _, c := range maybe {
			p.ignore(c, "its heading names no temperature while others do; name it with --inner, --outer or --ambient if it is one")
		}
	}
	if probes == 0 {
		return p.fail(ErrNoChannel, p.headerLine(), 0, "no column could be a probe's temperature"+p.reasons(), "name one with --inner or --outer; "+p.headingList())
	}
	sortInts(sure)

	pl.channels = pl.channels[:0]
	for _, c := range sure {
		col := &t.columns[c]
		ch := channelPlan{column: c, scale: 1, decimal: col.decimal}
		ch.summary(&col.meaning)
		ch.Name, ch.Column = col.name, c+1
		if ch.Name == "" {
			ch.Name = fmt.Sprintf("column %d", c+1)
		}
		if r, ok := flagged[c]; ok {
			ch.Role, ch.RoleSource = r, series.ByFlag
		} else if col.meaning.NotProbe == heading.SetPointColumn {
			ch.Role, ch.RoleSource = series.SetPoint, series.ByHeading
		} else if col.meaning.Role != series.NoRole {
			ch.Role, ch.RoleSource = col.meaning.Role, series.ByHeading
		}
		ch.blank = col.numbers == 0 && col.markers == 0 && col.texts == 0
		p.findStatus(&ch)
		p.sayFlag(&ch, col)
		p.findUnit(&ch, col, flagged)
		ch.evidence, ch.number = col.meaning.Evidence, col.meaning.Number
		pl.channels = append(pl.channels, ch)
	}
	p.findRoles(pl)
	p.watch(pl)
	return nil
}

// reasons lists why columns were passed over, a few of them, for an error.
func (p *planner) reasons() string {
	var list []string
	for _, i := range p.read.Ignored {
		if len(list) == 4 {
			list = append(list, "...")
			break
		}
		if i.Reason != "" {
			list = append(list, fmt.Sprintf("column %d %q: %s", i.Column, i.Name, i.Reason))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return " (" + strings.Join(list, "; ") + ")"
}

// findStatus finds a column of words behind a channel that says whether its reading holds.
func (p *planner) findStatus(ch *channelPlan) {
	c := ch.column + 1
	if c >= len(p.table.columns) {
		return
	}
	col := &p.table.columns[c]
	if col.numbers > 0 || col.times > 0 || len(col.words) == 0 || len(col.words) > 8 || col.meaning.Quantity != heading.Status && !statusWord(col.words[0]) {
		return
	}
	most := 0
	for i := range col.words {
		if col.wordCount[i] > col.wordCount[most] {
			most = i
		}
	}
	if v := parseCell([]byte(col.words[most]), '.'); v.Kind == cell.Marker || 2*col.wordCount[most] < col.texts+col.markers {
		return // a column of faults says nothing
	}
	ch.status, ch.usual = c, []byte(col.words[most])
	p.ignore(c, fmt.Sprintf("says whether the reading of column %d holds", ch.column+1))
}

// statusWord says whether a word is the usual one for a sound reading.
func statusWord(w string) bool {
	switch strings.ToLower(w) {
	case "ok", "good", "valid", "normal", "gut":
		return true
	}
	return false
}

// implausible says why a column without a telling heading can't be a probe's trace; "" if it can.
func (c *column) implausible() string {
	if c.numbers == 0 {
		return "holds no numbers"
	}
	if c.min < -300 || c.max > 3000 {
		return "nothing names it a temperature and its values are none"
	}
	if c.numbers >= 20 && c.integers && c.distinctValues(5) <= 4 && c.max-c.min >= 5 {
		return "nothing names it a temperature and it steps between few values, as an output or a state does"
	}
	if c.numbers >= 20 && c.max == c.min {
		return "nothing names it a temperature and it never changes"
	}
	return ""
}

// findUnit decides one channel's unit.
func (p *planner) findUnit(ch *channelPlan, col *column, flagged map[int]series.Role) {
	_, named := flagged[ch.column]
	m := &col.meaning
	switch {
	case p.o.Unit != quantity.UnknownUnit && (named || m.Unit == quantity.UnknownUnit && col.suffix == quantity.UnknownUnit):
		ch.Unit, ch.UnitSource = p.o.Unit, series.ByFlag
		if m.UnitScale > 0 && m.Unit == p.o.Unit {
			ch.scale = m.UnitScale
		}
		if m.Unit != quantity.UnknownUnit && !m.UnitWeak && m.Unit != p.o.Unit || col.suffix != quantity.UnknownUnit && col.suffix != p.o.Unit {
			p.guess(Guess{Stage: "unit", Choice: ch.Name + ": " + ch.Unit.String(), Evidence: "the flags say so, against what the log says", RunnerUp: m.UnitText, By: series.ByFlag, Flag: "--temp-unit " + ch.Unit.Letter()})
		}
		p.findScale(ch, col)
		return
	case m.Unit != quantity.UnknownUnit && m.UnitWeak && m.Unit == quantity.KelvinUnit && col.numbers > 0 && col.min < 200:
		p.guess(Guess{Stage: "unit", Choice: ch.Name + ": not kelvin", Evidence: fmt.Sprintf("%g K would be far below any probe's cold; the letter names the thermocouple's type", col.min), By: series.ByPlausibility})
	case m.Unit != quantity.UnknownUnit:
		ch.Unit, ch.UnitSource = m.Unit, series.ByHeading
		if m.UnitPlace == heading.InUnitRow {
			ch.UnitSource = series.ByUnitRow
		}
		if m.UnitScale > 0 {
			ch.scale = m.UnitScale
		}
	case col.suffix != quantity.UnknownUnit:
		ch.Unit, ch.UnitSource = col.suffix, series.ByCell
	default:
		for _, f := range p.facts.list {
			if f.Unit != quantity.UnknownUnit && (f.Kind == heading.UnitText || f.Kind == heading.ChannelText) && (f.Channel == 0 || f.Channel == m.Number) {
				ch.Unit, ch.UnitSource = f.Unit, series.ByPreamble
				p.guess(Guess{Stage: "unit", Choice: ch.Name + ": " + ch.Unit.String(), Evidence: fmt.Sprintf("line %d says so", f.line), By: series.ByPreamble, Flag: "--temp-unit " + ch.Unit.Letter()})
				break
			}
		}
	}
	if flag := p.o.Unit; flag != quantity.UnknownUnit && ch.Unit != quantity.UnknownUnit && ch.Unit != flag && ch.UnitSource > series.ByPreamble {
		p.ask(fmt.Sprintf("--temp-unit %s is not followed for %q: its %s says %s; leave the flag out, or name the column as well (--inner %d or the like) if the log is wrong", flag.Letter(), ch.Name, ch.UnitSource, ch.Unit, ch.Column))
	}
	p.findScale(ch, col)
	if ch.Unit == quantity.KelvinUnit && col.numbers > 0 && col.min*ch.scale < 170 {
		ch.UnitDoubtful = true
		p.ask(fmt.Sprintf("%q says kelvin, but %g K is %.0f °C; --temp-unit C settles it if these are °C", ch.Name, col.min*ch.scale, float64(ch.Unit.Convert(col.min*ch.scale))))
	}
	if ch.Unit == quantity.UnknownUnit {
		p.plausibleUnit(ch, col)
		ch.UnitDoubtful = ch.UnitDoubtful || m.NotProbe == heading.VoltageColumn // asked before
	}
}

// findScale notices thousandths of a degree under a heading that says degrees.
func (p *planner) findScale(ch *channelPlan, col *column) {
	if ch.scale != 1 || col.numbers < 2 || !col.integers || max(col.max, -col.min) < 2000 {
		return
	}
	if lo, hi := col.min/1000, col.max/1000; lo > -60 && hi < 1000 {
		ch.scale = 0.001
		p.guess(Guess{Stage: "unit", Choice: fmt.Sprintf("%s: thousandths of a degree", ch.Name), Evidence: fmt.Sprintf("whole numbers from %g to %g can't be degrees", col.min, col.max), By: series.ByPlausibility})
	}
}

// plausibleUnit judges a unit that nothing names, by the size of the values.
func (p *planner) plausibleUnit(ch *channelPlan, col *column) {
	ch.Unit, ch.UnitSource = quantity.DegreeCelsius, series.ByPlausibility
	if col.numbers == 0 {
		return
	}
	lo, hi, first := col.min*ch.scale, col.max*ch.scale, col.values[0]*ch.scale
	g := Guess{Stage: "unit", By: series.ByPlausibility}
	switch {
	case lo > 240 && first > 255 && first < 330 && hi < 800:
		ch.Unit = quantity.KelvinUnit
		g.Evidence = fmt.Sprintf("nothing names the unit; %.4g at the start and %.4g at least fit kelvin", first, lo)
		g.RunnerUp = "°C"
	case first >= 50 && first <= 100 && hi > 100 && lo > 32:
		g.Evidence = fmt.Sprintf("nothing names the unit; values from %.4g to %.4g", lo, hi)
		g.RunnerUp, ch.UnitDoubtful = "°F", true
		p.ask(fmt.Sprintf("the unit of %q is not settled: it starts at %.4g, warm for °C, usual for °F; taken as °C; --temp-unit settles it", ch.Name, first))
	case !col.integers && col.numbers >= 4 && first > 150 || col.integers && col.numbers >= 4 && first >= 100 && hi > 400:
		g.Evidence = fmt.Sprintf("nothing names the unit; values from %.4g to %.4g, %.4g at the start", lo, hi, first)
		g.RunnerUp, ch.UnitDoubtful = "tenths of a degree", true
		p.ask(fmt.Sprintf("the unit of %q is not settled: a start at %.4g and values up to %.4g are hot for °C and could be °F, K or tenths of a degree; taken as °C; export with units, or --temp-unit settles it", ch.Name, first, hi))
	default:
		g.Evidence = fmt.Sprintf("nothing names the unit; values from %.4g to %.4g fit °C", lo, hi)
	}
	g.Choice = ch.Name + ": " + ch.Unit.String()
	g.Flag = "--temp-unit " + ch.Unit.Letter()
	p.guess(g)
}

// findRoles gives roles to channels that no flag and no heading named.
func (p *planner) findRoles(pl *plan) {
	p.rolesFromPreamble(pl)
	var free []int
	inner, outer := 0, 0
	for i := range pl.channels {
		ch := &pl.channels[i]
		switch ch.Role {
		case series.NoRole:
			if ch.blank {
				continue // not connected, as far as the sample tells
			}
			free = append(free, i)
		case series.Inner:
			inner++
		case series.Outer:
			outer++
		}
		if ch.RoleSource == series.ByHeading || ch.RoleSource == series.ByPreamble {
			p.guess(Guess{Stage: "role", Choice: fmt.Sprintf("%s: %s", ch.Name, ch.Role), Evidence: ch.evidence, By: ch.RoleSource, Flag: fmt.Sprintf("--%s %d", ch.Role, ch.Column)})
		}
	}
	give := func(i int, r series.Role, why string) {
		ch := &pl.channels[i]
		ch.Role, ch.RoleSource = r, series.ByOrder
		p.guess(Guess{Stage: "role", Choice: fmt.Sprintf("%s: %s", ch.Name, r), Evidence: why, By: series.ByOrder, Flag: fmt.Sprintf("--%s %d", r, ch.Column)})
	}
	name := func(i int) string { return fmt.Sprintf("%q (column %d)", pl.channels[i].Name, pl.channels[i].Column) }
	switch {
	case len(free) == 0:
	case inner == 0 && outer == 0 && len(free) == 2 && !p.o.OneBody:
		give(free[0], series.Inner, "no heading says which probe is where; the first of two")
		give(free[1], series.Outer, "no heading says which probe is where; the second of two")
		p.ask(fmt.Sprintf("which probe is on the inner ring? %s was taken for inner and %s for outer by their order; --inner %d --outer %d settles it", name(free[0]), name(free[1]), pl.channels[free[0]].Column, pl.channels[free[1]].Column))
	case inner == 0 && outer == 0 && len(free) == 1:
		give(free[0], series.Inner, "the only probe")
		if !p.o.OneBody {
			p.ask(fmt.Sprintf("only one probe, %s, and nothing says where it sits: taken for inner; there is no outer probe, so evenness can't be shown; --inner %d settles it", name(free[0]), pl.channels[free[0]].Column))
		}
	case inner == 1 && outer == 0 && len(free) == 1 && !p.o.OneBody && pl.channels[free[0]].Role == series.NoRole:
		give(free[0], series.Outer, "inner is named; the other probe")
		p.ask(fmt.Sprintf("is %s the probe on the outer ring? taken so because it is the only other one; --outer %d settles it", name(free[0]), pl.channels[free[0]].Column))
	case outer == 1 && inner == 0 && len(free) == 1:
		give(free[0], series.Inner, "outer is named; the other probe")
		p.ask(fmt.Sprintf("is %s the probe on the inner ring? taken so because it is the only other one; --inner %d settles it", name(free[0]), pl.channels[free[0]].Column))
	case inner == 0 || outer == 0 && !p.o.OneBody:
		var list []string
		for _, i := range free {
			list = append(list, name(i))
		}
		missing := "--inner and --outer"
		if inner > 0 {
			missing = "--outer"
		} else if outer > 0 || p.o.OneBody {
			missing = "--inner"
		}
		p.ask(fmt.Sprintf("%d probes and nothing says where they sit: %s; name them with %s", len(free), strings.Join(list, ", "), missing))
	}
}

// rolesFromPreamble pairs channels that the preamble names by number ("Channel 1: inner ring") with headings
// that carry the number.
func (p *planner) rolesFromPreamble(pl *plan) {
	for _, x := range p.facts.list {
		if x.Kind != heading.ChannelText || x.Channel == 0 || x.Meaning.Role == series.NoRole {
			continue
		}
		at := -1
		for i := range pl.channels {
			if ch := &pl.channels[i]; ch.number == x.Channel {
				if at >= 0 {
					at = -1
					break
				}
				at = i
			}
		}
		if at >= 0 && pl.channels[at].Role == series.NoRole {
			ch := &pl.channels[at]
			ch.Role, ch.RoleSource = x.Meaning.Role, series.ByPreamble
			ch.evidence = fmt.Sprintf("line %d of the preamble calls channel %d %q", x.line, x.Channel, x.Value)
		}
	}
}

func sortInts(a []int) {
	for i := 1; i < len(a); i++ {
		for j := i; j > 0 && a[j] < a[j-1]; j-- {
			a[j], a[j-1] = a[j-1], a[j]
		}
	}
}
