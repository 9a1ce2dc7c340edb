package heading

import (
	"testing"

	"ringheat/analyze/series"
)

// All expectations of this file: common practice, no source.

func settled(headings ...string) []Meaning {
	ms := make([]Meaning, len(headings))
	for i, h := range headings {
		ms[i] = Read(h, "")
	}
	Settle(ms)
	return ms
}

func TestSettleRoles(t *testing.T) {
	const none, inner, outer, ambient, shaft, set = series.NoRole, series.Inner, series.Outer, series.Ambient, series.Shaft, series.SetPoint
	for _, c := range []struct {
		headings []string
		roles    []series.Role
	}{
		{[]string{"Time", "IR", "OR"}, []series.Role{none, inner, outer}},
		{[]string{"Time", "IR °C", "Ambient °C"}, []series.Role{none, none, ambient}},
		{[]string{"Time", "IR", "AR"}, []series.Role{none, inner, outer}},
		{[]string{"Time", "inner ring", "OR"}, []series.Role{none, inner, outer}},
		{[]string{"t", "Inside", "Outside"}, []series.Role{none, inner, outer}},
		{[]string{"t", "Innentemperatur", "Außentemperatur"}, []series.Role{none, inner, outer}},
		{[]string{"t", "Bohrung", "Außentemperatur"}, []series.Role{none, inner, none}}, // the ring's or the weather's: asked
		{[]string{"t", "Innenring", "Außenring", "Außentemperatur"}, []series.Role{none, inner, outer, ambient}},
		{[]string{"t", "Temp int", "Temp ext"}, []series.Role{none, inner, outer}},
		{[]string{"t", "ID temp", "OD temp"}, []series.Role{none, inner, outer}},
		{[]string{"t", "T_ir", "T_or", "T_set"}, []series.Role{none, inner, outer, set}},
		{[]string{"t", "BI", "BE"}, []series.Role{none, inner, outer}},
		{[]string{"t", "Internal Temp", "External Temp"}, []series.Role{none, inner, outer}},
		{[]string{"t", "Welle", "IR"}, []series.Role{none, shaft, none}},
		{[]string{"ID", "Time", "T1", "T2"}, []series.Role{none, none, none, none}},
		{[]string{"Time", "OR"}, []series.Role{none, none}},
		{[]string{"t", "T_i", "T_a", "T_o"}, []series.Role{none, inner, ambient, outer}},
		{[]string{"t", "Ti", "To", "Ta"}, []series.Role{none, inner, outer, ambient}},
		{[]string{"t", "T_i", "T_a"}, []series.Role{none, none, none}}, // innen, außen or inner, ambient: asked
		{[]string{"t", "T_i [°C]", "T_o [°C]"}, []series.Role{none, inner, outer}},
	} {
		ms := settled(c.headings...)
		for i := range ms {
			if ms[i].Role != c.roles[i] {
				t.Errorf("%q: %q has role %q at %.2f, want %q", c.headings, c.headings[i], ms[i].Role, ms[i].Confidence, c.roles[i])
			}
			if ms[i].Role != series.NoRole && ms[i].Confidence < Sure {
				t.Errorf("%q: %q keeps a doubtful role", c.headings, c.headings[i])
			}
		}
	}
}

func TestSettleSummaries(t *testing.T) {
	for _, c := range []struct {
		headings []string
		probe    []bool
	}{
		{[]string{"Inner min °C", "Inner avg °C", "Inner max °C", "Outer min °C", "Outer avg °C", "Outer max °C"}, []bool{false, true, false, false, true, false}},
		{[]string{"Inner °C", "Inner min °C", "Inner max °C"}, []bool{true, false, false}},
		{[]string{"Inner °C", "Outer °C", "Max °C"}, []bool{true, true, false}},
		{[]string{"Min °C", "Avg °C", "Max °C"}, []bool{false, true, false}},
		{[]string{"T1 max", "T1 min"}, []bool{true, false}},
		{[]string{"Inner std °C"}, []bool{false}},
		{[]string{"Temp - °C", "High Temp - °C", "Low Temp - °C"}, []bool{true, false, false}},
		{[]string{"High temp °C", "Low temp °C"}, []bool{true, true}},
		{[]string{"Time", "PV", "SV"}, []bool{false, true, false}},
		{[]string{"Time", "PV"}, []bool{false, false}},
		{[]string{"Time", "Setpoint", "Input", "Output"}, []bool{false, false, true, false}},
		{[]string{"Probe 1 Max °C", "Probe 2 Max °C"}, []bool{true, true}},
	} {
		ms := settled(c.headings...)
		for i := range ms {
			if ms[i].IsProbe() != c.probe[i] {
				t.Errorf("%q: %q probe %v (%s), want %v", c.headings, c.headings[i], ms[i].IsProbe(), ms[i].Reason, c.probe[i])
			}
		}
	}
}

