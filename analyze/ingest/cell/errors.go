package cell

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ringheat/analyze/quantity"
)

// ErrorValue is one exact number that a logger wrote for "no reading", as found in a column.
type ErrorValue struct {
	Value    float64 // as the file writes it, in the file's unit; for BelowZero and Beyond the first such number
	Name     string  // key for counts: the number in its shortest form, e.g. "-9999", or BelowZero or Beyond
	Count    int     // rows marked
	Evidence string  // why it is no reading, in words
	Known    string  // what the number commonly stands for; "" for a number that only its standing apart gives away
	Source   string  // where Known comes from; "" without Known
	Runs     []Run   // the rows marked, in order
}

// Run is a stretch of rows, both ends included, 0-based.
type Run struct{ First, Last int }

// Names of the groups of impossible numbers.
const (
	BelowZero = "below absolute zero"
	Beyond    = "beyond any probe"
	FarOff    = "far off the trace" // an open probe's varied numbers: no workshop has them, and the trace jumps there and back
)

// The distances, in kelvin, that make a number stand apart.
const (
	jumpK     = 8.0    // a step that is worth a look at all
	apartK    = 20.0   // a number of the table must stand at least so far from both neighbours
	repeatK   = 40.0   // a number that is not in the table, so far, and beyond all readings
	approachK = 10.0   // no reading may come so near to it
	farOffK   = 200.0  // the trace must jump so far to hot numbers that no workshop has and back, twice as far where it does not come back,
	farColdK  = 100.0  // and so far to cold ones
	beyondK   = 4000.0 // no probe for this job reads higher (thermocouple types end at 2315 °C: IEC 60584-1, type C)
)

// FindErrors looks through one column for numbers that stand for "no reading". values are in the file's own
// unit, NaN where the file has none; unit may be UnknownUnit. A number is taken for a marker only where it stands apart from the trace on
// both sides and is never approached; a real 850 °C or 85.0 °C on a smooth trace is left alone. Nothing is changed:
// the caller turns the rows into missing samples and counts them. The answer is sorted by first row.
//
// A single odd reading that is not in the table of known numbers is left alone as well: it may be a spike, which a later stage
// judges. Columns that hold nothing but one number are left alone unless it is a known number that no workshop has.
func FindErrors(values []float64, unit quantity.TemperatureUnit) []ErrorValue {
	f := finder{v: values, unit: unit, scale: 1, zero: -273.15}
	switch unit {
	case quantity.DegreeFahrenheit:
		f.scale, f.zero = 1.8, -459.67
	case quantity.KelvinUnit:
		f.zero = 0
	}
	if !f.worthLooking() {
		return nil
	}
	f.impossible()
	f.split()
	for range 4 {
		if !f.pass() {
			break
		}
	}
	f.farOff()
	slices.SortFunc(f.found, func(a, b ErrorValue) int { return a.Runs[0].First - b.Runs[0].First })
	return f.found
}

type finder struct {
	v     []float64
	unit  quantity.TemperatureUnit
	scale float64 // unit's degrees in one kelvin
	zero  float64 // absolute zero in the unit
	out   []bool  // rows marked so far
	// stretches of equal numbers that a jump separates from the rows before and behind
	islands []island
	found   []ErrorValue
	// Worked out anew for each pass: rows whose number is a reading as far as is known, and the readings
	// before and behind each row (indices, -1 and len(v) for none).
	plain      []bool
	prev, next []int32
}

// maxUnknown is how many numbers that are not in the table are looked at, those with the most rows first.
const maxUnknown = 16

type island struct {
	value       float64
	first, last int // rows
	rows        int // rows with the value; NaN rows between them don't count
	done        bool
}

// worthLooking is the cheap test that nearly all columns fail: no big step, no impossible number.
func (f *finder) worthLooking() bool {
	jump := jumpK * f.scale
	last := math.NaN()
	lo, hi := math.Inf(1), math.Inf(-1)
	jumped := false
	for _, x := range f.v {
		if x != x {
			continue
		}
		if d := x - last; d > jump || d < -jump {
			jumped = true
		}
		last = x
		if x < lo {
			lo = x
		}
		if x > hi {
			hi = x
		}
	}
	if lo > hi {
		return false
	}
	return jumped || lo < f.zero || lo == hi || hi > beyondK*f.scale
}

