package judge

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringheat/analyze/curve"
	"ringheat/analyze/quantity"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// bench is a made-up warming: both rings from 20 °C in straight ramps to their tops at heatS, a hold
// until offS, then slow cooling. Tests bend it from there.
type bench struct {
	every          float64
	heatS, offS    float64
	endS           float64
	innerC, outerC float64 // tops
	coolKPerS      float64
	step           float64
	noise          float64
	seed           uint64
	oneProbe       bool
	source         series.Source

	shiftS float64
	spoil  func(l *series.Log, c *Case) // last touch
}

func defaultBench() bench {
	return bench{every: 1, heatS: 300, offS: 300, endS: 600, innerC: 100, outerC: 90, coolKPerS: 0.05, step: 0.1, source: series.ByHeading}
}

func (b bench) trace(t, top float64) float64 {
	switch {
	case t < b.heatS:
		return 20 + (top-20)*t/b.heatS
	case t <= b.offS:
		return top
	}
	return math.Max(20, top-b.coolKPerS*(t-b.offS))
}

func (b bench) build() Case {
	l := &series.Log{Name: "bench", Clock: series.Clock{IntervalS: b.every, TimeOfDayS: -1}}
	n := int(b.endS/b.every) + 1
	rng := rand.New(rand.NewPCG(b.seed, 1))
	channel := func(name string, role series.Role, top float64) series.Channel {
		ch := series.Channel{Name: name, Column: len(l.Channels) + 2, Role: role, RoleSource: b.source,
			Unit: quantity.DegreeCelsius, C: make([]float64, n), Valid: n, StepK: quantity.Kelvin(b.step)}
		for i := range ch.C {
			v := b.trace(float64(i)*b.every, top) + b.noise*rng.NormFloat64()
			if b.step > 0 {
				v = inSteps(v, b.step)
				if b.step > coarsestStepK {
					v = math.Round(v/b.step) * b.step
				}
			}
			ch.C[i] = v
		}
		return ch
	}
	for i := range n {
		l.TimeS = append(l.TimeS, float64(i)*b.every+b.shiftS)
	}
	l.Channels = append(l.Channels, channel("TC1", series.Inner, b.innerC))
	c := Case{Log: l, Inner: []int{0}}
	if !b.oneProbe {
		l.Channels = append(l.Channels, channel("TC2", series.Outer, b.outerC))
		c.Outer = []int{1}
	}
	row := func(t float64) int { return int(t / b.every) }
	end := segment.Moment{Row: row(b.offS), AtS: b.offS + b.shiftS, Known: b.offS <= b.endS}
	rampEnd := segment.Moment{Row: row(b.heatS), AtS: b.heatS + b.shiftS, Known: b.heatS <= b.endS}
	c.Cycle = segment.Cycle{Rows: segment.Window{First: 0, End: n},
		Onset: segment.Moment{Row: 0, AtS: b.shiftS, Known: true}, RampEnd: rampEnd, End: end}
	if b.offS > b.heatS {
		c.Cycle.Phases = []segment.Phase{{Kind: segment.Hold, First: row(b.heatS), End: min(row(b.offS), n), FromS: b.heatS + b.shiftS, ToS: b.offS + b.shiftS}}
	}
	c.Local = &curve.Estimator{}
	if b.spoil != nil {
		b.spoil(l, &c)
	}
	return c
}

// missing takes the readings of a channel away between two times.
func missing(l *series.Log, ch int, fromS, toS float64) {
	for i, t := range l.TimeS {
		if t >= fromS && t <= toS {
			l.Channels[ch].C[i] = series.Missing()
		}
	}
}

func defect(c *Case, kind segment.DefectKind, channel int, fromS, toS float64) {
	row := func(t float64) int {
		for i, at := range c.Log.TimeS {
			if at >= t {
				return i
			}
		}
		return c.Log.Len()
	}
	c.Cycle.Defects = append(c.Cycle.Defects, segment.Defect{Kind: kind, Channel: channel,
		First: row(fromS), End: row(toS) + 1, FromS: fromS, ToS: toS, Message: string(kind)})
}

// num makes a setting of a number.
func num(v float64) *float64 { return &v }

// tight is a probe so good that its tolerance hardly counts.
var tight = num(0.2)

func verdicts(j CycleJudgement) string {
	s := ""
	for _, f := range j.Findings {
		s += string(f.Check) + "=" + f.Verdict.String() + " "
	}
	return s + "-> " + j.Verdict.String()
}

func mustCheck(t *testing.T, s Settings) Settings {
	t.Helper()
	if err := s.Check(); err != nil {
		t.Fatalf("settings refused: %v", err)
	}
	return s
}
