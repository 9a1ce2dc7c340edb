package analyze

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

var errMountedWithoutNeed = errors.New("--mounted-at says when the bore had to be warm enough, but no needed temperature is known: give --need-temp-c or the seat's data")

// mounted is a moment of mounting as a user writes it: seconds from the first row, a time of day, or an instant.
type mounted struct {
	seconds   float64
	timeOfDay float64   // s since midnight; -1 when not meant
	instant   time.Time // zero when not meant
}

var instantLayouts = []string{time.RFC3339Nano, "2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02T15:04", "2006-01-02 15:04"}

// parseMounted reads --mounted-at: a number is seconds from the log's first row; h:mm or h:mm:ss a time of
// day; yyyy-mm-dd with a time an instant.
func parseMounted(text string) (mounted, error) {
	text = strings.TrimSpace(text)
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
			return mounted{}, fmt.Errorf("--mounted-at %s: give seconds from the log's first row, 0 or more, or a clock time", text)
		}
		return mounted{seconds: v, timeOfDay: -1}, nil
	}
	for _, l := range []string{"15:04:05", "15:04"} {
		if t, err := time.Parse(l, text); err == nil {
			h, m, s := t.Clock()
			return mounted{timeOfDay: float64(h*3600 + m*60 + s)}, nil
		}
	}
	for _, l := range instantLayouts {
		if t, err := time.Parse(l, text); err == nil {
			return mounted{timeOfDay: -1, instant: t}, nil
		}
	}
	return mounted{}, fmt.Errorf("--mounted-at %q is neither seconds from the first row (600) nor a clock time (14:05, 14:05:30, 2026-03-09 14:05)", text)
}

// mountedIn is a moment of mounting on a log's own time axis and the cycle it belongs to: the last that
// began before it. cycle is -1 when it belongs to none; problem then says why.
type mountedIn struct {
	atS     float64
	cycle   int
	problem string
}

func (a *Analyzer) mountedCycle(log *series.Log, cycles []segment.Cycle, s Settings) mountedIn {
	none := mountedIn{cycle: -1}
	if s.MountedAt == "" || len(cycles) == 0 {
		return none
	}
	m, err := parseMounted(s.MountedAt)
	if err != nil {
		none.problem = err.Error()
		return none
	}
	at := m.seconds
	switch {
	case !m.instant.IsZero():
		if log.Clock.Start.IsZero() {
			none.problem = "the log has no date, so the mounting time " + s.MountedAt + " can't be placed: give seconds from the first row or a time of day"
			return none
		}
		at = m.instant.Sub(log.Clock.Start).Seconds()
	case m.timeOfDay >= 0:
		if log.Clock.TimeOfDayS < 0 {
			none.problem = "the log has no clock time, so the mounting time " + s.MountedAt + " can't be placed: give seconds from the first row"
			return none
		}
		// A time of day earlier than the first row's is taken as the next day's.
		at = math.Mod(m.timeOfDay-log.Clock.TimeOfDayS+2*86400, 86400)
	}
	for i := len(cycles) - 1; i >= 0; i-- {
		if began(cycles[i], log) <= at {
			return mountedIn{atS: at, cycle: i}
		}
	}
	none.problem = "the mounting time " + s.MountedAt + " lies before the first heating cycle"
	return none
}

func began(c segment.Cycle, log *series.Log) float64 {
	if c.Onset.Known {
		return c.Onset.AtS
	}
	if c.Rows.First < log.Len() {
		return log.TimeS[c.Rows.First]
	}
	return 0
}
