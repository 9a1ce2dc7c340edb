package heading

import (
	"strings"

	"ringheat/analyze/quantity"
)

// foundUnit is a unit found in a heading, and where.
type foundUnit struct {
	UnitMeaning
	text string
	weak bool
}

// unitIn finds the unit that a heading carries and marks its tokens as used. Brackets come first, the last one before
// the others; then units that can be nothing else ("°C", "degF", "hPa"); then a last letter or short word that its
// neighbours make a unit ("Temp C", "time_s").
func unitIn(plain string, ts []token) (foundUnit, bool) {
	if u, ok := unitInRow(plain, ts); ok {
		return u, true
	}
	if u, ok := unitInBrackets(plain, ts); ok {
		return u, true
	}
	if u, ok := unitByDegree(plain, ts); ok {
		return u, true
	}
	if u, ok := unitInChunk(plain, ts); ok {
		return u, true
	}
	return unitAtEnd(plain, ts)
}

// unitInRow finds a unit that was a cell of its own in one of several header rows, joined with " / ": "TC1 / bore / C".
func unitInRow(plain string, ts []token) (foundUnit, bool) {
	if !strings.Contains(plain, " / ") {
		return foundUnit{}, false
	}
	for from := 0; from <= len(plain); {
		to := len(plain)
		if i := strings.Index(plain[from:], " / "); i >= 0 {
			to = from + i
		}
		if from > 0 { // the first row is never units alone
			if u, ok := unitOf(plain[from:to]); ok && !(u.Bare && u.TimeUnitS == 60) && !(u.Bare && u.Temperature == quantity.UnknownUnit && u.TimeUnitS == 0) {
				use(ts, from, to)
				return foundUnit{UnitMeaning: u, text: strings.TrimSpace(plain[from:to])}, true
			}
		}
		from = to + len(" / ")
	}
	return foundUnit{}, false
}

// use marks the tokens of a byte range as read.
func use(ts []token, from, to int) {
	for i := range ts {
		if ts[i].from >= from && ts[i].to <= to {
			ts[i].used = true
		}
	}
}

// before gives the last unused word or number before byte position at, and the word before a number; nil without one.
func before(ts []token, at int) (last, previous *token) {
	for i := len(ts) - 1; i >= 0; i-- {
		t := &ts[i]
		if t.to > at || t.kind == tSymbol || t.used {
			continue
		}
		if last == nil {
			last = t
			continue
		}
		return last, t
	}
	return last, nil
}

func unitInBrackets(plain string, ts []token) (foundUnit, bool) {
	for end := len(plain) - 1; end > 0; end-- {
		c := plain[end]
		if c != ')' && c != ']' && c != '}' && c != '>' {
			continue
		}
		open := openingOf(plain, end)
		if open < 0 {
			continue
		}
		inside := plain[open+1 : end]
		if len(inside) > maxUnit {
			continue
		}
		for piece, from := inside, open+1; ; {
			cut := strings.IndexAny(piece, ",;")
			one := piece
			if cut >= 0 && !(cut+1 < len(piece) && piece[cut] == ',' && piece[cut+1] >= '0' && piece[cut+1] <= '9') {
				one = piece[:cut]
			} else {
				cut = -1
			}
			if u, ok := unitOf(trimIn(one)); ok {
				if f, ok := acceptBracket(plain, ts, u, one, open); ok {
					use(ts, from, from+len(one))
					return f, true
				}
			}
			if cut < 0 {
				break
			}
			piece, from = piece[cut+1:], from+cut+1
		}
	}
	return foundUnit{}, false
}

// trimIn takes "in" and its like off the front of a unit: "in °C", "en °C", "em °C", "w °C".
func trimIn(s string) string {
	s = strings.Trim(s, " ")
	for _, p := range [...]string{"in ", "In ", "en ", "em ", "w ", "i "} {
		if rest, ok := strings.CutPrefix(s, p); ok {
			return rest
		}
	}
	return s
}

// openingOf finds the bracket that the one at end closes, -1 without one.
func openingOf(s string, end int) int {
	open := byte('(')
	switch s[end] {
	case ']':
		open = '['
	case '}':
		open = '{'
	case '>':
		open = '<'
	}
	depth := 0
	for i := end; i >= 0; i-- {
		switch s[i] {
		case s[end]:
			depth++
		case open:
			depth--
			if depth == 0 {
				return i
			}
		}
	}
	return -1
}

