package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ringheat/analyze"
	"ringheat/analyze/curve"
	"ringheat/analyze/ingest"
	"ringheat/analyze/judge"
	"ringheat/analyze/quantity"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// Document is one log's report in words. Every format that people read is written from it, so that they
// can't disagree.
type Document struct {
	Log     string
	SHA256  string
	Verdict judge.Verdict
	Phrase  string // the verdict with what it covers: "PASS for heat and evenness; seat not asked"
	Reason  string
	Error   string
	Hint    string

	Cycles   []CyclePart
	Reading  []Line
	Problems []string
	Assumed  []string
	Notes    []string
}

// Line is a labelled statement.
type Line struct{ Label, Text string }

// CyclePart is one cycle's part of a Document.
type CyclePart struct {
	Title    string
	Verdict  judge.Verdict
	Phrase   string
	Reason   string
	Findings []FindingLine
	Curves   []Line
	Notes    []string
}

// FindingLine is one check's answer in words.
type FindingLine struct {
	Check   string
	Verdict string
	Text    string
	Budget  []string // how the uncertainty is made up, largest share first, and the rule; shown on request
}

// Word gives a verdict as people read it: PASS, FAIL, UNPROVEN, not asked.
func Word(v judge.Verdict) string {
	if v == judge.NotAsked {
		return "not asked"
	}
	return strings.ToUpper(v.String())
}

// NewDocument puts one log's result into words.
func NewDocument(r *analyze.LogResult) Document {
	d := Document{Log: Plain(r.Name), SHA256: r.SHA256, Verdict: r.Verdict, Reason: sentenceText(r.Reason)}
	d.Phrase = Word(r.Verdict)
	if r.Err != nil {
		d.Error, d.Hint = errorText(r.Err)
		d.Reason = "the log could not be read"
		d.Phrase = "NOT READ" // as a verdict it is UNPROVEN: what can't be read proves nothing
		return d
	}
	d.Reading = readingLines(r)
	d.Problems = problemLines(r.Log)
	seen := map[string]bool{}
	for i := range r.Cycles {
		c := &r.Cycles[i]
		part := newCyclePart(r, i)
		d.Cycles = append(d.Cycles, part)
		if c.Judgement.Verdict == r.Verdict && d.Phrase == Word(r.Verdict) {
			d.Phrase = part.Phrase
		}
		for _, a := range c.Judgement.Assumed {
			if !seen[a] {
				seen[a] = true
				d.Assumed = append(d.Assumed, sentenceText(a))
			}
		}
	}
	for _, q := range r.Reading.Questions {
		d.Notes = append(d.Notes, sentenceText(q))
	}
	return d
}

func newCyclePart(r *analyze.LogResult, i int) CyclePart {
	c := &r.Cycles[i]
	j := &c.Judgement
	p := CyclePart{
		Title: fmt.Sprintf("Cycle %d of %d", i+1, len(r.Cycles)), Verdict: j.Verdict,
		Phrase: phrase(j), Reason: sentenceText(j.Reason),
	}
	if t := extent(&c.Segment); t != "" {
		p.Title += ": " + t
	}
	for k := range j.Findings {
		f := &j.Findings[k]
		p.Findings = append(p.Findings, FindingLine{string(f.Check), Word(f.Verdict), sentenceText(f.Reason), budgetLines(f, j.Rule)})
	}
	ring := "inner ring"
	if r.OneBody {
		ring = "part"
	}
	if len(r.Inner) > 0 {
		p.Curves = append(p.Curves, Line{ring, curveText(&c.Inner)})
	}
	if len(r.Outer) > 0 && !r.OneBody {
		p.Curves = append(p.Curves, Line{"outer ring", curveText(&c.Outer)})
	}
	p.Curves = append(p.Curves, deepLines(c.Deep)...)
	for _, n := range j.Notes {
		p.Notes = append(p.Notes, sentenceText(n))
	}
	for _, d := range c.Segment.Defects {
		p.Notes = append(p.Notes, sentenceText(d.Message))
	}
	if s := spikeText(r, &c.Segment); s != "" {
		p.Notes = append(p.Notes, s)
	}
	return p
}

