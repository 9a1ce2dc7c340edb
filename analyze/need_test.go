package analyze_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ringheat/analyze"
	"ringheat/analyze/joint"
	"ringheat/analyze/judge"
)

func num(v float64) *float64 { return &v }

func TestAskNeed(t *testing.T) {
	for _, c := range []struct {
		name      string
		q         analyze.NeedQuestion
		needed    float64
		limit     float64
		tolerance float64
		warming   bool
		source    string
	}{
		{"bearing 100 mm, 30 µm", analyze.NeedQuestion{Kind: judge.Bearing, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}},
			57.5, 120, 1e-9, true, "20 + (30 + 15)/(100 mm x 12e-6/K); half the interference as ease is common practice, no source"},
		{"gear 100 mm, 30 µm", analyze.NeedQuestion{Kind: judge.Gear, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}},
			128.33, 150, 0.01, true, "20 + (30 + 100)/(100 mm x 12e-6/K) = 128 °C; d/1000 is the custom of DIN 7190-1, from memory"},
		{"the same gear with a bearing's limit", analyze.NeedQuestion{Kind: judge.Gear, MaxTempC: num(120), Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}},
			128.33, 120, 0.01, false, "as before: d/1000 suits hubs, not parts kept to 120 °C"},
		{"published exercise, 40p4 in 40H6", analyze.NeedQuestion{Kind: judge.Coupling, Seat: analyze.SeatData{BoreMM: num(40), InterferenceUM: num(33), EaseUM: num(7), AlphaPerK: num(10e-6)}},
			120, 200, 1e-6, true, "public homework exercise: largest interference 33 µm, addition 7 µm, 10e-6/K: 100 K above 20 °C"},
		{"m6 on a bearing's bore", analyze.NeedQuestion{Kind: judge.Bearing, Seat: analyze.SeatData{BoreMM: num(100), ShaftClass: "m6"}},
			88.75, 120, 1e-9, true, "ISO 286-2 m6 +35/+13, ISO 492 Normal 0/-20 (copies): largest 55 µm, ease 27.5 µm"},
		{"p6 in H7, hub", analyze.NeedQuestion{Kind: judge.Coupling, RingClass: "tempered", Seat: analyze.SeatData{BoreMM: num(120), ShaftClass: "p6", BoreClass: "H7"}},
			144.306, 250, 0.001, true, "ISO 286-2 p6 +59/+37 (copies), H7 from 0: largest 59 µm, ease 120 µm"},
		{"measured sizes", analyze.NeedQuestion{Kind: judge.Bearing, Seat: analyze.SeatData{BoreMM: num(100), ShaftMeasuredUM: num(25), BoreMeasuredUM: num(-5)}},
			57.5, 120, 1e-6, true, "25 - (-5) = 30 µm, then as the first"},
		{"aluminium hub on a cold steel shaft", analyze.NeedQuestion{Kind: judge.Coupling, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(100), EaseUM: num(50), Material: "aluminium", ShaftMaterial: "carbon-steel", ShaftC: num(0)}},
			20 + (1.5e-3-11.7e-6*20)/23.6e-6, 200, 1e-6, true, "strain balance with 23.6e-6 and 11.7e-6 (two published tables)"},
		{"hub after the elongation formula", analyze.NeedQuestion{Kind: judge.Coupling, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(50), EaseUM: num(49.84), Material: "carbon-steel-en1993"}},
			100, 200, 0.01, true, "EN 1993-1-2:2005 3.4.1.1: 9.984e-4 from 20 to 100 °C, computed"},
	} {
		a, err := analyze.AskNeed(c.q)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if math.Abs(float64(a.Need.NeededC)-c.needed) > c.tolerance {
			t.Errorf("%s: needs %v °C, want %v (%s)", c.name, a.Need.NeededC, c.needed, c.source)
		}
		if a.LimitC != c.limit || a.ByWarming() != c.warming {
			t.Errorf("%s: limit %v, by warming %v; want %v, %v", c.name, a.LimitC, a.ByWarming(), c.limit, c.warming)
		}
		// The table holds the answer itself, at the joint's own shaft temperature and interference.
		found := false
		for i, shaft := range a.ShaftC {
			if len(a.Table[i]) != len(a.InterferenceUM) {
				t.Fatalf("%s: %d cells for %d interferences", c.name, len(a.Table[i]), len(a.InterferenceUM))
			}
			if shaft == float64(a.Seat.ShaftC) {
				found = math.Abs(float64(a.Table[i][a.Own].NeededC-a.Need.NeededC)) < 1e-9
			}
			for j := 1; j < len(a.InterferenceUM); j++ {
				if a.Table[i][j].NeededC <= a.Table[i][j-1].NeededC {
					t.Errorf("%s: the need does not rise with the interference at %v °C", c.name, shaft)
				}
			}
		}
		if !found {
			t.Errorf("%s: the answer is not in its own table", c.name)
		}
	}
}

