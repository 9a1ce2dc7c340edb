package cli

import (
	"bufio"
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"ringheat/sampledata"
)

// checkLine is what this test reads of a line of check --format json.
type checkLine struct {
	Log      string
	Error    *string
	Verdict  string
	Samples  int
	Channels []struct {
		Role   *string
		Spikes int
	}
	Cycles []struct {
		OnsetS   *float64 `json:"onset_s"`
		RampEndS *float64 `json:"ramp_end_s"`
		EndS     *float64 `json:"end_s"`
		Inner    *checkRise
		Outer    *checkRise
		Peak     struct{ Inner, Outer *float64 } `json:"peak_c"`
		OverS    *float64                        `json:"over_limit_s"`
		DiffK    *float64                        `json:"max_ring_diff_k"`
		DiffAtS  *float64                        `json:"max_ring_diff_at_s"`
		Hotter   *string                         `json:"max_ring_diff_hotter"`
		Findings []struct{ Check, Verdict, Reason string }
		Verdict  string
	}
}

type checkRise struct {
	Status string
	Rate   *float64 `json:"rate_k_per_min"`
}

func testEnv(stdin string) (Env, *bytes.Buffer, *bytes.Buffer) {
	var out, talk bytes.Buffer
	return Env{Stdin: strings.NewReader(stdin), Stdout: &out, Stderr: &talk, CPUs: 2}, &out, &talk
}

// TestDemoTruth checks that check finds what the demo's logs were made from. The truth was integrated by
// code that shares nothing with the analysis: package sampledata/generate.
func TestDemoTruth(t *testing.T) {
	dir := t.TempDir()
	if _, err := writeDemo(dir); err != nil {
		t.Fatal(err)
	}
	env, out, talk := testEnv("")
	code := Run(t.Context(), env, []string{"check", "--runs", filepath.Join(dir, "runs.csv"), "--format", "json"})
	if code != exitFail {
		t.Fatalf("exit code %d, the demo holds failures\n%s", code, talk)
	}
	got := map[string]checkLine{}
	for sc := bufio.NewScanner(out); sc.Scan(); {
		var l checkLine
		if err := json.Unmarshal(sc.Bytes(), &l); err != nil {
			t.Fatal(err)
		}
		got[path.Base(filepath.ToSlash(l.Log))] = l
	}
	truth, err := sampledata.Truth()
	if err != nil {
		t.Fatal(err)
	}
	cycles := map[string]int{}
	notFirstOrder := map[string]bool{}
	for _, row := range truth {
		cycles[row.File]++
		if row.Rise == "not-first-order" {
			notFirstOrder[row.File] = true
		}
	}
	if len(cycles) < 8 || 2*len(notFirstOrder) < len(cycles) {
		t.Errorf("%d demo logs, %d of them not first-order: want at least 8 and half", len(cycles), len(notFirstOrder))
	}
	if len(got) != len(cycles) {
		t.Errorf("%d logs judged, the truth names %d", len(got), len(cycles))
	}
	for _, row := range truth {
		l, ok := got[row.File]
		if !ok || l.Error != nil {
			t.Errorf("%s: not judged", row.File)
			continue
		}
		if len(l.Cycles) != cycles[row.File] {
			t.Errorf("%s: %d cycles found, %d made", row.File, len(l.Cycles), cycles[row.File])
			continue
		}
		compareCycle(t, row, l, row.Cycle-1)
	}
}

