package generate

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"

	"ringheat/sampledata"
)

var update = flag.Bool("update", false, "write the demo's files instead of comparing them")

// demoDir is the folder of the demo's files, from this package's folder.
const demoDir = ".."

// seriesOf names the log whose noise-free series is kept in truth-series.csv.
const seriesOf = "01-heron-drive-end.csv"

// TestDemoFiles makes every file of the demo again and compares it byte for byte.
func TestDemoFiles(t *testing.T) {
	want := map[string][]byte{}
	var rows []sampledata.TruthRow
	for _, e := range plantMade() {
		want["logs/"+e.log.Name] = e.Bytes
		rows = append(rows, truthOf(t, &e)...)
		if e.log.Name == seriesOf {
			want["truth-series.csv"] = series(e.Trace)
		}
	}
	var b bytes.Buffer
	if err := sampledata.WriteTruth(&b, rows); err != nil {
		t.Fatal(err)
	}
	want["truth.csv"] = b.Bytes()
	want["runs.csv"] = runSheet()
	want["parts.csv"] = partsList()

	for name, content := range want {
		path := filepath.Join(demoDir, filepath.FromSlash(name))
		if *update {
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, content, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Errorf("%v: write it with go test ./sampledata/generate -update", err)
			continue
		}
		if !bytes.Equal(got, content) {
			t.Errorf("%s: the file differs from what the generator makes, first at byte %d", name, firstDifference(got, content))
		}
	}
	logs, err := os.ReadDir(filepath.Join(demoDir, "logs"))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range logs {
		if want["logs/"+l.Name()] == nil {
			t.Errorf("logs/%s is on disk but not in the plant's list", l.Name())
		}
	}
}

// made is one entry of the plant's list with the log made from it.
type made struct {
	entry
	*Made
}

// plantMade makes every log of the plant once for all tests.
var plantMade = sync.OnceValue(func() []made {
	var all []made
	for _, e := range plant() {
		all = append(all, made{e, Make(&e.log)})
	}
	return all
})

// truthOf gives a log's truth with the expectations of the plant's list.
func truthOf(t *testing.T, e *made) []sampledata.TruthRow {
	t.Helper()
	cycles := Cycles(&e.log, e.Made, e.asked)
	if len(cycles) != len(e.expect) {
		t.Fatalf("%s: %d cycles made, %d expected", e.log.Name, len(cycles), len(e.expect))
	}
	for i, x := range e.expect {
		c := &cycles[i]
		c.RiseWhy = e.riseWhy
		c.ExpectMaxTemp, c.ExpectRingDiff, c.ExpectNeedTemp, c.ExpectRecord, c.ExpectVerdict, c.Why =
			x.maxTemp, x.ringDiff, x.needTemp, x.record, x.verdict, x.why
	}
	return cycles
}

func firstDifference(a, b []byte) int {
	n := min(len(a), len(b))
	for i := range n {
		if a[i] != b[i] {
			return i
		}
	}
	return n
}

// series writes the noise-free temperatures every 10 s.
func series(tr *Trace) []byte {
	var b bytes.Buffer
	b.WriteString("time_s,inner_metal_c,outer_metal_c,inner_shown_c,outer_shown_c,power_w\n")
	every := int(math.Round(10 / StepS))
	for i := 0; i < len(tr.Air); i += every {
		fmt.Fprintf(&b, "%d,%.3f,%.3f,%.3f,%.3f,%.1f\n", i/every*10, tr.InnerMetal[i], tr.OuterMetal[i], tr.InnerShown[i], tr.OuterShown[i], tr.PowerW[i])
	}
	return b.Bytes()
}

// runSheet writes the plant's run sheet: columns named like the flags of check. An empty cell asks nothing.
func runSheet() []byte {
	rows := [][]string{{"log", "date", "part", "kind", "support", "max_temp_c", "max_ring_diff_k", "need_temp_c", "over_time_allowed_s", "probe_tolerance_k", "note"}}
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	maybe := func(o sampledata.Optional) string {
		if !o.Known {
			return ""
		}
		return number(o.Value)
	}
	for _, e := range plant() {
		a := e.asked
		rows = append(rows, []string{"logs/" + e.log.Name, e.log.Start.Format("2006-01-02"), e.part, a.Kind, e.support,
			number(a.MaxTempC), maybe(a.MaxRingDiffK), maybe(a.NeedTempC), number(a.OverTimeAllowedS), number(a.ProbeToleranceK), e.note})
	}
	return list(rows)
}

// partsList writes the mill's parts, in the form that the program reads. The ease is half the largest interference of the classes
// for hardened rings and a thousandth of the bore for the others, except for the sleeve, whose drawing asks for less.
func partsList() []byte {
	const plan = "mounting notes of its maker, sheet 7"
	return list([][]string{
		{"part", "description", "kind", "ring_class", "cage", "bore_mm", "outside_diameter_mm", "width_mm", "mass_kg", "shaft_class", "bore_class", "ease_um",
			"bearing_type", "clearance_group", "max_temp_c", "max_temp_source", "max_rate_k_per_min", "max_rate_source", "note"},
		{"QM-118", "seal sleeve of the fan Lapwing", "sleeve", "general", "", "70", "104", "130", "4.1", "k5", "H7", "40", "", "", "", "", "", "", "ease after its drawing"},
		{"QM-208", "roll and fan bearing", "bearing", "sn", "steel", "80", "140", "26", "1.6", "k6", "Normal", "", "deep-groove-ball", "C3", "", "", "", "", ""},
		{"QM-310", "spindle bearing", "bearing", "sn", "brass", "100", "180", "34", "3.5", "m6", "Normal", "", "cylindrical-roller", "C3", "", "", "", "", ""},
		{"QM-415", "press roll bearing", "bearing", "sn", "brass", "150", "270", "73", "17.5", "p6", "Normal", "", "spherical-roller", "C3", "", "", "", "", ""},
		{"QM-520", "dryer cylinder bearing", "bearing", "sn", "brass", "200", "360", "98", "41.5", "p6", "Normal", "", "spherical-roller", "C3", "", "", "8", plan, "slow warming keeps the rings even"},
		{"QM-612", "pulper coupling hub", "coupling", "tempered", "", "120", "230", "105", "22", "p6", "H7", "", "", "", "", "", "", "", ""},
		{"QM-705", "gear wheel of the pump Heron", "gear", "tempered", "", "90", "210", "60", "12.4", "k6", "H7", "", "", "", "180", "drawing of the wheel", "", "", ""},
	})
}

func list(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.WriteAll(rows); err != nil {
		panic(err) // a bytes.Buffer takes everything
	}
	return b.Bytes()
}
