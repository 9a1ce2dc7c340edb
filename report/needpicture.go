package report

import (
	"fmt"

	"ringheat/analyze"
	"ringheat/analyze/joint"
	"ringheat/analyze/judge"
	"ringheat/report/chart"
)

// NeedPicture arranges an answer for drawing: the needed temperature over the temperature of the shaft. version names the
// program in the picture's foot.
func NeedPicture(a *analyze.NeedAnswer, version string) chart.NeedChart {
	n := &a.Need
	d := NewNeedDocument(a)
	p := chart.NeedChart{
		Title:       []string{"What the seat needs: " + d.Title},
		Verdict:     judge.Pass,
		Answer:      "no warming needed",
		AcrossLabel: "temperature of the shaft",
		Footer:      []string{ShortCaution, "ringheat " + version + ", need"},
	}
	switch {
	case n.Feasibility == joint.NoWarming:
	case !d.Possible:
		p.Verdict, p.Answer = judge.Fail, "not by warming alone"
	case n.SetPointC != nil:
		p.Answer = "set " + degrees(float64(*n.SetPointC))
	}
	p.Title = append(p.Title, fmt.Sprintf("interference %s to %s µm, ease %s µm (%s)", figure(n.Interference.MinUM), figure(n.Interference.MaxUM), figure(n.EaseUM), n.EaseBasis))
	if n.Interference.MinUM == n.Interference.MaxUM {
		p.Title[1] = fmt.Sprintf("interference %s µm, ease %s µm (%s)", figure(n.Interference.MaxUM), figure(n.EaseUM), n.EaseBasis)
	}
	p.Reasons = append(p.Reasons, sentenceText(n.Words))
	if c := a.Clearance; c != nil {
		p.Reasons = append(p.Reasons, sentenceText("evenness: "+c.StricterWords))
	}
	for j, um := range a.InterferenceUM {
		l := chart.NeedLine{Label: figure(um) + " µm", Main: j == a.Own}
		for i := range a.ShaftC {
			l.ShaftC = append(l.ShaftC, a.ShaftC[i])
			l.NeededC = append(l.NeededC, float64(a.Table[i][j].NeededC))
		}
		if l.Main {
			l.BandK = joint.CoverageFactor * n.StdK
		}
		p.Lines = append(p.Lines, l)
	}
	p.Levels = append(p.Levels, chart.Level{Kind: chart.ToleranceLimit, C: a.LimitC, Label: "limit " + degrees(a.LimitC)})
	if n.HighestC != nil && n.Feasibility != joint.NoWarming {
		p.Levels = append(p.Levels, chart.Level{Kind: chart.AcceptanceLimit, C: float64(*n.HighestC), Label: "set at most " + down(float64(*n.HighestC)) + " °C"})
	}
	if n.SetPointC != nil && n.Feasibility != joint.NoWarming {
		p.Levels = append(p.Levels, chart.Level{Kind: chart.SetPointLevel, C: float64(*n.SetPointC), Label: "set-point " + degrees(float64(*n.SetPointC))})
	}
	p.Point = &chart.NeedPoint{ShaftC: float64(a.Seat.ShaftC), NeededC: float64(n.NeededC),
		Label: fmt.Sprintf("this joint: %s °C with the shaft at %s", up(float64(n.NeededC)), degrees(float64(a.Seat.ShaftC)))}
	return p
}
