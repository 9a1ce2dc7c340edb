package report

import (
	"fmt"
	"io"
	"strings"

	"ringheat/analyze"
	"ringheat/analyze/judge"
	"ringheat/analyze/quantity"
)

// Explanation walks a reader through the verdict on one log, in numbered paragraphs.
type Explanation struct {
	Title    string
	Sections []Section
}

// Section is a headed list of paragraphs.
type Section struct {
	Heading string
	Text    []string
}

// Explain puts one log's verdict into plain words with its numbers: what was measured, against which limit, with
// which uncertainty, and why the answer is what it is.
func Explain(r *analyze.LogResult) Explanation {
	doc := NewDocument(r)
	x := Explanation{Title: "Why " + doc.Log + " is " + doc.Phrase}
	if doc.Error != "" {
		x.add("The log could not be read", doc.Error, doc.Hint, "What can't be read proves nothing, so the log is UNPROVEN.")
		return x
	}
	x.add("What was measured", measured(r)...)
	if len(r.Cycles) == 0 {
		x.add("Why it is UNPROVEN", doc.Reason+".", "A log without a heating cycle proves nothing.")
	}
	for i := range r.Cycles {
		j := &r.Cycles[i].Judgement
		head := ""
		if len(r.Cycles) > 1 {
			head = fmt.Sprintf("Cycle %d: ", i+1)
		}
		for k := range j.Findings {
			f := &j.Findings[k]
			x.add(head+question(f, r.OneBody)+" "+answer(f.Verdict), explainFinding(f, j)...)
		}
	}
	x.add("How the answers make the verdict", verdictRule(r)...)
	if len(doc.Assumed) > 0 {
		x.add("What was assumed", sentences(doc.Assumed)...)
	}
	var weak []string
	for _, c := range doc.Cycles {
		weak = append(weak, c.Notes...)
	}
	weak = append(weak, doc.Notes...)
	weak = append(weak, doc.Problems...)
	if len(weak) > 0 {
		x.add("What else the record shows", sentences(weak)...)
	}
	x.add("What this page is", "It is made from the log and the settings alone; the same log and settings give the same page. It advises and releases no work.")
	return x
}

func (x *Explanation) add(heading string, text ...string) {
	s := Section{Heading: heading}
	for _, t := range text {
		if t != "" {
			s.Text = append(s.Text, t)
		}
	}
	x.Sections = append(x.Sections, s)
}

func sentences(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = strings.ToUpper(s[:min(1, len(s))]) + s[min(1, len(s)):] + "."
	}
	return out
}

func measured(r *analyze.LogResult) []string {
	l := r.Log
	var text []string
	if l.Len() > 1 {
		text = append(text, fmt.Sprintf("The logger wrote %d rows, one every %s, over %s.", l.Len(), intervalText(l.Clock.IntervalS), Duration(l.DurationS())))
	} else {
		text = append(text, fmt.Sprintf("The logger wrote %s.", plural(l.Len(), "row")))
	}
	for _, ring := range []struct {
		name     string
		channels []int
	}{{bodyName(r.OneBody), r.Inner}, {"outer ring", r.Outer}} {
		for _, ch := range ring.channels {
			c := &l.Channels[ch]
			t := fmt.Sprintf("The %s was read by %q: %d readings", ring.name, Plain(c.Name), c.Valid)
			if missing := countsText(c.MissingKind); missing != "" {
				t += ", and no reading " + missing
			}
			text = append(text, t+".")
		}
	}
	for i := range r.Cycles {
		text = append(text, fmt.Sprintf("Cycle %d: %s.", i+1, extent(&r.Cycles[i].Segment)))
	}
	return text
}

func bodyName(oneBody bool) string {
	if oneBody {
		return "part"
	}
	return "inner ring"
}

