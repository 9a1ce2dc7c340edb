package ingest

import (
	"fmt"

	"ringheat/analyze/ingest/clock"
	"ringheat/analyze/series"
)

// steepest keeps the fastest sustained rise of all probes.
type steepest struct {
	kPerMin float64
	name    string
	t, v    []float64
}

// A rise over steepestK or more counts as sustained; faster than fastestKPerMin is no usual warming, slower than
// slowestKPerMin no warming at all (common practice, no source: induction heaters are run at a few tens of K/min).
const (
	steepestK      = 25.0
	fastestKPerMin = 100.0
	slowestKPerMin = 0.5
)

// add looks at one channel's rows: the shortest time in which the median of three readings rises by steepestK.
func (s *steepest) add(ch *series.Channel, timeS, values []float64) {
	if ch.Role == series.SetPoint || ch.Role == series.Ambient || ch.UnitDoubtful && len(values) > 0 && values[0] > 100 {
		return // the last: tenths of a degree would rise too fast as well
	}
	t, v := s.t[:0], s.v[:0]
	from := 0
	var a, b float64 // the two readings before
	n := 0
	for k, x := range values {
		if series.IsMissing(x) {
			continue
		}
		if n++; n > 2 {
			t = append(t, timeS[k])
			v = append(v, max(min(a, b), min(max(a, b), x)))
			last := len(v) - 1
			for from < last && v[from+1] <= v[last]-steepestK {
				from++ // the latest reading that is this much lower
			}
			for from < last && v[from] >= v[from+1] {
				from++
			}
			if rise, took := v[last]-v[from], t[last]-t[from]; rise >= steepestK && took > 0 && rise/took*60 > s.kPerMin {
				s.kPerMin, s.name = rise/took*60, ch.Name
			}
		}
		a, b = b, x
	}
	s.t, s.v = t, v
}

// doubtTimeUnit notices a time without a unit whose figures, as seconds, make the part warm faster than parts do, and as
// minutes do not.
func (r *Reader) doubtTimeUnit(out clock.Outcome) {
	c := &r.log.Clock
	if out.Plan.UnitAsked() {
		c.UnitDoubtful = true
		return
	}
	if out.Kind != clock.Elapsed || !out.Plan.UnitTaken() || len(r.plan.time.columns) != 1 {
		return
	}
	if s := &r.steepest; s.kPerMin > fastestKPerMin && s.kPerMin/60 > slowestKPerMin {
		c.UnitDoubtful = true
		col := r.plan.time.columns[0]
		p := &r.planner
		p.ask(fmt.Sprintf("the unit of the time in column %d is not settled: as seconds %q would rise by %.0f K/min, as minutes by %.1f K/min; taken as seconds; --interval-s settles it (%g for minutes, %g for seconds), or a heading such as time_min or time_s",
			col+1, s.name, s.kPerMin, s.kPerMin/60, c.IntervalS*60, c.IntervalS))
	}
}