// acceptBracket decides over a unit in brackets that could be something else.
func acceptBracket(plain string, ts []token, u UnitMeaning, text string, open int) (foundUnit, bool) {
	f := foundUnit{UnitMeaning: u, text: strings.TrimSpace(text)}
	if !u.Bare {
		return f, true
	}
	last, previous := before(ts, open)
	switch {
	case u.Temperature != quantity.UnknownUnit:
		if last == nil {
			f.weak = len(ts) > 3
			return f, true
		}
		word := last
		if last.kind == tNumber && previous != nil {
			word = previous
		}
		switch word.a {
		case wType:
			return f, false
		case wTsensor:
			f.weak = u.Temperature == quantity.KelvinUnit
		case wChannel:
			f.weak = true
		}
		if u.Temperature == quantity.KelvinUnit && (hasClass(ts, wChannel) || hasClass(ts, wTsensor)) {
			f.weak = true // the type of the channel's thermocouple
		}
		return f, true
	case u.TimeUnitS > 0:
		if plural := u.TimeUnitS == 1 && last != nil && last.to == open && last.kind == tWord; plural && !isTimeClass(last) {
			use(ts, open, open+len(text)+1)
			return f, false // "Temperature(s)", "Probe(s)"
		}
		if u.TimeUnitS == 60 && (hasClass(ts, wTemp) || hasRoleWord(ts)) && !hasTimeWord(ts) {
			return f, false // "Temperature (min)" is a minimum
		}
		return f, true
	default:
		if hasQuantityWord(ts, u.Quantity) {
			return f, true
		}
		if u.Quantity == Voltage { // a thermocouple's, or degrees under a heading left from another set-up
			f.weak = true
			return f, true
		}
		if hasClass(ts, wTemp) || hasRoleWord(ts) || hasClass(ts, wChannel) || hasClass(ts, wTsensor) {
			return f, false // "Probe (A)", "Inner ring (N)" name a place
		}
		f.weak = true
		return f, true
	}
}

func isTimeClass(t *token) bool {
	for _, c := range [...]class{t.a, t.b} {
		switch c {
		case wTime, wElapsed, wClock, wStamp, wEpoch, wDate, wInterval, wCounter, wData:
			return true
		}
	}
	return t.text == "t"
}

func hasTimeWord(ts []token) bool {
	for i := range ts {
		if ts[i].kind == tWord && !ts[i].used && isTimeClass(&ts[i]) {
			return true
		}
	}
	return false
}

func hasClass(ts []token, c class) bool {
	for i := range ts {
		if !ts[i].used && (ts[i].a == c || ts[i].b == c) {
			return true
		}
	}
	return false
}

func hasRoleWord(ts []token) bool {
	for i := range ts {
		if ts[i].used {
			continue
		}
		switch ts[i].a {
		case wInner, wOuter, wBore, wRing, wRace, wAmbient, wShaft, wSetpoint, wBearing:
			return true
		}
	}
	return false
}

// quantityClass is the class of words that name a quantity.
func quantityClass(q Quantity) class {
	switch q {
	case Voltage:
		return wVoltage
	case Current:
		return wCurrent
	case Power:
		return wPower
	case Energy:
		return wEnergy
	case Resistance:
		return wResistance
	case Frequency:
		return wFrequency
	case Humidity:
		return wHumidity
	case Pressure:
		return wPressure
	case Light:
		return wLight
	case Mass:
		return wMass
	case Length:
		return wLength
	case Speed:
		return wSpeed
	case Flow:
		return wFlow
	case Force:
		return wForce
	case Magnetism:
		return wMagnetism
	case Concentration:
		return wConcentration
	case Percent:
		return wPercent
	case Battery:
		return wBattery
	}
	return wNone
}

func hasQuantityWord(ts []token, q Quantity) bool {
	c := quantityClass(q)
	if c == wNone {
		return false
	}
	if hasClass(ts, c) {
		return true
	}
	switch q {
	case Voltage:
		return hasClass(ts, wBattery)
	case Length:
		return hasClass(ts, wDiameter)
	case Current: // the English word means "actual" as well
		for i := range ts {
			if ts[i].text == "current" {
				return true
			}
		}
	}
	return false
}

