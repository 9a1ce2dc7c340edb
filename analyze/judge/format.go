package judge

import (
	"strconv"

	"ringheat/analyze/quantity"
)

// plain writes a figure that was given, such as a limit, with the digits it was given with.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// figure writes a measured value with the digits that its standard uncertainty deserves, and a distance
// to it that is not 0 never as 0.0.
func figure(v, u float64) string { return quantity.Format(v, u) }

// clock writes a time since the log's first row.
func clock(s float64) string {
	return "t = " + duration(s)
}

// duration writes seconds as people say them: "42 s", "12 min 30 s", "2 h 5 min".
func duration(s float64) string {
	sign := ""
	if s < 0 {
		sign, s = "-", -s
	}
	switch {
	case !quantity.Finite(s):
		return "not known"
	case s < 9.95:
		return sign + plainTrim(quantity.FormatDecimals(s, 1)) + " s"
	case s < 119.5:
		return sign + quantity.FormatDecimals(s, 0) + " s"
	}
	whole := int64(s + 0.5)
	h, m, sec := whole/3600, whole/60%60, whole%60
	if h == 0 {
		if sec == 0 {
			return sign + strconv.FormatInt(m, 10) + " min"
		}
		return sign + strconv.FormatInt(m, 10) + " min " + strconv.FormatInt(sec, 10) + " s"
	}
	if m == 0 {
		return sign + strconv.FormatInt(h, 10) + " h"
	}
	return sign + strconv.FormatInt(h, 10) + " h " + strconv.FormatInt(m, 10) + " min"
}

// plainTrim takes ".0" off.
func plainTrim(s string) string {
	if n := len(s); n > 2 && s[n-2:] == ".0" {
		return s[:n-2]
	}
	return s
}
