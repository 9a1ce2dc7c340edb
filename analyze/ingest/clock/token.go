package clock

import "unicode/utf8"

type tokenKind uint8

const (
	tokNumber tokenKind = iota
	tokWord
	tokPunct
)

type token struct {
	kind     tokenKind
	used     bool
	spaced   bool // blanks before it
	from, to int
	value    int64
	digits   int
}

const maxTokens = 28

// spaceAt gives the length of the blank that starts at b[i], 0 if there is none. No-break and thin blanks count.
func spaceAt(b []byte, i int) int {
	switch c := b[i]; {
	case c == ' ' || c == '\t' || c == '"':
		return 1
	case c == 0xC2 && i+1 < len(b) && b[i+1] == 0xA0:
		return 2
	case c == 0xE2 && i+2 < len(b) && b[i+1] == 0x80 && (b[i+2] >= 0x80 && b[i+2] <= 0x8A || b[i+2] == 0xAF || b[i+2] == 0x8E):
		return 3
	}
	return 0
}

func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t' || b[0] == '"') {
		b = b[1:]
	}
	for len(b) > 0 {
		if c := b[len(b)-1]; c != ' ' && c != '\t' && c != '"' && c != '\r' {
			break
		}
		b = b[:len(b)-1]
	}
	return b
}

// tokens cuts a text into numbers, words and signs; ok is false when it is too long or has too many.
func tokens(b []byte, t *[maxTokens]token) (n int, ok bool) {
	if len(b) > maxStamp {
		return 0, false
	}
	spaced := false
	for i := 0; i < len(b); {
		if k := spaceAt(b, i); k > 0 {
			i += k
			spaced = true
			continue
		}
		if n == maxTokens {
			return 0, false
		}
		from := i
		tk := &t[n]
		*tk = token{spaced: spaced, from: from}
		spaced = false
		c := b[i]
		switch {
		case '0' <= c && c <= '9':
			v := int64(0)
			for i < len(b) && '0' <= b[i] && b[i] <= '9' {
				if i-from < 18 {
					v = v*10 + int64(b[i]-'0')
				}
				i++
			}
			if i-from > 18 {
				return 0, false
			}
			tk.kind, tk.value, tk.digits = tokNumber, v, i-from
		case isLetter(c):
			i++
			for i < len(b) && isLetter(b[i]) && spaceAt(b, i) == 0 {
				i++
			}
			tk.kind = tokWord
		default:
			i++
			tk.kind = tokPunct
		}
		tk.to = i
		n++
	}
	return n, n > 0
}

func isLetter(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || c >= utf8.RuneSelf
}

func punct(b []byte, tk []token, i int, c byte) bool {
	return i >= 0 && i < len(tk) && tk[i].kind == tokPunct && b[tk[i].from] == c
}

func number(tk []token, i int) bool { return i >= 0 && i < len(tk) && tk[i].kind == tokNumber }

func word(tk []token, i int) bool { return i >= 0 && i < len(tk) && tk[i].kind == tokWord }

// separator gives the sign between two numbers, ' ' for blanks alone; glued says that a word stands between them
// or more than one sign. A dot followed by a blank, as in "21. 8. 2021", is a dot.
func separator(b []byte, tk []token, i, j int) (sep byte, glued bool) {
	switch j - i {
	case 1:
		return ' ', false
	case 2:
		if tk[i+1].kind == tokPunct {
			return b[tk[i+1].from], false
		}
		if tk[i+1].kind == tokWord { // 2021年8月21日
			return 'w', false
		}
	}
	return 0, true
}
