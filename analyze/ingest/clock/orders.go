package clock

import "fmt"

// orderStats gathers, at every change of date, how well each order of day and month fits the column.
type orderStats struct {
	broken  bool
	any     bool // a numeric date that orders read differently was seen
	rows    int  // dates noted
	invalid [orders]int
	begun   [orders]bool
	first   [orders]int64
	last    [orders]int64
	offsetN [orders]bool // the order gives other elapsed times than the order in use
	changes int
	back    [orders]int // dates that run against the clock's direction
	night   [orders]int // rows of a new date that come at most 18 hours after the row before
	near    [orders]int // dates at most four days after the one before
	year    [orders]int // dates 200 days or more after the one before
	far     [orders]int // dates twenty days or more after the one before
	sep     byte
	half    bool
	year4   bool
}

// note takes one date into the counts. It says whether the order in use can read it.
func (o *orderStats) note(s *stamp, p *Plan, timeOfDay int64) bool {
	direction := int64(1)
	if p.descending {
		direction = -1
	}
	broken := o.broken
	o.broken = false
	inUse := s.valid&(1<<p.choice) != 0
	if s.fixed && !o.any {
		return inUse
	}
	o.any = true
	o.sep = s.dateSep
	o.half = o.half || s.half != noHalf
	o.year4 = o.year4 || s.yearLast
	o.rows++
	changed := false
	for i := range orders {
		if s.valid&(1<<i) == 0 {
			o.invalid[i]++
			continue
		}
		if !o.begun[i] {
			o.begun[i] = true
			o.first[i], o.last[i] = s.days[i], s.days[i]
			continue
		}
		d := s.days[i] - o.last[i]
		if d == 0 {
			continue
		}
		changed = true
		if p.descending {
			d = -d
		}
		switch {
		case d < 0:
			o.back[i]++
		case broken:
		default:
			if step := d*day + (s.daySeconds*second-timeOfDay)*direction; step <= 18*3600*second {
				o.night[i]++
			}
			if d <= 4 {
				o.near[i]++
			}
			if d >= 200 {
				o.year[i]++
			}
			if d >= 20 {
				o.far[i]++
			}
		}
		o.last[i] = s.days[i]
	}
	if changed && !broken {
		o.changes++
	}
	if inUse {
		for i := range orders {
			if s.valid&(1<<i) != 0 && o.begun[p.choice] && s.days[i]-o.first[i] != s.days[p.choice]-o.first[p.choice] {
				o.offsetN[i] = true
			}
		}
	}
	return inUse
}

// orderVerdict is what the counts say.
type orderVerdict struct {
	numeric  bool // there were dates whose order matters
	choice   int
	open     uint8 // orders that remain possible, the choice included
	decided  bool
	same     bool // orders remain, but all give the same elapsed times
	alt      int  // the runner-up that remains, -1 if none
	evidence string
	question string
}

var orderWords = [orders]string{"day first (dd/mm)", "month first (mm/dd)", "year first (yy/mm/dd)"}

