package heading

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxHeading is the most bytes of a heading that are read. Words and units of real headings stand in the
// first hundred; a longer text is cut at a letter and the rest says nothing.
const maxHeading = 1024

// degree is how every spelling of the degree sign stands after repair.
const degree = '°'

// repair brings a heading into one plain form: every spelling of the degree sign, also a damaged one, becomes
// "°"; full-width brackets and letters become plain ones; control characters and every kind of space
// become a blank. damaged says that a degree sign had to be guessed from what another encoding left of it.
func repair(text string) (plain string, damaged bool) {
	if len(text) > maxHeading {
		cut := maxHeading
		for cut > 0 && !utf8.RuneStart(text[cut]) {
			cut--
		}
		text = text[:cut]
	}
	if isPlain(text) {
		return text, false
	}
	var b strings.Builder
	b.Grow(len(text) + 8)
	prev := rune(' ')
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		rest := text[i+size:]
		switch {
		case r == utf8.RuneError && size == 1 && text[i] == 0xB0:
			r = degree
		case r == utf8.RuneError || r == '?' || r == 'ø' || r == '¡' || r == '¿' || r == '§' || r == '¬':
			// What is left of a degree sign after a wrong decoding: only before a C, F or K that stands alone.
			n := 0
			for n < 3 {
				r2, s2 := utf8.DecodeRuneInString(rest)
				if r2 != utf8.RuneError || s2 == 0 {
					break
				}
				rest, size, n = rest[s2:], size+s2, n+1
			}
			if scaleLetterAlone(rest) && !unicode.IsLetter(prev) {
				r, damaged = degree, true
			} else if r == utf8.RuneError {
				r = ' '
			}
		case r == 'Â' || r == 'Ã' || r == '‚' || r == 'â' || r == 'ï':
			if n := mojibake(text[i:]); n > 0 {
				r, size, damaged = degree, n, true
			}
		case r == '&':
			if strings.HasPrefix(rest, "deg;") {
				r, size = degree, size+4
			} else if strings.HasPrefix(rest, "#176;") {
				r, size = degree, size+5
			}
		case r == '\\':
			if strings.HasPrefix(rest, "u00b0") || strings.HasPrefix(rest, "u00B0") {
				r, size, damaged = degree, size+5, true
			} else if strings.HasPrefix(rest, "xb0") || strings.HasPrefix(rest, "xB0") {
				r, size, damaged = degree, size+3, true
			}
		case r == 'º' || r == '˚' || r == 'ᵒ' || r == '∘' || r == '⁰':
			r = degree
		case r == '℃':
			b.WriteString("°")
			r = 'C'
		case r == '℉':
			b.WriteString("°")
			r = 'F'
		case r == 'K': // the kelvin sign, not the letter
			r = 'K'
		case r == 'µ' || r == 'μ':
			r = 'µ'
		case r == '∆' || r == '△' || r == 'δ':
			r = 'Δ'
		case r == 'Ω':
			r = 'Ω'
		case r == '–' || r == '—' || r == '−' || r == '‐' || r == '‑':
			r = '-'
		case r >= '！' && r <= '～': // full-width forms of ASCII
			r = r - '！' + '!'
		case r == '\n' || r == '\t' || unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Cf, r):
			r = ' '
		}
		b.WriteRune(r)
		prev = r
		i += size
	}
	return b.String(), damaged
}

// isPlain says whether a text needs no repair: printable ASCII without the characters that repair looks at.
func isPlain(text string) bool {
	for i := 0; i < len(text); i++ {
		c := text[i]
		if c < ' ' || c >= 0x7F || c == '?' || c == '&' || c == '\\' {
			return false
		}
	}
	return true
}

// mojibake gives the length of a degree sign that was encoded twice ("Â°", "Ã‚Â°", "ï¿½C", "â°"), 0 if there is none.
func mojibake(s string) int {
	for _, form := range [...]string{"Â°", "Ã‚Â°", "Âº", "â°", "Ã°"} {
		if strings.HasPrefix(s, form) {
			return len(form)
		}
	}
	for _, form := range [...]string{"ï¿½", "Â\uFFFD", "Â ", "Â"} {
		if strings.HasPrefix(s, form) && scaleLetterAlone(s[len(form):]) {
			return len(form)
		}
	}
	return 0
}

