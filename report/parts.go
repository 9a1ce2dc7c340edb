package report

import (
	"fmt"
	"io"

	"ringheat/analyze"
	"ringheat/analyze/judge"
	"ringheat/analyze/parts"
)

// PartSheet is a part of a parts list with what is found for it.
type PartSheet struct {
	Part           *parts.Part
	Limits         judge.PartLimits    // of its classes
	Need           *analyze.NeedAnswer // nil: no seat is told
	ClearanceDiffK *float64            // nil: no internal clearance is told, or it gives no limit
	ClearanceWords []string
}

// WriteParts writes a parts list as it was understood, for people.
func WriteParts(w io.Writer, name string, sheets []PartSheet, o TextOptions) error {
	t := newTextWriter(w, o)
	t.wrapped("", fmt.Sprintf("%s in %s, each as a check or a need would take it", plural(len(sheets), "part"), Plain(name)))
	for i := range sheets {
		s := &sheets[i]
		p := s.Part
		t.w.WriteByte('\n')
		t.wrapped("", joined("  ", Plain(p.Name), Plain(p.Description)))
		t.labelled(s.lines())
	}
	t.w.WriteString("\ncautions:\n" + CautionText())
	return t.w.Flush()
}

func (s *PartSheet) lines() []Line {
	p := s.Part
	var lines []Line
	add := func(label, format string, args ...any) {
		lines = append(lines, Line{label, sentenceText(fmt.Sprintf(format, args...))})
	}
	size := func(label string, v *float64, unit string) string {
		if v == nil {
			return ""
		}
		return label + " " + figure(*v) + " " + unit
	}
	add("part", "%s", joined(", ", string(p.Kind), "class "+Plain(p.Classes()), size("bore", p.BoreMM, "mm"), size("outside diameter", p.OutsideMM, "mm"),
		size("width", p.WidthMM, "mm"), size("mass", p.MassKG, "kg")))
	switch {
	case s.Need != nil:
		n := &s.Need.Need
		add("seat", "%s: up to %s µm; ease %s µm (%s)", n.Interference.Basis, figure(n.Interference.MaxUM), figure(n.EaseUM), n.EaseBasis)
		add("needed", "%s", n.Words)
	case p.NeedTempC != nil:
		add("needed", "%s, as given", degrees(*p.NeedTempC))
	default:
		add("needed", "not known: no seat and no needed temperature")
	}
	m := s.Limits.MaxTemp
	if p.MaxTempC != nil {
		source := "as given"
		if p.MaxTempSource != "" {
			source = Plain(p.MaxTempSource)
		}
		add("limit", "%s, %s; the limits table has %s for class %s", degrees(*p.MaxTempC), source, degrees(m.Value), s.Limits.MaxTempClass)
	} else {
		add("limit", "%s, class %s: %s (%s)", degrees(m.Value), s.Limits.MaxTempClass, m.Source, m.Confidence)
	}
	if p.OverTimeAllowedS != nil {
		ceiling, source := s.Limits.OverCeiling.Value, "from the limits table"
		if p.OverCeilingK != nil {
			ceiling, source = *p.OverCeilingK, "as given"
		}
		add("allowance", "%s s above the limit, up to %s K above it (%s)", figure(*p.OverTimeAllowedS), figure(ceiling), source)
	}
	if p.Kind.TwoRings() {
		d := s.Limits.MaxRingDiff
		if p.MaxRingDiffK != nil {
			add("evenness", "%s K between the rings, as given", figure(*p.MaxRingDiffK))
		} else {
			add("evenness", "%s K between the rings, class %s: %s (%s)", figure(d.Value), s.Limits.MaxRingDiffClass, d.Source, d.Confidence)
		}
		for _, words := range s.ClearanceWords {
			add("clearance", "%s", words)
		}
	}
	if p.MaxRateKPerMin != nil {
		add("rate", "at most %s K/min (%s): a faster rise is noted, not judged", figure(*p.MaxRateKPerMin), p.MaxRateSource)
	}
	if p.HoldMin != nil {
		add("hold", "%s min at temperature (%s): printed, not judged", figure(*p.HoldMin), p.HoldSource)
	}
	if p.Note != "" {
		add("note", "%s", p.Note)
	}
	return lines
}
