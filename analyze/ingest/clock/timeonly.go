package clock

import (
	"fmt"
	"slices"
	"strings"
)

// timeOnly proposes a column of times without a date: a clock, or time since a start.
func (d *detector) timeOnly(c int) {
	q := &d.cols[c]
	p := &Plan{kind: TimeOfDay, mode: modeStamp, columns: []int{c}, decimal: d.cols[c].decimal, settings: d.s, rolls: true, halfDays: true}
	if h := d.halfColumn(c); h >= 0 {
		p.columns = append(p.columns, h)
	}
	why := ""
	score := 80.0
	if p.rewrite = d.rewriteOf(c); p.rewrite != asWritten {
		p.rewritten = c
		why = "without colons"
	}
	// d:hh:mm:ss, unless a fourth number above 59 shows that it is hundredths, or the first runs on as hours do.
	p.days4 = q.fours == q.times && q.times > 0 && !strings.Contains(strings.ToLower(d.headingText(c)), "h:m") || q.fours > 0 && d.spellsDays(c)
	if q.parts2 > 0 {
		asked := len(d.ask)
		p.minSec, why = d.minutesAndSeconds(c)
		p.asked = len(d.ask) > asked
	}
	first := d.firstTime(c)
	switch {
	case q.clockish > 0 || len(p.columns) > 1:
		why = join(why, "AM/PM or a zone is a clock's")
	case q.lengths > 0 || p.minSec || p.days4:
		p.kind = Elapsed
		if q.lengths > 0 {
			why = join(why, "values that only a length of time can have")
		}
	case q.says.elapsed:
		p.kind = Elapsed
		why = join(why, "the heading says so")
	case q.says.ofDay:
		why = join(why, "the heading names the time of day")
	case first >= 0 && first < 60:
		p.kind = Elapsed
		why = join(why, "starts at nought; a clock at midnight would give the same elapsed times")
	default:
		why = join(why, "does not start at nought")
	}
	if p.kind == Elapsed {
		score = 88
	}
	p.format = describe(&q.hasTime, 0, p.minSec)
	if p.days4 {
		p.format = "d:hh:mm:ss"
	}
	switch p.rewrite {
	case dotted:
		p.format = strings.ReplaceAll(p.format, ":", ".")
	case glued6:
		p.format = "hhmmss"
	case glued4:
		p.format = "hhmm"
	}
	m := d.measure(p)
	if p.descending && p.kind == Elapsed && q.lengths == 0 && !p.minSec && !q.says.elapsed {
		p.kind, p.descending = TimeOfDay, false
		why = "newest row first, as a clock's"
		m = d.measure(p)
	}
	what := "time of day without a date"
	if p.kind == Elapsed {
		what = "time since the start"
	}
	d.add(p, m, score, fmt.Sprintf("%s: %s, written %s (%s)", d.columnsText(p.columns), what, p.format, why))
}

// spellsDays says whether a heading spells out d:hh:mm:ss.
func (d *detector) spellsDays(c int) bool {
	s := strings.ToLower(d.headingText(c))
	for _, w := range [...]string{"d:h", "dd:h", "ddd:h", "days:h", "t:h", "j:h", "g:h"} {
		if strings.Contains(s, w) {
			return true
		}
	}
	return false
}

// firstTime gives the first time of a column in seconds, -1 if there is none.
func (d *detector) firstTime(c int) int64 {
	for _, row := range d.t.Rows {
		if c >= len(row) {
			continue
		}
		b := trim(row[c])
		if how := d.cols[c].rewrite; how != asWritten {
			d.joined = colonised(d.joined[:0], b, how)
			b = d.joined
		}
		if s := &d.st; s.scan(b) && s.hasTime {
			return s.daySeconds
		}
	}
	return -1
}

// minutesAndSeconds decides whether two numbers with a colon are mm:ss or h:mm.
func (d *detector) minutesAndSeconds(c int) (minSec bool, why string) {
	q := &d.cols[c]
	switch {
	case q.clockish > 0:
		return false, "h:mm with AM/PM or zone"
	case q.says.minSec:
		return true, "mm:ss by its heading"
	case q.says.hourMin:
		return false, "hh:mm by its heading"
	case q.frac2 > 0:
		return true, "mm:ss, as the fraction shows"
	case q.maxFirst > 23:
		return true, fmt.Sprintf("mm:ss, as it reaches %d", q.maxFirst)
	case q.parts3 > 0:
		return true, "mm:ss below one hour, h:mm:ss above"
	}
	interval := d.s.IntervalS
	by := "--interval-s"
	if interval == 0 {
		interval, by = d.s.PreambleIntervalS, "the preamble's interval"
	}
	step := d.medianStepOf(c)
	if interval > 0 && step > 0 {
		asMin, asSec := float64(step), float64(step)/60
		switch {
		case near(asSec, interval):
			return true, "mm:ss by " + by
		case near(asMin, interval):
			return false, "h:mm by " + by
		}
	}
	if first := d.firstTime(c); first >= 0 && float64(first) <= max(float64(step), 60) && !q.says.ofDay {
		d.ask = append(d.ask, fmt.Sprintf("%s may be mm:ss or h:mm and starts at nought: taken as mm:ss; if it is h:mm, give the rows' interval with --interval-s", d.heading(c)))
		return true, "mm:ss or h:mm; taken as mm:ss because it starts at nought"
	}
	return false, "h:mm, as it does not start at nought"
}

func near(a, b float64) bool { return a > 0.95*b && a < 1.05*b }

// medianStepOf gives the median forward step of a column of h:mm, in seconds.
func (d *detector) medianStepOf(c int) int64 {
	var steps []int64
	last := int64(-1)
	for _, row := range d.t.Rows {
		if s := &d.st; c < len(row) && s.scan(trim(row[c])) && s.hasTime {
			if last >= 0 && s.daySeconds > last {
				steps = append(steps, s.daySeconds-last)
			}
			last = s.daySeconds
		}
	}
	if len(steps) == 0 {
		return 0
	}
	slices.Sort(steps)
	return steps[len(steps)/2]
}
