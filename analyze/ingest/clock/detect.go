package clock

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Detect finds the columns that carry time. It always returns a Detection; no candidates means that the
// caller has to ask for --time or --interval-s.
func Detect(t Table, s Settings) Detection {
	if s.Decimal == 0 {
		s.Decimal = '.'
	}
	d := detector{t: t, s: s}
	d.profile()
	switch {
	case len(s.Columns) > 0:
		d.named()
	default:
		d.stamps()
		d.parts()
		d.numbers()
		d.rowCounter()
	}
	return d.result()
}

type detector struct {
	t    Table
	s    Settings
	cols []profile
	out  []Candidate
	ask  []string
	used []int // columns that belong to a clock in parts
	st   stamp
	// reused by every measurement
	steps  []float64
	joined []byte
}

// profile is what the sample shows of one column.
type profile struct {
	says        headingSays
	filled      int
	looked      int // cells that were looked at as stamps, or would have been were they no numbers
	numbers     int
	stamps      int   // cells that scan as a date, a time or a length of time
	dates       int   // with a date
	times       int   // with a time
	halves      int   // nothing but AM or PM
	months      int   // cells with a month's name that are no full date
	hasTime     stamp // a stamp with a time, for its form
	maxFirst    int64 // largest first number of a two-part time
	parts2      int   // stamps of two-part times
	parts3      int
	frac2       int // two-part times with a fraction
	lengths     int // stamps that can only be lengths of time
	clockish    int // stamps with AM/PM or zone
	lo, hi      float64
	decimals    int
	integers    int
	decimal     byte      // decimal mark of this column
	values      []float64 // the number in each row, NaN where there is none
	rewrite     rewrite   // the column is a time without colons
	notMidnight bool      // some time is not 0:00
	known       bool      // rewrite was looked into
	fours       int       // stamps that may be d:hh:mm:ss
	fourth      int32     // largest fourth number of those
}

// stampLook is how many cells of a column are looked at before it is given up as no stamp.
const stampLook = 12

func (d *detector) profile() {
	width := len(d.t.Columns)
	for _, row := range d.t.Rows {
		width = max(width, len(row))
	}
	d.cols = make([]profile, width)
	values := make([]float64, width*len(d.t.Rows))
	for c := range d.cols {
		p := &d.cols[c]
		p.says.empty = true
		if c < len(d.t.Columns) {
			p.says = readHeading(d.t.Columns[c].Heading, d.t.Columns[c].Unit)
		}
		p.values, values = values[:len(d.t.Rows)], values[len(d.t.Rows):]
		other := byte('.')
		if d.s.Decimal == '.' {
			other = ','
		}
		// A column may have a decimal mark of its own; it has if more of its cells are numbers then.
		if failed := d.readColumn(c, d.s.Decimal); failed > 0 {
			q := *p
			if d.readColumn(c, other) >= failed {
				*p = q
				d.readColumn(c, d.s.Decimal)
			}
		}
		d.readStamps(c)
	}
}

// readColumn reads a column's cells as numbers with the given decimal mark. It gives how many cells hold a point or a comma and are none.
func (d *detector) readColumn(c int, decimal byte) (failed int) {
	p := &d.cols[c]
	p.decimal = decimal
	p.filled, p.numbers, p.decimals, p.integers = 0, 0, 0, 0
	for i, row := range d.t.Rows {
		p.values[i] = math.NaN()
		if c >= len(row) || len(row[c]) == 0 {
			continue
		}
		b := trim(row[c])
		if len(b) == 0 {
			continue
		}
		p.filled++
		n, ok := readDecimal(b, decimal)
		if !ok {
			if bytes.IndexByte(b, '.') >= 0 || bytes.IndexByte(b, ',') >= 0 {
				failed++
			}
			continue
		}
		p.numbers++
		v := n.float()
		p.values[i] = v
		if p.numbers == 1 {
			p.lo, p.hi = v, v
		}
		p.lo, p.hi = min(p.lo, v), max(p.hi, v)
		p.decimals = max(p.decimals, n.dec)
		if n.dec <= 0 {
			p.integers++
		}
	}
	return failed
}

