package clock

import "unicode/utf8"

// fold writes a word in lower case and without accents into buf and gives the part used. A word that
// does not fit comes back cut, so that it matches nothing. Letters outside Latin are kept as they are.
func fold(word []byte, buf *[24]byte) []byte {
	n := 0
	for len(word) > 0 && n < len(buf)-4 {
		c := word[0]
		if c < utf8.RuneSelf {
			if 'A' <= c && c <= 'Z' {
				c += 'a' - 'A'
			}
			buf[n] = c
			n++
			word = word[1:]
			continue
		}
		r, size := utf8.DecodeRune(word)
		word = word[size:]
		if b := plainLetter(r); b != 0 {
			buf[n] = b
			n++
			continue
		}
		switch {
		case 0x391 <= r && r <= 0x3A9: // Greek capitals
			r += 0x20
		case 0x410 <= r && r <= 0x42F: // Cyrillic capitals
			r += 0x20
		}
		n += utf8.EncodeRune(buf[n:n+4], r)
	}
	if len(word) > 0 {
		return buf[:0]
	}
	return buf[:n]
}

// plainLetter gives the unaccented small letter of an accented Latin one, 0 for any other rune.
func plainLetter(r rune) byte {
	switch r {
	case 'à', 'á', 'â', 'ã', 'ä', 'å', 'À', 'Á', 'Â', 'Ã', 'Ä', 'Å', 'ą':
		return 'a'
	case 'ç', 'Ç', 'ć', 'č':
		return 'c'
	case 'è', 'é', 'ê', 'ë', 'È', 'É', 'Ê', 'Ë', 'ę':
		return 'e'
	case 'ì', 'í', 'î', 'ï', 'Ì', 'Í', 'Î', 'Ï':
		return 'i'
	case 'ñ', 'Ñ', 'ń':
		return 'n'
	case 'ò', 'ó', 'ô', 'õ', 'ö', 'ø', 'Ò', 'Ó', 'Ô', 'Õ', 'Ö', 'Ø':
		return 'o'
	case 'ù', 'ú', 'û', 'ü', 'Ù', 'Ú', 'Û', 'Ü':
		return 'u'
	case 'ś', 'Ś', 'š':
		return 's'
	case 'ź', 'ż', 'Ż':
		return 'z'
	case 'ł', 'Ł':
		return 'l'
	}
	return 0
}

// monthOf gives the number of a month's name in English, German, French, Spanish, Italian, Dutch,
// Portuguese, Swedish, Danish, Norwegian or Polish, in full or as usually cut; 0 for any other word.
// The word is folded. Source of the names: Unicode CLDR, from memory.
func monthOf(w []byte) int {
	switch string(w) {
	case "jan", "january", "januar", "jaenner", "janner", "jaen", "jän", "janvier", "janv", "enero", "ene", "gennaio", "genn", "gen",
		"januari", "janeiro", "stycznia", "styczen", "sty":
		return 1
	case "feb", "february", "februar", "feber", "fevrier", "fevr", "fev", "febrero", "febbraio", "febb", "februari", "fevereiro",
		"lutego", "luty", "lut":
		return 2
	case "mar", "march", "marz", "maerz", "mrz", "mars", "marzo", "maart", "mrt", "marco", "marts", "marca", "marzec":
		return 3
	case "apr", "april", "avril", "avr", "abril", "abr", "aprile", "kwietnia", "kwiecien", "kwi":
		return 4
	case "may", "mai", "mayo", "maggio", "magg", "mag", "mei", "maio", "maj", "maja":
		return 5
	case "jun", "june", "juni", "juin", "junio", "giugno", "giu", "junho", "czerwca", "czerwiec", "cze":
		return 6
	case "jul", "july", "juli", "juillet", "juil", "julio", "luglio", "lug", "julho", "lipca", "lipiec", "lip":
		return 7
	case "aug", "august", "aout", "aou", "agosto", "ago", "augustus", "augusti", "sierpnia", "sierpien", "sie":
		return 8
	case "sep", "sept", "september", "septembre", "septiembre", "settembre", "sett", "set", "setembro", "wrzesnia", "wrzesien", "wrz":
		return 9
	case "oct", "october", "okt", "oktober", "octobre", "octubre", "ottobre", "ott", "outubro", "out", "pazdziernika", "pazdziernik", "paz":
		return 10
	case "nov", "november", "novembre", "noviembre", "novembro", "listopada", "listopad", "lis":
		return 11
	case "dec", "december", "dez", "dezember", "decembre", "diciembre", "dic", "dicembre", "dezembro", "des", "desember", "grudnia", "grudzien", "gru":
		return 12
	}
	return 0
}

