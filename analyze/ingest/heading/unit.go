package heading

import "ringheat/analyze/quantity"

// UnitMeaning is what a unit's text says.
type UnitMeaning struct {
	Quantity    Quantity
	Temperature quantity.TemperatureUnit
	Scale       float64 // see Meaning.UnitScale; 1 for a plain temperature unit
	TimeUnitS   float64 // seconds in one unit, 0 when it is no unit of time
	Time        TimeKind
	Difference  bool // the unit is of a difference or a rate ("K/min", "ΔK")
	Damaged     bool // the degree sign was damaged ("�C", "Â°C", "?C")
}

// ReadUnit says what a text that should be nothing but a unit means: a cell of a unit row, a bracket
// of a heading, the value of a "units" line. Brackets and spaces around are ignored. ok is false when
// it is no unit that the vocabulary knows; the empty text is no unit.
func ReadUnit(text string) (u UnitMeaning, ok bool) { return UnitMeaning{}, false }

// CellSuffix says which temperature unit stands behind the figures of a cell ("23.4 °C": pass " °C").
// ok is false when the suffix is something else, also a unit of another quantity.
func CellSuffix(suffix string) (u quantity.TemperatureUnit, ok bool) {
	return quantity.UnknownUnit, false
}