// budgetLines puts a finding's uncertainty into words: its components (GUM), the expanded uncertainty with its
// coverage factor, the acceptance limit, and the conformance probability (JCGM 106).
func budgetLines(f *judge.Finding, rule judge.Rule) []string {
	if f.Uncertainty == nil {
		return nil
	}
	parts := slices.Clone(f.Budget)
	slices.SortStableFunc(parts, func(a, b judge.Component) int { return cmp.Compare(b.U, a.U) })
	unit := " K"
	if f.Check == judge.Magnet {
		unit = unitOf(f.Check)
	}
	var lines []string
	for _, c := range parts {
		text := "u " + quantity.FormatDecimals(c.U, 3) + unit + " from " + sentenceText(c.Name)
		if c.HalfWidth > 0 {
			text += ", ±" + quantity.FormatDecimals(c.HalfWidth, 2) + unit + " rectangular"
		}
		if c.Basis != "" {
			text += " (" + sentenceText(c.Basis) + ")"
		}
		lines = append(lines, text)
	}
	total := "together U = " + quantity.FormatDecimals(*f.Uncertainty, 2) + unit
	if f.Coverage > 0 {
		total += " with coverage factor " + quantity.FormatDecimals(f.Coverage, 2)
	}
	if f.Acceptance != nil {
		total += "; acceptance limit " + quantity.FormatDecimals(*f.Acceptance, 2) + unitOf(f.Check) + " under the rule " + string(rule)
	}
	if f.Conformance != nil {
		total += "; conformance probability " + quantity.FormatDecimals(100**f.Conformance, 1) + " %"
	}
	if f.Risk != nil {
		who := "consumer's"
		if f.Verdict == judge.Fail {
			who = "producer's"
		}
		total += "; specific " + who + " risk " + quantity.FormatDecimals(100**f.Risk, 1) + " %"
	}
	return append(lines, total)
}

func unitOf(c judge.Check) string {
	switch c {
	case judge.MaxTemp, judge.NeedTemp:
		return " °C"
	case judge.RingDiff:
		return " K"
	case judge.Magnet:
		return " A/cm"
	}
	return ""
}

// phrase says what a verdict covers. A PASS names what was asked and what was not.
func phrase(j *judge.CycleJudgement) string {
	word := Word(j.Verdict)
	if j.Verdict != judge.Pass {
		return word
	}
	var covered, open []string
	for _, f := range j.Findings {
		name := coverage[f.Check]
		switch {
		case name == "" || f.Check == judge.RingDiff && f.Verdict == judge.NotAsked:
		case f.Verdict == judge.Pass:
			covered = append(covered, name)
		case f.Verdict == judge.NotAsked:
			open = append(open, name)
		}
	}
	if len(covered) > 0 {
		word += " for " + listed(covered)
	}
	if len(open) > 0 {
		word += "; " + listed(open) + " not asked"
	}
	return word
}

var coverage = map[judge.Check]string{judge.MaxTemp: "heat", judge.RingDiff: "evenness", judge.NeedTemp: "seat", judge.Magnet: "residual field"}

// listed joins words as in a sentence: a, b and c.
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// extent says when a cycle's heating ran.
func extent(c *segment.Cycle) string {
	switch {
	case c.Onset.Known && c.End.Known:
		return fmt.Sprintf("heating from %s to %s (%s)", Seconds(c.Onset.AtS), Seconds(c.End.AtS), Duration(c.End.AtS-c.Onset.AtS))
	case c.Onset.Known:
		return fmt.Sprintf("heating from %s; its end is not in the log", Seconds(c.Onset.AtS))
	case c.End.Known:
		return fmt.Sprintf("heating until %s; its onset is not in the log", Seconds(c.End.AtS))
	}
	return "neither onset nor end of heating is in the log"
}