// readStamps reads those cells of a column that are no plain numbers as dates and times.
func (d *detector) readStamps(c int) {
	p := &d.cols[c]
	p.looked = p.filled
	gluedDates := p.integers > 0 && p.hi >= 1.9e7
	if p.numbers == p.filled && !gluedDates {
		return
	}
	failed := 0
	p.looked = 0
	for i, row := range d.t.Rows {
		if c >= len(row) {
			continue
		}
		// The first rows, the last, and every fourth between are enough to know a column by.
		if i >= 16 && i&3 != 0 && i != len(d.t.Rows)-1 {
			continue
		}
		b := trim(row[c])
		if len(b) == 0 {
			continue
		}
		p.looked++
		if v := p.values[i]; v == v && !(gluedDates && (len(b) == 8 || len(b) == 12 || len(b) == 14 || len(b) == 17) && glued(b)) {
			continue
		}
		if p.stamps == 0 && failed >= stampLook {
			return
		}
		s := &d.st
		if !s.scan(b) {
			failed++
			if len(b) <= maxStamp && p.stamps == 0 {
				p.looseWords(b)
			}
			continue
		}
		p.stamps++
		if s.hasDate {
			p.dates++
		}
		if !s.hasTime {
			continue
		}
		p.times++
		p.hasTime = *s
		p.notMidnight = p.notMidnight || s.daySeconds != 0
		switch {
		case s.worded || s.signed || s.hasDays || s.hour > 24:
			p.lengths++
		case s.half != noHalf || s.hasZone:
			p.clockish++
		}
		if s.four {
			p.fours++
		}
		switch {
		case s.worded:
		case s.timeParts == 2:
			p.parts2++
			p.maxFirst = max(p.maxFirst, s.first)
			if s.fracDigits > 0 {
				p.frac2++
			}
		case s.timeParts == 3:
			p.parts3++
		}
	}
}

func (p *profile) looseWords(b []byte) {
	var t [maxTokens]token
	n, ok := tokens(b, &t)
	if !ok {
		return
	}
	if h, next := halfAt(b, t[:n], 0); h != noHalf && next == n {
		p.halves++
		return
	}
	var buf [24]byte
	for _, tk := range t[:n] {
		if tk.kind == tokWord && monthOf(fold(b[tk.from:tk.to], &buf)) > 0 {
			p.months++
			return
		}
	}
}

// glued says whether a run of digits starts with a year of this or the last century.
func glued(b []byte) bool {
	return b[0] == '2' && b[1] == '0' || b[0] == '1' && b[1] == '9'
}

func (d *detector) most(n, filled int) bool { return filled > 0 && n*10 >= filled*8 }

func (d *detector) heading(c int) string {
	if c < len(d.t.Columns) {
		if h := strings.TrimSpace(d.t.Columns[c].Heading); h != "" {
			return fmt.Sprintf("column %d (%s)", c+1, shorten(h))
		}
	}
	return fmt.Sprintf("column %d", c+1)
}

func shorten(s string) string {
	if len(s) <= 40 {
		return s
	}
	cut := 40
	for cut > 0 && s[cut]&0xC0 == 0x80 {
		cut--
	}
	return s[:cut] + "…"
}

// stamps proposes columns, and groups of columns, that hold dates and times.
func (d *detector) stamps() {
	var dates, times, full []int
	for c := range d.cols {
		p := &d.cols[c]
		switch {
		case d.rewriteOf(c) != asWritten:
			times = append(times, c)
		case d.most(p.dates, p.looked) && p.times > 0:
			full = append(full, c)
		case d.most(p.dates, p.looked):
			dates = append(dates, c)
		case d.most(p.times, p.looked) && p.dates == 0 && p.numbers*2 < p.filled:
			times = append(times, c)
		}
	}
	for _, c := range full {
		// A date that always says midnight belongs to the time beside it.
		if t := nearest(times, c); t >= 0 && !d.cols[c].notMidnight && d.cols[c].rewrite == asWritten {
			d.cols[c].rewrite = dateOnly
			d.dateTime([]int{min(c, t), max(c, t)})
			d.cols[c].rewrite = asWritten
		}
		d.dateTime([]int{c})
	}
	for _, c := range times {
		if near := nearest(dates, c); near >= 0 {
			cols := []int{min(near, c), max(near, c)}
			if h := d.halfColumn(c); h >= 0 {
				cols = append(cols, h)
				slices.Sort(cols)
			}
			d.dateTime(cols)
		}
		d.timeOnly(c)
	}
	if len(full) == 0 && (len(dates) == 0 || len(times) == 0) {
		d.joins(dates)
	}
	for _, c := range dates {
		d.dateTime([]int{c})
	}
}

