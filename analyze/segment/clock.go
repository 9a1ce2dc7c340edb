package segment

import "ringheat/analyze/series"

// clock is the log's time axis unrolled: where the logger's clock stepped back, the usual interval is
// put in its place, so that the axis never falls. Stretches between steps back are kept apart.
type clock struct {
	log       *series.Log
	u         []float64 // unrolled time of every row, s; log.TimeS itself when it never falls
	own       []float64 // backing for u when it differs from log.TimeS
	backs     []int32   // rows at which the clock stepped back
	intervalS float64   // usual step between rows, s
	gapS      float64   // a longer step is a gap
	uniform   bool      // every step is the usual one, to a thousandth
	steps     []float64 // scratch
}

// gapFactor is how many usual intervals make a gap.
const gapFactor = 5

func (c *clock) read(log *series.Log) {
	c.log = log
	t := log.TimeS
	c.backs = c.backs[:0]
	for i := 1; i < len(t); i++ {
		if t[i] < t[i-1] {
			c.backs = append(c.backs, int32(i))
		}
	}
	c.intervalS = log.Clock.IntervalS
	if !(c.intervalS > 0) {
		c.intervalS = c.usualStep(t)
	}
	c.gapS = gapFactor * c.intervalS
	lo, hi := 0.999*c.intervalS, 1.001*c.intervalS
	c.uniform = true
	for i := 1; i < len(t); i++ {
		if d := t[i] - t[i-1]; d < lo || d > hi {
			c.uniform = false
			break
		}
	}
	c.u = t
	if len(c.backs) == 0 {
		return
	}
	c.own = append(c.own[:0], t...)
	shift := 0.0
	next := 0
	for i := range c.own {
		if next < len(c.backs) && int(c.backs[next]) == i {
			shift += t[i-1] - t[i] + c.intervalS
			next++
		}
		c.own[i] = t[i] + shift
	}
	c.u = c.own
}

// usualStep is the median step of at most 255 evenly chosen pairs of rows, s; 0 with fewer than two.
func (c *clock) usualStep(t []float64) float64 {
	c.steps = c.steps[:0]
	stride := max(1, len(t)/255)
	for i := 1; i < len(t); i += stride {
		if d := t[i] - t[i-1]; d > 0 {
			c.steps = append(c.steps, d)
		}
	}
	if len(c.steps) == 0 {
		return 0
	}
	return quantile(c.steps, 0.5)
}

// rowAt is the last row whose unrolled time is not after u.
func (c *clock) rowAt(u float64) int {
	lo, hi := 0, len(c.u)
	for lo < hi {
		mid := (lo + hi) / 2
		if c.u[mid] <= u {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return max(lo-1, 0)
}

// nearestRow is the row whose unrolled time is nearest to u.
func (c *clock) nearestRow(u float64) int {
	r := c.rowAt(u)
	if r+1 < len(c.u) && c.u[r+1]-u < u-c.u[r] {
		return r + 1
	}
	return r
}

// logTime is the log's own time at unrolled time u, s.
func (c *clock) logTime(u float64) float64 {
	if len(c.backs) == 0 || len(c.u) == 0 {
		return u
	}
	r := c.rowAt(u)
	return u + c.log.TimeS[r] - c.u[r]
}