// TestAskNeedGuard: the highest set-point keeps away from the limit by U = 2 a/sqrt(3) (GUM 4.3.7), by the same default class as
// the judge.
func TestAskNeedGuard(t *testing.T) {
	ask := func(q analyze.NeedQuestion) *analyze.NeedAnswer {
		q.Kind, q.Seat = judge.Bearing, analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}
		a, err := analyze.AskNeed(q)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	a := ask(analyze.NeedQuestion{ProbeToleranceK: num(1.5)})
	if want := 120 - 2*1.5/math.Sqrt(3); math.Abs(float64(*a.Need.HighestC)-want) > 1e-9 {
		t.Errorf("highest set-point %v, want %v", *a.Need.HighestC, want)
	}
	if a := ask(analyze.NeedQuestion{ProbeClass: "A"}); math.Abs(a.ProbeToleranceK-0.39) > 1e-12 {
		t.Errorf("class A at 120 °C: ±%v K, want 0.39 (IEC 60751, published copies)", a.ProbeToleranceK)
	}
	a = ask(analyze.NeedQuestion{})
	var log strings.Builder
	log.WriteString("time s,inner C,outer C\n")
	for i := range 300 {
		fmt.Fprintf(&log, "%d,%.1f,%.1f\n", i, 20+0.25*float64(i), 20+0.22*float64(i))
	}
	var analyzer analyze.Analyzer
	judged := analyzer.Log("ramp.csv", strings.NewReader(log.String()), analyze.Settings{Judge: judge.Settings{Kind: judge.Bearing}})
	if len(judged.Cycles) != 1 || !strings.Contains(strings.Join(judged.Cycles[0].Judgement.Assumed, "\n"), a.ProbeWords) {
		t.Errorf("the need takes %q, which the judge does not say: %+v", a.ProbeWords, judged.Cycles)
	}
	if !strings.Contains(a.ProbeWords, "widest class in common use") || a.ProbeToleranceK != 2.5 {
		t.Errorf("default probe ±%v K, %s", a.ProbeToleranceK, a.ProbeWords)
	}
}

