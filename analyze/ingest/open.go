package ingest

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"path"
	"strings"
)

// stored is the first stage: the file's bytes as stored, hashed as they pass, and unpacked if they
// are a gzip or zip archive with one log in it.
type stored struct {
	name       string
	in         io.Reader
	sum        hash.Hash
	digest     [sha256.Size]byte
	hexDigest  [2 * sha256.Size]byte
	compressed string // "", "gzip", "zip"
	member     string // the archive's member
	peek       [512]byte
	npeek      int
	taken      int   // bytes of peek already given
	rawBytes   int64 // bytes of the stored file seen so far
	outBytes   int64 // bytes given
	unpack     io.Reader
	err        error
}

// hashing is the reader below: it gives the stored bytes and hashes them.
type hashing struct{ s *stored }

func (h hashing) Read(p []byte) (int, error) {
	s := h.s
	if s.taken < s.npeek {
		n := copy(p, s.peek[s.taken:s.npeek])
		s.taken += n
		return n, nil
	}
	if s.err != nil {
		return 0, s.err
	}
	n, err := s.in.Read(p)
	s.sum.Write(p[:n])
	s.rawBytes += int64(n)
	return n, err
}

// open looks at the first bytes and sets up the unpacking.
func (s *stored) open(name string, in io.Reader) error {
	sum := s.sum
	if sum == nil {
		sum = sha256.New()
	} else {
		sum.Reset()
	}
	*s = stored{name: name, in: in, sum: sum}
	for s.npeek < len(s.peek) && s.err == nil {
		var n int
		n, s.err = in.Read(s.peek[s.npeek:])
		s.npeek += n
	}
	s.rawBytes = int64(s.npeek)
	sum.Write(s.peek[:s.npeek])
	head := s.peek[:s.npeek]
	if s.err != nil && s.err != io.EOF && s.npeek == 0 {
		return &Error{Kind: ErrRead, File: name, Message: "can't be read", Err: s.err}
	}
	switch {
	case bytes.HasPrefix(head, []byte{0x1f, 0x8b}):
		z, err := gzip.NewReader(hashing{s})
		if err != nil {
			return &Error{Kind: ErrCompressed, File: name, Message: "damaged gzip file", Err: err, Hint: "fetch the file again, or unpack it first"}
		}
		s.compressed, s.member, s.unpack = "gzip", z.Name, z
	case bytes.HasPrefix(head, []byte("PK\x03\x04")), bytes.HasPrefix(head, []byte("PK\x05\x06")):
		return s.openZip()
	default:
		if what := foreign(head); what != "" {
			return &Error{Kind: ErrBinary, File: name, Message: "is " + what + ", not a text log", Hint: "export the log as CSV text and read that"}
		}
	}
	return nil
}

// foreign names the kind of a file that is surely no log by its first bytes; "" when it may be text.
func foreign(head []byte) string {
	for _, f := range [...]struct{ magic, what string }{
		{"%PDF-", "a PDF document"},
		{"\x89PNG", "a picture"},
		{"\xff\xd8\xff", "a picture"},
		{"GIF8", "a picture"},
		{"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a spreadsheet or document file"},
		{"7z\xbc\xaf\x27\x1c", "an archive of a kind that is not read"},
		{"Rar!", "an archive of a kind that is not read"},
		{"\x28\xb5\x2f\xfd", "an archive of a kind that is not read"},
		{"BZh", "an archive of a kind that is not read"},
		{"\xfd7zXZ", "an archive of a kind that is not read"},
		{"SQLite format 3", "a database"},
		{"\x7fELF", "a program"},
		{"MZ\x90", "a program"},
		{"<!DOCTYPE html", "a web page"},
		{"<html", "a web page"},
		{"{\\rtf", "a formatted document"},
	} {
		if bytes.HasPrefix(head, []byte(f.magic)) {
			return f.what
		}
	}
	return ""
}

// openZip takes the one log out of a zip file. The whole archive is held: its directory stands at the end.
func (s *stored) openZip() error {
	fail := func(message string, err error, hint string) error {
		return &Error{Kind: ErrCompressed, File: s.name, Message: message, Err: err, Hint: hint}
	}
	all, err := io.ReadAll(io.LimitReader(hashing{s}, MaxZipBytes+1))
	if err != nil {
		return fail("damaged zip file", err, "fetch the file again, or unpack it first")
	}
	if len(all) > MaxZipBytes {
		return fail(fmt.Sprintf("zip file of more than %d MiB", MaxZipBytes>>20), nil, "unpack it first")
	}
	z, err := zip.NewReader(bytes.NewReader(all), int64(len(all)))
	if err != nil {
		return fail("damaged zip file", err, "fetch the file again, or unpack it first")
	}
	var found []*zip.File
	for _, f := range z.File {
		base := path.Base(f.Name)
		if f.Name == "[Content_Types].xml" || f.Name == "mimetype" {
			return &Error{Kind: ErrBinary, File: s.name, Message: "is a spreadsheet or document file, not a text log", Hint: "save the sheet as CSV text and read that"}
		}
		if f.FileInfo().IsDir() || strings.HasPrefix(f.Name, "__MACOSX/") || strings.HasPrefix(base, ".") {
			continue
		}
		found = append(found, f)
	}
	switch {
	case len(found) == 0:
		return fail("zip file with no file in it", nil, "")
	case len(found) > 1:
		var names []string
		for i, f := range found {
			if i == 5 {
				names = append(names, "...")
				break
			}
			names = append(names, f.Name)
		}
		return fail(fmt.Sprintf("zip file with %d files in it (%s)", len(found), strings.Join(names, ", ")), nil, "unpack it and name the logs, or their folder")
	}
	f := found[0]
	if f.Flags&1 != 0 {
		return fail("zip file with a password", nil, "unpack it first")
	}
	r, err := f.Open()
	if err != nil {
		return fail("zip member "+f.Name+" can't be read", err, "unpack it first")
	}
	s.compressed, s.member, s.unpack = "zip", f.Name, r
	return nil
}

// Read gives the log's bytes, unpacked.
func (s *stored) Read(p []byte) (int, error) {
	var n int
	var err error
	if s.unpack == nil {
		return hashing{s}.Read(p)
	}
	n, err = s.unpack.Read(p)
	s.outBytes += int64(n)
	raw := s.rawBytes
	if s.outBytes > bombFloor && s.outBytes > raw*bombRatio || s.outBytes > MaxUnpackedSize {
		return 0, &Error{Kind: ErrCompressed, File: s.name, Message: fmt.Sprintf("%s file unpacks to more than %d times its size: refused as a bomb", s.compressed, bombRatio), Hint: "unpack it yourself if you trust it"}
	}
	if err != nil && err != io.EOF {
		var e *Error
		if !errors.As(err, &e) {
			err = &Error{Kind: ErrCompressed, File: s.name, Message: "damaged " + s.compressed + " file", Err: err, Hint: "fetch the file again, or unpack it first"}
		}
	}
	return n, err
}

// sha256 drains what is left of the stored bytes (an archive's tail) and gives the file's hash, lower-case hex.
func (s *stored) sha256() string {
	if s.compressed == "gzip" {
		var rest [4096]byte
		for i := 0; i < 1<<20; i++ {
			if _, err := (hashing{s}).Read(rest[:]); err != nil {
				break
			}
		}
	}
	s.sum.Sum(s.digest[:0])
	hex.Encode(s.hexDigest[:], s.digest[:])
	return string(s.hexDigest[:])
}