// curveText puts a first-order estimate into words with sensible digits.
func curveText(e *curve.FirstOrder) string {
	if e.Status == curve.NoRise {
		return sentence("no curve", e.Why)
	}
	var s []string
	if e.StartC.Known {
		s = append(s, "from "+quantity.Format(e.StartC.Value, e.StartC.StdErr)+" °C at "+Seconds(e.T0S))
	}
	if e.RateKPerS.Known {
		s = append(s, "at first "+quantity.Format(e.RateKPerS.Value*60, e.RateKPerS.StdErr*60)+" K/min"+span(e.RateKPerS.CI, e.RateKPerS.StdErr, 60, ""))
	}
	switch {
	case e.Status == curve.Determined:
		s = append(s,
			"effective time constant "+quantity.Format(e.TimeConstantS.Value, e.TimeConstantS.StdErr)+" s"+span(e.TimeConstantS.CI, e.TimeConstantS.StdErr, 1, " s"))
		if e.FinalC.Known {
			s = append(s, "effective final temperature "+quantity.Format(e.FinalC.Value, e.FinalC.StdErr)+" °C"+span(e.FinalC.CI, e.FinalC.StdErr, 1, " °C"))
		}
	case e.Status == curve.Undetermined:
		t := "time constant not determined"
		if e.TimeConstantS.CI.HasLow {
			t += ": longer than " + quantity.FormatDecimals(roundDown(e.TimeConstantS.CI.Low), 0) + " s"
		}
		s = append(s, t)
	}
	text := strings.Join(s, ", ")
	switch {
	case e.Status == curve.NotFirstOrder:
		text += "; not first-order"
		if e.Why != "" {
			text += ": " + sentenceText(e.Why)
		}
	case e.Status != curve.Determined && e.Why != "":
		text += " (" + sentenceText(e.Why) + ")"
	}
	return text
}

// span writes a 95 % interval in brackets; an end that runs to infinity is said in words.
func span(i curve.Interval, se, scale float64, unit string) string {
	low, high := quantity.Format(i.Low*scale, se*scale), quantity.Format(i.High*scale, se*scale)
	switch {
	case i.HasLow && i.HasHigh:
		return " (" + low + " to " + high + unit + ")"
	case i.HasLow:
		return " (at least " + low + unit + ")"
	case i.HasHigh:
		return " (at most " + high + unit + ")"
	}
	return ""
}

// roundDown keeps two significant figures of a lower bound, never rounding it up.
func roundDown(v float64) float64 {
	if v <= 0 || !quantity.Finite(v) {
		return v
	}
	p := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Floor(v/p) * p
}

func sentence(head, why string) string {
	if why == "" {
		return head
	}
	return head + ": " + sentenceText(why)
}

// Seconds writes a moment of the log's time axis.
func Seconds(s float64) string {
	if s == math.Trunc(s) || math.Abs(s) >= 1000 {
		return strconv.FormatFloat(s, 'f', 0, 64) + " s"
	}
	return strconv.FormatFloat(s, 'f', 1, 64) + " s"
}

// Duration writes a stretch of time as people say it.
func Duration(s float64) string {
	switch {
	case s < 120:
		return Seconds(s)
	case s < 7200:
		t := int(math.Round(s))
		if t%60 == 0 {
			return fmt.Sprintf("%d min", t/60)
		}
		return fmt.Sprintf("%d min %d s", t/60, t%60)
	}
	t := int(math.Round(s / 60))
	return fmt.Sprintf("%d h %d min", t/60, t%60)
}

