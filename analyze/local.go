package analyze

import (
	"ringheat/analyze/curve"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// localCurve lets the judge read peaks from local curves: it takes out missing samples, and names the
// moments at which the trace may have a corner, which segmentation found.
type localCurve struct {
	estimator *curve.Estimator
	corners   []float64 // s, ascending
	t, y      []float64
}

// use takes the corners from a cycle: its moments and the borders of its phases.
func (l *localCurve) use(c *segment.Cycle) {
	l.corners = l.corners[:0]
	for _, p := range c.Phases {
		l.corner(p.FromS)
	}
	if c.End.Known {
		l.corner(c.End.AtS)
	}
}

// corner adds a moment in its place.
func (l *localCurve) corner(s float64) {
	i := len(l.corners)
	for i > 0 && l.corners[i-1] >= s {
		if l.corners[i-1] == s {
			return
		}
		i--
	}
	l.corners = append(l.corners, 0)
	copy(l.corners[i+1:], l.corners[i:])
	l.corners[i] = s
}

// Largest is judge.LocalCurve.
func (l *localCurve) Largest(timeS, c []float64, stepK float64) curve.Extreme {
	l.t, l.y = l.t[:0], l.y[:0]
	for i, v := range c {
		if !series.IsMissing(v) {
			l.t = append(l.t, timeS[i])
			l.y = append(l.y, v)
		}
	}
	return l.estimator.Largest(l.t, l.y, curve.ExtremeOptions{StepK: stepK, CornersS: l.corners})
}