// rewriteOf says whether a column is a time of day without colons, which alone would be read as a date or as a number.
func (d *detector) rewriteOf(c int) rewrite {
	p := &d.cols[c]
	if p.known {
		return p.rewrite
	}
	p.known = true
	if p.filled == 0 || p.says.other {
		return asWritten
	}
	dots, six, four, noughts := 0, 0, 0, 0
	for _, row := range d.t.Rows {
		if c >= len(row) {
			continue
		}
		b := trim(row[c])
		switch {
		case len(b) == 0:
			continue
		case dottedTime(b):
			dots++
		}
		if gluedTime(b, glued6) {
			six++
			if len(b) >= 6 && b[0] == '0' {
				noughts++
			}
		}
		if gluedTime(b, glued4) {
			four++
		}
		if dots+six+four == 0 {
			return asWritten
		}
	}
	switch {
	case dots == p.filled:
		as := Plan{kind: TimeOfDay, mode: modeStamp, columns: []int{c}, decimal: p.decimal, settings: d.s, rolls: true, rewrite: dotted, rewritten: c}
		m := d.measureOnce(&as)
		if m.bad > 0 {
			break
		}
		if !p.says.ofDay && !p.says.elapsed {
			// As dates they would have to run on better.
			date := Plan{kind: DateTime, mode: modeStamp, columns: []int{c}, decimal: p.decimal, settings: d.s}
			n := d.measureOnce(&date)
			if m.backwards > 0 || m.forward == 0 || n.bad == 0 && n.backwards == 0 && n.medianS < 20*86400 {
				break
			}
		}
		p.rewrite = dotted
	case p.says.glued6 && six == p.filled, six == p.filled && p.says.unit == 0 && (p.says.time || p.says.ofDay) && p.integers > 0 &&
		(noughts == p.filled || p.says.ofDay && p.hi >= 1e4 || p.hi >= 1e4 && d.dateBeside(c)):
		p.rewrite = glued6
	case p.says.glued4 && four == p.filled:
		p.rewrite = glued4
	}
	if p.rewrite != asWritten {
		p.stamps, p.times, p.looked, p.dates, p.numbers = p.filled, p.filled, p.filled, 0, 0
		for _, row := range d.t.Rows {
			if c < len(row) {
				d.joined = colonised(d.joined[:0], trim(row[c]), p.rewrite)
				if p.hasTime.scan(d.joined) {
					break
				}
			}
		}
	}
	return p.rewrite
}

// dateBeside says whether the column before or behind holds dates alone.
func (d *detector) dateBeside(c int) bool {
	for _, k := range [2]int{c - 1, c + 1} {
		if k >= 0 && k < len(d.cols) && d.most(d.cols[k].dates, d.cols[k].looked) && d.cols[k].times == 0 {
			return true
		}
	}
	return false
}

// halfColumn finds a column of AM and PM right behind a time.
func (d *detector) halfColumn(c int) int {
	if c+1 < len(d.cols) && d.most(d.cols[c+1].halves, min(d.cols[c+1].looked, stampLook)) {
		return c + 1
	}
	return -1
}

func nearest(list []int, c int) int {
	best := -1
	for _, x := range list {
		if best < 0 || abs(x-c) < abs(best-c) {
			best = x
		}
	}
	return best
}

func abs(x int) int {
	if x < 0 {
		return -x
	}
	return x
}

