package ingest

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ringheat/analyze/quantity"
)

var logsDir = flag.String("logs", "", "folder of logs with an expected.json to hold the reader against")

// expectedLog is one entry of an expected.json. The file is a JSON array; each entry names a log beside it and
// what a careful person reads from it:
//
//	file              name of the log
//	expect.first_data_line, expect.data_lines (rows of readings), expect.delimiter (comma, semicolon, tab, pipe, spaces)
//	expect.time       {columns (1-based; any one of them), median_interval_s, min_interval_s, max_gap_s, duration_s, steps_back,
//	                   duplicate_times, start ("yyyy-mm-dd hh:mm:ss" in the log's zone, or the counter's first value in s)}
//	expect.channels   [{column (1-based), name, unit ("°C", "°F", "K", null where the file says none), valid,
//	                   min, max, first, last (in the file's unit, after scale_to_degC where that is given), scale_to_degC}]
//	expect.warnings   what a person would ask; a log that differs passes if the reader asks a question
type expectedLog struct {
	File   string `json:"file"`
	Expect struct {
		Delimiter string `json:"delimiter"`
		FirstData int    `json:"first_data_line"`
		DataLines int    `json:"data_lines"`
		Time      struct {
			Columns   []int   `json:"columns"`
			Rows      int     `json:"rows_with_time"`
			Median    float64 `json:"median_interval_s"`
			Min       float64 `json:"min_interval_s"`
			MaxGap    float64 `json:"max_gap_s"`
			Duration  float64 `json:"duration_s"`
			StepsBack int     `json:"steps_back"`
			Repeats   int     `json:"duplicate_times"`
			Start     any     `json:"start"`
		} `json:"time"`
		Channels []struct {
			Name   string  `json:"name"`
			Column int     `json:"column"`
			Unit   *string `json:"unit"`
			Valid  int     `json:"valid"`
			Min    float64 `json:"min"`
			Max    float64 `json:"max"`
			First  float64 `json:"first"`
			Last   float64 `json:"last"`
			Scale  float64 `json:"scale_to_degC"`
		} `json:"channels"`
		Warnings []string `json:"warnings"`
	} `json:"expect"`
}

// TestFolderOfLogs holds the reader against a folder of logs given by -logs; without the flag it does nothing.
func TestFolderOfLogs(t *testing.T) {
	if *logsDir == "" {
		t.Skip("no -logs folder given")
	}
	raw, err := os.ReadFile(filepath.Join(*logsDir, "expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	var entries []expectedLog
	if err := json.Unmarshal(raw, &entries); err != nil {
		t.Fatal(err)
	}
	right := 0
	var reader Reader
	for _, e := range entries {
		f, err := os.Open(filepath.Join(*logsDir, e.File))
		if err != nil {
			t.Fatal(err)
		}
		res, err := reader.Read(e.File, f, Options{})
		f.Close()
		var wrong []string
		if err != nil {
			wrong = append(wrong, err.Error())
		} else {
			wrong = compareWithExpected(&e, res)
		}
		if len(wrong) == 0 {
			right++
			if testing.Verbose() {
				t.Logf("%s: right; questions %q", e.File, res.Reading.Questions)
			}
			continue
		}
		var q []string
		if res != nil {
			q = res.Reading.Questions
		}
		t.Errorf("%s:\n\t%s\n\tquestions: %s\n\twarnings: %s", e.File, strings.Join(wrong, "\n\t"), strings.Join(q, " | "), strings.Join(e.Expect.Warnings, " | "))
	}
	t.Logf("%d of %d logs come out as a careful person reads them", right, len(entries))
}

func compareWithExpected(e *expectedLog, res *Result) (wrong []string) {
	x, l := &e.Expect, res.Log
	bad := func(what string, got, want any) {
		wrong = append(wrong, what+": got "+jsonText(got)+", want "+jsonText(want))
	}
	near := func(what string, got, want, tol float64) {
		if math.Abs(got-want) > tol {
			bad(what, got, want)
		}
	}
	if x.Delimiter != "" && res.Reading.Delimiter != x.Delimiter {
		bad("delimiter", res.Reading.Delimiter, x.Delimiter)
	}
	if x.FirstData != 0 && res.Reading.FirstDataLine != x.FirstData {
		bad("first data line", res.Reading.FirstDataLine, x.FirstData)
	}
	if l.Len() != x.DataLines {
		bad("rows", l.Len(), x.DataLines)
	}
	if l.Len() > 1 {
		near("median interval", l.Clock.IntervalS, x.Time.Median, 1e-5)
		near("duration", l.DurationS(), x.Time.Duration, 1e-3)
		lo, hi := math.Inf(1), 0.0
		for i := 1; i < l.Len(); i++ {
			d := l.TimeS[i] - l.TimeS[i-1]
			lo, hi = min(lo, d), max(hi, d)
		}
		near("smallest step", lo, x.Time.Min, 1e-5)
		near("largest step", hi, x.Time.MaxGap, 1e-5)
	}
	switch s := x.Time.Start.(type) {
	case string:
		if got := l.Clock.Start.Format("2006-01-02 15:04:05"); got != s {
			bad("start", got, s)
		}
	case float64:
		near("start", l.Clock.OffsetS, s, 1e-6)
	}
	if len(l.Channels) != len(x.Channels) {
		var names []string
		for _, c := range l.Channels {
			names = append(names, c.Name)
		}
		bad("channels", names, len(x.Channels))
		return wrong
	}
	for i := range x.Channels {
		c, w := &l.Channels[i], &x.Channels[i]
		if c.Column != w.Column {
			bad("column", c.Column, w.Column)
		}
		if c.Valid != w.Valid {
			bad(c.Name+" valid", c.Valid, w.Valid)
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		first, last := math.NaN(), 0.0
		for _, v := range c.C {
			if v == v {
				if first != first {
					first = v
				}
				last = v
				lo, hi = min(lo, v), max(hi, v)
			}
		}
		unit := c.Unit
		if w.Scale != 0 {
			unit = quantity.DegreeCelsius
		}
		conv := func(v float64) float64 { return float64(unit.Convert(v)) }
		near(c.Name+" min", lo, conv(w.Min), 1e-9)
		near(c.Name+" max", hi, conv(w.Max), 1e-9)
		near(c.Name+" first", first, conv(w.First), 1e-9)
		near(c.Name+" last", last, conv(w.Last), 1e-9)
		if w.Unit != nil && w.Scale == 0 && !strings.Contains(*w.Unit, " ") && c.Unit.String() != *w.Unit {
			bad(c.Name+" unit", c.Unit.String(), *w.Unit)
		}
	}
	return wrong
}

func jsonText(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	return string(b)
}
