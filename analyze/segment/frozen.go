package segment

import (
	"math"
	"slices"
)

// Readings that stand still. A part that is held steady still shows noise, so a long run of equal readings
// is no reading where the log shows noise before and after it; and a part that was on the move can't stand
// still and then be far ahead at once.
const (
	standRows    = 20   // equal readings that are looked at for want of noise
	dithRows     = 60   // readings that keep to two neighbouring display steps, the same
	stillRows    = 5    // equal readings that are looked at for a jump after them
	noiseRows    = 32   // readings whose noise is judged together
	noiseBlocks  = 3    // so many such blocks are needed at least
	surelyNoise  = 25   // -ln of the chance that noise allows a run, at which it is no reading
	meanRuns     = 5    // times as long as the log's runs usually are
	standJump    = 2.5  // times as far as the part could go from one reading to the next
	fastReadingS = 2.5  // readings no further apart show the lag of a heater and a probe
	brokenS      = 60   // a rise that ends without lag stands for so long at least
	standCatchUp = 0.25 // share of the way it was heading that the jump makes up for
)

// stand is a run of readings that stand still though the part can't have.
type stand struct {
	row0, row1 int // rows of the log, [row0, row1)
	y          float64
	kind       DefectKind
	why        standWhy
}

// standWhy says what is wrong with a stand.
type standWhy uint8

const (
	noNoise  standWhy = iota // it lacks the noise of the rest
	dithers                  // the same, in two neighbouring display steps
	caughtUp                 // it ends with a jump to where the part was heading
	brokeOff                 // a rise goes over into it from one reading to the next
)

// still is a run that may be a stand.
type still struct {
	first, end int
	two        bool // keeps to two neighbouring display steps
}

// findStands lists the stands of a trace. Its spikes are out already.
func (s *Segmenter) findStands(tr *trace, o Options) {
	tr.stands = tr.stands[:0]
	n := len(tr.y)
	if n < noiseRows {
		return
	}
	ones, twos := tr.mayStand()
	if !ones && !twos {
		return
	}
	low, high := tr.y[0], tr.y[0]
	runs := 1
	step := math.Inf(1) // the smallest that is seen: the display's
	for i := 1; i < n; i++ {
		v := tr.y[i]
		if v != tr.y[i-1] {
			runs++
			if d := math.Abs(v - tr.y[i-1]); d > 1e-6 {
				step = min(step, d)
			}
		}
		low, high = min(low, v), max(high, v)
	}
	if high-low < float64(o.MinRise) {
		return
	}
	tr.unitK = step
	// Near the level it began from a part may well stand still.
	above := low + float64(o.MinRise)
	s.stills = s.stills[:0]
	rows := 0
	for a := 0; a < n; {
		b := a + 1
		for b < n && tr.y[b] == tr.y[a] {
			b++
		}
		if b-a >= stillRows && tr.y[a] > above {
			s.stills = append(s.stills, still{first: a, end: b})
			if b-a >= standRows {
				rows += b - a
				runs--
			}
		}
		a = b
	}
	if twos {
		s.stills = tr.dithers(above, s.stills)
	}
	if len(s.stills) == 0 {
		return
	}
	usual := float64(n-rows) / float64(max(runs, 1))
	noise, known := 0.0, false
	pace := -1.0
	for _, q := range s.stills {
		k := float64(q.end - q.first)
		if k < meanRuns*usual {
			continue
		}
		if !q.two {
			if pace < 0 {
				pace = tr.sustained()
			}
			if tr.catchesUp(q, pace) {
				tr.stands = append(tr.stands, tr.stand(q, Frozen, caughtUp))
				continue
			}
		}
		kind := Frozen
		if !q.two && tr.y[q.first] >= high-0.01*step && q.end < n && tr.y[q.first]-tr.y[q.end] < 3*step+6*tr.noiseK {
			kind = Saturated
		}
		if !q.two && tr.breaksOff(q) {
			tr.stands = append(tr.stands, tr.stand(q, kind, brokeOff))
			continue
		}
		if !q.two && q.end-q.first < standRows {
			continue
		}
		if !known {
			noise, known = s.restNoise(tr), true
		}
		width := 1.0
		if q.two {
			width = 2
		}
		// The chance that one more reading stays where the run is, at best.
		same := math.Erf(width * step / (2 * math.Sqrt2 * noise))
		if noise <= 0 || -k*math.Log(same) < surelyNoise*max(1, usual/3) {
			continue
		}
		why := noNoise
		if q.two {
			why = dithers
		}
		tr.stands = append(tr.stands, tr.stand(q, kind, why))
	}
}

