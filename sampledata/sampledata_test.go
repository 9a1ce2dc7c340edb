package sampledata_test

import (
	"bytes"
	"encoding/csv"
	"io"
	"io/fs"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"ringheat/sampledata"
)

func TestFiles(t *testing.T) {
	names := sampledata.Names()
	if len(names) < 10 {
		t.Fatalf("%d logs", len(names))
	}
	if err := fstest.TestFS(sampledata.Files(), append(names, "runs.csv", "parts.csv", "truth.csv", "truth-series.csv")...); err != nil {
		t.Error(err)
	}
	for _, name := range []string{names[0], strings.TrimPrefix(names[0], "logs/"), "runs.csv"} {
		f, err := sampledata.Open(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if n, err := io.Copy(io.Discard, f); n == 0 || err != nil {
			t.Errorf("%s: %d bytes, %v", name, n, err)
		}
		f.Close()
	}
	if _, err := sampledata.Open("no-such-log.csv"); err == nil {
		t.Error("a file that is not there was opened")
	}
}

// TestListsAgree holds run sheet, parts, truth and logs together: every log has one row and a truth.
func TestListsAgree(t *testing.T) {
	truths, err := sampledata.Truth()
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]int{}
	for _, r := range truths {
		known["logs/"+r.File]++
		if r.Cycle != known["logs/"+r.File] {
			t.Errorf("%s: cycle %d stands in place %d", r.File, r.Cycle, known["logs/"+r.File])
		}
	}
	parts := column(t, "parts.csv", "part")
	logs := column(t, "runs.csv", "log")
	if !reflect.DeepEqual(logs, sampledata.Names()) {
		t.Errorf("run sheet names %v, the logs are %v", logs, sampledata.Names())
	}
	for i, log := range logs {
		if known[log] == 0 {
			t.Errorf("%s has no truth", log)
		}
		delete(known, log)
		part := column(t, "runs.csv", "part")[i]
		if !contains(parts, part) {
			t.Errorf("%s: part %q is not in the parts list", log, part)
		}
	}
	for log := range known {
		t.Errorf("%s has a truth and no row in the run sheet", log)
	}
}

func contains(list []string, s string) bool {
	for _, v := range list {
		if v == s {
			return true
		}
	}
	return false
}

func column(t *testing.T, file, name string) []string {
	t.Helper()
	raw, err := fs.ReadFile(sampledata.Files(), file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, h := range rows[0] {
		if h == name {
			var cells []string
			for _, r := range rows[1:] {
				cells = append(cells, r[i])
			}
			return cells
		}
	}
	t.Fatalf("%s has no column %s", file, name)
	return nil
}

func TestTruthRoundTrip(t *testing.T) {
	raw, err := fs.ReadFile(sampledata.Files(), "truth.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows, err := sampledata.ReadTruth(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sampledata.WriteTruth(&b, rows); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), raw) {
		t.Error("reading and writing changed the list")
	}
}

func TestReadTruthRefuses(t *testing.T) {
	raw, err := fs.ReadFile(sampledata.Files(), "truth.csv")
	if err != nil {
		t.Fatal(err)
	}
	good := string(raw)
	head, rest, _ := strings.Cut(good, "\n")
	first, _, _ := strings.Cut(rest, "\n")
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "headings"},
		{"no rows", head + "\n", "no rows"},
		{"misspelt heading", strings.Replace(good, "onset_s", "onset", 1), `heading "onset"`},
		{"a cell short", head + "\n" + strings.Replace(first, ",bearing,", ",", 1) + "\n", "wrong number of fields"},
		{"no number", head + "\n" + strings.Replace(first, ",bearing,", ",bearing,x", 1) + "\n", "line 2, column onset_s"},
		{"not finite", head + "\n" + strings.Replace(first, ",bearing,36.0,", ",bearing,Inf,", 1) + "\n", "no finite number"},
		{"unknown word", head + "\n" + strings.Replace(first, ",bearing,", ",bering,", 1) + "\n", "column kind"},
	} {
		_, err := sampledata.ReadTruth(strings.NewReader(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
}
