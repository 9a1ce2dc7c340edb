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
//   - "Internal" beside another temperature column, with no "external", is the logger's own.
//   - When every temperature column was ruled out as the logger's own or as calculated, those words are taken
//     for a title, and the columns may be probes.
//   - A part of a clock ("Second", "Minute") without other parts is elapsed time in that unit; "Hour" beside other parts is
//     a part.
func Settle(ms []Meaning) {
	settleRoles(ms)
	settleSummaries(ms)
	settleInternal(ms)
	settleParts(ms)
}

func settleRoles(ms []Meaning) {
	var weak, sure [series.SetPoint + 1]int
	for i := range ms {
		if ms[i].NotProbe != MayBeProbe && ms[i].NotProbe != StatisticColumn {
			continue
		}
		if ms[i].Confidence >= Sure {
			sure[ms[i].Role]++
		} else if ms[i].Role != series.NoRole {
			weak[ms[i].Role]++
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
		if other != series.NoRole && sure[m.Role] == 0 && (weak[other] > 0 || sure[other] > 0) {
			m.Confidence = 0.7
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
	if m.Quantity != Temperature {
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
		return
	}
	for i := range ms {
		m := &ms[i]
		if (m.NotProbe == InternalColumn || m.NotProbe == ComputedColumn) && m.Quantity == Temperature && m.Unit != quantity.UnknownUnit {
			m.NotProbe = MayBeProbe
			m.Evidence = m.Reason + "; but the log has no other temperature, so the words may be a title"
			m.Reason = ""
		}
	}
}

func settleParts(ms []Meaning) {
	parts := 0
	for i := range ms {
		if ms[i].Time >= YearPart && ms[i].Time <= SecondPart {
			parts++
		}
	}
	for i := range ms {
		m := &ms[i]
		switch {
		case parts == 1 && m.Time >= DayPart && m.Time <= SecondPart && m.TimeUnitS > 0:
			m.Time = Elapsed
		case parts >= 2 && m.Time == TimeOfDay:
			for j := range ms {
				if ms[j].Time == MinutePart {
					m.Time = HourPart
				}
			}
		}
	}
}
