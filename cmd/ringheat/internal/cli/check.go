package cli

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/spf13/pflag"

	"ringheat/analyze"
	"ringheat/analyze/ingest"
	"ringheat/analyze/judge"
	"ringheat/report"
	"ringheat/report/chart"
)

const (
	checkUsage   = "check [FLAGS] LOG...\n\nLOG is a file, a folder, a pattern, or - for standard input. Without --out nothing is written to disk."
	checkExample = "ringheat check --kind bearing --max-temp-c 120 --need-temp-c 90 --out results monday/*.csv"
)

// checkJob is one call of check: the logs, what holds for each, and where results go.
type checkJob struct {
	logs     []input
	settings []analyze.Settings // one a log
	format   string
	out      *outDir
	names    []string // picture base names, one a log
	near     *neighbours
	twice    []string // logs named more than once
	leftOut  int      // files of walked folders that are no logs by their ending
	jobs     int
	detail   bool
	budget   bool
}

func runCheck(ctx context.Context, e Env, args []string) int {
	job, code, done := e.checkJob(args)
	if done {
		return code
	}
	return e.check(ctx, job)
}

func (e Env) checkJob(args []string) (job checkJob, code int, done bool) {
	fs := newFlags("check")
	var flags checkFlags
	flags.register(fs)
	runs := fs.String("runs", "", "run sheet, CSV `file`: one row a log, columns named like these flags")
	fs.StringVar(&job.format, "format", "text", "`form` of standard output: text, json or csv")
	out := fs.String("out", "", "`folder` for pictures and results")
	fs.IntVar(&job.jobs, "jobs", 0, "`number` of logs worked on at once (all processors when not given); the output is the same")
	fs.BoolVar(&job.detail, "detail", false, "several logs: print each log's report in full")
	fs.BoolVar(&job.budget, "budget", false, "print how each uncertainty is made up")
	if code, done := e.parse(fs, args, checkUsage, checkExample, true); done {
		return job, code, true
	}
	fail := func(err error) (checkJob, int, bool) { return job, e.report(err), true }
	switch job.format {
	case "text", "json", "csv":
	default:
		return fail(usagef("write text, json or csv", "--format %q is not known", job.format))
	}
	if job.jobs < 0 {
		return fail(usagef("give 1 or more, or leave it out", "--jobs %d is no number of workers", job.jobs))
	}
	if job.jobs == 0 {
		job.jobs = max(1, e.CPUs)
	}
	if err := job.collect(fs, &flags, *runs, fs.Args(), *out); err != nil {
		return fail(err)
	}
	job.near = &neighbours{logs: job.logs}
	if *out != "" {
		dir, err := openOut(*out, job.logs)
		if err != nil {
			return fail(err)
		}
		job.out = dir
		job.names = pictureNames(job.logs)
		for _, name := range []string{resultsName, linesName, summaryName} {
			if err := dir.free(name); err != nil {
				return fail(err)
			}
		}
	}
	return job, 0, false
}

// collect finds the logs and what holds for each.
func (job *checkJob) collect(fs *pflag.FlagSet, flags *checkFlags, runs string, args []string, out string) error {
	table, err := loadLimits(flags.limits)
	if err != nil {
		return err
	}
	if runs == "" {
		found, err := findInputs(args, out)
		if err != nil {
			return err
		}
		s, err := flags.settings(table)
		if err != nil {
			return err
		}
		job.logs = found.logs
		job.twice = found.twice
		job.leftOut = len(found.leftOut)
		job.settings = make([]analyze.Settings, len(found.logs))
		for i := range job.settings {
			job.settings[i] = s
		}
		return nil
	}
	if len(args) > 0 {
		return usagef("list the logs in the sheet, or leave --runs out", "--runs names the logs, so none can be named beside it")
	}
	rows, err := readRunSheet(runs, fs)
	if err != nil {
		return err
	}
	lists := &partsLists{}
	gone := 0
	for _, row := range rows {
		s, err := rowSettings(fs, row, table, lists)
		if err != nil {
			return usagef("correct the row, then run again", "%s:%d: %v", runs, row.line, err)
		}
		if info, err := os.Stat(row.log); err != nil || info.IsDir() {
			gone++ // reported like any log that can't be read; the others are judged
		}
		job.logs = append(job.logs, input{name: filepath.ToSlash(row.log), path: row.log})
		job.settings = append(job.settings, s)
	}
	if gone == len(rows) {
		return usagef("correct the paths; they are taken from the sheet's folder", "none of the %d logs that %s names exists", gone, runs)
	}
	return nil
}

