package cli

import (
	"bytes"
	"errors"
	"fmt"
	"hash/fnv"
	"os"
	"path/filepath"
	"strings"
	"unicode"
)

// Names of the files that check writes into --out besides the pictures. ownMark begins each of the
// text files, so that a later walk over the folder knows them.
const (
	resultsName = "results.csv"
	linesName   = "results.jsonl"
	summaryName = "summary.txt"
	ownMark     = "ringheat"
)

// outDir is a folder that results go into. Every file is written under a temporary name and renamed
// when it is whole, so a run that stops leaves no file that looks finished; an input is never overwritten.
type outDir struct {
	dir    string
	inputs []os.FileInfo
	used   map[string]string // picture base name -> log
}

// openOut makes the folder where it is missing and tries that it can be written.
func openOut(dir string, logs []input) (*outDir, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, usagef("name a folder that you may write to", "can't make the output folder %s: %v", dir, reason(err))
	}
	probe, err := os.CreateTemp(dir, ".ringheat-*")
	if err != nil {
		return nil, usagef("name a folder that you may write to", "can't write into the output folder %s: %v", dir, reason(err))
	}
	probe.Close()
	os.Remove(probe.Name())
	o := &outDir{dir: dir, used: map[string]string{}}
	for _, l := range logs {
		if l.path == "" {
			continue
		}
		if info, err := os.Stat(l.path); err == nil {
			o.inputs = append(o.inputs, info)
		}
	}
	return o, nil
}

// reason gives an error's cause without the path that the message already names.
func reason(err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// free says whether a file may be written into the folder: a log is never overwritten. It is asked for every
// name that is known before the work begins, and again for each file as it is written.
func (o *outDir) free(name string) error {
	path := filepath.Join(o.dir, name)
	if info, err := os.Stat(path); err == nil {
		for _, in := range o.inputs {
			if os.SameFile(info, in) {
				return usagef("choose another --out folder", "%s is one of the logs and is not overwritten", path)
			}
		}
	}
	return nil
}

// write puts one finished file into the folder.
func (o *outDir) write(name string, data []byte) error {
	path := filepath.Join(o.dir, name)
	if err := o.free(name); err != nil {
		return err
	}
	tmp, err := os.CreateTemp(o.dir, ".ringheat-*")
	if err != nil {
		return fmt.Errorf("can't write %s: %w", path, reason(err))
	}
	_, err = bytes.NewReader(data).WriteTo(tmp)
	if e := tmp.Chmod(0o644); err == nil {
		err = e
	}
	if e := tmp.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(tmp.Name(), path)
	}
	if err != nil {
		os.Remove(tmp.Name())
		return fmt.Errorf("can't write %s: %w", path, reason(err))
	}
	return nil
}

// pictureNames gives every log a file name of its own for its pictures: the log's base name, with a
// short mark made of its path where two logs share one. The answer depends only on the list of logs.
func pictureNames(logs []input) []string {
	base := make([]string, len(logs))
	count := map[string]int{}
	for i, l := range logs {
		base[i] = plainName(l.name)
		count[strings.ToLower(base[i])]++
	}
	for i, l := range logs {
		if count[strings.ToLower(base[i])] > 1 {
			h := fnv.New32a()
			h.Write([]byte(l.name))
			base[i] += fmt.Sprintf("-%08x", h.Sum32())
		}
	}
	return base
}

// plainName turns a log's name into one that is safe as a file name everywhere.
func plainName(name string) string {
	if name == "-" {
		return "standard-input"
	}
	name = filepath.Base(filepath.FromSlash(name))
	for {
		ext := filepath.Ext(name)
		if !logEndings[strings.ToLower(ext)] || ext == name {
			break
		}
		name = strings.TrimSuffix(name, ext)
	}
	name = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_.+ ()", r) {
			return r
		}
		return '_'
	}, name)
	if r := []rune(name); len(r) > 80 {
		name = string(r[:80])
	}
	if strings.Trim(name, ". ") == "" {
		return "log"
	}
	return name
}