func compareCycle(t *testing.T, row sampledata.TruthRow, l checkLine, i int) {
	t.Helper()
	c := l.Cycles[i]
	near := func(what string, got *float64, want sampledata.Optional, within float64) {
		t.Helper()
		switch {
		case want.Known && got == nil:
			t.Errorf("%s cycle %d: %s not found, truth %.2f", row.File, row.Cycle, what, want.Value)
		case want.Known && math.Abs(*got-want.Value) > within:
			t.Errorf("%s cycle %d: %s %.2f, truth %.2f ± %.2f", row.File, row.Cycle, what, *got, want.Value, within)
		case !want.Known && got != nil:
			t.Errorf("%s cycle %d: %s %.2f, truth has none", row.File, row.Cycle, what, *got)
		}
	}
	// The heater and the probe need their time before the readings answer.
	late := 12 + row.LagInnerS + 2*row.IntervalS
	near("onset", c.OnsetS, sampledata.Some(row.OnsetS), late)
	near("end of heating", c.EndS, row.EndS, late)
	// A reading step and the noise are what a peak can't be better than.
	within := math.Max(row.DisplayStepK, 3*row.NoiseInnerK)
	near("inner peak", c.Peak.Inner, sampledata.Some(row.PeakShownInnerC), within)
	if row.PeakShownOuterC.Known {
		near("outer peak", c.Peak.Outer, row.PeakShownOuterC, math.Max(row.DisplayStepK, 3*row.NoiseOuterK.Value))
	}
	if row.DiffShownK.Known {
		near("largest difference", c.DiffK, row.DiffShownK, 1.5*within)
	}
	near("seconds above the limit", c.OverS, sampledata.Some(row.OverLimitShownS), 2*row.IntervalS+0.1*row.OverLimitShownS)
	if c.Hotter != nil && row.DiffShownHotter != "" && *c.Hotter != row.DiffShownHotter {
		t.Errorf("%s cycle %d: %s ring hotter, truth %s", row.File, row.Cycle, *c.Hotter, row.DiffShownHotter)
	}
	want := map[string]string{"max-temp": row.ExpectMaxTemp, "ring-diff": row.ExpectRingDiff, "need-temp": row.ExpectNeedTemp, "record": row.ExpectRecord}
	for _, f := range c.Findings {
		if f.Verdict != want[f.Check] {
			t.Errorf("%s cycle %d: %s is %s, expected %s (%s); the program says: %s", row.File, row.Cycle, f.Check, f.Verdict, want[f.Check], row.Why, f.Reason)
		}
		delete(want, f.Check)
	}
	if len(want) > 0 {
		t.Errorf("%s cycle %d: no finding for %v", row.File, row.Cycle, want)
	}
	if c.Verdict != row.ExpectVerdict {
		t.Errorf("%s cycle %d: %s, expected %s", row.File, row.Cycle, c.Verdict, row.ExpectVerdict)
	}
	spikes := 0
	for _, ch := range l.Channels {
		spikes += ch.Spikes
	}
	if i == 0 && math.Abs(float64(spikes-row.Spikes)) > 0.1*float64(row.Spikes)+0.5 {
		t.Errorf("%s: %d spikes marked, %d made", row.File, spikes, row.Spikes)
	}
	if row.Rise == "first-order" && c.Inner != nil && c.Inner.Status == "not-first-order" {
		t.Errorf("%s cycle %d: called not first-order, and it is", row.File, row.Cycle)
	}
}

// Nothing is written to disk without --out, and results do not depend on the number of workers.
func TestJobsGiveTheSameBytes(t *testing.T) {
	dir := t.TempDir()
	if _, err := writeDemo(dir); err != nil {
		t.Fatal(err)
	}
	before := countFiles(t, dir)
	for _, format := range []string{"text", "json", "csv"} {
		var first []byte
		for _, jobs := range []string{"1", "2", "5"} {
			env, out, talk := testEnv("")
			if code := Run(t.Context(), env, []string{"check", "--runs", filepath.Join(dir, "runs.csv"), "--format", format, "--jobs", jobs}); code != exitFail {
				t.Fatalf("exit code %d\n%s", code, talk)
			}
			if first == nil {
				first = out.Bytes()
			} else if !bytes.Equal(first, out.Bytes()) {
				t.Errorf("--format %s: --jobs %s changes the output", format, jobs)
			}
		}
	}
	if after := countFiles(t, dir); after != before {
		t.Errorf("%d files after check without --out, %d before", after, before)
	}
}

func countFiles(t *testing.T, dir string) int {
	t.Helper()
	n := 0
	err := filepath.Walk(dir, func(string, os.FileInfo, error) error { n++; return nil })
	if err != nil {
		t.Fatal(err)
	}
	return n
}