// decide weighs the counts. inUse is the order that elapsed times were compared with.
func (o *orderStats) decide(s Settings, inUse int) orderVerdict {
	v := orderVerdict{choice: inUse, alt: -1, decided: true}
	if !o.any {
		return v
	}
	v.numeric = true
	if k := orderIndex(s.Order); k >= 0 {
		v.choice, v.open = k, 1<<k
		v.evidence = "order named by --date-order"
		if o.invalid[k] > 0 {
			v.evidence += fmt.Sprintf("; %d dates cannot be read in it", o.invalid[k])
		}
		return v
	}
	least := o.invalid[dmy]
	for _, n := range o.invalid {
		least = min(least, n)
	}
	for i, n := range o.invalid {
		if n == least && o.begun[i] {
			v.open |= 1 << i
		}
	}
	if v.open == 0 {
		v.open = 1 << inUse
	}
	if rest := v.open &^ (1 << ymd); rest != 0 && o.sep != '-' && o.sep != 0 && o.changes == o.near[firstOrder(rest)] {
		v.open = rest // a two-digit year stands first before hyphens only (common practice, no source), unless the dates ask for it
	}
	if k, one := only(v.open); one {
		v.choice = k
		v.evidence = fmt.Sprintf("%s: the only order in which all %d dates exist", orderWords[k], o.rows)
		if least > 0 {
			v.evidence = fmt.Sprintf("%s: all but %d of %d dates exist in it, more than in any other order", orderWords[k], least, o.rows)
		}
		return v
	}
	if k := orderIndex(s.HeadingOrder); k >= 0 && v.open&(1<<k) != 0 {
		v.choice, v.open = k, 1<<k
		v.evidence = orderWords[k] + ": the heading spells it out"
		return v
	}
	// keep the orders that score best in one count; true when one is left
	keep := func(count *[orders]int, most bool) bool {
		best, first := 0, true
		for i, n := range count {
			if v.open&(1<<i) == 0 {
				continue
			}
			if first || most && n > best || !most && n < best {
				best, first = n, false
			}
		}
		for i, n := range count {
			if n != best {
				v.open &^= 1 << i
			}
		}
		k, one := only(v.open)
		if one {
			v.choice = k
		}
		return one
	}
	if keep(&o.back, false) {
		v.evidence = fmt.Sprintf("%s: the order in which the dates run on (steps back: %s)", orderWords[v.choice], o.counts(&o.back))
		return v
	}
	if o.changes > 0 {
		all, none, years := uint8(0), uint8(0), true
		for i := range orders {
			years = years && (v.open&(1<<i) == 0 || o.near[i] == o.changes || o.year[i] > 0)
		}
		for i := range orders {
			switch {
			case v.open&(1<<i) == 0:
			case o.night[i] == o.changes, (o.changes >= 2 || years) && o.near[i] == o.changes:
				all |= 1 << i
			case o.far[i] > 0:
				none |= 1 << i
			}
		}
		if k, one := only(all); one && none == v.open&^all {
			v.choice, v.open = k, all
			v.evidence = fmt.Sprintf("%s: the days follow each other (%d changes of date); the other order has gaps of weeks", orderWords[k], o.changes)
			return v
		}
	}
	if !s.PreambleStart.IsZero() {
		want := s.PreambleStart.Unix() / 86400
		hit := uint8(0)
		for i := range orders {
			if v.open&(1<<i) != 0 && o.first[i] >= want-1 && o.first[i] <= want+1 {
				hit |= 1 << i
			}
		}
		if k, one := only(hit); one {
			v.choice, v.open = k, hit
			v.evidence = fmt.Sprintf("%s: agrees with the start that the preamble names", orderWords[k])
			return v
		}
	}
	if k := orderIndex(s.NeighbourOrder); k >= 0 && v.open&(1<<k) != 0 {
		v.choice, v.open = k, 1<<k
		v.evidence = fmt.Sprintf("%s: this log leaves it even; other logs beside it settle it", orderWords[k])
		return v
	}
	if o.sep == '.' && v.open&(1<<dmy) != 0 && (o.year4 || v.open&(1<<ymd) == 0 || o.changes == 0) {
		v.choice, v.open = dmy, 1<<dmy
		v.evidence = "day first: dates with dots are written so (common practice, no source); this log's dates fit it"
		return v
	}
	// Even. A preference is needed to go on; it is said and never hidden.
	v.decided = false
	prefer := dmy
	if o.sep == '/' && o.half && v.open&(1<<mdy) != 0 {
		prefer = mdy // a slash with AM and PM is mostly American writing
	}
	if v.open&(1<<prefer) == 0 {
		prefer = firstOrder(v.open)
	}
	v.choice = prefer
	v.alt = firstOrder(v.open &^ (1 << prefer))
	v.same = true
	for i := range orders {
		if v.open&(1<<i) != 0 && (o.last[i]-o.first[i] != o.last[prefer]-o.first[prefer] || o.offsetN[i]) {
			v.same = false
		}
	}
	if v.same {
		v.evidence = fmt.Sprintf("day and month could be either way round (%s or %s); the elapsed times are the same, only the date is open", orderWords[prefer], orderWords[v.alt])
	} else {
		v.evidence = fmt.Sprintf("day and month could be either way round (%s or %s), and the elapsed times differ", orderWords[prefer], orderWords[v.alt])
		v.question = fmt.Sprintf("the dates fit %s and %s equally well and the elapsed times differ: name the order with --date-order %s or --date-order %s",
			orderWords[prefer], orderWords[v.alt], orderNames[prefer], orderNames[v.alt])
	}
	return v
}

func (o *orderStats) counts(c *[orders]int) string {
	s := ""
	for i, n := range c {
		if !o.begun[i] || o.invalid[i] > 0 {
			continue
		}
		if s != "" {
			s += ", "
		}
		s += fmt.Sprintf("%s %d", orderNames[i], n)
	}
	return s
}

func orderIndex(o Order) int {
	for i, n := range orderNames {
		if n == o {
			return i
		}
	}
	return -1
}

// only gives the index of the single bit set.
func only(mask uint8) (int, bool) {
	if mask == 0 || mask&(mask-1) != 0 {
		return -1, false
	}
	return firstOrder(mask), true
}

func firstOrder(mask uint8) int {
	for i := range 8 {
		if mask&(1<<i) != 0 {
			return i
		}
	}
	return -1
}
