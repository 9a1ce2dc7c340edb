package clock

// headingSays is what a column's heading and unit row say about time.
type headingSays struct {
	time     bool  // a word for time, date or clock
	elapsed  bool  // a word for time since a start
	ofDay    bool  // a word for the time of day
	index    bool  // a word for a running number
	empty    bool  // no heading at all
	other    bool  // words for a temperature or another quantity
	temp     bool  // words or signs of a temperature: never a clock
	unit     int64 // ns of the unit named; 0 if none
	minSec   bool  // "mm:ss"
	hourMin  bool  // "hh:mm" without seconds
	unix     bool
	part     part
	hasPart  bool
	words    int
	millis   bool // thousandths that belong to the column before
	dateWord bool
	letterT  bool // a lone t, which is time only when nothing but a unit of time stands beside it
	capitalT bool // the lone t is a capital: a temperature unless a unit of time says otherwise
	letterM  bool // m or mm: month or minute
	digits   bool
	glued6   bool // hhmmss
	ticks    bool // a processor's ticks: their unit is open, "tick(s)" is a plural
	glued4   bool // hhmm
	weakMin  bool // "min" alone: minutes or a smallest value
}

// readHeading takes a heading and a unit text apart. It does not allocate.
func readHeading(heading, unit string) headingSays {
	var h headingSays
	h.read(heading, false)
	h.read(unit, true)
	if h.letterT && !h.digits && (h.words == 1 && !h.capitalT || h.words == 2 && h.unit != 0) && !h.other {
		h.time = true
	}
	if h.ticks && h.unit == 1e9 {
		h.unit = 0
	}
	h.empty = h.words == 0 && trimmedEmpty(heading) && trimmedEmpty(unit)
	if !h.time && h.unit != 0 && h.words > 1 && !h.elapsed {
		// "Temp min" is a smallest value, no minutes
		h.unit = 0
	}
	if h.elapsed || h.unit != 0 && h.words == 1 && !h.weakMin && !h.digits {
		h.time = true
	}
	return h
}

func trimmedEmpty(s string) bool {
	for i := range len(s) {
		if s[i] != ' ' && s[i] != '"' && s[i] != '\t' {
			return false
		}
	}
	return true
}

func (h *headingSays) read(s string, unitRow bool) {
	if len(s) > 200 {
		s = s[:200]
	}
	var raw [200]byte
	b := raw[:copy(raw[:], s)]
	for i := 0; i < len(b); {
		c := b[i]
		if c == '#' {
			h.index = true
			h.words++
		}
		if '0' <= c && c <= '9' {
			h.digits = true
		}
		if c == '%' || c == 0xC2 && i+1 < len(b) && b[i+1] == 0xB0 {
			h.other = true
			h.temp = h.temp || c != '%'
		}
		if !isLetter(c) || spaceAt(b, i) > 0 || c == 0xC2 && i+1 < len(b) && b[i+1] == 0xB0 {
			i += max(1, spaceAt(b, i))
			if c == 0xC2 && i < len(b) && b[i] == 0xB0 {
				i++
			}
			continue
		}
		from := i
		for i < len(b) && isLetter(b[i]) && spaceAt(b, i) == 0 {
			// a change from small to capital letters starts a new word: timeMs
			if i > from && 'A' <= b[i] && b[i] <= 'Z' && 'a' <= b[i-1] && b[i-1] <= 'z' {
				break
			}
			i++
		}
		var buf [24]byte
		if i == from+1 && c == 'T' {
			h.capitalT = true
		}
		h.word(fold(b[from:i], &buf), unitRow)
	}
}

