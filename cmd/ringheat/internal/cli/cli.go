// Package cli is ringheat's command line: one file a command. A command parses its flags, calls the
// analysis, hands the results to package report, and gives an exit code. It judges nothing itself.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"ringheat/report"
)

// command is one word of the command line.
type command struct {
	name  string
	brief string
	run   func(ctx context.Context, e Env, args []string) int
}

func commands() []command {
	return []command{
		{"check", "read logs, find the heating cycles, judge them, draw them", runCheck},
		{"explain", "walk through the verdict on one log in plain words", runExplain},
		{"look", "say how a log is read: every guess, its evidence, and the flags that pin it", runLook},
		{"need", "say how warm a bore has to be for its seat, and whether the part stands it", runNeed},
		{"parts", "check a parts list and print it as understood, or print a template of one", runParts},
		{"limits", "print the table of tolerance limits by part kind and class", runLimits},
		{"demo", "write the records of an invented plant and check them", runDemo},
		{"version", "print the program's version", runVersion},
	}
}

// Run runs the command that args name and gives the exit code.
func Run(ctx context.Context, e Env, args []string) int {
	if len(args) == 0 {
		writeHelp(e.Stderr)
		return exitUsage
	}
	ctx, stop := withInterrupt(ctx)
	defer stop()
	switch args[0] {
	case "help", "-h", "--help":
		if len(args) > 1 && args[0] == "help" {
			return Run(ctx, e, []string{args[1], "-h"})
		}
		writeHelp(e.Stdout)
		return exitPass
	case "--version":
		return runVersion(ctx, e, nil)
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(ctx, e, args[1:])
		}
	}
	return e.report(usagef("ringheat help lists the commands; to judge a log write ringheat check LOG", "%q is no command", args[0]))
}

func writeHelp(w io.Writer) {
	fmt.Fprint(w, "ringheat judges from a probe logger's record whether a part was warmed for mounting\nwithin its limits, evenly, and enough for its seat.\n\nusage: ringheat COMMAND [FLAGS] [LOG...]\n\n")
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-10s %s\n", c.name, c.brief)
	}
	fmt.Fprint(w, "\nringheat COMMAND -h shows a command's flags and an example.\n"+exitCodes+"\ncautions:\n"+report.CautionText())
}

const exitCodes = `
exit codes: 0 all PASS, 1 some FAIL, 2 wrong use (also: no log found, --out not writable),
            3 some log could not be read, 4 some UNPROVEN; the worst of 1, 3, 4 in that order; 130 interrupted
`

// newFlags makes a flag set that reports errors to the caller.
func newFlags(name string) *pflag.FlagSet {
	fs := pflag.NewFlagSet(name, pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.SortFlags = false
	return fs
}

// parse parses a command's arguments. done says that the command has nothing more to do: help was asked
// for, or the arguments are wrong.
func (e Env) parse(fs *pflag.FlagSet, args []string, usage, example string, withCautions bool) (code int, done bool) {
	err := fs.Parse(args)
	if errors.Is(err, pflag.ErrHelp) {
		fmt.Fprintf(e.Stdout, "usage: ringheat %s\n\n", usage)
		fmt.Fprint(e.Stdout, fs.FlagUsagesWrapped(max(e.Width, 100)))
		fmt.Fprintf(e.Stdout, "\nexample: %s\n%s", example, exitCodes)
		if withCautions {
			fmt.Fprint(e.Stdout, "\ncautions:\n"+report.CautionText())
		}
		return exitPass, true
	}
	if err != nil {
		return e.report(usagef("ringheat "+fs.Name()+" -h shows the flags", "%s", strings.TrimPrefix(err.Error(), "pflag: "))), true
	}
	return 0, false
}
