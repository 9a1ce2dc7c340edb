package ingest

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"ringheat/analyze/ingest/cell"
	"ringheat/analyze/ingest/clock"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// Reader reads logs, one after the other. The zero Reader works. Its buffers are used again for each log,
// so the Log in a Result, with all its slices, is the Reader's: it is overwritten by the next Read. Copy
// what must last. A Reader serves one goroutine at a time.
type Reader struct {
	src      stored
	text     text
	planner  planner
	plan     plan
	rows     rows
	log      series.Log
	steps    []float64
	steepest steepest
	joined   []byte
}

// Read reads one log with a Reader of its own, so that the Result is the caller's.
func Read(name string, in io.Reader, o Options) (*Result, error) {
	return new(Reader).Read(name, in, o)
}

// Read reads one log. name is what messages call it. The error is an *Error, as errors.As finds it, when the
// log can't be read at all; lines and cells that can't be read are listed in Result.Log.Problems.
func (r *Reader) Read(name string, in io.Reader, o Options) (*Result, error) {
	res := &Result{}
	if err := r.prepare(name, in, o, &res.Reading); err != nil {
		return nil, err
	}
	kinds := r.planner.headKinds()
	for attempt := 0; ; attempt++ {
		r.rows.begin(&r.plan, o.keep())
		if _, err := r.scan(kinds, 0); err != nil {
			return nil, err
		}
		out := r.rows.clock.Finish()
		if out.Reread && attempt == 0 && r.text.rewind() {
			r.plan.time.plan = out.Plan
			continue
		}
		if len(r.rows.timeS) == 0 {
			return nil, r.noRows()
		}
		r.collect(name, out, res)
		return res, nil
	}
}

// prepare runs the stages up to the plan.
func (r *Reader) prepare(name string, in io.Reader, o Options, reading *Reading) error {
	if err := checkOptions(name, o); err != nil {
		return err
	}
	r.steepest.kPerMin = 0
	if err := r.src.open(name, in); err != nil {
		return err
	}
	if err := r.text.begin(&r.src, o.Encoding); err != nil {
		return err
	}
	p := &r.planner
	p.o, p.file, p.read = o, name, reading
	if r.src.compressed != "" {
		reading.Compressed = r.src.compressed
		p.guess(Guess{Stage: "compression", Choice: r.src.compressed, Evidence: "the first bytes; member " + fmt.Sprintf("%q", r.src.member), By: series.ByPlausibility})
	}
	reading.Encoding = r.text.dec.guess.Choice
	p.guess(r.text.dec.guess)
	p.text = r.text.buf
	kept := len(reading.Guesses)
	p.indexLines(&r.text, false)
	err := p.plan(&r.plan)
	if err == errLookAtAll {
		*reading = Reading{Compressed: reading.Compressed, Encoding: reading.Encoding, Guesses: reading.Guesses[:kept]}
		p.indexLines(&r.text, true)
		err = p.plan(&r.plan)
	}
	return err
}

