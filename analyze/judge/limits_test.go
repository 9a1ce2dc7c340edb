package judge

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
)

func TestBuiltInLimits(t *testing.T) {
	table, err := LoadLimits(bytes.NewReader(builtInLimits), BuiltInLimitsName)
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		kind   PartKind
		class  string
		maxC   float64
		source string
	}{
		{Bearing, "", 120, "common practice; MIL-HDBK-1164 table 17 and TM 5-4210-233-14&P-1 name 93 to 121 °C and at most 135 °C of oil"},
		{Bearing, "SN", 120, "DIN 623-1 as reproduced on two public pages"},
		{Bearing, "S0", 150, "DIN 623-1 as reproduced on a public page"},
		{Bearing, "S1", 200, "DIN 623-1 as reproduced on two public pages"},
		{Bearing, "S2", 250, "DIN 623-1 as reproduced on two public pages"},
		{Bearing, "S3", 300, "DIN 623-1 as reproduced on a public page"},
		{Bearing, "S4", 350, "DIN 623-1 as reproduced on a public page"},
		{Bearing, "sealed", 80, "common practice, no source"},
		{Bearing, "s1+sealed", 80, "the strictest of the classes decides"},
		{Bearing, "s1+cage-polyamide", 120, "the strictest of the classes decides"},
		{Gear, "", 150, "common practice, no source"},
		{Sleeve, "", 120, "common practice, no source"},
	} {
		got, err := table.Find(tc.kind, tc.class)
		if err != nil || got.MaxTemp.Value != tc.maxC {
			t.Errorf("%s %q: %v °C, %v, want %v (%s)", tc.kind, tc.class, got.MaxTemp.Value, err, tc.maxC, tc.source)
		}
	}
	for _, k := range partKinds {
		got, err := table.Find(k, GeneralClass)
		if err != nil {
			t.Errorf("%s has no general row: %v", k, err)
		}
		if got.MaxRingDiff.Absent == k.TwoRings() {
			t.Errorf("%s: limit between rings absent %v", k, got.MaxRingDiff.Absent)
		}
		if k.TwoRings() && got.MaxRingDiff.Value != 35 {
			t.Errorf("%s: %v K between the rings, want 35 (common practice, from memory: 30 to 50 K)", k, got.MaxRingDiff.Value)
		}
	}
	// A sealed ring's allowance is nothing, whatever the other classes say.
	if got, _ := table.Find(Bearing, "s1+sealed"); got.OverCeiling.Value != 0 || got.OverCeilingClass != "sealed" {
		t.Errorf("ceiling %v from %s", got.OverCeiling.Value, got.OverCeilingClass)
	}
}

func TestLimitsTableGoesRound(t *testing.T) {
	table := DefaultLimits()
	var out bytes.Buffer
	if err := table.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	again, err := LoadLimits(&out, BuiltInLimitsName)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(table, again) {
		t.Errorf("%+v\nbecame\n%+v", table, again)
	}
}

const limitsHead = "kind,ring_class,max_temp_c,max_temp_source,max_temp_confidence,max_ring_diff_k,max_ring_diff_source,max_ring_diff_confidence,over_ceiling_k,over_ceiling_source,over_ceiling_confidence,words\n"
const limitsRow = "bearing,general,110,works standard,read,25,works standard,read,0,works standard,read,all our bearings\n"

func TestLimitsTableOfTheUser(t *testing.T) {
	for _, tc := range []struct{ name, text string }{
		{"plain", limitsHead + limitsRow},
		{"byte order mark", "\xef\xbb\xbf" + limitsHead + limitsRow},
		{"carriage returns", strings.ReplaceAll(limitsHead+limitsRow, "\n", "\r\n")},
		{"columns in another order", "words,kind,ring_class,max_temp_c,max_temp_source,max_temp_confidence,over_ceiling_k,over_ceiling_source,over_ceiling_confidence,max_ring_diff_k,max_ring_diff_source,max_ring_diff_confidence\n" +
			"x,bearing,general,110,works standard,read,0,works standard,read,25,works standard,read\n"},
		{"capitals and spaces", limitsHead + "Bearing , GENERAL, 110 ,works standard,read, 25,works standard,read,0 ,works standard,read,\n"},
	} {
		table, err := LoadLimits(strings.NewReader(tc.text), "own.csv")
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		got, err := table.Find("", "")
		if err != nil || got.MaxTemp.Value != 110 || got.MaxRingDiff.Value != 25 || got.OverCeiling.Value != 0 || got.OverCeiling.Absent {
			t.Errorf("%s: %+v, %v", tc.name, got, err)
		}
		if _, err := table.Find(Gear, ""); err == nil || !strings.Contains(err.Error(), "--max-temp-c") {
			t.Errorf("%s: a kind without a row gives %v", tc.name, err)
		}
	}
}

