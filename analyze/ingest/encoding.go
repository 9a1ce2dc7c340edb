package ingest

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"unicode/utf8"

	"ringheat/analyze/series"
)

// encoding is how the file's bytes stand for characters.
type encoding uint8

const (
	utf8Text encoding = iota // also plain ASCII: the bytes are the text
	utf16LE
	utf16BE
	windows1252
	utf8Strays // UTF-8 with bytes that are none, read as Windows-1252
)

var encodingNames = [...]string{"UTF-8", "UTF-16LE", "UTF-16BE", "Windows-1252", "UTF-8 with Windows-1252 bytes"}
var encodingFlags = [...]string{"utf-8", "utf-16le", "utf-16be", "windows-1252", ""}

// windows1252High are the characters of bytes 0x80 to 0x9F, after the code page's published table; the five
// bytes without a character become U+FFFD.
var windows1252High = [32]rune{
	0x20AC, 0xFFFD, 0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0xFFFD, 0x017D, 0xFFFD,
	0xFFFD, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0xFFFD, 0x017E, 0x0178,
}

// decoding is the second stage's finding.
type decoding struct {
	enc   encoding
	bom   int // bytes of byte order mark
	guess Guess
}

// isASCII says whether no byte of b has its high bit set.
func isASCII(b []byte) bool {
	for len(b) >= 32 {
		v := binary.LittleEndian.Uint64(b) | binary.LittleEndian.Uint64(b[8:]) | binary.LittleEndian.Uint64(b[16:]) | binary.LittleEndian.Uint64(b[24:])
		if v&0x8080808080808080 != 0 {
			return false
		}
		b = b[32:]
	}
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// findEncoding decides the encoding from the first bytes of the file. wanted is the user's choice, "" for none;
// whole says that head is all of the file.
func findEncoding(file string, head []byte, wanted string, whole bool) (decoding, error) {
	var d decoding
	g := &d.guess
	g.Stage = "encoding"
	switch {
	case bytes.HasPrefix(head, []byte{0xFF, 0xFE, 0, 0}), bytes.HasPrefix(head, []byte{0, 0, 0xFE, 0xFF}):
		return d, &Error{Kind: ErrUnsupported, File: file, Message: "is UTF-32 text", Hint: "save it as UTF-8"}
	case bytes.HasPrefix(head, []byte{0xEF, 0xBB, 0xBF}):
		d.enc, d.bom, g.Evidence = utf8Text, 3, "byte order mark"
	case bytes.HasPrefix(head, []byte{0xFF, 0xFE}):
		d.enc, d.bom, g.Evidence = utf16LE, 2, "byte order mark"
	case bytes.HasPrefix(head, []byte{0xFE, 0xFF}):
		d.enc, d.bom, g.Evidence = utf16BE, 2, "byte order mark"
	}
	if wanted != "" {
		found := -1
		for i, f := range encodingFlags {
			if f == wanted && f != "" {
				found = i
			}
		}
		if found < 0 {
			return d, &Error{Kind: ErrOption, File: file, Message: fmt.Sprintf("no encoding %q", wanted), Hint: "use utf-8, utf-16le, utf-16be or windows-1252"}
		}
		if encoding(found) != d.enc {
			d.bom = 0
		}
		d.enc = encoding(found)
		if d.enc == utf8Text && !utf8.Valid(trimPartial(head[d.bom:], whole)) {
			d.enc = utf8Strays
		}
		g.Choice, g.By, g.Evidence = encodingNames[d.enc], series.ByFlag, "named by flag"
		g.Flag = "--encoding " + wanted
		return d, nil
	}
	if d.bom == 0 {
		if le, be := nulPattern(head); le {
			d.enc, g.Evidence = utf16LE, "every second byte is NUL, the high byte of a letter, and comes last"
		} else if be {
			d.enc, g.Evidence = utf16BE, "every second byte is NUL, the high byte of a letter, and comes first"
		} else if isASCII(head) {
			g.Evidence = "plain ASCII"
		} else {
			valid, stray := countUTF8(head, whole)
			switch {
			case stray == 0:
				g.Evidence = fmt.Sprintf("%d characters outside ASCII, all of them valid UTF-8", valid)
			case valid == 0:
				d.enc = windows1252
				g.Evidence = fmt.Sprintf("%d bytes outside ASCII that are no UTF-8", stray)
				g.RunnerUp = "another 8-bit encoding"
			default:
				d.enc = utf8Strays
				g.Evidence = fmt.Sprintf("%d characters are valid UTF-8, %d bytes are not and are read as Windows-1252", valid, stray)
				g.RunnerUp = encodingNames[windows1252]
			}
		}
	} else if d.enc == utf8Text {
		if valid, stray := countUTF8(head[3:], whole); stray > 0 {
			d.enc = utf8Strays
			g.Evidence = fmt.Sprintf("byte order mark; %d characters are valid UTF-8, %d bytes are not and are read as Windows-1252", valid, stray)
		}
	}
	g.Choice = encodingNames[d.enc]
	if d.bom > 0 && d.enc == utf8Text {
		g.Choice = "UTF-8 with byte order mark"
	}
	g.By = series.ByPlausibility
	if encodingFlags[d.enc] != "" {
		g.Flag = "--encoding " + encodingFlags[d.enc]
	}
	return d, nil
}

// nulPattern says whether b looks like UTF-16 without a byte order mark: of the first bytes' pairs,
// most have a NUL on the same side and hardly any on the other.
func nulPattern(b []byte) (le, be bool) {
	b = b[:min(len(b), 4096)&^1]
	if len(b) < 4 {
		return false, false
	}
	var even, odd int
	for i := 0; i < len(b); i += 2 {
		if b[i] == 0 {
			even++
		}
		if b[i+1] == 0 {
			odd++
		}
	}
	pairs := len(b) / 2
	return odd*10 >= pairs*7 && even*20 <= pairs, even*10 >= pairs*7 && odd*20 <= pairs
}

// trimPartial cuts a UTF-8 sequence that the end of b has cut in two, unless b is the whole file.
func trimPartial(b []byte, whole bool) []byte {
	if whole {
		return b
	}
	for i := 1; i <= 3 && i <= len(b); i++ {
		if c := b[len(b)-i]; utf8.RuneStart(c) {
			if c >= 0xC0 && !utf8.FullRune(b[len(b)-i:]) {
				return b[:len(b)-i]
			}
			break
		}
	}
	return b
}

// countUTF8 counts the characters outside ASCII and the bytes that are no UTF-8.
func countUTF8(b []byte, whole bool) (valid, stray int) {
	b = trimPartial(b, whole)
	for len(b) > 0 {
		if b[0] < utf8.RuneSelf {
			b = b[1:]
			continue
		}
		if r, n := utf8.DecodeRune(b); r == utf8.RuneError && n == 1 {
			stray++
			b = b[1:]
		} else {
			valid++
			b = b[n:]
		}
	}
	return valid, stray
}

// binaryShare is the share of control characters that no text has, in percent, over which a file is no text.
const binaryShare = 2

// looksBinary says whether decoded text has too many control characters. NULs are not counted: loggers
// that lose power leave them; a file of nothing else is reported as having no data.
func looksBinary(text []byte) bool {
	n := 0
	for _, c := range text {
		if c < 0x20 && c != '\n' && c != '\r' && c != '\t' && c != '\f' && c != '\v' && c != 0 && c != 0x1a && c != 0x1b {
			n++
		}
	}
	return n*100 > len(text)*binaryShare
}

// decodeBytes appends the text of Windows-1252 or mixed bytes. It gives how many bytes of src it used:
// all of them, but for a UTF-8 sequence that may go on in the next bytes.
func decodeBytes(dst, src []byte, enc encoding, last bool) ([]byte, int) {
	i := 0
	for i < len(src) {
		start := i
		for i < len(src) && src[i] < utf8.RuneSelf {
			i++
		}
		dst = append(dst, src[start:i]...)
		if i == len(src) {
			break
		}
		if enc == utf8Strays {
			if !last && !utf8.FullRune(src[i:]) {
				return dst, i
			}
			if r, n := utf8.DecodeRune(src[i:]); r != utf8.RuneError || n > 1 {
				dst = append(dst, src[i:i+n]...)
				i += n
				continue
			}
		}
		c := rune(src[i])
		if c < 0xA0 {
			c = windows1252High[c-0x80]
		}
		dst = utf8.AppendRune(dst, c)
		i++
	}
	return dst, i
}

// decodeUTF16 appends the text of UTF-16 bytes; lone surrogates become U+FFFD, as the Unicode Standard
// (chapter 3.9) asks. It gives how many bytes it used: a pair that is cut in two waits for the next bytes.
func decodeUTF16(dst, src []byte, little, last bool) ([]byte, int) {
	unit := func(i int) rune {
		if little {
			return rune(src[i]) | rune(src[i+1])<<8
		}
		return rune(src[i])<<8 | rune(src[i+1])
	}
	i := 0
	for i+1 < len(src) {
		r := unit(i)
		switch {
		case r >= 0xD800 && r < 0xDC00:
			if i+3 >= len(src) && !last {
				return dst, i
			}
			if i+3 < len(src) {
				if s := unit(i + 2); s >= 0xDC00 && s < 0xE000 {
					r = 0x10000 + (r-0xD800)<<10 + (s - 0xDC00)
					i += 2
					break
				}
			}
			r = utf8.RuneError
		case r >= 0xDC00 && r < 0xE000:
			r = utf8.RuneError
		}
		dst = utf8.AppendRune(dst, r)
		i += 2
	}
	if last && i < len(src) {
		dst = utf8.AppendRune(dst, utf8.RuneError)
		i = len(src)
	}
	return dst, i
}
