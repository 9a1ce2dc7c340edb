package heading

import (
	"strconv"
	"strings"

	"ringheat/analyze/quantity"
)

// FactKind is what a preamble line states.
type FactKind uint8

// The facts a preamble can state. NoFact: the key is not known; the line is kept as it stands.
const (
	NoFact         FactKind = iota
	StartTime               // start of the record: date and time, or a time of day
	StartDate               // start of the record: a date
	EndTime                 // end of the record, date or time
	Interval                // Fact.IntervalS
	SerialText              // serial number of logger or probe
	UnitText                // Fact.Unit, when it could be read
	ChannelText             // name of channel Fact.Channel is Fact.Value
	CountFact               // number of readings, Fact.Count
	ZoneFact                // Fact.ZoneS
	DateFormat              // Fact.DateOrder
	DecimalMark             // Fact.Value is the mark
	ExportTime              // when the file was written: not the record's start
	TitleText               // title, name, part, order, site
	PersonText              // operator and other persons
	DeviceText              // model, firmware, software
	StatisticsFact          // a minimum, maximum, average over the record
	AlarmFact               // alarm limits
)

// Fact is what a preamble line states, typed.
type Fact struct {
	Kind      FactKind
	Value     string                   // the value, trimmed
	IntervalS float64                  // Interval: s; 0 when the value could not be read
	Unit      quantity.TemperatureUnit // UnitText, and ChannelText when its value names one
	Channel   int                      // ChannelText, UnitText: 1-based channel, 0 when none is named
	Count     int                      // CountFact; 0 when the value could not be read
	ZoneS     int                      // ZoneFact and StartTime: seconds east of UTC
	ZoneKnown bool                     // a zone was named
	DateOrder string                   // DateFormat: "dmy", "mdy", "ymd"
	Meaning   Meaning                  // of Value, for ChannelText
}

// ReadFact says what a preamble line states. key and value are the two sides of the line.
func ReadFact(key, value string) Fact {
	f := Fact{Value: strings.TrimSpace(value)}
	plain, _ := repair(key)
	var room [maxTokens]token
	ts := tokens(plain, room[:])
	order, _ := FormatOrder(plain)
	if order != "" {
		useFormat(plain, ts)
	}
	keyZone, keyZoneKnown := zoneOf(ts)
	unit, hasUnit := unitIn(plain, ts)
	w := byClass(ts)
	number := numberIn(ts)
	date, clock := w.has(wDate) || w.has(wData), w.has(wTime) || w.has(wClock) || w.has(wStamp)
	switch {
	case w.has(wDecimal), w.has(wFormat) && (date || clock):
		f.formatFact(&w, f.Value)
	case w.has(wZone), hasPhrase(ts, "time", "zone"), keyZoneKnown && w.count == 1:
		f.Kind = ZoneFact
		f.zone(f.Value)
		if !f.ZoneKnown && keyZoneKnown {
			f.ZoneS, f.ZoneKnown = keyZone, true
			f.zone("UTC" + strings.TrimSpace(strings.TrimPrefix(f.Value, ":")))
		}
	case w.has(wExport):
		f.Kind = ExportTime
	case w.has(wSerialno), hasPhrase(ts, "s", "/") && hasPhrase(ts, "/", "n"):
		f.Kind = SerialText
	case w.has(wAlarm), w.has(wLimit):
		f.Kind = AlarmFact
	case w.has(wInterval) && !w.has(wStart) && !w.has(wEnd), w.has(wSampling) && (w.has(wRate) || w.has(wTime)), w.has(wIndex) && (w.has(wRate) || w.has(wTime) || w.has(wInterval)),
		w.has(wFrequency) && (w.has(wSampling) || w.has(wIndex)), w.has(wRate) && w.count == 1:
		f.Kind = Interval
		unitS := 0.0
		if hasUnit {
			unitS = unit.TimeUnitS
			if unit.Quantity == Frequency {
				unitS = -1
			}
		} else if p := partUnit(&w); p > 0 {
			unitS = p
		}
		if unitS == -1 {
			if v, ok := parseFigure(f.Value); ok && v > 0 {
				f.IntervalS = 1 / v
			}
		} else if s, ok := Duration(f.Value, unitS); ok {
			f.IntervalS = s
		}
	case w.has(wStart) && !w.has(wChannel):
		f.Kind = StartTime
		if date && !clock && strings.IndexByte(f.Value, ':') < 0 {
			f.Kind = StartDate
		}
		if !date && !clock && w.count > 2 {
			f.Kind = NoFact
		}
		f.zone(f.Value)
		if !f.ZoneKnown {
			f.ZoneS, f.ZoneKnown = keyZone, keyZoneKnown
		}
	case w.has(wEnd) && (date || clock || w.count <= 2):
		f.Kind = EndTime
	case w.has(wUnit) && !w.has(wIndex):
		f.Kind = UnitText
		f.Channel = max(number, 0)
		if u, ok := ReadUnit(f.Value); ok {
			f.Unit = u.Temperature
		} else if m := Read(f.Value, ""); m.Unit != quantity.UnknownUnit {
			f.Unit = m.Unit
		}
	case (w.has(wIndex) || w.has(wValue)) && (w.has(wNumber) || w.has(wCounter) || w.has(wIndex) && hasText(ts, "samples")), w.has(wCounter):
		f.Kind = CountFact
		if n, err := strconv.Atoi(f.Value); err == nil && n > 0 {
			f.Count = n
		}
	case w.has(wChannel) && number > 0, isTemperatureLetterKey(ts, &w) && number > 0:
		f.channelFact(number)
	case w.has(wMin), w.has(wMax), w.has(wAvg), w.has(wSd):
		f.Kind = StatisticsFact
	case w.has(wTemp) && isUnitText(f.Value):
		u, _ := ReadUnit(f.Value)
		f.Kind, f.Unit = UnitText, u.Temperature
	case w.has(wModel), w.has(wLogger) && !date && !clock:
		f.Kind = DeviceText
	case hasText(ts, "operator"), hasText(ts, "bediener"), hasText(ts, "operateur"), hasText(ts, "operatore"), hasText(ts, "operador"), hasText(ts, "user"):
		f.Kind = PersonText
	case w.has(wTitle), w.has(wName), w.has(wBearing), w.has(wText):
		f.Kind = TitleText
	case date && clock, date && w.count == 1, clock && w.count == 1:
		// A bare "Date" or "Time" over a log: when it was recorded, as far as anyone knows.
		f.Kind = StartTime
		if !clock {
			f.Kind = StartDate
		}
		f.DateOrder = order
		f.zone(f.Value)
	}
	return f
}