func question(f *judge.Finding, oneBody bool) string {
	switch f.Check {
	case judge.MaxTemp:
		if oneBody {
			return "Was the part kept below its limit?"
		}
		return "Were both rings kept below their limit?"
	case judge.RingDiff:
		return "Were the rings warmed evenly?"
	case judge.NeedTemp:
		return "Was the bore warm enough for its seat?"
	case judge.Record:
		return "Is the record complete enough?"
	case judge.Magnet:
		return "Is little enough magnetism left?"
	}
	return string(f.Check) + "?"
}

func answer(v judge.Verdict) string {
	switch v {
	case judge.Pass:
		return "Yes (PASS)"
	case judge.Fail:
		return "No (FAIL)"
	case judge.NotAsked:
		return "Not asked"
	}
	return "Not proven (UNPROVEN)"
}

// explainFinding says what was read, what it was compared with and how sure that is.
func explainFinding(f *judge.Finding, j *judge.CycleJudgement) []string {
	text := []string{strings.ToUpper(f.Reason[:min(1, len(f.Reason))]) + sentenceText(f.Reason[min(1, len(f.Reason)):]) + "."}
	if f.Value == nil || f.Limit == nil {
		return append(text, sentences(f.Assumed)...)
	}
	unit := unitOf(f.Check)
	read := "Read: " + quantity.FormatDecimals(*f.Value, 1) + unit
	if f.AtS != nil {
		read += " at " + Seconds(*f.AtS) + " of the log's time"
	}
	text = append(text, read+", from a curve through the readings around it, so that the noise of a single reading does not count.")
	text = append(text, "Limit: "+quantity.FormatDecimals(*f.Limit, trimmed(*f.Limit))+unit+".")
	if f.Uncertainty != nil {
		text = append(text, fmt.Sprintf("Uncertainty: the true value may lie up to %s%s away (U, coverage factor %s).",
			quantity.FormatDecimals(*f.Uncertainty, 1), kelvins(unit), quantity.FormatDecimals(f.Coverage, 2)))
		for _, b := range budgetLines(f, j.Rule) {
			if strings.HasPrefix(b, "u ") {
				text = append(text, "  of it "+b)
			}
		}
	}
	if f.Acceptance != nil {
		side := "at or below"
		if f.Check == judge.NeedTemp {
			side = "at or above"
		}
		text = append(text, fmt.Sprintf("Rule %s: %s. So it passes %s %s%s.", j.Rule, j.Rule.Words(), side, quantity.FormatDecimals(*f.Acceptance, 1), unit))
	}
	if f.Conformance != nil {
		text = append(text, "The readings leave a probability of "+quantity.FormatDecimals(100**f.Conformance, 1)+" % that the part really kept this limit.")
	}
	if f.Proven != nil && *f.Proven {
		text = append(text, "It lies beyond the limit by more than the uncertainty, so this is proven.")
	} else if f.Proven != nil {
		text = append(text, "It lies beyond the limit by less than the uncertainty: not accepted, but not proven harmed.")
	}
	return append(text, sentences(f.Assumed)...)
}

func kelvins(unit string) string {
	if unit == " °C" {
		return " K"
	}
	return unit
}

func verdictRule(r *analyze.LogResult) []string {
	text := []string{"A cycle FAILs if any answer is no. It is UNPROVEN if any answer is not proven. Else it is PASS."}
	if len(r.Cycles) > 1 {
		text = append(text, "The log's verdict is that of its worst cycle.")
	}
	return append(text, "Here: "+Word(r.Verdict)+", because "+sentenceText(r.Reason)+".")
}

// WriteExplanation writes an explanation as text.
func WriteExplanation(w io.Writer, x Explanation, o TextOptions) error {
	t := newTextWriter(w, o)
	t.wrapped("", x.Title)
	for i, s := range x.Sections {
		t.w.WriteByte('\n')
		t.wrapped(fmt.Sprintf("%d. ", i+1), s.Heading)
		for _, line := range s.Text {
			if rest, ok := strings.CutPrefix(line, "  "); ok {
				t.wrapped("     - ", rest)
				continue
			}
			t.wrapped("   ", line)
		}
	}
	return t.w.Flush()
}
