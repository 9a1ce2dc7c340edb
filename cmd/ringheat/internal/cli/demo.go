package cli

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"ringheat/sampledata"
)

const (
	demoUsage = "demo [FLAGS] [DIR]\n\nWrites the records of an invented plant into DIR (" + demoDir + " when not given), checks them by the plant's\n" +
		"run sheet, and puts pictures and results into DIR/results. Some of the demo's parts were warmed badly on purpose."
	demoExample = "ringheat demo"
	demoDir     = "ringheat-demo"
)

// runDemo writes the demo plant's files and checks them exactly as a user would: check --runs DIR/runs.csv
// --out DIR/results. Its exit code is 0 when that ran, whatever the verdicts.
func runDemo(ctx context.Context, e Env, args []string) int {
	fs := newFlags("demo")
	jobs := fs.Int("jobs", 0, "`number` of logs worked on at once")
	detail := fs.Bool("detail", false, "print each log's report in full")
	if code, done := e.parse(fs, args, demoUsage, demoExample, true); done {
		return code
	}
	dir := demoDir
	switch fs.NArg() {
	case 0:
	case 1:
		dir = fs.Arg(0)
	default:
		return e.report(usagef("name one folder", "demo takes one folder, %d were named", fs.NArg()))
	}
	n, err := writeDemo(dir)
	if err != nil {
		return e.report(err)
	}
	results := filepath.Join(dir, "results")
	fmt.Fprintf(e.Stderr, "ringheat: wrote %d demo files into %s; now: ringheat check --runs %s --out %s\n\n", n, dir, filepath.Join(dir, "runs.csv"), results)
	call := []string{"--runs", filepath.Join(dir, "runs.csv"), "--out", results}
	if *jobs > 0 {
		call = append(call, fmt.Sprintf("--jobs=%d", *jobs))
	}
	if *detail {
		call = append(call, "--detail")
	}
	code := runCheck(ctx, e, call)
	if code == exitUsage || code == exitInterrupt {
		return code
	}
	fmt.Fprintf(e.Stderr, "ringheat: open the pictures in %s; check itself would have exited with %d (see ringheat help)\n", results, code)
	return exitPass
}

// writeDemo copies the demo's files into a folder and gives their number. A file that is there with other
// content is not overwritten.
func writeDemo(dir string) (int, error) {
	n := 0
	err := fs.WalkDir(sampledata.Files(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		path := filepath.Join(dir, filepath.FromSlash(name))
		if d.IsDir() {
			if err := os.MkdirAll(path, 0o777); err != nil {
				return usagef("name a folder that you may write to", "can't make the folder %s: %v", path, reason(err))
			}
			return nil
		}
		data, err := fs.ReadFile(sampledata.Files(), name)
		if err != nil {
			return err
		}
		n++
		if old, err := os.ReadFile(path); err == nil {
			if bytes.Equal(old, data) {
				return nil
			}
			return usagef("name another folder", "%s is there already with other content and is not overwritten", path)
		}
		if err := os.WriteFile(path, data, 0o666); err != nil {
			return usagef("name a folder that you may write to", "can't write %s: %v", path, reason(err))
		}
		return nil
	})
	return n, err
}
