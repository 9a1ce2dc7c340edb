package parts_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"ringheat/analyze/judge"
	"ringheat/analyze/parts"
)

var limits = judge.DefaultLimits()

func load(text string) (*parts.List, error) {
	return parts.Load(strings.NewReader(text), "parts.csv", limits)
}

// words is a list with everything that its pointers point at.
func words(t *testing.T, l *parts.List) string {
	t.Helper()
	b, err := json.MarshalIndent(l, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func ptr(v float64) *float64 { return &v }

func TestLoad(t *testing.T) {
	list, err := load("\ufeff# a remark, with a comma and a \"quote\"\n" +
		"part,kind,ring_class,cage,sealed,bore_mm,outside_diameter_mm,shaft_class,bearing_type,clearance_group,max_rate_k_per_min,max_rate_source,over_time_allowed_s\n" +
		"\n" +
		"A-1,Bearing,S1,Polyamide,yes,100,180,m6,cylindrical-roller,c3,10,data sheet 4711,0\n" +
		"\"# spreadsheet's remark\",,,,,,,,,,,,\n" +
		",,,,,,,,,,,,\n" +
		"\"B, second\",gear,tempered,,no,90,,,,,,,\n")
	if err != nil {
		t.Fatal(err)
	}
	want := &parts.List{Name: "parts.csv", Parts: []parts.Part{
		{Name: "A-1", Kind: judge.Bearing, RingClass: "s1", Cage: "polyamide", Sealed: true, BoreMM: ptr(100), OutsideMM: ptr(180),
			ShaftClass: "m6", BoreClass: "Normal", BearingType: "cylindrical-roller", ClearanceGroup: "C3",
			MaxRateKPerMin: ptr(10), MaxRateSource: "data sheet 4711", OverTimeAllowedS: ptr(0), Line: 4},
		{Name: "B, second", Kind: judge.Gear, RingClass: "tempered", BoreMM: ptr(90), Line: 7},
	}}
	if w, g := words(t, want), words(t, list); w != g {
		t.Errorf("read %s\nwant %s", g, w)
	}
	a, b := &list.Parts[0], &list.Parts[1]
	if got := a.Classes(); got != "s1+cage-polyamide+sealed" {
		t.Errorf("classes %q", got)
	}
	if got := a.ClassesWith("s0"); got != "s0+cage-polyamide+sealed" {
		t.Errorf("classes with s0 %q", got)
	}
	if got := b.Classes(); got != "tempered" {
		t.Errorf("classes %q", got)
	}
	if !a.HasSeat() || b.HasSeat() || !a.HasClearance() || b.HasClearance() {
		t.Error("seat or clearance wrongly seen")
	}
	// An empty cell is no zero, and a zero is one.
	if b.OverTimeAllowedS != nil || *a.OverTimeAllowedS != 0 {
		t.Error("an empty cell and a zero are told apart wrongly")
	}
	if p, err := list.Find(" a-1 "); err != nil || p != a {
		t.Errorf("Find: %v, %v", p, err)
	}
	if _, err := list.Find("A-2"); err == nil || !strings.Contains(err.Error(), `no part "A-2": its parts are A-1, B, second`) {
		t.Errorf("Find: %v", err)
	}
}

// TestRingClassAlwaysCounts: a part whose cage stands more than its rings is held to its rings.
func TestRingClassAlwaysCounts(t *testing.T) {
	list, err := load("part,kind,ring_class,cage\nA,bearing,general,steel\n")
	if err != nil {
		t.Fatal(err)
	}
	found, err := limits.Find(list.Parts[0].Kind, list.Parts[0].Classes())
	if err != nil || found.MaxTemp.Value != 120 || found.MaxTempClass != "general" {
		t.Errorf("limit %v of class %s, %v; want the 120 of general", found.MaxTemp.Value, found.MaxTempClass, err)
	}
}

func TestLoadRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "parts list parts.csv is empty: start from"},
		{"remarks only", "# x\n#\n", "is empty"},
		{"header only", "part,kind,ring_class\n", "no row below its header"},
		{"semicolons", "part;kind;ring_class\nA;bearing;sn\n", "parts.csv:1: the columns are parted by semicolons"},
		{"not UTF-8", "part,kind\xe9\n", "not UTF-8"},
		{"unknown column", "part,kind,ring_class,colour\nA,bearing,sn,red\n", `parts.csv:1: column 4: "colour" is not a column of a parts list: the columns are part`},
		{"misspelt column", "part,kind,ring_class,Bore mm\nA,bearing,sn,100\n", `column 4: "Bore mm" is not a column of a parts list: write bore_mm`},
		{"unit left out", "part,kind,ring_class,max_temp\nA,bearing,sn,100\n", "write max_temp_c"},
		{"column twice", "part,kind,kind,ring_class\nA,bearing,ring,sn\n", `column 3: "kind" stands twice`},
		{"column missing", "part,kind\nA,bearing\n", "parts.csv:1: column ring_class is missing"},
		{"part not first", "kind,part,ring_class\nbearing,A,sn\n", "column part must be the first"},
		{"cell absent", "part,kind,ring_class\nA,bearing\n", "parts.csv:2: 2 cells where the header has 3"},
		{"decimal comma", "part,kind,ring_class,bore_mm\nA,bearing,sn,100,5\n", "write numbers with a point"},
		{"bare quote", "part,kind,ring_class\nA\"B,bearing,sn\n", "parts.csv:2: character 2"},
		{"lost part", "part,kind,ring_class\n#7,bearing,sn\n", "parts.csv:2: \"#7,bearing,sn\" begins with #"},
		{"no name", "part,kind,ring_class\n ,bearing,sn\n", "parts.csv:2: column part is empty"},
		{"no kind", "part,kind,ring_class\nA,,sn\n", "column kind is empty"},
		{"unknown kind", "part,kind,ring_class\nA,wheel,sn\n", `column kind: "wheel" is not known`},
		{"no class", "part,kind,ring_class\nA,bearing,\n", "column ring_class is empty: write general"},
		{"unknown class", "part,kind,ring_class\nA,bearing,s9\n", `column ring_class: limits table built-in table has no class "s9"`},
		{"name twice", "part,kind,ring_class\nA,bearing,sn\nB,bearing,sn\na,bearing,sn\n", `parts.csv:4: column part: "a" stands in line 2 already`},
		{"cage of a gear", "part,kind,ring_class,cage\nA,gear,general,steel\n", "column cage: a gear has none"},
		{"unknown cage", "part,kind,ring_class,cage\nA,bearing,sn,wood\n", "column cage: no class cage-wood"},
		{"sealed maybe", "part,kind,ring_class,sealed\nA,bearing,sn,1\n", `column sealed: "1" is neither yes nor no`},
		{"no number", "part,kind,ring_class,bore_mm\nA,bearing,sn,100 mm\n", `column bore_mm: "100 mm" is not a number: write it in mm`},
		{"hex", "part,kind,ring_class,bore_mm\nA,bearing,sn,0x10\n", "is not a number"},
		{"NaN", "part,kind,ring_class,bore_mm\nA,bearing,sn,NaN\n", "is not a number"},
		{"impossible", "part,kind,ring_class,bore_mm\nA,bearing,sn,-5\n", "column bore_mm: -5 mm is impossible: it must lie from 1 to 3000 mm"},
		{"coefficient in millionths", "part,kind,ring_class,alpha_per_k\nA,bearing,sn,12\n", "column alpha_per_k: 12 1/K is impossible"},
		{"outside within bore", "part,kind,ring_class,bore_mm,outside_diameter_mm\nA,bearing,sn,100,90\n", "column outside_diameter_mm"},
		{"interference in nanometres", "part,kind,ring_class,bore_mm,interference_um\nA,bearing,sn,10,9000\n", "more than 1 % of the bore"},
		{"two seats", "part,kind,ring_class,bore_mm,shaft_class,interference_um\nA,bearing,sn,100,m6,55\n", "both say how tight"},
		{"seat and need", "part,kind,ring_class,bore_mm,shaft_class,need_temp_c\nA,bearing,sn,100,m6,89\n", "both say how warm"},
		{"seat without bore", "part,kind,ring_class,shaft_class\nA,bearing,sn,m6\n", "column bore_mm is empty"},
		{"ease without seat", "part,kind,ring_class,bore_mm,ease_um\nA,bearing,sn,100,10\n", "column ease_um"},
		{"bore class alone", "part,kind,ring_class,bore_mm,bore_class\nA,gear,general,100,H7\n", "column bore_class is half of a seat"},
		{"hub without bore class", "part,kind,ring_class,bore_mm,shaft_class\nA,gear,general,100,p6\n", "column bore_class is empty: a gear"},
		{"hub with a bearing's bore", "part,kind,ring_class,bore_mm,shaft_class,bore_class\nA,gear,general,100,p6,normal\n", "Normal is for bearings"},
		{"hole as shaft", "part,kind,ring_class,bore_mm,shaft_class\nA,bearing,sn,100,M6\n", "column shaft_class: shaft class \"M6\": capital letters name a hole"},
		{"unknown hole", "part,kind,ring_class,bore_mm,shaft_class,bore_class\nA,gear,general,100,p6,K7\n", "column bore_class: hole class"},
		{"unknown material", "part,kind,ring_class,material\nA,bearing,sn,unobtainium\n", "column material: material \"unobtainium\" is not known: name one of bearing-steel"},
		{"elongation of a ring", "part,kind,ring_class,material\nA,bearing,sn,carbon-steel-en1993\n", "column material: carbon-steel-en1993 is for hubs"},
		{"material and coefficient", "part,kind,ring_class,material,alpha_per_k\nA,bearing,sn,brass,19e-6\n", "columns material and alpha_per_k"},
		{"group without type", "part,kind,ring_class,bore_mm,outside_diameter_mm,clearance_group\nA,bearing,sn,100,180,C3\n", "column bearing_type is empty"},
		{"group without sizes", "part,kind,ring_class,bearing_type,clearance_group\nA,bearing,sn,deep-groove-ball,C3\n", "bore_mm and outside_diameter_mm"},
		{"group of a gear", "part,kind,ring_class,clearance_group\nA,gear,general,C3\n", "are for bearings"},
		{"unknown group", "part,kind,ring_class,bore_mm,outside_diameter_mm,bearing_type,clearance_group\nA,bearing,sn,100,180,deep-groove-ball,C9\n", "column clearance_group: clearance group \"C9\" is none of"},
		{"disputed cell", "part,kind,ring_class,bore_mm,outside_diameter_mm,bearing_type,clearance_group\nA,bearing,sn,400,600,deep-groove-ball,C3\n", "column clearance_group: internal clearance C3"},
		{"unknown type", "part,kind,ring_class,bearing_type\nA,bearing,sn,needle\n", "column bearing_type"},
		{"group and own", "part,kind,ring_class,bore_mm,outside_diameter_mm,bearing_type,clearance_group,clearance_min_um,clearance_max_um\nA,bearing,sn,100,180,deep-groove-ball,C3,30,60\n", "columns clearance_group and clearance_min_um"},
		{"own by half", "part,kind,ring_class,bore_mm,outside_diameter_mm,clearance_min_um\nA,bearing,sn,100,180,30\n", "belong together"},
		{"own upside down", "part,kind,ring_class,bore_mm,outside_diameter_mm,clearance_min_um,clearance_max_um\nA,bearing,sn,100,180,60,30\n", "column clearance_max_um: 30 µm is less"},
		{"limit above the class without a source", "part,kind,ring_class,sealed,max_temp_c\nA,bearing,sn,yes,110\n", "column max_temp_c: 110 °C is above the 80 °C of class sealed"},
		{"source without limit", "part,kind,ring_class,max_temp_source\nA,bearing,sn,drawing\n", "column max_temp_source"},
		{"evenness of one body", "part,kind,ring_class,max_ring_diff_k\nA,gear,general,35\n", "column max_ring_diff_k: a gear is one body"},
		{"ceiling alone", "part,kind,ring_class,over_ceiling_k\nA,bearing,sn,5\n", "column over_ceiling_k"},
		{"rate without source", "part,kind,ring_class,max_rate_k_per_min\nA,bearing,sn,10\n", "column max_rate_source is empty"},
		{"hold source without figure", "part,kind,ring_class,hold_source\nA,bearing,sn,sheet\n", "column hold_source is given"},
	} {
		_, err := load(c.text)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
}