// isFiller says whether a word in a date carries no information: weekday names and the small words
// between the parts of a date.
func isFiller(w []byte) bool {
	switch string(w) {
	case "mon", "monday", "tue", "tues", "tuesday", "wed", "wednesday", "thu", "thur", "thurs", "thursday", "fri", "friday", "sat", "saturday", "sun", "sunday",
		"mo", "montag", "di", "dienstag", "mi", "mittwoch", "do", "donnerstag", "fr", "freitag", "sa", "samstag", "sonnabend", "so", "sonntag",
		"lun", "lundi", "mardi", "mer", "mercredi", "jeu", "jeudi", "ven", "vendredi", "sam", "samedi", "dim", "dimanche",
		"lunes", "martes", "mie", "miercoles", "jue", "jueves", "vie", "viernes", "sab", "sabado", "dom", "domingo",
		"lunedi", "martedi", "mercoledi", "gio", "giovedi", "venerdi", "sabato", "domenica",
		"ma", "maandag", "dinsdag", "wo", "woensdag", "donderdag", "vr", "vrijdag", "za", "zaterdag", "zo", "zondag",
		"segunda", "seg", "terca", "ter", "quarta", "qua", "quinta", "qui", "sexta", "sex", "feira",
		"man", "mandag", "tirsdag", "onsdag", "torsdag", "fredag", "lordag", "sondag", "tis", "ons", "tor", "tors", "fre", "lor", "son",
		"poniedzialek", "wtorek", "sroda", "czwartek", "piatek", "sobota", "niedziela", "pon", "wt", "sr", "czw", "pt", "sob", "ndz", "niedz":
		return true
	case "st", "nd", "rd", "th", "er", "de", "del", "of", "the", "den", "der", "dem", "le", "el", "il", "um", "uhr", "at", "kl", "klo", "om", "alle", "ore", "t",
		"年", "月", "日", "년", "월", "일":
		return true
	}
	return false
}

// halfOf gives 1 for a word that means before noon, 2 for after noon, 0 for any other word. The word is folded
// and without its dots. Source: Unicode CLDR day periods, from memory.
func halfOf(w []byte) int {
	switch string(w) {
	case "am", "vorm", "vormittags", "vormittag", "fm", "vm", "上午", "午前", "오전", "πμ", "дп", "oo", "fh":
		return 1
	case "pm", "nachm", "nachmittags", "nachmittag", "em", "nm", "下午", "午後", "오후", "μμ", "пп", "os":
		return 2
	}
	return 0
}

// zoneOf gives the offset in seconds of a zone's name. Only names with one common meaning in Europe and
// North America are known; they are common practice and in no standard (ISO 8601 has offsets only).
func zoneOf(w []byte) (offsetS int32, ok bool) {
	switch string(w) {
	case "z", "utc", "gmt", "wet", "zulu":
		return 0, true
	case "cet", "mez", "west":
		return 3600, true
	case "cest", "mesz", "eet":
		return 7200, true
	case "eest":
		return 10800, true
	case "edt":
		return -4 * 3600, true
	case "est", "cdt":
		return -5 * 3600, true
	case "cst", "mdt":
		return -6 * 3600, true
	case "mst", "pdt":
		return -7 * 3600, true
	case "pst", "akdt":
		return -8 * 3600, true
	case "akst":
		return -9 * 3600, true
	}
	return 0, false
}

// durationUnit gives the nanoseconds of a unit of time as headings, unit rows and cells write it; 0 for any other word.
// The word is folded.
func durationUnit(w []byte) int64 {
	switch string(w) {
	case "ns", "nsec", "nanosecond", "nanoseconds":
		return 1
	case "us", "µs", "μs", "usec", "microsecond", "microseconds", "micros", "mikrosekunden", "microsecondes":
		return 1e3
	case "ms", "msec", "msecs", "millis", "milli", "millisec", "millisecs", "millisecond", "milliseconds", "millisekunden", "millisekunde",
		"milisegundos", "milisegundo", "millisecondi", "millisecondes", "milliseconde", "milliseconden", "milissegundos", "milisekundy":
		return 1e6
	case "s", "sec", "secs", "second", "seconds", "sek", "sekunden", "sekunde", "seconde", "secondes", "seg", "segundos", "segundo", "secondi", "seconden",
		"sekunder", "sekundy", "sekund":
		return 1e9
	case "min", "mins", "minute", "minutes", "minuten", "minuto", "minutos", "minuti", "minuter", "minuty", "minut":
		return 60e9
	case "h", "hr", "hrs", "hour", "hours", "std", "stunde", "stunden", "heure", "heures", "hora", "horas", "ora", "ore", "uur", "uren", "timmar", "godziny", "godz":
		return 3600e9
	case "d", "day", "days", "tag", "tage", "jour", "jours", "dia", "dias", "giorno", "giorni", "dag", "dagen", "dagar", "dni":
		return 86400e9
	}
	return 0
}