func TestAskNeedClearance(t *testing.T) {
	ask := func(c analyze.ClearanceData, seat analyze.SeatData) *analyze.Clearance {
		t.Helper()
		seat.BoreMM = num(100)
		a, err := analyze.AskNeed(analyze.NeedQuestion{Kind: judge.Bearing, Seat: seat, Clearance: c})
		if err != nil {
			t.Fatal(err)
		}
		return a.Clearance
	}
	c := ask(analyze.ClearanceData{BearingType: "deep-groove-ball", Group: "CN", OutsideMM: num(180)}, analyze.SeatData{ShaftClass: "m6"})
	// ISO 5753-1 (four copies): CN of a deep groove ball bearing over 80 to 100 mm is 12 to 36 µm. Outer raceway (100 + 4 x 180)/5 = 164 mm,
	// coefficient 12e-6 with its upper 5 %: 12/(164 x 12.6e-3) = 5.807 K.
	if c.Radial.MinUM != 12 || c.Radial.MaxUM != 36 || c.LimitK != 5.8 || !c.ClearanceStrict || c.CustomaryK != 35 {
		t.Errorf("%+v", c)
	}
	for _, l := range c.Left {
		want := 12 - 12e-3*164*l.DiffK
		if math.Abs(l.Left.CautiousUM-want) > 1e-9 {
			t.Errorf("at %v K: %v µm left, want %v", l.DiffK, l.Left.CautiousUM, want)
		}
	}
	// After mounting: 100/116 of the interference is taken; smallest clearance, largest interference 55 µm.
	if want := 12 - 100.0/116*55; math.Abs(c.After.MinUM-want) > 1e-9 {
		t.Errorf("after mounting %v µm, want %v", c.After.MinUM, want)
	}
	c = ask(analyze.ClearanceData{MinUM: num(200), MaxUM: num(260), OutsideMM: num(180)}, analyze.SeatData{InterferenceUM: num(30)})
	if c.ClearanceStrict || !strings.Contains(c.StricterWords, "customary limit of 35 K decides") {
		t.Errorf("200 µm: %s", c.StricterWords)
	}
	c = ask(analyze.ClearanceData{MinUM: num(0), MaxUM: num(20), OutsideMM: num(180)}, analyze.SeatData{InterferenceUM: num(30)})
	if c.LimitK != 0 || c.Note == "" || c.ClearanceStrict {
		t.Errorf("no clearance gives a limit: %+v", c)
	}
}

func TestAskNeedRefuses(t *testing.T) {
	seat := func(f func(*analyze.SeatData)) analyze.NeedQuestion {
		q := analyze.NeedQuestion{Kind: judge.Bearing, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}}
		f(&q.Seat)
		return q
	}
	for _, c := range []struct {
		name, want string
		q          analyze.NeedQuestion
	}{
		{"nothing", "--bore-mm is missing", analyze.NeedQuestion{}},
		{"bore alone", "a seat needs --bore-mm and --interference-um", seat(func(s *analyze.SeatData) { s.InterferenceUM = nil })},
		{"two seats", "leave one of them out", seat(func(s *analyze.SeatData) { s.ShaftClass = "m6" })},
		{"class and measured shaft", "--shaft-class and --shaft-measured-um", seat(func(s *analyze.SeatData) { s.InterferenceUM, s.ShaftClass, s.ShaftMeasuredUM = nil, "m6", num(20) })},
		{"class and measured bore", "--bore-class and --bore-measured-um", seat(func(s *analyze.SeatData) {
			s.InterferenceUM, s.ShaftClass, s.BoreClass, s.BoreMeasuredUM = nil, "m6", "Normal", num(-5)
		})},
		{"bore class alone", "only half of a seat", seat(func(s *analyze.SeatData) { s.InterferenceUM, s.BoreClass = nil, "H7" })},
		{"uncertainty of nothing", "--measured-u-um", seat(func(s *analyze.SeatData) { s.MeasuredUUM = num(2) })},
		{"coefficient and material", "--alpha-per-k and the materials", seat(func(s *analyze.SeatData) { s.AlphaPerK, s.Material = num(12e-6), "brass" })},
		{"unknown material", "--material: material \"mud\"", seat(func(s *analyze.SeatData) { s.Material = "mud" })},
		{"elongation of a ring", "not for hardened rings", seat(func(s *analyze.SeatData) { s.Material = "carbon-steel-en1993" })},
		{"coefficient in millionths", "expansion coefficient 12", seat(func(s *analyze.SeatData) { s.AlphaPerK = num(12) })},
		{"interference in nanometres", "check the units", seat(func(s *analyze.SeatData) { s.InterferenceUM = num(30000) })},
		{"measured far off", "more than 1 % away", seat(func(s *analyze.SeatData) { s.InterferenceUM, s.ShaftMeasuredUM = nil, num(2000) })},
		{"aluminium shaft in nitrogen", "nothing is known here", seat(func(s *analyze.SeatData) { s.ShaftMaterial, s.ShaftC = "aluminium", num(-100) })},
		{"unknown class", "no class \"s9\"", analyze.NeedQuestion{Kind: judge.Bearing, RingClass: "s9", Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}}},
		{"hub without its bore", "a gear has no bore class of its own", analyze.NeedQuestion{Kind: judge.Gear, Seat: analyze.SeatData{BoreMM: num(100), ShaftClass: "p6"}}},
		{"clearance of a gear", "a gear has none", analyze.NeedQuestion{Kind: judge.Gear, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}, Clearance: analyze.ClearanceData{Group: "C3"}}},
		{"group without type", "--clearance-group (C2", analyze.NeedQuestion{Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}, Clearance: analyze.ClearanceData{Group: "C3", OutsideMM: num(180)}}},
		{"group without size", "--bore-mm and --outside-mm", analyze.NeedQuestion{Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}, Clearance: analyze.ClearanceData{Group: "C3", BearingType: "deep-groove-ball"}}},
		{"disputed cell", "no figure is given", analyze.NeedQuestion{Seat: analyze.SeatData{BoreMM: num(400), InterferenceUM: num(30)}, Clearance: analyze.ClearanceData{Group: "C3", BearingType: "deep-groove-ball", OutsideMM: num(600)}}},
	} {
		if _, err := analyze.AskNeed(c.q); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
}

