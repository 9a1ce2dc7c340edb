package judge

import (
	"fmt"
	"math"

	"ringheat/analyze/quantity"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// slopeReadings is how many readings on one side of a hole say which way a ring was going there.
const slopeReadings = 60

// course is a straight line through the readings on one side of a hole.
type course struct {
	slope, se float64 // K/s
	spanS     float64
	n         int
}

// falls says whether the line falls by more than its noise and the display can explain.
func (c course) falls(stepK float64) bool {
	return c.n >= fewest && -c.slope > 2.5*c.se && -c.slope*c.spanS > stepK
}

// atLeastFalling is the fall that is sure, K/s; 0 where none is.
func (c course) atLeastFalling() float64 {
	if c.n < fewest {
		return 0
	}
	return math.Max(0, -c.slope-2*c.se)
}

// courseFrom draws the line through the readings from row i on, forwards (dir 1) or backwards (dir -1), up to
// the next hole. Backwards it stops at the end of heating.
func (sc *scene) courseFrom(t *trace, i, dir int) course {
	var st, sy, stt, sty, syy float64
	at0, y0, prev, n := sc.axis[i], t.c[i], sc.axis[i], 0
	for ; i >= 0 && i < len(t.c) && n < slopeReadings; i += dir {
		if series.IsMissing(t.c[i]) {
			continue
		}
		if math.Abs(sc.axis[i]-prev) > t.bridgeS() || dir < 0 && sc.axis[i] < sc.heatEndS {
			break
		}
		prev = sc.axis[i]
		dt, v := sc.axis[i]-at0, t.c[i]-y0
		st, sy, stt, sty, syy = st+dt, sy+v, stt+dt*dt, sty+dt*v, syy+v*v
		n++
	}
	out := course{n: n, spanS: math.Abs(prev - at0)}
	m := float64(n)
	sxx := stt - st*st/m
	if n < 3 || !(sxx > 0) {
		return course{}
	}
	out.slope = (sty - st*sy/m) / sxx
	rss := math.Max(0, syy-sy*sy/m-out.slope*(sty-st*sy/m))
	sd := math.Max(math.Sqrt(rss/(m-2)), t.stepK/math.Sqrt(12))
	out.se = sd / math.Sqrt(sxx)
	return out
}

// hottestAt is the trace that reads hottest at a row or shortly before it, and the row of that reading.
func (sc *scene) hottestAt(row int) (hot *trace, at int) {
	for k := range sc.traces {
		t := &sc.traces[k]
		i := row
		for i >= 0 && series.IsMissing(t.c[i]) && sc.axis[row]-sc.axis[i] <= t.bridgeS() {
			i--
		}
		if i < 0 || series.IsMissing(t.c[i]) || sc.axis[row]-sc.axis[i] > t.bridgeS() {
			continue
		}
		if hot == nil || t.c[i] > hot.c[at] {
			hot, at = t, i
		}
	}
	return hot, at
}

// heatEnded says whether the readings up to a row show that the part was no longer heated: the end of
// heating lies before it, and the hottest ring falls. The end of heating alone shows nothing, since next to
// a hole it is itself a guess.
func (sc *scene) heatEnded(row int) bool {
	if sc.axis[row] < sc.heatEndS {
		return false
	}
	hot, at := sc.hottestAt(row)
	return hot != nil && sc.courseFrom(hot, at, -1).falls(hot.stepK)
}

// reheated says whether a ring was warmer after a hole in its cooling, of d seconds between rows prev and i,
// than cooling alone can leave it. A part that cools does so ever more slowly, so it falls at least at the
// slower of its rates before and after the hole; a ring that is not the hottest may still take up heat
// from the other, but can't overtake it.
func (sc *scene) reheated(t *trace, prev, i int) bool {
	d := sc.axis[i] - sc.axis[prev]
	noise := math.Max(t.peak.NoiseSD, t.stepK/math.Sqrt(12))
	most := t.c[prev]
	fall := 0.0
	if hot, at := sc.hottestAt(prev); hot == nil || hot == t {
		s := math.Min(sc.courseFrom(t, prev, -1).atLeastFalling(), sc.courseFrom(t, i, 1).atLeastFalling())
		fall = s * d
	} else {
		most = math.Max(most, hot.c[at])
	}
	return t.c[i] > most-fall+5*noise+t.stepK+0.02*fall
}

// hole bounds what a ring could have done between its readings in rows prev and i, more than a usual
// interval apart.
//
// A ring that warms, and cools, no faster than r (twice the fastest warming seen) can't have been above
// (yi + yj + r d)/2: it climbs from yi along r and comes down to yj along -r. After the end of
// heating it can't climb, unless it was found warmer after the hole than cooling alone leaves it.
func (sc *scene) hole(u *unseen, t *trace, prev, i int) {
	d := sc.axis[i] - sc.axis[prev]
	// One interval is the logger's usual blindness, which is no hole.
	top := (t.c[prev] + t.c[i] + t.couldWarm()*(d-t.everyS)) / 2
	top = math.Max(top, math.Max(t.c[prev], t.c[i]))
	if !(top > u.bound) || t.curveC.Known && top <= t.curveC.Raw {
		return // nothing is hidden that was not seen
	}
	if !sc.heatEnded(prev) {
		u.or(top, sc.holeWords(t, prev, d, top))
	} else if sc.reheated(t, prev, i) {
		u.or(top, sc.reheatWords(t, prev, i, d, top))
	}
}

func (sc *scene) reheatWords(t *trace, prev, i int, d, top float64) string {
	return fmt.Sprintf("the %s has no reading for %s from %s on and was at %s °C after that, warmer than by cooling alone: it may have been warmed again, up to %s °C",
		sc.body(t), duration(d), clock(sc.timeS[prev]), quantity.FormatDecimals(t.c[i], 1), quantity.FormatDecimals(top, 0))
}

// looseWhileCooling looks for a second warming while the probe did not sit on a ring that cooled.
func (sc *scene) looseWhileCooling(t *trace, d *segment.Defect, u *unseen) {
	prev, next := d.First-1-sc.row0, d.End-sc.row0
	for prev >= 0 && prev < len(t.c) && series.IsMissing(t.c[prev]) {
		prev--
	}
	for next >= 0 && next < len(t.c) && series.IsMissing(t.c[next]) {
		next++
	}
	if prev >= 0 && prev < next && next < len(t.c) {
		sc.hole(u, t, prev, next)
	}
}

// after is the first reading of a trace after the cycle's rows: what was hidden between two cycles belongs to
// the earlier. ok is false where there is none or the clock can't tell.
func (sc *scene) after(t *trace) (atS, c float64, ok bool) {
	log := sc.c.Log
	last := len(sc.timeS) - 1
	for row := sc.row0 + len(sc.timeS); row < log.Len(); row++ {
		v := log.Channels[t.channel].C[row]
		if log.TimeS[row] < log.TimeS[row-1] {
			return 0, 0, false
		}
		if series.IsMissing(v) || sc.isSpike(t.channel, row) {
			continue
		}
		if cal := sc.s.Calibration; cal != nil {
			v -= cal.offset(t)
		}
		return sc.axis[last] + log.TimeS[row] - sc.timeS[last], v, true
	}
	return 0, 0, false
}

func (sc *scene) isSpike(channel, row int) bool {
	if channel >= len(sc.c.Spikes) {
		return false
	}
	for _, r := range sc.c.Spikes[channel] {
		if int(r) == row {
			return true
		}
	}
	return false
}

// tail bounds what a ring could have done after its last reading in the cycle.
func (sc *scene) tail(u *unseen, t *trace) {
	end, hole := len(sc.axis)-1, t.holeS()
	until, next, read := sc.axis[end], 0.0, false
	if atS, c, ok := sc.after(t); ok {
		until, next, read = atS, c, true
	}
	d := until - sc.axis[t.last]
	if !(d > hole) {
		return
	}
	ended := sc.heatEnded(t.last)
	if !read {
		if ended {
			return
		}
		on := d
		if _, at := sc.hottestAt(end); sc.heatEnded(end) && at > t.last {
			on = math.Min(d, math.Max(0, sc.coolingFrom()-sc.axis[t.last])) // another ring shows the end of heating
		}
		top := t.c[t.last] + t.couldWarm()*on
		if top > u.bound {
			u.or(top, sc.holeWords(t, t.last, d, top))
		}
		return
	}
	top := math.Max(math.Max(t.c[t.last], next), (t.c[t.last]+next+t.couldWarm()*(d-t.everyS))/2)
	if ended && next <= t.c[t.last]+5*t.peak.NoiseSD+t.stepK || !(top > u.bound) {
		return
	}
	u.or(top, sc.holeWords(t, t.last, d, top))
}
