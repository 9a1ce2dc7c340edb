package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"ringheat/analyze"
	"ringheat/analyze/joint"
	"ringheat/analyze/quantity"
)

// NeedDocument is the answer to what a seat needs, in words. Text and picture are written from it, so that they can't disagree.
type NeedDocument struct {
	Possible bool
	Word     string // POSSIBLE BY WARMING, NOT BY WARMING ALONE, NO WARMING NEEDED
	Title    string // the part
	Answer   string // the one sentence that matters

	Lines []Line
	Table NeedTable

	Clearance []Line
	Notes     []string
}

// NeedTable is the needed temperature over shaft temperature and interference.
type NeedTable struct {
	Words   string
	Columns []string
	Rows    [][]string
	Foot    []string
}

// NewNeedDocument puts an answer into words.
func NewNeedDocument(a *analyze.NeedAnswer) NeedDocument {
	n := &a.Need
	d := NeedDocument{Possible: a.ByWarming(), Title: needTitle(a), Answer: sentenceText(n.Words)}
	switch {
	case n.Feasibility == joint.NoWarming:
		d.Word = "NO WARMING NEEDED"
	case d.Possible:
		d.Word = "POSSIBLE BY WARMING"
		if n.SetPointC != nil {
			d.Answer = fmt.Sprintf("set %s: %s", degrees(float64(*n.SetPointC)), d.Answer)
		}
	default:
		d.Word = "NOT BY WARMING ALONE"
	}
	d.Lines = needLines(a)
	d.Table = needTable(a)
	d.Clearance = clearanceLines(a.Clearance)
	for _, s := range a.Notes {
		// Ease and interference stand among the lines already.
		if !strings.HasPrefix(s, "ease of ") && !strings.HasPrefix(s, "interference ") {
			d.Notes = append(d.Notes, sentenceText(s))
		}
	}
	return d
}

func needTitle(a *analyze.NeedAnswer) string {
	class := ""
	if a.RingClass != "" {
		class = "class " + Plain(a.RingClass)
	}
	return joined(", ", labelled("part", a.Part), string(a.Kind), class, "bore "+figure(a.Seat.DiameterMM)+" mm",
		"shaft at "+degrees(float64(a.Seat.ShaftC)))
}

// figure writes a figure that was set, with no more digits than it has.
func figure(v float64) string {
	return strings.TrimRight(strings.TrimRight(quantity.FormatDecimals(v, 3), "0"), ".")
}

// up writes a needed temperature in tenths, rounded up; down a limit or margin, rounded down. What is a tenth already stays.
func up(v float64) string   { return quantity.FormatDecimals(math.Ceil(v*10-1e-6)/10, 1) }
func down(v float64) string { return quantity.FormatDecimals(math.Floor(v*10+1e-6)/10, 1) }