// scaleLetterAlone says whether s begins with the letter of a temperature scale that is no part of a word.
func scaleLetterAlone(s string) bool {
	if s == "" || strings.IndexByte("CFKcf", s[0]) < 0 {
		return false
	}
	r, _ := utf8.DecodeRuneInString(s[1:])
	return len(s) == 1 || !unicode.IsLetter(r) && !unicode.IsDigit(r)
}

// foldWord lowers a word's case, takes its accents off and writes ä, ae; ö, oe; ü, ue alike as a, o, u, so that one
// spelling in the vocabulary finds all. "ß" becomes "ss".
func foldWord(word string) string {
	for i := 0; ; i++ {
		if i == len(word) {
			return word
		}
		c := word[i]
		if c >= utf8.RuneSelf || c >= 'A' && c <= 'Z' || c == 'e' && i > 0 && (word[i-1] == 'a' || word[i-1] == 'o' || word[i-1] == 'u') {
			break
		}
	}
	out := make([]byte, 0, len(word))
	for _, r := range word {
		r = unicode.ToLower(r)
		var c byte
		switch {
		case r < utf8.RuneSelf:
			c = byte(r)
		case r == 'ß':
			out = append(out, 's')
			c = 's'
		case r == 'æ':
			c = 'a'
		case r == 'œ':
			c = 'o'
		default:
			c = plainLetter(r)
		}
		if c == 0 { // a letter of another script, or a combining accent
			if !unicode.Is(unicode.Mn, r) {
				out = utf8.AppendRune(out, r)
			}
			continue
		}
		if n := len(out); c == 'e' && n > 0 && (out[n-1] == 'a' || out[n-1] == 'o' || out[n-1] == 'u') {
			continue
		}
		out = append(out, c)
	}
	return string(out)
}

// plainLetter takes the accent off a Latin letter; 0 for any other rune.
func plainLetter(r rune) byte {
	const accented = "àáâãäåāăąçćčďđèéêëēęěìíîïīłñńňòóôõöøōőŕřśşšťţùúûüůūűýÿźżž"
	const plain = "aaaaaaaaacccddeeeeeeeiiiiilnnnoooooooorrsssttuuuuuuuyyzzz"
	i := 0
	for _, a := range accented {
		if a == r {
			return plain[i]
		}
		i++
	}
	return 0
}

// kind is the kind of a token.
type kind uint8

const (
	tWord kind = iota
	tNumber
	tSymbol
)

// token is a word, a number or a sign of a heading.
type token struct {
	kind    kind
	a, b    class
	from    int    // byte range in the repaired heading
	to      int    //
	text    string // folded, for words; the sign or figures themselves else
	apart   bool   // a blank or underscore stands before it
	capital bool   // the word is written in capitals only
	used    bool   // part of a unit, a zone or a format: no word any more
	depth   uint8  // brackets around it
}

// maxTokens bounds the words of one heading; the rest is not read.
const maxTokens = 48

