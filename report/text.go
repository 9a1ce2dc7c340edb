package report

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"sort"
	"strings"

	"ringheat/analyze"
	"ringheat/analyze/ingest"
	"ringheat/analyze/judge"
)

// errorText splits an error into what is wrong and what to do next.
func errorText(err error) (message, hint string) {
	var e *ingest.Error
	if !errors.As(err, &e) {
		return sentenceText(err.Error()), ""
	}
	bare := *e
	bare.Hint = ""
	return sentenceText(bare.Error()), sentenceText(e.Hint)
}

// TextOptions says how a text is shown.
type TextOptions struct {
	Colour bool // verdict words may be emphasised with terminal codes
	Budget bool // each finding's uncertainty budget is shown
	Width  int  // lines are wrapped to this many columns; 0 means 100
}

// Emphasis of the verdict words on a terminal. The word itself always stands there too.
const (
	bold  = "\x1b[1m"
	plain = "\x1b[0m"
)

type textWriter struct {
	w     *bufio.Writer
	o     TextOptions
	width int
}

func newTextWriter(w io.Writer, o TextOptions) *textWriter {
	width := o.Width
	if width <= 0 || width > 120 {
		width = 100
	}
	return &textWriter{w: bufio.NewWriter(w), o: o, width: max(width, 50)}
}

func (t *textWriter) word(v judge.Verdict, text string) string {
	if t.o.Colour && v != judge.Pass {
		return bold + text + plain
	}
	return text
}

// wrapped writes text after a head, broken at spaces, later lines indented under the text.
func (t *textWriter) wrapped(head, text string) {
	indent := len([]rune(head))
	t.w.WriteString(head)
	column := indent
	first := true
	for _, word := range unbroken(text) {
		n := len([]rune(word))
		if !first && column+1+n > t.width {
			t.w.WriteString("\n" + strings.Repeat(" ", indent))
			column = indent
			first = true
		}
		if !first {
			t.w.WriteByte(' ')
			column++
		}
		t.w.WriteString(word)
		column += n
		first = false
	}
	t.w.WriteByte('\n')
}

// WriteText writes one log's report in full.
func WriteText(w io.Writer, d *Document, o TextOptions) error {
	t := newTextWriter(w, o)
	t.head(d)
	if d.Error != "" {
		return t.w.Flush()
	}
	for i := range d.Cycles {
		t.cycle(&d.Cycles[i])
	}
	t.w.WriteByte('\n')
	for i, l := range d.Reading {
		head := "           "
		if i == 0 {
			head = "  read as  "
		}
		t.wrapped(head+fmt.Sprintf("%-10s ", l.Label), l.Text)
	}
	t.list("  assumed  ", d.Assumed)
	t.list("  to settle", d.Notes)
	t.list("  problems ", d.Problems)
	t.wrapped("  sha-256  ", d.SHA256)
	return t.w.Flush()
}

func (t *textWriter) head(d *Document) {
	t.wrapped(t.word(d.Verdict, d.Phrase)+"  ", d.Log)
	if d.Error != "" {
		t.wrapped("  ", d.Error)
		if d.Hint != "" {
			t.wrapped("  hint: ", d.Hint)
		}
		return
	}
	t.wrapped("  ", d.Reason)
}

func (t *textWriter) cycle(c *CyclePart) {
	t.w.WriteByte('\n')
	t.wrapped("  ", c.Title)
	for _, f := range c.Findings {
		t.wrapped(fmt.Sprintf("    %-10s %-11s", f.Check, f.Verdict), f.Text)
		if t.o.Budget {
			for _, b := range f.Budget {
				t.wrapped(strings.Repeat(" ", 26)+"- ", b)
			}
		}
	}
	for _, l := range c.Curves {
		t.wrapped(fmt.Sprintf("    %-10s ", l.Label), l.Text)
	}
	for _, n := range c.Notes {
		t.wrapped("    note       ", n)
	}
}

// unbroken splits a text into words, keeping a figure with the unit behind it.
func unbroken(text string) []string {
	words := strings.Fields(text)
	n := 0
	for _, w := range words {
		if n > 0 && isUnit(w) {
			if prev := words[n-1]; prev[len(prev)-1] >= '0' && prev[len(prev)-1] <= '9' {
				words[n-1] += " " + w
				continue
			}
		}
		words[n] = w
		n++
	}
	return words[:n]
}

func isUnit(word string) bool {
	switch strings.TrimRight(word, ",;:.)") {
	case "°C", "°F", "K", "K/min", "s", "min", "h", "mm", "µm", "%":
		return true
	}
	return false
}

func (t *textWriter) list(head string, lines []string) {
	for _, l := range lines {
		t.wrapped(head+"  ", l)
		head = strings.Repeat(" ", len(head))
	}
}

// Tally counts logs by verdict.
type Tally struct {
	Logs, Cycles, Pass, Fail, Unproven, Unreadable int
}

// Add counts one log.
func (t *Tally) Add(r *analyze.LogResult) {
	t.Logs++
	t.Cycles += len(r.Cycles)
	switch {
	case r.Err != nil:
		t.Unreadable++
	case r.Verdict == judge.Fail:
		t.Fail++
	case r.Verdict == judge.Pass:
		t.Pass++
	default:
		t.Unproven++
	}
}

// Merge adds another tally.
func (t *Tally) Merge(o Tally) {
	t.Logs += o.Logs
	t.Cycles += o.Cycles
	t.Pass += o.Pass
	t.Fail += o.Fail
	t.Unproven += o.Unproven
	t.Unreadable += o.Unreadable
}

// String gives the totals line. Its numbers add up to the number of logs.
func (t Tally) String() string {
	return fmt.Sprintf("%s with %s: %d FAIL, %d UNPROVEN, %d could not be read, %d PASS",
		plural(t.Logs, "log"), plural(t.Cycles, "cycle"), t.Fail, t.Unproven, t.Unreadable, t.Pass)
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// rank orders documents worst first: FAIL, could not be read, UNPROVEN, PASS.
func rank(d *Document) int {
	switch {
	case d.Verdict == judge.Fail:
		return 0
	case d.Error != "":
		return 1
	case d.Verdict == judge.Unproven:
		return 2
	}
	return 3
}

// WorstFirst orders documents worst first; those of one rank keep their order.
func WorstFirst(docs []Document) {
	sort.SliceStable(docs, func(i, j int) bool { return rank(&docs[i]) < rank(&docs[j]) })
}

// WriteSummary writes several logs in short, in the order given: verdict and the one reason that matters.
func WriteSummary(w io.Writer, docs []Document, o TextOptions) error {
	t := newTextWriter(w, o)
	for i := range docs {
		t.head(&docs[i])
		if n := len(docs[i].Cycles); n > 1 {
			for _, c := range docs[i].Cycles {
				t.wrapped("    "+c.Phrase+"  ", c.Title)
			}
		}
	}
	return t.w.Flush()
}