func spikeText(r *analyze.LogResult, c *segment.Cycle) string {
	var parts []string
	for _, group := range [][]int{r.Inner, r.Outer} {
		for _, ch := range group {
			if ch >= len(r.Spikes) {
				continue
			}
			n := 0
			for _, row := range r.Spikes[ch] {
				if int(row) >= c.Rows.First && int(row) < c.Rows.End {
					n++
				}
			}
			if n > 0 {
				parts = append(parts, fmt.Sprintf("%d of %s", n, Plain(r.Log.Channels[ch].Name)))
			}
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "samples marked as spikes, which no heat capacity could follow, and not judged: " + listed(parts)
}

func readingLines(r *analyze.LogResult) []Line {
	l, g := r.Log, &r.Reading
	var lines []Line
	lines = append(lines, Line{"file", formText(g)})
	clock := g.ClockKind
	if g.ClockFormat != "" && g.ClockFormat != g.ClockKind {
		clock += " (" + Plain(g.ClockFormat) + ")"
	}
	if l.Len() > 1 {
		clock += ", every " + intervalText(l.Clock.IntervalS) + " for " + Duration(l.DurationS())
	}
	if !l.Clock.Start.IsZero() {
		clock += ", from " + l.Clock.Start.Format("2006-01-02 15:04:05")
		if l.Clock.ZoneKnown {
			clock += l.Clock.Start.Format(" -07:00")
		}
	}
	lines = append(lines, Line{"clock", clock})
	for i := range l.Channels {
		c := &l.Channels[i]
		role := c.Role.String()
		if role == "" {
			role = "not used"
		}
		text := fmt.Sprintf("%s (column %d): %d readings in %s", Plain(c.Name), c.Column, c.Valid, unitText(c))
		if c.RoleSource != series.NoSource {
			text += ", role by " + c.RoleSource.String()
		}
		if m := countsText(c.MissingKind); m != "" {
			text += "; no reading: " + m
		}
		lines = append(lines, Line{role, text})
	}
	return append(lines, Line{"rows", rowsText(&l.Rows)})
}

func formText(g *ingest.Reading) string {
	form := g.Delimiter + " between cells, decimal " + decimalWord(g.Decimal) + ", " + g.Encoding
	if g.Compressed != "" {
		form += ", " + g.Compressed
	}
	return form
}

func decimalWord(mark string) string {
	if mark == "," {
		return "comma"
	}
	return "point"
}

// rowsText says what became of every line of a file.
func rowsText(r *series.Rows) string {
	rows := fmt.Sprintf("%d lines: %d samples", r.Total, r.Samples)
	if r.Problems > 0 {
		rows += fmt.Sprintf(", %d not readable", r.Problems)
	}
	if s := countsText(r.Skipped); s != "" {
		rows += ", skipped: " + s
	}
	return rows
}

func unitText(c *series.Channel) string {
	u := c.Unit.String()
	if u == "" {
		u = "°C"
	}
	if c.UnitSource != series.NoSource {
		u += " by " + c.UnitSource.String()
	}
	return u
}

func intervalText(s float64) string {
	return strconv.FormatFloat(math.Round(s*1000)/1000, 'f', -1, 64) + " s"
}

// countsText lists counts by name in a fixed order.
func countsText(m map[string]int) string {
	var names []string
	for k, n := range m {
		if n > 0 {
			names = append(names, k)
		}
	}
	sort.Strings(names)
	for i, k := range names {
		names[i] = fmt.Sprintf("%d %s", m[k], Plain(k))
	}
	return strings.Join(names, ", ")
}

// shownProblems is how many problems of a log are listed in words; all are counted.
const shownProblems = 10

func problemLines(l *series.Log) []string {
	var out []string
	for i, p := range l.Problems {
		if i == shownProblems {
			break
		}
		out = append(out, problemText(p))
	}
	if rest := l.ProblemCount - len(out); rest > 0 {
		out = append(out, fmt.Sprintf("and %d more", rest))
	}
	return out
}

func problemText(p series.Problem) string {
	var at string
	if p.Line > 0 {
		at = fmt.Sprintf("line %d", p.Line)
		if p.Column > 0 {
			at += fmt.Sprintf(", column %d", p.Column)
		}
		at += ": "
	}
	text := at + Plain(p.Message)
	if p.Raw != "" {
		text += fmt.Sprintf(" (found %q)", Plain(p.Raw))
	}
	return text
}
