package chart

import (
	"fmt"
	"image/color"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"

	"ringheat/analyze/judge"
	"ringheat/analyze/series"
)

func (b box) overlaps(c box, by vg.Length) bool {
	return b.x0+by < c.x1 && c.x0+by < b.x1 && b.y0+by < c.y1 && c.y0+by < b.y1
}

func (b box) within(c box, slack vg.Length) bool {
	return b.x0 >= c.x0-slack && b.y0 >= c.y0-slack && b.x1 <= c.x1+slack && b.y1 <= c.y1+slack
}

// crosses says whether a straight line passes through a box (Liang and Barsky's clipping).
func (l setLine) crosses(b box) bool {
	t0, t1 := 0.0, 1.0
	dx, dy := float64(l.b.X-l.a.X), float64(l.b.Y-l.a.Y)
	for _, e := range [...][2]float64{
		{-dx, float64(l.a.X - b.x0)}, {dx, float64(b.x1 - l.a.X)},
		{-dy, float64(l.a.Y - b.y0)}, {dy, float64(b.y1 - l.a.Y)},
	} {
		if e[0] == 0 {
			if e[1] <= 0 {
				return false
			}
			continue
		}
		r := e[1] / e[0]
		if e[0] < 0 {
			t0 = max(t0, r)
		} else {
			t1 = min(t1, r)
		}
	}
	return t0 < t1
}

type failer interface {
	Helper()
	Errorf(string, ...any)
}

// checkSheet asserts what must hold of every picture: all within the sheet, no text on another text, no
// line through a text, nothing too small to read, and readings inside their panels.
func checkSheet(t failer, r *recorder, s *sheet, panels []*panel) {
	t.Helper()
	page := box{0, 0, s.w, s.h}
	for i, a := range r.texts {
		if strings.TrimSpace(a.text) == "" {
			t.Errorf("an empty text was set")
		}
		if !a.box.within(page, -3) {
			t.Errorf("text %q at %v leaves the sheet %v", a.text, a.box, page)
		}
		if a.size < 9 {
			t.Errorf("text %q is set in %v points", a.text, a.size)
		}
		for _, b := range r.texts[:i] {
			if a.box.overlaps(b.box, 0.1) {
				t.Errorf("texts overlap: %q %v and %q %v", a.text, a.box, b.text, b.box)
			}
		}
		for _, l := range r.lines {
			if a.text == wordNothing {
				break // stands on the empty panel's grid
			}
			if l.crosses(a.box) {
				t.Errorf("a line from %v to %v crosses text %q %v", l.a, l.b, a.text, a.box)
			}
		}
		for k, p := range panels {
			if a.box.overlaps(p.box, 0.1) && a.text != wordNothing {
				t.Errorf("text %q stands in panel %d", a.text, k)
			}
		}
	}
	for _, l := range r.lines {
		if !bounds(l.a, l.b).within(page, 0) {
			t.Errorf("a line from %v to %v leaves the sheet", l.a, l.b)
		}
		if l.width < 0.5 {
			t.Errorf("a line from %v to %v is %v points wide", l.a, l.b, l.width)
		}
		if !isDataColour(l.colour) || min(l.a.Y, l.b.Y) > panels[0].y1 {
			continue // an axis, or the legend
		}
		inside := false
		for _, p := range panels {
			inside = inside || bounds(l.a, l.b).within(p.box, 0.01)
		}
		if !inside {
			t.Errorf("a reading's line from %v to %v leaves the panels", l.a, l.b)
		}
	}
	for _, f := range r.filled {
		if !f.within(page, 0) {
			t.Errorf("a filled area %v leaves the sheet", f)
		}
	}
	for k, p := range panels {
		figures := 0
		for _, x := range r.texts {
			if x.box.x1 < p.x0 && x.box.y0 > p.y0-6 && x.box.y1 < p.y1+6 && strings.Trim(x.text, "−0123456789.") == "" {
				figures++
			}
		}
		if figures < 2 {
			t.Errorf("panel %d has %d figures on its upright axis", k, figures)
		}
		if p.height() < 40 || p.width() < 300 {
			t.Errorf("panel %d has only %v x %v points", k, p.width(), p.height())
		}
	}
}

