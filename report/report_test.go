package report_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"ringheat/analyze"
	"ringheat/analyze/curve"
	"ringheat/analyze/judge"
	"ringheat/analyze/series"
	"ringheat/report"
	"ringheat/sampledata"
)

// results judges every demo log with the same settings.
func results(t *testing.T) []analyze.LogResult {
	t.Helper()
	need, tolerance := 89.0, 1.5
	var list []analyze.LogResult
	for _, name := range sampledata.Names() {
		f, err := sampledata.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		var a analyze.Analyzer
		list = append(list, a.Log(name, f, analyze.Settings{Judge: judge.Settings{NeedTempC: &need, ProbeToleranceK: &tolerance}, Support: "B60"}))
		f.Close()
	}
	return list
}

// The contract of a JSON line: the keys that other programs read, whatever else is added.
func TestJSONContract(t *testing.T) {
	wantLog := []string{"schema", "log", "sha256", "error", "start", "samples", "interval_s", "reading", "channels", "problems", "need_temp_c", "cycles", "verdict"}
	wantCycle := []string{"onset_s", "end_s", "inner", "outer", "peak_c", "over_limit_s", "max_ring_diff_k", "max_ring_diff_at_s", "findings", "verdict"}
	wantRise := []string{"start_c", "rate_k_per_min", "time_constant_s", "time_constant_se_s", "time_constant_ci_s", "final_c", "final_ci_c", "status", "why", "residual_sd_k", "lag1"}
	wantFinding := []string{"check", "verdict", "proven", "value", "limit", "uncertainty", "at_s", "reason"}
	keys := func(where string, m map[string]any, want []string) {
		t.Helper()
		for _, k := range want {
			if _, ok := m[k]; !ok {
				t.Errorf("%s lacks the key %q", where, k)
			}
		}
	}
	list := append(results(t), analyze.LogResult{Name: "gone.csv", Err: errors.New("gone.csv: is empty")})
	cycles := 0
	for i := range list {
		var b bytes.Buffer
		if err := report.WriteJSONLine(&b, &list[i]); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(b.String(), "\n"); n != 1 || !strings.HasSuffix(b.String(), "\n") {
			t.Errorf("%s: %d line ends in one object", list[i].Name, n)
		}
		var m map[string]any
		if err := json.Unmarshal(b.Bytes(), &m); err != nil {
			t.Fatal(err)
		}
		keys(list[i].Name, m, wantLog)
		if m["schema"] != "ringheat.check/1" {
			t.Errorf("schema %v", m["schema"])
		}
		if (m["error"] != nil) != (list[i].Err != nil) || m["error"] != nil && m["verdict"] != "unproven" {
			t.Errorf("%s: error %v, verdict %v", list[i].Name, m["error"], m["verdict"])
		}
		for _, c := range m["cycles"].([]any) {
			cycles++
			cycle := c.(map[string]any)
			keys("cycle of "+list[i].Name, cycle, wantCycle)
			for _, ring := range []string{"inner", "outer"} {
				if rise, ok := cycle[ring].(map[string]any); ok {
					keys(ring+" of "+list[i].Name, rise, wantRise)
					if tau, ok := rise["time_constant_s"].(float64); ok && tau > 1e6 {
						t.Errorf("%s: a time constant of %v s", list[i].Name, tau)
					}
				}
			}
			seen := map[string]int{}
			for _, f := range cycle["findings"].([]any) {
				finding := f.(map[string]any)
				keys("finding of "+list[i].Name, finding, wantFinding)
				seen[finding["check"].(string)]++
			}
			for _, check := range []string{"max-temp", "ring-diff", "need-temp", "record"} {
				if seen[check] != 1 {
					t.Errorf("%s: check %s stands %d times", list[i].Name, check, seen[check])
				}
			}
			if d, ok := cycle["max_ring_diff_k"].(float64); ok && d < 0 {
				t.Errorf("%s: a negative size of the difference", list[i].Name)
			}
		}
	}
	if cycles < 10 {
		t.Errorf("only %d cycles were looked at", cycles)
	}
}

