package judge

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/gocarina/gocsv"
)

//go:embed limits.csv
var builtInLimits []byte

// BuiltInLimitsName is the name of the table that stands in the program.
const BuiltInLimitsName = "built-in table"

// Sourced is a figure of the limits table with where it is from. Absent: the table gives none.
type Sourced struct {
	Value      float64
	Absent     bool
	Source     string
	Confidence string
}

// LimitsRow is one line of the table: what a part of one kind and class stands.
type LimitsRow struct {
	Kind        PartKind
	RingClass   string
	MaxTemp     Sourced // °C
	MaxRingDiff Sourced // K; Absent for one-body parts
	OverCeiling Sourced // K above MaxTemp that an over-time allowance may cover at most
	Words       string  // what the class is
	Line        int     // in the file
}

// LimitsTable says what parts stand, by kind and class.
type LimitsTable struct {
	Name string // the file's name, or BuiltInLimitsName
	Rows []LimitsRow
}

// GeneralClass is the class of a part of which nothing more is known.
const GeneralClass = "general"

// cell is a cell of one of our own lists as it was written. An empty cell stays apart from a zero.
type cell string

func (c *cell) UnmarshalCSV(s string) error { *c = cell(strings.TrimSpace(s)); return nil }
func (c cell) MarshalCSV() (string, error)  { return string(c), nil }

type limitsRecord struct {
	Kind                  cell `csv:"kind"`
	RingClass             cell `csv:"ring_class"`
	MaxTempC              cell `csv:"max_temp_c"`
	MaxTempSource         cell `csv:"max_temp_source"`
	MaxTempConfidence     cell `csv:"max_temp_confidence"`
	MaxRingDiffK          cell `csv:"max_ring_diff_k"`
	MaxRingDiffSource     cell `csv:"max_ring_diff_source"`
	MaxRingDiffConfidence cell `csv:"max_ring_diff_confidence"`
	OverCeilingK          cell `csv:"over_ceiling_k"`
	OverCeilingSource     cell `csv:"over_ceiling_source"`
	OverCeilingConfidence cell `csv:"over_ceiling_confidence"`
	Words                 cell `csv:"words"`
}

// limitsColumns are the columns of the table, all of which must be there, in any order.
var limitsColumns = []string{"kind", "ring_class",
	"max_temp_c", "max_temp_source", "max_temp_confidence",
	"max_ring_diff_k", "max_ring_diff_source", "max_ring_diff_confidence",
	"over_ceiling_k", "over_ceiling_source", "over_ceiling_confidence", "words"}

// DefaultLimits reads the table that stands in the program. Each call reads it anew: keep the result
// when many logs are judged.
func DefaultLimits() *LimitsTable {
	t, err := LoadLimits(bytes.NewReader(builtInLimits), BuiltInLimitsName)
	if err != nil {
		panic("judge: the built-in limits table is broken: " + err.Error()) // held by a test
	}
	return t
}

// maxLimitsBytes bounds a limits file.
const maxLimitsBytes = 1 << 20