// rowSettings gives the settings of one row of a run sheet: the flags of the call, overruled by the row.
func rowSettings(call *pflag.FlagSet, row runRow, table *judge.LimitsTable, lists *partsLists) (analyze.Settings, error) {
	flags := checkFlags{lists: lists}
	fs := newFlags("run sheet")
	flags.register(fs)
	var err error
	call.Visit(func(f *pflag.Flag) {
		if fs.Lookup(f.Name) != nil && err == nil {
			err = fs.Set(f.Name, f.Value.String())
		}
	})
	if err != nil {
		return analyze.Settings{}, err
	}
	for _, name := range sortedKeys(row.flags) {
		if err := setFlag(fs, name, row.flags[name]); err != nil {
			return analyze.Settings{}, fmt.Errorf("column %s: %w", strings.ReplaceAll(name, "-", "_"), err)
		}
	}
	return flags.settings(table)
}

// setFlag sets a flag as the command line would, with an error that does not speak of flags.
func setFlag(fs *pflag.FlagSet, name, text string) error {
	f := fs.Lookup(name)
	if err := f.Value.Set(text); err != nil {
		return err
	}
	f.Changed = true
	return nil
}

// checked is what a worker hands on for one log: everything that output needs, nothing of the log itself.
type checked struct {
	verdict judge.Verdict
	unread  bool
	doc     report.Document
	csv     []byte // its rows of the results list
	line    []byte // its JSON line
	tally   report.Tally
	err     error // a picture could not be written
}

// worker owns what one worker reuses from log to log.
type worker struct {
	e        Env
	job      *checkJob
	analyzer analyze.Analyzer
	drawer   chart.Drawer
}

func (w *worker) do(i int) checked {
	var c checked
	r := w.analyze(i)
	c.verdict, c.unread = r.Verdict, r.Err != nil
	c.tally.Add(&r)
	needText := w.job.format == "text" || w.job.out != nil
	if needText {
		c.doc = report.NewDocument(&r)
	}
	if w.job.format == "json" || w.job.out != nil {
		var b bytes.Buffer
		if c.err = report.WriteJSONLine(&b, &r); c.err != nil {
			return c
		}
		c.line = b.Bytes()
	}
	if w.job.format == "csv" || w.job.out != nil {
		var b bytes.Buffer
		list := report.NewResultsList(&b)
		if i > 0 {
			list.Continue()
		}
		if c.err = list.Add(&r); c.err != nil {
			return c
		}
		c.csv = b.Bytes()
	}
	if w.job.out != nil {
		for k := range r.Cycles {
			var b bytes.Buffer
			if c.err = w.drawer.Cycle(&b, report.Picture(&r, k, version()), chart.Size{}); c.err != nil {
				return c
			}
			name := w.job.names[i] + ".png"
			if len(r.Cycles) > 1 {
				name = fmt.Sprintf("%s-cycle%d.png", w.job.names[i], k+1)
			}
			if c.err = w.job.out.write(name, b.Bytes()); c.err != nil {
				return c
			}
		}
	}
	return c
}

// analyze judges one log. A fault of the program itself on one log must not take the others with it: it is
// reported as that log's error, so that the log stays unproven, and the worker's buffers are made anew.
func (w *worker) analyze(i int) (r analyze.LogResult) {
	in := w.job.logs[i]
	defer func() {
		if fault := recover(); fault != nil {
			w.analyzer = analyze.Analyzer{}
			r = analyze.LogResult{Name: in.name, Reason: "the program failed on this log",
				Err: fmt.Errorf("%s: the program failed on this log (%v at %s); please report it with the log", in.name, fault, faultPlace())}
		}
	}()
	if in.path == "" {
		return w.analyzer.Log(in.name, w.e.Stdin, w.job.settings[i])
	}
	file, err := os.Open(in.path)
	if err != nil {
		return analyze.LogResult{Name: in.name, Err: fmt.Errorf("%s: %w", in.name, reason(err)), Reason: "the log could not be opened"}
	}
	defer file.Close()
	settings := w.job.settings[i]
	r = w.analyzer.Log(in.name, file, settings)
	if r.Err != nil || !r.Reading.DateOrderEven || settings.Reading.DateOrder != ingest.AnyOrder || w.job.near == nil {
		return r
	}
	// Day and month could be either way round in this log: other logs of its folder may settle it.
	if settings.Reading.NeighbourOrder = w.job.near.order(in.path); settings.Reading.NeighbourOrder == ingest.AnyOrder {
		return r
	}
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return r // it was read once, and that reading says what is open
	}
	return w.analyzer.Log(in.name, file, settings)
}