// joins tries neighbouring columns that give a date and time only when put together, as when the delimiter stands inside the date.
func (d *detector) joins(dates []int) {
	words := false
	for c := range d.cols {
		words = words || d.cols[c].months > 0 || d.cols[c].stamps > 0 || d.cols[c].halves > 0
	}
	if !words {
		return // numbers alone: years, months and days apart are looked for elsewhere
	}
	for c := 0; c < len(d.cols) && c < 12; c++ {
		p := &d.cols[c]
		if p.filled == 0 || p.months == 0 && p.dates == 0 && p.numbers < p.filled && p.stamps == 0 && !p.weekday(d, c) {
			continue
		}
		for width := 2; width <= 6 && c+width <= len(d.cols); width++ {
			cols := make([]int, width)
			for i := range cols {
				cols[i] = c + i
			}
			hits, tries := 0, 0
			for _, row := range d.t.Rows {
				if tries == stampLook {
					break
				}
				d.joined = d.joinCells(row, cols, nil)
				b := trim(d.joined)
				if len(b) == 0 || len(b) > maxStamp {
					continue
				}
				tries++
				if s := &d.st; s.scan(b) && s.hasDate && s.hasTime {
					hits++
				}
			}
			if tries > 0 && hits == tries {
				// a following column of AM and PM belongs to it
				if h := d.halfColumn(c + width - 1); h >= 0 {
					cols = append(cols, h)
				}
				d.dateTime(cols)
				return
			}
		}
	}
}

func (p *profile) weekday(d *detector, c int) bool {
	for _, row := range d.t.Rows {
		if c < len(row) {
			var buf [24]byte
			b := trim(row[c])
			for len(b) > 0 && (b[len(b)-1] == '.' || b[len(b)-1] == ',') {
				b = b[:len(b)-1]
			}
			return len(b) > 0 && isFiller(fold(b, &buf))
		}
	}
	return false
}

// joinCells puts the cells of some columns together with blanks, as a reader of plan p does; p may be nil.
func (d *detector) joinCells(row [][]byte, cols []int, p *Plan) []byte {
	b := d.joined[:0]
	for i, c := range cols {
		if i > 0 {
			b = append(b, ' ')
		}
		if c >= len(row) {
			continue
		}
		if p != nil && p.rewrite != asWritten && p.rewritten == c {
			b = colonised(b, trim(row[c]), p.rewrite)
			continue
		}
		b = append(b, trim(row[c])...)
	}
	return b
}

// dateTime proposes columns as a date with time of day.
func (d *detector) dateTime(cols []int) {
	p := &Plan{kind: DateTime, mode: modeStamp, columns: cols, decimal: d.s.Decimal, settings: d.s}
	if len(cols) > 1 {
		for _, c := range cols {
			if how := d.rewriteOf(c); how != asWritten {
				p.rewrite, p.rewritten = how, c
			}
		}
	}
	var form stamp
	found := false
	dateOnly := true
	for _, row := range d.t.Rows {
		s := &d.st
		d.joined = d.joinCells(row, cols, p)
		if s.scan(trim(d.joined)) && s.hasDate {
			if !found || s.hasTime && !form.hasTime {
				form = *s
			}
			found = true
			if s.hasTime {
				dateOnly = false
				break
			}
		}
	}
	if !found {
		return
	}
	for _, c := range cols {
		if c < len(d.t.Columns) && p.settings.HeadingOrder == AnyOrder {
			p.settings.HeadingOrder = headingOrder(d.t.Columns[c].Heading + " " + d.t.Columns[c].Unit)
		}
	}
	if k := orderIndex(d.s.Order); k >= 0 {
		p.choice = k
	} else {
		p.choice = firstOrder(form.valid)
	}
	cols2 := cols
	if !dateOnly && form.fracDigits == 0 && form.timeParts == 3 {
		last := cols[len(cols)-1]
		if c := last + 1; c < len(d.cols) {
			q := &d.cols[c]
			if q.says.millis && q.numbers == q.filled && q.filled > 0 && q.lo >= 0 && q.hi < 1000 && !q.says.other && !q.says.elapsed {
				cols2 = append(slices.Clone(cols), c)
				p.fraction = true
				p.columns = cols2
				p.decimal = q.decimal
			}
		}
	}
	// Let the sample settle the order, and read it again in that order if it is another.
	m := d.measure(p)
	v := m.reader.stats.decide(p.settings, p.choice)
	if v.numeric && v.choice != p.choice {
		p.choice, p.descending = v.choice, false
		m = d.measure(p)
		v = m.reader.stats.decide(p.settings, p.choice)
	}
	p.format = describe(&form, p.choice, false)
	if p.fraction {
		p.format += " and milliseconds"
	}
	if v.numeric {
		p.order, p.open = orderNames[p.choice], v.open
	}
	score := 100.0
	if dateOnly {
		score = 30
	}
	ev := fmt.Sprintf("%s: dates with time of day, written %s", d.columnsText(cols2), p.format)
	if dateOnly {
		ev = fmt.Sprintf("%s: dates without time of day, written %s", d.columnsText(cols2), p.format)
	}
	d.add(p, m, score, ev)
}

