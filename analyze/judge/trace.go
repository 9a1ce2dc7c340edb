package judge

import (
	"math"

	"ringheat/analyze/curve"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// Workspace holds the buffers of a judgement. The zero value is ready; it grows to the longest cycle
// seen and is then used again.
type Workspace struct {
	values []float64 // the traces, one after the other
	diff   []float64
	axis   []float64
	gaps   []int
	traces []trace

	corners        []float64
	denseT, denseY []float64 // a trace without its missing samples
	cuts           []int     // rows of it after a hole
}

// grow gives a slice of length n on the same memory where that is long enough.
func grow(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}

// trace is one channel's samples within the cycle, spikes blanked.
type trace struct {
	channel int
	outer   bool
	stepK   float64   // display step, K; a usual one where the log has not shown its own
	assumed bool      // stepK is assumed
	c       []float64 // the log's own samples where there is nothing to blank or correct: only read
	whole   bool      // read in every row, so that its holes are the clock's gaps
	valid   int
	first   int // first and last valid sample; -1: none
	last    int
	everyS  float64       // usual time between its samples, s
	spikes  int           // samples marked as spikes within the cycle
	spikeC  float64       // the highest of them, °C
	spikeS  float64       // when
	maxRate float64       // fastest warming seen, K/s, at least 0
	peak    curve.Extreme // highest temperature, raised where a reading stands out
	curveC  curve.Extreme // the same as the local curve has it
	unseen  unseen        // how hot it could have been where it was not read
}

// usualStepK is the display step taken where a log has too few different values to show it (common
// practice, no source: probe loggers show tenths).
const usualStepK = 0.1

// scene is the cycle as the checks see it: traces on one time axis, and what is known of the heating.
type scene struct {
	c      *Case
	p      *plan
	s      *Settings
	w      *Workspace
	timeS  []float64 // the cycle's rows
	axis   []float64 // the same, never falling
	traces []trace
	inner  int // how many traces are inner ones; they stand first

	row0      int // of the cycle, in the log
	intervalS float64
	heatEndS  float64 // when heating ended, s; +Inf when that was not seen
	doubt     string  // why the roles are not settled, "" when they are
	neverFell bool    // the axis is the log's own
	gaps      []int   // rows that come later than a hole after the row before
}

// newScene cuts the cycle out of the log. ok is false when there is nothing to look at.
func newScene(c *Case, p *plan, s *Settings, w *Workspace) scene {
	sc := scene{c: c, p: p, s: s, w: w, heatEndS: math.Inf(1), row0: c.Cycle.Rows.First}
	end := min(c.Cycle.Rows.End, c.Log.Len())
	if sc.row0 < 0 || sc.row0 >= end {
		sc.row0, end = 0, 0
	}
	sc.timeS = c.Log.TimeS[sc.row0:end]
	sc.intervalS = c.Log.Clock.IntervalS
	if !(sc.intervalS > 0) && len(sc.timeS) > 1 {
		sc.intervalS = math.Abs(sc.timeS[len(sc.timeS)-1]-sc.timeS[0]) / float64(len(sc.timeS)-1)
	}
	sc.makeAxis()
	if c.Cycle.End.Known {
		sc.heatEndS = c.Cycle.End.AtS
		if i := c.Cycle.End.Row - sc.row0; !sc.neverFell && i >= 0 && i < len(sc.axis) {
			sc.heatEndS += sc.axis[i] - sc.timeS[i]
		}
	}

	n := len(sc.timeS)
	w.values = grow(w.values, n*(len(c.Inner)+len(c.Outer)))
	sc.findCorners()
	sc.doubt = sc.rolesInDoubt()
	w.traces = w.traces[:0]
	for k, ch := range c.Inner {
		sc.addTrace(ch, false, w.values[k*n:(k+1)*n:(k+1)*n])
	}
	sc.inner = len(w.traces)
	for k, ch := range c.Outer {
		k += len(c.Inner)
		sc.addTrace(ch, true, w.values[k*n:(k+1)*n:(k+1)*n])
	}
	sc.traces = w.traces
	sc.findGaps()
	return sc
}

// makeAxis gives the time axis for curves. Where the clock stepped back, the rows after it are carried
// on by one interval: for temperatures their order counts, not their date.
func (sc *scene) makeAxis() {
	sc.axis, sc.neverFell = sc.timeS, true
	for i := 1; i < len(sc.timeS); i++ {
		if sc.timeS[i] < sc.timeS[i-1] {
			sc.neverFell = false
			break
		}
	}
	if sc.neverFell {
		return
	}
	sc.w.axis = grow(sc.w.axis, len(sc.timeS))
	sc.axis = sc.w.axis
	sc.axis[0] = sc.timeS[0]
	for i := 1; i < len(sc.timeS); i++ {
		step := sc.timeS[i] - sc.timeS[i-1]
		if step < 0 {
			step = sc.intervalS
		}
		sc.axis[i] = sc.axis[i-1] + step
	}
}

// onClock turns a time on the axis of the curves into one on the log's clock.
func (sc *scene) onClock(axisS float64) float64 {
	if sc.neverFell || len(sc.axis) == 0 {
		return axisS
	}
	i := 0
	for i+1 < len(sc.axis) && sc.axis[i+1] <= axisS {
		i++
	}
	return sc.timeS[i] + axisS - sc.axis[i]
}

func (sc *scene) addTrace(ch int, outer bool, into []float64) {
	channel := &sc.c.Log.Channels[ch]
	t := trace{channel: ch, outer: outer, first: -1, last: -1, stepK: float64(channel.StepK)}
	if !(t.stepK > 0) {
		t.stepK, t.assumed = usualStepK, true
	}
	t.c = channel.C[sc.row0 : sc.row0+len(sc.timeS)]
	own := func() { // before the first change
		if len(into) > 0 && &t.c[0] != &into[0] {
			copy(into, t.c)
			t.c = into
		}
	}
	if ch < len(sc.c.Spikes) {
		for _, row := range sc.c.Spikes[ch] {
			i := int(row) - sc.row0
			if i < 0 || i >= len(into) || series.IsMissing(t.c[i]) {
				continue
			}
			if t.spikes == 0 || t.c[i] > t.spikeC {
				t.spikeC, t.spikeS = t.c[i], sc.timeS[i]
			}
			t.spikes++
			own()
			into[i] = series.Missing()
		}
	}
	if t.whole = allFinite(t.c); t.whole {
		t.valid, t.first, t.last, t.everyS = len(t.c), 0, len(t.c)-1, sc.intervalS
	} else {
		sc.countReadings(&t)
	}
	if cal := sc.s.Calibration; cal != nil && cal.offset(&t) != 0 {
		own()
		cal.correct(&t)
	}
	t.maxRate = sc.fastest(&t)
	sc.w.traces = append(sc.w.traces, t)
}

// allFinite says whether there are values and none of them is missing or infinite: either makes the sum so.
// One that adds up to no finite number counts as having one.
func allFinite(v []float64) bool {
	if len(v) == 0 {
		return false
	}
	var a, b, c, d float64
	for ; len(v) >= 4; v = v[4:] {
		a += v[0]
		b += v[1]
		c += v[2]
		d += v[3]
	}
	for _, x := range v {
		a += x
	}
	sum := a + b + c + d
	return sum-sum == 0
}

// countReadings counts the readings of a trace and finds the first, the last and the usual time between two.
func (sc *scene) countReadings(t *trace) {
	// The commonest step between its samples, in rows: where two loggers were merged into one file,
	// every channel has a reading only in some of the rows.
	var steps [16]int
	for i, v := range t.c {
		if series.IsMissing(v) {
			continue
		}
		if t.first < 0 {
			t.first = i
		} else {
			steps[min(i-t.last, len(steps)-1)]++
		}
		t.last = i
		t.valid++
	}
	common := 1
	for rows, n := range steps {
		if n > steps[common] {
			common = rows
		}
	}
	t.everyS = sc.intervalS * float64(common)
}

// fastest is the fastest warming seen in a trace, K/s, over stretches long enough that the display step
// and the noise count for little. It bounds what the ring could have done where nothing was recorded.
// A probe that is being put on or comes off moves faster than any ring, so those stretches don't count.
func (sc *scene) fastest(t *trace) float64 {
	rise := sc.c.RiseInner
	if t.outer {
		rise = sc.c.RiseOuter
	}
	rate := 0.0
	if rise != nil && rise.RateKPerS.Known {
		rate = math.Max(0, rise.RateKPerS.Value+2*rise.RateKPerS.StdErr)
	}
	if t.first < 0 {
		return rate
	}
	span := sc.axis[t.last] - sc.axis[t.first]
	// What was not recorded makes no stretch longer, nor does a long cooling: a rate over more than the rise
	// would be no rate of warming.
	stretch := math.Min(span, float64(t.valid)*t.everyS) / 32
	if on := sc.c.Cycle.Onset; on.Known && sc.neverFell && sc.heatEndS > on.AtS {
		stretch = math.Min(stretch, (sc.heatEndS-on.AtS)/4)
	}
	stretch = math.Max(stretch, 5*sc.intervalS)
	if !(stretch > 0) {
		return rate
	}
	if t.whole && !sc.everLoose(t) {
		return sc.fastestWhole(t, stretch, rate)
	}
	return sc.fastestIn(t, stretch, rate)
}

// fastestWhole is fastestIn for a trace that is read in every row and never loose: it goes from stretch to
// stretch, not from row to row.
func (sc *scene) fastestWhole(t *trace, stretch, rate float64) float64 {
	axis := sc.axis
	from, width, half := 0, 1, 1
	for i := 1; ; i++ {
		if i = seek(axis, i, from+width, axis[from], stretch); i == len(axis) {
			return rate
		}
		width = i - from
		if r := (t.c[i] - t.c[from]) / (axis[i] - axis[from]); r > rate {
			rate = math.Max(rate, (t.middle(i)-t.middle(from))/(axis[i]-axis[from]))
		}
		next := min(i, seek(axis, from, from+half, 0, axis[from]+stretch/2))
		half, from = next-from, next
	}
}

// seek is the first row from row i on that lies at least d after a time; len(axis) where there is none. It
// looks at the likely row first.
func seek(axis []float64, i, likely int, at, d float64) int {
	if likely > i && likely < len(axis) && axis[likely]-at >= d && axis[likely-1]-at < d {
		return likely
	}
	lo, hi := i, len(axis)
	for lo < hi {
		if mid := int(uint(lo+hi) / 2); axis[mid]-at >= d {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return lo
}

// fastestIn looks for a warming faster than a rate over stretches of at least so many seconds.
func (sc *scene) fastestIn(t *trace, stretch, rate float64) float64 {
	from := t.first
	for i := t.first + 1; i <= t.last; i++ {
		if end := sc.looseUntil(t, i); end > i {
			i, from = end-1, end
			continue
		}
		dt := sc.axis[i] - sc.axis[from]
		if dt < stretch || series.IsMissing(t.c[i]) || series.IsMissing(t.c[from]) {
			for from < i && series.IsMissing(t.c[from]) {
				from++
			}
			continue
		}
		if r := (t.c[i] - t.c[from]) / dt; r > rate {
			// A single reading at either end may stand out; the middle of three does not.
			rate = math.Max(rate, (t.middle(i)-t.middle(from))/dt)
		}
		// Stretches overlap by half, so that none of the fastest is cut in two.
		half := sc.axis[from] + stretch/2
		for from < i && (sc.axis[from] < half || series.IsMissing(t.c[from])) {
			from++
		}
	}
	return rate
}

// middle is the middle one of a valid sample and its neighbours, where those are valid.
func (t *trace) middle(i int) float64 {
	b := t.c[i]
	if i == 0 || i+1 == len(t.c) || series.IsMissing(t.c[i-1]) || series.IsMissing(t.c[i+1]) {
		return b
	}
	a, c := t.c[i-1], t.c[i+1]
	return math.Max(math.Min(a, b), math.Min(math.Max(a, b), c))
}

// everLoose says whether the probe ever did not sit on its ring.
func (sc *scene) everLoose(t *trace) bool {
	for k := range sc.c.Cycle.Defects {
		if d := &sc.c.Cycle.Defects[k]; loose(d.Kind) && sc.concerns(d, t) {
			return true
		}
	}
	return false
}

// looseUntil is the end of the stretch, as a row of the cycle, in which the probe did not sit on its
// ring at row i, with a reading on either side; i or less when it did.
func (sc *scene) looseUntil(t *trace, i int) int {
	end := i
	for k := range sc.c.Cycle.Defects {
		d := &sc.c.Cycle.Defects[k]
		if loose(d.Kind) && sc.concerns(d, t) && sc.row0+i >= d.First-1 && sc.row0+i <= d.End {
			end = max(end, d.End+1-sc.row0)
		}
	}
	return min(end, t.last+1)
}

// rolesInDoubt says why it is not settled which probe sits on which ring.
func (sc *scene) rolesInDoubt() string {
	if sc.c.RolesInDoubt != "" {
		return sc.c.RolesInDoubt
	}
	if !sc.p.kind.TwoRings() && len(sc.c.Inner)+len(sc.c.Outer) <= 1 {
		return "" // one probe on one body: nothing to mix up
	}
	for _, list := range [2][]int{sc.c.Inner, sc.c.Outer} {
		for _, ch := range list {
			if source := sc.c.Log.Channels[ch].RoleSource; source <= series.ByPlausibility {
				return "nothing in the file says which probe is on which ring; they were taken by " + orderWord(source)
			}
		}
	}
	return ""
}

func orderWord(s series.Source) string {
	if s == series.ByPlausibility {
		return "what is plausible"
	}
	return "the order of the columns"
}

// findGaps lists the rows before which a trace that is read in every row has a hole.
func (sc *scene) findGaps() {
	sc.gaps = sc.w.gaps[:0]
	hole := (&trace{everyS: sc.intervalS}).holeS()
	for i := 1; i < len(sc.axis); i++ {
		if sc.axis[i]-sc.axis[i-1] > hole {
			sc.gaps = append(sc.gaps, i)
		}
	}
	sc.w.gaps = sc.gaps
}

// ambientC takes the temperature of the surroundings from an ambient channel, else the lowest first
// reading, and never above 20 °C: a colder guess makes the bounds that use it wider, so more careful.
func (sc *scene) ambientC() float64 {
	ambient := 20.0
	for i := range sc.traces {
		if t := &sc.traces[i]; t.first >= 0 {
			ambient = math.Min(ambient, t.c[t.first])
		}
	}
	channels := sc.c.Log.WithRole(series.Ambient)
	if len(channels) == 0 {
		return ambient
	}
	sum, n := 0.0, 0
	for _, v := range sc.c.Log.Channels[channels[0]].C[sc.row0 : sc.row0+len(sc.timeS)] {
		if !series.IsMissing(v) {
			sum += v
			n++
		}
	}
	if n > 0 {
		ambient = sum / float64(n)
	}
	return ambient
}

// body names what a trace was measured on, for people.
func (sc *scene) body(t *trace) string {
	name := shorten(sc.c.Log.Channels[t.channel].Label())
	if sc.doubt != "" {
		return "probe '" + name + "'"
	}
	what := "bore"
	several := sc.inner > 1
	switch {
	case t.outer && sc.p.kind.TwoRings():
		what, several = "outer ring", len(sc.traces)-sc.inner > 1
	case t.outer:
		what, several = "rim", len(sc.traces)-sc.inner > 1
	case sc.p.kind.TwoRings():
		what = "inner ring"
	}
	if several {
		return what + " (probe '" + name + "')"
	}
	return what
}

// subject is the same as one word for lists.
func (sc *scene) subject(t *trace) string {
	name := shorten(sc.c.Log.Channels[t.channel].Label())
	if sc.doubt != "" {
		return name
	}
	word, several := "inner", sc.inner > 1
	if t.outer {
		word, several = "outer", len(sc.traces)-sc.inner > 1
	}
	if several {
		return word + ": " + name
	}
	return word
}

// concerns says whether a defect concerns a trace. That the inner probe reads low and slow is what a probe
// on the outer ring does by nature: where it is not settled which is which, it tells nothing.
func (sc *scene) concerns(d *segment.Defect, t *trace) bool {
	if d.Kind == segment.PoorContact && sc.doubt != "" && !t.outer {
		return false
	}
	return d.Channel < 0 || d.Channel == t.channel
}