func isDataColour(c color.Color) bool {
	switch c {
	case blue, orange, sky, purple, vermillion, green:
		return true
	}
	return false
}

// record lays a cycle out on a recorder.
func record(t *typesetter, c *CycleChart, size Size) (*recorder, *sheet, []*panel) {
	r := newRecorder(t)
	s := newSheet(r, size, t, &scratch{})
	panels := drawCycle(s, c)
	return r, s, panels
}

func loaded(t testing.TB) *typesetter {
	var ts typesetter
	if err := ts.load(); err != nil {
		t.Fatal(err)
	}
	return &ts
}

func TestScenariosHaveRoomForEverything(t *testing.T) {
	ts := loaded(t)
	for _, sc := range scenarios() {
		t.Run(sc.name, func(t *testing.T) {
			for _, size := range []Size{{1200, 800}, {1200, 720}, {800, 1600}, {400, 300}} {
				r, s, panels := record(ts, &sc.chart, size)
				checkSheet(t, r, s, panels)
			}
		})
	}
}

func recordNeed(t *typesetter, c *NeedChart, size Size) (*recorder, *sheet, []*panel) {
	r := newRecorder(t)
	s := newSheet(r, size, t, &scratch{})
	panels := drawNeed(s, c)
	return r, s, panels
}

func TestNeedsHaveRoomForEverything(t *testing.T) {
	ts := loaded(t)
	for _, sc := range needScenarios() {
		t.Run(sc.name, func(t *testing.T) {
			for _, size := range []Size{{1200, 800}, {1200, 720}, {800, 1600}} {
				r, s, panels := recordNeed(ts, &sc.chart, size)
				checkSheet(t, r, s, panels)
			}
		})
	}
}

func TestAnyNeedHasRoomForEverything(t *testing.T) {
	ts := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		c := NeedChart{
			Title:       rapid.SliceOfN(anyText(12), 0, 4).Draw(t, "title"),
			Verdict:     rapid.SampledFrom([]judge.Verdict{judge.NotAsked, judge.Pass, judge.Fail}).Draw(t, "badge"),
			Answer:      anyText(8).Draw(t, "answer"),
			Scope:       anyText(6).Draw(t, "scope"),
			Reasons:     rapid.SliceOfN(anyText(30), 0, 4).Draw(t, "reasons"),
			AcrossLabel: anyText(5).Draw(t, "across"),
			Footer:      rapid.SliceOfN(anyText(40), 0, 4).Draw(t, "footer"),
		}
		from := rapid.Float64Range(-60, 40).Draw(t, "from")
		step := rapid.Float64Range(0, 10).Draw(t, "step")
		n := rapid.IntRange(0, 15).Draw(t, "n")
		for range rapid.IntRange(0, 20).Draw(t, "lines") {
			rise := rapid.Float64Range(0, 500).Draw(t, "rise")
			l := NeedLine{Label: anyText(4).Draw(t, "label"), Main: rapid.Bool().Draw(t, "main"), BandK: rapid.OneOf(rapid.Float64Range(0, 30), absurd).Draw(t, "band")}
			for i := range n {
				l.ShaftC = append(l.ShaftC, from+step*float64(i))
				l.NeededC = append(l.NeededC, rapid.OneOf(rapid.Just(from+step*float64(i)+rise), rapid.Just(math.NaN())).Draw(t, "needed"))
			}
			c.Lines = append(c.Lines, l)
		}
		for range rapid.IntRange(0, 4).Draw(t, "levels") {
			c.Levels = append(c.Levels, Level{LevelKind(rapid.IntRange(0, 3).Draw(t, "kind")), rapid.OneOf(rapid.Float64Range(-50, 900), absurd).Draw(t, "c"), anyText(6).Draw(t, "level")})
		}
		if rapid.Bool().Draw(t, "point") {
			c.Point = &NeedPoint{rapid.Float64Range(-80, 100).Draw(t, "x"), rapid.Float64Range(-80, 500).Draw(t, "y"), anyText(10).Draw(t, "point label")}
		}
		r, s, panels := recordNeed(ts, &c, Size{1200, rapid.IntRange(720, 2400).Draw(t, "height")})
		checkSheet(t, r, s, panels)
	})
}

