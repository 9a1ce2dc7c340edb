package parts

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"ringheat/analyze/judge"
)

// cell is a cell as it was written. An empty cell stays apart from a zero.
type cell string

func (c *cell) UnmarshalCSV(s string) error { *c = cell(strings.TrimSpace(s)); return nil }
func (c cell) MarshalCSV() (string, error)  { return string(c), nil }

// record is one row as it was written.
type record struct {
	Part             cell `csv:"part"`
	Description      cell `csv:"description"`
	Kind             cell `csv:"kind"`
	RingClass        cell `csv:"ring_class"`
	Cage             cell `csv:"cage"`
	Sealed           cell `csv:"sealed"`
	Greased          cell `csv:"greased"`
	BoreMM           cell `csv:"bore_mm"`
	OutsideMM        cell `csv:"outside_diameter_mm"`
	WidthMM          cell `csv:"width_mm"`
	MassKG           cell `csv:"mass_kg"`
	ShaftClass       cell `csv:"shaft_class"`
	BoreClass        cell `csv:"bore_class"`
	InterferenceUM   cell `csv:"interference_um"`
	EaseUM           cell `csv:"ease_um"`
	NeedTempC        cell `csv:"need_temp_c"`
	Material         cell `csv:"material"`
	ShaftMaterial    cell `csv:"shaft_material"`
	AlphaPerK        cell `csv:"alpha_per_k"`
	BearingType      cell `csv:"bearing_type"`
	ClearanceGroup   cell `csv:"clearance_group"`
	ClearanceMinUM   cell `csv:"clearance_min_um"`
	ClearanceMaxUM   cell `csv:"clearance_max_um"`
	MaxTempC         cell `csv:"max_temp_c"`
	MaxTempSource    cell `csv:"max_temp_source"`
	MaxRingDiffK     cell `csv:"max_ring_diff_k"`
	OverTimeAllowedS cell `csv:"over_time_allowed_s"`
	OverCeilingK     cell `csv:"over_ceiling_k"`
	MaxRateKPerMin   cell `csv:"max_rate_k_per_min"`
	MaxRateSource    cell `csv:"max_rate_source"`
	HoldMin          cell `csv:"hold_min"`
	HoldSource       cell `csv:"hold_source"`
	Note             cell `csv:"note"`
}

// figure is a column that holds a number, with the range outside of which it can't be.
type figure struct {
	column    string
	cell      cell
	into      **float64
	low, high float64
	unit      string
}

// part reads a row's cells one by one, then holds them against each other.
func (r *record) part(limits *judge.LimitsTable) (Part, error) {
	p := Part{
		Name: string(r.Part), Description: string(r.Description), Kind: judge.PartKind(strings.ToLower(string(r.Kind))),
		RingClass: strings.ToLower(string(r.RingClass)), Cage: strings.ToLower(string(r.Cage)),
		ShaftClass: string(r.ShaftClass), BoreClass: string(r.BoreClass),
		Material: strings.ToLower(string(r.Material)), ShaftMaterial: strings.ToLower(string(r.ShaftMaterial)),
		BearingType: strings.ToLower(string(r.BearingType)), ClearanceGroup: strings.ToUpper(string(r.ClearanceGroup)),
		MaxTempSource: string(r.MaxTempSource), MaxRateSource: string(r.MaxRateSource), HoldSource: string(r.HoldSource), Note: string(r.Note),
	}
	if p.Name == "" {
		return p, errors.New("column part is empty: name the part of this row, or delete the row")
	}
	if r.Kind == "" {
		return p, fmt.Errorf("column kind is empty: give one of %s", judge.PartKindNames())
	}
	if !known(p.Kind) {
		return p, fmt.Errorf("column kind: %q is not known: give one of %s", shorten(string(r.Kind)), judge.PartKindNames())
	}
	if p.RingClass == "" {
		return p, fmt.Errorf("column ring_class is empty: write %s where no class is known", judge.GeneralClass)
	}
	for _, f := range []figure{
		{"bore_mm", r.BoreMM, &p.BoreMM, 1, 3000, "mm"},
		{"outside_diameter_mm", r.OutsideMM, &p.OutsideMM, 1, 10000, "mm"},
		{"width_mm", r.WidthMM, &p.WidthMM, 0.1, 10000, "mm"},
		{"mass_kg", r.MassKG, &p.MassKG, 0.001, 100000, "kg"},
		{"interference_um", r.InterferenceUM, &p.InterferenceUM, -1000, 10000, "µm"},
		{"ease_um", r.EaseUM, &p.EaseUM, 0, 10000, "µm"},
		{"need_temp_c", r.NeedTempC, &p.NeedTempC, 20, 1000, "°C"},
		{"alpha_per_k", r.AlphaPerK, &p.AlphaPerK, 1e-6, 50e-6, "1/K"},
		{"clearance_min_um", r.ClearanceMinUM, &p.ClearanceMinUM, 0, 5000, "µm"},
		{"clearance_max_um", r.ClearanceMaxUM, &p.ClearanceMaxUM, 0, 5000, "µm"},
		{"max_temp_c", r.MaxTempC, &p.MaxTempC, 20, 1000, "°C"},
		{"max_ring_diff_k", r.MaxRingDiffK, &p.MaxRingDiffK, 1, 500, "K"},
		{"over_time_allowed_s", r.OverTimeAllowedS, &p.OverTimeAllowedS, 0, 86400, "s"},
		{"over_ceiling_k", r.OverCeilingK, &p.OverCeilingK, 0, 200, "K"},
		{"max_rate_k_per_min", r.MaxRateKPerMin, &p.MaxRateKPerMin, 0.01, 1000, "K/min"},
		{"hold_min", r.HoldMin, &p.HoldMin, 0, 10000, "min"},
	} {
		v, err := f.number()
		if err != nil {
			return p, err
		}
		*f.into = v
	}
	var err error
	if p.Sealed, err = yes("sealed", r.Sealed); err != nil {
		return p, err
	}
	if p.Greased, err = yes("greased", r.Greased); err != nil {
		return p, err
	}
	return p, p.check(limits)
}

func known(k judge.PartKind) bool {
	for name := range strings.SplitSeq(judge.PartKindNames(), ", ") {
		if string(k) == name {
			return true
		}
	}
	return false
}

// number reads a figure; nil for an empty cell.
func (f *figure) number() (*float64, error) {
	if f.cell == "" {
		return nil, nil
	}
	text := string(f.cell)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.ContainsAny(text, "xX_pPnN") {
		return nil, fmt.Errorf("column %s: %q is not a number: write it in %s with a point as decimal mark and without its unit, or leave it empty", f.column, shorten(text), f.unit)
	}
	if !(v >= f.low && v <= f.high) {
		return nil, fmt.Errorf("column %s: %s %s is impossible: it must lie from %s to %s %s", f.column, shorten(text), f.unit, plain(f.low), plain(f.high), f.unit)
	}
	return &v, nil
}

func yes(column string, c cell) (bool, error) {
	switch strings.ToLower(string(c)) {
	case "yes":
		return true, nil
	case "no", "":
		return false, nil
	}
	return false, fmt.Errorf("column %s: %q is neither yes nor no: write one of them", column, shorten(string(c)))
}

func plain(v float64) string {
	if v != 0 && v < 1e-3 && v > -1e-3 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
