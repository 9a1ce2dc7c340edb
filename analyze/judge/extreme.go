package judge

import (
	"math"
	"slices"

	"ringheat/analyze/curve"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// findCorners lists the times at which the slope of a trace may break, on the axis of the curves.
func (sc *scene) findCorners() {
	list := sc.w.corners[:0]
	add := func(row int, atS float64) {
		if i := row - sc.row0; !sc.neverFell && i >= 0 && i < len(sc.axis) {
			atS += sc.axis[i] - sc.timeS[i]
		}
		list = append(list, atS)
	}
	cycle := &sc.c.Cycle
	for _, m := range []*segment.Moment{&cycle.Onset, &cycle.RampEnd, &cycle.End} {
		if m.Known {
			add(m.Row, m.AtS)
		}
	}
	for i := range cycle.Phases {
		add(cycle.Phases[i].First, cycle.Phases[i].FromS)
	}
	if sc.s.MountedAtS != nil && sc.neverFell {
		list = append(list, *sc.s.MountedAtS)
	}
	slices.Sort(list)
	sc.w.corners = slices.Compact(list)
}

// tellingSD is how many standard deviations of a single sample a reading must stand above the local
// curve to count as seen for itself. The highest of 10,000 readings stands 4 above by chance.
const tellingSD = 5

// largest reads the largest value of a trace with so many samples that are not missing. A reading that is no spike and stands out from the local
// curve by more than noise and display can explain is a real peak, such as the one sample at
// switch-off: then raised is that reading, else the curve's value.
//
// Readings more than a few usual intervals apart, everyS, have a hole between them, which no curve crosses.
func (sc *scene) largest(values []float64, valid int, stepK, everyS float64) (raised, local curve.Extreme) {
	if valid == 0 {
		return curve.Extreme{}, curve.Extreme{}
	}
	w, at := sc.w, sc.axis
	bridge := bridgeFactor * everyS * (1 + 1e-9)
	cuts := w.cuts[:0]
	if valid == len(values) {
		for _, i := range sc.gaps {
			if at[i]-at[i-1] > bridge {
				cuts = append(cuts, i)
			}
		}
	} else {
		w.denseT, w.denseY = grow(w.denseT, valid), grow(w.denseY, valid)
		n := 0
		for i, v := range values {
			if !series.IsMissing(v) {
				w.denseT[n], w.denseY[n] = at[i], v
				if n > 0 && at[i]-w.denseT[n-1] > bridge {
					cuts = append(cuts, n)
				}
				n++
			}
		}
		at, values = w.denseT, w.denseY
	}
	w.cuts = cuts
	local = sc.c.Local.Largest(at, values, curve.ExtremeOptions{StepK: stepK, CornersS: w.corners, Cuts: cuts})
	if !(local.StdErr >= 0) || math.IsInf(local.StdErr, 0) {
		local.StdErr = local.NoiseSD
	}
	raised = local
	if local.Known && local.Raw > local.Value+tellingSD*local.NoiseSD+stepK {
		raised.Value, raised.AtS, raised.StdErr, raised.N = local.Raw, local.RawAtS, local.NoiseSD, 1
		raised.Method = "single reading that stands out"
	}
	return raised, local
}

// fewest is the number of readings below which no local curve is read and a peak is not known.
const fewest = 5
