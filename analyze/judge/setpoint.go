package judge

import (
	"fmt"
	"math"
	"sort"

	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// heldAtLimit says so when the part was held, or the heater set, so near the limit that no probe of
// this uncertainty could prove it kept, with the set-point that could have been proven; "" otherwise.
// An ordinary hold lies at the limit, since 120 °C is both the usual set-point and the usual limit
// (common practice, no source).
func (sc *scene) heldAtLimit(f *Finding) string {
	if f.Uncertainty == nil || f.Value == nil || sc.p.rule == Simple {
		return ""
	}
	limit, guard := sc.p.maxC, sc.p.g**f.Uncertainty
	if sc.coldFor(limit - guard) {
		return ""
	}
	held, what, ok := sc.heldC()
	if !ok || held <= limit-guard || held > limit+guard {
		return ""
	}
	over := math.Max(0, *f.Value-held)
	provable := math.Floor(limit - guard - over + 1e-9)
	return fmt.Sprintf("%s %s °C, which lies within the uncertainty of %s K of the limit of %s °C; a set-point of %s °C or lower could have been proven",
		what, figure(held, 1), figure(*f.Uncertainty, 1), plain(limit), plain(provable))
}

// coldFor says that no reading comes near a temperature and nothing says what the heater was set to, so that
// no mean over a hold can reach it.
func (sc *scene) coldFor(c float64) bool {
	if sc.s.SetPointC != nil || len(sc.c.Log.WithRole(series.SetPoint)) > 0 {
		return false
	}
	for i := range sc.traces {
		if t := &sc.traces[i]; t.valid > 0 && !(t.peak.Raw < c-1e-6) {
			return false
		}
	}
	return true
}

// heldC is the temperature that the part was to be held at, and how that is known.
func (sc *scene) heldC() (c float64, what string, ok bool) {
	if sc.s.SetPointC != nil {
		return *sc.s.SetPointC, "the heater was set to", true
	}
	for _, ch := range sc.c.Log.WithRole(series.SetPoint) {
		// The highest set-point of the cycle that stood for at least a tenth of its readings.
		var seen []float64
		for _, v := range sc.c.Log.Channels[ch].C[sc.row0 : sc.row0+len(sc.timeS)] {
			if !series.IsMissing(v) {
				seen = append(seen, v)
			}
		}
		if len(seen) > 0 {
			sort.Float64s(seen)
			return seen[len(seen)-1-len(seen)/10], "the heater was set to", true
		}
	}
	for i := range sc.c.Cycle.Phases {
		ph := &sc.c.Cycle.Phases[i]
		if ph.Kind != segment.Hold {
			continue
		}
		for k := range sc.traces {
			t := &sc.traces[k]
			sum, n := 0.0, 0
			for row := max(ph.First, sc.row0); row < min(ph.End, sc.row0+len(t.c)); row++ {
				if v := t.c[row-sc.row0]; !series.IsMissing(v) {
					sum += v
					n++
				}
			}
			if n > 0 && (!ok || sum/float64(n) > c) {
				c, what, ok = sum/float64(n), "the part was held at", true
			}
		}
	}
	return c, what, ok
}
