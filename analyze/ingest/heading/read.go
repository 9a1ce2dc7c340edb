package heading

import (
	"strings"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// Read says what a heading means. text is the heading, several header rows joined by a space or a line
// end, outermost first; unit is the cell of the unit row, "" without one. Both may be damaged or hold
// anything. It never fails: a heading that says nothing gives a Meaning with nothing but Number -1.
//
// Read sees one heading. Settle, called over the headings of one log, settles what only their company can.
func Read(text, unit string) Meaning {
	m := Meaning{Number: -1}
	var row UnitMeaning
	rowOK := false
	if unit != "" {
		if row, rowOK = ReadUnit(unit); !rowOK {
			text += " " + unit // more words of the heading
		}
	}
	plain, _ := repair(text)
	var room [maxTokens]token
	ts := tokens(plain, room[:])

	m.ZoneS, m.ZoneKnown = zoneOf(ts)
	order, withTime := FormatOrder(plain)
	m.DateOrder = order
	if order != "" || withTime {
		useFormat(plain, ts)
	}
	found, ok := unitIn(plain, ts)
	place := InHeading
	if rowOK {
		switch {
		case ok && !(found.weak && row.Quantity == Temperature):
			// The heading's own unit stands nearer than the row's.
		case row.Bare && row.TimeUnitS == 60 && (hasClass(ts, wTemp) || hasRoleWord(ts)) && !hasTimeWord(ts):
			m.Statistic = Minimum // "min" below a temperature
		default:
			written, _ := repair(unit)
			found, ok, place = foundUnit{UnitMeaning: row, text: strings.TrimSpace(written)}, true, InUnitRow
		}
	}
	w := sort(ts)
	if ok {
		m.UnitText, m.UnitPlace, m.UnitWeak = found.text, place, found.weak
		m.Unit, m.UnitScale = found.Temperature, found.Scale
		m.TimeUnitS = found.TimeUnitS
	}
	m.Number = numberIn(ts)
	m.Elsewhere = elsewhere(&w, ts)
	m.quantity(&w, ts, found.UnitMeaning)
	if order != "" && m.Quantity != Temperature {
		m.Quantity, m.Time = Time, Date
		if withTime || w.has(wTime) || w.has(wClock) || w.has(wStamp) {
			m.Time = DateTime
		}
	}
	if m.Quantity == Temperature || m.Quantity == NoQuantity || m.Quantity == Value || m.Quantity == Voltage || m.Quantity == Status {
		m.role(plain, &w, ts)
	}
	m.statistic(&w)
	m.notProbe(plain, &w, ts, found.UnitMeaning)
	m.Stem = stem(ts)
	m.known = w.known > 0
	if w.has(wTemp) && m.NotProbe == MayBeProbe && m.Quantity == Temperature {
		switch {
		case hasText(ts, "high") || hasText(ts, "hi"):
			m.extreme = Maximum
		case hasText(ts, "low") || hasText(ts, "lo"):
			m.extreme = Minimum
		}
	}
	if w.all == 1 && len(ts) <= 2 {
		m.short = shortWord(ts)
	} else if len(ts) == 1 {
		m.short = shortWord(ts)
	}
	m.confide(&w)
	m.Evidence = m.evidence(&w, ts)
	return m
}

// IsHeading says whether a cell reads like a heading: it holds at least one word of the vocabulary ("Ch1" too)
// or a unit. Bare numbers, dates and unknown words are not counted.
func IsHeading(text string) bool {
	if text == "" {
		return false
	}
	m := Read(text, "")
	return m.Evidence != "" || m.known
}

// shortWord gives the first word of a heading when it has at most four letters: it may be one part of a date or clock ("MM").
func shortWord(ts []token) string {
	for i := range ts {
		if ts[i].kind == tWord && len(ts[i].text) <= 4 {
			return ts[i].text
		}
	}
	return ""
}

// words holds the unused words of a heading by class.
type words struct {
	first [classCount]int8 // 1 + index of the first token of the class, 0 for none
	last  [classCount]int8
	count int // unused words, fillers left out
	all   int // unused words, fillers too
	known int // unused words that stand in the vocabulary, fillers left out
}

func (w *words) has(c class) bool { return w.first[c] > 0 }

func sort(ts []token) (w words) {
	for i := range ts {
		t := &ts[i]
		if t.kind != tWord || t.used {
			continue
		}
		w.all++
		if t.a == wFiller && t.b == wNone {
			continue
		}
		w.count++
		if t.a != wNone {
			w.known++
		}
		for _, c := range [...]class{t.a, t.b} {
			if c == wNone {
				continue
			}
			if w.first[c] == 0 {
				w.first[c] = int8(i + 1)
			}
			w.last[c] = int8(i + 1)
		}
	}
	return w
}

// useFormat marks the letters of a spelled-out date or time format as used.
func useFormat(plain string, ts []token) {
	for from := 0; from < len(plain); {
		to := from
		for to < len(plain) && !isFormatBreak(plain[to]) {
			to++
		}
		if o, t := chunkOrder(plain[from:to]); o != "" || t {
			use(ts, from, to)
		}
		from = to + 1
	}
}

// numberIn gives the last whole number below 10000 that stands beside a word as its number, -1 without one.
func numberIn(ts []token) int {
	for i := len(ts) - 1; i >= 0; i-- {
		t := &ts[i]
		if t.kind != tNumber || t.used {
			continue
		}
		n, rest := wholeNumber(t.text)
		if rest != "" || n >= 10000 {
			continue
		}
		if i+1 < len(ts) && ts[i+1].text == "%" {
			continue
		}
		if i > 0 && ts[i-1].text == "pt" && !t.apart {
			continue // Pt100
		}
		return n
	}
	return -1
}

// elsewhere names the other body that a heading speaks of, "" without one.
func elsewhere(w *words, ts []token) string {
	for _, c := range [...]class{wElsewhere, wVoid} {
		if w.has(c) {
			return ts[w.first[c]-1].text
		}
	}
	return ""
}

// quantity settles what the column holds: the unit decides, then the words.
func (m *Meaning) quantity(w *words, ts []token, unit UnitMeaning) {
	switch {
	case unit.Quantity == Temperature:
		m.Quantity = Temperature
		return
	case unit.Quantity == Time:
		m.Quantity, m.Time = Time, timeKind(w, m, unit)
		return
	case unit.Quantity == Other && (w.has(wTemp) || w.has(wRing)):
		m.Quantity = Other
		return
	case unit.Quantity == Voltage && w.has(wBattery), unit.Quantity == Percent && w.has(wBattery):
		m.Quantity = Battery
		return
	case unit.Quantity == Percent && w.has(wHumidity):
		m.Quantity = Humidity
		return
	case unit.Quantity != NoQuantity:
		m.Quantity = unit.Quantity
		return
	}
	if w.has(wDiameter) && !w.has(wTemp) && (w.has(wInner) || w.has(wOuter) || w.has(wBore) || w.has(wRing) || w.count == 1 ||
		w.has(wShaft) || w.has(wBearing) || w.has(wInside) || w.has(wOutside)) {
		if w.has(wDiameter) && w.count == 1 && ts[w.first[wDiameter]-1].text == "dia" {
			// Portuguese and Spanish "day", or short for diameter.
			m.Quantity, m.Time = Time, DayPart
			return
		}
		m.Quantity = Length
		return
	}
	if q := wordQuantity(w, ts); q != NoQuantity {
		m.Quantity = q
		return
	}
	timeAt := int8(0)
	for _, c := range [...]class{wTime, wClock, wDate, wStamp, wElapsed, wEpoch, wSerialday, wUtc, wZone} {
		timeAt = max(timeAt, w.last[c])
	}
	if w.has(wData) && (timeAt > 0 || w.count == 1 || w.count == 2 && w.has(wIndex)) {
		timeAt = max(timeAt, w.last[wData])
	}
	tempAt := max(w.last[wTemp], w.last[wTheta])
	if w.has(wDew) || w.has(wWet) || isHeatIndex(ts) || w.has(wDifference) && strings.Contains(ts[w.first[wDifference]-1].text, "temp") {
		tempAt = max(tempAt, 1)
	}
	if w.has(wSet) && w.has(wValue) {
		tempAt = max(tempAt, 1)
	}
	switch {
	case timeAt > tempAt:
		m.Quantity = Time
	case tempAt > 0:
		m.Quantity = Temperature
	}
	if m.Quantity == NoQuantity {
		switch {
		case m.ZoneKnown:
			m.Quantity = Time
		case w.has(wAlarm), w.has(wStatus):
			m.Quantity = Status
		case w.has(wBattery):
			m.Quantity = Battery
		case w.has(wText):
			m.Quantity = Text
		case w.has(wInner), w.has(wBore), w.has(wAmbient), w.has(wShaft), w.has(wRing) && w.known > 1, w.has(wRace) && w.has(wOuter),
			w.has(wSetpoint), w.has(wOuter) && !w.has(wVoid) && !w.has(wElsewhere), w.has(wRim), w.has(wAir), w.has(wSeat) && w.known > 1:
			m.Quantity = Temperature // what a probe of that place measures
		case w.has(wTsensor), isPlatinum(ts):
			m.Quantity = Temperature
		}
	}
	if m.Quantity == NoQuantity {
		for i := range ts {
			if isTemperatureLetter(ts, i) {
				m.Quantity = Temperature
				break
			}
		}
	}
	if m.Quantity == NoQuantity {
		m.Quantity = plainQuantity(w, ts, m)
	}
	if m.Quantity == Time && m.Time == Elapsed && m.TimeUnitS == 0 {
		m.TimeUnitS = partUnit(w)
	}
	if m.Quantity == Time && hasPhrase(ts, "time", "zone") {
		m.Time = ZonePart
	}
	if m.Quantity == Time && m.Time == NoTime {
		m.Time = timeKind(w, m, unit)
		if m.TimeUnitS == 0 && (m.Time == Elapsed || m.Time >= YearPart || m.Time == AnyTime || m.Time == UnixTime) {
			m.TimeUnitS = partUnit(w)
		}
	}
}

// isPlatinum says whether a heading names a platinum thermometer by its resistance at 0 °C: Pt100, Pt500, Pt1000 (IEC 60751).
func isPlatinum(ts []token) bool {
	return hasPhrase(ts, "pt", "100") || hasPhrase(ts, "pt", "500") || hasPhrase(ts, "pt", "1000")
}

// isTemperatureLetter says whether a token is the letter T, or theta, standing for temperature: a capital one, or a small
// one with a number or a word behind it.
func isTemperatureLetter(ts []token, i int) bool {
	t := &ts[i]
	if t.used || t.kind != tWord {
		return false
	}
	switch t.text {
	case "θ", "ϑ":
		return true
	case "t":
	default:
		return false
	}
	return t.capital || i+1 < len(ts) && (ts[i+1].kind == tNumber || ts[i+1].kind == tWord && !isTimeClass(&ts[i+1]) && ts[i+1].a != wSecond)
}

// wordQuantity gives the quantity that words other than temperature and time name.
func wordQuantity(w *words, ts []token) Quantity {
	if w.has(wTemp) && !w.has(wHumidity) {
		// "Battery temp", "Power board temperature": the temperature is the head of the heading.
		return NoQuantity
	}
	best, at := NoQuantity, int8(0)
	for q := Voltage; q <= Battery; q++ {
		if c := quantityClass(q); c != wNone && w.last[c] > at {
			best, at = q, w.last[c]
		}
	}
	if w.has(wTemp) && w.last[wTemp] > at {
		return NoQuantity
	}
	if best == NoQuantity {
		// "Current" alone is a current; beside a temperature or set point it means the actual value.
		if w.has(wActual) && w.count == 1 && ts[w.first[wActual]-1].text == "current" {
			return Current
		}
		if w.has(wAdc) && w.count <= 2 {
			return Other
		}
	}
	if best == Speed && w.has(wRate) || best == Light && w.has(wTime) {
		return NoQuantity
	}
	return best
}

// plainQuantity reads headings of nothing but a general word: "No.", "Channel", "Value", "Seconds".
func plainQuantity(w *words, ts []token, m *Meaning) Quantity {
	numbered := false
	hash := hasPhrase(ts, "n", "°")
	if hash && w.count == 1 && m.Number < 0 {
		return Index
	}
	for i := range ts {
		if ts[i].used {
			continue
		}
		if ts[i].kind == tNumber {
			numbered = true
		}
		if ts[i].text == "#" || ts[i].text == "№" {
			hash = true
		}
	}
	switch {
	case w.count == 1 && ts[len(ts)-1].text == "t" && !numbered:
		m.Time = AnyTime
		return Time
	case w.has(wYear), w.has(wMonth), w.has(wDay), w.has(wHour), w.has(wMinute), w.has(wSecond), w.has(wMillisecond), w.has(wMicrosecond):
		if w.count <= 2 && !numbered {
			if w.has(wMillisecond) || w.has(wMicrosecond) {
				m.Time = Elapsed
			}
			return Time
		}
	}
	if !numbered && (w.has(wIndex) || w.has(wNumber) || w.has(wCounter) || hash && w.count == 0) && !w.has(wChannel) {
		return Index
	}
	switch {
	case w.has(wValue):
		return Value
	case w.has(wActual) && w.count == 1:
		m.actual = true
		return Value
	case w.count == 1 && (w.has(wMin) || w.has(wMax) || w.has(wAvg)):
		return Value
	case w.has(wUnit) && !numbered:
		return Unit
	case w.has(wName) && !numbered:
		return Name
	case w.has(wChannel) && !numbered && w.all == 1:
		return Name
	case w.has(wId) && w.count == 1 && !numbered:
		return Name
	case w.has(wSerialno) && !numbered:
		return Name
	case w.has(wZone):
		m.Time = ZonePart
		return Time
	case w.has(wAmpm) && (w.count == 1 || hasText(ts, "pm")):
		m.Time = AMPMPart
		return Time
	}
	return NoQuantity
}

// statistic settles whether the column is a summary.
func (m *Meaning) statistic(w *words) {
	if m.Statistic != NoStatistic || m.Quantity == Time || m.Quantity == Index {
		return
	}
	switch {
	case w.has(wSd), w.has(wDifference) && w.has(wType), w.has(wStandard) && (w.has(wDifference) || w.has(wOffset)):
		m.Statistic = StandardDeviation
	case w.has(wRange):
		m.Statistic = Range
	case w.has(wMin) && w.has(wMax):
		m.Statistic = Range
	case w.has(wMin):
		m.Statistic = Minimum
	case w.has(wMax):
		m.Statistic = Maximum
	case w.has(wAvg):
		m.Statistic = Average
	}
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
		m.NotProbe, m.Reason = StatisticColumn, word(wMin, wMax, wAvg)+" names a summary of a probe's readings"
		if m.UnitPlace == NoPlace && m.Reason == " names a summary of a probe's readings" {
			m.Reason = "the heading names a summary of a probe's readings"
		}
	}
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

func hasText(ts []token, text string) bool {
	for i := range ts {
		if ts[i].text == text {
			return true
		}
	}
	return false
}

func hasPhrase(ts []token, a, b string) bool {
	for i := 0; i+1 < len(ts); i++ {
		if ts[i].text == a && ts[i+1].text == b {
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

// stem joins the words that tell one probe from another.
func stem(ts []token) string {
	var b strings.Builder
	for i := range ts {
		t := &ts[i]
		if t.used || t.kind == tSymbol {
			continue
		}
		switch t.a {
		case wTemp, wMin, wMax, wAvg, wSd, wStandard, wRange, wStatus, wValue, wActual, wUnit, wAlarm, wLimit, wHigh, wLow, wFiller:
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(t.text)
	}
	return b.String()
}

// confide settles how far the words carry.
func (m *Meaning) confide(w *words) {
	if m.Role != series.NoRole {
		return // settled with the role
	}
	switch m.Quantity {
	case NoQuantity:
		m.Confidence = 0
	case Temperature:
		switch {
		case m.Unit != quantity.UnknownUnit && !m.UnitWeak:
			m.Confidence = 0.95
		case w.has(wTemp) || w.has(wDew):
			m.Confidence = 0.9
		case m.Unit != quantity.UnknownUnit:
			m.Confidence = 0.7
		case w.has(wTsensor):
			m.Confidence = 0.5
		default:
			m.Confidence = 0.4
		}
	case Time:
		switch {
		case m.Time == AnyTime && m.UnitText == "" && !w.has(wTime) && !w.has(wClock):
			m.Confidence = 0.4
		case w.has(wData) && w.count == 1:
			m.Confidence = 0.5
		default:
			m.Confidence = 0.9
		}
	case Index, Value, Name, Unit, Text, Status:
		m.Confidence = 0.7
	default:
		m.Confidence = 0.8
		if m.UnitText != "" {
			m.Confidence = 0.95
		}
	}
}

var quantityNames = [...]string{"", "a temperature", "a time", "a row number", "a voltage", "a current", "a power", "an energy", "a resistance",
	"a frequency", "a humidity", "a pressure", "a light level", "a mass", "a length", "a speed", "a flow", "a force", "a magnetic field",
	"a concentration", "a percentage", "a battery level", "a status", "a name", "a value", "a unit", "a remark", "another quantity"}

// String names the quantity with its article, "" for NoQuantity.
func (q Quantity) String() string {
	if int(q) < len(quantityNames) {
		return quantityNames[q]
	}
	return ""
}

// evidence writes the sentence that names the words.
func (m *Meaning) evidence(w *words, ts []token) string {
	var b strings.Builder
	switch {
	case m.NotProbe != MayBeProbe:
		b.WriteString(m.Reason)
		if m.Role != series.NoRole && m.NotProbe == StatisticColumn {
			b.WriteString(" (" + m.Role.String() + ")")
		}
	case m.Role != series.NoRole:
		b.WriteString(`"` + m.RoleWords + `" names the ` + m.Role.String() + ` role`)
	case m.Quantity != NoQuantity:
		b.WriteString("the heading names " + m.Quantity.String())
	}
	if m.UnitText != "" {
		if b.Len() > 0 {
			b.WriteString(", ")
		}
		if m.UnitPlace == InUnitRow {
			b.WriteString("unit row ")
		} else {
			b.WriteString("unit ")
		}
		b.WriteString(m.UnitText)
	}
	return b.String()
}
