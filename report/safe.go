package report

import (
	"strings"
	"unicode"
)

// The most characters that a report shows of a foreign text (a heading, a file name, a cell), and of a
// sentence that quotes one.
const (
	maxText     = 200
	maxSentence = 2000
)

// Plain makes a text that came from a file safe to show anywhere: control and direction marks are shown
// as the Unicode replacement character, so they can neither move a terminal's cursor nor reorder a line,
// and a text longer than maxText characters is cut with a mark.
func Plain(s string) string { return shownText(s, maxText) }

// sentenceText is Plain for a sentence of our own that quotes such a text: it may be longer.
func sentenceText(s string) string { return shownText(s, maxSentence) }

func shownText(s string, most int) string {
	clean := true
	for i := 0; i < len(s); i++ {
		if s[i] < 0x20 || s[i] >= 0x7f {
			clean = false
			break
		}
	}
	if clean && len(s) <= most {
		return s
	}
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n++; n > most {
			b.WriteString("…")
			break
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			r = unicode.ReplacementChar
		}
		b.WriteRune(r)
	}
	return b.String()
}

// spreadsheetSafe makes a text safe as a cell that a spreadsheet opens: one that it would take for a
// formula is kept as text by an apostrophe in front.
func spreadsheetSafe(s string) string {
	s = sentenceText(s)
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
