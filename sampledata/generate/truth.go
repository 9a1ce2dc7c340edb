package generate

import (
	"math"

	"ringheat/sampledata"
)

// Asked is what the run sheet asks of a log, and what must be found under it.
type Asked struct {
	Kind             string
	MaxTempC         float64
	MaxRingDiffK     sampledata.Optional
	NeedTempC        sampledata.Optional
	OverTimeAllowedS float64
	ProbeToleranceK  float64
}

// Cycles gives the truth of every stage that was heated. The expectations are left for the plant's list to fill.
func Cycles(l *Log, m *Made, asked Asked) []sampledata.TruthRow {
	var rows []sampledata.TruthRow
	tr := m.Trace
	seen := len(tr.Air) // steps that the logger saw
	if l.StopAtS > 0 {
		seen = min(seen, int(math.Round(l.StopAtS/StepS)))
	}
	for i := range l.Session.Stages {
		st := &l.Session.Stages[i]
		if st.Heating.PowerW == 0 || st.Body == nil {
			continue
		}
		first, past := tr.StageFirst[i], len(tr.Air)
		if i+1 < len(tr.StageFirst) {
			past = tr.StageFirst[i+1]
		}
		row := cycle(l, tr, st, first, past, min(seen, past), asked)
		row.Cycle = len(rows) + 1
		row.Rows, row.Spikes = m.Rows, m.Spikes
		rows = append(rows, row)
	}
	return rows
}

// StartUpLags is how many time constants of heater and probe together are left out of a rise before its
// shape is told: what lags at the start belongs to the probe, not to the part.
const StartUpLags = 5

func cycle(l *Log, tr *Trace, st *Stage, first, past, seen int, asked Asked) sampledata.TruthRow {
	at := func(i int) float64 { return float64(i) * StepS }
	two := !st.Body.OneBody()
	begin := float64(first) * StepS
	inner, outer := &l.Session.Inner, &l.Session.Outer
	onset := first + int(math.Round(st.Heating.OnAtS/StepS))
	row := sampledata.TruthRow{
		File: l.Name, Kind: asked.Kind, OnsetS: begin + st.Heating.OnAtS,
		StartInnerC:    tr.InnerMetal[onset],
		RateInnerKPerS: st.Body.Inner.PowerShare * st.Heating.PowerW / (st.Body.Inner.MassKg * st.Body.specificHeat(tr.InnerMetal[onset])),
		LagInnerS:      inner.LagS, OffsetInnerK: inner.OffsetK, NoiseInnerK: inner.NoiseK,
		DisplayStepK: l.Dialect.StepK(), IntervalS: l.IntervalS,
		MaxTempC: asked.MaxTempC, MaxRingDiffK: asked.MaxRingDiffK, NeedTempC: asked.NeedTempC,
		OverTimeAllowedS: asked.OverTimeAllowedS, ProbeToleranceK: asked.ProbeToleranceK,
	}
	lastSeen := at(seen)
	if s, known := st.Heating.rampEnd(); known && begin+s <= lastSeen {
		row.RampEndS = sampledata.Some(begin + s)
	}
	if s := st.Heating.end(); begin+s <= lastSeen {
		row.EndS = sampledata.Some(begin + s)
	}

	peak := func(v []float64, p *Probe) (c, s float64) {
		c = math.Inf(-1)
		for i := first; i < seen; i++ {
			if v[i] > c && (p == nil || !p.openAt(at(i))) {
				c, s = v[i], at(i)
			}
		}
		return c, s
	}
	row.PeakMetalInnerC, row.PeakMetalInnerS = peak(tr.InnerMetal, nil)
	row.PeakShownInnerC, row.PeakShownInnerS = peak(tr.InnerShown, inner)
	highest := row.PeakMetalInnerC
	if two {
		row.StartOuterC = sampledata.Some(tr.OuterMetal[onset])
		row.RateOuterKPerS = sampledata.Some(st.Body.Outer.PowerShare * st.Heating.PowerW / (st.Body.Outer.MassKg * st.Body.specificHeat(tr.OuterMetal[onset])))
		c, s := peak(tr.OuterMetal, nil)
		row.PeakMetalOuterC, row.PeakMetalOuterS = sampledata.Some(c), sampledata.Some(s)
		highest = max(highest, c)
		c, s = peak(tr.OuterShown, outer)
		row.PeakShownOuterC, row.PeakShownOuterS = sampledata.Some(c), sampledata.Some(s)
		row.LagOuterS, row.OffsetOuterK, row.NoiseOuterK = sampledata.Some(outer.LagS), sampledata.Some(outer.OffsetK), sampledata.Some(outer.NoiseK)
	}

	overMetal, overShown := 0, 0
	diffMetal, diffShown := 0.0, 0.0
	unseen := highest
	for i := first; i < past; i++ {
		if i >= seen {
			unseen = max(unseen, tr.InnerMetal[i])
			if two {
				unseen = max(unseen, tr.OuterMetal[i])
			}
			continue
		}
		innerThere, outerThere := !inner.openAt(at(i)), two && !outer.openAt(at(i))
		if tr.InnerMetal[i] > asked.MaxTempC || two && tr.OuterMetal[i] > asked.MaxTempC {
			overMetal++
		}
		if innerThere && tr.InnerShown[i] > asked.MaxTempC || outerThere && tr.OuterShown[i] > asked.MaxTempC {
			overShown++
		}
		if two {
			if d := tr.InnerMetal[i] - tr.OuterMetal[i]; math.Abs(d) > math.Abs(diffMetal) {
				diffMetal = d
				row.DiffMetalS, row.DiffMetalHotter = sampledata.Some(at(i)), hotter(d)
			}
			if d := tr.InnerShown[i] - tr.OuterShown[i]; innerThere && outerThere && math.Abs(d) > math.Abs(diffShown) {
				diffShown = d
				row.DiffShownS, row.DiffShownHotter = sampledata.Some(at(i)), hotter(d)
			}
		}
	}
	row.OverLimitMetalS, row.OverLimitShownS = float64(overMetal)*StepS, float64(overShown)*StepS
	if two {
		row.DiffMetalK, row.DiffShownK = sampledata.Some(math.Abs(diffMetal)), sampledata.Some(math.Abs(diffShown))
	}
	if unseen > highest {
		row.UnseenPeakC = sampledata.Some(unseen)
	}

	riseEnd := seen
	switch {
	case row.RampEndS.Known:
		riseEnd = int(math.Round(row.RampEndS.Value / StepS))
	case row.EndS.Known:
		riseEnd = int(math.Round(row.EndS.Value / StepS))
	}
	settled := func(p *Probe) int { // past the start-up lag
		return onset + int(math.Round(StartUpLags*(p.LagS+st.Heating.LagS)/StepS))
	}
	row.MisfitK = Misfit(tr.InnerShown[settled(inner):riseEnd])
	if two {
		row.MisfitOuter = sampledata.Some(Misfit(tr.OuterShown[settled(outer):riseEnd]))
	}
	rise := tr.InnerShown[riseEnd-1] - tr.InnerShown[onset]
	row.Rise = "first-order"
	if row.MisfitK > max(0.005*rise, row.DisplayStepK) {
		row.Rise = "not-first-order"
	}
	return row
}

func hotter(innerMinusOuter float64) string {
	if innerMinusOuter < 0 {
		return "outer"
	}
	return "inner"
}
