package cell

import "ringheat/analyze/quantity"

// Kind says what a cell holds.
type Kind uint8

// The kinds of a cell. Text is the zero value: nothing this package can read as a reading or its absence.
const (
	Text   Kind = iota
	Number      // a finite number stands in Value.Number
	Empty       // nothing but blanks or empty quotes
	Marker      // a word or sign that stands for "no reading"; Value.Marker names it
)

// Suffix is the unit written inside a cell behind its number.
type Suffix uint8

// The suffixes that are told apart. OtherSuffix is a unit that is no temperature and no voltage ("%", "hPa", "W").
const (
	NoSuffix Suffix = iota
	Celsius
	Fahrenheit
	Kelvin
	Millivolt
	Volt
	Percent
	OtherSuffix
)

// Temperature gives the temperature unit that the suffix names, UnknownUnit if it names none.
func (s Suffix) Temperature() quantity.TemperatureUnit {
	switch s {
	case Celsius:
		return quantity.DegreeCelsius
	case Fahrenheit:
		return quantity.DegreeFahrenheit
	case Kelvin:
		return quantity.KelvinUnit
	}
	return quantity.UnknownUnit
}

// Value is what one cell says.
type Value struct {
	Kind     Kind
	Number   float64 // set when Kind is Number; always finite
	Decimals int     // digits written behind the decimal mark, after the exponent is taken in (2.310E+01 has 2); never below 0
	Marker   string  // set when Kind is Marker: the marker's canonical name, e.g. "---", "OL", "NaN", "N/A"
	Suffix   Suffix  // unit written behind the number
	// OutOfRange says that the number is finite but too large for any temperature, time or power
	// that a logger records (magnitude above MaxMagnitude), or too large for a float64; then Number is ±MaxMagnitude.
	OutOfRange bool
	// Grouped says that thousands marks were taken out of the number ("1'234.5", "1 234,5").
	Grouped bool
}

// MaxMagnitude is the largest magnitude that Parse calls a sound number. It lies above a Unix time in
// nanoseconds (2e18) and far below what overflows any later sum of squares.
const MaxMagnitude = 1e20
