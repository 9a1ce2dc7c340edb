package heading

import (
	"strings"
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
	w := byClass(ts)
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
	if m.Time == DateTime || m.Time == Date || m.Time == TimeOfDay {
		m.TimeUnitS = 0 // "Timestamp every 1 min 0 sec" counts nothing
	}
	m.statistic(&w, ts)
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
	m.Evidence = m.evidence()
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
