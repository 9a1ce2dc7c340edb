package cell

import "ringheat/analyze/quantity"

// ErrorValue is one exact number that a logger wrote for "no reading", as found in a column.
type ErrorValue struct {
	Value    float64 // as the file writes it, in the file's unit
	Name     string  // key for counts: the number in its shortest form, e.g. "-9999", or "below absolute zero"
	Count    int     // rows marked
	Evidence string  // why it is no reading, in words
	Known    string  // what the number commonly stands for; "" for a number that only its standing apart gives away
	Runs     []Run   // the rows marked, in order
}

// Run is a stretch of rows, both ends included, 0-based.
type Run struct{ First, Last int }

// FindErrors looks through one column for numbers that stand for "no reading". values are in the file's own
// unit, NaN where the file has none; unit may be UnknownUnit. A number is taken for a marker only where it stands apart from the trace on
// both sides and is never approached; a real 850 °C or 85.0 °C on a smooth trace is left alone. Nothing is changed:
// the caller turns the rows into missing samples and counts them.
func FindErrors(values []float64, unit quantity.TemperatureUnit) []ErrorValue {
	return nil
}
