package judge

import (
	"fmt"
	"slices"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// A part that is warmed starts and stays within these, °C (common practice, no source): under another unit
// readings outside them are no temperatures of it.
const (
	coldestPartC = -40
	hottestPartC = 400
)

// otherUnits are the readings of a case under the units that its doubtful channels may be in as well.
func otherUnits(c *Case) (units []quantity.TemperatureUnit, cases []Case) {
	var doubtful []int
	for _, list := range [2][]int{c.Inner, c.Outer} {
		for _, ch := range list {
			if c.Log.Channels[ch].UnitDoubtful {
				doubtful = append(doubtful, ch)
			}
		}
	}
	if len(doubtful) == 0 {
		return nil, nil
	}
	for _, unit := range []quantity.TemperatureUnit{quantity.DegreeCelsius, quantity.DegreeFahrenheit, quantity.KelvinUnit} {
		if unit == c.Log.Channels[doubtful[0]].Unit {
			continue
		}
		log := *c.Log
		log.Channels = slices.Clone(log.Channels)
		plausible := true
		for _, ch := range doubtful {
			plausible = reread(&log.Channels[ch], unit) && plausible
		}
		if !plausible {
			continue
		}
		other := *c
		other.Log, other.Work = &log, nil
		// What was estimated was estimated in the unit that was taken.
		other.RiseInner, other.RiseOuter, other.LagInner, other.LagOuter, other.Cooling = nil, nil, nil, nil, nil
		units, cases = append(units, unit), append(cases, other)
	}
	return units, cases
}

// reread turns a channel's values as if its file were in another unit, and says whether they can be a part's.
func reread(ch *series.Channel, unit quantity.TemperatureUnit) bool {
	size := scaleOf(ch.Unit).kelvin / scaleOf(unit).kelvin
	values := make([]float64, len(ch.C))
	ok := true
	for i, v := range ch.C {
		raw := v/scaleOf(ch.Unit).kelvin + scaleOf(ch.Unit).zero
		values[i] = (raw - scaleOf(unit).zero) * scaleOf(unit).kelvin
		ok = ok && (series.IsMissing(v) || values[i] >= coldestPartC && values[i] <= hottestPartC)
	}
	ch.C, ch.Unit, ch.UnitDoubtful = values, unit, false
	ch.StepK /= quantity.Kelvin(size)
	return ok
}

// scale is how a unit counts: the figure at 0 °C, and the size of its degree in kelvin.
type scale struct{ zero, kelvin float64 }

func scaleOf(u quantity.TemperatureUnit) scale {
	switch u {
	case quantity.DegreeFahrenheit:
		return scale{32, 1 / 1.8}
	case quantity.KelvinUnit:
		return scale{273.15, 1}
	}
	return scale{0, 1}
}

// judgeUnits holds the findings against those under the other units that the file may be in. A finding that is
// another there is unproven.
func judgeUnits(j *CycleJudgement, c *Case, s Settings) (missing []string) {
	units, cases := otherUnits(c)
	for k := range cases {
		other := Judge(cases[k], s)
		for _, check := range []Check{MaxTemp, RingDiff, NeedTemp} {
			f, g := j.Finding(check), other.Finding(check)
			if f == nil || g == nil || f.Verdict == g.Verdict || f.Verdict != Pass && f.Verdict != Fail {
				continue
			}
			why := fmt.Sprintf("nothing names the unit of the readings, and read as %s the answer to %s is another (%s): give --temp-unit",
				unitName(units[k]), check, g.Reason)
			f.Verdict, f.Proven, f.Conformance, f.Reason = Unproven, nil, nil, why+"; taken as "+unitName(c.Log.Channels[doubtfulOf(c)].Unit)+": "+f.Reason
			missing = append(missing, why)
		}
	}
	return missing
}

func doubtfulOf(c *Case) int {
	for _, list := range [2][]int{c.Inner, c.Outer} {
		for _, ch := range list {
			if c.Log.Channels[ch].UnitDoubtful {
				return ch
			}
		}
	}
	return 0
}

func unitName(u quantity.TemperatureUnit) string {
	switch u {
	case quantity.DegreeFahrenheit:
		return "°F"
	case quantity.KelvinUnit:
		return "kelvin"
	}
	return "°C"
}
