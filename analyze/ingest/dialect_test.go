package ingest_test

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"sort"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"ringheat/analyze/ingest"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// ownDialects holds the small logs with one quirk each, and beside each log what a careful person reads from it.
const ownDialects = "../../testdata/dialect"

var dialectDir = flag.String("dialects", ownDialects, "folder of dialect cases")

// dialectCase is what stands in NNNN.json beside the log NNNN.*. Fields that a case leaves out are not compared, but for
// Questions: without them the reader may ask nothing. README.md in the same folder explains the form.
type dialectCase struct {
	Quirk     string         `json:"quirk"`
	Options   dialectOptions `json:"options"`
	Encoding  string         `json:"encoding"`
	Delimiter string         `json:"delimiter"`
	Decimal   string         `json:"decimal"`
	Unpack    string         `json:"unpack"`
	Time      *dialectTime   `json:"time"`
	Channels  []dialectProbe `json:"channels"`
	Ignored   []int          `json:"ignored"`
	LeftOut   []dialectLeft  `json:"left_out"`
	Rows      *dialectRows   `json:"rows"`
	BadCells  int            `json:"bad_cells"`
	Questions []string       `json:"questions"`
	Said      []string       `json:"said"` // words that must stand in some guess, question, problem, clock event or reason
	Error     *dialectError  `json:"error"`
}

type dialectOptions struct {
	IntervalS float64 `json:"interval_s"`
	DateOrder string  `json:"date_order"`
	Neighbour string  `json:"neighbour_order"` // date order of the other logs in the folder
	OneBody   bool    `json:"one_body"`
	Time      string  `json:"time"`
	Inner     string  `json:"inner"`
	Outer     string  `json:"outer"`
	Unit      string  `json:"unit"`
}

type dialectTime struct {
	Kind      string  `json:"kind"`
	Columns   []int   `json:"columns"`
	Start     *string `json:"start"` // RFC 3339, in UTC or the log's zone; null where the log names no date
	Zone      bool    `json:"zone"`  // the log names its zone
	DurationS float64 `json:"duration_s"`
	IntervalS float64 `json:"interval_s"`
	OffsetS   float64 `json:"offset_s"`
	Gaps      int     `json:"gaps"`
	Repeats   int     `json:"repeats"`
	StepsBack int     `json:"steps_back"`
	Doubt     bool    `json:"unit_doubtful"`
}

type dialectProbe struct {
	Name    string         `json:"name"`
	Column  int            `json:"column"`
	Role    string         `json:"role"`
	Guessed bool           `json:"guessed"` // the role rests on the order of the columns only
	Unit    string         `json:"unit"`
	Doubt   bool           `json:"unit_doubtful"`
	Mean    bool           `json:"averaged"`
	Lowest  bool           `json:"lowest"`
	Valid   int            `json:"valid"`
	Missing map[string]int `json:"missing"`
	MinC    float64        `json:"min_c"`
	MaxC    float64        `json:"max_c"`
	FirstC  float64        `json:"first_c"`
	LastC   float64        `json:"last_c"`
}

type dialectLeft struct {
	Column int     `json:"column"`
	MaxC   float64 `json:"max_c"`
	Why    string  `json:"why"` // words of the reason
}

type dialectRows struct {
	Total    int            `json:"total"`
	Samples  int            `json:"samples"`
	Problems int            `json:"problems"`
	Skipped  map[string]int `json:"skipped"`
}

type dialectError struct {
	Kind     string `json:"kind"`
	Contains string `json:"contains"`
}

// minDialectCases is how many cases there must be at least: an empty folder must not pass.
const minDialectCases = 150