// TestUseSeatAgreesWithNeed: a check judges by the temperature that need tells, rounded up to a tenth.
func TestUseSeatAgreesWithNeed(t *testing.T) {
	for _, seat := range []analyze.SeatData{
		{BoreMM: num(100), InterferenceUM: num(30)},
		{BoreMM: num(100), ShaftClass: "m6"},
		{BoreMM: num(90), InterferenceUM: num(37), ShaftC: num(-3)},
	} {
		a, err := analyze.AskNeed(analyze.NeedQuestion{Kind: judge.Bearing, Seat: seat})
		if err != nil {
			t.Fatal(err)
		}
		s := analyze.Settings{Judge: judge.Settings{Kind: judge.Bearing}}
		if err := s.UseSeat(seat); err != nil {
			t.Fatal(err)
		}
		got, want := *s.Judge.NeedTempC, float64(a.Need.NeededC)
		if got < want-1e-6 || got > want+0.1 || math.Abs(got*10-math.Round(got*10)) > 1e-9 {
			t.Errorf("judged by %v °C, needed %v", got, want)
		}
		if s.Judge.NeedTempU != a.Need.StdK {
			t.Errorf("uncertainty %v, want %v", s.Judge.NeedTempU, a.Need.StdK)
		}
	}
}

// TestNeedTableEase: the table's column of the smallest interference is what luck can give with the same ease.
func TestNeedTableEase(t *testing.T) {
	a, err := analyze.AskNeed(analyze.NeedQuestion{Kind: judge.Bearing, Seat: analyze.SeatData{BoreMM: num(100), ShaftClass: "m6"}})
	if err != nil {
		t.Fatal(err)
	}
	for i, shaft := range a.ShaftC {
		if shaft == 20 && (a.InterferenceUM[0] != 13 || math.Abs(float64(a.Table[i][0].NeededC-a.Need.WithSmallestC)) > 1e-9) {
			t.Errorf("%v µm needs %v °C, want %v for 13 µm", a.InterferenceUM[0], a.Table[i][0].NeededC, a.Need.WithSmallestC)
		}
	}
}

// TestNeedTableReaches: the table's steps reach the joint's own shaft temperature without a wide gap.
func TestNeedTableReaches(t *testing.T) {
	for _, own := range []float64{-196, -79, -20, -5, 20, 40, 41, 130} {
		a, err := analyze.AskNeed(analyze.NeedQuestion{Kind: judge.Coupling, Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(50), ShaftC: num(own)}})
		if err != nil {
			t.Fatal(err)
		}
		seen := false
		for i, c := range a.ShaftC {
			seen = seen || c == own
			if i > 0 && (c <= a.ShaftC[i-1] || c-a.ShaftC[i-1] > 20) {
				t.Errorf("%v °C: steps %v", own, a.ShaftC)
			}
		}
		if !seen {
			t.Errorf("%v °C is not in %v", own, a.ShaftC)
		}
	}
}

