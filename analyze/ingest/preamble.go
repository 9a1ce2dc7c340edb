package ingest

import (
	"fmt"
	"math"
	"time"

	"ringheat/analyze/ingest/clock"
	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/series"
)

// fact is what a line of the preamble states, with its line.
type fact struct {
	heading.Fact
	line int
	key  string
}

// preambleFacts is what the preamble says about the clock.
type preambleFacts struct {
	list         []fact
	intervalS    float64
	intervalLine int
	intervalText string
	start        time.Time // instant of the start; the zero Time when no date is named
	startDate    bool      // start is a date without a time of day
	startLine    int
	zoneKnown    bool
}

// readFacts reads what the preamble states.
func (p *planner) readFacts() {
	f := &p.facts
	*f = preambleFacts{list: f.list[:0]}
	var dateText, timeText string
	var dateLine int
	order := clock.Order(p.o.DateOrder)
	for _, kv := range p.read.Preamble {
		x := fact{heading.ReadFact(kv.Key, kv.Value), kv.Line, kv.Key}
		if x.Kind == heading.NoFact {
			continue
		}
		f.list = append(f.list, x)
		switch x.Kind {
		case heading.DateFormat:
			if order == clock.AnyOrder {
				order = clock.Order(x.DateOrder)
			}
		case heading.Interval:
			if x.IntervalS > 0 && f.intervalS == 0 {
				f.intervalS, f.intervalLine, f.intervalText = x.IntervalS, kv.Line, kv.Value
			}
		case heading.StartTime, heading.StartDate:
			if t, zone, ok := clock.ParseInstant(x.Value, order); ok {
				if f.start.IsZero() || f.startDate {
					f.start, f.zoneKnown, f.startLine = t, zone, kv.Line
					f.startDate = x.Kind == heading.StartDate && t.Equal(t.Truncate(24*time.Hour))
				}
				if f.startDate {
					dateText, dateLine = x.Value, kv.Line
				}
			} else if timeText == "" {
				timeText = x.Value
			}
		}
	}
	if f.startDate && timeText != "" {
		if t, zone, ok := clock.ParseInstant(dateText+" "+timeText, order); ok {
			f.start, f.zoneKnown, f.startDate, f.startLine = t, zone, false, dateLine
		}
	}
}

// startFromPreamble gives the log the start that its preamble names, where its clock names no date.
func (r *Reader) startFromPreamble(out clock.Outcome) {
	f, c, p := &r.planner.facts, &r.log.Clock, &r.planner
	if f.start.IsZero() || !c.Start.IsZero() || out.DateAmbiguous {
		return
	}
	switch {
	case out.Kind == clock.TimeOfDay && out.TimeOfDayS >= 0:
		day := time.Date(f.start.Year(), f.start.Month(), f.start.Day(), 0, 0, 0, 0, f.start.Location())
		c.Start = day.Add(time.Duration(math.Round(out.TimeOfDayS * 1e9)))
	case f.startDate:
		return
	case out.Kind == clock.Elapsed:
		c.Start = f.start.Add(time.Duration(math.Round(out.OffsetS * 1e9)))
	default:
		c.Start = f.start
	}
	c.ZoneKnown = f.zoneKnown
	if c.TimeOfDayS < 0 {
		y, m, d := c.Start.Date()
		c.TimeOfDayS = c.Start.Sub(time.Date(y, m, d, 0, 0, 0, 0, c.Start.Location())).Seconds()
	}
	p.guess(Guess{Stage: "clock", Choice: "start " + c.Start.Format("2006-01-02 15:04:05"), Evidence: fmt.Sprintf("line %d of the preamble says so", f.startLine), By: series.ByPreamble})
}

// headingZone puts a clock without a zone into the one that its heading, or the preamble, names.
func (r *Reader) headingZone(reading *Reading) {
	c, p := &r.log.Clock, &r.planner
	if c.Start.IsZero() || c.ZoneKnown {
		return
	}
	zone, known, from := 0, false, ""
	for _, k := range r.plan.time.columns {
		if m := &p.table.columns[k].meaning; m.ZoneKnown {
			zone, known, from = m.ZoneS, true, fmt.Sprintf("the heading %q", p.table.columns[k].name)
		}
	}
	for _, x := range p.facts.list {
		if !known && x.Kind == heading.ZoneFact && x.ZoneKnown {
			zone, known, from = x.ZoneS, true, fmt.Sprintf("line %d of the preamble", x.line)
		}
	}
	if !known {
		return
	}
	name := zoneName(zone)
	t := c.Start
	c.Start = time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), time.FixedZone("", zone))
	if zone == 0 {
		c.Start = c.Start.UTC()
	}
	c.ZoneKnown = true
	reading.Zone = name
	p.guess(Guess{Stage: "clock", Choice: "zone " + name, Evidence: "named by " + from, By: series.ByHeading})
}

// zoneName writes a zone as in ISO 8601; "UTC" for none.
func zoneName(seconds int) string {
	if seconds == 0 {
		return "UTC"
	}
	sign := '+'
	if seconds < 0 {
		sign, seconds = '-', -seconds
	}
	return fmt.Sprintf("%c%02d:%02d", sign, seconds/3600, seconds/60%60)
}

// checkInterval says when the preamble's interval is not that of the rows.
func (r *Reader) checkInterval(out clock.Outcome) {
	f, c := &r.planner.facts, &r.log.Clock
	if iv := r.planner.o.IntervalS; iv > 0 && c.IntervalS > 0 && out.Kind != clock.Index && (c.IntervalS < 0.9*iv || c.IntervalS > 1.1*iv) {
		r.planner.ask(fmt.Sprintf("--interval-s %g is not followed: the log has a time of its own (%s), by which the rows are %g s apart; leave the flag out, or name another column with --time", iv, out.Format, c.IntervalS))
	}
	if f.intervalS <= 0 || c.IntervalS <= 0 || out.Kind == clock.Index {
		return
	}
	if ratio := c.IntervalS / f.intervalS; ratio < 0.9 || ratio > 1.1 {
		r.planner.guess(Guess{Stage: "interval", Choice: fmt.Sprintf("%g s", c.IntervalS), Evidence: fmt.Sprintf("the rows' own time; line %d of the preamble says %s, which does not agree", f.intervalLine, f.intervalText), RunnerUp: f.intervalText, By: series.ByPlausibility})
	}
}
