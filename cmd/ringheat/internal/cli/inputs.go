package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// input is one log to read: a path, or "-" for standard input.
type input struct {
	name string // as shown to people and kept in results
	path string // "" for standard input
}

// logEndings are the file endings taken for logs when a folder is walked. A file that is named on the
// command line, or matched by a pattern, is read whatever its ending.
var logEndings = map[string]bool{
	".csv": true, ".tsv": true, ".txt": true, ".tab": true, ".dat": true, ".log": true, ".asc": true, ".prn": true,
	".gz": true, ".zip": true,
}

// found is what the arguments named: the logs in the order of the arguments, and files that a folder
// walk left out, so that nothing is dropped without a word.
type found struct {
	logs    []input
	leftOut []string
	gone    int      // named logs that don't exist
	twice   []string // logs named more than once; each is judged once
}

// findInputs expands paths, patterns, folders and "-" to the logs they name. skip names a folder not
// walked (the output folder). A path that does not exist, or a pattern or folder that holds no log, is an error.
func findInputs(args []string, skip string) (found, error) {
	var f found
	if len(args) == 0 {
		return f, usagef("name a log, a folder, a pattern or - for standard input", "no log named")
	}
	seen := map[string]bool{}
	add := func(path string) {
		key := filepath.Clean(path)
		if seen[key] {
			f.twice = append(f.twice, filepath.ToSlash(path))
			return
		}
		seen[key] = true
		f.logs = append(f.logs, input{name: filepath.ToSlash(path), path: path})
	}
	stdin := false
	for _, arg := range args {
		if arg == "-" {
			if !stdin {
				f.logs = append(f.logs, input{name: "-"})
			}
			stdin = true
			continue
		}
		info, err := os.Stat(arg)
		switch {
		case err == nil && info.IsDir():
			if err := f.walk(arg, skip, add); err != nil {
				return f, err
			}
		case err == nil:
			add(arg)
		case errors.Is(err, fs.ErrNotExist) && strings.ContainsAny(arg, "*?["):
			matches, globErr := filepath.Glob(arg)
			if globErr != nil {
				return f, usagef("quote the pattern and close its brackets", "%s is no valid pattern", arg)
			}
			if len(matches) == 0 {
				return f, usagef("check the spelling and the folder", "no file matches %s", arg)
			}
			sort.Strings(matches)
			for _, m := range matches {
				if info, err := os.Stat(m); err == nil && info.IsDir() {
					if err := f.walk(m, skip, add); err != nil {
						return f, err
					}
					continue
				}
				add(m)
			}
		case errors.Is(err, fs.ErrNotExist) && len(args) > 1:
			add(arg) // it is reported like any log that can't be read; the others are judged
			f.gone++
		case errors.Is(err, fs.ErrNotExist):
			return f, usagef("check the spelling and the folder", "%s does not exist", arg)
		default:
			return f, usagef("check the rights to the file", "can't open %s: %v", arg, err)
		}
	}
	if f.gone > 0 && f.gone == len(f.logs) {
		return f, usagef("check the spelling and the folder", "none of the %d logs named exists", f.gone)
	}
	return f, nil
}

// walk adds the logs below a folder in the order of their paths.
func (f *found) walk(root, skip string, add func(string)) error {
	before := len(f.logs)
	any := false
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if skip != "" && path != root && sameFile(path, skip) {
				return filepath.SkipDir
			}
			return nil
		}
		if strings.HasPrefix(d.Name(), ".") {
			return nil
		}
		if !logEndings[strings.ToLower(filepath.Ext(path))] || isOwnResult(path) {
			f.leftOut = append(f.leftOut, filepath.ToSlash(path))
			return nil
		}
		any = true
		add(path)
		return nil
	})
	if err != nil {
		return usagef("check the rights to the folder", "can't walk %s: %v", root, err)
	}
	if !any && len(f.logs) == before {
		hint := "a folder is searched for " + endingList()
		if len(f.leftOut) > 0 {
			hint += fmt.Sprintf("; %d other files were left out, name one to read it", len(f.leftOut))
		}
		return usagef(hint, "no log found in the folder %s", root)
	}
	return nil
}

func endingList() string {
	var list []string
	for e := range logEndings {
		list = append(list, e)
	}
	sort.Strings(list)
	return strings.Join(list, " ")
}

func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// isOwnResult says whether a file is a result that this program wrote into an output folder, so that a
// folder walked twice does not take its own results for logs.
func isOwnResult(path string) bool {
	switch filepath.Base(path) {
	case resultsName, summaryName, needListName, needTextName:
	default:
		return false
	}
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer file.Close()
	head := make([]byte, len(ownMark)+3)
	n, _ := file.Read(head)
	return strings.HasPrefix(strings.TrimPrefix(string(head[:n]), "\ufeff"), ownMark)
}
