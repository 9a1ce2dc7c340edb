package clock

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// trend is how the numbers of one column run over the sample.
type trend struct {
	n             int
	forward, back int
	still         int
	ones          int     // steps of exactly one
	median        float64 // of the forward steps; of the backward ones where those prevail
	regular       float64 // share of the steps within a quarter of the median
	exact         float64 // share of the steps within a fiftieth of the median
	first         float64
}

func (d *detector) trend(c int) trend {
	var t trend
	steps := d.steps[:0]
	defer func() { d.steps = steps[:0] }()
	last := math.NaN()
	breaks := d.t.Breaks
	for i, v := range d.cols[c].values {
		for len(breaks) > 0 && breaks[0] <= i {
			if breaks[0] == i {
				last = math.NaN()
			}
			breaks = breaks[1:]
		}
		if v != v {
			continue
		}
		if t.n == 0 {
			t.first = v
		}
		t.n++
		switch s := v - last; {
		case s != s:
		case s == 0:
			t.still++
		default:
			if s > 0 {
				t.forward++
			} else {
				t.back++
			}
			if s == 1 {
				t.ones++
			}
			steps = append(steps, s)
		}
		last = v
	}
	if t.back > t.forward {
		for i := range steps {
			steps[i] = -steps[i]
		}
	}
	slices.Sort(steps)
	up := steps
	for len(up) > 0 && up[0] <= 0 {
		up = up[1:]
	}
	if len(up) > 0 {
		t.median = up[len(up)/2]
		close, equal := 0, 0
		for _, s := range up {
			if s >= 0.75*t.median && s <= 1.25*t.median {
				close++
			}
			if s >= 0.98*t.median && s <= 1.02*t.median {
				equal++
			}
		}
		all := float64(t.forward + t.back + t.still)
		t.regular, t.exact = float64(close)/all, float64(equal)/all
	}
	return t
}

// Ranges of counts since an epoch. Unix times of 2000-01-01 to 2059-12-31; seconds since 1904 of 1994 to 2040.
const (
	unixLo, unixHi   = 946684800.0, 2.84e9
	epochLo, epochHi = 2.84e9, 4.3e9
	seconds1904      = -2082844800 // 1904-01-01 in Unix seconds
	days1900         = 25569       // spreadsheet day 25569 of the 1900 system is 1970-01-01
	days1904         = 24107       // and 24107 of the 1904 system
)

// numbers proposes columns of numbers: elapsed times, counts since an epoch, spreadsheet days, sample numbers.
func (d *detector) numbers() {
	for c := range d.cols {
		q := &d.cols[c]
		if slices.Contains(d.used, c) {
			continue
		}
		if q.filled == 0 || q.numbers*5 < q.filled*4 && !(q.says.time && q.numbers*20 >= q.filled*11) {
			continue
		}
		if q.stamps*2 > q.looked || q.says.temp || q.says.other && !q.says.time {
			continue
		}
		d.number(c, false)
	}
}

// number proposes one column. named: the user said that it is the time.
func (d *detector) number(c int, named bool) {
	q := &d.cols[c]
	t := d.trend(c)
	if t.n == 0 {
		return
	}
	says := q.says
	p := &Plan{mode: modeNumber, columns: []int{c}, decimal: q.decimal, settings: d.s, epochSec: noEpoch}
	runs := t.forward > 4*t.back || t.back > 4*t.forward
	labelled := says.time || named
	switch {
	case (labelled || says.empty || says.index || runs && t.regular > 0.5) && d.sinceEpoch(p, c, t):
		return
	case (labelled || says.empty) && d.serial(p, c, t):
		return
	}
	whole := q.integers == q.numbers
	oneStep := whole && t.ones > 0 && t.ones*10 >= 9*(t.forward+t.back+t.still)
	index := !says.time && (says.index && whole && t.forward > 0 && t.back*10 <= t.forward || says.empty && d.t.Headed && oneStep)
	if oneStep && says.empty && !d.t.Headed && d.interval() > 0 && d.interval() != 1 {
		index = true
	}
	switch {
	case index && !named:
		d.index(p, c)
	case labelled:
		d.elapsed(p, c, t, 90)
	case says.empty && runs && d.looksLikeTime(c, t):
		// Nothing names it, but it runs on evenly as time does; the further left the likelier.
		d.elapsed(p, c, t, 60-2*float64(min(c, 10)))
	case c == 0 && !says.digits && t.back == 0 && t.still == 0 && t.forward >= 2 && t.exact >= 0.95 && d.fitsInterval(t) && d.onlyRegular(c):
		// The first column runs on evenly as no other does, under a heading that says nothing.
		if t.first != 0 {
			d.ask = append(d.ask, fmt.Sprintf("%s is taken for the time only because it runs on evenly: confirm it with --time %d", d.heading(c), c+1))
		}
		d.elapsed(p, c, t, 40)
		if n := len(d.out); n > 0 {
			d.out[n-1].Evidence += "; its heading says nothing, it is taken for the time because it alone runs on evenly"
		}
	case t.forward+t.back == 0 && says.index && t.n > 1:
		d.elapsed(p, c, t, 40)
	}
}