// LoadLimits reads a limits table from CSV with the columns of the built-in one. It is strict: an
// unknown or missing column, an absent cell, or an impossible value is refused, naming file, row and
// column and saying what to write.
func LoadLimits(r io.Reader, name string) (*LimitsTable, error) {
	raw, err := io.ReadAll(io.LimitReader(r, maxLimitsBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read limits table %s: %w", name, err)
	}
	if len(raw) > maxLimitsBytes {
		return nil, fmt.Errorf("limits table %s is larger than %d bytes: is it the right file?", name, maxLimitsBytes)
	}
	raw = bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(raw) || bytes.IndexByte(raw, 0) >= 0 {
		return nil, fmt.Errorf("limits table %s is not UTF-8 text: save it as CSV UTF-8", name)
	}
	lines, err := checkColumns(raw, name)
	if err != nil {
		return nil, err
	}
	var records []limitsRecord
	if err := gocsv.UnmarshalBytes(raw, &records); err != nil {
		return nil, fmt.Errorf("limits table %s: %w", name, err)
	}
	if len(records) != len(lines) {
		return nil, fmt.Errorf("limits table %s: %d rows read of %d", name, len(records), len(lines))
	}
	t := &LimitsTable{Name: name}
	for i := range records {
		row, err := records[i].row(lines[i])
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, lines[i], err)
		}
		for j := range t.Rows {
			if t.Rows[j].Kind == row.Kind && t.Rows[j].RingClass == row.RingClass {
				return nil, fmt.Errorf("%s:%d: column ring_class: %s %q stands in line %d already: leave one of them out",
					name, lines[i], row.Kind, row.RingClass, t.Rows[j].Line)
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// checkColumns holds the header against limitsColumns, and gives the line of every row.
func checkColumns(raw []byte, name string) ([]int, error) {
	r := csv.NewReader(bytes.NewReader(raw))
	r.ReuseRecord = true
	header, err := r.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("limits table %s is empty: start from the output of 'ringheat limits'", name)
	}
	if err != nil {
		return nil, fmt.Errorf("limits table %s: %w", name, err)
	}
	if len(header) == 1 && strings.Contains(header[0], ";") {
		return nil, fmt.Errorf("%s:1: the columns are parted by semicolons: save it with commas, and with a point as decimal mark", name)
	}
	seen := map[string]bool{}
	for i, h := range header {
		known := false
		for _, c := range limitsColumns {
			known = known || c == h
		}
		if !known {
			return nil, fmt.Errorf("%s:1: column %d: %q is not a column of a limits table: the columns are %s",
				name, i+1, shorten(h), strings.Join(limitsColumns, ", "))
		}
		if seen[h] {
			return nil, fmt.Errorf("%s:1: column %d: %q stands twice: leave one of them out", name, i+1, h)
		}
		seen[h] = true
	}
	for _, c := range limitsColumns {
		if !seen[c] {
			return nil, fmt.Errorf("%s:1: column %q is missing: the columns are %s", name, c, strings.Join(limitsColumns, ", "))
		}
	}
	var lines []int
	for {
		_, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("limits table %s: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		lines = append(lines, line)
	}
	if len(lines) == 0 {
		return nil, fmt.Errorf("limits table %s has no row below its header", name)
	}
	return lines, nil
}

func (r *limitsRecord) row(line int) (LimitsRow, error) {
	row := LimitsRow{Kind: PartKind(strings.ToLower(string(r.Kind))), RingClass: strings.ToLower(string(r.RingClass)),
		Words: string(r.Words), Line: line}
	if r.Kind == "" {
		return row, fmt.Errorf("column kind is empty: give one of %s", PartKindNames())
	}
	if !row.Kind.known() {
		return row, fmt.Errorf("column kind: %q is not known: give one of %s", shorten(string(r.Kind)), PartKindNames())
	}
	if row.RingClass == "" {
		return row, fmt.Errorf("column ring_class is empty: write %q where no class is known", GeneralClass)
	}
	if strings.ContainsAny(row.RingClass, "+ ,;") {
		return row, fmt.Errorf("column ring_class: %q: a class is one word; classes are joined with '+' only where a part is named", shorten(row.RingClass))
	}
	var err error
	if row.MaxTemp, err = sourced("max_temp", "c", r.MaxTempC, r.MaxTempSource, r.MaxTempConfidence, 20, hottest, "°C"); err != nil {
		return row, err
	}
	if row.MaxTemp.Absent {
		return row, errors.New("column max_temp_c is empty: every part has a highest temperature; write it in °C")
	}
	if row.MaxRingDiff, err = sourced("max_ring_diff", "k", r.MaxRingDiffK, r.MaxRingDiffSource, r.MaxRingDiffConfidence, 1, 500, "K"); err != nil {
		return row, err
	}
	if row.Kind.TwoRings() && row.MaxRingDiff.Absent {
		return row, errors.New("column max_ring_diff_k is empty: a bearing needs one; write it in K")
	}
	if !row.Kind.TwoRings() && !row.MaxRingDiff.Absent {
		return row, fmt.Errorf("column max_ring_diff_k: a %s is one body and has no difference between rings: leave it empty", row.Kind)
	}
	if row.OverCeiling, err = sourced("over_ceiling", "k", r.OverCeilingK, r.OverCeilingSource, r.OverCeilingConfidence, 0, 200, "K"); err != nil {
		return row, err
	}
	if row.OverCeiling.Absent {
		return row, errors.New("column over_ceiling_k is empty: write 0 where nothing above the limit may be allowed")
	}
	return row, nil
}

func sourced(column, suffix string, value, source, confidence cell, low, high float64, unit string) (Sourced, error) {
	name := column + "_" + suffix
	if value == "" {
		if source != "" || confidence != "" {
			return Sourced{}, fmt.Errorf("column %s is empty, but its source or confidence is not: write the figure in %s, or leave all three empty", name, unit)
		}
		return Sourced{Absent: true}, nil
	}
	v, err := strconv.ParseFloat(string(value), 64)
	if err != nil || strings.ContainsAny(string(value), "xX_pPnN") {
		return Sourced{}, fmt.Errorf("column %s: %q is not a number: write it in %s with a point as decimal mark and without its unit", name, shorten(string(value)), unit)
	}
	if !(v >= low && v <= high) {
		return Sourced{}, fmt.Errorf("column %s: %s %s is impossible: it must lie from %s to %s %s", name, value, unit, plain(low), plain(high), unit)
	}
	if source == "" {
		return Sourced{}, fmt.Errorf("column %s_source is empty: say where %s %s is from, or write 'common practice'", column, value, unit)
	}
	if confidence == "" {
		return Sourced{}, fmt.Errorf("column %s_confidence is empty: say how sure %s %s is, as 'read' or 'from memory'", column, value, unit)
	}
	return Sourced{Value: v, Source: string(source), Confidence: string(confidence)}, nil
}

// PartLimits are the figures that hold for one part, each with the class it came from.
type PartLimits struct {
	MaxTemp, MaxRingDiff, OverCeiling                Sourced
	MaxTempClass, MaxRingDiffClass, OverCeilingClass string
}

// Find gives what a part of a kind stands. classes names one class or several joined by '+' ("s1+sealed");
// of several the strictest decides, figure by figure; where none is of the rings, GeneralClass stands
// beside them. "" is GeneralClass, and a kind of "" is Bearing.
func (t *LimitsTable) Find(kind PartKind, classes string) (PartLimits, error) {
	if kind == "" {
		kind = Bearing
	}
	if strings.TrimSpace(classes) == "" {
		classes = GeneralClass
	}
	if t.find(kind, GeneralClass) != nil && noneOfTheRings(classes) {
		classes += "+" + GeneralClass
	}
	var out PartLimits
	first := true
	for part := range strings.SplitSeq(classes, "+") {
		class := strings.ToLower(strings.TrimSpace(part))
		row := t.find(kind, class)
		if row == nil {
			return PartLimits{}, fmt.Errorf("limits table %s has no class %q for a %s: give one of %s, several joined by '+', or --max-temp-c",
				t.Name, shorten(class), kind, strings.Join(t.classes(kind), ", "))
		}
		if first || row.MaxTemp.Value < out.MaxTemp.Value {
			out.MaxTemp, out.MaxTempClass = row.MaxTemp, class
		}
		if first || row.MaxRingDiff.Value < out.MaxRingDiff.Value {
			out.MaxRingDiff, out.MaxRingDiffClass = row.MaxRingDiff, class
		}
		if first || row.OverCeiling.Value < out.OverCeiling.Value {
			out.OverCeiling, out.OverCeilingClass = row.OverCeiling, class
		}
		first = false
	}
	return out, nil
}

// noneOfTheRings says that all classes are of a cage, seal, grease or clearance: what those stand says nothing
// of the rings, which decide as well.
func noneOfTheRings(classes string) bool {
	for part := range strings.SplitSeq(classes, "+") {
		class, other := strings.ToLower(strings.TrimSpace(part)), false
		for _, prefix := range []string{"cage", "seal", "greas", "small-clearance"} {
			other = other || strings.HasPrefix(class, prefix)
		}
		if !other {
			return false
		}
	}
	return true
}

func (t *LimitsTable) find(kind PartKind, class string) *LimitsRow {
	for i := range t.Rows {
		if t.Rows[i].Kind == kind && t.Rows[i].RingClass == class {
			return &t.Rows[i]
		}
	}
	return nil
}

func (t *LimitsTable) classes(kind PartKind) []string {
	var out []string
	for i := range t.Rows {
		if t.Rows[i].Kind == kind {
			out = append(out, t.Rows[i].RingClass)
		}
	}
	if len(out) == 0 {
		out = append(out, "a table with rows of that kind")
	}
	sort.Strings(out)
	return out
}

// WriteCSV writes the table in the form that LoadLimits reads.
func (t *LimitsTable) WriteCSV(w io.Writer) error {
	records := make([]limitsRecord, len(t.Rows))
	for i := range t.Rows {
		r := &t.Rows[i]
		records[i] = limitsRecord{Kind: cell(r.Kind), RingClass: cell(r.RingClass), Words: cell(r.Words)}
		records[i].MaxTempC, records[i].MaxTempSource, records[i].MaxTempConfidence = r.MaxTemp.cells()
		records[i].MaxRingDiffK, records[i].MaxRingDiffSource, records[i].MaxRingDiffConfidence = r.MaxRingDiff.cells()
		records[i].OverCeilingK, records[i].OverCeilingSource, records[i].OverCeilingConfidence = r.OverCeiling.cells()
	}
	if err := gocsv.Marshal(records, w); err != nil {
		return fmt.Errorf("write limits table: %w", err)
	}
	return nil
}

func (s Sourced) cells() (value, source, confidence cell) {
	if s.Absent {
		return "", "", ""
	}
	return cell(plain(s.Value)), cell(s.Source), cell(s.Confidence)
}

// shorten keeps foreign text in messages short and on one line.
func shorten(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
	const most = 60
	if len(s) > most {
		n := most
		for n > 0 && !utf8.RuneStart(s[n]) {
			n--
		}
		s = s[:n] + "..."
	}
	return s
}