// plan decides how the rows are read, on the lines listed.
func (p *planner) plan(pl *plan) error {
	reading := p.read
	if len(p.lines) == 0 {
		return p.fail(ErrTooLong, 1, 0, fmt.Sprintf("a line of more than %d bytes", headBytes), "is this a log? export it with one row a line")
	}
	var err error
	if p.dial, err = p.findDialect(); err != nil {
		return err
	}
	p.joinQuoted()
	reading.Delimiter, reading.Decimal = delimiterName(p.dial.delim), string(rune(p.dial.decimal))
	if p.dial.columns > MaxColumns {
		return p.fail(ErrTooLong, 0, 0, fmt.Sprintf("%d columns, more than %d", p.dial.columns, MaxColumns), "is this a log? export fewer channels at a time")
	}
	if err := p.findStructure(); err != nil {
		return err
	}
	if p.joinCutDecimals() {
		reading.HeaderLines = nil
		if err := p.findStructure(); err != nil {
			return err
		}
	}
	p.readPreamble()
	reading.Layout = "wide"
	p.sampleRows()
	if len(p.table.rows) == 0 {
		return p.noData()
	}
	if err := p.readColumns(); err != nil {
		return err
	}
	pl.delim, pl.decimal, pl.columns = p.dial.delim, p.dial.decimal, p.dial.columns
	pl.minCells, pl.maxCells, pl.firstRow = p.layout.minCells, p.layout.maxCells, p.layout.first
	if err := p.findClock(pl); err != nil {
		return err
	}
	if err := p.findColumns(pl); err != nil {
		return err
	}
	p.findTags(pl)
	pl.letters, pl.digits = lettersAndDigits(p.lineAt(p.table.lines[len(p.table.lines)/2]))
	pl.header, pl.headerWidth = pl.header[:0], 0
	for _, h := range p.layout.headers {
		if p.cont[h+1] {
			continue // over several lines: not known again
		}
		pl.header = append(pl.header, bytes.Clone(trim(p.lineAt(h))))
		p.headerCells(h)
		pl.headerWidth = max(pl.headerWidth, len(p.cells))
	}
	pl.wrapped, pl.prefix = p.wrapped, p.prefix
	pl.pairs = p.dial.pairs
	pl.fast = pl.pairs < 0 && pl.delim != blanks && pl.delim != noDelim && !pl.narrow.on && !pl.wrapped && len(pl.prefix) == 0
	pl.act = pl.act[:0]
	for range pl.columns {
		pl.act = append(pl.act, action{})
	}
	for i, c := range pl.time.columns {
		pl.act[c] = action{actTime, 0, int32(i)}
	}
	for i := range pl.channels {
		ch := &pl.channels[i]
		pl.act[ch.column] = action{actChannel, ch.decimal, int32(i)}
		if ch.status > 0 && pl.act[ch.status].kind == actSkip {
			pl.act[ch.status] = action{actStatus, 0, int32(i)}
		}
	}
	return nil
}

func checkOptions(name string, o Options) error {
	if o.Decimal != 0 && o.Decimal != '.' && o.Decimal != ',' {
		return &Error{Kind: ErrOption, File: name, Message: fmt.Sprintf("no decimal mark %q", o.Decimal), Hint: `use "." or ","`}
	}
	if o.IntervalS < 0 || !quantity.Finite(o.IntervalS) {
		return &Error{Kind: ErrOption, File: name, Message: fmt.Sprintf("no interval %v s", o.IntervalS), Hint: "give seconds over 0"}
	}
	return nil
}

// keep is how many problems are kept.
func (o *Options) keep() int {
	if o.MaxProblems > 0 {
		return o.MaxProblems
	}
	return DefaultMaxProblems
}

// scan reads lines by the plan until it has rows samples or the log ends; more says which. rows 0 reads all.
func (r *Reader) scan(kinds []string, rows int) (more bool, err error) {
	pl, rs := &r.plan, &r.rows
	if rows == 0 {
		rows = math.MaxInt
	}
	for len(rs.timeS) < rows {
		if pl.fast && rs.foreign == 0 && r.text.line >= pl.firstRow {
			used, taken := rs.fast(r.text.buf[r.text.start:], r.text.line, rows-len(rs.timeS))
			r.text.start += used
			r.text.line += taken
			if len(rs.timeS) >= rows {
				break
			}
		}
		line, ok, err := r.text.next()
		if err != nil {
			return false, err
		}
		if !ok {
			rs.finish()
			return false, nil
		}
		n := r.text.line
		if n-1 < pl.firstRow {
			rs.account.Total++
			rs.skip(kinds[n-1])
			continue
		}
		if bytes.IndexByte(line, '"') >= 0 {
			if joined, lines := r.joinRow(line); lines > 0 {
				rs.account.Total += lines - 1
				rs.account.Skipped[skipContinued] += lines - 1
				line = joined
			}
		}
		rs.row(line, n)
	}
	return true, nil
}

// headKinds gives the kind of every line above the first row.
func (p *planner) headKinds() []string {
	kinds := make([]string, p.layout.first)
	for i := range kinds {
		switch {
		case p.cont[i]:
			kinds[i] = skipPreamble
		case len(trim(p.lineAt(i))) == 0:
			kinds[i] = skipBlank
		case commentMark(p.lineAt(i)):
			kinds[i] = skipComment
		default:
			kinds[i] = skipPreamble
		}
	}
	for _, h := range p.layout.headers {
		kinds[h] = skipHeader
		if h == p.layout.unit {
			kinds[h] = skipUnit
		}
		for k := h + 1; p.cont[k] && k < len(kinds); k++ {
			kinds[k] = kinds[h]
		}
	}
	return kinds
}

