package analyze

import (
	"fmt"

	"ringheat/analyze/curve"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// DeepSettings ask for estimates that run only where they are wanted, because they cost time and answer other
// questions than the verdict's.
type DeepSettings struct {
	Rings    bool     // two coupled rings, probe lag and cooling
	WithinK  float64  // the wait asked for: until the rings are within this difference, K; 0 means 5 K
	ProbeLag *float64 // the probes' time constant where it is known, s
	AmbientC *float64 // temperature of the surroundings, °C; nil: an ambient channel, else the part's start
}

// Deep is what those estimates gave for one cycle. A nil field was not asked for or can't be asked of this part.
type Deep struct {
	AmbientC     float64
	AmbientU     float64 // standard uncertainty, K
	AmbientBasis string

	Rings   *curve.TwoRings
	Wait    *curve.Wait // from switch-off until the rings are within WithinK
	WithinK float64

	LagInner, LagOuter *curve.ProbeLag
	Cooling            *curve.Cooling
	Window             *curve.Window // time left for mounting from switch-off; nil without a needed temperature
}

// check looks for figures that make no sense.
func (s *DeepSettings) check() error {
	for _, f := range []struct {
		flag      string
		v         *float64
		low, high float64
	}{{"--within-k", &s.WithinK, 0, 500}, {"--probe-lag-s", s.ProbeLag, 0, 600}, {"--ambient-c", s.AmbientC, -60, 80}} {
		if f.v != nil && !(*f.v >= f.low && *f.v <= f.high) {
			return fmt.Errorf("%s %v is not between %v and %v", f.flag, *f.v, f.low, f.high)
		}
	}
	return nil
}

// deep runs the estimates that were asked for on one cycle; nil when none was.
func (a *Analyzer) deep(log *series.Log, r *LogResult, c *segment.Cycle, s *Settings) *Deep {
	if !s.Deep.Rings && s.Deep.ProbeLag == nil && s.MountedAt == "" || len(r.Inner) == 0 {
		return nil
	}
	d := &Deep{WithinK: s.Deep.WithinK}
	if d.WithinK <= 0 {
		d.WithinK = 5
	}
	d.surroundings(log, r.Inner[0], c, s)
	equalising := 0.0
	if len(r.Outer) > 0 {
		d.rings(&a.rings, log, r, c)
		if d.Rings.EqualisingS.Known {
			equalising = d.Rings.EqualisingS.Value
		}
	}
	asked := s.Deep.Rings || s.Deep.ProbeLag != nil // a mounting time alone asks for the cooling only
	if asked && c.End.Known && c.RampEnd.Known && c.End.AtS-c.RampEnd.AtS < 2*log.Clock.IntervalS {
		d.LagInner = a.lag(log, r.Inner[0], r.Spikes, c, equalising, s)
		if len(r.Outer) > 0 {
			d.LagOuter = a.lag(log, r.Outer[0], r.Spikes, c, equalising, s)
		}
	}
	if c.End.Known && (r.OneBody || equalising > 0) {
		t, y := samples(log, r.Inner[0], r.Spikes, c.End.Row, c.Rows.End, nil, nil)
		cooling := a.estimator.Cooling(curve.CoolingTrace{
			TimeS: t, TempC: y, SwitchOffS: c.End.AtS, EqualisingS: equalising,
			AmbientC: d.AmbientC, AmbientU: d.AmbientU, StepK: float64(log.Channels[r.Inner[0]].StepK),
		})
		d.Cooling = &cooling
		if s.Judge.NeedTempC != nil {
			w := cooling.Window(*s.Judge.NeedTempC, c.End.AtS)
			d.Window = &w
		}
	}
	return d
}

// startU is the standard uncertainty of the surroundings when the part's start temperature stands in for
// them, K (common practice, no source).
const startU = 3

// surroundings takes the ambient temperature from the user, else from an ambient channel, else from the
// part's temperature at the cycle's first row.
func (d *Deep) surroundings(log *series.Log, inner int, c *segment.Cycle, s *Settings) {
	if s.Deep.AmbientC != nil {
		d.AmbientC, d.AmbientU, d.AmbientBasis = *s.Deep.AmbientC, 1, "as given"
		return
	}
	for _, ch := range log.WithRole(series.Ambient) {
		sum, n := 0.0, 0
		for _, v := range log.Channels[ch].C[c.Rows.First:c.Rows.End] {
			if !series.IsMissing(v) {
				sum, n = sum+v, n+1
			}
		}
		if n > 0 {
			d.AmbientC, d.AmbientU, d.AmbientBasis = sum/float64(n), 1, "mean of the ambient channel"
			return
		}
	}
	for _, v := range log.Channels[inner].C[c.Rows.First:c.Rows.End] {
		if !series.IsMissing(v) {
			d.AmbientC, d.AmbientU, d.AmbientBasis = v, startU, "the part's temperature at the start"
			return
		}
	}
}

// rings fits both rings together, over the rise and what follows switch-off.
func (d *Deep) rings(e *curve.RingsEstimator, log *series.Log, r *LogResult, c *segment.Cycle) {
	in := curve.RingTraces{AmbientC: d.AmbientC, StepK: float64(max(log.Channels[r.Inner[0]].StepK, log.Channels[r.Outer[0]].StepK))}
	first, end := max(c.RiseInner.First, c.RiseOuter.First), max(c.RiseInner.End, c.RiseOuter.End)
	in.TimeS, in.InnerC, in.OuterC = pairs(log, r, first, end)
	if c.End.Known {
		from := c.End.Row
		for from < c.Rows.End && log.TimeS[from] < c.End.AtS+settleS(log, c) {
			from++
		}
		in.AfterTimeS, in.AfterInnerC, in.AfterOuterC = pairs(log, r, from, c.Rows.End)
	}
	rings := e.TwoRings(in)
	d.Rings = &rings
	if !c.End.Known {
		return
	}
	if _, inner, outer := pairs(log, r, c.End.Row, c.Rows.End); len(inner) > 0 {
		w := rings.Wait(inner[0], outer[0], d.AmbientC, d.WithinK)
		d.Wait = &w
	}
}

// settleS is how long after switch-off the readings still follow the heater's delay and the probes' lag and not
// the rings, s: a tenth of the heating, between 10 s and a minute.
func settleS(log *series.Log, c *segment.Cycle) float64 {
	return min(60, max(10, 0.1*(c.End.AtS-log.TimeS[c.Rows.First])))
}

// pairs gives the rows in which both rings were read.
func pairs(log *series.Log, r *LogResult, first, end int) (t, inner, outer []float64) {
	in, out := r.Inner[0], r.Outer[0]
	spikes := [2][]int32{spikesOf(r.Spikes, in), spikesOf(r.Spikes, out)}
	for row := first; row < end; row++ {
		a, b := log.Channels[in].C[row], log.Channels[out].C[row]
		marked := false
		for k := range spikes {
			for len(spikes[k]) > 0 && int(spikes[k][0]) < row {
				spikes[k] = spikes[k][1:]
			}
			marked = marked || len(spikes[k]) > 0 && int(spikes[k][0]) == row
		}
		if !marked && !series.IsMissing(a) && !series.IsMissing(b) {
			t, inner, outer = append(t, log.TimeS[row]), append(inner, a), append(outer, b)
		}
	}
	return t, inner, outer
}

// lag estimates how far a probe lags behind its ring, around switch-off at the end of a rise.
func (a *Analyzer) lag(log *series.Log, ch int, spikes [][]int32, c *segment.Cycle, equalising float64, s *Settings) *curve.ProbeLag {
	end := c.End.Row
	for end < c.Rows.End && log.TimeS[end] < c.End.AtS+max(120, 0.3*(c.End.AtS-log.TimeS[c.RiseInner.First])) {
		end++
	}
	t, y := samples(log, ch, spikes, c.RiseInner.First, end, nil, nil)
	in := curve.LagTrace{
		TimeS: t, TempC: y, SwitchOffS: c.End.AtS, SwitchOffU: 3 * log.Clock.IntervalS, EqualisingS: equalising,
		StepK: float64(log.Channels[ch].StepK),
	}
	if s.Deep.ProbeLag != nil {
		in.GivenS, in.GivenU = *s.Deep.ProbeLag, 0.1**s.Deep.ProbeLag
	}
	lag := curve.EstimateProbeLag(in)
	return &lag
}

func spikesOf(spikes [][]int32, ch int) []int32 {
	if ch < len(spikes) {
		return spikes[ch]
	}
	return nil
}

// samples appends the times and readings of a channel in rows [first, end) to t and y, without samples that
// are missing or marked as spikes.
func samples(log *series.Log, ch int, spikes [][]int32, first, end int, t, y []float64) ([]float64, []float64) {
	marked := spikesOf(spikes, ch)
	for row := first; row < end; row++ {
		for len(marked) > 0 && int(marked[0]) < row {
			marked = marked[1:]
		}
		if v := log.Channels[ch].C[row]; !series.IsMissing(v) && (len(marked) == 0 || int(marked[0]) != row) {
			t, y = append(t, log.TimeS[row]), append(y, v)
		}
	}
	return t, y
}
