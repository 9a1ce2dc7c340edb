package report

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"ringheat/analyze"
	"ringheat/analyze/ingest"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// LookSchema names the form of look's JSON object.
const LookSchema = "ringheat.look/1"

type jsonLook struct {
	Schema    string            `json:"schema"`
	Log       string            `json:"log"`
	SHA256    *string           `json:"sha256"`
	Error     *string           `json:"error"`
	Reading   *jsonReading      `json:"reading"`
	Time      *jsonLookTime     `json:"time"`
	Channels  []jsonLookChannel `json:"channels"`
	Ignored   []jsonIgnored     `json:"ignored"`
	Rows      *jsonRows         `json:"rows"`
	Cells     jsonCells         `json:"cells"`
	Problems  []jsonProblem     `json:"problems"`
	Count     int               `json:"problem_count"`
	Guesses   []jsonGuess       `json:"guesses"`
	Preamble  []jsonPreamble    `json:"preamble"`
	Questions []string          `json:"questions"`
	Flags     []string          `json:"flags"`
}

type jsonLookTime struct {
	Kind      string   `json:"kind"`
	Format    string   `json:"format"`
	Columns   []int    `json:"columns"`
	Start     *string  `json:"start"`
	Zone      *string  `json:"zone"`
	DurationS float64  `json:"duration_s"`
	IntervalS *float64 `json:"interval_s"`
	SpreadS   float64  `json:"interval_spread_s"`
	Gaps      int      `json:"gaps"`
	Repeats   int      `json:"repeats"`
	StepsBack int      `json:"steps_back"`
}

type jsonLookChannel struct {
	Name       string         `json:"name"`
	Column     int            `json:"column"`
	Role       *string        `json:"role"`
	RoleSource *string        `json:"role_source"`
	Unit       *string        `json:"unit"`
	UnitSource *string        `json:"unit_source"`
	Valid      int            `json:"valid"`
	Missing    map[string]int `json:"missing"`
	StepK      *float64       `json:"display_step_k"`
	MinC       *float64       `json:"min_c"`
	MaxC       *float64       `json:"max_c"`
	FirstC     *float64       `json:"first_c"`
	LastC      *float64       `json:"last_c"`
}

type jsonCells struct {
	Bad int `json:"bad"`
}

type jsonGuess struct {
	Stage    string `json:"stage"`
	Choice   string `json:"choice"`
	Evidence string `json:"evidence"`
	RunnerUp string `json:"runner_up"`
	Flag     string `json:"flag"`
	By       string `json:"by"`
}

type jsonPreamble struct {
	Line  int    `json:"line"`
	Key   string `json:"key"`
	Value string `json:"value"`
}

