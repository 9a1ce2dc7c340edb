package judge

import (
	"fmt"
	"math"

	"ringheat/analyze/quantity"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// unseen is how far a quantity could have gone where the record shows nothing.
type unseen struct {
	bound float64 // the highest value possible there; -Inf: nothing is unseen, +Inf: no bound is known
	why   string
}

const stillWarming = "the log stopped while the part was still warming"

var allSeen = unseen{bound: math.Inf(-1)}

// or keeps the worse of two.
func (u *unseen) or(bound float64, why string) {
	if bound > u.bound {
		u.bound, u.why = bound, why
	}
}

// unseenFactor is how much faster than ever seen a part may have warmed where nothing was recorded: the
// heating power may have been another there.
const unseenFactor = 2

// couldWarm is the rate that bounds what was not seen, K/s.
func (t *trace) couldWarm() float64 { return unseenFactor * t.maxRate }

// holeFactor is how many usual intervals without a reading can hide something: a single missing reading
// does, though little.
const holeFactor = 1.5

func (t *trace) holeS() float64 { return holeFactor * t.everyS }

// bridgeFactor is how many usual intervals without a reading are bridged where a value is read from the
// trace at a given time, and how many a moment may be late.
const bridgeFactor = 3

func (sc *scene) bridgeS() float64 { return bridgeFactor * sc.intervalS * (1 + 1e-9) }
func (t *trace) bridgeS() float64  { return bridgeFactor * t.everyS * (1 + 1e-9) }

// coolingFrom is when the part can be taken as no longer heated. A little time is added, since the end
// of heating is itself read from the samples.
func (sc *scene) coolingFrom() float64 { return sc.heatEndS + sc.bridgeS() }

// unseenPeak bounds the temperature that a ring could have reached without its being seen.
func (sc *scene) unseenPeak(t *trace) unseen {
	u := allSeen
	if t.first < 0 {
		u.or(math.Inf(1), fmt.Sprintf("the %s has no reading", sc.body(t)))
		return u
	}
	r := t.couldWarm()
	hole := t.holeS()
	if t.whole {
		for _, i := range sc.gaps {
			sc.hole(&u, t, i-1, i)
		}
	} else {
		prev := t.first
		for i := t.first + 1; i <= t.last; i++ {
			if series.IsMissing(t.c[i]) {
				continue
			}
			if sc.axis[i]-sc.axis[prev] > hole {
				sc.hole(&u, t, prev, i)
			}
			prev = i
		}
	}
	sc.tail(&u, t)
	// Before the first reading a ring that is being warmed was colder; but when the first reading comes
	// after the end of heating, its peak was not seen.
	if d := sc.axis[t.first] - sc.axis[0]; d > t.bridgeS() && sc.axis[t.first] >= sc.heatEndS {
		u.or(math.Inf(1), fmt.Sprintf("the %s has no reading before %s, when heating had ended", sc.body(t), clock(sc.timeS[t.first])))
	}
	for i := range sc.c.Cycle.Defects {
		d := &sc.c.Cycle.Defects[i]
		if !sc.concerns(d, t) {
			continue
		}
		switch d.Kind {
		case segment.StillRising:
			u.or(math.Inf(1), stillWarming)
		case segment.CoolingOnly:
			u.or(math.Inf(1), "the log shows the part cooling only; how hot it was before is not known")
		case segment.NotIdentifiable:
			if !sc.c.Cycle.End.Known {
				u.or(math.Inf(1), "it could not be told when the part was warmed")
			}
		case segment.TooCoarse:
			top := highest(t) + math.Max(r*t.everyS/2, sc.steepest(t))
			u.or(top, fmt.Sprintf("a reading every %s is too seldom to see the peak; the %s could have reached %s °C in between",
				duration(t.everyS), sc.body(t), quantity.FormatDecimals(top, 0)))
		case segment.ProbeDetached, segment.PoorContact, segment.ProbeLate:
			sc.unseenWhileLoose(t, d, &u)
		case segment.ClockFault:
			if why := sc.timeLost(t, d); why != "" {
				u.or(math.Inf(1), why)
			}
		case segment.Frozen:
			sc.unseenWhileFrozen(t, d, &u)
		case segment.Saturated:
			u.or(math.Inf(1), sc.saturatedWords(t, d))
		case segment.SlowSpike:
			sc.slowSpikes(t, d, &u)
		}
	}
	if why := sc.warmedBefore(t); why != "" {
		u.or(math.Inf(1), why)
	}
	if !sc.c.Cycle.End.Known && !sc.fellAtEnd(t) {
		u.or(math.Inf(1), "the end of heating is not in the log, and the readings do not fall after it")
	}
	return u
}

// unseenWhileLoose bounds what a ring did while its probe did not sit on it: such a probe reads low.
func (sc *scene) unseenWhileLoose(t *trace, d *segment.Defect, u *unseen) {
	from, to := d.FromS, d.ToS
	if from >= sc.coolingFrom() {
		sc.looseWhileCooling(t, d, u)
		return
	}
	last := -1
	for i := range t.c {
		if sc.row0+i >= d.First {
			break
		}
		if !series.IsMissing(t.c[i]) {
			last = i
		}
	}
	switch {
	case d.Kind == segment.ProbeLate:
		// On before the end of heating: the ring was colder before.
		if to < sc.heatEndS {
			return
		}
		u.or(math.Inf(1), fmt.Sprintf("the probe of the %s was put on only when heating had ended", sc.body(t)))
	case d.Kind == segment.ProbeDetached && last < 0:
		u.or(math.Inf(1), fmt.Sprintf("the probe was not on the %s from the start", sc.body(t)))
	case d.Kind == segment.PoorContact:
		u.or(math.Inf(1), fmt.Sprintf("the probe of the %s had poor contact and read too low", sc.body(t)))
	default: // it came off
		on := math.Max(0, math.Min(to, sc.coolingFrom())-from)
		top := t.c[last] + t.couldWarm()*on
		u.or(top, fmt.Sprintf("the probe came off the %s at %s, and the ring could have reached %s °C after that",
			sc.body(t), clock(from), quantity.FormatDecimals(top, 0)))
	}
}

// timeLost says why a clock that stepped back could hide something; "" when the temperatures run on
// across the step, so that nothing went unrecorded.
func (sc *scene) timeLost(t *trace, d *segment.Defect) string {
	for i := 1; i < len(sc.timeS); i++ {
		row := sc.row0 + i
		if sc.timeS[i] >= sc.timeS[i-1] || row < d.First-1 || row > max(d.End, d.First+1) {
			continue
		}
		before, after := i-1, i
		for before >= 0 && series.IsMissing(t.c[before]) {
			before--
		}
		for after < len(t.c) && series.IsMissing(t.c[after]) {
			after++
		}
		if before < 0 || after >= len(t.c) {
			continue
		}
		allowed := bridgeFactor*t.maxRate*t.everyS + 5*t.stepK + 4*t.peak.NoiseSD
		if math.Abs(t.c[after]-t.c[before]) > allowed {
			return fmt.Sprintf("the clock stepped back at %s, and the %s went from %s to %s °C there: how much time is missing is not known",
				clock(sc.timeS[i-1]), sc.body(t), quantity.FormatDecimals(t.c[before], 1), quantity.FormatDecimals(t.c[after], 1))
		}
	}
	return ""
}

// clockFault says whether the clock stepped back within the cycle.
func (sc *scene) clockFault() bool {
	if !sc.neverFell {
		return true
	}
	for i := range sc.c.Cycle.Defects {
		if sc.c.Cycle.Defects[i].Kind == segment.ClockFault {
			return true
		}
	}
	return false
}

func (sc *scene) holeWords(t *trace, at int, d, top float64) string {
	if math.IsInf(top, 1) {
		return fmt.Sprintf("the %s has no reading for %s from %s on", sc.body(t), duration(d), clock(sc.timeS[at]))
	}
	return fmt.Sprintf("the %s has no reading for %s from %s on, and could have reached %s °C in that time",
		sc.body(t), duration(d), clock(sc.timeS[at]), quantity.FormatDecimals(top, 0))
}

func highest(t *trace) float64 {
	top := math.Inf(-1)
	for _, v := range t.c {
		if v > top {
			top = v
		}
	}
	return top
}
