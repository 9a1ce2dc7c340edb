package heading

import (
	"strings"
)

// quantity settles what the column holds: the unit decides, then the words.
func (m *Meaning) quantity(w *words, ts []token, unit UnitMeaning) {
	switch {
	case unit.Quantity == Temperature:
		m.Quantity = Temperature
		return
	case unit.Quantity == Time:
		m.Quantity, m.Time = Time, timeKind(w, unit)
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
		m.Time = timeKind(w, unit)
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
	if best == Speed && w.has(wRate) || best == Light && w.has(wTime) || best == Frequency && w.has(wStamp) {
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
		m.actual = hasText(ts, "input") // a controller's measured value, beside a set point
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
