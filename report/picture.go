package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ringheat/analyze"
	"ringheat/analyze/curve"
	"ringheat/analyze/judge"
	"ringheat/analyze/quantity"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
	"ringheat/report/chart"
)

// Picture arranges one cycle of a log for drawing. version names the program in the picture's foot.
func Picture(r *analyze.LogResult, i int, version string) chart.CycleChart {
	c := &r.Cycles[i]
	j := &c.Judgement
	first, end := shownRows(r.Log, c)
	p := chart.CycleChart{
		Verdict:   j.Verdict,
		Scope:     strings.TrimPrefix(strings.TrimPrefix(phrase(j), Word(j.Verdict)), " "),
		TimeLabel: "time since the log's first row",
	}
	p.Title = append(p.Title, Plain(r.Name))
	p.Title = append(p.Title, joined(", ", fmt.Sprintf("cycle %d of %d", i+1, len(r.Cycles)), labelled("part", r.Part), labelled("support", r.Support), startWords(r.Log)))
	p.Reasons = pictureReasons(j)

	ring := [2]string{"inner ring", "outer ring"}
	if r.OneBody {
		ring[0] = "part"
	}
	for k, channels := range [][]int{r.Inner, r.Outer} {
		for _, ch := range channels {
			p.Traces = append(p.Traces, trace(r, ch, first, end, ring[k]))
		}
	}
	if len(r.Inner) > 0 {
		p.Curves = appendCurve(p.Curves, series.Inner, &c.Inner, ring[0])
	}
	if len(r.Outer) > 0 {
		p.Curves = appendCurve(p.Curves, series.Outer, &c.Outer, ring[1])
	}
	if f := j.Finding(judge.MaxTemp); f != nil && f.Limit != nil {
		p.Levels = append(p.Levels, chart.Level{Kind: chart.ToleranceLimit, C: *f.Limit, Label: "limit " + degrees(*f.Limit)})
		if f.Acceptance != nil && *f.Acceptance < *f.Limit {
			p.Levels = append(p.Levels, chart.Level{Kind: chart.AcceptanceLimit, C: *f.Acceptance, Label: "pass to " + degrees(*f.Acceptance)})
		}
	}
	if f := j.Finding(judge.NeedTemp); f != nil && f.Limit != nil {
		p.Levels = append(p.Levels, chart.Level{Kind: chart.NeededTemp, C: *f.Limit, Label: "needed " + degrees(*f.Limit)})
	}
	p.Moments = appendMoment(p.Moments, c.Segment.Onset, "onset")
	if !c.Segment.End.Known || c.Segment.RampEnd.Known && c.Segment.End.AtS-c.Segment.RampEnd.AtS > 1 {
		p.Moments = appendMoment(p.Moments, c.Segment.RampEnd, "end of rise")
	}
	p.Moments = appendMoment(p.Moments, c.Segment.End, "end of heating")

	switch {
	case r.OneBody:
		p.DiffNote = "one body: no difference between rings to judge"
	case len(r.Inner) == 0 || len(r.Outer) == 0:
		p.DiffNote = "no difference: only one ring was measured"
	default:
		p.Diff = difference(r, j, first, end)
	}
	p.Footer = append(p.Footer, ShortCaution)
	id := "ringheat " + version
	if len(r.SHA256) >= 16 {
		id += "; log SHA-256 begins " + r.SHA256[:16]
	}
	if j.Rule != "" {
		id += "; decision rule " + string(j.Rule)
	}
	p.Footer = append(p.Footer, id)
	return p
}

// shownRows gives the rows of a picture: those of the cycle, without a long idle time before the onset
// or after the part has cooled for four times as long as it was heated.
func shownRows(l *series.Log, c *analyze.Cycle) (first, end int) {
	first, end = max(0, c.Segment.Rows.First), min(c.Segment.Rows.End, l.Len())
	if first >= end {
		return 0, l.Len()
	}
	s := &c.Segment
	if !s.Onset.Known || !s.End.Known {
		return first, end
	}
	heated := math.Max(s.End.AtS-s.Onset.AtS, 1)
	for first+1 < end && l.TimeS[first] < s.Onset.AtS-heated/4 {
		first++
	}
	for end-1 > first && l.TimeS[end-1] > s.End.AtS+4*heated {
		end--
	}
	return first, end
}

func trace(r *analyze.LogResult, ch, first, end int, ring string) chart.Trace {
	c := &r.Log.Channels[ch]
	return chart.Trace{
		Name: ring + ": " + Plain(c.Name) + byOrder(c), Role: c.Role, TimeS: r.Log.TimeS[first:end], C: c.C[first:end],
		Spikes: spikesWithin(r, ch, first, end),
	}
}

