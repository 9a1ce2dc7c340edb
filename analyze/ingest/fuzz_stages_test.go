package ingest

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"io"
	"strings"
	"testing"
	"unicode/utf16"

	"golang.org/x/text/encoding/charmap"
)

// FuzzEncoding holds the decoded text against unicode/utf16 and golang.org/x/text, and the lines against the text.
func FuzzEncoding(f *testing.F) {
	for _, s := range []string{"a\r\nb\rc\n", "\ufeffäöü\n", "\xff\xfea\x00\n\x00", "\xfe\xff\x00a\x00\n", "23,4\xb0C\n", "ä\xb0\n", "a\x00b\x00\n\x00", "\xff\xfe\x00\xd8", "\x80\x81\x9d", "\xff\xfe0\xdc0\xdc"} {
		f.Add([]byte(s))
	}
	var tx text
	f.Fuzz(func(t *testing.T, in []byte) {
		var src stored
		if src.open("fuzz", bytes.NewReader(in)) != nil || src.compressed != "" || tx.begin(&src, "") != nil {
			return
		}
		var want []byte
		bare := in[tx.dec.bom:]
		switch tx.dec.enc {
		case utf8Text:
			want = bare
		case utf16LE, utf16BE:
			// Go's unicode/utf16 is the reference: it replaces each lone surrogate, while x/text merges two of them.
			var order binary.ByteOrder = binary.BigEndian
			if tx.dec.enc == utf16LE {
				order = binary.LittleEndian
			}
			units := make([]uint16, len(bare)/2)
			for i := range units {
				units[i] = order.Uint16(bare[2*i:])
			}
			want = []byte(string(utf16.Decode(units)))
			if len(bare)%2 == 1 {
				want = append(want, "\uFFFD"...)
			}
		case windows1252:
			want, _ = charmap.Windows1252.NewDecoder().Bytes(bare)
		default:
			want = nil // UTF-8 with strays has no reference
		}
		got := tx.buf[tx.first:]
		if want != nil && !bytes.Equal(got, want) {
			t.Fatalf("%s: got %q, want %q", tx.dec.guess.Choice, got, want)
		}
		text := string(got)
		var lines []string
		for {
			line, ok, err := tx.next()
			if err != nil {
				return // too long
			}
			if !ok {
				break
			}
			lines = append(lines, string(line))
		}
		if tx.line != countLines(text) || len(lines) != tx.line {
			t.Fatalf("%d lines, counted apart %d", tx.line, countLines(text))
		}
		if joined := strings.Join(lines, ""); joined != strings.NewReplacer("\r", "", "\n", "").Replace(text) {
			t.Fatalf("lines hold %q of %q", joined, text)
		}
	})
}

// FuzzSplit holds the cells of a line against encoding/csv where that reads the line, and against a count of
// delimiters where nothing is quoted.
func FuzzSplit(f *testing.F) {
	for _, s := range []string{`a,"b ""c"" d",e`, `"1,5","2,5"`, `"open,`, `a"b,c`, `="21.5",x`, `,,`, ``, "a;b", `"a" ,b`, `"a"x,b`} {
		f.Add([]byte(s), byte(','))
	}
	f.Fuzz(func(t *testing.T, line []byte, delim byte) {
		switch delim {
		case comma, semicolon, tab, pipe:
		default:
			delim = comma
		}
		if bytes.ContainsAny(line, "\r\n") {
			return
		}
		cells, _ := split(line, delim, nil)
		if bytes.IndexByte(line, '"') < 0 {
			if want := bytes.Count(line, []byte{delim}) + 1; len(cells) != want {
				t.Fatalf("%q: %d cells, want %d", line, len(cells), want)
			}
		}
		if len(bytes.TrimSpace(line)) == 0 || bytes.Contains(line, []byte(`="`)) {
			return
		}
		r := csv.NewReader(bytes.NewReader(append(bytes.Clone(line), '\n')))
		r.Comma = rune(delim)
		want, err := r.Read()
		if err != nil {
			return // encoding/csv is stricter with stray quotes
		}
		if len(cells) != len(want) {
			t.Fatalf("%q: %d cells, encoding/csv reads %d", line, len(cells), len(want))
		}
		for i := range cells {
			if got, want := string(cells[i]), string(trim([]byte(want[i]))); got != want {
				t.Fatalf("%q: cell %d is %q, encoding/csv reads %q", line, i, got, want)
			}
		}
		if _, err := r.Read(); err != io.EOF {
			t.Fatalf("%q: more than one record", line)
		}
	})
}

// FuzzDialect holds for any text: a delimiter is found without a panic, and the usual number of cells is that of some line.
func FuzzDialect(f *testing.F) {
	for _, s := range []string{smallLog, "1;2\n3;4\n", "a b\n1 2\n3 4\n", "sep=|\n1|2\n", "\"1,2\"\n\"3,4\"\n\"5,6\"\n"} {
		f.Add([]byte(s))
	}
	var tx text
	var p planner
	f.Fuzz(func(t *testing.T, in []byte) {
		var src stored
		if src.open("fuzz", bytes.NewReader(in)) != nil || src.compressed != "" || tx.begin(&src, "") != nil {
			return
		}
		p.file, p.read, p.text, p.wrapped = "fuzz", &Reading{}, tx.buf, false
		p.indexLines(&tx, false)
		if len(p.lines) == 0 {
			return
		}
		d, err := p.findDialect()
		if err != nil || d.delim == noDelim || d.columns == 1 {
			return
		}
		p.dial = d
		for i := range p.lines {
			if cells, _ := p.cut(p.lineAt(i), nil); len(cells) == d.columns {
				return
			}
		}
		t.Fatalf("%s gives %d cells, no line has so many", delimiterName(d.delim), d.columns)
	})
}