// unitByDegree finds a degree sign or a word for "degree" with its scale: "°C", "° F", "deg. C", "Grad Celsius".
func unitByDegree(plain string, ts []token) (foundUnit, bool) {
	for i := range ts {
		t := &ts[i]
		if t.used || !(t.text == "°" || t.kind == tWord && isDegreeWord(t.text)) {
			continue
		}
		j := i + 1
		for j < len(ts) && (ts[j].text == "." || ts[j].text == "°") {
			j++
		}
		if j >= len(ts) || ts[j].kind != tWord || ts[j].from-t.to > 3 {
			continue
		}
		unit := scaleOfWord(ts[j].text)
		if unit == quantity.UnknownUnit {
			continue
		}
		f := foundUnit{UnitMeaning: UnitMeaning{Quantity: Temperature, Temperature: unit, Scale: 1}}
		from, to := t.from, ts[j].to
		// A power of ten or a difference in front, a time below behind.
		start := from
		if start > 0 && plain[start-1] == ' ' && i > 0 && (ts[i-1].kind == tNumber || ts[i-1].text == "m") {
			start--
		}
		for start > 0 && strings.IndexByte(" ,;:|_([{", plain[start-1]) < 0 {
			start--
		}
		if start < from {
			over := strings.TrimSuffix(plain[start:from], "/") // "T/°C" is a quantity over its unit, "µV/°C" a quotient of units
			a, _ := lookup(foldWord(over))
			if u, ok := unitOf(plain[start:to]); ok && !(len(over) < from-start && (over == "T" || over == "t" || a != wNone && a != wFiller)) {
				f.UnitMeaning, from = u, start
			}
		}
		if to < len(plain) && (plain[to] == '/' || plain[to] == '*' || strings.HasPrefix(plain[to:], " / ") || strings.HasPrefix(plain[to:], " per ")) {
			stop := to
			for stop < len(plain) && strings.IndexByte(",;:|_)]}", plain[stop]) < 0 {
				stop++
			}
			per := strings.Replace(plain[from:stop], " per ", "/", 1)
			if u, ok := unitOf(per); ok {
				f.UnitMeaning, to = u, stop
			}
		}
		if rest := strings.TrimLeft(plain[to:], " "); f.Scale == 1 && len(rest) > 2 && (rest[0] == 'x' || rest[0] == '*' || rest[0] == '/') {
			stop := len(plain) - len(rest) + 1
			for stop < len(plain) && isDigit(plain[stop]) {
				stop++
			}
			if u, ok := unitOf(plain[from:stop]); ok {
				f.UnitMeaning, to = u, stop
			}
		}
		f.text = plain[from:to]
		use(ts, from, to)
		return f, true
	}
	return foundUnit{}, false
}

func isDegreeWord(text string) bool {
	switch text {
	case "deg", "degs", "degre", "degree", "degrees", "degres", "grad", "grade", "gradi", "grados", "graus", "grau", "graden", "grader", "stopni", "stopnie", "dgr", "mdeg":
		return true
	}
	return false
}

// scaleOfWord gives the scale that a letter or name stands for.
func scaleOfWord(text string) quantity.TemperatureUnit {
	switch text {
	case "c", "celsius", "celcius", "centigrade", "cels", "celsjusza", "centigradi", "centigrados":
		return quantity.DegreeCelsius
	case "f", "fahrenheit", "farenheit":
		return quantity.DegreeFahrenheit
	case "k", "kelvin", "kelvins", "kelvina":
		return quantity.KelvinUnit
	}
	return quantity.UnknownUnit
}

// unitInChunk finds a unit that stands as a word of its own: "Temp degC", "Power kW", "RH%", "Zeit hh:mm:ss".
func unitInChunk(plain string, ts []token) (foundUnit, bool) {
	to := len(plain)
	for to > 0 {
		from := to
		for from > 0 && !isChunkBreak(plain[from-1]) {
			from--
		}
		if chunk := plain[from:to]; chunk != "" && len(chunk) <= maxUnit {
			if i := strings.LastIndexByte(chunk, '/'); i > 0 && i+1 < len(chunk) {
				// "t/s", "T/K", "time/ms": a quantity over its unit (ISO 80000-1, 7.1).
				left := foldWord(chunk[:i])
				a, _ := lookup(left)
				right, _ := lookup(foldWord(chunk[i+1:]))
				if u, ok := unitOf(chunk[i+1:]); ok && right != wClock && (left == "t" || left == "θ" || left == "ϑ" || a != wNone && a != wFiller && !(u.Bare && u.TimeUnitS > 0 && a != wTime && a != wElapsed)) {
					if u.Quantity == Time || u.Temperature != quantity.UnknownUnit || a == quantityClass(u.Quantity) && a != wNone {
						use(ts, from+i+1, to)
						return foundUnit{UnitMeaning: u, text: chunk[i+1:]}, true
					}
				}
			}
			if u, ok := unitOf(chunk); ok && acceptChunk(plain, ts, u, chunk, from, to) {
				use(ts, from, to)
				return foundUnit{UnitMeaning: u, text: chunk}, true
			}
		}
		to = from - 1
	}
	return foundUnit{}, false
}

func isChunkBreak(c byte) bool {
	return c == ' ' || c == '_' || c == ',' || c == ';' || c == ':' || c == '|' || c == '(' || c == ')' || c == '[' || c == ']'
}

