package report_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"image/png"
	"math"
	"strconv"
	"strings"
	"testing"

	"ringheat/analyze"
	"ringheat/analyze/joint"
	"ringheat/analyze/judge"
	"ringheat/analyze/parts"
	"ringheat/report"
	"ringheat/report/chart"
)

func num(v float64) *float64 { return &v }

func ask(t *testing.T, q analyze.NeedQuestion) *analyze.NeedAnswer {
	t.Helper()
	a, err := analyze.AskNeed(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// questions are one of each kind of answer.
func questions() map[string]analyze.NeedQuestion {
	seat := func(um float64) analyze.SeatData { return analyze.SeatData{BoreMM: num(100), InterferenceUM: num(um)} }
	return map[string]analyze.NeedQuestion{
		"possible": {Kind: judge.Bearing, Seat: seat(30)},
		"classes": {Kind: judge.Bearing, Part: "QM-310", RingClass: "sn", Seat: analyze.SeatData{BoreMM: num(100), ShaftClass: "m6"},
			Clearance: analyze.ClearanceData{BearingType: "cylindrical-roller", Group: "C3", OutsideMM: num(180)}},
		"not by warming": {Kind: judge.Gear, MaxTempC: num(120), Seat: seat(30)},
		"too narrow":     {Kind: judge.Bearing, Seat: seat(79)},
		"no way":         {Kind: judge.Bearing, Seat: analyze.SeatData{BoreMM: num(20), InterferenceUM: num(60)}},
		"no warming":     {Kind: judge.Bearing, Seat: seat(-20)},
		"cold shaft":     {Kind: judge.Coupling, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(100), ShaftC: num(-79)}},
		"two materials":  {Kind: judge.Coupling, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(100), Material: "aluminium", ShaftMaterial: "carbon-steel"}},
		"measured": {Kind: judge.Bearing, Seat: analyze.SeatData{BoreMM: num(100), ShaftMeasuredUM: num(25), BoreMeasuredUM: num(-5), MeasuredUUM: num(2), ShaftUK: num(1)},
			Clearance: analyze.ClearanceData{MinUM: num(0), MaxUM: num(9), OutsideMM: num(180)}},
	}
}

func TestNeedWords(t *testing.T) {
	all := questions()
	for _, c := range []struct{ name, word, answer string }{
		{"possible", "POSSIBLE BY WARMING", "set 65 °C: the bore has to be at least 57.5 °C, which leaves 62.5 K to the limit of 120 °C"},
		{"not by warming", "NOT BY WARMING ALONE", "it needs 128.4 °C and the part stands 120 °C; cool the shaft to"},
		{"too narrow", "NOT BY WARMING ALONE", "no set-point is safely between the 118.8 °C needed and the limit of 120 °C"},
		{"no way", "NOT BY WARMING ALONE", "choose another class"},
		{"no warming", "NO WARMING NEEDED", "shaft and bore go together cold: no warming needed"},
	} {
		d := report.NewNeedDocument(ask(t, all[c.name]))
		if d.Word != c.word || !strings.Contains(d.Answer, c.answer) {
			t.Errorf("%s: %s: %s", c.name, d.Word, d.Answer)
		}
		if d.Possible != (c.word != "NOT BY WARMING ALONE") {
			t.Errorf("%s: possible %v", c.name, d.Possible)
		}
	}
}

