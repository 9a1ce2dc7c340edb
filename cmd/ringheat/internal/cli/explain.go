package cli

import (
	"bufio"
	"context"
	"fmt"

	"ringheat/report"
)

const (
	explainUsage   = "explain [FLAGS] LOG\n\nWalks through the verdict on one log in plain words: what was measured, against which limit, with which\nuncertainty, and why. It takes the flags of check."
	explainExample = "ringheat explain --need-temp-c 89 --probe-tolerance-k 1.5 press-2.csv"
)

func runExplain(_ context.Context, e Env, args []string) int {
	fs := newFlags("explain")
	var flags checkFlags
	flags.register(fs)
	if code, done := e.parse(fs, args, explainUsage, explainExample, true); done {
		return code
	}
	job := checkJob{format: "text"}
	if err := job.collect(fs, &flags, "", fs.Args(), ""); err != nil {
		return e.report(err)
	}
	if len(job.logs) != 1 {
		return e.report(usagef("name one log", "explain explains one log at a time, %d were named", len(job.logs)))
	}
	w := &worker{e: e, job: &job}
	r := w.analyze(0)
	out := bufio.NewWriter(e.Stdout)
	err := report.WriteExplanation(out, report.Explain(&r), report.TextOptions{Colour: e.Colour, Width: e.Width})
	if err == nil {
		fmt.Fprint(out, "\ncautions:\n"+report.CautionText())
		err = out.Flush()
	}
	if err != nil {
		return e.report(err)
	}
	return worse(exitPass, checked{verdict: r.Verdict, unread: r.Err != nil})
}
