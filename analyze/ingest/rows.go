package ingest

import (
	"bytes"
	"fmt"
	"math"

	"ringheat/analyze/ingest/cell"
	"ringheat/analyze/ingest/clock"
	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// The kinds of problem that reading reports.
const (
	ProblemCell   series.ProblemKind = "bad-cell"  // a cell that should hold a reading and does not
	ProblemTime   series.ProblemKind = "bad-time"  // a row whose time can't be read
	ProblemWidth  series.ProblemKind = "bad-width" // a row with too few or too many cells
	ProblemLine   series.ProblemKind = "bad-line"  // a line that is no row
	ProblemCut    series.ProblemKind = "cut-line"  // the last line, cut short
	ProblemMarker series.ProblemKind = "numeric-marker"
)

// Keys of series.Channel.MissingKind that are no text of the file.
const (
	missingEmpty      = "empty"
	missingShort      = "cell not there"
	missingUnreadable = "unreadable"
)

// action says what the fast path does with a column.
type action struct {
	kind    actionKind
	mark    byte  // the channel's decimal mark
	channel int32 // index of the channel, or of the column among the time columns
}

type actionKind uint8

const (
	actSkip actionKind = iota
	actTime
	actChannel
	actStatus
)

// rows is the last stage: it turns lines into samples, as the plan says. Lines that are exactly as the plan
// expects take the fast path (fast.go), a walk over their bytes; anything unusual in a line sends that line
// down the tolerant path, which must give the same values where both can read it.
type rows struct {
	plan        *plan
	clock       *clock.Reader
	timeS       []float64
	lines       []int32
	values      [][]float64 // by channel, in the file's unit; NaN where there is no reading
	decimals    []int       // by channel, most decimals seen
	missing     []map[string]int
	account     series.Rows
	problems    []series.Problem
	nproblem    int
	keep        int
	badCells    int
	cells       [][]byte
	timeBuf     [][]byte
	wide        [][]float64
	rowV        []float64
	rowD        []int
	rowKind     []string
	taken       []bool        // long layout: channels that have a reading at the last time
	pending     []pendingLine // lines that are no data and whose kind depends on what follows
	npending    int
	foreign     int // line of other headings in mid-file, under which rows are not read; 0 without
	foreignText string
	foreignAt   int
	blocks      []block
	foreignRows int
}

// pendingLine is a line in mid-file that is no row: a footer if nothing follows, else a problem.
type pendingLine struct {
	line int
	raw  string
}

const maxPending = 64

func (r *rows) begin(pl *plan, keep int) {
	n := len(pl.channels)
	r.plan = pl
	r.clock = pl.time.plan.Reader()
	r.timeS, r.lines = r.timeS[:0], r.lines[:0]
	for len(r.values) < n {
		r.values = append(r.values, nil)
	}
	for len(r.timeBuf) < len(pl.time.columns) {
		r.timeBuf = append(r.timeBuf, nil)
	}
	r.missing = r.missing[:0]
	r.decimals = r.decimals[:0]
	r.rowV, r.rowD, r.rowKind, r.taken = r.rowV[:0], r.rowD[:0], r.rowKind[:0], r.taken[:0]
	for i := range n {
		r.values[i] = r.values[i][:0]
		r.missing = append(r.missing, nil)
		r.decimals = append(r.decimals, 0)
		r.rowV = append(r.rowV, 0)
		r.rowD = append(r.rowD, 0)
		r.rowKind = append(r.rowKind, "")
		r.taken = append(r.taken, true)
	}
	r.account = series.Rows{Skipped: map[string]int{}}
	r.problems, r.nproblem, r.badCells = nil, 0, 0
	r.keep = keep
	r.pending, r.npending = r.pending[:0], 0
	r.foreign, r.foreignRows = 0, 0
	r.blocks = nil
}

// row takes one line of the data region the tolerant way.
func (r *rows) row(line []byte, lineNo int) {
	r.account.Total++
	r.tolerant(line, lineNo)
}

var byteOrderMark = []byte("\ufeff")

// tolerant reads a line that is not as usual.
func (r *rows) tolerant(line []byte, lineNo int) {
	pl := r.plan
	if pl.wrapped {
		line = unwrap(line)
	}
	line = bytes.TrimPrefix(line, byteOrderMark) // two files joined
	bare := trim(line)
	if len(bare) == 0 {
		r.skip(skipBlank)
		return
	}
	if isRule(bare) {
		r.skip(skipComment)
		return
	}
	r.cells, _ = split(line, pl.delim, r.cells[:0])
	if pl.pairs >= 0 {
		r.cells = joinDecimals(r.cells, 0, pl.pairs)
	}
	cells := r.cells
	for len(cells) > pl.columns && len(cells[len(cells)-1]) == 0 {
		cells = cells[:len(cells)-1]
	}
	for c, name := range pl.prefix {
		if c < len(cells) && name != "" {
			cells[c] = trim(bytes.TrimPrefix(cells[c], []byte(name)))
		}
	}
	filled := 0
	for _, c := range cells {
		if len(c) > 0 {
			filled++
		}
	}
	if filled == 0 {
		r.skip(skipBlank)
		return
	}
	if r.isHeader(bare) {
		if n := len(r.pending); n > 0 {
			r.startBlock(blockTitle(r.pending[n-1].raw), lineNo)
		}
		r.settlePending(true)
		r.skip(skipRepeated)
		r.foreign = 0
		return
	}
	if len(r.timeS) > 0 && r.otherHeadings(cells) {
		r.settlePending(true)
		r.skip(skipRepeated)
		r.foreign, r.foreignAt = lineNo, lineNo
		r.foreignText = shorten(bare)
		return
	}
	if commentMark(bare) && (len(pl.act) == 0 || pl.act[0].kind != actTime || bare[0] != '#' || len(cells) < pl.minCells) {
		if len(cells) == pl.columns && r.damagedRow(bare) {
			r.problem(lineNo, 0, line, ProblemLine, "a row behind a comment mark: not read")
			return
		}
		r.skip(skipComment)
		return
	}
	if (len(cells) != pl.columns || !r.mayBeRow(cells)) && r.otherRecord(cells) {
		r.skip(skipOther)
		return
	}
	if r.foreign > 0 && r.mayBeRow(cells) {
		r.foreignRows++
		r.problem(lineNo, 0, line, ProblemLine, fmt.Sprintf("stands under other headings, those of line %d", r.foreign))
		return
	}
	if !r.mayBeRow(cells) && !r.damagedRow(bare) {
		r.wait(line, lineNo)
		return
	}
	// The first row alone may be as wide as the headings: some loggers write a serial number there, once.
	once := lineNo-1 == pl.firstRow && len(cells) == pl.headerWidth
	if len(cells) < pl.minCells || len(cells) > pl.maxCells && !once {
		r.problem(lineNo, 0, line, ProblemWidth, fmt.Sprintf("%d cells where the log's rows have %d: not read, its cells could stand under wrong headings", len(cells), pl.columns))
		return
	}
	if pl.narrow.on {
		r.narrow(cells, line, lineNo)
		return
	}
	// Channels before time: the clock must not move for a row that is not taken.
	good := 0
	for k := range pl.channels {
		ch := &pl.channels[k]
		r.rowD[k] = 0
		r.rowV[k], r.rowKind[k] = missingValue, missingShort
		if ch.column < len(cells) {
			v := parseCell(cells[ch.column], ch.decimal)
			r.rowV[k], r.rowKind[k] = r.reading(ch, v)
			if r.rowKind[k] != "" {
				if v, r.rowKind[k] = r.flagged(k, cells[ch.column], v, r.rowKind[k]); r.rowKind[k] == "" {
					r.rowV[k], r.rowKind[k] = r.reading(ch, v)
				}
			}
			r.rowD[k] = v.Decimals
			if ch.status > 0 && ch.status < len(cells) && r.rowKind[k] == "" {
				if w := cell.Parse(cells[ch.status], ch.decimal); w.Kind == cell.Marker {
					r.rowV[k], r.rowKind[k] = missingValue, w.Marker
				}
			}
		}
		if r.rowKind[k] != missingUnreadable && k < pl.probes {
			good++
		}
	}
	if good == 0 && r.otherRecord(cells) {
		r.skip(skipOther)
		return
	}
	if good == 0 {
		c := pl.channels[0].column
		r.problem(lineNo, c+1, cells[c], ProblemCell, "no reading and no known marker of no reading in this row")
		return
	}
	t, st := r.time(cells)
	if st != clock.OK {
		r.badTime(cells, lineNo, st)
		return
	}
	r.settlePending(false)
	r.timeS = append(r.timeS, t)
	r.lines = append(r.lines, int32(min(lineNo, math.MaxInt32)))
	for k := range pl.channels {
		switch kind := r.rowKind[k]; kind {
		case "":
			r.decimals[k] = max(r.decimals[k], r.rowD[k])
		case missingUnreadable:
			if k >= pl.probes {
				break // a column that is only watched
			}
			c := pl.channels[k].column
			r.badCells++
			r.note(lineNo, c+1, cells[c], ProblemCell, badCellMessage(parseCell(cells[c], pl.channels[k].decimal)))
			r.miss(k, kind)
		case missingFlagged:
			if k < pl.probes {
				c := pl.channels[k].column
				r.badCells++
				r.note(lineNo, c+1, cells[c], ProblemFlagged, flaggedMessage(cells[c], pl.channels[k].decimal))
			}
			r.miss(k, kind)
		default:
			if c := pl.channels[k].column; r.missing[k][kind] == 0 && k < pl.probes && c < len(cells) && boundOf(cells[c], pl.channels[k].decimal, kind) {
				r.note(lineNo, c+1, cells[c], ProblemFlagged, fmt.Sprintf("a bound, no reading: the first of this column's cells counted as %s; the part may have been beyond it", kind))
			}
			r.miss(k, kind)
		}
		r.values[k] = append(r.values[k], r.rowV[k])
	}
	r.account.Samples++
}

// missingValue stands for a sample that was not recorded.
var missingValue = series.Missing()

// reading gives a cell's value for a channel, in the file's unit, or the kind of its absence.
func (r *rows) reading(ch *channelPlan, v cell.Value) (value float64, kind string) {
	switch {
	case v.Kind == cell.Number && !v.OutOfRange && (v.Suffix == cell.NoSuffix || v.Suffix.Temperature() == ch.Unit):
		return v.Number, ""
	case v.Kind == cell.Empty:
		return missingValue, missingEmpty
	case v.Kind == cell.Marker:
		return missingValue, v.Marker
	}
	return missingValue, missingUnreadable
}

// badCellMessage says what is wrong with a cell that gave no reading.
func badCellMessage(v cell.Value) string {
	switch {
	case v.OutOfRange:
		return "a number beyond all sense"
	case v.Kind == cell.Number:
		return "its unit is not that of its column"
	}
	return "no number and no known marker of no reading"
}

// time reads the time cells of a row.
func (r *rows) time(cells [][]byte) (float64, clock.Status) {
	columns := r.plan.time.columns
	for k, c := range columns {
		r.timeBuf[k] = nil
		if c < len(cells) {
			r.timeBuf[k] = cells[c]
		}
	}
	if len(columns) == 1 {
		return r.clock.ParseCell(r.timeBuf[0])
	}
	return r.clock.Parse(r.timeBuf[:len(columns)])
}

// badTime reports a row whose time could not be read.
func (r *rows) badTime(cells [][]byte, lineNo int, st clock.Status) {
	var raw []byte
	col := 0
	if columns := r.plan.time.columns; len(columns) > 0 && columns[0] < len(cells) {
		col = columns[0] + 1
		raw = cells[columns[0]]
	}
	message := "no time of the form " + r.plan.time.plan.Format()
	if st == clock.Blank {
		message = "no time in this row"
	}
	r.problem(lineNo, col, raw, ProblemTime, message)
}

// mayBeRow says whether cells could be a row at all: a time or a number stands where the plan wants one.
func (r *rows) mayBeRow(cells [][]byte) bool {
	pl := r.plan
	if len(cells) < 2 && pl.columns > 1 {
		return false
	}
	hits, words, timed := 0, 0, false
	if len(pl.time.columns) > 0 {
		digit := false
		for _, b := range cells {
			digit = digit || bytes.ContainsAny(b, "0123456789")
		}
		if !digit {
			return false // "*** end ***": no time stands in it
		}
	}
	for _, c := range pl.time.columns {
		if c < len(cells) {
			switch classify(cells[c]) {
			case classNumber, classTime:
				timed = true
			case classText:
				if wordsOnly(cells[c]) {
					return false // "Average", "End of data"
				}
			}
		}
	}
	for k := range pl.channels[:pl.probes] {
		if c := pl.channels[k].column; c < len(cells) {
			switch classify(cells[c]) {
			case classNumber, classMarker:
				hits++
			case classText:
				if wordsOnly(cells[c]) {
					words++
				}
			}
		}
	}
	if timed {
		return hits > 0 || words == 0 // a time and nothing but words: "Total rows: 30"
	}
	return hits > words && len(cells) >= pl.minCells
}

// otherHeadings says whether cells are headings, of the trade and as many as the log's, that are not the log's own.
func (r *rows) otherHeadings(cells [][]byte) bool {
	pl := r.plan
	if len(pl.header) == 0 || len(cells) < 2 || len(cells) > pl.columns+1 || pl.narrow.on {
		return false
	}
	known := 0
	for _, c := range cells {
		if len(c) == 0 {
			continue
		}
		switch classify(c) {
		case classNumber, classTime, classMarker:
			return false
		}
		m := heading.Read(cleanText(c), "")
		if m.Quantity == heading.Temperature || m.Quantity == heading.Time || m.Role != series.NoRole || m.Unit != quantity.UnknownUnit {
			known++
		}
	}
	return known >= 2
}

// otherRecord says whether a line is a record of a kind that holds no readings, as its tag tells.
func (r *rows) otherRecord(cells [][]byte) bool {
	tag := r.plan.tag
	if tag < 0 || tag >= len(cells) {
		return false
	}
	for _, w := range r.plan.otherTags {
		if string(cells[tag]) == w {
			return true
		}
	}
	return false
}

// damagedRow says whether a line is a row by its look though not by its cells: digits as a row has, and no
// more letters.
func (r *rows) damagedRow(line []byte) bool {
	letters, digits := lettersAndDigits(line)
	return letters <= r.plan.letters+1 && 2*digits >= r.plan.digits
}

func lettersAndDigits(b []byte) (letters, digits int) {
	for _, c := range b {
		switch {
		case c >= '0' && c <= '9':
			digits++
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= 0xC0: // the first byte of a character outside ASCII
			letters++
		}
	}
	return letters, digits
}

// wordsOnly says whether a cell has letters and no digit.
func wordsOnly(b []byte) bool {
	letters := 0
	for _, c := range b {
		switch {
		case c >= '0' && c <= '9':
			return false
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= 0x80:
			letters++
		}
	}
	return letters >= 3
}

// isHeader says whether a line repeats one of the heading lines.
func (r *rows) isHeader(bare []byte) bool {
	for _, h := range r.plan.header {
		if bytes.Equal(h, bare) {
			return true
		}
	}
	return false
}

func (r *rows) skip(kind string) { r.account.Skipped[kind]++ }

func (r *rows) miss(channel int, kind string) {
	if r.missing[channel] == nil {
		r.missing[channel] = map[string]int{}
	}
	r.missing[channel][kind]++
}

// problem counts a line that gave no sample.
func (r *rows) problem(line, column int, raw []byte, kind series.ProblemKind, message string) {
	r.account.Problems++
	r.note(line, column, raw, kind, message)
}

// note keeps a problem for the report, as many as there is room for.
func (r *rows) note(line, column int, raw []byte, kind series.ProblemKind, message string) {
	r.nproblem++
	if len(r.problems) >= r.keep {
		return
	}
	r.problems = append(r.problems, series.Problem{Line: line, Column: column, Raw: shorten(raw), Kind: kind, Message: message})
}

// shorten cuts raw text for a Problem, at a character's start.
func shorten(raw []byte) string {
	if len(raw) > series.MaxRaw {
		cut := series.MaxRaw
		for cut > 0 && raw[cut]&0xC0 == 0x80 {
			cut--
		}
		raw = raw[:cut]
	}
	return cleanText(raw)
}

// wait keeps a line that is no row until what follows says what it is.
func (r *rows) wait(line []byte, lineNo int) {
	r.npending++
	if len(r.pending) < maxPending {
		r.pending = append(r.pending, pendingLine{lineNo, shorten(line)})
	}
}

// settlePending decides on lines that waited: talk before a repeated heading is a preamble, before a row
// it is a problem each.
func (r *rows) settlePending(header bool) {
	if r.npending == 0 {
		return
	}
	if header {
		r.account.Skipped[skipPreamble] += r.npending
	} else {
		for _, w := range r.pending {
			r.problem(w.line, 0, []byte(w.raw), ProblemLine, "no row of readings, in the midst of the data")
		}
		if rest := r.npending - len(r.pending); rest > 0 {
			r.account.Problems += rest
			r.nproblem += rest
		}
	}
	r.pending, r.npending = r.pending[:0], 0
}

// finish settles what waits for the end of the file.
func (r *rows) finish() {
	if r.plan.narrow.on {
		r.narrowEnd()
	}
	if r.npending > 0 {
		r.account.Skipped[skipFooter] += r.npending
		r.pending, r.npending = r.pending[:0], 0
	}
}
