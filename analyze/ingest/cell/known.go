package cell

import (
	"math"
	"strconv"

	"ringheat/analyze/quantity"
)

// known is a number that loggers commonly write for "no reading".
type known struct {
	value  float64
	fixed  bool // written as it stands in every unit; otherwise it is a temperature in °C that is converted with the readings
	means  string
	source string
}

const practice = "common practice, no source"

// The table of known error numbers. It only says what a number that stands apart probably means, and lets one
// stretch of it be enough; being in the table never makes a reading an error by itself.
var knownErrors = []known{
	{-9999, true, "no data", practice},
	{-9999.9, true, "no data", practice},
	{-9999.99, true, "no data", practice},
	{-99999, true, "no data", practice},
	{-999999, true, "no data", practice},
	{-999, true, "no data", practice},
	{-999.9, true, "no data", practice},
	{-999.99, true, "no data", practice},
	{-99.9, true, "no data", practice},
	{-99.99, true, "no data", practice},
	{-99, true, "no data", practice},
	{-888.8, true, "no data", practice},
	{-8888, true, "no data", practice},
	{-7999, true, "no data", practice},
	{-6999, true, "no data", practice},
	{6999, true, "over-range", practice},
	{7999, true, "over-range", practice},
	{9999, true, "over-range", practice},
	{9999.9, true, "over-range", practice},
	{99999, true, "over-range", practice},
	{999999, true, "over-range", practice},
	{999, true, "over-range", practice},
	{999.9, true, "over-range", practice},
	{999.99, true, "over-range", practice},
	{888.8, true, "display test or over-range", practice},
	{8888, true, "display test or over-range", practice},
	{1999, true, "full scale of a 3 1/2 digit display", practice},
	{1999.9, true, "full scale of a 4 1/2 digit display", practice},
	{199.9, true, "full scale of a 3 1/2 digit display", practice},
	{32767, true, "largest 16-bit number", "two's complement, 2^15 - 1"},
	{-32768, true, "smallest 16-bit number", "two's complement, -2^15"},
	{3276.7, true, "largest 16-bit number in tenths", "two's complement, 2^15 - 1"},
	{-3276.8, true, "smallest 16-bit number in tenths", "two's complement, -2^15"},
	{327.67, true, "largest 16-bit number in hundredths", "two's complement, 2^15 - 1"},
	{-327.68, true, "smallest 16-bit number in hundredths", "two's complement, -2^15"},
	{65535, true, "largest unsigned 16-bit number", "binary, 2^16 - 1"},
	{65534, true, "largest unsigned 16-bit number less one", "binary, 2^16 - 2"},
	{6553.5, true, "largest unsigned 16-bit number in tenths", "binary, 2^16 - 1"},
	{6553.4, true, "largest unsigned 16-bit number in tenths less one", "binary, 2^16 - 2"},
	{655.35, true, "largest unsigned 16-bit number in hundredths", "binary, 2^16 - 1"},
	{2147483647, true, "largest 32-bit number", "two's complement, 2^31 - 1"},
	{-2147483648, true, "smallest 32-bit number", "two's complement, -2^31"},
	{4294967295, true, "largest unsigned 32-bit number", "binary, 2^32 - 1"},
	{9.91e37, true, "not a number", "SCPI-1999 vol. 1, 7.2.1.5 (from memory)"},
	{9.9e37, true, "overflow", "SCPI-1999 vol. 1, 7.2.1.4 (from memory)"},
	{-9.9e37, true, "negative overflow", "SCPI-1999 vol. 1, 7.2.1.4 (from memory)"},
	{-127, false, "digital probe not answering", practice},
	{85, false, "digital probe's value at power-on", practice},
	{850, false, "upper end of the platinum resistance scale: open probe", "IEC 60751, range -200 to 850 °C"},
	{-200, false, "lower end of the platinum resistance scale: shorted probe", "IEC 60751, range -200 to 850 °C"},
	{1372, false, "upper end of thermocouple type K: open probe", "IEC 60584-1, type K table ends at 1372 °C"},
	{1370, false, "upper end of thermocouple type K: open probe", practice},
	{1200, false, "upper end of thermocouple type J: open probe", "IEC 60584-1, type J table ends at 1200 °C"},
	{400, false, "upper end of thermocouple type T: open probe", "IEC 60584-1, type T table ends at 400 °C"},
	{1000, false, "upper end of thermocouple type E: open probe", "IEC 60584-1, type E table ends at 1000 °C"},
	{1300, false, "upper end of thermocouple type N: open probe", "IEC 60584-1, type N table ends at 1300 °C"},
	{1820, false, "upper end of thermocouple type B: open probe", "IEC 60584-1, type B table ends at 1820 °C"},
	{1768, false, "upper end of thermocouple types R and S: open probe", "IEC 60584-1, types R and S end at 1768 °C"},
	{-210, false, "lower end of thermocouple type J", "IEC 60584-1, type J table begins at -210 °C"},
	{-270, false, "lower end of thermocouples", "IEC 60584-1, types E, K, N, T begin at -270 °C"},
	{-273.15, false, "absolute zero: no signal", "definition of the kelvin, SI brochure"},
	{-273.1, false, "absolute zero: no signal", "definition of the kelvin, SI brochure"},
	{-273.2, false, "absolute zero: no signal", "definition of the kelvin, SI brochure"},
	{-273, false, "absolute zero: no signal", "definition of the kelvin, SI brochure"},
	{-17.8, false, "0 °F: no signal", practice},
	{0, true, "nought: no signal", practice},
}

// knownError finds a number in the table. It may be written in °C, or converted to the column's unit and rounded to the tenth.
func knownError(v float64, unit quantity.TemperatureUnit) *known {
	for i := range knownErrors {
		k := &knownErrors[i]
		if v == k.value || math.Abs(k.value) > 1e30 && math.Abs(v/k.value-1) < 1e-3 {
			if k.fixed || unit == quantity.DegreeCelsius || unit == quantity.UnknownUnit {
				return k
			}
			continue
		}
		if k.fixed {
			continue
		}
		switch unit {
		case quantity.DegreeFahrenheit:
			if math.Abs(v-(k.value*1.8+32)) < 0.0501 {
				return k
			}
		case quantity.KelvinUnit:
			if math.Abs(v-(k.value+273.15)) < 0.0501 {
				return k
			}
		}
	}
	return nil
}

func shortest(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
