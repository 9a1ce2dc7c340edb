package cli

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"github.com/spf13/pflag"
)

// runRow is one row of a run sheet: a log and the flags that hold for it alone.
type runRow struct {
	line  int
	log   string            // path, relative to the sheet
	flags map[string]string // flag name -> text; an empty cell sets nothing
}

// runSheetNotes are columns of a run sheet that say something about a run and set no flag.
var runSheetNotes = map[string]bool{"note": true, "notes": true, "heater": true, "serial": true}

// sheetOnly are flags of check that hold for a whole call and so can't stand in a run sheet.
var sheetOnly = map[string]bool{"runs": true, "format": true, "out": true, "jobs": true, "help": true, "limits": true}

// readRunSheet reads a run sheet: a comma-separated list with a header, one row a log, whose columns are
// "log" (or "file") and names of check's flags written with underscores. Anything it does not know is an
// error that names line and column: a misspelt column must not lose a limit.
func readRunSheet(path string, flags *pflag.FlagSet) ([]runRow, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, usagef("check the spelling and the folder", "can't open the run sheet %s: %v", path, reason(err))
	}
	defer file.Close()
	return parseRunSheet(path, file, flags)
}

func parseRunSheet(name string, in io.Reader, flags *pflag.FlagSet) ([]runRow, error) {
	text := bufio.NewReader(in)
	r := csv.NewReader(text)
	r.TrimLeadingSpace = true
	if head, _ := text.Peek(4096); semicolons(head) {
		r.Comma = ';'
	}
	at := func(line, column int, hint, format string, args ...any) error {
		return usagef(hint, "%s:%d: column %d: %s", name, line, column, fmt.Sprintf(format, args...))
	}
	head, err := r.Read()
	if errors.Is(err, io.EOF) {
		return nil, usagef("the first line names the columns, e.g. log,max_temp_c,need_temp_c", "%s is empty", name)
	}
	if err != nil {
		return nil, usagef("a run sheet is comma-separated text", "%s: %v", name, err)
	}
	columns := make([]string, len(head))
	logColumn := -1
	used := map[string]int{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))
		if h == "file" {
			h = "log"
		}
		if j, twice := used[h]; twice {
			return nil, at(1, i+1, "name every column once", "%q stands already in column %d", h, j+1)
		}
		used[h] = i
		flag := strings.ReplaceAll(h, "_", "-")
		if h == "date" {
			flag = "run-date"
		}
		switch {
		case h == "log":
			logColumn = i
		case runSheetNotes[h]:
		case flags.Lookup(flag) == nil || sheetOnly[flag]:
			return nil, at(1, i+1, columnHint(h, flags), "%q is no column of a run sheet", h)
		default:
			columns[i] = flag
		}
	}
	if logColumn < 0 {
		return nil, usagef("add a column log with the path of each log, relative to the sheet", "%s has no column log", name)
	}
	var rows []runRow
	lines := map[string]int{}
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			return nil, usagef("give every row as many cells as the header", "%s:%d: column %d: %v", name, parse.Line, parse.Column, parse.Err)
		}
		if err != nil {
			return nil, usagef("", "%s: %v", name, err)
		}
		line, _ := r.FieldPos(0)
		row := runRow{line: line, flags: map[string]string{}}
		for i, cell := range cells {
			cell = strings.TrimSpace(cell)
			switch {
			case i == logColumn && cell == "":
				return nil, at(line, i+1, "name the log of this row or delete the row", "no log is named")
			case i == logColumn:
				row.log = cell
				if !filepath.IsAbs(cell) {
					row.log = filepath.Join(filepath.Dir(name), filepath.FromSlash(cell))
				}
			case columns[i] != "" && cell != "":
				row.flags[columns[i]] = cell
			}
		}
		if j, twice := lines[row.log]; twice {
			return nil, at(line, logColumn+1, "give every log one row", "%s stands already in line %d", row.log, j)
		}
		lines[row.log] = line
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		return nil, usagef("add a row for each log", "%s names no log", name)
	}
	return rows, nil
}

// semicolons says whether the first line of a list separates its cells by semicolons.
func semicolons(head []byte) bool {
	line, _, _ := bytes.Cut(head, []byte("\n"))
	return bytes.Count(line, []byte(";")) > bytes.Count(line, []byte(","))
}

// columnHint names the column that was probably meant, else all of them.
func columnHint(h string, flags *pflag.FlagSet) string {
	all := sheetColumns(flags)
	if i := strings.LastIndex(h, "_"); i > 0 {
		for _, c := range all {
			if strings.HasPrefix(c, h[:i+1]) {
				return "write " + c + ", with figures in that unit"
			}
		}
	}
	return "known columns are log, " + strings.Join(all, ", ")
}

// sortedKeys gives a map's keys in order.
func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

func sheetColumns(flags *pflag.FlagSet) []string {
	var list []string
	flags.VisitAll(func(f *pflag.Flag) {
		if !sheetOnly[f.Name] {
			list = append(list, strings.ReplaceAll(f.Name, "-", "_"))
		}
	})
	for n := range runSheetNotes {
		list = append(list, n)
	}
	sort.Strings(list)
	return list
}
