package clock

import "strings"

// describe says in words how a stamp is written.
func describe(s *stamp, choice int, minSec bool) string {
	date := ""
	if s.hasDate {
		sep := string(s.dateSep)
		switch s.dateSep {
		case 0:
			sep = ""
		case 'w':
			sep = " "
		}
		y := "yyyy"
		if s.digits2 {
			y = "yy"
		}
		switch {
		case s.noYear && s.named && s.nameLead:
			date = "Mon dd"
		case s.noYear && s.named:
			date = "dd" + sep + "Mon"
		case s.noYear && choice == mdy:
			date = "mm" + sep + "dd"
		case s.noYear:
			date = "dd" + sep + "mm"
		case s.named && s.nameLead:
			date = "Mon dd " + y
		case s.named && !s.yearLast && !s.digits2:
			date = "yyyy" + sep + "Mon" + sep + "dd"
		case s.named:
			date = "dd" + sep + "Mon" + sep + y
		case s.fixed:
			date = "yyyy" + sep + "mm" + sep + "dd"
		case choice == dmy:
			date = "dd" + sep + "mm" + sep + y
		case choice == mdy:
			date = "mm" + sep + "dd" + sep + y
		default:
			date = y + sep + "mm" + sep + "dd"
		}
	}
	t := ""
	if s.hasTime {
		switch {
		case s.worded:
			t = "number and unit"
		case s.timeParts == 2 && minSec:
			t = "mm:ss"
		case s.timeParts == 2:
			t = "h:mm"
		default:
			t = "h:mm:ss"
		}
		if s.fracDigits > 0 && !s.worded {
			t += "." + strings.Repeat("f", int(min(s.fracDigits, 9)))
		}
		if s.hasDays {
			t = "days and " + t
		}
		if s.half != noHalf {
			t += " AM/PM"
		}
		if s.hasZone {
			t += " with zone"
		}
	}
	switch {
	case date == "":
		return t
	case t == "":
		return date
	case s.timeFirst:
		return t + " " + date
	}
	return date + " " + t
}

// reorder changes the words of a date format from one order to another.
func reorder(format string, from, to int) string {
	if from == to {
		return format
	}
	for _, sep := range []string{"/", ".", "-", " ", ""} {
		for _, y := range []string{"yyyy", "yy"} {
			words := [orders]string{"dd" + sep + "mm" + sep + y, "mm" + sep + "dd" + sep + y, y + sep + "mm" + sep + "dd"}
			if strings.Contains(format, words[from]) {
				return strings.Replace(format, words[from], words[to], 1)
			}
		}
	}
	return format
}
