// Package sampledata holds the demo: seventeen logs of parts that were warmed in an invented plant, the Quillmarsh
// board mill, with the list of its parts, a run sheet, and the truth that the logs were made from.
//
// The mill, its machines and its part numbers are made up; the physics is not. Package generate
// integrates the heat balance of two coupled rings under a timer or controller, and lets a lagging and noisy
// probe look at it. Most of the rises are therefore not first-order, and truth.csv says which and why.
//
// The files:
//
//	logs/*.csv        one log each, every one in another logger's dialect
//	runs.csv          run sheet: one row a log, columns named like the flags of check
//	parts.csv         the parts, with seat and limits
//	truth.csv         one TruthRow a heating cycle
//	truth-series.csv  noise-free temperatures of one log, every 10 s
package sampledata

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
)

//go:embed logs/*.csv runs.csv parts.csv truth.csv truth-series.csv
var files embed.FS

// Files gives the demo's files; names use forward slashes.
func Files() fs.FS { return files }

// Names lists the demo's logs, "logs/NAME.csv", in order.
func Names() []string {
	names, err := fs.Glob(files, "logs/*.csv")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	return names
}

// Open opens one of the demo's files by the name that Names gives, or by its name within logs.
func Open(name string) (fs.File, error) {
	f, err := files.Open(name)
	if err != nil {
		if f, inLogs := files.Open(path.Join("logs", name)); inLogs == nil {
			return f, nil
		}
		return nil, fmt.Errorf("demo file: %w", err)
	}
	return f, nil
}

// Truth reads truth.csv.
func Truth() ([]TruthRow, error) {
	f, err := files.Open("truth.csv")
	if err != nil {
		return nil, fmt.Errorf("demo file: %w", err)
	}
	defer f.Close()
	return ReadTruth(f)
}