// The words that a reader must find are there in full on an ordinary sheet.
func TestCycleShowsItsWords(t *testing.T) {
	ts := loaded(t)
	for _, sc := range scenarios() {
		if sc.name == "long-texts" || sc.name == "empty" {
			continue
		}
		r, _, _ := record(ts, &sc.chart, Size{1200, 800})
		all := ""
		for _, x := range r.texts {
			all += x.text + " "
		}
		want := []string{verdictWord(sc.chart.Verdict)}
		want = append(want, sc.chart.Title...)
		want = append(want, sc.chart.Reasons...)
		want = append(want, sc.chart.Footer...)
		for _, l := range sc.chart.Levels {
			want = append(want, l.Label)
		}
		for _, m := range sc.chart.Moments {
			want = append(want, m.Label)
		}
		for _, f := range sc.chart.Curves {
			want = append(want, f.Text)
		}
		for _, tr := range sc.chart.Traces {
			want = append(want, tr.Name)
		}
		if d := sc.chart.Diff; d != nil {
			want = append(want, d.Label, d.LimitLabel)
		}
		for _, w := range want {
			if !strings.Contains(all, w) {
				t.Errorf("%s: %q is not on the sheet", sc.name, w)
			}
		}
	}
}

// anyText draws words that a logger's heading or a report may hold.
func anyText(most int) *rapid.Generator[string] {
	word := rapid.OneOf(
		rapid.StringMatching(`[a-zA-Z]{1,12}`),
		rapid.StringMatching(`[α-ωΑ-Ω]{1,12}`),
		rapid.StringMatching(`[а-яА-Я]{1,16}`),
		rapid.StringMatching(`[一-龥]{1,20}`),
		rapid.StringMatching(`[א-ת]{1,8}`),
		rapid.StringMatching(`[0-9]{1,6}[.,][0-9]{1,3} (°C|K|µm|Ω)`),
		rapid.StringMatching(`[WM@_/\\]{1,90}`),
		rapid.String(),
		rapid.SampledFrom([]string{"", " ", "\n", "\t\t", "\x00\x1b[2J", "\u202e", "e\u0301", "🔥", "\xff\xfe", "…", "ﷺ", "\u200b"}),
	)
	return rapid.Map(rapid.SliceOfN(word, 0, most), func(w []string) string { return strings.Join(w, " ") })
}

// absurd values get through to the pictures when something before them is wrong; the pictures still hold together.
var absurd = rapid.SampledFrom([]float64{1e5, 1e9, -1e300, 1e308, math.Inf(1), math.Inf(-1), math.NaN()})

