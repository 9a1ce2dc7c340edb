package ingest

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

const smallLog = "time_s,inner_c,outer_c\n0,20.1,20.0\n1,20.5,20.1\n2,20.9,20.3\n3,21.4,20.4\n"

func gzipped(t *testing.T, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := io.WriteString(w, text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func zipped(t *testing.T, members ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(members); i += 2 {
		f, err := w.Create(members[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(f, members[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestCompressedLogs(t *testing.T) {
	for _, c := range []struct {
		name string
		in   []byte
		how  string
	}{
		{"plain", []byte(smallLog), ""},
		{"gzip", gzipped(t, smallLog), "gzip"},
		{"zip", zipped(t, "log.csv", smallLog), "zip"},
		{"zip with a folder and a hidden file", zipped(t, "logs/", "", "__MACOSX/logs/._log.csv", "x", "logs/log.csv", smallLog), "zip"},
	} {
		t.Run(c.name, func(t *testing.T) {
			res, err := Read("log", iotest.HalfReader(bytes.NewReader(c.in)), Options{})
			if err != nil {
				t.Fatal(err)
			}
			if res.Reading.Compressed != c.how {
				t.Errorf("compressed %q, want %q", res.Reading.Compressed, c.how)
			}
			if res.Log.Len() != 4 || res.Log.Channels[0].C[3] != 21.4 {
				t.Errorf("rows %d", res.Log.Len())
			}
			sum := sha256.Sum256(c.in)
			if want := hex.EncodeToString(sum[:]); res.Log.SHA256 != want {
				t.Errorf("hash %s, want that of the stored bytes, %s", res.Log.SHA256, want)
			}
		})
	}
}

func TestRefusedFiles(t *testing.T) {
	cut := gzipped(t, smallLog)
	cut = cut[:len(cut)-9]
	for _, c := range []struct {
		name string
		in   []byte
		kind ErrorKind
		says string
	}{
		{"empty", nil, ErrEmpty, "is empty"},
		{"blank lines", []byte("\n\r\n  \n"), ErrEmpty, "no text"},
		{"NULs", make([]byte, 4096), ErrEmpty, "no text"},
		{"binary", []byte(strings.Repeat("\x01\x02\x03\xfe\x07", 200)), ErrBinary, "binary"},
		{"picture", []byte("\x89PNG\r\n\x1a\n...."), ErrBinary, "picture"},
		{"damaged gzip", cut, ErrCompressed, "damaged gzip"},
		{"empty zip", zipped(t), ErrCompressed, "no file in it"},
		{"two members", zipped(t, "a.csv", smallLog, "b.csv", smallLog), ErrCompressed, "2 files in it (a.csv, b.csv)"},
		{"spreadsheet", zipped(t, "[Content_Types].xml", "<x/>", "xl/workbook.xml", "<x/>"), ErrBinary, "spreadsheet"},
		{"bomb", gzipped(t, smallLog+strings.Repeat("#"+strings.Repeat("a", 64<<10)+"\n", 600)), ErrCompressed, "bomb"},
		{"headings only", []byte("time,inner,outer\n"), ErrNoData, "no row of readings"},
		{"prose", []byte("This is a letter.\nIt has no readings.\n"), ErrNoData, "no row of readings"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.name == "bomb" && testing.Short() {
				t.Skip("unpacks 32 MiB")
			}
			res, err := Read("file.csv", bytes.NewReader(c.in), Options{})
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v and %v, want an *Error", res, err)
			}
			if e.Kind != c.kind || !strings.Contains(e.Error(), c.says) || e.File != "file.csv" {
				t.Errorf("got %s: %v; want %s: ... %s", e.Kind, e, c.kind, c.says)
			}
		})
	}
}

func TestUnreadableInput(t *testing.T) {
	broken := errors.New("disc gone")
	for _, in := range []io.Reader{
		iotest.ErrReader(broken),
		io.MultiReader(strings.NewReader(smallLog), iotest.ErrReader(broken)),
	} {
		_, err := Read("file.csv", in, Options{})
		if !errors.Is(err, broken) {
			t.Errorf("got %v, want the cause in it", err)
		}
		var e *Error
		if !errors.As(err, &e) || e.Kind != ErrRead {
			t.Errorf("got %v, want kind %s", err, ErrRead)
		}
	}
}
