package clock

import (
	"fmt"
	"time"
)

// Finish says what the whole column showed. The reader must not be used afterwards.
func (r *Reader) Finish() Outcome {
	p := r.plan
	o := Outcome{
		Kind: p.kind, Format: p.format, Order: p.order, Plan: p,
		Rows: r.rows, BadRows: r.bad, BlankRows: r.blank, TimeOfDayS: -1,
		DST: r.dst, Rollovers: r.rollovers, Descending: p.descending,
	}
	switch p.mode {
	case modeNumber:
		r.finishNumber(&o)
		return o
	case modeRows:
		return o
	}
	if r.begun {
		switch p.kind {
		case TimeOfDay, DateTime, Parts:
			o.TimeOfDayS = secondsOf(floorMod(r.first+r.startOffset(), day))
		case Elapsed:
			o.OffsetS = secondsOf(r.first)
		}
		if p.kind == DateTime || p.kind == Parts && !p.rolls {
			o.Start = instant(r.first)
		}
	}
	switch {
	case r.zoneCount == 1 && r.zonedNo == 0:
		o.ZoneKnown, o.Zone = true, zoneText(r.zones[0])
	case r.zoneCount > 0:
		o.ZoneKnown = r.zonedNo == 0
		for i, z := range r.zones[:r.zoneCount] {
			if i > 0 {
				o.Zone += ", "
			}
			o.Zone += zoneText(z)
		}
		o.Evidence = append(o.Evidence, "the zone in the text changes ("+o.Zone+"); times are counted through it")
		if r.zonedNo > 0 {
			o.Evidence = append(o.Evidence, "some rows name no zone and are taken as UTC")
		}
	}
	if r.zoneNamed {
		o.Evidence = append(o.Evidence, "the zone is a name, taken as "+o.Zone+" (common practice, no source)")
	}
	if r.rollovers > 0 {
		o.Evidence = append(o.Evidence, fmt.Sprintf("the clock without a date passes midnight %d times", r.rollovers))
	}
	if r.backRolls > 0 {
		o.Evidence = append(o.Evidence, fmt.Sprintf("%d steps back of 2 to 12 hours are taken for the next day", r.backRolls))
	}
	if r.dateOnly > 0 && p.kind == DateTime && r.dateOnly < r.rows {
		o.Evidence = append(o.Evidence, fmt.Sprintf("a date alone stands for midnight (%d rows)", r.dateOnly))
	}
	if p.kind == DateTime {
		r.finishOrder(&o)
	}
	if r.noYear {
		o.Evidence = append(o.Evidence, "the dates name no year")
		if y := p.settings.PreambleStart; !y.IsZero() && !o.Start.IsZero() {
			o.Start = o.Start.AddDate(y.Year()-o.Start.Year(), 0, 0)
			o.Evidence = append(o.Evidence, fmt.Sprintf("the year %d is the preamble's", y.Year()))
		} else {
			o.Start, o.AltStart = time.Time{}, time.Time{}
		}
	}
	return o
}

// startOffset is the offset of the first row's zone, ns: local = UTC + offset.
func (r *Reader) startOffset() int64 {
	if r.zoneCount == 0 {
		return 0
	}
	return int64(r.zones[0]) * second
}

func (r *Reader) finishOrder(o *Outcome) {
	p := r.plan
	v := r.stats.decide(p.settings, p.choice)
	if !v.numeric {
		return
	}
	if v.evidence != "" {
		o.Evidence = append(o.Evidence, v.evidence)
	}
	if v.question != "" {
		o.Questions = append(o.Questions, v.question)
	}
	if p.settled && v.choice != p.choice {
		// The first reading of the column spoke for this order, this one speaks for another: no order fits well.
		o.Questions = append(o.Questions, fmt.Sprintf("the dates fit no order of day and month well: name it with --date-order; %s is used", orderNames[p.choice]))
		v.choice, v.same = p.choice, false
	}
	q := *p
	q.choice, q.order = v.choice, orderNames[v.choice]
	q.format = reorder(p.format, p.choice, v.choice)
	o.Plan, o.Order, o.Format = &q, q.order, q.format
	if v.choice != p.choice {
		t := &r.stats
		if t.invalid[p.choice]+t.invalid[v.choice] > 0 || t.offsetN[v.choice] {
			o.Reread = true
			q.settled = true
		} else { // the same elapsed times from another first date
			o.Start = o.Start.AddDate(0, 0, int(t.first[v.choice]-t.first[p.choice]))
		}
	}
	if !v.decided && v.same && v.alt >= 0 {
		o.DateAmbiguous = true
		o.AltStart = o.Start.AddDate(0, 0, int(r.stats.first[v.alt]-r.stats.first[v.choice]))
	}
}

func (r *Reader) finishNumber(o *Outcome) {
	p := r.plan
	if !r.begun {
		return
	}
	if p.kind == Index {
		return // a sample number is no time
	}
	if p.epochSec == noEpoch {
		o.OffsetS = secondsOf(r.first)
		return
	}
	o.Start = time.Unix(p.epochSec, 0).UTC().Add(time.Duration(r.first))
	if p.kind == Unix {
		o.ZoneKnown, o.Zone = true, "UTC"
	}
	o.TimeOfDayS = secondsOf(floorMod(r.first, day))
}

func instant(ns int64) time.Time {
	return time.Unix(0, ns).UTC()
}

func floorMod(a, b int64) int64 {
	m := a % b
	if m < 0 {
		m += b
	}
	return m
}

func zoneText(offsetS int32) string {
	if offsetS == 0 {
		return "UTC"
	}
	sign := '+'
	if offsetS < 0 {
		sign, offsetS = '-', -offsetS
	}
	return fmt.Sprintf("%c%02d:%02d", sign, offsetS/3600, offsetS%3600/60)
}