// impossible marks what no probe can show. A column most of whose numbers are such is in another unit (thousandths of a degree,
// millivolts) and is left alone, but for the numbers of the table.
func (f *finder) impossible() {
	f.out = make([]bool, len(f.v))
	below, beyond, valid := 0, 0, 0
	top := beyondK * f.scale
	for _, x := range f.v {
		switch {
		case x != x:
			continue
		case x < f.zero-0.051 && knownError(x, f.unit) == nil:
			below++
		case x > top && knownError(x, f.unit) == nil:
			beyond++
		default:
			valid++
		}
	}
	if below > 0 && below <= valid {
		f.mark(BelowZero, fmt.Sprintf("no temperature lies below %s", shortest(f.zero)), "absolute zero", "definition of the kelvin, SI brochure",
			func(x float64) bool { return x < f.zero-0.051 && knownError(x, f.unit) == nil })
	}
	if beyond > 0 && beyond <= valid {
		f.mark(Beyond, fmt.Sprintf("no probe for this job reads above %s", shortest(top)), "", "",
			func(x float64) bool { return x > top && knownError(x, f.unit) == nil })
	}
}

func (f *finder) mark(name, evidence, means, source string, is func(float64) bool) {
	e := ErrorValue{Name: name, Evidence: evidence, Known: means, Source: source}
	for i, x := range f.v {
		if x == x && !f.out[i] && is(x) {
			if e.Count == 0 {
				e.Value = x
			}
			f.out[i] = true
			e.add(i)
		}
	}
	if e.Count > 0 {
		f.found = append(f.found, e)
	}
}

func (e *ErrorValue) add(row int) {
	e.Count++
	if n := len(e.Runs); n > 0 && e.Runs[n-1].Last == row-1 {
		e.Runs[n-1].Last = row
		return
	}
	e.Runs = append(e.Runs, Run{row, row})
}

// split finds the islands: stretches of one number with a jump, or the column's end, on both sides.
func (f *finder) split() {
	jump := jumpK * f.scale
	cur := island{first: -1}
	apartBefore := true
	last := math.NaN()
	level := true // the stretch holds one number only
	flush := func(apartAfter bool) {
		if cur.first >= 0 && level && apartBefore && apartAfter {
			f.islands = append(f.islands, cur)
		}
	}
	for i, x := range f.v {
		if x != x || f.out[i] {
			continue
		}
		switch d := x - last; {
		case cur.first < 0:
			cur = island{value: x, first: i, last: i, rows: 1}
			level = true
		case d > jump || d < -jump:
			flush(true)
			apartBefore = true
			cur = island{value: x, first: i, last: i, rows: 1}
			level = true
		default:
			if x != cur.value {
				level = false
			}
			cur.last = i
			cur.rows++
		}
		last = x
	}
	flush(true)
}

// pass judges every number that forms islands; it says whether it marked any.
func (f *finder) pass() bool {
	byValue := map[float64][]int{}
	var order []float64
	for k := range f.islands {
		if f.islands[k].done {
			continue
		}
		v := f.islands[k].value
		if _, ok := byValue[v]; !ok {
			order = append(order, v)
		}
		byValue[v] = append(byValue[v], k)
	}
	if len(order) == 0 {
		return false
	}
	f.readings()
	rowsOf := func(v float64) int { return f.count(byValue[v]) }
	slices.SortFunc(order, func(a, b float64) int {
		if d := rowsOf(b) - rowsOf(a); d != 0 {
			return d
		}
		return cmp.Compare(a, b)
	})
	typical, distinct := f.usualStep()
	marked := false
	unknown := 0
	for _, v := range order {
		k := knownError(v, f.unit)
		if k == nil {
			if unknown++; unknown > maxUnknown {
				continue
			}
		}
		if f.judge(v, k, byValue[v], typical, distinct) {
			marked = true
		}
	}
	return marked
}

// readings works out plain, prev and next.
func (f *finder) readings() {
	n := len(f.v)
	if f.plain == nil {
		f.plain = make([]bool, n)
		f.prev, f.next = make([]int32, n), make([]int32, n)
	}
	last := int32(-1)
	for i, x := range f.v {
		f.plain[i] = x == x && !f.out[i] && !(f.nowhereInAWorkshop(x) && knownError(x, f.unit) != nil)
		f.prev[i] = last
		if f.plain[i] {
			last = int32(i)
		}
	}
	last = int32(n)
	for i := n - 1; i >= 0; i-- {
		f.next[i] = last
		if f.plain[i] {
			last = int32(i)
		}
	}
}

// usualStep gives the 90th percentile of the steps between readings that are not in islands, and how many different readings those are
// (counted up to six).
func (f *finder) usualStep() (step float64, distinct int) {
	in := make([]bool, len(f.v))
	for _, s := range f.islands {
		if knownError(s.value, f.unit) == nil && s.rows < 3 {
			continue // likely a reading of a fast trace
		}
		for i := s.first; i <= s.last; i++ {
			in[i] = in[i] || f.v[i] == s.value
		}
	}
	var steps []float64
	var seen []float64
	last := math.NaN()
	for i, x := range f.v {
		if x != x || f.out[i] || in[i] {
			continue
		}
		if d := math.Abs(x - last); d == d {
			steps = append(steps, d)
		}
		last = x
		if len(seen) < 6 && !slices.Contains(seen, x) {
			seen = append(seen, x)
		}
	}
	if len(steps) == 0 {
		return 0, len(seen)
	}
	slices.Sort(steps)
	return steps[len(steps)*9/10], len(seen)
}