func (d *detector) columnsText(cols []int) string {
	if len(cols) == 1 {
		return d.heading(cols[0])
	}
	parts := make([]string, len(cols))
	for i, c := range cols {
		parts[i] = fmt.Sprint(c + 1)
	}
	return "columns " + strings.Join(parts, ", ")
}

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
		p.minSec, why = d.minutesAndSeconds(c)
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

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

func (d *detector) headingText(c int) string {
	if c < len(d.t.Columns) {
		return d.t.Columns[c].Heading + " " + d.t.Columns[c].Unit
	}
	return ""
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

// measured is how a plan did on the sample.
type measured struct {
	reader                    *Reader
	ok, bad, blank            int
	forward, still, backwards int
	medianS, durationS        float64
}

// measure reads the sample and sees how the clock runs; newest row first is found here.
func (d *detector) measure(p *Plan) measured {
	m := d.measureOnce(p)
	if m.backwards < 2 || m.backwards <= m.forward {
		return m
	}
	p.descending = true
	n := d.measureOnce(p)
	n.forward, n.backwards = n.backwards, n.forward
	if n.backwards*10 > n.forward {
		p.descending = false
		return m
	}
	return n
}

func (d *detector) measureOnce(p *Plan) measured {
	m := measured{reader: p.Reader()}
	r := m.reader
	steps := d.steps[:0]
	last, have := 0.0, false
	var few [8][]byte
	cells := append(few[:0], make([][]byte, len(p.columns))...)
	breaks := d.t.Breaks
	for i, row := range d.t.Rows {
		for len(breaks) > 0 && breaks[0] <= i {
			if breaks[0] == i {
				r.breakHere()
				have = false
			}
			breaks = breaks[1:]
		}
		for k, c := range p.columns {
			cells[k] = nil
			if c < len(row) {
				cells[k] = row[c]
			}
		}
		s, st := r.Parse(cells)
		switch st {
		case Bad:
			m.bad++
			continue
		case Blank:
			m.blank++
			continue
		}
		m.ok++
		if have {
			switch step := s - last; {
			case step > 0:
				m.forward++
				steps = append(steps, step)
			case step < 0:
				m.backwards++
				if p.descending {
					steps = append(steps, -step)
				}
			default:
				m.still++
			}
		}
		last, have = s, true
		m.durationS = max(m.durationS, s, -s)
	}
	if len(steps) > 0 {
		slices.Sort(steps)
		m.medianS = steps[len(steps)/2]
	}
	d.steps = steps
	return m
}

// add books a candidate with the score that its running earns.
func (d *detector) add(p *Plan, m measured, score float64, evidence string) {
	if m.ok == 0 || m.ok*10 < (m.ok+m.bad)*6 && len(d.s.Columns) == 0 {
		return
	}
	c := Candidate{Plan: p, Evidence: evidence, durationS: m.durationS}
	steps := m.forward + m.still + m.backwards
	if m.bad > 0 {
		score -= 40 * float64(m.bad) / float64(m.ok+m.bad)
		c.Evidence += fmt.Sprintf("; %d of %d sampled cells do not read so", m.bad, m.ok+m.bad)
	}
	if m.blank > 0 {
		score -= 30 * float64(m.blank) / float64(m.ok+m.bad+m.blank)
		c.Evidence += fmt.Sprintf("; %d sampled rows have it blank", m.blank)
	}
	switch {
	case steps > 0 && m.forward == 0 && m.backwards == 0:
		c.Dead = true
		score -= 1000
		c.Evidence += fmt.Sprintf("; it never advances in %d sampled rows", m.ok)
	case steps > 0:
		if m.still > 0 {
			score -= 40 * float64(m.still) / float64(steps)
			c.Evidence += fmt.Sprintf("; %d of %d steps repeat the time before", m.still, steps)
		}
		if m.backwards > 0 {
			score -= 60 * float64(m.backwards) / float64(steps)
			c.Evidence += fmt.Sprintf("; %d of %d steps go back", m.backwards, steps)
		}
	}
	if q := p.quantum(d); q > 0 && m.medianS > 0 {
		score -= 12 * min(1, q/m.medianS)
	}
	if m.medianS > 0 {
		c.Evidence += fmt.Sprintf("; usual step %s s", trimFloat(m.medianS))
	}
	if len(p.columns) > 0 {
		score -= 0.05 * float64(min(p.columns[0], 100))
	}
	if p.descending {
		c.Evidence += "; newest row first"
	}
	c.Score = score
	d.out = append(d.out, c)
}

func trimFloat(v float64) string {
	return fmt.Sprintf("%.6g", v)
}

// quantum is the smallest step that a plan's notation can show, s; 0 if unknown.
func (p *Plan) quantum(d *detector) float64 {
	q := 0.0
	switch p.mode {
	case modeStamp:
		c := p.columns[len(p.columns)-1]
		for _, k := range p.columns {
			if d.cols[k].times > 0 {
				c = k
			}
		}
		s := &d.cols[c].hasTime
		q = 1
		if s.timeParts == 2 && !p.minSec && !s.worded {
			q = 60
		}
		if p.fraction {
			q = 0.001
		}
		for range s.fracDigits {
			q /= 10
		}
	case modeNumber:
		q = float64(p.unit) / 1e9
		for range max(0, d.cols[p.columns[0]].decimals) {
			q /= 10
		}
	case modeParts:
		q = 1
	}
	return q
}

// result sorts the candidates and collects what is open.
func (d *detector) result() Detection {
	slices.SortStableFunc(d.out, func(a, b Candidate) int {
		switch {
		case a.Score > b.Score:
			return -1
		case a.Score < b.Score:
			return 1
		}
		return 0
	})
	d.disagreement()
	out := Detection{Candidates: d.out, Dated: -1}
	for i, c := range d.out {
		if k := c.Plan.kind; !c.Dead && (k == DateTime || k == Parts || k == Serial || k == Unix) {
			out.Dated = i
			break
		}
	}
	if len(d.out) > 0 && !d.out[0].Dead {
		// questions concern the candidate that is used
		for _, q := range d.ask {
			if cols := d.out[0].Plan.columns; len(cols) > 0 && strings.HasPrefix(q, d.columnsText(cols)+" ") {
				out.Questions = append(out.Questions, q)
			}
		}
	}
	return out
}

// disagreement compares the best clock with the others that run: two that do not tell the same length of time are a question.
func (d *detector) disagreement() {
	if len(d.out) < 2 || d.out[0].Dead || len(d.out[0].Plan.columns) == 0 {
		return
	}
	best := &d.out[0]
	for i := range d.out[1:] {
		o := &d.out[i+1]
		if o.Dead || o.Score < 65 || len(o.Plan.columns) == 0 || slices.Contains(best.Plan.columns, o.Plan.columns[0]) {
			continue
		}
		a, b := best.durationS, o.durationS
		if math.Abs(a-b) <= 0.05*max(a, b)+2*max(best.Plan.quantum(d), o.Plan.quantum(d)) {
			continue
		}
		best.Evidence += fmt.Sprintf("; %s counts %s s where this counts %s s", d.columnsText(o.Plan.columns), trimFloat(b), trimFloat(a))
		d.ask = append(d.ask, fmt.Sprintf("%s and %s tell different times (%s s and %s s over the sampled rows): name the right one with --time",
			d.columnsText(best.Plan.columns), d.columnsText(o.Plan.columns), trimFloat(a), trimFloat(b)))
		return
	}
}