// acceptChunk decides whether a word that can be a unit is one.
func acceptChunk(plain string, ts []token, u UnitMeaning, chunk string, from, to int) bool {
	if u.Temperature != quantity.UnknownUnit {
		return !u.Bare
	}
	alone := strings.Trim(plain[:from], " ") == "" && strings.Trim(plain[to:], " ") == ""
	if alone {
		// A heading of nothing but a symbol ("mV", "%RH"); words ("Hours", "Volt") are read as words.
		a, _ := lookup(foldWord(chunk))
		return !u.Bare && a == wNone
	}
	if u.TimeUnitS > 0 {
		// "Time sec", "Elapsed, min", "uptime ms": the word must be the last, and a time must stand before it.
		a, _ := lookup(foldWord(chunk))
		return a != wClock && strings.Trim(plain[to:], " ") == "" && hasTimeWordBefore(ts, from)
	}
	if u.Quantity == Time {
		return true // hh:mm:ss
	}
	lettersOnly := true
	for i := 0; i < len(chunk); i++ {
		if !isASCIILetter(chunk[i]) {
			lettersOnly = false
		}
	}
	if !lettersOnly {
		return !u.Bare
	}
	if hasQuantityWord(ts, u.Quantity) {
		for i := range ts { // the word that names the quantity may be this chunk itself
			if ts[i].from == from && ts[i].to == to {
				if a, _ := lookup(ts[i].text); a == quantityClass(u.Quantity) {
					return false
				}
			}
		}
		return true
	}
	if u.Bare {
		return false
	}
	switch foldWord(chunk) {
	case "mv", "uv", "kv", "kw", "hz", "khz", "hpa", "kpa", "mbar", "psi", "ma", "lx", "rpm", "ppm", "kwh", "kohm", "wh":
		return true
	}
	return strings.HasSuffix(strings.TrimRight(plain[:from], " "), ",") && strings.Trim(plain[to:], " ") == ""
}

func hasTimeWordBefore(ts []token, at int) bool {
	for i := range ts {
		if ts[i].to <= at && ts[i].kind == tWord && isTimeClass(&ts[i]) {
			return true
		}
	}
	return false
}

// isStatistic says whether a word may stand behind the unit: "Temp_C_Avg".
func isStatistic(c class) bool { return c == wMin || c == wMax || c == wAvg || c == wSd }

// unitAtEnd reads a last letter as a scale where the words before it allow no other meaning: "Temp C", "T1_F", "Inner K",
// "Temperature, C". It leaves "Channel C", "Type K", "TC1 K" alone.
func unitAtEnd(plain string, ts []token) (foundUnit, bool) {
	end := -1
	for i := range ts {
		if ts[i].depth == 0 && ts[i].kind == tWord && !ts[i].used && !isStatistic(ts[i].a) {
			end = i
		}
	}
	if end < 0 {
		return foundUnit{}, false
	}
	t := &ts[end]
	unit := scaleOfWord(t.text)
	if unit == quantity.UnknownUnit || len(t.text) != 1 && unit != quantity.UnknownUnit && end == 0 {
		return foundUnit{}, false
	}
	for i := end + 1; i < len(ts); i++ { // figures behind it make it a label: "Probe C 2"
		if ts[i].depth == 0 && ts[i].kind == tNumber {
			return foundUnit{}, false
		}
	}
	if len(t.text) > 1 { // "kelvin", "celsius" as a word
		t.used = true
		return foundUnit{UnitMeaning: UnitMeaning{Quantity: Temperature, Temperature: unit, Scale: 1}, text: plain[t.from:t.to]}, true
	}
	last, previous := before(ts, t.from)
	if last == nil {
		return foundUnit{}, false
	}
	numbered := last.kind == tNumber
	word := last
	if numbered {
		word = previous
		if word == nil {
			return foundUnit{}, false
		}
	}
	weak := false
	switch {
	case word.text == "t":
	case word.a == wType:
		return foundUnit{}, false
	case word.a == wTsensor:
		if unit == quantity.KelvinUnit || !numbered {
			return foundUnit{}, false
		}
		weak = true
	case word.a == wChannel:
		if !numbered || unit == quantity.KelvinUnit {
			return foundUnit{}, false
		}
		weak = true
	case hasClass(ts, wTemp):
	case hasRoleWord(ts):
		weak = unit == quantity.KelvinUnit && hasClass(ts, wTsensor)
	default:
		return foundUnit{}, false
	}
	t.used = true
	return foundUnit{UnitMeaning: UnitMeaning{Quantity: Temperature, Temperature: unit, Scale: 1, Bare: true}, text: plain[t.from:t.to], weak: weak}, true
}
