package sampledata

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
)

// column is one column of the list: its heading, and how its cell is written and read.
type column struct {
	name  string
	write func(*TruthRow) string
	read  func(*TruthRow, string) error
}

func text(name string, field func(*TruthRow) *string) column {
	return column{name,
		func(r *TruthRow) string { return *field(r) },
		func(r *TruthRow, s string) error { *field(r) = s; return nil }}
}

func word(name string, field func(*TruthRow) *string, allowed ...string) column {
	return column{name,
		func(r *TruthRow) string { return *field(r) },
		func(r *TruthRow, s string) error {
			if !slices.Contains(allowed, s) {
				return fmt.Errorf("%q is none of %q", s, allowed)
			}
			*field(r) = s
			return nil
		}}
}

func whole(name string, field func(*TruthRow) *int) column {
	return column{name,
		func(r *TruthRow) string { return strconv.Itoa(*field(r)) },
		func(r *TruthRow, s string) (err error) { *field(r), err = strconv.Atoi(s); return err }}
}

func number(name string, decimals int, field func(*TruthRow) *float64) column {
	return column{name,
		func(r *TruthRow) string { return format(*field(r), decimals) },
		func(r *TruthRow, s string) (err error) { *field(r), err = parse(s); return err }}
}

func optional(name string, decimals int, field func(*TruthRow) *Optional) column {
	return column{name,
		func(r *TruthRow) string {
			if !field(r).Known {
				return ""
			}
			return format(field(r).Value, decimals)
		},
		func(r *TruthRow, s string) (err error) {
			*field(r) = Optional{}
			if s != "" {
				field(r).Known = true
				field(r).Value, err = parse(s)
			}
			return err
		}}
}

func format(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil && f == 0 {
		s = strconv.FormatFloat(0, 'f', decimals, 64) // no "-0.0"
	}
	return s
}

func parse(s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = fmt.Errorf("%q is no finite number", s)
	}
	return v, err
}