// byOrder says where nothing but the order of the columns gave a probe its ring.
func byOrder(c *series.Channel) string {
	if c.RoleSource == series.ByOrder {
		return " (taken so by its order)"
	}
	return ""
}

// spikesWithin lists the spikes of a channel in rows [first, end), counted from first.
func spikesWithin(r *analyze.LogResult, ch, first, end int) []int32 {
	var list []int32
	if ch < len(r.Spikes) {
		for _, row := range r.Spikes[ch] {
			if int(row) >= first && int(row) < end {
				list = append(list, row-int32(first))
			}
		}
	}
	return list
}

func appendCurve(list []chart.Curve, role series.Role, e *curve.FirstOrder, ring string) []chart.Curve {
	if e.Status == curve.NoRise || !e.StartC.Known || !e.RateKPerS.Known {
		return list
	}
	return append(list, chart.Curve{
		Role: role, FromS: e.T0S, ToS: e.EndS, T0S: e.T0S, StartC: e.StartC.Value,
		RateKPerS: e.RateKPerS.Value, DecayPerS: e.DecayPerS.Value, Text: ring + ": " + shortCurve(e),
	})
}

// shortCurve is the numbers of a curve's formula for a legend.
func shortCurve(e *curve.FirstOrder) string {
	s := "fitted from " + quantity.FormatDecimals(e.StartC.Value, 1) + " °C, " + quantity.Format(e.RateKPerS.Value*60, e.RateKPerS.StdErr*60) + " K/min"
	switch e.Status {
	case curve.Determined:
		s += ", time constant " + quantity.Format(e.TimeConstantS.Value, e.TimeConstantS.StdErr) + " s" + span(e.TimeConstantS.CI, e.TimeConstantS.StdErr, 1, " s")
		if e.FinalC.Known {
			s += ", final " + quantity.Format(e.FinalC.Value, e.FinalC.StdErr) + " °C"
		}
	case curve.Undetermined:
		s += ", time constant not determined"
	case curve.NotFirstOrder:
		s += ", not first order"
	}
	return s
}

func appendMoment(list []chart.Moment, m segment.Moment, label string) []chart.Moment {
	if !m.Known {
		return list
	}
	return append(list, chart.Moment{AtS: m.AtS, Label: label})
}

// difference is the trace of the second panel: inner minus outer, of the roles' first channels.
func difference(r *analyze.LogResult, j *judge.CycleJudgement, first, end int) *chart.Diff {
	in, out := &r.Log.Channels[r.Inner[0]], &r.Log.Channels[r.Outer[0]]
	k := make([]float64, end-first)
	for i := range k {
		k[i] = in.C[first+i] - out.C[first+i]
	}
	d := &chart.Diff{Label: "inner − outer, K", TimeS: r.Log.TimeS[first:end], K: k}
	for _, ch := range []int{r.Inner[0], r.Outer[0]} {
		d.Spikes = append(d.Spikes, spikesWithin(r, ch, first, end)...)
	}
	slices.Sort(d.Spikes)
	d.Spikes = slices.Compact(d.Spikes)
	if f := j.Finding(judge.RingDiff); f != nil && f.Limit != nil {
		d.LimitK = *f.Limit
		d.LimitLabel = "limit " + quantity.FormatDecimals(*f.Limit, trimmed(*f.Limit)) + " K"
	}
	return d
}

// pictureReasons lists the verdict's reason first, then the other checks' answers, worst first. The reason
// of a PASS is made of the checks' answers, so it is left out.
func pictureReasons(j *judge.CycleJudgement) []string {
	var reasons []string
	if j.Verdict != judge.Pass {
		reasons = append(reasons, sentenceText(j.Reason))
	}
	for _, v := range []judge.Verdict{judge.Fail, judge.Unproven, judge.Pass} {
		for i := range j.Findings {
			f := &j.Findings[i]
			if f.Verdict == v && f.Reason != j.Reason && f.Check != judge.Record {
				reasons = append(reasons, sentenceText(f.Reason))
			}
		}
	}
	return reasons
}

func degrees(c float64) string { return quantity.FormatDecimals(c, trimmed(c)) + " °C" }

// trimmed is the decimals of a figure that was set and not measured: none for a whole number, else one.
func trimmed(v float64) int {
	if v == math.Trunc(v) {
		return 0
	}
	return 1
}

func labelled(label, text string) string {
	if text == "" {
		return ""
	}
	return label + " " + Plain(text)
}

func startWords(l *series.Log) string {
	if l.Clock.Start.IsZero() {
		return ""
	}
	return "started " + l.Clock.Start.Format("2006-01-02 15:04:05")
}

func joined(sep string, parts ...string) string {
	var some []string
	for _, p := range parts {
		if p != "" {
			some = append(some, p)
		}
	}
	return strings.Join(some, sep)
}
