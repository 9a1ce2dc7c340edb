package chart

import "ringheat/analyze/judge"

// The fixed words of the pictures. All other text comes from the caller.
const (
	wordTemperature = "temperature, °C"
	wordNothing     = "no readings to draw"
	wordSpike       = "spike, not a temperature"
	wordAbove       = "above the limit"
	wordBeyond      = "difference beyond its limit"
	wordNeeded      = "needed bore temperature, °C"
	wordBand        = "its expanded uncertainty"
	wordOthers      = "other interferences"
	wordTooHot      = "hotter than the limit"
	wordMore        = "and %d more"
	wordTime        = "time"
)

func verdictWord(v judge.Verdict) string {
	switch v {
	case judge.Pass:
		return "PASS"
	case judge.Fail:
		return "FAIL"
	case judge.NotAsked:
		return "NOT ASKED"
	}
	return "UNPROVEN"
}