func anyCycle(t *rapid.T) CycleChart {
	c := CycleChart{
		Title:     rapid.SliceOfN(anyText(12), 0, 4).Draw(t, "title"),
		Verdict:   rapid.SampledFrom([]judge.Verdict{judge.Unproven, judge.Pass, judge.Fail, judge.NotAsked}).Draw(t, "verdict"),
		Scope:     anyText(6).Draw(t, "scope"),
		Reasons:   rapid.SliceOfN(anyText(30), 0, 4).Draw(t, "reasons"),
		TimeLabel: anyText(5).Draw(t, "time label"),
		DiffNote:  anyText(20).Draw(t, "note"),
		Footer:    rapid.SliceOfN(anyText(40), 0, 4).Draw(t, "footer"),
	}
	span := math.Exp(rapid.Float64Range(math.Log(30), math.Log(36000)).Draw(t, "log span"))
	begin := rapid.SampledFrom([]float64{0, 0, 0, 1234.5, 3e7, -1e6, 1e300}).Draw(t, "begin")
	low := rapid.Float64Range(-20, 395).Draw(t, "low")
	high := rapid.Float64Range(low, 400).Draw(t, "high")
	n := rapid.IntRange(0, 90).Draw(t, "samples")
	temp := rapid.Float64Range(low, high)
	for k := range rapid.IntRange(0, 4).Draw(t, "traces") {
		tr := Trace{Name: anyText(8).Draw(t, "name"), Role: series.Role(rapid.IntRange(0, int(series.SetPoint)).Draw(t, "role"))}
		for i := range n {
			tr.TimeS = append(tr.TimeS, begin+span*float64(i)/float64(n))
			v := low + (high-low)*float64(i)/float64(n)
			switch rapid.IntRange(0, 9).Draw(t, "kind") {
			case 0:
				v = math.NaN()
			case 1:
				v = rapid.SampledFrom([]float64{1e308, -1e308, math.Inf(1), 850, -200, 3276.7}).Draw(t, "rubbish")
				tr.Spikes = append(tr.Spikes, int32(i))
			case 2:
				v = temp.Draw(t, "c")
			case 3:
				if i%7 == 0 { // rubbish that nothing has marked
					v = rapid.SampledFrom([]float64{-1e308, 850, 32767, -9999, 999999, math.Inf(-1)}).Draw(t, "unmarked")
				}
			}
			tr.C = append(tr.C, v)
		}
		c.Traces = append(c.Traces, tr)
		if rapid.Bool().Draw(t, "curve") {
			c.Curves = append(c.Curves, Curve{Role: tr.Role, FromS: begin + span/10, ToS: rapid.OneOf(rapid.Float64Range(begin, begin+span), absurd).Draw(t, "to"),
				T0S: begin, StartC: temp.Draw(t, "start"), RateKPerS: rapid.Float64Range(-1, 3).Draw(t, "rate"),
				DecayPerS: rapid.Float64Range(-1e-3, 1e-2).Draw(t, "k"), Text: anyText(15).Draw(t, "formula")})
		}
		_ = k
	}
	level := rapid.OneOf(rapid.Float64Range(-20, 400), rapid.Float64Range(110, 110.2), rapid.Just(120.0), absurd)
	for range rapid.IntRange(0, 9).Draw(t, "levels") {
		c.Levels = append(c.Levels, Level{Kind: LevelKind(rapid.IntRange(0, 3).Draw(t, "level kind")), C: level.Draw(t, "level"),
			Label: anyText(8).Draw(t, "level label")})
	}
	for range rapid.IntRange(0, 12).Draw(t, "moments") {
		c.Moments = append(c.Moments, Moment{rapid.OneOf(rapid.Map(rapid.Float64Range(-0.1, 1.1), func(p float64) float64 { return begin + p*span }), absurd).Draw(t, "at"), anyText(4).Draw(t, "moment")})
	}
	if rapid.Bool().Draw(t, "diff") {
		d := &Diff{Label: anyText(6).Draw(t, "diff label"), LimitK: rapid.SampledFrom([]float64{0, 0.1, 9, 20, 1000, -5, 1e300, math.Inf(1), math.NaN()}).Draw(t, "limit"),
			LimitLabel: anyText(6).Draw(t, "limit label")}
		for i := range n {
			d.TimeS = append(d.TimeS, begin+span*float64(i)/float64(n))
			d.K = append(d.K, rapid.OneOf(rapid.Float64Range(-50, 50), rapid.Just(math.NaN())).Draw(t, "k"))
		}
		c.Diff = d
	}
	return c
}

func TestAnyCycleHasRoomForEverything(t *testing.T) {
	ts := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		c := anyCycle(t)
		size := Size{1200, rapid.IntRange(720, 2400).Draw(t, "height")}
		r, s, panels := record(ts, &c, size)
		checkSheet(t, r, s, panels)
	})
}

