package cli

import (
	"context"
)

const (
	limitsUsage   = "limits [--limits FILE]\n\nPrints the table of tolerance limits by part kind and class, each line with its source, as a CSV list.\nRedirect it into a file, change it, and give it to check --limits."
	limitsExample = "ringheat limits > limits.csv"
)

func runLimits(_ context.Context, e Env, args []string) int {
	fs := newFlags("limits")
	path := fs.String("limits", "", "a table of your own, to check it and print it as it is understood; CSV `file`")
	if code, done := e.parse(fs, args, limitsUsage, limitsExample, true); done {
		return code
	}
	if fs.NArg() > 0 {
		return e.report(usagef("ringheat limits -h shows the flags", "limits takes no argument"))
	}
	table, err := loadLimits(*path)
	if err != nil {
		return e.report(err)
	}
	if err := table.WriteCSV(e.Stdout); err != nil {
		return e.report(err)
	}
	return exitPass
}
