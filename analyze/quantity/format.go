package quantity

import (
	"math"
	"strconv"
)

// Decimals says how many decimals a value with standard uncertainty u deserves: enough to show
// u with two significant figures when its first figure is 1 or 2, else with one
// (GUM 7.2.6: uncertainties are quoted to at most two significant digits). The answer lies in 0..6;
// an uncertainty of 0, or one that is not a number, gives 1, the habit of the trade for probe readings.
func Decimals(u float64) int {
	if !Finite(u) || u <= 0 {
		return 1
	}
	exponent := math.Floor(math.Log10(u))
	lead := u / math.Pow(10, exponent)
	figures := 0.0
	if lead < 2.95 {
		figures = 1
	}
	d := int(figures - exponent)
	return min(max(d, 0), 6)
}

// Format writes v with the decimals that its standard uncertainty u deserves; "-0" never appears.
func Format(v, u float64) string { return FormatDecimals(v, Decimals(u)) }

// FormatDecimals writes v with a fixed number of decimals; "-0" never appears, and a value that
// is not a number is written as "not known".
func FormatDecimals(v float64, decimals int) string {
	if !Finite(v) {
		return "not known"
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if s[0] == '-' {
		zero := true
		for i := 1; i < len(s); i++ {
			if s[i] != '0' && s[i] != '.' {
				zero = false
				break
			}
		}
		if zero {
			return s[1:]
		}
	}
	return s
}
