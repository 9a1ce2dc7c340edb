package ingest

import (
	"bytes"
	"fmt"

	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/series"
)

// planner decides how a log is read, on its head (the whole of a short log). The stages write their
// findings into it in order; each decision leaves a Guess. Its buffers are kept from file to file.
type planner struct {
	o        Options
	file     string
	text     []byte
	lines    []span
	gaps     []int // indices into lines before which lines were left out
	wrapped  bool  // each line is one quoted cell
	partial  bool  // lines are not all of the head's
	cells    [][]byte
	picked   []int
	filled   []int32 // lines of the head with text in them
	layout   structure
	dial     dialect
	read     *Reading
	meanings []heading.Meaning
	facts    preambleFacts
	prefix   []string
	cont     map[int]bool // lines of the head that go on a quoted cell of the line before
	table    table
}

// lineAt gives line i (0-based) of the head.
func (p *planner) lineAt(i int) []byte {
	line := p.text[p.lines[i].start:p.lines[i].end]
	if p.wrapped {
		line = unwrap(line)
	}
	return line
}

// unwrap takes the quotes off a line that is quoted as a whole.
func unwrap(line []byte) []byte {
	if b := trim(line); wrapped(b) {
		return unquote(b)
	}
	return line
}

// findWrapping finds whether every line is one quoted cell with the delimiters inside, as a spreadsheet writes a
// log that it took for one column.
func (p *planner) findWrapping() {
	p.wrapped = false
	if len(p.filled) < 3 {
		return
	}
	seen, whole := 0, 0
	for _, l := range p.sampleLines(fewLines) {
		b := trim(p.lineAt(l))
		seen++
		if wrapped(b) && bytes.ContainsAny(b, ",;\t|") {
			whole++
		}
	}
	if whole*10 >= seen*8 {
		p.wrapped = true
		p.guess(Guess{Stage: "quotes", Choice: "each line is one quoted cell; the quotes are taken off", Evidence: fmt.Sprintf("%d of %d sampled lines", whole, seen), By: series.ByPlausibility})
	}
}

// guess keeps a decision.
func (p *planner) guess(g Guess) { p.read.Guesses = append(p.read.Guesses, g) }

// ask keeps a question, once.
func (p *planner) ask(q string) {
	for _, have := range p.read.Questions {
		if have == q {
			return
		}
	}
	p.read.Questions = append(p.read.Questions, q)
}

// fail makes the error of a log that can't be read.
func (p *planner) fail(kind ErrorKind, line, column int, message, hint string) error {
	return &Error{Kind: kind, File: p.file, Line: line, Column: column, Message: message, Hint: hint}
}

// plan is what the rows are read by.
type plan struct {
	delim       byte
	decimal     byte
	columns     int // cells of the usual data line
	minCells    int // fewest and most cells that a data line may have
	maxCells    int
	firstRow    int // 0-based line of the first row
	letters     int // in a usual row
	digits      int
	time        timePlan
	channels    []channelPlan // the probes, and behind them the columns that are only watched
	probes      int           // how many of channels are probes
	narrow      narrowPlan
	headerWidth int // most cells of a heading line
	wrapped     bool
	pairs       int      // see dialect.pairs
	prefix      []string // by column: the name that stands before every value, "inner="
	tag         int      // column that tells the kinds of record apart, -1 without
	otherTags   []string // the kinds that are no readings
	act         []action // by column, for the fast path
	fast        bool     // the fast path can read such rows
	header      [][]byte // the heading lines, trimmed, to know them again in mid-file
}

// channelPlan is one channel to read.
type channelPlan struct {
	blank    bool // no cell of the sample holds anything
	column   int  // 0-based
	decimal  byte
	scale    float64
	evidence string // for the role
	status   int    // column of words on the state of this reading, 0 without
	usual    []byte // the word that stands there when all is well
	number   int    // the channel's number in its heading, -1 without
	flag     string // letters beside its figures that are taken off
	body     string // another body that its heading names, "" for the part's own or none
	why      string // why a column that is only watched is left out
	series.Channel
}
