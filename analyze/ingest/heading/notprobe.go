package heading

import (
	"strings"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// statistic settles whether the column is a summary.
func (m *Meaning) statistic(w *words, ts []token) {
	if m.Statistic != NoStatistic || m.Quantity == Time || m.Quantity == Index {
		return
	}
	minimum, interval := w.has(wMin), false
	if minimum && w.first[wMin] == w.last[wMin] && isInterval(ts, int(w.first[wMin])-1) {
		minimum, interval = false, true
	}
	switch {
	case w.has(wSd), w.has(wDifference) && w.has(wType), w.has(wStandard) && (w.has(wDifference) || w.has(wOffset)):
		m.Statistic = StandardDeviation
	case w.has(wRange):
		m.Statistic = Range
	case minimum && w.has(wMax):
		m.Statistic = Range
	case minimum:
		m.Statistic = Minimum
	case w.has(wMax):
		m.Statistic = Maximum
	case w.has(wAvg), interval:
		m.Statistic = Average
	}
}

// isInterval says whether the "min" at token i means minutes: "10 min", "(5 min)". A number that belongs to a probe does
// not count: "T1 min", "Probe 2 min".
func isInterval(ts []token, i int) bool {
	if i < 1 || ts[i-1].kind != tNumber || ts[i].text != "min" {
		return false
	}
	switch ts[i-1].text {
	case "1", "2", "3", "5", "10", "15", "20", "30", "60":
	default:
		return false
	}
	if i < 2 || ts[i-1].depth > ts[i-2].depth {
		return true
	}
	if !ts[i-1].apart && ts[i-2].kind == tWord {
		return false
	}
	switch ts[i-2].a {
	case wChannel, wTsensor, wTemp, wNumber, wName, wBearing:
		return false
	}
	return true
}

// notProbe settles whether a column with a temperature unit is a probe.
func (m *Meaning) notProbe(plain string, w *words, ts []token, unit UnitMeaning) {
	if m.Quantity == Voltage && (m.Role != series.NoRole || w.has(wTemp) || w.has(wTsensor) || w.has(wChannel)) {
		m.NotProbe, m.Reason = VoltageColumn, "the heading names a voltage; it takes the thermocouple's table and the cold junction to make a temperature of it"
		if m.UnitText != "" {
			m.Reason = "the unit " + m.UnitText + " is a voltage; it takes the thermocouple's table and the cold junction to make a temperature of it"
		}
		return
	}
	if m.Quantity != Temperature && m.Quantity != NoQuantity && m.Quantity != Value {
		return
	}
	word := func(cs ...class) string {
		for _, c := range cs {
			if w.has(c) {
				t := ts[w.first[c]-1]
				return `"` + strings.TrimSpace(plain[t.from:t.to]) + `"`
			}
		}
		return ""
	}
	set := func(k NotProbeKind, reason string) {
		m.NotProbe, m.Reason, m.Role, m.RoleWords = k, reason, series.NoRole, ""
	}
	spoken := m.Quantity == Temperature || m.Unit != quantity.UnknownUnit
	switch {
	case unit.Difference:
		set(DifferenceColumn, "the unit "+m.UnitText+" is that of a difference or a rate, not of a temperature")
	case (w.has(wAlarm) || w.has(wLimit)) && spoken:
		set(AlarmColumn, word(wAlarm, wLimit)+" names an alarm or a limit, not a reading")
	case m.Statistic == StandardDeviation:
		if m.Quantity == NoQuantity {
			m.Quantity = Temperature
		}
		set(StatisticColumn, word(wSd, wStandard, wDifference)+" names a standard deviation")
	case w.has(wDifference) && !(w.has(wStandard)) && spoken, isDelta(plain, ts) && spoken:
		reason := word(wDifference)
		if reason == "" {
			reason = "the delta"
		}
		set(DifferenceColumn, reason+" names a difference between temperatures")
	case m.Statistic == Range && spoken:
		set(StatisticColumn, word(wRange, wMin)+" names a range, not a reading")
	case w.has(wRate) && (w.has(wTemp) || w.has(wDifference) || spoken):
		set(DifferenceColumn, word(wRate)+" names a rate of change")
	case m.minusOfRoles(ts):
		set(DifferenceColumn, "the heading names one reading minus another")
	case m.Role == series.SetPoint:
		m.NotProbe, m.Reason = SetPointColumn, `"`+m.RoleWords+`" names a set point, not a reading`
	case w.has(wUncertainty), isPlusMinus(plain), hasPhrase(ts, "k", "=") && spoken:
		reason := word(wUncertainty)
		if reason == "" && isPlusMinus(plain) {
			reason = "the sign ±"
		} else if reason == "" {
			reason = "the coverage factor k"
		}
		set(UncertaintyColumn, reason+" names an uncertainty or tolerance")
	case w.has(wDew), w.has(wWet), isHeatIndex(ts):
		reason := word(wDew, wWet)
		if reason == "" {
			reason = "the heading"
		}
		set(DewPointColumn, reason+" names a dew point, wet-bulb or felt temperature, which is calculated from humidity")
	case w.has(wJunction), w.has(wCold) && (w.has(wJoint) || hasText(ts, "giunto")):
		set(InternalColumn, word(wJunction, wCold)+" names the cold junction inside the logger")
	case w.has(wInternal) || w.has(wInside) && hasText(ts, "internal") && w.has(wLogger):
		set(InternalColumn, word(wInternal, wLogger)+" names a temperature of electronics, not of the part")
	case w.has(wLogger) && w.has(wTemp) && w.first[wTemp] == w.first[wLogger]+1:
		set(InternalColumn, word(wLogger)+" names the logger's own temperature")
	case w.has(wBattery) && spoken:
		set(InternalColumn, word(wBattery)+" names a battery's temperature")
	case w.has(wOffset) && spoken:
		set(OffsetColumn, word(wOffset)+" names a correction, not a reading")
	case w.has(wStatus) && hasErrorWord(ts) && spoken:
		set(UncertaintyColumn, word(wStatus)+" names an error, not a reading")
	case w.has(wComputed) && spoken:
		m.NotProbe, m.Reason = ComputedColumn, word(wComputed)+" names a calculated value, not a reading"
	case m.Statistic != NoStatistic && (spoken || m.Quantity == Value):
		m.NotProbe, m.Reason = StatisticColumn, summaryWord(m.Statistic, word)+" names a summary of a probe's readings"
		if m.UnitPlace == NoPlace && m.Reason == " names a summary of a probe's readings" {
			m.Reason = "the heading names a summary of a probe's readings"
		}
	}
}

// summaryWord gives the word that names a summary.
func summaryWord(s Statistic, word func(...class) string) string {
	switch s {
	case Maximum:
		return word(wMax)
	case Average:
		return word(wAvg, wMin)
	}
	return word(wMin, wMax, wAvg)
}

// isHeatIndex says whether a heading names a felt temperature in two words.
func isHeatIndex(ts []token) bool {
	return hasPhrase(ts, "heat", "index") || hasPhrase(ts, "wind", "chill")
}

func hasErrorWord(ts []token) bool {
	for i := range ts {
		switch ts[i].text {
		case "error", "err", "fehler", "erreur", "errore", "erro", "fel", "fout", "blad":
			return true
		}
	}
	return false
}

func isPlusMinus(plain string) bool {
	return strings.Contains(plain, "±") || strings.Contains(plain, "+/-") || strings.Contains(plain, "+-")
}

// isDelta says whether a heading writes a difference with a sign or letter: "ΔT", "dT", "d_T" with a unit.
func isDelta(plain string, ts []token) bool {
	if strings.Contains(plain, "Δ") {
		return true
	}
	for i := 0; i+1 < len(ts); i++ {
		if ts[i].text == "d" && !ts[i].capital && ts[i+1].text == "t" && plain[ts[i+1].from:ts[i+1].to] == "T" {
			return true
		}
	}
	return len(ts) > 0 && ts[0].text == "dt" && ts[0].capital
}

// minusOfRoles says whether a heading subtracts: "Inner - Outer", "IR-OR", "T1-T2", "inner minus outer".
func (m *Meaning) minusOfRoles(ts []token) bool {
	for i := 1; i+1 < len(ts); i++ {
		sign := ts[i].text == "-" || ts[i].a == wMinus
		if !sign || ts[i].used {
			continue
		}
		left, right := i-1, i+1
		for left > 0 && ts[left].kind == tWord && isPlaceNoun(ts[left].a) {
			left--
		}
		if side := sideOf(&ts[left]); side != 0 {
			if other := sideOf(&ts[right]); other != 0 && other != side {
				return true
			}
		}
		// T1-T2: the same word with two different numbers.
		if i >= 2 && i+2 < len(ts) && ts[i-1].kind == tNumber && ts[i+2].kind == tNumber && ts[i-2].kind == tWord &&
			ts[i+1].kind == tWord && ts[i-2].text == ts[i+1].text && ts[i-1].text != ts[i+2].text {
			return true
		}
	}
	return false
}

func isPlaceNoun(c class) bool { return c == wRing || c == wRace || c == wTemp }

// sideOf gives 1 for a word of the inner side, 2 for the outer, 3 for other places, 0 for none.
func sideOf(t *token) int {
	switch t.a {
	case wInner, wInside, wBore, wIr, wId:
		return 1
	case wOuter, wOutside, wRim, wOr, wOd, wAr:
		return 2
	case wAmbient:
		return 3
	case wShaft:
		return 4
	}
	return 0
}
