package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ringheat/analyze"
	"ringheat/analyze/judge"
)

const testParts = `part,kind,ring_class,cage,sealed,bore_mm,outside_diameter_mm,shaft_class,bore_class,interference_um,ease_um,need_temp_c,material,alpha_per_k,bearing_type,clearance_group,max_temp_c,max_temp_source,max_ring_diff_k,over_time_allowed_s,over_ceiling_k
BALL,bearing,s1,polyamide,,100,180,m6,,,,,,,deep-groove-ball,CN,,,,,
SEALED,bearing,sn,,yes,100,180,,,55,20,,,12.5e-6,,,100,sheet 3,25,60,2
HUB,coupling,tempered,,,120,,p6,H7,,,,carbon-steel,,,,,,,,
PLAIN,bearing,general,,,,,,,,,77,,,,,,,,,
BARE,bearing,general,,,,,,,,,,,,,,,,,,
`

// TestTakePart: what check judges by when a part is named, and what a flag changes of it.
func TestTakePart(t *testing.T) {
	path := filepath.Join(t.TempDir(), "parts.csv")
	if err := os.WriteFile(path, []byte(testParts), 0o666); err != nil {
		t.Fatal(err)
	}
	const none = -1.0
	for _, c := range []struct {
		part, flags                        string
		kind                               judge.PartKind
		class                              string
		maxC, diffK, needC, clearanceDiffK float64 // none: not set
		said                               string  // one of the sentences, "|" between several
	}{
		{"BALL", "", "bearing", "s1+cage-polyamide", none, none, 88.8, 5.8, "taken from the parts list: part BALL"},
		{"ball", "--ring-class s0", "bearing", "s0+cage-polyamide", none, none, 88.8, 5.8, "--ring-class s0 overrules ring_class s1"},
		{"BALL", "--max-temp-c 100", "bearing", "s1+cage-polyamide", 100, none, 88.8, 5.8, "--max-temp-c 100 overrules the limit 120 °C of class cage-polyamide"},
		{"BALL", "--max-temp-c 120", "bearing", "s1+cage-polyamide", 120, none, 88.8, 5.8, ""},
		{"BALL", "--need-temp-c 60", "bearing", "s1+cage-polyamide", none, none, 60, 5.8, "--need-temp-c 60 overrules the seat"},
		{"BALL", "--interference-um 30", "bearing", "s1+cage-polyamide", none, none, 57.5, 5.8, "the seat given overrules shaft_class m6"},
		{"BALL", "--shaft-class k6", "bearing", "s1+cage-polyamide", none, none, 76.3, 5.8, "the seat given overrules shaft_class m6"},
		{"BALL", "--ease-um 5", "bearing", "s1+cage-polyamide", none, none, 70, 5.8, ""},
		{"BALL", "--bore-class H7", "bearing", "s1+cage-polyamide", none, none, 63.8, 5.8, "--bore-class H7 overrules bore_class Normal"},
		{"BALL", "--bore-mm 50", "bearing", "s1+cage-polyamide", none, none, 112.5, 3, "--bore-mm 50 overrules bore_mm 100"},
		{"BALL", "--clearance-diff-k 4", "bearing", "s1+cage-polyamide", none, none, 88.8, 4, "--clearance-diff-k 4 overrules the clearance"},
		{"BALL", "--kind gear --bore-class H7", "gear", "", none, none, 132.5, none, "--kind gear overrules kind bearing|classes and limits of part BALL are those of a bearing and are left out"},
		{"BALL", "--kind bearing --shaft-temp-c 0", "bearing", "s1+cage-polyamide", none, none, 68.8, 5.8, ""},
		{"SEALED", "", "bearing", "sn+sealed", 100, 25, 80, none, "limit 100 °C from part SEALED"},
		{"SEALED", "--alpha-per-k 12e-6", "bearing", "sn+sealed", 100, 25, 82.5, none, "--alpha-per-k 1.2e-05 overrules alpha_per_k 1.25e-05"},
		{"SEALED", "--interference-um 40 --ease-um 10", "bearing", "sn+sealed", 100, 25, 60, none, "--interference-um 40 overrules interference_um 55|--ease-um 10 overrules ease_um 20"},
		{"SEALED", "--max-ring-diff-k 40", "bearing", "sn+sealed", 100, 40, 80, none, "--max-ring-diff-k 40 overrules max_ring_diff_k 25"},
		{"SEALED", "--kind sleeve", "sleeve", "", none, none, 80, none, "left out"},
		{"HUB", "", "coupling", "tempered", none, none, 147.5, none, ""},
		{"HUB", "--alpha-per-k 12e-6", "coupling", "tempered", none, none, 144.4, none, "--alpha-per-k 1.2e-05 overrules material carbon-steel"},
		{"HUB", "--need-temp-c 150", "coupling", "tempered", none, none, 150, none, "overrules the seat"},
		{"PLAIN", "", "bearing", "general", none, none, 77, none, "needed temperature 77 °C from need_temp_c of part PLAIN"},
		{"PLAIN", "--need-temp-c 80", "bearing", "general", none, none, 80, none, "--need-temp-c 80 overrules need_temp_c 77"},
		{"PLAIN", "--bore-mm 100 --interference-um 30", "bearing", "general", none, none, 57.5, none, "the seat given overrules need_temp_c 77"},
		{"BARE", "", "bearing", "general", none, none, none, none, ""},
		{"BARE", "--need-temp-c 80", "bearing", "general", none, none, 80, none, ""},
	} {
		what := c.part + " " + c.flags
		s, err := settingsFrom(t, "--parts "+path+" --part "+c.part+" "+c.flags)
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		j := &s.Judge
		if j.Kind != c.kind || j.RingClass != c.class {
			t.Errorf("%s: kind %q class %q, want %q %q", what, j.Kind, j.RingClass, c.kind, c.class)
		}
		for _, f := range []struct {
			name string
			got  *float64
			want float64
		}{{"limit", j.MaxTempC, c.maxC}, {"difference", j.MaxRingDiffK, c.diffK}, {"need", j.NeedTempC, c.needC}, {"clearance", j.ClearanceDiffK, c.clearanceDiffK}} {
			got := none
			if f.got != nil {
				got = *f.got
			}
			if d := got - f.want; d > 1e-9 || d < -1e-9 {
				t.Errorf("%s: %s %v, want %v", what, f.name, got, f.want)
			}
		}
		said := strings.Join(s.Said, "\n")
		for want := range strings.SplitSeq(c.said, "|") {
			if !strings.Contains(said, want) {
				t.Errorf("%s: %q is not said in\n%s", what, want, said)
			}
		}
		if c.said == "" && strings.Contains(said, "overrules") {
			t.Errorf("%s: nothing is overruled, and it says\n%s", what, said)
		}
		if s.Part != strings.ToUpper(c.part) {
			t.Errorf("%s: kept as part %q", what, s.Part)
		}
	}
	for _, c := range []struct{ flags, want string }{
		{"--part PLAIN --shaft-temp-c 5", "so --shaft-temp-c has nothing to act on"},
		{"--part BARE --interference-um 30", "a seat needs --bore-mm"},
		{"--part BALL --need-temp-c 60 --ease-um 5", "both say how warm the bore must be"},
		{"--part BALL --kind gear", "--bore-class Normal is for bearings"},
		{"--part HUB --max-ring-diff-k 30", "a coupling is one body"},
		{"--part NONE", "has no part"},
		{"", "none is named"},
	} {
		if _, err := settingsFrom(t, "--parts "+path+" "+c.flags); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.flags, err, c.want)
		}
	}
}

