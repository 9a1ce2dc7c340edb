package ingest

import "bytes"

// The delimiters that are tried, in the order in which they win a tie. A blank stands for runs of blanks.
const (
	comma     = ','
	semicolon = ';'
	tab       = '\t'
	pipe      = '|'
	blanks    = ' '
	noDelim   = 0 // one cell a line
)

var delimiterWords = [...]struct {
	b    byte
	word string
}{{comma, "comma"}, {semicolon, "semicolon"}, {tab, "tab"}, {pipe, "pipe"}, {blanks, "spaces"}}

// delimiterName gives a delimiter's word; "none" for one cell a line.
func delimiterName(b byte) string {
	for _, d := range delimiterWords {
		if d.b == b {
			return d.word
		}
	}
	if b == noDelim {
		return "none"
	}
	return string(rune(b))
}

// ParseDelimiter gives the delimiter that a user names: comma, semicolon, tab, pipe, spaces, or the
// character itself. ok is false for anything else, also for a digit, letter, quote or sign.
func ParseDelimiter(text string) (b byte, ok bool) {
	for _, d := range delimiterWords {
		if text == d.word || text == string(rune(d.b)) {
			return d.b, true
		}
	}
	if text == `\t` {
		return tab, true
	}
	if text == "space" || text == "blanks" {
		return blanks, true
	}
	if len(text) == 1 {
		switch c := text[0]; c {
		case '!', '#', '$', '&', '*', ':', '@', '^', '_', '~', '/':
			return c, true
		}
	}
	return 0, false
}

// split cuts a line into cells, trimmed of blanks and unquoted, and appends them to cells. A quote opens
// a cell only at its start and closes it only before a delimiter or the line's end; any other quote is an
// ordinary character, so that a stray one harms no other cell. open says that the last cell's quote is
// still open at the line's end: the cell may go on in the next line.
func split(line []byte, delim byte, cells [][]byte) (out [][]byte, open bool) {
	if delim == blanks {
		return splitBlanks(line, cells), false
	}
	if delim == noDelim {
		return append(cells, unquote(trim(line))), false
	}
	i := 0
	for {
		for i < len(line) && isBlank(line[i]) && line[i] != delim {
			i++
		}
		if i+1 < len(line) && line[i] == '=' && line[i+1] == '"' {
			i++ // a spreadsheet's formula for a text: ="21.5"
		}
		if i < len(line) && line[i] == '"' {
			if body, next, ok, runs := quotedCell(line, i, delim); ok {
				cells = append(cells, body)
				if next < 0 {
					return cells, false
				}
				i = next
				continue
			} else if runs {
				open = true
			}
		}
		j := bytes.IndexByte(line[i:], delim)
		if j < 0 {
			return append(cells, trim(line[i:])), open
		}
		cells = append(cells, trim(line[i:i+j]))
		i += j + 1
	}
}

// quotedCell reads the quoted cell that starts at line[i]. next is where the following cell starts, -1 when
// the line ends here. ok is false when the quote isn't closed as it should be; runs then says that no
// closing quote was met at all.
func quotedCell(line []byte, i int, delim byte) (body []byte, next int, ok, runs bool) {
	start := i + 1
	doubled := false
	for j := start; j < len(line); j++ {
		if line[j] != '"' {
			continue
		}
		if j+1 < len(line) && line[j+1] == '"' {
			doubled = true
			j++
			continue
		}
		k := j + 1
		for k < len(line) && isBlank(line[k]) && line[k] != delim {
			k++
		}
		body = line[start:j]
		if doubled {
			body = bytes.ReplaceAll(body, []byte(`""`), []byte(`"`))
		}
		body = trim(body)
		if k == len(line) {
			return body, -1, true, false
		}
		if line[k] == delim {
			return body, k + 1, true, false
		}
		return nil, 0, false, false
	}
	return nil, 0, false, true
}

// splitBlanks cuts at runs of blanks and tabs; quotes hold a cell together.
func splitBlanks(line []byte, cells [][]byte) [][]byte {
	i := 0
	for {
		for i < len(line) && isBlank(line[i]) {
			i++
		}
		if i == len(line) {
			return cells
		}
		if line[i] == '"' {
			if j := bytes.IndexByte(line[i+1:], '"'); j >= 0 && (i+j+2 == len(line) || isBlank(line[i+j+2])) {
				cells = append(cells, trim(line[i+1:i+1+j]))
				i += j + 2
				continue
			}
		}
		j := i
		for j < len(line) && !isBlank(line[j]) {
			j++
		}
		cells = append(cells, line[i:j])
		i = j
	}
}

// isBlank says whether c is a blank, a tab or a NUL; loggers that lose power leave NULs.
func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == 0 }

// trim cuts blanks, NULs and no-break spaces off both ends.
func trim(b []byte) []byte {
	for len(b) > 0 {
		switch {
		case isBlank(b[0]) || b[0] == '\f' || b[0] == '\v' || b[0] == 0x1a:
			b = b[1:]
			continue
		case len(b) >= 2 && b[0] == 0xC2 && b[1] == 0xA0:
			b = b[2:]
			continue
		}
		break
	}
	for len(b) > 0 {
		n := len(b)
		switch {
		case isBlank(b[n-1]) || b[n-1] == '\f' || b[n-1] == '\v' || b[n-1] == 0x1a:
			b = b[:n-1]
			continue
		case n >= 2 && b[n-2] == 0xC2 && b[n-1] == 0xA0:
			b = b[:n-2]
			continue
		}
		break
	}
	return b
}

// splitWide cuts at runs of two or more blanks and at tabs, for headings of several words over columns of blanks.
func splitWide(line []byte, cells [][]byte) [][]byte {
	start := 0
	line = trim(line)
	for i := 0; i < len(line); i++ {
		if !isBlank(line[i]) {
			continue
		}
		end := i
		for i < len(line) && isBlank(line[i]) {
			i++
		}
		if i-end >= 2 || line[end] == '\t' {
			cells = append(cells, unquote(line[start:end]))
			start = i
		}
	}
	if start < len(line) {
		cells = append(cells, unquote(line[start:]))
	}
	return cells
}

// wrapped says whether a line is one quoted cell as a whole, with nothing quoted inside but doubled quotes.
func wrapped(line []byte) bool {
	n := len(line)
	if n < 2 || line[0] != '"' || line[n-1] != '"' {
		return false
	}
	for i := 1; i < n-1; i++ {
		if line[i] == '"' {
			if i+1 >= n-1 || line[i+1] != '"' {
				return false
			}
			i++
		}
	}
	return true
}

// unquote takes the quotes off a cell that is quoted as a whole.
func unquote(b []byte) []byte {
	if len(b) >= 2 && b[0] == '"' && b[len(b)-1] == '"' {
		b = bytes.ReplaceAll(b[1:len(b)-1], []byte(`""`), []byte(`"`))
	}
	return trim(b)
}
