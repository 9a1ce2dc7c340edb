package judge

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ringheat/analyze/quantity"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// clearFallK is how far readings must have fallen to show, whatever their noise, that a part cools, K.
const clearFallK = 0.5

// fallen says whether the readings of a trace before a row, of the cycle, had fallen clearly from their highest.
func (t *trace) fallen(row int) bool {
	top, last := math.Inf(-1), math.Inf(-1)
	for i := 0; i < min(row, len(t.c)); i++ {
		if v := t.c[i]; !series.IsMissing(v) {
			top, last = math.Max(top, v), v
		}
	}
	return top-last > 4*t.peak.NoiseSD+2*t.stepK+clearFallK
}

// fellAtEnd says whether a ring, or a hotter one, had fallen clearly by the end of the cycle.
func (sc *scene) fellAtEnd(t *trace) bool {
	if t.fallen(len(t.c)) {
		return true
	}
	for k := range sc.traces {
		if other := &sc.traces[k]; other.peak.Known && other.peak.Value > t.peak.Value && other.fallen(len(other.c)) {
			return true
		}
	}
	return false
}

// unseenWhileFrozen bounds what a ring did while its readings repeated to the last digit, which is no reading.
// Since the end of heating itself may have been taken from the readings that stood still, only a clear fall
// before them shows that the part was no longer heated.
func (sc *scene) unseenWhileFrozen(t *trace, d *segment.Defect, u *unseen) {
	if t.fallen(d.First + 1 - sc.row0) {
		sc.looseWhileCooling(t, d, u)
		return
	}
	u.or(math.Inf(1), fmt.Sprintf("the readings of the %s repeat to the last digit from %s on, which no ring does: how hot it was is not known", sc.body(t), clock(d.FromS)))
}

func (sc *scene) saturatedWords(t *trace, d *segment.Defect) string {
	at := ""
	if i := d.First - sc.row0; i >= 0 && i < len(t.c) && !series.IsMissing(t.c[i]) {
		at = fmt.Sprintf(" of %s °C", quantity.FormatDecimals(t.c[i], 1))
	}
	return fmt.Sprintf("the readings of the %s break off into one constant value%s, as at the end of a range: it may have been hotter", sc.body(t), at)
}

// slowSpikes bounds a ring by readings that were marked as spikes although a part could perhaps have
// followed them.
func (sc *scene) slowSpikes(t *trace, d *segment.Defect, u *unseen) {
	c := sc.c.Log.Channels[t.channel].C
	top, at, n := math.Inf(-1), 0.0, 0
	for row := max(d.First, sc.row0); row < min(d.End, sc.row0+len(t.c)); row++ {
		v := c[row]
		if series.IsMissing(v) || !series.IsMissing(t.c[row-sc.row0]) {
			continue // not marked in this trace
		}
		n++
		if v > top {
			top, at = v, sc.timeS[row-sc.row0]
		}
	}
	if n == 0 {
		return
	}
	if cal := sc.s.Calibration; cal != nil {
		top -= cal.offset(t)
	}
	u.or(top, fmt.Sprintf("%s of the %s, up to %s °C at %s, left out as spikes, though the part could perhaps have followed",
		readingsWere(n), sc.body(t), quantity.FormatDecimals(top, 1), clock(at)))
}

func readingsWere(n int) string {
	if n == 1 {
		return "there is 1 reading"
	}
	return "there are " + strconv.Itoa(n) + " readings"
}

// steepest is the largest rise from one reading of a trace to the next, K: where readings are far apart,
// the peak may lie so far above the highest of them.
func (sc *scene) steepest(t *trace) float64 {
	rise, prev := 0.0, -1
	for i, v := range t.c {
		if series.IsMissing(v) {
			continue
		}
		if prev >= 0 && sc.axis[i]-sc.axis[prev] <= t.holeS() {
			rise = math.Max(rise, v-t.c[prev])
		}
		prev = i
	}
	return rise
}

// dulled says why the readings of a trace can't show how hot its ring was at any moment; "" when they can.
func (sc *scene) dulled(t *trace) string {
	switch ch := &sc.c.Log.Channels[t.channel]; {
	case ch.Lowest:
		return fmt.Sprintf("the readings of the %s are the lowest of each interval, which say nothing of a peak", sc.body(t))
	case ch.Averaged:
		return fmt.Sprintf("the readings of the %s are means over each interval, which hide a peak within one", sc.body(t))
	}
	return ""
}

// leftOutAbove names the columns that may hold temperatures of the part, are not judged, and went above a
// temperature; "" where none did.
func (sc *scene) leftOutAbove(c float64) string {
	var said []string
	for i := range sc.c.Log.LeftOut {
		if l := &sc.c.Log.LeftOut[i]; exceeds(l.MaxC, c) {
			said = append(said, fmt.Sprintf("column %d '%s', which is not judged (%s), went up to %s °C",
				l.Column, shorten(l.Name), shorten(l.Why), quantity.FormatDecimals(l.MaxC, 1)))
		}
	}
	return strings.Join(said, "; ")
}

// sameTrace says that the two probes of a pair agree in every digit, which two probes never do.
func (sc *scene) sameTrace(p *pair) bool {
	for i := range sc.c.Cycle.Defects {
		if d := &sc.c.Cycle.Defects[i]; d.Kind == segment.SameTrace && (sc.concerns(d, p.inner) || sc.concerns(d, p.outer)) {
			return true
		}
	}
	return false
}

// mountedInDoubt says why the reading at the time of mounting shows nothing; "" when it does, or no such
// time was given.
func (sc *scene) mountedInDoubt(t *trace) string {
	if sc.s.MountedAtS == nil {
		return ""
	}
	at := *sc.s.MountedAtS
	for i := range sc.c.Cycle.Defects {
		if d := &sc.c.Cycle.Defects[i]; d.Kind == segment.Frozen && sc.concerns(d, t) && at > d.FromS && at <= d.ToS {
			return fmt.Sprintf("the readings of the %s repeat to the last digit at the time of mounting, which no ring does", sc.body(t))
		}
	}
	if sc.c.Log.Clock.UnitDoubtful && at > 0 {
		return "nothing names the unit of the time column, and seconds are only taken, so the time of mounting can't be found in the log"
	}
	return ""
}

// hotStartC is how warm a part must be when the log begins for an earlier warming to be likely, °C: no
// workshop is so warm (common practice, no source).
const hotStartC = 50

// warmingShare is the share of the fastest warming seen at which a part is being warmed in earnest.
const warmingShare = 0.25

// warmedBefore says so when the log begins with a ring that is hot and not being warmed: it was warmed before,
// and may have been hotter then. One that is hot and rising was colder before; that it had cooled and was
// warmed again is possible but nothing speaks for it.
func (sc *scene) warmedBefore(t *trace) string {
	if sc.row0 > 0 || t.first < 0 || t.c[t.first] < hotStartC {
		return ""
	}
	for k := range sc.traces {
		other := &sc.traces[k]
		if other.first < 0 || other.maxRate <= 0 {
			continue
		}
		if c := sc.courseFrom(other, other.first, 1); c.slope > warmingShare*other.maxRate && c.slope > 2.5*c.se {
			return ""
		}
	}
	return fmt.Sprintf("the log begins with the %s at %s °C and not rising: it was warmed before, and how hot it was then is not known",
		sc.body(t), quantity.FormatDecimals(t.c[t.first], 1))
}
