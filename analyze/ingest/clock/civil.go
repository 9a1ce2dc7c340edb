package clock

// daysFromCivil gives the days from 1970-01-01 to a date of the proleptic Gregorian calendar (ISO 8601).
func daysFromCivil(y, m, d int) int64 {
	if m <= 2 {
		y--
		m += 12
	}
	// The year now begins in March, so that the leap day is its last.
	era := y / 400
	if y < 0 {
		era = (y - 399) / 400
	}
	yearOfEra := y - era*400
	dayOfYear := (153*(m-3)+2)/5 + d - 1
	dayOfEra := yearOfEra*365 + yearOfEra/4 - yearOfEra/100 + dayOfYear
	return int64(era)*146097 + int64(dayOfEra) - 719468
}

// The years that a log can come from. Within them an instant in nanoseconds, and the difference of two,
// fits an int64.
const (
	firstYear = 1900
	lastYear  = 2114
)

// maxNs is the largest count of nanoseconds that a time column may name: 146 years.
const maxNs = 4_600_000_000_000_000_000

// validDate says whether a year, month and day exist and can be a log's.
func validDate(y, m, d int) bool {
	if y < firstYear || y > lastYear || m < 1 || m > 12 || d < 1 {
		return false
	}
	switch m {
	case 4, 6, 9, 11:
		return d <= 30
	case 2:
		if y%4 == 0 && (y%100 != 0 || y%400 == 0) {
			return d <= 29
		}
		return d <= 28
	}
	return d <= 31
}

// fullYear gives the year that two digits stand for: 69 to 99 are 1969 to 1999, 00 to 68 are 2000 to 2068
// (POSIX, strptime, conversion %y).
func fullYear(y int) int {
	if y < 69 {
		return 2000 + y
	}
	return 1900 + y
}