// tokens cuts a repaired heading into words, numbers and signs. Words end where case shows that a new one
// begins ("innerRing", "TBore"), at underscores and at digits. Initials with full stops are one word ("i.r.").
func tokens(plain string, into []token) []token {
	out := into[:0]
	apart := true
	depth := uint8(0)
	for i := 0; i < len(plain) && len(out) < maxTokens; {
		r, size := rune(plain[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(plain[i:])
		}
		switch {
		case r == ' ' || r == '_':
			apart = true
			i += size
			continue
		case r >= '0' && r <= '9':
			j := i + 1
			for j < len(plain) && (plain[j] >= '0' && plain[j] <= '9' ||
				(plain[j] == '.' || plain[j] == ',') && j+1 < len(plain) && plain[j+1] >= '0' && plain[j+1] <= '9') {
				j++
			}
			out = append(out, token{kind: tNumber, from: i, to: j, text: plain[i:j], apart: apart, depth: depth})
			i = j
		case unicode.IsLetter(r) && r != 'Δ' && r != 'Ω' && r != 'µ' && r != 'º':
			j := wordEnd(plain, i)
			text, to := initials(plain, i, j)
			if text == "" {
				text, to = foldWord(plain[i:j]), j
			}
			t := token{kind: tWord, from: i, to: to, text: text, apart: apart, depth: depth, capital: allCapitals(plain[i:j])}
			t.a, t.b = lookup(t.text)
			if t.a == wNone {
				out = appendParts(out, t)
			} else {
				out = append(out, t)
			}
			i = to
		default:
			if r == ')' || r == ']' || r == '}' {
				if depth > 0 {
					depth--
				}
			}
			out = append(out, token{kind: tSymbol, from: i, to: i + size, text: plain[i : i+size], apart: apart, depth: depth})
			if r == '(' || r == '[' || r == '{' {
				depth++
			}
			i += size
		}
		apart = false
	}
	return out
}

// appendParts appends the parts of a compound, or the unknown word as it stands.
func appendParts(out []token, t token) []token {
	if head := len(t.text) - 1; head >= 4 && strings.IndexByte("cfk", t.text[head]) >= 0 && len(t.text) == t.to-t.from {
		// "tempc", "bore_tempf", "innerc": a scale glued to a word.
		if a, _ := lookup(t.text[:head]); a == wTemp || a == wInner || a == wOuter || a == wBore || a == wAmbient {
			if len(out)+2 <= maxTokens {
				word, letter := t, t
				word.text, word.a, word.to = t.text[:head], a, t.to-1
				letter.text, letter.a, letter.from, letter.apart = t.text[head:], wNone, t.to-1, false
				return append(out, word, letter)
			}
		}
	}
	classes, ends, n := parts(t.text)
	if n == 0 || len(out)+n > maxTokens {
		return append(out, t)
	}
	from := 0
	for k := 0; k < n; k++ {
		p := t
		p.a, p.b = classes[k], wNone
		p.text = t.text[from:ends[k]]
		p.apart = t.apart && k == 0
		from = ends[k]
		out = append(out, p)
	}
	return out
}

// wordEnd finds where the word that begins at i ends.
func wordEnd(s string, i int) int {
	prevLower, upperRun := false, 0
	for j := i; j < len(s); {
		r, size := rune(s[j]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(s[j:])
		}
		if !unicode.IsLetter(r) && !unicode.Is(unicode.Mn, r) || r == 'Δ' || r == 'Ω' || r == 'µ' || r == 'º' {
			return j
		}
		if r == 'ß' { // has no capital in use
			j += size
			continue
		}
		upper := unicode.IsUpper(r)
		if upper && prevLower {
			return j
		}
		if unicode.IsLower(r) && upperRun >= 2 {
			// "IRing" is I and Ring, "TBore" T and Bore: the last capital begins the new word.
			_, last := utf8.DecodeLastRuneInString(s[i:j])
			return j - last
		}
		if upper {
			upperRun++
		} else {
			upperRun = 0
		}
		prevLower = !upper && !unicode.Is(unicode.Mn, r)
		j += size
	}
	return len(s)
}

// initials reads single letters with full stops or a slash between them as one word: "i.r.", "O. R.", "I/R".
// first is the end of the first letter; text is "" when there are none.
func initials(s string, from, first int) (text string, to int) {
	if first-from != 1 || first+1 >= len(s) || s[first] != '.' && s[first] != '/' {
		return "", 0
	}
	if s[first] == '/' { // "I/R" and "O/D", but not "m/s"
		if first+2 == len(s) || !isASCIILetter(s[first+2]) {
			if isASCIILetter(s[first+1]) && strings.IndexByte("IO", s[from]) >= 0 && strings.IndexByte("RD", s[first+1]) >= 0 {
				return foldWord(s[from:first] + s[first+1:first+2]), first + 2
			}
		}
		return "", 0
	}
	out := []byte{s[from]}
	j := first
	for j < len(s) && s[j] == '.' {
		k := j + 1
		for k < len(s) && s[k] == ' ' {
			k++
		}
		if k >= len(s) || !isASCIILetter(s[k]) || k+1 < len(s) && isASCIILetter(s[k+1]) {
			break
		}
		out = append(out, s[k])
		j = k + 1
	}
	if len(out) < 2 || len(out) > 4 {
		return "", 0
	}
	if j < len(s) && s[j] == '.' {
		j++
	}
	return strings.ToLower(string(out)), j
}

func isASCIILetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

func allCapitals(word string) bool {
	for _, r := range word {
		if !unicode.IsUpper(r) {
			return false
		}
	}
	return true
}
