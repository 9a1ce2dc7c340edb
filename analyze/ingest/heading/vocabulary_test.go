package heading

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// The tables are searched by halving, so order is everything; a word that function foldWord would write otherwise can never be found.
func TestTablesAreInOrder(t *testing.T) {
	used := map[class]bool{}
	for i, e := range vocabulary {
		if i > 0 && vocabulary[i-1].word >= e.word {
			t.Errorf("vocabulary: %q does not stand before %q", vocabulary[i-1].word, e.word)
		}
		if f := foldWord(e.word); f != e.word {
			t.Errorf("vocabulary: %q is written %q when folded", e.word, f)
		}
		if e.a == wNone || e.a == e.b {
			t.Errorf("vocabulary: %q has classes %d and %d", e.word, e.a, e.b)
		}
		used[e.a], used[e.b] = true, true
	}
	for c := wNone + 1; c < classCount; c++ {
		if !used[c] {
			t.Errorf("no word of class %d", c)
		}
	}
	for i, u := range units {
		if i > 0 && units[i-1].text >= u.text {
			t.Errorf("units: %q does not stand before %q", units[i-1].text, u.text)
		}
		if k := unitKey(u.text); k != u.text {
			t.Errorf("units: %q is written %q as a key", u.text, k)
		}
		if (u.quantity == Temperature) != (u.temperature != quantity.UnknownUnit) || (u.temperature != quantity.UnknownUnit) != (u.scale > 0) {
			t.Errorf("units: %q is half a temperature", u.text)
		}
	}
}

func TestFold(t *testing.T) {
	for s, want := range map[string]string{"Außen": "aussen", "AUSSEN": "aussen", "Gehäuse": "gehause", "Gehaeuse": "gehause", "GEHAUSE": "gehause", "börvärde": "borvarde", "zewnętrzny": "zewnetrzny",
		"wał": "wal", "Année": "annee", "Å": "a", "température": "temperature", "e\u0301cart": "ecart", "ÁÉÍÓÚÑ": "aeioun", "": "", "œil": "oil"} {
		// "ae", "oe", "ue" are folded too, so one more step makes the expectation plain.
		if got := foldWord(s); got != foldWord(want) {
			t.Errorf("foldWord(%q) = %q, want %q", s, got, foldWord(want))
		}
	}
}