func (f *Fact) formatFact(w *words, value string) {
	if w.has(wDecimal) {
		f.Kind = DecimalMark
		switch foldWord(strings.ToLower(value)) {
		case "comma", "komma", "virgule", "virgola", "coma", "przecinek", "virgula", `","`:
			f.Value = ","
		case "point", "punkt", "period", "dot", "punto", "punt", "kropka", "ponto", `"."`:
			f.Value = "."
		}
		return
	}
	f.Kind = DateFormat
	f.DateOrder, _ = FormatOrder(value)
}

// zone takes a zone out of a value ("UTC+01:00", "2026-03-04 06:10 GMT").
func (f *Fact) zone(value string) {
	if len(value) > maxUnit {
		return
	}
	plain, _ := repair(value)
	var room [maxTokens]token
	if s, ok := zoneOf(tokens(plain, room[:])); ok {
		f.ZoneS, f.ZoneKnown = s, true
	} else if f.Kind == ZoneFact {
		// "+01:00" or "-0500" alone.
		if plain != "" && (plain[0] == '+' || plain[0] == '-') {
			if s, ok := zoneOf(tokens("UTC"+plain, room[:])); ok {
				f.ZoneS, f.ZoneKnown = s, true
			}
		}
	}
}

func (f *Fact) channelFact(number int) {
	f.Meaning = Read(f.Value, "")
	f.Kind, f.Channel, f.Unit = ChannelText, number, f.Meaning.Unit
	if isUnitText(f.Value) {
		f.Kind = UnitText
	}
}

func isUnitText(s string) bool {
	u, ok := ReadUnit(s)
	return ok && u.Temperature != quantity.UnknownUnit
}

// isTemperatureLetterKey says whether a key is a probe's short name: "T1", "Temp 2", "TC3".
func isTemperatureLetterKey(ts []token, w *words) bool {
	if w.count != 1 {
		return false
	}
	return w.has(wTemp) || w.has(wTsensor) || len(ts) > 0 && ts[0].text == "t"
}