func TestLimitsTableRefused(t *testing.T) {
	swap := func(old, new string) string { return limitsHead + strings.Replace(limitsRow, old, new, 1) }
	for _, tc := range []struct {
		name, text string
		want       []string
	}{
		{"empty", "", []string{"own.csv", "empty", "ringheat limits"}},
		{"header only", limitsHead, []string{"no row"}},
		{"unknown column", strings.Replace(limitsHead, "words", "colour", 1) + limitsRow, []string{"own.csv:1", "column 12", "colour", "max_temp_c"}},
		{"misspelt column", strings.Replace(limitsHead, "max_temp_c,", "max_temp,", 1) + limitsRow, []string{"own.csv:1", "\"max_temp\""}},
		{"missing column", "kind,ring_class,max_temp_c\nbearing,general,110\n", []string{"own.csv:1", "max_temp_source", "missing"}},
		{"column twice", strings.Replace(limitsHead, "words", "kind", 1) + limitsRow, []string{"column 12", "twice"}},
		{"semicolons", strings.ReplaceAll(limitsHead+limitsRow, ",", ";"), []string{"own.csv:1", "semicolons"}},
		{"too few cells", limitsHead + "bearing,general\n", []string{"own.csv", "line 2"}},
		{"no kind", swap("bearing,", ","), []string{"own.csv:2", "column kind", "empty"}},
		{"unknown kind", swap("bearing,", "wheel,"), []string{"own.csv:2", "wheel", "sleeve"}},
		{"no class", swap("general,", ","), []string{"own.csv:2", "ring_class", "general"}},
		{"class of two words", swap("general,", "s1+s2,"), []string{"ring_class", "s1+s2"}},
		{"no temperature", swap("110,works standard,read,", ",,,"), []string{"own.csv:2", "max_temp_c", "empty"}},
		{"source without temperature", swap("110,", ","), []string{"max_temp_c is empty"}},
		{"decimal comma", swap("110,", "\"110,5\","), []string{"max_temp_c", "110,5", "point"}},
		{"thousands", swap("110,", "\"1,100\","), []string{"max_temp_c", "1,100"}},
		{"unit in the cell", swap("110,", "110 °C,"), []string{"max_temp_c", "without its unit"}},
		{"not a number", swap("110,", "NaN,"), []string{"max_temp_c", "NaN"}},
		{"infinite", swap("110,", "Inf,"), []string{"max_temp_c"}},
		{"too hot", swap("110,", "11000,"), []string{"max_temp_c", "impossible", "20 to 1000"}},
		{"negative", swap("110,", "-110,"), []string{"max_temp_c", "impossible"}},
		{"no source", swap("110,works standard,", "110,,"), []string{"max_temp_source", "common practice"}},
		{"no confidence", swap("110,works standard,read,", "110,works standard,,"), []string{"max_temp_confidence"}},
		{"bearing without difference", swap("25,works standard,read,", ",,,"), []string{"max_ring_diff_k", "bearing needs one"}},
		{"gear with difference", swap("bearing,", "gear,"), []string{"max_ring_diff_k", "one body"}},
		{"difference of 0", swap(",25,", ",0,"), []string{"max_ring_diff_k", "impossible"}},
		{"no ceiling", swap(",0,works standard,read,", ",,,,"), []string{"over_ceiling_k", "write 0"}},
		{"row twice", limitsHead + limitsRow + limitsRow, []string{"own.csv:3", "line 2"}},
		{"not text", "\xff\xfe" + limitsHead, []string{"UTF-8"}},
		{"nul bytes", limitsHead + "\x00" + limitsRow, []string{"UTF-8"}},
		{"open quote", limitsHead + "\"bearing,general\n", []string{"own.csv", "line 2"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := LoadLimits(strings.NewReader(tc.text), "own.csv")
			if err == nil {
				t.Fatal("was taken")
			}
			for _, w := range tc.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not say %q", err, w)
				}
			}
		})
	}
}

func FuzzLoadLimits(f *testing.F) {
	f.Add(string(builtInLimits))
	f.Add(limitsHead + limitsRow)
	f.Add(limitsHead + "\"bearing\n\",general\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := LoadLimits(strings.NewReader(text), "own.csv")
		if err != nil {
			return
		}
		for i := range table.Rows {
			r := &table.Rows[i]
			if r.MaxTemp.Absent || !(r.MaxTemp.Value >= 20 && r.MaxTemp.Value <= hottest) || r.MaxTemp.Source == "" || r.Line < 2 {
				t.Errorf("row %+v was taken", r)
			}
		}
		var out bytes.Buffer
		if err := table.WriteCSV(&out); err != nil {
			t.Fatal(err)
		}
		again, err := LoadLimits(&out, "own.csv")
		if err != nil {
			t.Fatalf("what was written can't be read: %v\n%s", err, out.String())
		}
		for i := range again.Rows {
			again.Rows[i].Line = table.Rows[i].Line
		}
		if !reflect.DeepEqual(table, again) {
			t.Errorf("%+v\nbecame\n%+v", table, again)
		}
	})
}
