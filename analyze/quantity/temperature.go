// Package quantity holds the physical quantities that every stage of ringheat speaks:
// a temperature (a point on a scale), a temperature difference, the units a probe logger
// writes, and how many digits a value with an uncertainty deserves.
//
// A point and a difference are different types on purpose: 20 °C is 68 °F, but a difference
// of 20 K is 36 °F. Values are converted once, when a log is read; from there on every
// temperature is in degrees Celsius and every difference in kelvin.
package quantity

import "math"

// Celsius is a temperature, a point on the Celsius scale.
type Celsius float64

// Kelvin is a temperature difference.
type Kelvin float64

// Minus gives the difference between two temperatures.
func (c Celsius) Minus(d Celsius) Kelvin { return Kelvin(c - d) }

// Plus moves a temperature by a difference.
func (c Celsius) Plus(k Kelvin) Celsius { return c + Celsius(k) }

// AbsoluteZero is 0 K; no temperature lies below it (definition of the kelvin, SI brochure 9th ed.).
const AbsoluteZero Celsius = -273.15

// TemperatureUnit is the unit in which a logger wrote a temperature.
type TemperatureUnit uint8

// The units a temperature column can have. UnknownUnit is the zero value: nothing was found that names one.
const (
	UnknownUnit TemperatureUnit = iota
	DegreeCelsius
	DegreeFahrenheit
	KelvinUnit
)

// String gives the unit's symbol, "" for UnknownUnit.
func (u TemperatureUnit) String() string {
	switch u {
	case DegreeCelsius:
		return "°C"
	case DegreeFahrenheit:
		return "°F"
	case KelvinUnit:
		return "K"
	}
	return ""
}

// Letter gives the one-letter name used in flags, JSON and lists: C, F, K, or "" for UnknownUnit.
func (u TemperatureUnit) Letter() string {
	switch u {
	case DegreeCelsius:
		return "C"
	case DegreeFahrenheit:
		return "F"
	case KelvinUnit:
		return "K"
	}
	return ""
}

// Convert gives the value v, written in unit u, in degrees Celsius. UnknownUnit is taken as Celsius.
// The scales are defined in the SI brochure (t/°C = T/K - 273.15) and by t/°F = 1.8 t/°C + 32.
func (u TemperatureUnit) Convert(v float64) Celsius {
	switch u {
	case DegreeFahrenheit:
		return Celsius((v - 32) / 1.8)
	case KelvinUnit:
		return Celsius(v - 273.15)
	}
	return Celsius(v)
}

// ConvertStep gives a difference written in unit u (a display step, a tolerance) in kelvin.
func (u TemperatureUnit) ConvertStep(v float64) Kelvin {
	if u == DegreeFahrenheit {
		return Kelvin(v / 1.8)
	}
	return Kelvin(v)
}

// Finite says whether v is an ordinary number: neither NaN nor an infinity.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