// judge decides on one number and marks its rows.
func (f *finder) judge(v float64, k *known, islands []int, typical float64, distinct int) bool {
	rows := 0
	for _, i := range islands {
		rows += f.islands[i].rows
	}
	if distinct == 0 && !f.anyOther(v) {
		// The whole column holds this number and nothing else.
		if k == nil || !f.nowhereInAWorkshop(v) {
			return false
		}
		return f.take(v, islands, k, "the column holds nothing else, and no workshop has this temperature")
	}
	need := apartK * f.scale
	if k == nil {
		need = repeatK * f.scale
		if len(islands) < 2 && rows < 3 || distinct < 5 {
			return false
		}
	}
	need = max(need, 5*typical)
	near := f.nearest(v)
	var good []int
	closest := math.Inf(1)
	befores, afters := f.neighbours(v, islands)
	for n, i := range islands {
		s := &f.islands[i]
		before, after := befores[n], afters[n]
		d, ok := stands(v, before, after, need)
		if !ok {
			continue
		}
		if k != nil && !f.allowed(k, s, before, after) {
			continue
		}
		good = append(good, i)
		closest = min(closest, d)
	}
	if len(good) == 0 {
		return false
	}
	lifelike := k != nil && (k.value == 85 && !k.fixed)
	if !lifelike {
		// A number that readings come near to, or that elsewhere stands on the trace, is a reading.
		if near < approachK*f.scale || len(good) < len(islands) {
			return false
		}
	}
	if k == nil && !f.beyondAll(v, repeatK*f.scale) {
		return false
	}
	why := fmt.Sprintf("stands %s away from its neighbours in %d places, %d rows", shortest(math.Round(closest*10)/10), len(good), f.count(good))
	if k == nil {
		why += "; the same number each time, and no reading comes near it"
	}
	return f.take(v, good, k, why)
}

// allowed holds the extra conditions of numbers that are also common temperatures.
func (f *finder) allowed(k *known, s *island, before, after float64) bool {
	switch {
	case k.value == 85 && !k.fixed:
		// The power-on value comes for a row or two, at the start or between two readings that agree with each other.
		if s.rows > 2 || after != after {
			return false
		}
		if before != before {
			// A cold part behind it, that goes on smoothly: a hot one may cool or warm fast from any temperature.
			return s.first == f.firstRow() && after < s.value && f.smoothAfter(s.last)
		}
		return math.Abs(before-after) < 2*jumpK*f.scale
	case k.value == 0 || k.value == 400 && !k.fixed || k.value == 199.9 || k.value == -17.8:
		// Between readings on both sides, or for several rows.
		return before == before && after == after || s.rows >= 3
	}
	return true
}

// stands says whether v lies beyond both neighbours on the same side by need; a missing neighbour does not count against it.
// d is the smaller distance.
func stands(v, before, after, need float64) (d float64, ok bool) {
	a, b := v-before, v-after
	switch {
	case before != before && after != after:
		return 0, false
	case before != before:
		return math.Abs(b), math.Abs(b) >= need
	case after != after:
		return math.Abs(a), math.Abs(a) >= need
	case (a > 0) != (b > 0):
		return 0, false
	}
	d = min(math.Abs(a), math.Abs(b))
	return d, d >= need
}

// neighbours gives the readings before and behind each island of the number v, NaN where there is none. Rows that are marked,
// other known numbers and v itself are passed over.
func (f *finder) neighbours(v float64, islands []int) (before, after []float64) {
	before, after = make([]float64, len(islands)), make([]float64, len(islands))
	last := math.NaN()
	for n, i := range islands {
		if p := f.prev[f.islands[i].first]; p < 0 {
			last = math.NaN()
		} else if x := f.v[p]; x != v {
			last = x
		} // else the island before has the same number and the same reading before it
		before[n] = last
	}
	last = math.NaN()
	for n := len(islands) - 1; n >= 0; n-- {
		if p := f.next[f.islands[islands[n]].last]; int(p) == len(f.v) {
			last = math.NaN()
		} else if x := f.v[p]; x != v {
			last = x
		}
		after[n] = last
	}
	return before, after
}

func (f *finder) reading(i int, v float64) bool { return f.plain[i] && f.v[i] != v }