// faultPlace names the line of the program at which a fault arose, for a report.
func faultPlace() string {
	var pcs [32]uintptr
	frames := runtime.CallersFrames(pcs[:runtime.Callers(3, pcs[:])])
	for {
		f, more := frames.Next()
		if strings.HasPrefix(f.Function, "ringheat/") {
			return fmt.Sprintf("%s:%d", filepath.Base(f.File), f.Line)
		}
		if !more {
			return "an unknown place"
		}
	}
}

// check judges every log and writes results in the order of the arguments; text is written worst first.
func (e Env) check(ctx context.Context, job checkJob) int {
	stdout := bufio.NewWriterSize(e.Stdout, 1<<16)
	var total report.Tally
	var docs []report.Document
	var list, lines bytes.Buffer
	code := exitPass
	taken, err := inOrder(ctx, len(job.logs), job.jobs,
		func() func(int) checked {
			w := &worker{e: e, job: &job}
			return w.do
		},
		func(i int, c checked) error {
			if c.err != nil {
				return c.err
			}
			total.Merge(c.tally)
			code = worse(code, c)
			switch job.format {
			case "json":
				stdout.Write(c.line)
			case "csv":
				stdout.Write(c.csv)
			}
			if job.out != nil {
				list.Write(c.csv)
				lines.Write(c.line)
			}
			if job.format == "text" || job.out != nil {
				docs = append(docs, c.doc)
			}
			return nil
		})
	unjudged := 0
	if errors.Is(err, context.Canceled) {
		unjudged = len(job.logs) - taken
	}
	report.WorstFirst(docs)
	if job.format == "text" {
		writeTexts(stdout, docs, total, unjudged, job.detail, report.TextOptions{Colour: e.Colour, Width: e.Width, Budget: job.budget})
	}
	if flushErr := stdout.Flush(); err == nil {
		err = flushErr
	}
	if job.out != nil {
		var text bytes.Buffer
		fmt.Fprintln(&text, "ringheat "+version()+", check")
		writeTexts(&text, docs, total, unjudged, true, report.TextOptions{Budget: true})
		for _, f := range []struct {
			name string
			data []byte
		}{{resultsName, list.Bytes()}, {linesName, lines.Bytes()}, {summaryName, text.Bytes()}} {
			if e := job.out.write(f.name, f.data); err == nil {
				err = e
			}
		}
	}
	switch {
	case errors.Is(err, context.Canceled):
		fmt.Fprintf(e.Stderr, "ringheat: interrupted after %d of %d logs; what is printed is complete, the other %d were not judged\n", taken, len(job.logs), len(job.logs)-taken)
		return exitInterrupt
	case err != nil:
		return e.report(err)
	}
	if n := len(job.twice); n > 0 {
		fmt.Fprintf(e.Stderr, "ringheat: named more than once and judged once: %s\n", strings.Join(job.twice, ", "))
	}
	if job.leftOut > 0 {
		fmt.Fprintf(e.Stderr, "ringheat: %d files in the folders were left out, being no logs by their ending\n", job.leftOut)
	}
	if job.format != "text" {
		fmt.Fprintln(e.Stderr, "ringheat: "+total.String())
	}
	if job.out != nil {
		fmt.Fprintf(e.Stderr, "ringheat: pictures and results are in %s\n", job.out.dir)
	}
	return code
}

// writeTexts writes one log's report in full; several in short, worst first, with a totals line.
func writeTexts(w io.Writer, docs []report.Document, total report.Tally, unjudged int, detail bool, o report.TextOptions) {
	if len(docs) == 1 || detail {
		for i := range docs {
			if i > 0 {
				fmt.Fprintln(w)
			}
			report.WriteText(w, &docs[i], o)
		}
	} else {
		report.WriteSummary(w, docs, o)
	}
	if len(docs) != 1 || unjudged > 0 {
		fmt.Fprintf(w, "\n%s\n", total)
	}
	if unjudged > 0 {
		fmt.Fprintf(w, "interrupted: %d more logs were not judged\n", unjudged)
	}
	fmt.Fprint(w, "\ncautions:\n"+report.CautionText())
}

// worse gives the worse of a code and a log's: FAIL before could not be read before UNPROVEN before PASS.
func worse(code int, c checked) int {
	own := exitPass
	switch {
	case c.unread:
		own = exitUnreadable
	case c.verdict == judge.Fail:
		own = exitFail
	case c.verdict != judge.Pass:
		own = exitUnproven
	}
	place := map[int]int{exitPass: 0, exitUnproven: 1, exitUnreadable: 2, exitFail: 3}
	if place[own] > place[code] {
		return own
	}
	return code
}