// Columns of values whose unit stands in the cells: "Max", "Average", "Min".
func TestSettleValues(t *testing.T) {
	ms := settled("Sample", "Max", "Average", "Min")
	for i, kind := range []NotProbeKind{MayBeProbe, StatisticColumn, MayBeProbe, StatisticColumn} {
		if ms[i].NotProbe != kind {
			t.Errorf("column %d: kind %d, want %d", i, ms[i].NotProbe, kind)
		}
	}
}

func TestSettleInternal(t *testing.T) {
	ms := settled("Time", "Inner °C", "Outer °C", "Internal Temp °C")
	if ms[3].NotProbe != InternalColumn || ms[3].Reason == "" {
		t.Errorf("internal beside two rings: kind %d", ms[3].NotProbe)
	}
	ms = settled("Time", "Logger Temperature °C")
	if !ms[1].IsProbe() {
		t.Errorf("the only temperature is ruled out: %s", ms[1].Reason)
	}
	ms = settled("Time", "Logger Temperature °C", "T1 °C")
	if ms[1].IsProbe() || !ms[2].IsProbe() {
		t.Errorf("logger beside a probe: %v %v", ms[1].IsProbe(), ms[2].IsProbe())
	}
}

func TestSettleParts(t *testing.T) {
	for _, c := range []struct {
		headings []string
		kinds    []TimeKind
	}{
		{[]string{"Year", "Month", "Day", "Hour", "Minute", "Second", "T1"}, []TimeKind{YearPart, MonthPart, DayPart, HourPart, MinutePart, SecondPart, NoTime}},
		{[]string{"YYYY", "MM", "DD", "HH", "MM", "SS", "Inner °C"}, []TimeKind{YearPart, MonthPart, DayPart, HourPart, MinutePart, SecondPart, NoTime}},
		{[]string{"Y", "M", "D", "h", "m", "s"}, []TimeKind{YearPart, MonthPart, DayPart, HourPart, MinutePart, SecondPart}},
		{[]string{"Jahr", "Monat", "Tag", "Std", "Min", "Sek"}, []TimeKind{YearPart, MonthPart, DayPart, HourPart, MinutePart, SecondPart}},
		{[]string{"année", "mois", "jour", "heure", "minute", "seconde"}, []TimeKind{YearPart, MonthPart, DayPart, HourPart, MinutePart, SecondPart}},
		{[]string{"Year", "Mon", "Day", "Hr", "Min", "Sec"}, []TimeKind{YearPart, MonthPart, DayPart, HourPart, MinutePart, SecondPart}},
		{[]string{"Seconds", "T1", "T2"}, []TimeKind{Elapsed, NoTime, NoTime}},
		{[]string{"Minute", "T1"}, []TimeKind{Elapsed, NoTime}},
		{[]string{"Date", "heure", "T1"}, []TimeKind{Date, TimeOfDay, NoTime}},
	} {
		ms := settled(c.headings...)
		for i := range ms {
			if ms[i].Time != c.kinds[i] {
				t.Errorf("%q: %q is time kind %d, want %d", c.headings, c.headings[i], ms[i].Time, c.kinds[i])
			}
		}
	}
	if ms := settled("Inner °C", "Min", "Max"); ms[1].Statistic != Minimum || ms[1].Time != NoTime {
		t.Errorf("Min beside Max became time kind %d", ms[1].Time)
	}
}

func TestSettleNothing(t *testing.T) {
	Settle(nil)
	Settle([]Meaning{{}})
}