func needLines(a *analyze.NeedAnswer) []Line {
	n := &a.Need
	var lines []Line
	add := func(label, format string, args ...any) {
		lines = append(lines, Line{label, sentenceText(fmt.Sprintf(format, args...))})
	}
	i := &n.Interference
	size := figure(i.MaxUM) + " µm"
	if i.MinUM != i.MaxUM {
		size = figure(i.MinUM) + " to " + size
	}
	if i.StdUM > 0 {
		size += fmt.Sprintf(", standard uncertainty %s µm", quantity.FormatDecimals(i.StdUM, 1))
	}
	if i.Origin.Confidence == joint.Given {
		add("interference", "%s: %s", size, i.Basis)
	} else {
		add("interference", "%s: %s (%s)", size, i.Basis, sureness(i.Origin.Confidence))
	}
	if i.MaxUM < 0 {
		add("", "below nothing: the shaft has clearance in the bore")
	}
	add("ease", "%s µm: %s", figure(n.EaseUM), n.EaseBasis)
	expanded := joint.CoverageFactor * n.StdK
	add("needed", "%s °C for the largest interference, expanded uncertainty U = %s K (coverage factor %d)", up(float64(n.NeededC)), up(expanded), joint.CoverageFactor)
	for _, b := range n.Budget {
		add("", "u = %s K from %s: %s", quantity.FormatDecimals(b.StdK, 2), b.Input, b.Basis)
	}
	if i.MinUM != i.MaxUM {
		add("", "%s °C would do for the smallest interference, with the same ease", up(float64(n.WithSmallestC)))
	}
	add("limit", "%s: %s", degrees(a.LimitC), a.LimitWords)
	if n.MarginK != nil && n.Feasibility != joint.NoWarming {
		if *n.MarginK >= 0 {
			add("margin", "%s K from the needed temperature to the limit", down(float64(*n.MarginK)))
		} else {
			add("margin", "none: the needed temperature lies %s K above the limit", up(-float64(*n.MarginK)))
		}
	}
	add("probe", "±%s K: %s; U = %s K is kept from the limit, and combined with that of what is needed", figure(a.ProbeToleranceK), a.ProbeWords, up(a.GuardK))
	switch {
	case n.Feasibility == joint.NoWarming:
	case n.SetPointC != nil:
		add("set-point", "%s suggested; %s to %s °C are safely between need and limit", degrees(float64(*n.SetPointC)), up(float64(n.LowestC)), down(float64(*n.HighestC)))
	default:
		add("set-point", "none: it would have to be at least %s and at most %s °C, by the uncertainties", up(float64(n.LowestC)), down(float64(*n.HighestC)))
	}
	if n.CoolShaftC != nil {
		add("shaft", "cooled to %s or colder, the joint can be done within the limit", degrees(float64(*n.CoolShaftC)))
	}
	add("sureness", "the least sure figure used is: %s", sureness(n.Confidence))
	return lines
}

// sureness says in words how sure a figure is.
func sureness(c joint.Confidence) string {
	switch c {
	case joint.Given:
		return "as given"
	case joint.Verified:
		return "verified in two published copies"
	case joint.SingleSource:
		return "of one published source"
	case joint.Memory:
		return "from memory"
	}
	return c.String()
}

func needTable(a *analyze.NeedAnswer) NeedTable {
	t := NeedTable{
		Words:   fmt.Sprintf("needed bore temperature, °C, over the temperature of the shaft and the interference; ease %s µm throughout", figure(a.Need.EaseUM)),
		Columns: []string{"shaft °C"},
	}
	for j, um := range a.InterferenceUM {
		name := figure(um) + " µm"
		if j == a.Own {
			name += " *"
		}
		t.Columns = append(t.Columns, name)
	}
	t.Columns = append(t.Columns, "* above shaft, K")
	hot, cold := false, false
	for i, shaft := range a.ShaftC {
		row := []string{figure(shaft)}
		for j := range a.Table[i] {
			r := &a.Table[i][j]
			cell := up(float64(r.NeededC))
			switch r.Feasibility {
			case joint.NoWarming:
				cell, cold = "cold", true
			case joint.NotByWarming, joint.TooNarrow:
				cell, hot = cell+" !", true
			}
			row = append(row, cell)
		}
		rise := up(float64(a.Table[i][a.Own].RiseK))
		if a.Table[i][a.Own].Feasibility == joint.NoWarming {
			rise = ""
		}
		row = append(row, rise)
		t.Rows = append(t.Rows, row)
	}
	t.Foot = append(t.Foot, "* this joint, with its largest interference")
	if hot {
		t.Foot = append(t.Foot, fmt.Sprintf("! no set-point is safely between this and the limit of %s", degrees(a.LimitC)))
	}
	if cold {
		t.Foot = append(t.Foot, "cold: shaft and bore go together without warming")
	}
	first, own := &a.Table[0][a.Own], -1
	for i, c := range a.ShaftC {
		if c == float64(a.Seat.ShaftC) {
			own = i
		}
	}
	if own > 0 && first.Feasibility != joint.NoWarming {
		here, than := &a.Table[own][a.Own], "as here"
		if up(float64(here.RiseK)) != up(float64(first.RiseK)) {
			than = "here by " + up(float64(here.RiseK)) + " K"
		}
		t.Foot = append(t.Foot, fmt.Sprintf("in the cold: a shaft at %s is smaller and needs a bore of %s °C only; but a part as cold has to be warmed by %s K, %s, "+
			"and loses its heat faster on the way", degrees(a.ShaftC[0]), up(float64(first.NeededC)), up(float64(first.RiseK)), than))
	}
	return t
}

