package cli

import (
	"context"
	"fmt"

	"ringheat/analyze"
	"ringheat/analyze/judge"
	"ringheat/analyze/parts"
	"ringheat/report"
)

const (
	partsUsage = "parts FILE\n       ringheat parts --template\n\nChecks a parts list and prints what is understood of it: what each part stands, where that is from, and what its seat\n" +
		"needs. --template prints a list to start from, with every column explained. check and need take a part from a list\n" +
		"with --parts FILE --part NAME; in a run sheet the column part names it."
	partsExample = "ringheat parts --template > parts.csv"
)

func runParts(_ context.Context, e Env, args []string) int {
	fs := newFlags("parts")
	template := fs.Bool("template", false, "print a parts list to start from")
	limits := fs.String("limits", "", "a limits table of your own, CSV `file` (ringheat limits prints the form)")
	format := fs.String("format", "text", "what standard output gets: `text|csv`; csv is the list again, with every column")
	if code, done := e.parse(fs, args, partsUsage, partsExample, true); done {
		return code
	}
	switch {
	case *format != "text" && *format != "csv":
		return e.report(usagef("write text or csv", "--format %q is not known", *format))
	case *template && fs.NArg() > 0:
		return e.report(usagef("leave the file out, or --template", "--template prints a new list and reads none"))
	case *template:
		if err := parts.WriteTemplate(e.Stdout); err != nil {
			return e.report(err)
		}
		return exitPass
	case fs.NArg() != 1:
		return e.report(usagef("name one list, or write --template", "parts takes one file, %d were named", fs.NArg()))
	}
	table, err := loadLimits(*limits)
	if err != nil {
		return e.report(err)
	}
	list, err := loadParts(fs.Arg(0), table)
	if err != nil {
		return e.report(err)
	}
	if *format == "csv" {
		if err := list.WriteCSV(e.Stdout); err != nil {
			return e.report(err)
		}
		return exitPass
	}
	sheets := make([]report.PartSheet, len(list.Parts))
	for i := range list.Parts {
		if sheets[i], err = partSheet(&list.Parts[i], list.Name, table); err != nil {
			return e.report(err)
		}
	}
	if err := report.WriteParts(e.Stdout, list.Name, sheets, report.TextOptions{Colour: e.Colour, Width: e.Width}); err != nil {
		return e.report(err)
	}
	return exitPass
}

// partSheet finds everything that a check or a need would take from a part.
func partSheet(p *parts.Part, listName string, table *judge.LimitsTable) (report.PartSheet, error) {
	sheet := report.PartSheet{Part: p}
	at := func(err error) error {
		return usagef("correct the row, then run again", "%s:%d: part %s: %s", listName, p.Line, p.Name, err)
	}
	limits, err := table.Find(p.Kind, p.Classes())
	if err != nil {
		return sheet, at(err)
	}
	sheet.Limits = limits
	var f partFlags
	if err := f.take(p, listName, table); err != nil {
		return sheet, err
	}
	s := analyze.Settings{Judge: judge.Settings{Kind: p.Kind, RingClass: f.ringClass, MaxTempC: f.maxTemp.v, MaxRingDiffK: f.maxRingDiff.v,
		OverTimeAllowedS: f.overTime.v, OverCeilingK: f.overCeiling.v, Limits: table}}
	if err := s.UseClearance(f.seat.clearance(), f.seat.data()); err != nil {
		return sheet, at(err)
	}
	sheet.ClearanceDiffK, sheet.ClearanceWords = s.Judge.ClearanceDiffK, s.Said
	if p.HasSeat() {
		sheet.Need, err = analyze.AskNeed(analyze.NeedQuestion{Part: p.Name, Kind: p.Kind, RingClass: f.ringClass, MaxTempC: f.maxTemp.v, Limits: table, Seat: f.seat.data()})
		if err != nil {
			return sheet, at(err)
		}
	}
	if err := s.Check(); err != nil {
		return sheet, at(fmt.Errorf("%w", err))
	}
	return sheet, nil
}
