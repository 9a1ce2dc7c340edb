package heading

import "strings"

// zoneOf finds a zone that a heading names ("UTC", "GMT-04:00", "UTC+5:30", "CET"), marks its tokens as used and
// gives its offset in seconds east of UTC.
func zoneOf(ts []token) (seconds int, ok bool) {
	for i := range ts {
		t := &ts[i]
		if t.kind != tWord {
			continue
		}
		if t.capital {
			switch t.text { // civil zones of fixed offset (IANA time zone database: CET, CEST; German names)
			case "cet", "mez":
				t.used = true
				return 3600, true
			case "cest", "mesz":
				t.used = true
				return 7200, true
			}
		}
		if t.a != wUtc {
			continue
		}
		t.used = true
		if i+2 >= len(ts) || ts[i+1].kind != tSymbol || ts[i+2].kind != tNumber || ts[i+1].text != "+" && ts[i+1].text != "-" {
			return 0, true
		}
		sign := 1
		if ts[i+1].text == "-" {
			sign = -1
		}
		hours, rest := wholeNumber(ts[i+2].text)
		minutes := 0
		switch {
		case rest == ".5" || rest == ",5":
			minutes = 30
		case len(ts[i+2].text) == 4 && rest == "": // +0530
			hours, minutes = hours/100, hours%100
		case i+4 < len(ts) && ts[i+3].text == ":" && ts[i+4].kind == tNumber:
			minutes, _ = wholeNumber(ts[i+4].text)
			ts[i+3].used, ts[i+4].used = true, true
		}
		ts[i+1].used, ts[i+2].used = true, true
		if hours > 14 || minutes > 59 {
			return 0, false
		}
		return sign * (hours*3600 + minutes*60), true
	}
	return 0, false
}

// wholeNumber reads leading figures; rest is what follows. It stops counting at a million.
func wholeNumber(s string) (n int, rest string) {
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		if n < 1_000_000 {
			n = n*10 + int(s[i]-'0')
		}
		i++
	}
	return n, s[i:]
}

// FormatOrder reads the letters of a date format ("dd/mm/yyyy hh:mm", "TT.MM.JJJJ", "jj/mm/aaaa", "yyyymmdd") and
// gives the order "dmy", "mdy" or "ymd" and whether a time of day follows. order is "" when the text spells no date out.
// Letters for day, month, year are those of English, German, French, Italian, Spanish, Dutch, Swedish, Polish, Portuguese.
func FormatOrder(text string) (order string, withTime bool) {
	if strings.Contains(text, "Å") || strings.Contains(text, "å") { // Swedish år
		text = strings.NewReplacer("Å", "A", "å", "a").Replace(text)
	}
	from := 0
	for from < len(text) {
		to := from
		for to < len(text) && !isFormatBreak(text[to]) {
			to++
		}
		if o, t := chunkOrder(text[from:to]); o != "" {
			order = o
			withTime = withTime || t
		} else if t {
			withTime = withTime || order != ""
		}
		from = to + 1
	}
	return order, withTime
}

func isFormatBreak(c byte) bool {
	switch c {
	case ' ', '_', '(', ')', '[', ']', '{', '}', ',', ';', '"', '\'', '|', '=':
		return true
	}
	return false
}

// chunkOrder reads one word of a date format. A word with a letter that no format has gives nothing.
func chunkOrder(s string) (order string, withTime bool) {
	var kinds [10]byte
	n := 0
	for i := 0; i < len(s); {
		c := lowerASCII(s[i])
		if c < 'a' || c > 'z' {
			if c >= '0' && c <= '9' || n == 0 {
				return "", false
			}
			i++
			continue
		}
		j := i
		for j < len(s) && lowerASCII(s[j]) == c {
			j++
		}
		k := formatKind(c, j-i)
		if k == 0 || n == len(kinds) {
			return "", false
		}
		kinds[n] = k
		n++
		i = j
	}
	hours, seconds := 0, 0
	for _, k := range kinds[:n] {
		switch k {
		case 'h':
			hours++
		case 's':
			seconds++
		}
	}
	withTime = hours > 0 && n >= 2
	if n < 3 {
		return "", withTime
	}
	// 'b' stands for "jj", a French day or a Dutch or German year: what the others leave.
	a, b, c := kinds[0], kinds[1], kinds[2]
	if a == 'b' {
		a = 'd'
	}
	if c == 'b' {
		c = 'y'
		if a == 'y' {
			c = 'd'
		}
	}
	switch {
	case a == 'd' && b == 'm' && c == 'y':
		order = "dmy"
	case a == 'm' && b == 'd' && c == 'y':
		order = "mdy"
	case a == 'y' && b == 'm' && c == 'd':
		order = "ymd"
	}
	return order, withTime
}

func lowerASCII(c byte) byte {
	if c >= 'A' && c <= 'Z' {
		c += 'a' - 'A'
	}
	return c
}

// formatKind says what n equal letters stand for: d, m, y, h, s, b ("jj") or f (fraction, zone mark); 0 for none.
func formatKind(c byte, n int) byte {
	switch {
	case c == 'd' && n <= 2, (c == 't' || c == 'g') && n == 2:
		return 'd'
	case c == 'm' && n <= 4:
		return 'm'
	case c == 'y' && n <= 4, (c == 'j' || c == 'a' || c == 'r') && n == 4:
		return 'y'
	case c == 'j' && n == 2:
		return 'b'
	case c == 'h' && n <= 2:
		return 'h'
	case c == 's' && n <= 3:
		return 's'
	case c == 'f' && n <= 6, c == 'z' && n <= 3, c == 't' && n == 1:
		return 'f'
	}
	return 0
}

// timeKind says which kind of time the words of a heading name. unit is the unit found, if any.
func timeKind(w *words, unit UnitMeaning) TimeKind {
	part := NoTime
	parts := 0
	for _, p := range [...]struct {
		c class
		k TimeKind
	}{{wYear, YearPart}, {wMonth, MonthPart}, {wDay, DayPart}, {wHour, HourPart}, {wMinute, MinutePart}, {wSecond, SecondPart}} {
		if w.has(p.c) {
			part, parts = p.k, parts+1
		}
	}
	date := w.has(wDate) || w.has(wData)
	clock := w.has(wTime) || w.has(wClock)
	switch {
	case w.has(wEpoch):
		return UnixTime
	case w.has(wSerialday), w.has(wSerialno) && date:
		return SerialDay
	case w.has(wElapsed):
		return Elapsed
	case unit.Time == Elapsed && !date && !w.has(wStamp):
		return Elapsed
	case w.has(wZone):
		return ZonePart
	case w.has(wStamp), date && clock:
		return DateTime
	case date:
		return Date
	case w.has(wClock):
		return TimeOfDay
	case w.has(wTime):
		if parts == 1 {
			return Elapsed
		}
		return AnyTime
	case parts == 1:
		return part
	case parts > 1:
		return AnyTime
	}
	return AnyTime
}

// partUnit gives the seconds of the unit that a word names ("minutes"), 0 without one.
func partUnit(w *words) float64 {
	switch {
	case w.has(wMicrosecond):
		return 1e-6
	case w.has(wMillisecond):
		return 0.001
	case w.has(wSecond):
		return 1
	case w.has(wMinute):
		return 60
	case w.has(wHour):
		return 3600
	case w.has(wDay):
		return 86400
	}
	return 0
}
