package cli

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"ringheat/analyze"
	"ringheat/analyze/ingest"
	"ringheat/report"
)

const (
	lookUsage   = "look [FLAGS] LOG\n\nSays how one log is read: every guess, its evidence and what came second, each channel, the problems\nmet, the first rows, a plot in letters, and the exact flags that pin this reading. It judges nothing."
	lookExample = "ringheat look press-2.csv"
)

// streamAbove is the size of a file from which look reads it in blocks instead of whole, bytes.
const streamAbove = 64 << 20

func runLook(_ context.Context, e Env, args []string) int {
	fs := newFlags("look")
	var flags readingFlags
	flags.register(fs)
	oneBody := fs.Bool("one-body", false, "the part has no outer ring: one unlabelled probe is the bore's")
	save := fs.String("save-reading", "", "keep this reading in `file`, for check --reading")
	format := fs.String("format", "text", "`form` of standard output: text or json")
	if code, done := e.parse(fs, args, lookUsage, lookExample, false); done {
		return code
	}
	if *format != "text" && *format != "json" {
		return e.report(usagef("write text or json", "--format %q is not known", *format))
	}
	flags, saved, err := flags.withSaved()
	if err != nil {
		return e.report(err)
	}
	options, err := flags.options()
	if err != nil {
		return e.report(err)
	}
	options.OneBody = *oneBody
	found, err := findInputs(fs.Args(), "")
	if err != nil {
		return e.report(err)
	}
	if len(found.logs) != 1 {
		return e.report(usagef("name one log", "look shows one log at a time, %d were named", len(found.logs)))
	}
	in := e.Stdin
	stream := false
	if path := found.logs[0].path; path != "" {
		file, err := os.Open(path)
		if err != nil {
			return e.report(usagef("check the rights to the file", "can't open %s: %v", path, reason(err)))
		}
		defer file.Close()
		if info, err := file.Stat(); err == nil {
			stream = info.Size() > streamAbove
		}
		in = io.Reader(file)
	}
	survey := analyze.Look(found.logs[0].name, in, options, saved, stream)
	out := bufio.NewWriter(e.Stdout)
	if *format == "json" {
		err = report.WriteLookJSON(out, &survey)
	} else {
		err = report.WriteLook(out, &survey, report.TextOptions{Colour: e.Colour, Width: e.Width})
	}
	if flushErr := out.Flush(); err == nil {
		err = flushErr
	}
	switch {
	case err != nil:
		return e.report(err)
	case survey.Err != nil:
		return exitUnreadable
	case *save == "":
		return exitPass
	}
	kept := ingest.Save(&ingest.Result{Log: survey.Log, Reading: survey.Reading})
	var list bytes.Buffer
	if err := kept.WriteCSV(&list); err != nil {
		return e.report(err)
	}
	dir, err := openOut(filepath.Dir(*save), found.logs)
	if err == nil {
		err = dir.write(filepath.Base(*save), list.Bytes())
	}
	if err != nil {
		return e.report(err)
	}
	fmt.Fprintf(e.Stderr, "ringheat: the reading is kept in %s; use it with --reading %s\n", *save, *save)
	return exitPass
}