// interval is what flag or preamble name, s; the flag goes first.
func (d *detector) interval() float64 {
	if d.s.IntervalS > 0 {
		return d.s.IntervalS
	}
	return d.s.PreambleIntervalS
}

// sinceEpoch proposes a count since 1970 or 1904.
func (d *detector) sinceEpoch(p *Plan, c int, t trend) bool {
	q := &d.cols[c]
	unit, format := int64(0), ""
	epoch := int64(0)
	score := 92.0
	for _, u := range [...]struct {
		ns   int64
		word string
	}{{1e9, "s"}, {1e6, "ms"}, {1e3, "µs"}, {1, "ns"}} {
		if q.says.unit != 0 && q.says.unit != u.ns {
			continue
		}
		k := 1e9 / float64(u.ns)
		switch {
		case q.lo >= unixLo*k && q.hi < unixHi*k, q.says.unix && q.lo >= 0 && q.hi < unixHi*k && (u.ns == 1e9 || q.lo >= unixLo*k):
			unit, format = u.ns, "Unix time in "+u.word
		case u.ns == 1e9 && q.lo >= epochLo && q.hi < epochHi:
			unit, format = u.ns, "1904 epoch: seconds since 1904-01-01"
			epoch = seconds1904
			score = 85
		}
		if unit != 0 {
			break
		}
	}
	if unit == 0 {
		return false
	}
	if !q.says.time && !q.says.unix {
		score -= 10
	}
	p.kind, p.format, p.epochSec = Unix, format, epoch
	p.setUnit(unit)
	d.add(p, d.measure(p), score, fmt.Sprintf("%s: %s; the numbers lie in this century", d.heading(c), format))
	return true
}

// serial proposes spreadsheet days.
func (d *detector) serial(p *Plan, c int, t trend) bool {
	q := &d.cols[c]
	if q.says.unit != 0 && q.says.unit != day || q.lo < 0 || q.hi >= 73051 {
		return false
	}
	whole := q.lo >= 20000
	ofDay := q.hi < 1.5 && q.decimals >= 5 && q.says.unit == 0
	if !whole && !ofDay || t.median >= 1.5 {
		return false
	}
	// Days are told from seconds by what they give: whole seconds, within the digits written.
	hits, tries := 0, 0
	for _, row := range d.t.Rows {
		if c >= len(row) {
			continue
		}
		n, ok := readDecimal(row[c], q.decimal)
		ns, fits := n.ns(day)
		if !ok || !fits {
			continue
		}
		tries++
		half := 0.5 * 86400 / math.Pow(10, float64(max(n.dec, 0)))
		off := math.Abs(float64(floorMod(ns+second/2, second)-second/2)) / 1e9
		if n.dec >= 5 && off <= half*1.1+2e-6 {
			hits++
		}
	}
	if tries == 0 || hits*10 < 8*tries {
		if !(whole && q.says.dateWord && (q.decimals > 0 || t.still+t.forward == 0 || t.median >= 1)) {
			return false
		}
	}
	if ofDay {
		p.kind, p.format = Elapsed, "fraction of a day"
		p.setUnit(day)
		p.snap = true
		d.add(p, d.measure(p), 70, fmt.Sprintf("%s: fractions of a day; each gives whole seconds", d.heading(c)))
		return true
	}
	p.kind, p.format = Serial, "spreadsheet days (1900 system)"
	p.snap = true
	base := int64(days1900)
	if d.says1904(c) || d.starts1904(t.first) {
		base = days1904
		p.format = "spreadsheet days (1904 system)"
	}
	p.setUnit(day)
	p.epochSec = -base * 86400
	ev := fmt.Sprintf("%s: %s; each number gives whole seconds", d.heading(c), p.format)
	if base == days1900 {
		ev += "; in the 1904 system the date would be 1462 days later, the elapsed times the same"
	}
	d.add(p, d.measure(p), 85, ev)
	return true
}