// TestLimitAboveClassWithSource: a limit of the part's own above its classes' stands when its source is said.
func TestLimitAboveClassWithSource(t *testing.T) {
	list, err := load("part,kind,ring_class,sealed,max_temp_c,max_temp_source\nA,bearing,sn,yes,110,maker's sheet 12\n")
	if err != nil || *list.Parts[0].MaxTempC != 110 {
		t.Errorf("%v, %v", list, err)
	}
}

// TestTemplate: the template is a list that loads as it is, and explains every column.
func TestTemplate(t *testing.T) {
	var b bytes.Buffer
	if err := parts.WriteTemplate(&b); err != nil {
		t.Fatal(err)
	}
	list, err := load(b.String())
	if err != nil {
		t.Fatal(err)
	}
	if len(list.Parts) != 1 || !list.Parts[0].HasSeat() || !list.Parts[0].HasClearance() {
		t.Errorf("the template's example reads as %+v", list.Parts)
	}
	head, _, _ := strings.Cut(b.String(), "\npart,")
	for _, c := range parts.Columns() {
		if !strings.Contains(head, " "+c+" ") {
			t.Errorf("column %s is not explained", c)
		}
	}
}

// TestRoundTrip: what is written reads as the same list, line numbers apart.
func TestRoundTrip(t *testing.T) {
	raw, err := os.ReadFile("testdata/full.csv")
	if err != nil {
		t.Fatal(err)
	}
	first, err := parts.Load(bytes.NewReader(raw), "x", limits)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := first.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	second, err := parts.Load(bytes.NewReader(b.Bytes()), "x", limits)
	if err != nil {
		t.Fatal(err)
	}
	for i := range first.Parts {
		first.Parts[i].Line, second.Parts[i].Line = 0, 0
	}
	if w, g := words(t, first), words(t, second); w != g {
		t.Errorf("read again %s\nwant %s", g, w)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if strings.Join(rows[0], ",") != strings.Join(parts.Columns(), ",") {
		t.Errorf("columns %v, want %v", rows[0], parts.Columns())
	}
	for i, name := range rows[0] { // so that no column is lost unseen
		filled := false
		for _, row := range rows[1:] {
			filled = filled || row[i] != ""
		}
		if !filled {
			t.Errorf("column %s is empty in every row", name)
		}
	}
}

// TestMaterialNames: every name that is offered is found.
func TestMaterialNames(t *testing.T) {
	for _, name := range parts.MaterialNames() {
		if _, err := parts.Material(name); err != nil {
			t.Error(err)
		}
	}
}

func FuzzLoad(f *testing.F) {
	f.Add([]byte("part,kind,ring_class\nA,bearing,sn\n"))
	f.Add([]byte("# x\npart,kind,ring_class,bore_mm\n\"A\nB\",bearing,sn,1e2\n"))
	f.Add([]byte("part;kind"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		list, err := parts.Load(bytes.NewReader(raw), "f.csv", limits)
		if err != nil {
			if list != nil || !strings.Contains(err.Error(), "f.csv") {
				t.Errorf("a list and an error, or an error that names no file: %v", err)
			}
			return
		}
		if len(list.Parts) == 0 {
			t.Error("neither a part nor an error")
		}
		for _, p := range list.Parts {
			if p.Name == "" || p.RingClass == "" {
				t.Errorf("a part without name or class: %+v", p)
			}
			if _, err := limits.Find(p.Kind, p.Classes()); err != nil {
				t.Error(err)
			}
		}
	})
}