func clearanceLines(c *analyze.Clearance) []Line {
	if c == nil {
		return nil
	}
	var lines []Line
	add := func(label, format string, args ...any) {
		lines = append(lines, Line{label, sentenceText(fmt.Sprintf(format, args...))})
	}
	r := &c.Radial
	size := "at least " + figure(r.MinUM) + " µm"
	if r.MaxKnown {
		size = figure(r.MinUM) + " to " + figure(r.MaxUM) + " µm"
	}
	add("clearance", "%s: %s before mounting (%s, %s)", c.Words, size, r.Origin.Source, sureness(r.Origin.Confidence))
	if r.Note != "" {
		add("", "%s", r.Note)
	}
	add("used up", "%s", c.Evenness.Words)
	if c.Note != "" {
		add("", "%s", c.Note)
	}
	label := "left"
	for _, l := range c.Left {
		add(label, "inner ring %s K hotter: %s µm of the smallest (elements halfway: %s µm)", figure(l.DiffK), down(l.Left.CautiousUM), down(l.Left.MeanUM))
		label = ""
	}
	add("", "below 0 the rolling elements may be clamped while the part is warm")
	add("evenness", "%s", c.StricterWords)
	add("", "customary limit: %s", c.CustomaryWords)
	if after := c.After; after != nil {
		size := "at least " + down(after.MinUM) + " µm"
		if after.MaxKnown {
			size = down(after.MinUM) + " to " + down(after.MaxUM) + " µm"
		}
		add("mounted", "%s left on the shaft, cold and without load; %s", size, after.Words)
	}
	return lines
}

// WriteNeedText writes an answer for people.
func WriteNeedText(w io.Writer, d *NeedDocument, o TextOptions) error {
	t := newTextWriter(w, o)
	word := d.Word
	if o.Colour && !d.Possible {
		word = bold + word + plain
	}
	t.wrapped(word+"  ", d.Title)
	t.wrapped("  ", d.Answer)
	t.w.WriteByte('\n')
	t.labelled(d.Lines)
	t.w.WriteByte('\n')
	t.wrapped("  ", d.Table.Words)
	t.grid(d.Table.Columns, d.Table.Rows)
	for _, f := range d.Table.Foot {
		t.wrapped("  ", f)
	}
	if len(d.Clearance) > 0 {
		t.w.WriteByte('\n')
		t.labelled(d.Clearance)
	}
	t.w.WriteByte('\n')
	for _, n := range d.Notes {
		t.wrapped("  note          ", n)
	}
	t.w.WriteString("\ncautions:\n" + CautionText())
	return t.w.Flush()
}

func (t *textWriter) labelled(lines []Line) {
	for _, l := range lines {
		t.wrapped(fmt.Sprintf("  %-13s ", l.Label), l.Text)
	}
}

// grid writes a table with its columns aligned to the right.
func (t *textWriter) grid(columns []string, rows [][]string) {
	widths := make([]int, len(columns))
	for _, row := range append([][]string{columns}, rows...) {
		for i, c := range row {
			widths[i] = max(widths[i], len([]rune(strings.TrimSuffix(c, " !"))))
		}
	}
	for _, row := range append([][]string{columns}, rows...) {
		line := "  "
		for i, c := range row {
			bare, marked := strings.CutSuffix(c, " !")
			line += "  " + strings.Repeat(" ", widths[i]-len([]rune(bare))) + bare
			if marked {
				line += " !"
			} else {
				line += "  "
			}
		}
		t.w.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}