// noRows is the error of a log of which no line could be read.
func (r *Reader) noRows() error {
	return r.planner.fail(ErrNoData, r.plan.firstRow+1, 0, fmt.Sprintf("no line could be read as a row of readings (%d tried)", r.rows.account.Problems), "see how it is read with look, and name --time, --delimiter or --decimal")
}

// collect makes the Log of what was scanned.
func (r *Reader) collect(name string, out clock.Outcome, res *Result) {
	l, rs, pl := &r.log, &r.rows, &r.plan
	r.heads(name, out, res)
	l.TimeS, l.Lines = rs.timeS, rs.lines
	for i := range pl.channels {
		cp := &pl.channels[i]
		ch := cp.Channel
		ch.C = rs.values[i]
		t := look(ch.C, wildStepK/float64(ch.Unit.ConvertStep(cp.scale)))
		if t.mayHoldErrors() && cp.scale == 1 {
			if r.dropErrorValues(cp, i) {
				t = look(ch.C, wildStepK/float64(ch.Unit.ConvertStep(cp.scale)))
			}
		}
		if i < pl.probes {
			r.wildProbe(cp, &t)
		}
		ch.MissingKind = rs.missing[i]
		ch.StepK = ch.Unit.ConvertStep(stepOf(ch.C, rs.decimals[i]) * cp.scale)
		ch.Valid = t.valid
		toCelsius(cp, ch.C)
		if i >= pl.probes {
			r.leaveOut(cp, highest(ch.C))
			continue
		}
		if cp.blank && ch.Role == series.NoRole && ch.MissingKind[missingEmpty] == len(ch.C) && (len(l.Channels) > 0 || i+1 < pl.probes) {
			r.planner.ignore(cp.column, "empty in every row")
			continue
		}
		l.Channels = append(l.Channels, ch)
	}
	if !r.splitBlocks() {
		r.mergedLoggers()
	}
	if out.Descending {
		r.turnRound(out)
	}
	for i := range l.Channels {
		r.leaveOutChannel(&l.Channels[i], highest(l.Channels[i].C))
	}
	r.steps = clockFacts(l, r.steps)
	r.conflicts()
	for i := range l.Channels {
		if !out.Plan.UnitTaken() {
			break
		}
		r.steepest.add(&l.Channels[i], l.TimeS, l.Channels[i].C)
	}
	r.tails(out, res)
}

// heads sets what the Log holds besides its columns.
func (r *Reader) heads(name string, out clock.Outcome, res *Result) {
	l, rs := &r.log, &r.rows
	*l = series.Log{Name: name, Channels: l.Channels[:0], Rows: rs.account, Clock: series.Clock{Events: l.Clock.Events[:0]}}
	l.Problems, l.ProblemCount = rs.problems, rs.nproblem
	sort.SliceStable(l.Problems, func(i, j int) bool { return l.Problems[i].Line < l.Problems[j].Line })
	c := &l.Clock
	c.Start, c.ZoneKnown, c.TimeOfDayS, c.OffsetS = out.Start, out.ZoneKnown, out.TimeOfDayS, out.OffsetS
	if out.Kind == clock.Index {
		c.OffsetS = 0
	}
	if out.DateAmbiguous {
		c.Start = time.Time{} // no date is claimed; the elapsed times hold either way
	}
	res.Log = l
}

// tails completes the Reading with what only the whole log could tell.
func (r *Reader) tails(out clock.Outcome, res *Result) {
	p, reading := &r.planner, &res.Reading
	reading.BadCells = r.rows.badCells
	reading.ClockKind, reading.ClockFormat, reading.Zone = string(out.Kind), out.Format, out.Zone
	reading.DateOrder, reading.DateOrderEven = DateOrder(out.Order), out.DateAmbiguous
	for _, q := range out.Questions {
		reading.DateOrderEven = reading.DateOrderEven || strings.Contains(q, "--date-order")
	}
	for _, c := range r.plan.time.columns {
		reading.ClockColumns = append(reading.ClockColumns, c+1)
	}
	for _, e := range out.Evidence {
		p.guess(Guess{Stage: "clock", Choice: out.Format, Evidence: e, By: series.ByPlausibility, Flag: orderFlag(out.Order)})
	}
	for _, q := range out.Questions {
		p.ask(q)
	}
	r.startFromPreamble(out)
	r.headingZone(reading)
	r.checkInterval(out)
	r.doubtTimeUnit(out)
	if n := r.rows.foreignRows; n > 0 {
		p.ask(fmt.Sprintf("line %d brings other headings (%s): %d rows under them were not read; cut the file there and read the parts apart", r.rows.foreignAt, r.rows.foreignText, n))
	}
	r.clockRemarks(out)
	r.flags(reading, out)
	r.log.SHA256 = r.src.sha256()
}