// nowhereInAWorkshop: no part that is warmed for mounting, and no room, is colder than -60 °C or hotter than 600 °C.
func (f *finder) nowhereInAWorkshop(v float64) bool {
	c := float64(f.unit.Convert(v))
	return c < -60 || c > 600
}

// farOff marks what an open probe writes when its numbers vary: stretches that no workshop has, that the trace jumps to and from, and
// that are short or jump about themselves. A smooth stretch is left alone: the probe may have been somewhere hot.
func (f *finder) farOff() {
	typical, ok := f.workshopStep()
	if !ok {
		return
	}
	need := max(farOffK*f.scale, 5*typical)
	e := ErrorValue{Name: FarOff}
	e.Evidence = fmt.Sprintf("no workshop has this temperature, and the trace jumps there by %s or more", shortest(farColdK*f.scale))
	before := math.NaN() // the reading before the stretch
	first, rows := -1, 0 // the stretch at hand
	last := math.NaN()
	jumps := 0
	close := func(after float64, end int) {
		far := need
		if before != before || after != after {
			far *= 2
		}
		off := func(edge float64) bool {
			for i := first; i < end; i++ {
				if x := f.v[i]; !f.out[i] && x-edge < far && edge-x < max(farColdK*f.scale, 5*typical) {
					return false
				}
			}
			return true
		}
		if rows > 0 && (before == before || after == after) && off(before) && off(after) && (rows <= 2 || 2*jumps >= rows-1) {
			for i := first; i < end; i++ {
				if x := f.v[i]; x == x && !f.out[i] {
					if e.Count == 0 {
						e.Value = x
					}
					f.out[i] = true
					e.add(i)
				}
			}
		}
		first, rows, jumps = -1, 0, 0
	}
	for i, x := range f.v {
		if x != x || f.out[i] {
			continue
		}
		if !f.nowhereInAWorkshop(x) {
			close(x, i)
			before, last = x, x
			continue
		}
		if rows == 0 {
			first = i
		} else if math.Abs(x-last) > jumpK*f.scale {
			jumps++
		}
		rows++
		last = x
	}
	close(math.NaN(), len(f.v))
	if e.Count > 0 {
		f.found = append(f.found, e)
	}
}

// workshopStep is the 90th percentile of the steps between readings that a workshop can have; ok is false when there are too few
// of them to make a trace.
func (f *finder) workshopStep() (step float64, ok bool) {
	var steps []float64
	last := math.NaN()
	for i, x := range f.v {
		if x != x || f.out[i] || f.nowhereInAWorkshop(x) {
			continue
		}
		if d := math.Abs(x - last); d == d {
			steps = append(steps, d)
		}
		last = x
	}
	if len(steps) < 8 {
		return 0, false
	}
	slices.Sort(steps)
	return steps[len(steps)*9/10], true
}

func (f *finder) anyOther(v float64) bool {
	for i, x := range f.v {
		if x == x && x != v && !f.out[i] {
			return true
		}
	}
	return false
}

// nearest is the distance from v to the nearest other reading.
func (f *finder) nearest(v float64) float64 {
	d := math.Inf(1)
	for i, x := range f.v {
		if f.reading(i, v) {
			d = min(d, math.Abs(x-v))
		}
	}
	return d
}

// beyondAll says whether v lies at least d above or below all readings.
func (f *finder) beyondAll(v, d float64) bool {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, x := range f.v {
		if f.reading(i, v) {
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	return v >= hi+d || v <= lo-d
}

func (f *finder) firstRow() int {
	for i, x := range f.v {
		if x == x {
			return i
		}
	}
	return 0
}

// smoothAfter says whether the first steps behind a row are small.
func (f *finder) smoothAfter(row int) bool {
	last, n := math.NaN(), 0
	for i := int(f.next[row]); i < len(f.v) && n < 4; i = int(f.next[i]) {
		if math.Abs(f.v[i]-last) > 2*f.scale {
			return false
		}
		last = f.v[i]
		n++
	}
	return n >= 2
}

func (f *finder) count(islands []int) int {
	n := 0
	for _, i := range islands {
		n += f.islands[i].rows
	}
	return n
}

func (f *finder) take(v float64, islands []int, k *known, why string) bool {
	e := ErrorValue{Value: v, Name: shortest(v), Evidence: why}
	if k != nil {
		e.Known, e.Source = k.means, k.source
	}
	for _, n := range islands {
		s := &f.islands[n]
		s.done = true
		for i := s.first; i <= s.last; i++ {
			if f.v[i] == v && !f.out[i] {
				f.out[i] = true
				e.add(i)
			}
		}
	}
	if e.Count == 0 {
		return false
	}
	f.found = append(f.found, e)
	return true
}