func (d *detector) says1904(c int) bool {
	return c < len(d.t.Columns) && (strings.Contains(d.t.Columns[c].Heading, "1904") || strings.Contains(d.t.Columns[c].Unit, "1904"))
}

// starts1904 says whether only the 1904 system agrees with the start that the preamble names.
func (d *detector) starts1904(first float64) bool {
	if d.s.PreambleStart.IsZero() {
		return false
	}
	want := float64(d.s.PreambleStart.Unix()) / 86400
	return math.Abs(first-days1904-want) <= 1.5 && math.Abs(first-days1900-want) > 1.5
}

// index proposes a sample number.
func (d *detector) index(p *Plan, c int) {
	p.kind, p.format = Index, "sample number"
	iv := d.interval()
	ev := fmt.Sprintf("%s: a sample number that goes up by one", d.heading(c))
	score := 55.0
	switch {
	case d.s.IntervalS > 0:
		ev += fmt.Sprintf("; rows %s s apart by --interval-s", trimFloat(iv))
	case iv > 0:
		ev += fmt.Sprintf("; rows %s s apart by the preamble", trimFloat(iv))
	default:
		iv, score = 1, 20
		ev += "; nothing names the interval"
		d.ask = append(d.ask, fmt.Sprintf("%s is a sample number and nothing names the interval between rows: give it with --interval-s", d.heading(c)))
	}
	p.setUnit(intervalNs(iv))
	d.add(p, d.measure(p), score, ev)
}

func intervalNs(s float64) int64 {
	return int64(max(1, min(math.Round(s*1e9), maxNs/1e6)))
}

// rowCounter proposes the rows themselves, when an interval is named.
func (d *detector) rowCounter() {
	iv := d.interval()
	if iv <= 0 {
		return
	}
	by := "--interval-s"
	score := 15.0
	if d.s.IntervalS == 0 {
		by, score = "the preamble", 12
	}
	p := &Plan{kind: Index, mode: modeRows, format: "rows counted", settings: d.s}
	p.setUnit(intervalNs(iv))
	d.add(p, d.measure(p), score, fmt.Sprintf("no column needed: rows %s s apart by %s", trimFloat(iv), by))
}

// elapsed proposes a count of seconds, milliseconds, minutes or hours since some start.
func (d *detector) elapsed(p *Plan, c int, t trend, score float64) {
	q := &d.cols[c]
	unit, why := q.says.unit, "unit named by the heading"
	if unit == 0 {
		asked := len(d.ask)
		unit, why = d.unitByStep(c, t)
		p.asked = len(d.ask) > asked
		p.taken = why == unitTaken
	} else if iv := d.s.PreambleIntervalS; iv > 0 && t.median > 0 && !near(t.median*float64(unit)/1e9, iv) {
		why += fmt.Sprintf("; the preamble's interval of %s s does not agree", trimFloat(iv))
	}
	p.kind = Elapsed
	p.setUnit(unit)
	p.format = unitWords(unit) + " since the start"
	score -= 15 * (1 - t.regular)
	d.add(p, d.measure(p), score, fmt.Sprintf("%s: %s (%s)", d.heading(c), p.format, why))
}

func unitWords(ns int64) string {
	switch ns {
	case 1:
		return "nanoseconds"
	case 1e3:
		return "microseconds"
	case 1e6:
		return "milliseconds"
	case 1e9:
		return "seconds"
	case 60e9:
		return "minutes"
	case 3600e9:
		return "hours"
	}
	return "days"
}

// natural intervals that loggers are set to, s
var intervals = [...]float64{0.001, 0.002, 0.005, 0.01, 0.02, 0.025, 0.04, 0.05, 0.1, 0.2, 0.25, 0.4, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 30, 45, 60, 90, 120, 150, 180, 240, 300, 360, 450, 600, 900, 1200, 1800, 2700, 3600,
	7200, 10800, 14400, 21600, 43200, 86400}

