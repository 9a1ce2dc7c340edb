package judge

import (
	"math"

	"ringheat/analyze/series"
)

// secondsAbove adds up the time during which any ring was above a temperature, s, by this rule:
//
// At every row the hottest reading that is no spike counts, and between two rows the temperature is
// taken to run straight, so crossings are interpolated. An excursion begins at an upward crossing and
// ends at the last downward crossing before the readings have fallen by more than the flicker band
// (two standard deviations of a single sample, at least one display step) below the limit: noise about the limit is
// one excursion and not many. It counts if it is more than noise: its top leaves the flicker band, or
// its mean over at least three readings lies above the limit. Nothing counts when no ring's peak, read
// from the local curve, is above the limit; when it is and no excursion is more than noise, the longest
// one counts.
func (sc *scene) secondsAbove(limit float64) float64 {
	top, step := math.Inf(-1), 0.0
	for i := range sc.traces {
		if t := &sc.traces[i]; t.peak.Known {
			top = math.Max(top, inSteps(t.peak.Value, t.stepK))
			step = math.Max(step, t.stepK)
		}
	}
	if !exceeds(top, limit) {
		return 0
	}
	band := math.Max(2*sc.noise(), step)

	var total, longest float64
	var e excursion
	finish := func() {
		s, real := e.seconds(band)
		if real {
			total += s
		}
		longest = math.Max(longest, s)
		e = excursion{}
	}
	prev, prevC := -1, 0.0
	for i, at := range sc.axis {
		c := math.Inf(-1)
		for k := range sc.traces {
			if v := sc.traces[k].c[i]; v > c { // false for a missing sample
				c = v
			}
		}
		if series.IsMissing(c) || math.IsInf(c, -1) {
			continue
		}
		if prev >= 0 && at > sc.axis[prev] {
			from := sc.axis[prev]
			if !e.open && prevC <= limit && c > limit {
				e = excursion{open: true, fromS: from + (at-from)*(limit-prevC)/(c-prevC), area: 0}
				e.leave(e.fromS, limit, limit)
			}
			if e.open {
				e.run(at, c, limit)
				if prevC > limit && c <= limit {
					e.downS = from + (at-from)*(prevC-limit)/(prevC-c)
				}
			}
		} else if !e.open && c > limit {
			e = excursion{open: true, fromS: at}
			e.leave(at, c, limit)
		}
		if e.open {
			if c > limit {
				e.top = math.Max(e.top, c-limit)
				e.readings++
				e.downS = at
			}
			if c < limit-band {
				finish()
			}
		}
		prev, prevC = i, c
	}
	if e.open {
		finish()
	}
	if total == 0 {
		return longest
	}
	return total
}

// excursion is one stay above a limit, dips within the flicker band included.
type excursion struct {
	open           bool
	fromS, downS   float64 // first crossing, latest crossing down or reading above
	lastS, lastDev float64
	area           float64 // integral of (temperature - limit) up to the latest reading
	top            float64
	readings       int // above the limit
}

func (e *excursion) leave(atS, c, limit float64) { e.lastS, e.lastDev = atS, c-limit }

func (e *excursion) run(atS, c, limit float64) {
	e.area += (atS - e.lastS) * (e.lastDev + c - limit) / 2
	e.lastS, e.lastDev = atS, c-limit
}

// seconds is the length of the stay, and whether it is more than noise.
func (e *excursion) seconds(band float64) (s float64, real bool) {
	return math.Max(0, e.downS-e.fromS), e.top > band || e.readings >= 3 && e.area > 0
}