// mayStand says whether any run is long enough to be looked at, of one value and of two. Most traces have none,
// and no run slips between the readings that are compared.
func (tr *trace) mayStand() (ones, twos bool) {
	n := len(tr.y)
	for i := stillRows - 1; i < n && !ones; i += stillRows - 1 {
		a, b := i, i+1
		for a > 0 && tr.y[a-1] == tr.y[i] && b-a < stillRows {
			a--
		}
		for b < n && tr.y[b] == tr.y[i] && b-a < stillRows {
			b++
		}
		ones = b-a >= stillRows
	}
	if !(tr.stepK > 0) {
		return ones, true
	}
	const apart = 6
	width := 1.01 * tr.stepK
	for i := 0; i < n && !twos; {
		lo, hi := tr.y[i], tr.y[i]
		j := i + apart
		for ; j < n; j += apart {
			lo, hi = min(lo, tr.y[j]), max(hi, tr.y[j])
			if hi-lo > width {
				break
			}
		}
		twos = j-i >= dithRows/2
		i = j
	}
	return ones, twos
}

func (tr *trace) stand(q still, kind DefectKind, why standWhy) stand {
	return stand{int(tr.row[q.first]), int(tr.row[q.end-1]) + 1, tr.y[q.first], kind, why}
}

// dithers appends the runs that keep to two neighbouring display steps and hold no long run of one.
func (tr *trace) dithers(above float64, out []still) []still {
	n := len(tr.y)
	width := 1.01 * tr.unitK
	lo, hi := tr.y[0], tr.y[0]
	a, ones := 0, len(out)
	add := func(b int) {
		if b-a < dithRows || lo <= above {
			return
		}
		for _, q := range out[:ones] {
			if q.end-q.first >= standRows && q.first < b && q.end > a {
				return
			}
		}
		out = append(out, still{a, b, true})
	}
	for i := 1; i < n; i++ {
		v := tr.y[i]
		if max(hi, v)-min(lo, v) <= width {
			lo, hi = min(lo, v), max(hi, v)
			continue
		}
		add(i)
		a = i
		lo, hi = v, v
		for a > 0 && math.Abs(tr.y[a-1]-v) <= width && max(hi, tr.y[a-1])-min(lo, tr.y[a-1]) <= width {
			a--
			lo, hi = min(lo, tr.y[a]), max(hi, tr.y[a])
		}
	}
	add(n)
	return out
}

// catchesUp says whether the trace, on the move before a run, is far ahead in the same direction at once
// after it.
func (tr *trace) catchesUp(q still, pace float64) bool {
	a, b := q.first, q.end
	if a < stillRows || b >= len(tr.y) {
		return false
	}
	jump := tr.y[b] - tr.y[b-1]
	least := max(4*tr.unitK, 8*tr.noiseK, standJump*pace*(tr.t[b]-tr.t[b-1]))
	if math.Abs(jump) < least {
		return false
	}
	// The slope before, over as long a time, but no further back than a part keeps to one line.
	first := max(tr.at(tr.t[a]-(tr.t[b-1]-tr.t[a])), a-64, 0)
	first = min(first, a-stillRows)
	p := fitPolynomial(tr.t[first:a+1], tr.y[first:a+1], 1)
	way := p.slope(tr.t[a]) * (tr.t[b] - tr.t[a])
	return way*jump > 0 && math.Abs(way) > least && math.Abs(jump) > standCatchUp*math.Abs(way)
}

// breaksOff says whether a rise at full pace goes over into a long run from one reading to the next. A heater
// and a probe have lag: a rise whose every reading shows several display steps takes a few readings to end.
func (tr *trace) breaksOff(q still) bool {
	a := q.first
	const before = 16
	if a < before || q.end-a < standRows || tr.t[q.end-1]-tr.t[a] < brokenS || tr.t[a]-tr.t[a-before] > 1.1*before*fastReadingS {
		return false
	}
	p := fitPolynomial(tr.t[a-before:a-4], tr.y[a-before:a-4], 1)
	slope := p.slope(tr.t[a])
	perReading := slope * (tr.t[a] - tr.t[a-before]) / before
	if perReading < 2.5*tr.unitK || perReading*before < 12*tr.noiseK {
		return false
	}
	return tr.y[a-1]-tr.y[a-4] > 0.7*slope*(tr.t[a-1]-tr.t[a-4]) && tr.y[a] > tr.y[a-1]
}