// WriteLookJSON writes how a log is read as one JSON object in the form LookSchema.
func WriteLookJSON(w io.Writer, s *analyze.Survey) error {
	out := jsonLook{
		Schema: LookSchema, Log: s.Name, Channels: []jsonLookChannel{}, Ignored: []jsonIgnored{}, Problems: []jsonProblem{},
		Guesses: []jsonGuess{}, Preamble: []jsonPreamble{}, Questions: []string{}, Flags: []string{},
	}
	if s.Err != nil {
		out.Error = textOrNull(s.Err.Error())
	}
	if s.Log != nil {
		out.addSurvey(s)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

func (out *jsonLook) addSurvey(s *analyze.Survey) {
	l, g := s.Log, &s.Reading
	out.SHA256 = textOrNull(l.SHA256)
	out.Reading = readingJSON(l, g)
	out.Rows = &out.Reading.Rows
	out.Ignored, out.Questions, out.Flags = out.Reading.Ignored, out.Reading.Questions, out.Reading.Flags
	out.Cells.Bad = g.BadCells
	t := &jsonLookTime{
		Kind: g.ClockKind, Format: g.ClockFormat, Columns: full(g.ClockColumns), Zone: textOrNull(g.Zone),
		DurationS: surveyDurationS(s), SpreadS: l.Clock.SpreadS,
	}
	if l.Clock.IntervalS > 0 {
		t.IntervalS = &l.Clock.IntervalS
	}
	if !l.Clock.Start.IsZero() {
		t.Start = startText(l)
	}
	t.Gaps, t.Repeats, t.StepsBack = clockCounts(&l.Clock)
	out.Time = t
	for i := range l.Channels {
		c := &l.Channels[i]
		j := jsonLookChannel{
			Name: c.Name, Column: c.Column, Role: textOrNull(c.Role.String()), RoleSource: textOrNull(c.RoleSource.String()),
			Unit: textOrNull(c.Unit.Letter()), UnitSource: textOrNull(c.UnitSource.String()), Valid: c.Valid, Missing: counts(c.MissingKind),
		}
		if c.StepK > 0 {
			step := float64(c.StepK)
			j.StepK = &step
		}
		if v := &s.Spans[i]; v.Valid > 0 {
			j.MinC, j.MaxC, j.FirstC, j.LastC = &v.MinC, &v.MaxC, &v.FirstC, &v.LastC
		}
		out.Channels = append(out.Channels, j)
	}
	for _, p := range l.Problems {
		out.Problems = append(out.Problems, jsonProblem{lineOrNull(p.Line), lineOrNull(p.Column), p.Raw, string(p.Kind), p.Message})
	}
	out.Count = l.ProblemCount
	for _, q := range g.Guesses {
		out.Guesses = append(out.Guesses, jsonGuess{q.Stage, q.Choice, q.Evidence, q.RunnerUp, q.Flag, q.By.String()})
	}
	for _, k := range g.Preamble {
		out.Preamble = append(out.Preamble, jsonPreamble(k))
	}
}

func clockCounts(c *series.Clock) (gaps, repeats, back int) {
	for _, e := range c.Events {
		switch e.Kind {
		case series.Gap:
			gaps++
		case series.Repeat:
			repeats++
		case series.StepBack:
			back++
		}
	}
	return gaps, repeats, back
}

// WriteLook writes how a log is read, for people.
func WriteLook(w io.Writer, s *analyze.Survey, o TextOptions) error {
	t := newTextWriter(w, o)
	t.wrapped("log        ", Plain(s.Name))
	if s.Err != nil {
		message, hint := errorText(s.Err)
		t.wrapped("not read   ", message)
		if hint != "" {
			t.wrapped("hint       ", hint)
		}
		return t.w.Flush()
	}
	l, g := s.Log, &s.Reading
	t.wrapped("file       ", formText(g)+headerText(g))
	t.wrapped("clock      ", clockText(s))
	for _, e := range shown(l.Clock.Events, 5) {
		t.wrapped("           ", fmt.Sprintf("line %d: %s", e.Line, Plain(e.Message)))
	}
	if more := len(l.Clock.Events) - 5; more > 0 {
		t.wrapped("           ", fmt.Sprintf("and %d more", more))
	}
	t.wrapped("rows       ", rowsText(&l.Rows))
	t.w.WriteByte('\n')
	writeChannels(t, s)
	for _, c := range g.Ignored {
		t.wrapped("left out   ", fmt.Sprintf("column %d %s: %s", c.Column, Plain(c.Name), Plain(c.Reason)))
	}
	t.list("problem  ", problemLines(l))
	t.w.WriteByte('\n')
	for i, q := range g.Guesses {
		head := "           "
		if i == 0 {
			head = "evidence   "
		}
		text := Plain(q.Choice) + ": " + Plain(q.Evidence)
		if q.RunnerUp != "" {
			text += "; second: " + Plain(q.RunnerUp)
		}
		t.wrapped(head+fmt.Sprintf("%-10s ", q.Stage), text)
	}
	t.list("to settle", plainAll(g.Questions))
	t.wrapped("flags      ", Plain(strings.Join(g.Flags, " ")))
	t.w.WriteByte('\n')
	writePreview(t.w, s)
	t.w.WriteByte('\n')
	writeCourse(t.w, s, t.width)
	return t.w.Flush()
}

func plainAll(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = Plain(s)
	}
	return out
}

func shown[T any](list []T, n int) []T { return list[:min(n, len(list))] }

func headerText(g *ingest.Reading) string {
	if len(g.HeaderLines) == 0 {
		return fmt.Sprintf(", no header, readings from line %d", g.FirstDataLine)
	}
	return fmt.Sprintf(", header in line %s, readings from line %d, layout %s", numbers(g.HeaderLines), g.FirstDataLine, g.Layout)
}

func numbers(list []int) string {
	parts := make([]string, len(list))
	for i, n := range list {
		parts[i] = fmt.Sprint(n)
	}
	return listed(parts)
}

func clockText(s *analyze.Survey) string {
	l, g := s.Log, &s.Reading
	text := fmt.Sprintf("%s (%s)", g.ClockKind, Plain(g.ClockFormat))
	if len(g.ClockColumns) > 0 {
		text += " in column " + numbers(g.ClockColumns)
	}
	if !l.Clock.Start.IsZero() {
		text += ", from " + l.Clock.Start.Format("2006-01-02 15:04:05")
		if g.Zone != "" {
			text += " " + Plain(g.Zone)
		} else {
			text += " in a zone that the log does not name"
		}
	}
	if l.Clock.IntervalS > 0 {
		text += fmt.Sprintf(", every %s (steps differ by up to %s) for %s", intervalText(l.Clock.IntervalS), intervalText(l.Clock.SpreadS), Duration(surveyDurationS(s)))
	}
	gaps, repeats, back := clockCounts(&l.Clock)
	return text + fmt.Sprintf("; %s, %s, %s", plural(gaps, "gap"), plural(repeats, "repeat"), plural(back, "step")+" back")
}

func surveyDurationS(s *analyze.Survey) float64 {
	if s.Log.Len() > 0 {
		return s.Log.DurationS()
	}
	d := 0.0
	for _, c := range s.Course.Cells {
		d = math.Max(d, c.ToS)
	}
	return d
}

func writeChannels(t *textWriter, s *analyze.Survey) {
	fmt.Fprintf(t.w, "%-10s %-24s %6s %-14s %9s %9s %9s %9s %9s\n", "role", "channel", "column", "unit", "readings", "lowest", "highest", "first", "last")
	for i := range s.Log.Channels {
		c, v := &s.Log.Channels[i], &s.Spans[i]
		role := c.Role.String()
		if role == "" {
			role = "-"
		}
		name := []rune(Plain(c.Name))
		if len(name) > 24 {
			name = append(name[:23], '…')
		}
		fmt.Fprintf(t.w, "%-10s %-24s %6d %-14s %9d", role, string(name), c.Column, unitText(c), v.Valid)
		if v.Valid > 0 {
			for _, x := range []float64{v.MinC, v.MaxC, v.FirstC, v.LastC} {
				fmt.Fprintf(t.w, " %9s", quantity.FormatDecimals(x, 2))
			}
		}
		t.w.WriteByte('\n')
		if m := countsText(c.MissingKind); m != "" {
			t.wrapped("           ", "no reading: "+m)
		}
	}
}

func writePreview(w *bufio.Writer, s *analyze.Survey) {
	fmt.Fprintf(w, "%8s %12s", "line", "time s")
	for i := range s.Log.Channels {
		fmt.Fprintf(w, " %12s", shortName(s.Log.Channels[i].Name, 12))
	}
	w.WriteString("   (°C)\n")
	for _, row := range s.Preview {
		fmt.Fprintf(w, "%8d %12s", row.Line, quantity.FormatDecimals(row.TimeS, 3))
		for _, v := range row.C {
			text := "no reading"
			if !series.IsMissing(v) {
				text = quantity.FormatDecimals(v, 2)
			}
			fmt.Fprintf(w, " %12s", text)
		}
		w.WriteByte('\n')
	}
}

func shortName(name string, n int) string {
	r := []rune(Plain(name))
	if len(r) > n {
		r = append(r[:n-1], '…')
	}
	return string(r)
}

// courseRows is the height of the plot in the terminal.
const courseRows = 14

// writeCourse draws all channels over time with one letter each; where two stand in the same place the
// first of them is shown.
func writeCourse(w *bufio.Writer, s *analyze.Survey, width int) {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range s.Spans {
		if s.Spans[i].Valid > 0 {
			low, high = math.Min(low, s.Spans[i].MinC), math.Max(high, s.Spans[i].MaxC)
		}
	}
	cells := s.Course.Cells
	if len(cells) == 0 || low > high {
		w.WriteString("no readings to draw\n")
		return
	}
	if high-low < 1 {
		high, low = high+0.5, low-0.5
	}
	endS := surveyDurationS(s)
	columns := max(20, min(width-12, 100))
	grid := make([][]rune, courseRows)
	for i := range grid {
		grid[i] = []rune(strings.Repeat(" ", columns))
	}
	place := func(c float64) int {
		return min(courseRows-1, int((high-c)/(high-low)*courseRows))
	}
	for ch := len(s.Log.Channels) - 1; ch >= 0; ch-- {
		for _, cell := range cells {
			if series.IsMissing(cell.Low[ch]) {
				continue
			}
			x := 0
			if endS > 0 {
				x = min(columns-1, max(0, int(cell.FromS/endS*float64(columns))))
			}
			for y := place(cell.High[ch]); y <= place(cell.Low[ch]); y++ {
				grid[y][x] = courseLetter(&s.Log.Channels[ch], ch)
			}
		}
	}
	for y, line := range grid {
		fmt.Fprintf(w, "%8s | %s\n", quantity.FormatDecimals(high-(high-low)*(float64(y)+0.5)/courseRows, 1), strings.TrimRight(string(line), " "))
	}
	fmt.Fprintf(w, "%8s +%s\n%11s%s\n", "°C", strings.Repeat("-", columns), "", "0 s"+strings.Repeat(" ", max(1, columns-3-len([]rune(Seconds(endS)))))+Seconds(endS))
	for ch := range s.Log.Channels {
		c := &s.Log.Channels[ch]
		fmt.Fprintf(w, "%11s%c  %s %s\n", "", courseLetter(c, ch), c.Role, Plain(c.Name))
	}
}

// courseLetter is the letter a channel is drawn with: its role's, or a number.
func courseLetter(c *series.Channel, i int) rune {
	switch c.Role {
	case series.Inner:
		return 'i'
	case series.Outer:
		return 'o'
	case series.Ambient:
		return 'a'
	case series.Shaft:
		return 's'
	case series.SetPoint:
		return 'p'
	}
	return rune('1' + i%9)
}
