package heading

import (
	"strings"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

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
func (m *Meaning) evidence() string {
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
