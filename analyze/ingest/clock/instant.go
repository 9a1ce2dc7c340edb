package clock

import "time"

// ParseInstant reads one date with time of day, as preambles write it ("Start: 21.08.2021 08:36:00"). order may be
// AnyOrder: then ok is false for a numeric date that two orders read differently, unless it is written with dots,
// which is day first. zoneKnown says that the text names its zone.
func ParseInstant(text string, order Order) (t time.Time, zoneKnown, ok bool) { return time.Time{}, false, false }

// ParseInterval reads a sampling interval as preambles write it: "5 s", "00:00:05", "500 ms", "1 min", "10". unit is the
// unit to take for a bare number ("" means seconds).
func ParseInterval(text, unit string) (seconds float64, ok bool) { return 0, false }