// TestNeedFormatsAgree: text, JSON, list and picture give one answer, and the cautions stand in each.
func TestNeedFormatsAgree(t *testing.T) {
	for name, q := range questions() {
		a := ask(t, q)
		d := report.NewNeedDocument(a)
		var text, line, list bytes.Buffer
		for _, err := range []error{
			report.WriteNeedText(&text, &d, report.TextOptions{}), report.WriteNeedJSON(&line, a), report.WriteNeedList(&list, a),
		} {
			if err != nil {
				t.Fatal(err)
			}
		}
		for _, caution := range report.Cautions {
			if !strings.Contains(text.String(), caution) {
				t.Errorf("%s: the text leaves out %q", name, caution)
			}
		}
		var j struct {
			Schema    string   `json:"schema"`
			NeededC   float64  `json:"needed_c"`
			SetPointC *float64 `json:"set_point_c"`
			Answer    string   `json:"answer"`
			Possible  bool     `json:"possible_by_warming"`
			Cautions  []string `json:"cautions"`
			Table     []struct {
				ShaftC  float64 `json:"shaft_temp_c"`
				UM      float64 `json:"interference_um"`
				NeededC float64 `json:"needed_c"`
			} `json:"table"`
			Notes     []string         `json:"notes"`
			Clearance *json.RawMessage `json:"clearance"`
		}
		if err := json.Unmarshal(line.Bytes(), &j); err != nil {
			t.Fatal(err)
		}
		if j.Schema != "ringheat.need/1" || j.Answer != d.Answer || j.Possible != d.Possible || j.NeededC != float64(a.Need.NeededC) {
			t.Errorf("%s: JSON says %+v", name, j)
		}
		if strings.Join(j.Cautions, "") != strings.Join(report.Cautions, "") || strings.Count(line.String(), "\n") != 1 {
			t.Errorf("%s: cautions missing, or more than one line", name)
		}
		if (j.Clearance == nil) != (a.Clearance == nil) || len(j.Table) != len(a.ShaftC)*len(a.InterferenceUM) {
			t.Errorf("%s: clearance or table lost", name)
		}

		rows, err := csv.NewReader(&list).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		col := map[string]int{}
		for i, h := range rows[0] {
			col[h] = i
		}
		own := 0
		for i, r := range rows[1:] {
			if r[col["caution"]] != report.ShortCaution {
				t.Errorf("%s: row %d has no caution", name, i+1)
			}
			for h, want := range map[string]float64{"shaft_temp_c": j.Table[i].ShaftC, "interference_um": j.Table[i].UM, "needed_c": j.Table[i].NeededC} {
				if got, err := strconv.ParseFloat(r[col[h]], 64); err != nil || math.Abs(got-want) > 1e-5*math.Abs(want) {
					t.Errorf("%s: row %d, %s %s, JSON has %v", name, i+1, h, r[col[h]], want)
				}
			}
			if r[col["this_joint"]] == "yes" {
				own++
				if got, _ := strconv.ParseFloat(r[col["needed_c"]], 64); math.Abs(got-float64(a.Need.NeededC)) > 1e-4 || r[col["answer"]] != d.Answer {
					t.Errorf("%s: the joint's own row says %v", name, r)
				}
			}
		}
		if own != 1 {
			t.Errorf("%s: %d rows are this joint", name, own)
		}

		p := report.NeedPicture(a, "1.2.3")
		if p.Point.NeededC != float64(a.Need.NeededC) || (p.Verdict == judge.Pass) != d.Possible || p.Footer[0] != report.ShortCaution {
			t.Errorf("%s: the picture says %v, %v, %v", name, p.Point, p.Verdict, p.Footer)
		}
		main := 0
		for _, l := range p.Lines {
			if l.Main {
				main++
			}
		}
		var drawer chart.Drawer
		var b bytes.Buffer
		if err := drawer.Need(&b, p, chart.Size{}); err != nil || main != 1 {
			t.Errorf("%s: %d main lines, %v", name, main, err)
		} else if _, err := png.Decode(&b); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestNeedTableMarks: a cell is marked exactly where no set-point serves, and called cold exactly where no warming is needed.
func TestNeedTableMarks(t *testing.T) {
	for name, q := range questions() {
		a := ask(t, q)
		d := report.NewNeedDocument(a)
		for i, row := range d.Table.Rows {
			for j := range a.InterferenceUM {
				cell, f := row[j+1], a.Table[i][j].Feasibility
				if strings.HasSuffix(cell, "!") != (f == joint.NotByWarming || f == joint.TooNarrow) || (cell == "cold") != (f == joint.NoWarming) {
					t.Errorf("%s: cell %q is %s", name, cell, f)
				}
				if v, err := strconv.ParseFloat(strings.TrimSuffix(cell, " !"), 64); err == nil && (v < float64(a.Table[i][j].NeededC)-1e-6 || v > float64(a.Table[i][j].NeededC)+0.1) {
					t.Errorf("%s: cell %q for %v °C: a need is rounded up", name, cell, a.Table[i][j].NeededC)
				}
			}
		}
	}
}

// TestNeedForeignText: a part's name can't run in a terminal or a spreadsheet.
func TestNeedForeignText(t *testing.T) {
	q := questions()["possible"]
	q.Part = "=cmd()\x1b[31m\u202e" + strings.Repeat("x", 10000)
	a := ask(t, q)
	d := report.NewNeedDocument(a)
	var text, list bytes.Buffer
	if err := report.WriteNeedText(&text, &d, report.TextOptions{}); err != nil {
		t.Fatal(err)
	}
	if err := report.WriteNeedList(&list, a); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"\x1b", "\u202e", strings.Repeat("x", 3000)} {
		if strings.Contains(text.String(), bad) || strings.Contains(list.String(), bad) {
			t.Errorf("%q is shown", bad[:3])
		}
	}
	rows, err := csv.NewReader(&list).ReadAll()
	if err != nil || !strings.HasPrefix(rows[1][1], "'=") {
		t.Errorf("the name opens as a formula: %v", err)
	}
	var b bytes.Buffer
	var drawer chart.Drawer
	if err := drawer.Need(&b, report.NeedPicture(a, "1"), chart.Size{}); err != nil {
		t.Error(err)
	}
}

func TestWriteParts(t *testing.T) {
	p := parts.Part{Name: "A\x1b[1m", Kind: judge.Bearing, RingClass: "sn", MaxRateKPerMin: num(8), MaxRateSource: "sheet 2\u202e", HoldMin: num(15), HoldSource: "sheet 3", Note: "\tn"}
	limits, err := judge.DefaultLimits().Find(p.Kind, p.Classes())
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := report.WriteParts(&b, "parts.csv", []report.PartSheet{{Part: &p, Limits: limits}}, report.TextOptions{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"1 part in parts.csv", "limit         120 °C, class sn: DIN 623-1", "at most 8 K/min", "noted, not judged", "15 min at temperature (sheet 3): printed, not judged",
		"not known: no seat and no needed temperature", report.Cautions[0]} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is missing in\n%s", want, &b)
		}
	}
	if strings.ContainsAny(b.String(), "\x1b\u202e") {
		t.Error("a control character is shown")
	}
}