// TestNeedBudget: each input's share by hand, combined as the root of the sum of squares (GUM 5.1.2).
func TestNeedBudget(t *testing.T) {
	a, err := analyze.AskNeed(analyze.NeedQuestion{Kind: judge.Bearing, Seat: analyze.SeatData{
		BoreMM: num(100), ShaftMeasuredUM: num(25), BoreMeasuredUM: num(-5), MeasuredUUM: num(2), ShaftUK: num(1)}})
	if err != nil {
		t.Fatal(err)
	}
	coefficient := 0.05 / math.Sqrt(3) * 37.5 // 5 % half-width, rectangular, on the 37.5 K of warming (GUM 4.3.7)
	shaft := 1.0                              // one steel: a kelvin of the shaft is a kelvin of the bore
	sizes := 2 * math.Sqrt2 / (100e3 * 12e-6) // two sizes of 2 µm each
	if want := math.Sqrt(coefficient*coefficient + shaft*shaft + sizes*sizes); math.Abs(a.Need.StdK-want) > 1e-6 || len(a.Need.Budget) != 3 {
		t.Errorf("u = %v K of %v, want %v", a.Need.StdK, a.Need.Budget, want)
	}
}

func TestNeedColdShaft(t *testing.T) {
	q := analyze.NeedQuestion{Kind: judge.Gear, MaxTempC: num(120), Seat: analyze.SeatData{BoreMM: num(100), InterferenceUM: num(30)}}
	a, err := analyze.AskNeed(q)
	if err != nil {
		t.Fatal(err)
	}
	if a.Need.Feasibility != joint.NotByWarming || a.Need.CoolShaftC == nil {
		t.Fatalf("%s, cool shaft to %v", a.Need.Feasibility, a.Need.CoolShaftC)
	}
	cold := float64(*a.Need.CoolShaftC)
	q.Seat.ShaftC = &cold
	if a, err = analyze.AskNeed(q); err != nil || !a.ByWarming() {
		t.Errorf("with the shaft at %v °C as advised: %v, %v", cold, a.Need.Words, err)
	}
}

// TestMakerIsSaidNotJudged: the maker's rate and holding time, and where settings come from, are said with every cycle, and change
// no verdict.
func TestMakerIsSaidNotJudged(t *testing.T) {
	var log strings.Builder
	log.WriteString("time s,inner C,outer C\n")
	for i := range 400 {
		at := min(float64(i), 300)
		fmt.Fprintf(&log, "%d,%.1f,%.1f\n", i, 20+0.25*at, 20+0.1*at)
	}
	run := func(m analyze.Maker, said ...string) analyze.LogResult {
		var a analyze.Analyzer
		return a.Log("ramp.csv", strings.NewReader(log.String()), analyze.Settings{Judge: judge.Settings{Kind: judge.Bearing}, Said: said, Maker: m})
	}
	bare := run(analyze.Maker{})
	r := run(analyze.Maker{MaxRateKPerMin: num(10), MaxRateSource: "sheet 12", HoldMin: num(20), HoldSource: "sheet 13"}, "limit from somewhere")
	if len(r.Cycles) != 1 || r.Verdict != bare.Verdict || r.Reason != bare.Reason {
		t.Fatalf("%d cycles, verdict %v (%s), without a maker's figures %v (%s)", len(r.Cycles), r.Verdict, r.Reason, bare.Verdict, bare.Reason)
	}
	j := &r.Cycles[0].Judgement
	notes := strings.Join(j.Notes, "\n")
	for _, want := range []string{
		"the maker asks for 20 min at temperature (sheet 13): not judged",
		"the inner ring warmed at 15.", "faster than the 10 K/min that the maker allows (sheet 12): noted, not judged",
		"the outer ring warmed at 6.0", "within the 10 K/min",
	} {
		if !strings.Contains(notes, want) {
			t.Errorf("%q is not said in\n%s", want, notes)
		}
	}
	if !strings.Contains(strings.Join(j.Assumed, "\n"), "limit from somewhere") {
		t.Errorf("where settings come from is not said: %v", j.Assumed)
	}
}