// restNoise is the noise of the readings outside all long runs, K, 0 when there is none for sure. It must be
// seen where the trace moves fast and where it moves slowly: a clock that jitters makes noise on ramps only. Rounding alone never turns a trace back, and it
// adds most where the trace moves on by half a step a reading, which no long stretch does.
func (s *Segmenter) restNoise(tr *trace) float64 {
	slow, fast := s.scratch[:0], s.fast[:0]
	sum, sq, m, back, way := 0.0, 0.0, 0, 0, 0.0
	next := 0
	step := tr.unitK
	for i := 1; i+1 < len(tr.y); i++ {
		for next < len(s.stills) && (s.stills[next].two || s.stills[next].end-s.stills[next].first < standRows || s.stills[next].end < i) {
			next++
		}
		if next < len(s.stills) && i+1 >= s.stills[next].first {
			i = s.stills[next].end
			continue
		}
		skip := false
		for k := len(s.stills) - 1; k >= 0 && s.stills[k].two; k-- {
			skip = skip || i >= s.stills[k].first && i < s.stills[k].end
		}
		if skip {
			continue
		}
		c := tr.curvature(i)
		sum += c
		sq += c * c
		in, out := tr.y[i]-tr.y[i-1], tr.y[i+1]-tr.y[i]
		way += in
		if in*out < 0 {
			back++
		}
		if m++; m == noiseRows {
			v := (sq - sum*sum/noiseRows) / (noiseRows - 1) / 1.5
			switch {
			case back >= 3:
				slow = append(slow, v-step*step/12)
			case math.Abs(way) > 1.5*noiseRows*step:
				fast = append(fast, v-step*step/9)
			default:
				slow = append(slow, 0)
			}
			sum, sq, m, back, way = 0, 0, 0, 0, 0
		}
	}
	s.scratch, s.fast = slow, fast
	if len(slow)+len(fast) < noiseBlocks {
		return 0
	}
	v := math.Inf(1)
	if len(slow) > 0 {
		v = quantile(slow, 0.5)
	}
	if len(fast) > 0 {
		v = min(v, quantile(fast, 0.5))
	}
	return math.Sqrt(max(0, v))
}

// standTogether gives a trace the stands of another one over whose rows it stands still itself: what froze one
// froze both.
func (s *Segmenter) standTogether(tr, other *trace) {
	own := len(tr.stands)
	for _, q := range other.stands {
		if q.why == caughtUp || tr.standsAt(q.row0, q.row1, own) {
			continue
		}
		a, b := tr.atRow(q.row0), tr.atRow(q.row1)
		if b-a < standRows {
			continue
		}
		width := 1e-9
		if q.why == dithers {
			width = 1.01 * tr.unitK
		}
		lo, hi := tr.y[a], tr.y[a]
		for _, v := range tr.y[a:b] {
			lo, hi = min(lo, v), max(hi, v)
		}
		if hi-lo <= width {
			tr.stands = append(tr.stands, stand{q.row0, q.row1, tr.y[a], q.kind, q.why})
		}
	}
}

func (tr *trace) standsAt(row0, row1, own int) bool {
	for _, q := range tr.stands[:own] {
		if q.row0 < row1 && q.row1 > row0 {
			return true
		}
	}
	return false
}

// atRow is the first reading of the trace not before a row.
func (tr *trace) atRow(row int) int {
	k, _ := slices.BinarySearch(tr.row, int32(row))
	return k
}

// standDefects reports the stands of a trace within a cycle.
func (s *Segmenter) standDefects(cy *Cycle, tr *trace) {
	listed := 0
	for _, q := range tr.stands {
		a, b := q.row0, q.row1
		if b <= cy.Rows.First || a >= cy.Rows.End || listed == maxStretches {
			continue
		}
		listed++
		a, b = max(a, cy.Rows.First), min(b, cy.Rows.End)
		t := s.clock.log.TimeS
		from, to := t[a], t[b-1]
		switch {
		case q.kind == Saturated && q.why == brokeOff:
			s.addDefect(cy, Saturated, tr.channel, a, b, "the %s probe goes at full pace up to exactly %.4g °C, its highest value, and stays there from %.0f s to %.0f s: the end of a range, the ring may have been hotter", tr.ring, q.y, from, to)
		case q.why == brokeOff:
			s.addDefect(cy, Frozen, tr.channel, a, b, "the %s probe goes at full pace up to exactly %.4g °C and stays there from %.0f s to %.0f s, as no heated ring comes to rest: these are no readings", tr.ring, q.y, from, to)
		case q.kind == Saturated:
			s.addDefect(cy, Saturated, tr.channel, a, b, "the %s probe reads exactly %.4g °C, its highest value, from %.0f s to %.0f s, without the noise it shows elsewhere: the end of a range, the ring may have been hotter", tr.ring, q.y, from, to)
		case q.why == caughtUp:
			s.addDefect(cy, Frozen, tr.channel, a, b, "the %s probe reads exactly %.4g °C from %.0f s to %.0f s and then jumps to where it was heading: these are no readings", tr.ring, q.y, from, to)
		case q.why == dithers:
			s.addDefect(cy, Frozen, tr.channel, a, b, "the %s probe reads only %.4g °C and its neighbouring value from %.0f s to %.0f s, without the noise it shows elsewhere: these are no readings", tr.ring, q.y, from, to)
		default:
			s.addDefect(cy, Frozen, tr.channel, a, b, "the %s probe reads exactly %.4g °C from %.0f s to %.0f s, without the noise it shows elsewhere: these are no readings", tr.ring, q.y, from, to)
		}
	}
}