func natural(s float64) bool {
	for _, iv := range intervals {
		if s >= 0.98*iv && s <= 1.02*iv {
			return true
		}
	}
	return false
}

// unitByStep finds the unit of an unlabelled elapsed time from the interval that is named, or from the usual step. Seconds
// where nothing speaks against them.
func (d *detector) unitByStep(c int, t trend) (ns int64, why string) {
	m := t.median
	units := [...]int64{1e9, 1e6, 60e9, 3600e9, 1e3, day}
	if iv := d.interval(); iv > 0 && m > 0 {
		by := "--interval-s"
		if d.s.IntervalS == 0 {
			by = "the preamble's interval"
		}
		for _, u := range units {
			if near(m*float64(u)/1e9, iv) {
				return u, fmt.Sprintf("unit %s by %s", unitWords(u), by)
			}
		}
	}
	q := &d.cols[c]
	whole := q.integers == q.numbers
	switch {
	case m <= 0:
	case whole && m >= 90_000 && natural(m/1e6):
		return 1e3, fmt.Sprintf("no unit named; steps of %s are taken for microseconds", trimFloat(m))
	case whole && m >= 150 && natural(m/1e3) && !natural(m):
		return 1e6, fmt.Sprintf("no unit named; steps of %s are a usual interval in milliseconds and none in seconds", trimFloat(m))
	case whole && m >= 150 && natural(m/1e3) && d.jitters(c, m):
		return 1e6, fmt.Sprintf("no unit named; steps near %s that vary by less than a hundredth are taken for milliseconds", trimFloat(m))
	case whole && (m == 50 || m == 100):
		d.ask = append(d.ask, fmt.Sprintf("%s names no unit: steps of %s are taken for seconds, but may be milliseconds; give the rows' interval with --interval-s", d.heading(c), trimFloat(m)))
	case !whole && q.decimals >= 3 && !natural(m) && natural(m*60):
		return 60e9, fmt.Sprintf("no unit named; steps of %s are a usual interval in minutes and none in seconds", trimFloat(m))
	case !whole && q.decimals >= 4 && !natural(m) && natural(m*3600):
		return 3600e9, fmt.Sprintf("no unit named; steps of %s are a usual interval in hours and none in seconds", trimFloat(m))
	case !whole && q.decimals >= 5 && !natural(m) && natural(m*86400):
		return day, fmt.Sprintf("no unit named; steps of %s are a usual interval in days and none in seconds", trimFloat(m))
	}
	return 1e9, unitTaken
}

const unitTaken = "no unit named: taken as seconds"

// jitters says whether whole steps vary a little round a large median, as a millisecond counter's do.
func (d *detector) jitters(c int, m float64) bool {
	last, odd, n := math.NaN(), 0, 0
	for _, v := range d.cols[c].values {
		if v != v {
			continue
		}
		if s := v - last; s == s {
			n++
			if s != m && math.Abs(s-m) < 0.02*m {
				odd++
			}
		}
		last = v
	}
	return n >= 4 && odd*4 > n
}

// looksLikeTime judges a column without a heading: a rising probe must not be taken for a clock. It begins at nought or
// within one step of it, or its steps are all but equal and no other column's are. Where the interval is known, the steps have to agree with it.
func (d *detector) looksLikeTime(c int, t trend) bool {
	if !d.fitsInterval(t) {
		return false
	}
	if t.first >= 0 && t.first <= 1.02*t.median && t.regular >= 0.7 {
		return true
	}
	return t.exact >= 0.8 && d.onlyRegular(c)
}

// fitsInterval says whether the usual step is the interval that flag or preamble name, in some unit; true where none is named.
func (d *detector) fitsInterval(t trend) bool {
	iv := d.interval()
	if iv <= 0 {
		return true
	}
	for _, u := range [...]float64{1, 1e-3, 60, 3600, 1e-6, 86400} {
		if near(t.median*u, iv) {
			return true
		}
	}
	return false
}

// onlyRegular says whether no other column of numbers runs on as evenly as column c.
func (d *detector) onlyRegular(c int) bool {
	for k := range d.cols {
		if k == c || d.cols[k].numbers == 0 {
			continue
		}
		if t := d.trend(k); t.exact >= 0.8 && t.back == 0 {
			return false
		}
	}
	return true
}