// The four forms say the same: verdict and reason of every cycle.
func TestFormsAgree(t *testing.T) {
	list := results(t)
	var b bytes.Buffer
	out := report.NewResultsList(&b)
	for i := range list {
		if err := out.Add(&list[i]); err != nil {
			t.Fatal(err)
		}
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, h := range rows[0] {
		column[h] = i
	}
	rows = rows[1:]
	for i := range list {
		r := &list[i]
		doc := report.NewDocument(r)
		var text bytes.Buffer
		if err := report.WriteText(&text, &doc, report.TextOptions{Width: 120}); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(text.String(), report.Word(r.Verdict)) {
			t.Errorf("%s: the text begins with %.20q, the verdict is %v", r.Name, text.String(), r.Verdict)
		}
		flat := strings.Join(strings.Fields(text.String()), " ")
		for k := range r.Cycles {
			row := rows[0]
			rows = rows[1:]
			j := &r.Cycles[k].Judgement
			if row[column["verdict"]] != j.Verdict.String() || row[column["log"]] != r.Name {
				t.Errorf("%s cycle %d: the list says %s of %s", r.Name, k+1, row[column["verdict"]], row[column["log"]])
			}
			for _, f := range j.Findings {
				if !strings.Contains(flat, strings.Join(strings.Fields(f.Reason), " ")) {
					t.Errorf("%s: the text lacks the reason %q", r.Name, f.Reason)
				}
			}
			p := report.Picture(r, k, "test")
			if p.Verdict != j.Verdict {
				t.Errorf("%s: the picture says %v", r.Name, p.Verdict)
			}
			if len(p.Footer) == 0 || p.Footer[0] != report.ShortCaution {
				t.Errorf("%s: the picture lacks the cautions", r.Name)
			}
		}
	}
	if len(rows) != 0 {
		t.Errorf("%d rows too many in the list", len(rows))
	}
}

// What is not known is never printed as a number.
func TestUnknownIsNoNumber(t *testing.T) {
	r := analyze.LogResult{Name: "x", Log: &series.Log{Channels: []series.Channel{{Name: "inner"}}}, Cycles: []analyze.Cycle{{
		Inner: curve.FirstOrder{Status: curve.Undetermined, StartC: curve.Estimate{Value: 20, StdErr: 0.1, Known: true},
			RateKPerS:     curve.Estimate{Value: 0.2, StdErr: 0.001, Known: true, CI: curve.Interval{Low: 0.19, High: 0.21, HasLow: true, HasHigh: true}},
			TimeConstantS: curve.Estimate{Value: 4e9, StdErr: math.Inf(1), CI: curve.Interval{Low: 812.7, High: math.Inf(1), HasLow: true}},
			FinalC:        curve.Estimate{Value: math.NaN()}},
		Outer: curve.FirstOrder{Status: curve.NoRise, Why: "no rise to estimate"},
	}}, Inner: []int{0}}
	var b bytes.Buffer
	if err := report.WriteJSONLine(&b, &r); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"time_constant_s":null`, `"time_constant_ci_s":[812.7,null]`, `"final_c":null`, `"final_ci_c":null`} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %s in %s", want, b.String())
		}
	}
	doc := report.NewDocument(&r)
	text := doc.Cycles[0].Curves[0].Text
	if !strings.Contains(text, "time constant not determined: longer than 810 s") || strings.Contains(text, "4e") || strings.Contains(text, "NaN") {
		t.Errorf("curve in words: %s", text)
	}
}

func TestForeignTextIsHarmless(t *testing.T) {
	for _, c := range []struct{ in, plain string }{
		{"inner °C", "inner °C"},
		{"a\x1b[2Jb", "a\uFFFD[2Jb"},
		{"a\nb\tc", "a\uFFFDb\uFFFDc"},
		{"abc\u202Ecba", "abc\uFFFDcba"},
		{"\ufeffx", "\uFFFDx"},
		{strings.Repeat("é", 10000), strings.Repeat("é", 200) + "…"},
	} {
		if got := report.Plain(c.in); got != c.plain {
			t.Errorf("Plain(%.30q) = %.60q, want %.60q", c.in, got, c.plain)
		}
	}
	for _, name := range []string{"=HYPERLINK(\"x\")", "+1", "-1", "@x", "\t=1"} {
		var b bytes.Buffer
		if err := report.NewResultsList(&b).Add(&analyze.LogResult{Name: name, Err: errors.New(name)}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, cell := range rows[1] {
			if cell != "" && strings.ContainsRune("=+-@\t", rune(cell[0])) {
				t.Errorf("a spreadsheet takes the cell %q for a formula", cell)
			}
		}
	}
}

func TestTallyAddsUp(t *testing.T) {
	var total report.Tally
	list := append(results(t), analyze.LogResult{Name: "gone.csv", Err: errors.New("gone")})
	for i := range list {
		total.Add(&list[i])
	}
	if total.Logs != len(list) || total.Fail+total.Unproven+total.Unreadable+total.Pass != total.Logs || total.Unreadable != 1 {
		t.Errorf("%+v for %d logs", total, len(list))
	}
}

func TestDuration(t *testing.T) {
	for _, c := range []struct {
		s    float64
		want string
	}{{7.25, "7.2 s"}, {119, "119 s"}, {120, "2 min"}, {655, "10 min 55 s"}, {7199.6, "120 min"}, {7200, "2 h 0 min"}, {36000, "10 h 0 min"}} {
		if got := report.Duration(c.s); got != c.want {
			t.Errorf("Duration(%v) = %q, want %q", c.s, got, c.want)
		}
	}
}
