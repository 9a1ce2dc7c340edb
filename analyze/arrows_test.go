package analyze_test

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"strings"
	"testing"
)

// rank gives every package its place in the data's direction. A package may import only packages of a
// lower rank; equal ranks don't know each other.
var rank = map[string]int{
	"ringheat/analyze/quantity":          0,
	"ringheat/analyze/series":            1,
	"ringheat/analyze/ingest/cell":       2,
	"ringheat/analyze/ingest/heading":    2,
	"ringheat/analyze/ingest/clock":      3,
	"ringheat/analyze/ingest":            4,
	"ringheat/analyze/segment":           4,
	"ringheat/analyze/curve":             4,
	"ringheat/analyze/joint":             4,
	"ringheat/analyze/trend":             4,
	"ringheat/analyze/judge":             5,
	"ringheat/analyze/parts":             6,
	"ringheat/analyze":                   7,
	"ringheat/analyze/register":          8,
	"ringheat/report/chart":              9,
	"ringheat/report":                    10,
	"ringheat/sampledata":                0,
	"ringheat/sampledata/generate":       1,
	"ringheat/cmd/ringheat/internal/cli": 11,
	"ringheat/cmd/ringheat":              12,
}

// only says which modules may be imported in one place alone, and where.
var only = map[string]string{
	"github.com/spf13/pflag": "ringheat/cmd/",
	"gonum.org/v1/plot":      "ringheat/report/chart",
	"database/sql":           "ringheat/analyze/register",
	"golang.org/x/term":      "ringheat/cmd/",
}

// alone lists packages that share no code with the analysis: the demo logs are made by other code than
// the code that reads them, so that a mistake can't hide in both.
var alone = []string{"ringheat/sampledata"}

type listedPackage struct {
	ImportPath string
	Imports    []string
}

func TestImportDirections(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "ringheat/...").Output()
	if err != nil {
		var e *exec.ExitError
		if errors.As(err, &e) {
			t.Fatalf("go list: %v\n%s", err, e.Stderr)
		}
		t.Skipf("no go command to list the packages with: %v", err)
	}
	seen := 0
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listedPackage
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		seen++
		for _, complaint := range complaints(p) {
			t.Error(complaint)
		}
	}
	if seen < 8 {
		t.Errorf("go list named %d packages of ringheat, so this test looked at too little", seen)
	}
}

// complaints lists what is wrong with one package's imports.
func complaints(p listedPackage) []string {
	var list []string
	own, known := rank[p.ImportPath]
	if !known {
		return []string{p.ImportPath + " has no place in the data's direction: add it to rank in this test"}
	}
	for _, imp := range p.Imports {
		if r, ok := rank[imp]; ok && r >= own {
			list = append(list, p.ImportPath+" may not import "+imp+": the data flow the other way")
		}
		for module, place := range only {
			if (imp == module || strings.HasPrefix(imp, module+"/")) && !strings.HasPrefix(p.ImportPath, place) {
				list = append(list, p.ImportPath+" may not import "+imp+": that belongs in "+place)
			}
		}
		for _, a := range alone {
			inside := p.ImportPath == a || strings.HasPrefix(p.ImportPath, a+"/")
			ownCode := imp == a || strings.HasPrefix(imp, a+"/")
			if inside && !ownCode && strings.HasPrefix(imp, "ringheat/") {
				list = append(list, p.ImportPath+" may not import "+imp+": it shares no code with the analysis")
			}
		}
	}
	return list
}

func TestImportDirectionsCanFail(t *testing.T) {
	for _, p := range []listedPackage{
		{"ringheat/analyze/quantity", []string{"ringheat/analyze/series"}},
		{"ringheat/analyze/curve", []string{"ringheat/analyze/segment"}},
		{"ringheat/analyze/judge", []string{"github.com/spf13/pflag"}},
		{"ringheat/report", []string{"gonum.org/v1/plot/vg"}},
		{"ringheat/sampledata/generate", []string{"ringheat/analyze/quantity"}},
		{"ringheat/analyze/unheardof", nil},
	} {
		if len(complaints(p)) == 0 {
			t.Errorf("%s importing %v was let through", p.ImportPath, p.Imports)
		}
	}
}