var columns = []column{
	text("file", func(r *TruthRow) *string { return &r.File }),
	whole("cycle", func(r *TruthRow) *int { return &r.Cycle }),
	word("kind", func(r *TruthRow) *string { return &r.Kind }, "bearing", "ring", "gear", "coupling", "sleeve"),
	number("onset_s", 1, func(r *TruthRow) *float64 { return &r.OnsetS }),
	optional("ramp_end_s", 1, func(r *TruthRow) *Optional { return &r.RampEndS }),
	optional("end_s", 1, func(r *TruthRow) *Optional { return &r.EndS }),
	number("start_inner_c", 3, func(r *TruthRow) *float64 { return &r.StartInnerC }),
	optional("start_outer_c", 3, func(r *TruthRow) *Optional { return &r.StartOuterC }),
	number("rate_inner_k_per_s", 5, func(r *TruthRow) *float64 { return &r.RateInnerKPerS }),
	optional("rate_outer_k_per_s", 5, func(r *TruthRow) *Optional { return &r.RateOuterKPerS }),
	number("peak_metal_inner_c", 3, func(r *TruthRow) *float64 { return &r.PeakMetalInnerC }),
	number("peak_metal_inner_s", 1, func(r *TruthRow) *float64 { return &r.PeakMetalInnerS }),
	optional("peak_metal_outer_c", 3, func(r *TruthRow) *Optional { return &r.PeakMetalOuterC }),
	optional("peak_metal_outer_s", 1, func(r *TruthRow) *Optional { return &r.PeakMetalOuterS }),
	number("peak_shown_inner_c", 3, func(r *TruthRow) *float64 { return &r.PeakShownInnerC }),
	number("peak_shown_inner_s", 1, func(r *TruthRow) *float64 { return &r.PeakShownInnerS }),
	optional("peak_shown_outer_c", 3, func(r *TruthRow) *Optional { return &r.PeakShownOuterC }),
	optional("peak_shown_outer_s", 1, func(r *TruthRow) *Optional { return &r.PeakShownOuterS }),
	optional("unseen_peak_c", 3, func(r *TruthRow) *Optional { return &r.UnseenPeakC }),
	number("over_limit_metal_s", 1, func(r *TruthRow) *float64 { return &r.OverLimitMetalS }),
	number("over_limit_shown_s", 1, func(r *TruthRow) *float64 { return &r.OverLimitShownS }),
	optional("diff_metal_k", 3, func(r *TruthRow) *Optional { return &r.DiffMetalK }),
	optional("diff_metal_s", 1, func(r *TruthRow) *Optional { return &r.DiffMetalS }),
	word("diff_metal_hotter", func(r *TruthRow) *string { return &r.DiffMetalHotter }, "inner", "outer", ""),
	optional("diff_shown_k", 3, func(r *TruthRow) *Optional { return &r.DiffShownK }),
	optional("diff_shown_s", 1, func(r *TruthRow) *Optional { return &r.DiffShownS }),
	word("diff_shown_hotter", func(r *TruthRow) *string { return &r.DiffShownHotter }, "inner", "outer", ""),
	word("rise", func(r *TruthRow) *string { return &r.Rise }, "first-order", "not-first-order"),
	number("misfit_inner_k", 3, func(r *TruthRow) *float64 { return &r.MisfitK }),
	optional("misfit_outer_k", 3, func(r *TruthRow) *Optional { return &r.MisfitOuter }),
	text("rise_why", func(r *TruthRow) *string { return &r.RiseWhy }),
	number("lag_inner_s", 1, func(r *TruthRow) *float64 { return &r.LagInnerS }),
	optional("lag_outer_s", 1, func(r *TruthRow) *Optional { return &r.LagOuterS }),
	number("offset_inner_k", 2, func(r *TruthRow) *float64 { return &r.OffsetInnerK }),
	optional("offset_outer_k", 2, func(r *TruthRow) *Optional { return &r.OffsetOuterK }),
	number("noise_inner_k", 2, func(r *TruthRow) *float64 { return &r.NoiseInnerK }),
	optional("noise_outer_k", 2, func(r *TruthRow) *Optional { return &r.NoiseOuterK }),
	number("display_step_k", 4, func(r *TruthRow) *float64 { return &r.DisplayStepK }),
	number("interval_s", 1, func(r *TruthRow) *float64 { return &r.IntervalS }),
	whole("rows", func(r *TruthRow) *int { return &r.Rows }),
	whole("spikes", func(r *TruthRow) *int { return &r.Spikes }),
	number("max_temp_c", 1, func(r *TruthRow) *float64 { return &r.MaxTempC }),
	optional("max_ring_diff_k", 1, func(r *TruthRow) *Optional { return &r.MaxRingDiffK }),
	optional("need_temp_c", 1, func(r *TruthRow) *Optional { return &r.NeedTempC }),
	number("over_time_allowed_s", 0, func(r *TruthRow) *float64 { return &r.OverTimeAllowedS }),
	number("probe_tolerance_k", 2, func(r *TruthRow) *float64 { return &r.ProbeToleranceK }),
	word("expect_max_temp", func(r *TruthRow) *string { return &r.ExpectMaxTemp }, answers...),
	word("expect_ring_diff", func(r *TruthRow) *string { return &r.ExpectRingDiff }, answers...),
	word("expect_need_temp", func(r *TruthRow) *string { return &r.ExpectNeedTemp }, answers...),
	word("expect_record", func(r *TruthRow) *string { return &r.ExpectRecord }, "pass", "unproven"),
	word("expect_verdict", func(r *TruthRow) *string { return &r.ExpectVerdict }, "pass", "fail", "unproven"),
	text("why", func(r *TruthRow) *string { return &r.Why }),
}

var answers = []string{"pass", "fail", "unproven", "not-asked"}

// ReadTruth reads the list strictly: the headings must be exactly the known ones in their order, and every cell must
// be what its column holds. An error names line and column; a list without rows is an error.
func ReadTruth(r io.Reader) ([]TruthRow, error) {
	c := csv.NewReader(r)
	c.FieldsPerRecord = len(columns)
	head, err := c.Read()
	if err != nil {
		return nil, fmt.Errorf("truth list: headings: %w", err)
	}
	for i, name := range head {
		if name != columns[i].name {
			return nil, fmt.Errorf("truth list: line 1, column %d: heading %q, want %q", i+1, name, columns[i].name)
		}
	}
	var rows []TruthRow
	for {
		cells, err := c.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("truth list: %w", err)
		}
		var row TruthRow
		for i, cell := range cells {
			if err := columns[i].read(&row, cell); err != nil {
				line, _ := c.FieldPos(i)
				return nil, fmt.Errorf("truth list: line %d, column %s: %w", line, columns[i].name, err)
			}
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("truth list: no rows below the headings")
	}
	return rows, nil
}

// WriteTruth writes the list that ReadTruth reads.
func WriteTruth(w io.Writer, rows []TruthRow) error {
	c := csv.NewWriter(w)
	cells := make([]string, len(columns))
	for i := range columns {
		cells[i] = columns[i].name
	}
	if err := c.Write(cells); err != nil {
		return fmt.Errorf("truth list: %w", err)
	}
	for n := range rows {
		for i := range columns {
			cells[i] = columns[i].write(&rows[n])
		}
		if err := c.Write(cells); err != nil {
			return fmt.Errorf("truth list: %w", err)
		}
	}
	c.Flush()
	return c.Error()
}