func TestDialects(t *testing.T) {
	cases, err := filepath.Glob(filepath.Join(*dialectDir, "*", "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	if len(cases) == 0 || *dialectDir == ownDialects && len(cases) < minDialectCases {
		t.Errorf("%d cases in %s, want at least %d", len(cases), *dialectDir, minDialectCases)
	}
	sort.Strings(cases)
	for _, path := range cases {
		rel, _ := filepath.Rel(*dialectDir, path)
		t.Run(filepath.ToSlash(strings.TrimSuffix(rel, ".json")), func(t *testing.T) { runDialect(t, path) })
	}
}

// TestDialectListIsComplete holds the table in README.md: each case stands in it with its quirk.
func TestDialectListIsComplete(t *testing.T) {
	if *dialectDir != ownDialects {
		t.Skip("another folder of cases")
	}
	list, err := os.ReadFile(filepath.Join(*dialectDir, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	cases, _ := filepath.Glob(filepath.Join(*dialectDir, "*", "*.json"))
	for _, path := range cases {
		var c dialectCase
		loadCase(t, path, &c)
		rel, _ := filepath.Rel(*dialectDir, path)
		row := "| " + strings.TrimSuffix(filepath.ToSlash(rel), ".json") + " | " + c.Quirk + " |"
		if !strings.Contains(string(list), row) {
			t.Errorf("README.md has no row %q", row)
		}
	}
	if n := strings.Count(string(list), "\n| "); n != len(cases)+1 {
		t.Errorf("README.md has %d rows with the table's head, want %d", n, len(cases)+1)
	}
}

func loadCase(t *testing.T, path string, c *dialectCase) {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	if err := dec.Decode(c); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

func runDialect(t *testing.T, path string) {
	var c dialectCase
	loadCase(t, path, &c)
	logs, _ := filepath.Glob(strings.TrimSuffix(path, ".json") + ".*")
	var file string
	for _, l := range logs {
		if l != path {
			if file != "" {
				t.Fatalf("two logs beside %s", path)
			}
			file = l
		}
	}
	if file == "" {
		t.Fatalf("no log beside %s", path)
	}
	stored, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { // one log must not hide the others
		if p := recover(); p != nil {
			t.Errorf("reading panics: %v", p)
		}
	}()
	res, err := ingest.Read(filepath.Base(file), bytes.NewReader(stored), c.options())
	if c.Error != nil {
		var refusal *ingest.Error
		switch {
		case err == nil:
			t.Errorf("read, want the error %q", c.Error.Kind)
		case !errors.As(err, &refusal) || string(refusal.Kind) != c.Error.Kind:
			t.Errorf("error %v, want kind %q", err, c.Error.Kind)
		case !strings.Contains(err.Error(), c.Error.Contains):
			t.Errorf("error %q does not speak of %q", err, c.Error.Contains)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	c.compare(t, res)
	// The lines, counted without the reader.
	if lines := linesOf(t, stored, &c); lines != res.Log.Rows.Total {
		t.Errorf("%d lines, counted apart %d", res.Log.Rows.Total, lines)
	}
	sum := res.Log.Rows.Samples + res.Log.Rows.Problems
	for _, n := range res.Log.Rows.Skipped {
		sum += n
	}
	if sum != res.Log.Rows.Total {
		t.Errorf("rows do not add up: %d samples + %d problems + skipped %v, total %d", res.Log.Rows.Samples, res.Log.Rows.Problems, res.Log.Rows.Skipped, res.Log.Rows.Total)
	}
	if t.Failed() {
		for _, g := range res.Reading.Guesses {
			t.Logf("%s: %s; %s (%s)", g.Stage, g.Choice, g.Evidence, g.RunnerUp)
		}
		for _, q := range res.Reading.Questions {
			t.Logf("asks: %s", q)
		}
		for _, p := range res.Log.Problems {
			t.Logf("problem %d:%d %s %q: %s", p.Line, p.Column, p.Kind, p.Raw, p.Message)
		}
	}
}

func (c *dialectCase) options() ingest.Options {
	o := ingest.Options{IntervalS: c.Options.IntervalS, DateOrder: ingest.DateOrder(c.Options.DateOrder), NeighbourOrder: ingest.DateOrder(c.Options.Neighbour), OneBody: c.Options.OneBody}
	ref := func(s string) []ingest.ColumnRef {
		if s == "" {
			return nil
		}
		var n int
		if _, err := fmt.Sscanf(s, "%d", &n); err == nil && fmt.Sprint(n) == s {
			return []ingest.ColumnRef{{Number: n}}
		}
		return []ingest.ColumnRef{{Heading: s}}
	}
	o.Time, o.Inner, o.Outer = ref(c.Options.Time), ref(c.Options.Inner), ref(c.Options.Outer)
	switch c.Options.Unit {
	case "C":
		o.Unit = quantity.DegreeCelsius
	case "F":
		o.Unit = quantity.DegreeFahrenheit
	case "K":
		o.Unit = quantity.KelvinUnit
	}
	return o
}

func (c *dialectCase) compare(t *testing.T, res *ingest.Result) {
	l, r := res.Log, &res.Reading
	same := func(what string, got, want any) {
		t.Helper()
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %s\n\twant %s", what, spell(got), spell(want))
		}
	}
	if c.Encoding != "" {
		name, _, _ := strings.Cut(strings.ToLower(r.Encoding), " ") // "UTF-8 with byte order mark"
		same("encoding", name, c.Encoding)
	}
	if c.Delimiter != "" {
		same("delimiter", r.Delimiter, c.Delimiter)
	}
	if c.Decimal != "" {
		same("decimal mark", r.Decimal, c.Decimal)
	}
	same("compression", r.Compressed, c.Unpack)
	if c.Time != nil {
		c.Time.compare(t, res, same)
	}
	if c.Channels != nil {
		var got, want []string
		for i := range l.Channels {
			ch := &l.Channels[i]
			got = append(got, fmt.Sprintf("column %d %q %s guessed=%v %s doubtful=%v averaged=%v lowest=%v: %d readings, missing %v", ch.Column, ch.Name, ch.Role, ch.RoleSource == series.ByOrder, ch.Unit.Letter(), ch.UnitDoubtful, ch.Averaged, ch.Lowest, ch.Valid, ch.MissingKind))
		}
		for _, p := range c.Channels {
			want = append(want, fmt.Sprintf("column %d %q %s guessed=%v %s doubtful=%v averaged=%v lowest=%v: %d readings, missing %v", p.Column, p.Name, p.Role, p.Guessed, p.Unit, p.Doubt, p.Mean, p.Lowest, p.Valid, p.Missing))
		}
		same("channels", got, want)
		if len(got) == len(want) {
			for i := range c.Channels {
				c.Channels[i].compare(t, &l.Channels[i])
			}
		}
	}
	if c.Ignored != nil {
		got := []int{}
		for _, g := range r.Ignored {
			got = append(got, g.Column)
			if g.Reason == "" {
				t.Errorf("column %d is ignored without a reason", g.Column)
			}
		}
		sort.Ints(got)
		same("ignored columns", got, c.Ignored)
	}
	if c.LeftOut != nil {
		var got, want []string
		for _, o := range l.LeftOut {
			got = append(got, fmt.Sprintf("column %d up to %.4f °C", o.Column, o.MaxC))
			if o.Name == "" || o.Why == "" {
				t.Errorf("column %d is left out without a name or reason: %q, %q", o.Column, o.Name, o.Why)
			}
		}
		for i, o := range c.LeftOut {
			want = append(want, fmt.Sprintf("column %d up to %.4f °C", o.Column, o.MaxC))
			if i < len(l.LeftOut) && !strings.Contains(l.LeftOut[i].Why, o.Why) {
				t.Errorf("column %d is left out because %q, want words of %q", o.Column, l.LeftOut[i].Why, o.Why)
			}
		}
		same("columns left out", got, want)
	}
	if c.Rows != nil {
		got := dialectRows{Total: l.Rows.Total, Samples: l.Rows.Samples, Problems: l.Rows.Problems, Skipped: l.Rows.Skipped}
		for k, n := range got.Skipped {
			if n == 0 {
				delete(got.Skipped, k)
			}
		}
		want := *c.Rows
		if want.Skipped == nil {
			want.Skipped = map[string]int{}
		}
		if got.Skipped == nil {
			got.Skipped = map[string]int{}
		}
		same("rows", got, want)
	}
	same("bad cells", r.BadCells, c.BadCells)
	if len(c.Said) > 0 {
		all := said(res)
		for _, s := range c.Said {
			if !strings.Contains(all, s) {
				t.Errorf("nothing speaks of %q in:\n%s", s, all)
			}
		}
	}
	if len(r.Questions) != len(c.Questions) {
		t.Errorf("%d questions %q, want %d that speak of %q", len(r.Questions), r.Questions, len(c.Questions), c.Questions)
		return
	}
	for _, q := range c.Questions {
		if !strings.Contains(strings.Join(r.Questions, "\n"), q) {
			t.Errorf("questions %q do not speak of %q", r.Questions, q)
		}
	}
}

// said joins all that the reader says about a log.
func said(res *ingest.Result) string {
	var b strings.Builder
	for _, g := range res.Reading.Guesses {
		fmt.Fprintf(&b, "%s: %s; %s; %s\n", g.Stage, g.Choice, g.Evidence, g.RunnerUp)
	}
	for _, q := range res.Reading.Questions {
		b.WriteString(q + "\n")
	}
	for _, i := range res.Reading.Ignored {
		b.WriteString(i.Reason + "\n")
	}
	for _, p := range res.Log.Problems {
		b.WriteString(p.Message + "\n")
	}
	for _, e := range res.Log.Clock.Events {
		b.WriteString(e.Message + "\n")
	}
	return b.String()
}

// spell writes a value, a list one entry a line.
func spell(v any) string {
	if list, ok := v.([]string); ok {
		return "\n\t" + strings.Join(list, "\n\t")
	}
	return fmt.Sprintf("%+v", v)
}

func (w *dialectTime) compare(t *testing.T, res *ingest.Result, same func(string, any, any)) {
	l := res.Log
	same("clock kind", res.Reading.ClockKind, w.Kind)
	if w.Columns != nil {
		same("clock columns", append([]int{}, res.Reading.ClockColumns...), w.Columns)
	}
	if w.Start == nil {
		if !l.Clock.Start.IsZero() {
			t.Errorf("start %s, want none", l.Clock.Start)
		}
	} else {
		want, err := time.Parse(time.RFC3339, *w.Start)
		if err != nil {
			t.Fatal(err)
		}
		if !l.Clock.Start.Equal(want) {
			t.Errorf("start %s, want %s", l.Clock.Start, want)
		}
	}
	same("doubt about the unit of time", l.Clock.UnitDoubtful, w.Doubt)
	same("zone known", l.Clock.ZoneKnown, w.Zone)
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-3+1e-9*math.Abs(want) {
			t.Errorf("%s %.9g, want %.9g", what, got, want)
		}
	}
	near("duration", l.DurationS(), w.DurationS)
	near("interval", l.Clock.IntervalS, w.IntervalS)
	near("offset", l.Clock.OffsetS, w.OffsetS)
	var gaps, repeats, back int
	for _, e := range l.Clock.Events {
		switch e.Kind {
		case series.Gap:
			gaps++
		case series.Repeat:
			repeats++
		case series.StepBack:
			back++
		}
		if e.Line < 1 || e.Line > l.Rows.Total {
			t.Errorf("%s in line %d of %d", e.Kind, e.Line, l.Rows.Total)
		}
	}
	same("gaps, repeats, steps back", []int{gaps, repeats, back}, []int{w.Gaps, w.Repeats, w.StepsBack})
}

func (p *dialectProbe) compare(t *testing.T, ch *series.Channel) {
	lo, hi, first, last := math.Inf(1), math.Inf(-1), math.NaN(), math.NaN()
	for _, v := range ch.C {
		if series.IsMissing(v) {
			continue
		}
		lo, hi, last = math.Min(lo, v), math.Max(hi, v), v
		if math.IsNaN(first) {
			first = v
		}
	}
	if p.Valid == 0 {
		return
	}
	for _, v := range []struct {
		what      string
		got, want float64
	}{{"smallest", lo, p.MinC}, {"largest", hi, p.MaxC}, {"first", first, p.FirstC}, {"last", last, p.LastC}} {
		if !(math.Abs(v.got-v.want) <= 1e-6) {
			t.Errorf("%s: %s %.9g °C, want %.9g °C", ch.Name, v.what, v.got, v.want)
		}
	}
}

// linesOf unpacks and decodes a stored log with other libraries and counts its lines: a line ends with CR LF, CR or LF, and the
// last one may lack its end.
func linesOf(t *testing.T, stored []byte, c *dialectCase) int {
	t.Helper()
	raw := stored
	switch c.Unpack {
	case "gzip":
		z, err := gzip.NewReader(bytes.NewReader(stored))
		if err != nil {
			t.Fatal(err)
		}
		if raw, err = io.ReadAll(z); err != nil {
			t.Fatal(err)
		}
	case "zip":
		z, err := zip.NewReader(bytes.NewReader(stored), int64(len(stored)))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range z.File {
			if f.FileInfo().IsDir() || !strings.Contains(f.Name, "log") {
				continue
			}
			in, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			if raw, err = io.ReadAll(in); err != nil {
				t.Fatal(err)
			}
			in.Close()
		}
	}
	var text []byte
	var err error
	switch c.Encoding {
	case "utf-16le":
		text, err = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Bytes(withMark(raw, "\xff\xfe"))
	case "utf-16be":
		text, err = unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder().Bytes(withMark(raw, "\xfe\xff"))
	case "windows-1252":
		text, err = charmap.Windows1252.NewDecoder().Bytes(raw)
	default:
		text = bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
	}
	if err != nil {
		t.Fatal(err)
	}
	s := strings.ReplaceAll(string(text), "\x00", " ")
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	n := strings.Count(s, "\n")
	if s != "" && !strings.HasSuffix(s, "\n") {
		n++
	}
	return n
}

func withMark(raw []byte, mark string) []byte {
	if bytes.HasPrefix(raw, []byte(mark)) {
		return raw
	}
	return append([]byte(mark), raw...)
}