// SplitKeyValue splits a preamble line that is one text into key and value, at the first colon, equals
// sign or tab that is no part of a clock time or a path. ok is false when the line has no such place or no key.
// Comment marks and a box of brackets or quotes around the line are left out.
func SplitKeyValue(line string) (key, value string, ok bool) {
	s := strings.Trim(line, " \t\r\"")
	s = strings.TrimLeft(s, "#;%*/! \t")
	for i := 0; i < len(s) && i < 200; i++ {
		switch s[i] {
		case '=', '\t':
		case ':':
			if i > 0 && isDigit(s[i-1]) && i+1 < len(s) && isDigit(s[i+1]) {
				continue // 12:30
			}
			if i+1 < len(s) && (s[i+1] == '\\' || s[i+1] == '/') {
				continue // C:\logs, http://
			}
		default:
			continue
		}
		key = strings.Trim(s[:i], " \t\"")
		value = strings.Trim(s[i+1:], " \t\"=")
		return key, value, hasLetter(key)
	}
	return "", "", false
}

func hasLetter(s string) bool {
	for i := 0; i < len(s); i++ {
		if isASCIILetter(s[i]) || s[i] >= 0x80 {
			return true
		}
	}
	return false
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// Duration reads a length of time as preambles write it: "5", "5 s", "0.5 sec", "1 min 30 s", "00:00:05", "1 h",
// "10 Hz" (its period), "every 5 seconds". A bare figure takes unitS seconds; unitS 0 makes a bare figure unreadable.
// ok is false when the text is no length of time greater than 0.
func Duration(text string, unitS float64) (seconds float64, ok bool) {
	s := strings.Trim(text, " \t\"")
	if s == "" || len(s) > maxUnit {
		return 0, false
	}
	if v, ok := clockLength(s); ok {
		return v, v > 0
	}
	if v, ok := parseFigure(s); ok {
		return v * unitS, v*unitS > 0
	}
	s = trimEvery(s)
	total := 0.0
	for s != "" {
		i := 0
		for i < len(s) && (isDigit(s[i]) || s[i] == '.' || s[i] == ',') {
			i++
		}
		v, ok := parseFigure(s[:i])
		if i == 0 { // "every minute"
			v, ok = 1, total == 0
		}
		if !ok {
			return 0, false
		}
		s = strings.TrimLeft(s[i:], " ")
		j := 0
		for j < len(s) && !isDigit(s[j]) {
			j++
		}
		u, known := ReadUnit(strings.Trim(s[:j], " ,.-/"))
		s = s[j:]
		switch {
		case known && u.TimeUnitS > 0:
			total += v * u.TimeUnitS
		case known && u.Quantity == Frequency && total == 0 && s == "" && v > 0:
			return 1 / (v * hertz(text)), true
		case known && u.Quantity == Speed && total == 0 && s == "" && v > 0 && strings.Contains(text, "1/"):
			return 0, false
		default:
			return 0, false
		}
	}
	return total, total > 0
}

// hertz gives the prefix of a frequency.
func hertz(text string) float64 {
	if strings.Contains(strings.ToLower(text), "khz") {
		return 1000
	}
	return 1
}

func trimEvery(s string) string {
	for _, p := range [...]string{"every", "each", "alle", "jede", "ogni", "cada", "elke", "varje", "co", "toutes les", "tous les"} {
		if len(s) > len(p) && strings.EqualFold(s[:len(p)], p) && s[len(p)] == ' ' {
			return strings.TrimLeft(s[len(p):], " ")
		}
	}
	return s
}

// clockLength reads "h:mm:ss", "mm:ss" or "h:mm:ss.fff" as a length; two parts are minutes and seconds.
func clockLength(s string) (seconds float64, ok bool) {
	if strings.IndexByte(s, ':') < 0 {
		return 0, false
	}
	parts := 0
	for {
		piece, rest, more := strings.Cut(s, ":")
		v, ok := parseFigure(strings.TrimSpace(piece))
		if !ok || v < 0 || parts > 0 && v >= 60 {
			return 0, false
		}
		seconds = seconds*60 + v
		parts++
		if !more {
			return seconds, parts == 2 || parts == 3
		}
		s = rest
	}
}

// parseFigure reads a plain decimal figure with a point or a comma; no exponent, no blanks, nothing else.
func parseFigure(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if s == "" || len(s) > 20 {
		return 0, false
	}
	for i := 0; i < len(s); i++ {
		if !isDigit(s[i]) && s[i] != '.' && s[i] != ',' && !(i == 0 && (s[i] == '+' || s[i] == '-')) {
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	return v, err == nil
}
