package segment

import "ringheat/analyze/quantity"

func kelvin(v float64) quantity.Kelvin { return quantity.Kelvin(v) }
