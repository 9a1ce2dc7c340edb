package heading

import (
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// Settle settles, over all headings of one log, what a single heading leaves open. It changes the Meanings in place:
//
//   - A role below Sure ("IR", "outside", "AE") is raised to 0.7 when its counterpart stands in the log, and no surer
//     column claims it; otherwise it is taken away, and Evidence says so.
//   - A summary column becomes a probe again where the log holds no readings of that probe: of min, average and max the
//     average, else the only one there is.
//   - "High" or "low" beside the readings of the same probe is a summary; a measured value ("PV") beside a set point is a temperature.
//   - "Internal" beside another temperature column, with no "external", is the logger's own.
//   - When every temperature column was ruled out as the logger's own or as calculated, those words are taken
//     for a title, and the columns may be probes; not a calculated column that names a ring.
//   - A part of a clock ("Second", "Minute") without other parts is elapsed time in that unit; "Hour" beside other parts is
//     a part.
func Settle(ms []Meaning) {
	settleRoles(ms)
	settleSummaries(ms)
	settleInternal(ms)
	settleParts(ms)
}

func settleRoles(ms []Meaning) {
	var weak, sure, plain [series.SetPoint + 1]int // plain: named by an adjective or less, not by its ring
	for i := range ms {
		if ms[i].NotProbe != MayBeProbe && ms[i].NotProbe != StatisticColumn {
			continue
		}
		if ms[i].Confidence >= Sure {
			sure[ms[i].Role]++
		} else if ms[i].Role != series.NoRole {
			weak[ms[i].Role]++
		}
		if ms[i].Confidence <= 0.85 {
			plain[ms[i].Role]++
		}
	}
	for i := range ms {
		m := &ms[i]
		if m.Role == series.NoRole || m.Role == series.SetPoint || m.Confidence >= Sure {
			continue
		}
		other := series.NoRole
		switch m.Role {
		case series.Inner:
			other = series.Outer
		case series.Outer:
			other = series.Inner
		}
		if other != series.NoRole && sure[m.Role] == 0 && (plain[other] > 0 || sure[other] > 0 && !m.outside) {
			m.Confidence = 0.7
			continue
		}
		if m.outside && m.Role == series.Outer && sure[series.Outer] > 0 && sure[series.Ambient] == 0 {
			m.Role, m.Confidence = series.Ambient, Sure
			m.Evidence = `"` + m.RoleWords + `" beside an outer ring names the air outside`
			continue
		}
		if m.Role == series.Ambient && (weak[series.Inner] > 0 || sure[series.Inner] > 0) && (weak[series.Outer] > 0 || sure[series.Outer] > 0) && sure[series.Ambient] == 0 {
			m.Confidence = 0.7 // T_i, T_o, T_a
			continue
		}
		m.Evidence = `"` + m.RoleWords + `" could name the ` + m.Role.String() + ` role, but nothing beside it bears that out`
		if m.UnitText != "" {
			m.Evidence += ", unit " + m.UnitText
		}
		m.Role, m.RoleWords = series.NoRole, ""
		m.Confidence = 0.5
	}
}

func settleSummaries(ms []Meaning) {
	setPoint := false
	for i := range ms {
		setPoint = setPoint || ms[i].NotProbe == SetPointColumn
	}
	for i := range ms {
		m := &ms[i]
		if m.actual && setPoint && (m.Quantity == Value || m.Quantity == Name) { // "PV" beside "SV"
			m.Quantity, m.Confidence = Temperature, 0.5
			m.Evidence = "the measured value beside a set point"
		}
		if m.extreme == NoStatistic {
			continue
		}
		for j := range ms {
			o := &ms[j]
			if j != i && o.IsProbe() && o.extreme == NoStatistic && o.Statistic == NoStatistic && o.Stem == m.Stem && o.Role == m.Role {
				m.Statistic, m.NotProbe = m.extreme, StatisticColumn
				m.Reason = "a highest or lowest value beside the readings themselves"
				m.Evidence = m.Reason
				break
			}
		}
	}
	probes := 0
	for i := range ms {
		if ms[i].IsProbe() {
			probes++
		}
	}
	for i := range ms {
		m := &ms[i]
		if m.NotProbe != StatisticColumn || m.Statistic == StandardDeviation || m.Statistic == Range {
			continue
		}
		if m.Stem == "" && m.Role == series.NoRole && probes > 0 {
			continue // a summary over the other probes
		}
		better := false
		for j := range ms {
			o := &ms[j]
			if j == i || o.Role != m.Role || o.Role == series.NoRole && o.Stem != m.Stem {
				continue
			}
			if o.IsProbe() && o.Statistic == NoStatistic || rank(o) > rank(m) || rank(o) == rank(m) && rank(m) > 0 && j < i && o.Statistic != m.Statistic {
				better = true
				break
			}
		}
		if !better {
			m.NotProbe = MayBeProbe
			m.Evidence = m.Reason + ", and no other column holds its readings"
			m.Reason = ""
		}
	}
}

// rank orders the summaries by how well they stand for the readings.
func rank(m *Meaning) int {
	if m.Quantity != Temperature && m.Quantity != Value {
		return 0
	}
	switch m.Statistic {
	case Average:
		return 3
	case Maximum:
		return 2
	case Minimum:
		return 1
	}
	return 0
}

func settleInternal(ms []Meaning) {
	probes := 0
	for i := range ms {
		if ms[i].IsProbe() {
			probes++
		}
	}
	if probes > 0 {
		for i := range ms {
			m := &ms[i]
			if m.internal && m.Role == series.NoRole && m.NotProbe == MayBeProbe && probes > 1 {
				m.NotProbe, m.Reason = InternalColumn, "\"internal\" beside other temperatures names the logger's own"
				m.Evidence = m.Reason
			}
		}
		return
	}
	for i := range ms {
		m := &ms[i]
		if (m.NotProbe == InternalColumn || m.NotProbe == ComputedColumn && m.Role == series.NoRole) && m.Quantity == Temperature && m.Unit != quantity.UnknownUnit {
			m.NotProbe = MayBeProbe
			m.Evidence = m.Reason + "; but the log has no other temperature, so the words may be a title"
			m.Reason = ""
		}
	}
}

// part gives the part of a date or clock that a short heading can stand for; month says that the "m" before the hours is meant.
func part(short string, month bool) TimeKind {
	switch short {
	case "y", "yr", "yy", "yyyy":
		return YearPart
	case "d", "dd", "dy":
		return DayPart
	case "h", "hh", "hr", "std":
		return HourPart
	case "s", "ss", "sec", "sek":
		return SecondPart
	case "mo", "mon":
		return MonthPart
	case "mi", "mn", "min":
		return MinutePart
	case "m", "mm":
		if month {
			return MonthPart
		}
		return MinutePart
	}
	return NoTime
}

func settleParts(ms []Meaning) {
	count := 0
	for i := range ms {
		if isPart(ms[i].Time) || part(ms[i].short, true) != NoTime {
			count++
		}
	}
	hours := false
	for i := range ms {
		m := &ms[i]
		switch {
		case count == 1 && m.Time >= DayPart && m.Time <= SecondPart && m.TimeUnitS > 0:
			m.Time = Elapsed
		case count < 3:
		case m.Time == TimeOfDay:
			for j := range ms {
				if ms[j].Time == MinutePart || part(ms[j].short, false) == MinutePart {
					m.Time = HourPart
				}
			}
		case m.Quantity != Temperature || m.Statistic != NoStatistic:
			if k := part(m.short, !hours); k != NoTime && m.Unit == quantity.UnknownUnit {
				m.Quantity, m.Time, m.Statistic, m.NotProbe, m.Reason = Time, k, NoStatistic, MayBeProbe, ""
				m.UnitText, m.UnitPlace, m.Confidence = "", NoPlace, 0.8
				m.Evidence = "the heading names a part of the date or time, as its neighbours do"
			}
		}
		hours = hours || m.Time == HourPart
	}
}

func isPart(k TimeKind) bool { return k >= YearPart && k <= SecondPart }
