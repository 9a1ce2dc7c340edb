package ingest

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// text is decoded text, a window of it at a time: the whole of a short file, else a megabyte.
// It gives lines. The zero text works; its buffers are kept from one file to the next.
type text struct {
	src    *stored
	dec    decoding
	buf    []byte // window of decoded text
	start  int    // first byte not yet given as a line
	raw    []byte // bytes not yet decoded, where decoding is needed
	nraw   int
	srcEOF bool
	nl     int  // index in buf of the next line feed at or after start; -1 not looked for, len(buf) none in the window
	line   int  // lines given
	first  int  // where the text begins in the window
	held   bool // the window still holds the text from its first byte on
}

// begin reads the head and decides the encoding.
func (t *text) begin(src *stored, wanted string) error {
	t.src, t.start, t.nraw, t.srcEOF, t.nl, t.line = src, 0, 0, false, -1, 0
	if cap(t.buf) < 64<<10 {
		t.buf = make([]byte, 0, 64<<10)
	}
	t.buf = t.buf[:0]
	if err := t.readInto(&t.buf, headBytes); err != nil {
		return err
	}
	if len(t.buf) == 0 {
		return &Error{Kind: ErrEmpty, File: src.name, Message: "is empty", Hint: "export the log again"}
	}
	var err error
	if t.dec, err = findEncoding(src.name, t.buf, wanted, t.srcEOF); err != nil {
		return err
	}
	if t.dec.enc == utf8Text {
		t.start = t.dec.bom
	} else {
		t.raw = append(t.raw[:0], t.buf[t.dec.bom:]...)
		t.nraw = len(t.raw)
		t.buf = t.buf[:0]
		t.decodeRaw()
	}
	t.first, t.held = t.start, true
	if looksBinary(t.buf[:min(len(t.buf), 8<<10)]) {
		return &Error{Kind: ErrBinary, File: src.name, Message: "is binary, not a text log", Hint: "export the log as CSV text and read that"}
	}
	return nil
}

// readInto fills *p from the source until it holds want bytes or the source ends.
func (t *text) readInto(p *[]byte, want int) error {
	empty := 0
	for len(*p) < want && !t.srcEOF {
		if len(*p) == cap(*p) {
			grown := make([]byte, len(*p), min(max(2*cap(*p), 64<<10), want))
			copy(grown, *p)
			*p = grown
		}
		n, err := t.src.Read((*p)[len(*p):min(cap(*p), want)])
		*p = (*p)[:len(*p)+n]
		switch {
		case err == io.EOF:
			t.srcEOF = true
		case err != nil:
			var e *Error
			if errors.As(err, &e) {
				return err
			}
			return &Error{Kind: ErrRead, File: t.src.name, Message: "can't be read to its end", Err: err}
		case n == 0:
			if empty++; empty > 100 {
				return &Error{Kind: ErrRead, File: t.src.name, Message: "can't be read to its end", Err: io.ErrNoProgress}
			}
		}
	}
	return nil
}

// decodeRaw moves raw bytes into the window.
func (t *text) decodeRaw() {
	var used int
	switch t.dec.enc {
	case utf16LE, utf16BE:
		t.buf, used = decodeUTF16(t.buf, t.raw[:t.nraw], t.dec.enc == utf16LE, t.srcEOF)
	default:
		t.buf, used = decodeBytes(t.buf, t.raw[:t.nraw], t.dec.enc, t.srcEOF)
	}
	t.nraw = copy(t.raw, t.raw[used:t.nraw])
	t.raw = t.raw[:t.nraw]
}

// whole says that the window holds the rest of the file.
func (t *text) whole() bool { return t.srcEOF && t.nraw == 0 }

// fill drops the lines already given and reads on. It gives false when nothing is left to read.
func (t *text) fill() (bool, error) {
	if t.whole() {
		return false, nil
	}
	t.held = false
	t.buf = t.buf[:copy(t.buf, t.buf[t.start:])]
	t.start, t.nl = 0, -1
	if len(t.buf) > MaxLineBytes {
		return false, &Error{Kind: ErrTooLong, File: t.src.name, Line: t.line + 1, Message: fmt.Sprintf("a line of more than %d bytes", MaxLineBytes), Hint: "is this a log? export it with one row a line"}
	}
	before := len(t.buf)
	if t.dec.enc == utf8Text {
		if err := t.readInto(&t.buf, max(headBytes, len(t.buf)+headBytes/2)); err != nil {
			return false, err
		}
	} else {
		if err := t.readInto(&t.raw, t.nraw+256<<10); err != nil {
			return false, err
		}
		t.nraw = len(t.raw)
		t.decodeRaw()
	}
	return len(t.buf) > before || !t.whole(), nil
}

// next gives the next line without its end: LF, CR LF or CR. It stays valid until the next call.
func (t *text) next() (line []byte, ok bool, err error) {
	for {
		rest := t.buf[t.start:]
		if t.nl < t.start {
			if i := bytes.IndexByte(rest, '\n'); i >= 0 {
				t.nl = t.start + i
			} else {
				t.nl = len(t.buf)
			}
		}
		end := t.nl
		body := t.buf[t.start:end]
		if i := bytes.IndexByte(body, '\r'); i >= 0 {
			switch {
			case i == len(body)-1 && end < len(t.buf): // CR LF
				t.start = end + 1
			case i == len(body)-1 && !t.whole(): // the window ends here: is a line feed next?
				if _, err := t.fill(); err != nil {
					return nil, false, err
				}
				continue
			default: // a CR alone
				t.start += i + 1
			}
			t.line++
			return body[:i], true, nil
		}
		if end < len(t.buf) {
			t.start = end + 1
			t.line++
			return body, true, nil
		}
		if more, err := t.fill(); err != nil {
			return nil, false, err
		} else if more {
			continue
		}
		if len(body) == 0 {
			return nil, false, nil
		}
		t.start = len(t.buf)
		t.line++
		return body, true, nil
	}
}

// headLines lists the lines in buf[from:to] without taking them; from must be a line's start. A last line that to
// cuts is left out, unless it is the end of the file.
func (t *text) headLines(dst []span, from, to int) []span {
	i := from
	for i < to {
		nl := bytes.IndexByte(t.buf[i:to], '\n')
		end := to
		if nl >= 0 {
			end = i + nl
		} else if to < len(t.buf) || !t.whole() {
			break
		}
		// Carriage returns end lines too; one right before the line feed belongs to it.
		for i <= end {
			cr := bytes.IndexByte(t.buf[i:end], '\r')
			if cr < 0 {
				if i < end || nl >= 0 {
					dst = append(dst, span{int32(i), int32(end)})
				}
				break
			}
			dst = append(dst, span{int32(i), int32(i + cr)})
			i += cr + 1
			if i == end {
				break
			}
		}
		i = end + 1
	}
	return dst
}

// lineStart gives the first line's start at or behind at, to at most.
func (t *text) lineStart(at, to int) int {
	if i := bytes.IndexByte(t.buf[at:to], '\n'); i >= 0 {
		return at + i + 1
	}
	return to
}

// rewind goes back to the first line, if the window still holds it.
func (t *text) rewind() bool {
	if !t.held {
		return false
	}
	t.start, t.nl, t.line = t.first, -1, 0
	return true
}
