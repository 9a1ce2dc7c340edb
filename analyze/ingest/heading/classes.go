package heading

// shortWord gives the first word of a heading when it has at most four letters: it may be one part of a date or clock ("MM").
func shortWord(ts []token) string {
	for i := range ts {
		if ts[i].kind == tWord && len(ts[i].text) <= 4 {
			return ts[i].text
		}
	}
	return ""
}

// words holds the unused words of a heading by class.
type words struct {
	first [classCount]int8 // 1 + index of the first token of the class, 0 for none
	last  [classCount]int8
	count int // unused words, fillers left out
	all   int // unused words, fillers too
	known int // unused words that stand in the vocabulary, fillers left out
}

func (w *words) has(c class) bool { return w.first[c] > 0 }

// byClass sorts the words of a heading that no unit, zone or format has used.
func byClass(ts []token) (w words) {
	for i := range ts {
		t := &ts[i]
		if t.kind != tWord || t.used {
			continue
		}
		w.all++
		if t.a == wFiller && t.b == wNone {
			continue
		}
		w.count++
		if t.a != wNone {
			w.known++
		}
		for _, c := range [...]class{t.a, t.b} {
			if c == wNone {
				continue
			}
			if w.first[c] == 0 {
				w.first[c] = int8(i + 1)
			}
			w.last[c] = int8(i + 1)
		}
	}
	return w
}

// useFormat marks the letters of a spelled-out date or time format as used.
func useFormat(plain string, ts []token) {
	for from := 0; from < len(plain); {
		to := from
		for to < len(plain) && !isFormatBreak(plain[to]) {
			to++
		}
		if o, t := chunkOrder(plain[from:to]); o != "" || t {
			use(ts, from, to)
		}
		from = to + 1
	}
}

// numberIn gives the last whole number below 10000 that stands beside a word as its number, -1 without one.
func numberIn(ts []token) int {
	for i := len(ts) - 1; i >= 0; i-- {
		t := &ts[i]
		if t.kind != tNumber || t.used {
			continue
		}
		n, rest := wholeNumber(t.text)
		if rest != "" || n >= 10000 {
			continue
		}
		if i+1 < len(ts) && ts[i+1].text == "%" {
			continue
		}
		if i > 0 && ts[i-1].text == "pt" && !t.apart {
			continue // Pt100
		}
		return n
	}
	return -1
}

// elsewhere names the other body that a heading speaks of, "" without one.
func elsewhere(w *words, ts []token) string {
	for _, c := range [...]class{wElsewhere, wVoid} {
		if w.has(c) {
			return ts[w.first[c]-1].text
		}
	}
	return ""
}

func hasText(ts []token, text string) bool {
	for i := range ts {
		if ts[i].text == text {
			return true
		}
	}
	return false
}

func hasPhrase(ts []token, a, b string) bool {
	for i := 0; i+1 < len(ts); i++ {
		if ts[i].text == a && ts[i+1].text == b {
			return true
		}
	}
	return false
}
