package analyze

import (
	"fmt"

	"ringheat/analyze/curve"
	"ringheat/analyze/quantity"
)

// Maker is what the maker of a part asks for besides its limits. It is kept and said; no verdict hangs on it.
type Maker struct {
	MaxRateKPerMin *float64 // fastest warming
	MaxRateSource  string
	HoldMin        *float64 // time at temperature, minutes
	HoldSource     string
}

// say adds to a cycle's judgement where settings come from, and holds the rise against the maker's fastest warming.
func (s *Settings) say(c *Cycle, oneBody bool) {
	j := &c.Judgement
	j.Assumed = append(j.Assumed, s.Said...)
	if m := &s.Maker; m.HoldMin != nil {
		j.Notes = append(j.Notes, fmt.Sprintf("the maker asks for %g min at temperature (%s): not judged", *m.HoldMin, m.HoldSource))
	}
	if s.Maker.MaxRateKPerMin == nil {
		return
	}
	body := "the inner ring"
	if oneBody {
		body = "the part"
	}
	j.Notes = append(j.Notes, s.Maker.rateWords(body, &c.Inner))
	if !oneBody {
		j.Notes = append(j.Notes, s.Maker.rateWords("the outer ring", &c.Outer))
	}
}

// rateWords holds one ring's initial rate, the fastest of a first-order rise, against the maker's.
func (m *Maker) rateWords(body string, e *curve.FirstOrder) string {
	allowed := fmt.Sprintf("the %g K/min that the maker allows (%s)", *m.MaxRateKPerMin, m.MaxRateSource)
	if !e.RateKPerS.Known {
		return fmt.Sprintf("%s: the rate of warming is not determined, so it is not held against %s", body, allowed)
	}
	rate := quantity.FormatDecimals(e.RateKPerS.Value*60, min(2, quantity.Decimals(e.RateKPerS.StdErr*60)))
	if e.RateKPerS.Value*60 > *m.MaxRateKPerMin {
		return fmt.Sprintf("%s warmed at %s K/min at first, faster than %s: noted, not judged", body, rate, allowed)
	}
	return fmt.Sprintf("%s warmed at %s K/min at first, within %s: noted, not judged", body, rate, allowed)
}
