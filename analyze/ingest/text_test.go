package ingest

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"
)

// countLines counts the lines of decoded text without the reader's help: a line ends at CR LF, LF or CR, and
// text behind the last end is a line too.
func countLines(s string) int {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	s = strings.ReplaceAll(s, "\r", "\n")
	n := strings.Count(s, "\n")
	if s != "" && !strings.HasSuffix(s, "\n") {
		n++
	}
	return n
}

func readLines(t interface{ Fatal(...any) }, in io.Reader, encoding string) (lines []string, tx *text) {
	var src stored
	tx = &text{}
	if err := src.open("test", in); err != nil {
		t.Fatal(err)
	}
	if err := tx.begin(&src, encoding); err != nil {
		t.Fatal(err)
	}
	for {
		line, ok, err := tx.next()
		if err != nil {
			t.Fatal(err)
		}
		if !ok {
			return lines, tx
		}
		lines = append(lines, string(line))
	}
}

func TestLines(t *testing.T) {
	for _, c := range []struct {
		name, in string
		want     []string
	}{
		{"LF", "a\nb\n", []string{"a", "b"}},
		{"CR LF", "a\r\nb\r\n", []string{"a", "b"}},
		{"CR", "a\rb\r", []string{"a", "b"}},
		{"mixed", "a\rb\nc\r\nd", []string{"a", "b", "c", "d"}},
		{"no end", "a\nb", []string{"a", "b"}},
		{"blank lines", "\n\r\n\r\ra", []string{"", "", "", "", "a"}},
		{"CR CR LF", "a\r\r\nb", []string{"a", "", "b"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, tx := readLines(t, strings.NewReader(c.in), "")
			if strings.Join(got, "|") != strings.Join(c.want, "|") || len(got) != len(c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
			if tx.line != countLines(c.in) {
				t.Errorf("%d lines, counted apart %d", tx.line, countLines(c.in))
			}
		})
	}
}

// Lines come out the same however the bytes come in, and the head's list agrees with the lines taken one by one.
func TestLinesInPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.StringMatching(`([a-c;, 0-9]{0,5}(\r\n|\n|\r)){0,20}[a-c]{0,3}`).Draw(t, "in")
		if in == "" {
			return
		}
		whole, _ := readLines(t, strings.NewReader(in), "")
		piecewise, tx := readLines(t, iotest.OneByteReader(strings.NewReader(in)), "")
		if strings.Join(whole, "|") != strings.Join(piecewise, "|") {
			t.Fatalf("in pieces %q, at once %q", piecewise, whole)
		}
		if tx.line != countLines(in) {
			t.Fatalf("%d lines, counted apart %d", tx.line, countLines(in))
		}
		tx.rewind()
		spans := tx.headLines(nil, tx.start, len(tx.buf))
		if len(spans) != len(whole) {
			t.Fatalf("head lists %d lines, reading gives %d", len(spans), len(whole))
		}
		for i, s := range spans {
			if string(tx.buf[s.start:s.end]) != whole[i] {
				t.Fatalf("line %d: head %q, read %q", i+1, tx.buf[s.start:s.end], whole[i])
			}
		}
	})
}

// A text longer than the window gives the same lines, with every encoding.
func TestLongText(t *testing.T) {
	var b strings.Builder
	b.WriteString("Zeit;Temperatur °C\r\n")
	for i := range 60000 {
		b.WriteString("12:00:00;")
		b.WriteString(strings.Repeat("1", i%37))
		b.WriteString([]string{"\r\n", "\n", "\r"}[i%3])
	}
	want := b.String()
	lines := countLines(want)
	utf16 := func(e unicode.Endianness, bom unicode.BOMPolicy) string {
		s, err := unicode.UTF16(e, bom).NewEncoder().String(want)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	latin, err := charmap.Windows1252.NewEncoder().String(want)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, in, enc string }{
		{"UTF-8", want, "UTF-8"},
		{"UTF-8 with mark", "\ufeff" + want, "UTF-8 with byte order mark"},
		{"UTF-16LE", utf16(unicode.LittleEndian, unicode.UseBOM), "UTF-16LE"},
		{"UTF-16BE", utf16(unicode.BigEndian, unicode.UseBOM), "UTF-16BE"},
		{"UTF-16LE bare", utf16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16LE"},
		{"UTF-16BE bare", utf16(unicode.BigEndian, unicode.IgnoreBOM), "UTF-16BE"},
		{"Windows-1252", latin, "Windows-1252"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, tx := readLines(t, strings.NewReader(c.in), "")
			if tx.dec.guess.Choice != c.enc {
				t.Errorf("encoding %s, want %s", tx.dec.guess.Choice, c.enc)
			}
			if len(got) != lines || tx.line != lines {
				t.Fatalf("%d lines, counted apart %d", len(got), lines)
			}
			if got[0] != "Zeit;Temperatur °C" || got[37*3] == "" {
				t.Errorf("first line %q", got[0])
			}
		})
	}
}

// source: golang.org/x/text is the reference for the decoders.
func TestWindows1252AgainstReference(t *testing.T) {
	all := make([]byte, 256)
	for i := range all {
		all[i] = byte(i)
	}
	want, err := charmap.Windows1252.NewDecoder().Bytes(all)
	if err != nil {
		t.Fatal(err)
	}
	got, used := decodeBytes(nil, all, windows1252, true)
	if used != len(all) || !bytes.Equal(got, want) {
		t.Errorf("Windows-1252: got %q, want %q", got, want)
	}
}

func TestUTF16AgainstReference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SliceOfN(rapid.Byte(), 0, 40).Draw(t, "in")
		for _, little := range []bool{true, false} {
			e := unicode.BigEndian
			if little {
				e = unicode.LittleEndian
			}
			even := in[:len(in)&^1]
			want, err := unicode.UTF16(e, unicode.IgnoreBOM).NewDecoder().Bytes(even)
			if err != nil {
				t.Fatal(err)
			}
			got, _ := decodeUTF16(nil, even, little, true)
			if !bytes.Equal(got, want) {
				t.Fatalf("little %v: got %q, want %q", little, got, want)
			}
			// In two pieces the text is the same.
			if cut := len(even) / 2; cut > 0 {
				first, used := decodeUTF16(nil, even[:cut], little, false)
				second, _ := decodeUTF16(first, even[used:], little, true)
				if !bytes.Equal(second, want) {
					t.Fatalf("in two pieces: got %q, want %q", second, want)
				}
			}
		}
	})
}