// trace is what one pass over a channel's values, in the file's unit, shows.
type trace struct {
	valid    int
	largest  float64 // step between neighbouring readings, without sign
	low      float64 // smallest and largest reading
	high     float64
	jumps    int // steps of more than wild
	firstRow int // row behind the first of them
}

// look goes over a channel once. wild is the step, in the file's unit, over which a jump is counted.
func look(values []float64, wild float64) trace {
	t := trace{low: math.Inf(1), high: math.Inf(-1)}
	last := math.NaN()
	for k, v := range values {
		if v != v {
			continue
		}
		t.valid++
		if v < t.low {
			t.low = v
		}
		if v > t.high {
			t.high = v
		}
		d := math.Abs(v - last)
		last = v
		if d > t.largest {
			t.largest = d
		}
		if d > wild {
			if t.jumps++; t.jumps == 1 {
				t.firstRow = k
			}
		}
	}
	return t
}

// toCelsius turns a channel's values, in the file's unit, into °C.
func toCelsius(cp *channelPlan, values []float64) {
	scale, unit := cp.scale, cp.Unit
	if scale == 1 && unit != quantity.DegreeFahrenheit && unit != quantity.KelvinUnit {
		return
	}
	per := math.Round(1 / scale) // figures in one degree: dividing by 1000 is exact to the last digit, 0.001 is not
	for k, v := range values {
		values[k] = float64(unit.Convert(v / per)) // NaN stays NaN
	}
}

// turnRound puts the oldest row first in a log that has the newest there.
func (r *Reader) turnRound(out clock.Outcome) {
	l := &r.log
	slices.Reverse(l.TimeS)
	slices.Reverse(l.Lines)
	for i := range l.Channels {
		slices.Reverse(l.Channels[i].C)
	}
	first := l.TimeS[0]
	for i := range l.TimeS {
		l.TimeS[i] -= first
	}
	shift := time.Duration(math.Round(first * 1e9))
	if !l.Clock.Start.IsZero() {
		l.Clock.Start = l.Clock.Start.Add(shift)
	}
	if l.Clock.TimeOfDayS >= 0 {
		l.Clock.TimeOfDayS = math.Mod(math.Mod(l.Clock.TimeOfDayS+first, 86400)+86400, 86400)
	}
	l.Clock.OffsetS += first
	if out.Kind != clock.Elapsed {
		l.Clock.OffsetS = 0
	}
	r.planner.guess(Guess{Stage: "clock", Choice: "newest row first: turned round", Evidence: "the clock runs backwards from the first row to the last", By: series.ByPlausibility})
}

// clockRemarks says what the steps of the clock look like: a change to or from daylight-saving time, or minutes
// without their seconds.
func (r *Reader) clockRemarks(out clock.Outcome) {
	c := &r.log.Clock
	for _, d := range out.DST {
		for i := range c.Events {
			if c.Events[i].Row == d.Row {
				c.Events[i].Message += "; looks like a change of daylight-saving time"
			}
		}
	}
	repeats := 0
	for i := range c.Events {
		if c.Events[i].Kind == series.Repeat {
			repeats++
		}
	}
	if n := r.log.Len(); repeats*3 > n && n > 4 && c.IntervalS > 0 {
		what := fmt.Sprintf("%g s", c.IntervalS)
		if c.IntervalS == 60 {
			what = "whole minutes"
		}
		r.planner.ask(fmt.Sprintf("the clock only shows %s: %d of %d rows have the same time as the row before, so rates and durations can't be trusted; --interval-s settles it", what, repeats, n))
	}
}

func orderFlag(o clock.Order) string {
	if o == clock.AnyOrder {
		return ""
	}
	return "--date-order " + string(o)
}