func (h *headingSays) word(w []byte, unitRow bool) {
	if len(w) == 0 {
		h.words++
		return
	}
	h.words++
	if u := durationUnit(w); u != 0 {
		if h.unit != 0 && (u == 1e9 && h.unit == 60e9) {
			h.minSec = true
		}
		h.unit = u
		if unitRow {
			h.time = true
		} else if string(w) == "min" {
			h.weakMin = true
		}
		switch u {
		case 60e9:
			h.setPart(partMinute)
		case 3600e9:
			h.setPart(partHour)
		case 86400e9:
			h.setPart(partDay)
		case 1e9:
			h.setPart(partSecond)
		case 1e6:
			h.setPart(partFraction)
			h.millis = true
		}
		return
	}
	switch string(w) {
	case "tick", "ticks":
		h.time, h.ticks = true, true
	case "time", "times", "zeit", "temps", "tiempo", "tempo", "tijd", "tid", "czas", "zeitpunkt", "horodatage", "marca",
		"timestamp", "zeitstempel", "stamp", "datetime", "orario", "tidpunkt", "timems", "timesec", "secs1970":
		h.time = true
	case "date", "datum", "fecha", "data", "dato", "jour":
		h.time = true
		h.dateWord = true
	case "uhrzeit", "heure", "hora", "ora", "uur", "clock", "uhr", "klokkeslett", "klockslag", "godzina":
		h.time, h.ofDay = true, true
		if string(w) == "hora" || string(w) == "heure" || string(w) == "ora" || string(w) == "uur" || string(w) == "godzina" {
			h.setPart(partHour)
		}
	case "elapsed", "laufzeit", "dauer", "verstrichen", "verstrichene", "ecoule", "transcurrido", "trascorso", "verstreken", "duration", "duree", "runtime", "uptime",
		"relative", "relativ", "messdauer", "prufdauer", "duracion", "durata", "duur", "timer", "verlopen", "forfluten":
		h.time, h.elapsed = true, true
	case "unix", "epoch", "posix":
		h.time, h.unix = true, true
	case "index", "idx", "no", "nr", "n", "num", "number", "nummer", "numero", "numer", "id", "sample", "samples", "scan", "record", "rec", "row", "line", "point", "punkt", "messung",
		"messpunkt", "reading", "count", "counter", "lfd", "muestra", "campione", "meting", "seq", "sequence", "enregistrement", "zeile", "echantillon", "lp", "º", "obs":
		h.index = true
	case "year", "jahr", "annee", "an", "ano", "anno", "jaar", "yr", "yyyy", "rok", "ar":
		h.setPart(partYear)
	case "month", "monat", "mois", "mes", "mese", "maand", "mon", "mo", "miesiac":
		h.setPart(partMonth)
	case "doy", "julian":
		h.setPart(partDayOfYear)
	case "t":
		h.letterT = true
	case "hhmmss", "hms":
		h.time, h.glued6 = true, true
	case "hhmm":
		h.time, h.glued4 = true, true
	case "mm", "m":
		if h.hasPart && h.part == partHour {
			h.hourMin = true
		} else {
			h.letterM = true
		}
	case "y", "yy", "jj", "jjjj", "aaaa":
		h.setPart(partYear)
	case "dd", "tt":
		h.setPart(partDay)
	case "hh":
		h.setPart(partHour)
	case "ss":
		switch {
		case h.hourMin:
			h.hourMin = false
		case h.letterM:
			h.minSec = true
		default:
			h.setPart(partSecond)
		}
	case "ampm":
		h.setPart(partHalf)
	case "temp", "temperature", "temperatur", "temperatura", "temperatuur", "celsius", "fahrenheit", "kelvin", "degc", "degf":
		h.other, h.temp = true, true
	case "k", "f", "volt", "v", "mv", "humidity", "rh", "pressure", "power", "leistung", "current", "strom",
		"inner", "outer", "bore", "innen", "aussen", "probe", "ch", "channel", "kanal", "sensor", "thermocouple", "tc", "battery", "bat":
		h.other = true
	}
}

func (h *headingSays) setPart(p part) {
	if h.hasPart && h.part != p {
		switch {
		case h.part == partDay && h.dateWord:
			return
		case h.part == partDay && p == partYear, h.part == partYear && p == partDay, h.part == partDayOfYear:
			p = partDayOfYear // day of the year
		}
	}
	h.part, h.hasPart = p, true
}
