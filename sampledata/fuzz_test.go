package sampledata_test

import (
	"bytes"
	"io/fs"
	"reflect"
	"testing"

	"ringheat/sampledata"
)

// FuzzReadTruth: whatever is read without an error comes back the same after writing; nothing makes the reader panic.
func FuzzReadTruth(f *testing.F) {
	raw, err := fs.ReadFile(sampledata.Files(), "truth.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(raw)
	f.Add(raw[:len(raw)/2])
	f.Add([]byte("file,cycle\n"))
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, err := sampledata.ReadTruth(bytes.NewReader(data))
		if err != nil {
			return
		}
		var once, twice bytes.Buffer
		if err := sampledata.WriteTruth(&once, rows); err != nil {
			t.Fatal(err)
		}
		again, err := sampledata.ReadTruth(bytes.NewReader(once.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		if err := sampledata.WriteTruth(&twice, again); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(once.Bytes(), twice.Bytes()) || len(again) != len(rows) || !reflect.DeepEqual(again[0].File, rows[0].File) {
			t.Error("writing and reading changed the list")
		}
	})
}