// Spelling must not change the meaning.
func TestSpellingsAgree(t *testing.T) {
	same := func(a, b string) {
		t.Helper()
		x, y := Read(a, ""), Read(b, "")
		if x.Role != y.Role || x.Quantity != y.Quantity || x.Unit != y.Unit || x.NotProbe != y.NotProbe {
			t.Errorf("%q and %q differ: %q %s %q %d against %q %s %q %d", a, b, x.Role, x.Quantity, x.Unit, x.NotProbe, y.Role, y.Quantity, y.Unit, y.NotProbe)
		}
	}
	for _, h := range []string{"Inner ring temp [°C]", "Außenring [°C]", "bague extérieure (°C)", "pierścień wewnętrzny [K]", "Umgebung °F", "börvärde °C", "Taupunkt °C", "inner diameter (mm)"} {
		same(h, strings.ToUpper(h))
		same(h, strings.ToLower(h))
		same(h, strings.ReplaceAll(h, " ", "_"))
		same(h, strings.ReplaceAll(h, " ", "  "))
		same(h, "\u00a0"+strings.ReplaceAll(h, " ", "\u00a0"))
		same(h, strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss").Replace(h))
		same(h, strings.NewReplacer("é", "e", "ś", "s", "ę", "e", "ń", "n").Replace(h))
		same(h, strings.ReplaceAll(h, "°", "º"))
		same(h, strings.ReplaceAll(h, "°", "Â°"))
	}
}

func checkMeaning(t *testing.T, text, unit string, m Meaning) {
	t.Helper()
	if m.Number < -1 || m.Number >= 10000 {
		t.Errorf("Read(%q, %q): number %d", text, unit, m.Number)
	}
	if !(m.Confidence >= 0 && m.Confidence <= 1) {
		t.Errorf("Read(%q, %q): confidence %g", text, unit, m.Confidence)
	}
	if (m.Role != series.NoRole) != (m.RoleWords != "") {
		t.Errorf("Read(%q, %q): role %q by %q", text, unit, m.Role, m.RoleWords)
	}
	if (m.NotProbe != MayBeProbe) != (m.Reason != "") {
		t.Errorf("Read(%q, %q): ruled out %d for %q", text, unit, m.NotProbe, m.Reason)
	}
	if (m.Unit != quantity.UnknownUnit) != (m.UnitScale > 0) || m.Unit != quantity.UnknownUnit && m.Quantity != Temperature {
		t.Errorf("Read(%q, %q): unit %q, scale %g, %s", text, unit, m.Unit, m.UnitScale, m.Quantity)
	}
	if m.TimeUnitS < 0 || math.IsNaN(m.TimeUnitS) || (m.Time != NoTime) != (m.Quantity == Time) {
		t.Errorf("Read(%q, %q): %s, time kind %d, unit %g s", text, unit, m.Quantity, m.Time, m.TimeUnitS)
	}
	if m.ZoneS < -14*3600 || m.ZoneS > 15*3600 {
		t.Errorf("Read(%q, %q): zone %d s", text, unit, m.ZoneS)
	}
	if !utf8.ValidString(m.Evidence) || !utf8.ValidString(m.Stem) || !utf8.ValidString(m.RoleWords) {
		t.Errorf("Read(%q, %q): broken text in the meaning", text, unit)
	}
	if len(m.Evidence) > 4*maxHeading || len(m.Stem) > 2*maxHeading {
		t.Errorf("Read(%q, %q): meaning too long", text, unit)
	}
}

var seeds = []string{"Inner ring [°C]", "Außenring", "Time (s)", "T1-T2", "°C x10", "Date (dd/mm/yyyy)", "UTC+05:30", "Temp \xb0C", "((((((", "Innenringtemperaturinnenring", "i.r.o.r.", "Δ", "Ch1 (K)",
	"a/b/c/d", "Å-Å-Å", "Interval: every 5 s", "[[°C]]", "T/°C", "1/10 °C/min", strings.Repeat("ring", 40), strings.Repeat("a ", 200), "\u212a\u2103", "%", "tttttttttttt", "A \xf3"}

func FuzzRead(f *testing.F) {
	for i, s := range seeds {
		f.Add(s, seeds[len(seeds)-1-i])
		f.Add(s, "")
	}
	f.Fuzz(func(t *testing.T, text, unit string) {
		m := Read(text, unit)
		checkMeaning(t, text, unit, m)
		if again := Read(text, unit); again != m {
			t.Errorf("Read(%q, %q) differs from call to call", text, unit)
		}
		pair := []Meaning{m, Read(unit, ""), Read("OR", "")}
		Settle(pair)
		for i := range pair {
			if pair[i].Role != series.NoRole && pair[i].Confidence < Sure {
				t.Errorf("Settle leaves a doubtful role for %q, %q", text, unit)
			}
		}
		IsHeading(text)
		CellSuffix(text)
		if u, ok := ReadUnit(text); ok && u.Quantity == NoQuantity {
			t.Errorf("ReadUnit(%q) is a unit of nothing", text)
		}
		fact := ReadFact(text, unit)
		if fact.IntervalS < 0 || math.IsNaN(fact.IntervalS) || math.IsInf(fact.IntervalS, 0) || fact.Count < 0 || fact.Channel < 0 {
			t.Errorf("ReadFact(%q, %q) = %+v", text, unit, fact)
		}
		if key, value, ok := SplitKeyValue(text); ok && (key == "" || !strings.Contains(text, key) || !strings.Contains(text, value)) {
			t.Errorf("SplitKeyValue(%q) invents %q, %q", text, key, value)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	headings := []string{"Time (s)", "Inner ring [°C]", "Außenringtemperatur", "Raumtemperatur °C", "T1"}
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		Read(headings[i%len(headings)], "")
	}
}