func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(t, "n")
		lo, hi, gap := vg.Length(10), vg.Length(500), vg.Length(3)
		var want, size []vg.Length
		total := -gap
		for range n {
			want = append(want, vg.Length(rapid.Float64Range(-50, 600).Draw(t, "want")))
			size = append(size, vg.Length(rapid.Float64Range(0, 80).Draw(t, "size")))
			total += size[len(size)-1] + gap
		}
		at, ok := spread(want, size, lo, hi, gap)
		if ok != (total <= hi-lo) {
			t.Fatalf("fits: %v, but total %v of %v", ok, total, hi-lo)
		}
		if !ok {
			return
		}
		for i := range at {
			if at[i]-size[i]/2 < lo-1e-9 || at[i]+size[i]/2 > hi+1e-9 {
				t.Errorf("label %d leaves the stretch: %v", i, at[i])
			}
			for j := range at {
				if i != j && math.Abs(float64(at[i]-at[j])) < float64((size[i]+size[j])/2+gap)-1e-6 {
					t.Errorf("labels %d and %d are too close: %v %v", i, j, at[i], at[j])
				}
				if want[i]-size[i]/2 < want[j]-size[j]/2 && want[i] < want[j] && at[i] > at[j] {
					t.Errorf("labels %d and %d changed places", i, j)
				}
			}
		}
		if n == 1 && want[0] > 60 && want[0] < 450 && math.Abs(float64(at[0]-want[0])) > 1e-9 {
			t.Errorf("a label with room was moved: %v to %v", want[0], at[0])
		}
	})
}

func TestWrapKeepsEveryWordOrSaysSo(t *testing.T) {
	ts := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		text := anyText(25).Draw(t, "text")
		room := vg.Length(rapid.Float64Range(30, 500).Draw(t, "room"))
		most := rapid.IntRange(1, 8).Draw(t, "most")
		lines := ts.wrap(text, regular, sizeText, room, most)
		if len(lines) > most {
			t.Fatalf("%d lines, want at most %d", len(lines), most)
		}
		for _, l := range lines {
			if w := ts.width(l, regular, sizeText); w > room+1e-6 {
				t.Errorf("line %q is %v wide, room %v", l, w, room)
			}
		}
		squeeze := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		got, want := squeeze(strings.Join(lines, "")), squeeze(ts.clean(text, regular))
		if got != want && !strings.HasSuffix(got, "…") {
			t.Errorf("words were lost without a sign: %q of %q", got, want)
		}
	})
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi, step float64
		want         string
	}{
		{-0.3, 1.2, 0.5, "[0.0 0.5 1.0]"},
		{-21, 21, 10, "[−20 −10 0 10 20]"},
		{0, 10, 2.5, "[0.0 2.5 5.0 7.5 10.0]"},
		{99.7, 100.3, 0.25, "[99.75 100.00 100.25]"},
	} {
		var got []string
		for _, k := range ticks(c.lo, c.hi, c.step) {
			got = append(got, k.label)
		}
		if s := fmt.Sprint(got); s != c.want {
			t.Errorf("ticks(%v, %v, %v) = %s, want %s", c.lo, c.hi, c.step, s, c.want)
		}
	}
}

// Every length of log gets between 3 and 21 labelled places on its time axis, in a unit that keeps
// the figures short.
func TestTimeTicksAtAnyLength(t *testing.T) {
	sh := newSheet(nil, Size{1200, 800}, loaded(t), &scratch{})
	for span := 1.0; span < 4e6; span *= 1.07 {
		for _, from := range []float64{0, 17.3, 86000} {
			marks, unit := sh.timeTicks(scale{from, from + span, 0, 440})
			if len(marks) < 3 || len(marks) > 21 {
				t.Errorf("span %v s from %v: %d ticks in %s", span, from, len(marks), unit.symbol)
			}
			for i, m := range marks {
				if i > 0 && m.label == marks[i-1].label {
					t.Errorf("span %v s: two ticks labelled %s", span, m.label)
				}
			}
		}
	}
}