// smallestErrorJump is the step, in the file's unit, below which no number stands apart from the trace.
const smallestErrorJump = 3.0

// mayHoldErrors says whether some number may stand for no reading.
func (t *trace) mayHoldErrors() bool {
	return t.largest > smallestErrorJump || t.low < -150 || t.high > 700
}

// dropErrorValues turns numbers that stand for no reading into missing samples; it gives whether there were any.
func (r *Reader) dropErrorValues(cp *channelPlan, i int) (any bool) {
	rs := &r.rows
	values := rs.values[i]
	for _, e := range cell.FindErrors(values, cp.Unit) {
		for _, run := range e.Runs {
			for k := run.First; k <= run.Last; k++ {
				values[k] = math.NaN()
				rs.miss(i, e.Name)
			}
		}
		any = true
		r.planner.guess(Guess{Stage: "marker", Choice: fmt.Sprintf("%s: %s is no reading", cp.Name, e.Name), Evidence: fmt.Sprintf("%d rows, line %d first; %s", e.Count, rs.lines[e.Runs[0].First], e.Evidence), By: series.ByPlausibility})
	}
	return any
}

// stepOf gives the display step of values written with at most so many decimals: the largest step that all
// of them keep to. 0 when there are none or too many decimals to say.
func stepOf(values []float64, decimals int) float64 {
	if decimals > 9 {
		return 0
	}
	scale := math.Pow10(decimals)
	var g, first int64
	have := false
	for _, v := range values {
		if v != v {
			continue
		}
		m := v * scale
		if m > 1e15 || m < -1e15 {
			return 1 / scale
		}
		k := int64(math.Round(m))
		if !have {
			first, have = k, true
			continue
		}
		d := k - first
		if d < 0 {
			d = -d
		}
		for d != 0 {
			g, d = d, g%d
		}
		if g == 1 {
			return 1 / scale
		}
	}
	if !have {
		return 0
	}
	if g == 0 {
		g = 1
	}
	// A step is only believed coarser than the notation when it is a customary one.
	switch m := float64(g); {
	case m == 2 || m == 5 || m == 25:
		return m / scale
	}
	return 1 / scale
}

// flags lists what pins this reading.
func (r *Reader) flags(reading *Reading, out clock.Outcome) {
	var f []string
	add := func(s string) {
		if s != "" {
			f = append(f, s)
		}
	}
	if flag := encodingFlags[r.text.dec.enc]; flag != "" {
		add("--encoding " + flag)
	}
	if r.plan.delim != noDelim {
		add("--delimiter " + reading.Delimiter)
	}
	add("--decimal " + reading.Decimal)
	interval := r.planner.o.IntervalS
	if out.Kind == clock.Index {
		if interval <= 0 {
			interval = r.planner.facts.intervalS
		}
	} else if len(reading.ClockColumns) > 0 {
		add("--time " + joinInts(reading.ClockColumns))
	}
	add(orderFlag(out.Order))
	if interval > 0 && (out.Kind == clock.Index || r.planner.o.IntervalS > 0) {
		add(fmt.Sprintf("--interval-s %g", interval))
	}
	var unit quantity.TemperatureUnit
	same := true
	for _, role := range []series.Role{series.Inner, series.Outer, series.Ambient, series.Shaft, series.SetPoint} {
		var cols []string
		for i := range r.log.Channels {
			ch := &r.log.Channels[i]
			if ch.Role == role {
				cols = append(cols, r.channelName(ch))
			}
			if unit == quantity.UnknownUnit {
				unit = ch.Unit
			}
			same = same && ch.Unit == unit
		}
		if len(cols) > 0 && reading.Layout != "blocks" { // there the titles name the probes, no column
			add("--" + role.String() + " " + strings.Join(cols, ","))
		}
	}
	if same {
		add("--temp-unit " + unit.Letter())
	}
	reading.Flags = f
}

// channelName is what a flag calls a channel: its column or, where one column holds all readings, its name.
func (r *Reader) channelName(ch *series.Channel) string {
	if r.plan.narrow.on {
		return "=" + ch.Name
	}
	return strconv.Itoa(ch.Column)
}

func joinInts(v []int) string {
	var b strings.Builder
	for i, n := range v {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprint(&b, n)
	}
	return b.String()
}