func settingsFrom(t *testing.T, line string) (analyze.Settings, error) {
	t.Helper()
	fs := newFlags("check")
	var f checkFlags
	f.register(fs)
	if err := fs.Parse(strings.Fields(line)); err != nil {
		t.Fatal(err)
	}
	return f.settings(judge.DefaultLimits())
}

// TestPartsOfTheDemo: the demo's list reads, and each part's seat needs what the demo's run sheet asks for, a degree apart at most.
func TestPartsOfTheDemo(t *testing.T) {
	dir := t.TempDir()
	if _, err := writeDemo(dir); err != nil {
		t.Fatal(err)
	}
	fs := newFlags("check")
	var f checkFlags
	f.register(fs)
	rows, err := readRunSheet(filepath.Join(dir, "runs.csv"), fs)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		name := row.flags["part"]
		s, err := settingsFrom(t, "--parts "+filepath.Join(dir, "parts.csv")+" --part "+name)
		if err != nil {
			t.Error(err)
			continue
		}
		if string(s.Judge.Kind) != row.flags["kind"] {
			t.Errorf("%s is a %s in the list and a %s in the run sheet", name, s.Judge.Kind, row.flags["kind"])
		}
		var asked float64
		if _, err := fmt.Sscan(row.flags["need-temp-c"], &asked); err != nil {
			continue // not asked in this run
		}
		if s.Judge.NeedTempC == nil || *s.Judge.NeedTempC > asked || *s.Judge.NeedTempC < asked-1 {
			t.Errorf("%s: the list's seat needs %v °C, the run sheet asks for %v", name, *s.Judge.NeedTempC, asked)
		}
	}
}

// TestPartsListsKeeps: rows that share a partsLists read the list once.
func TestPartsListsKeeps(t *testing.T) {
	path := filepath.Join(t.TempDir(), "parts.csv")
	if err := os.WriteFile(path, []byte(testParts), 0o666); err != nil {
		t.Fatal(err)
	}
	table, lists := judge.DefaultLimits(), &partsLists{}
	f := checkFlags{parts: path, part: "BALL", lists: lists}
	if _, err := f.settings(table); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	f.part = "HUB"
	if s, err := f.settings(table); err != nil || s.Part != "HUB" {
		t.Errorf("part %q, %v", s.Part, err)
	}
	if _, err := f.settings(judge.DefaultLimits()); err == nil {
		t.Error("a list read under another limits table is used")
	}
	f.lists = nil
	if _, err := f.settings(table); err == nil {
		t.Error("the list is gone, and nothing kept it")
	}
}
