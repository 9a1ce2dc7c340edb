package segment

// hotterRing is by how much the outer ring's rise must be ahead of the inner one's for it to be read first.
const hotterRing = 1.02

// plan is one cycle to be read: which trace shows it best, and the other ring's view of it.
type plan struct {
	tr, other *trace
	w         warming
	otherLeg  *leg // the other trace's first rise in it; nil when it shows none
	fromU     float64
	firstRow  int // rows of the cycle
	endRow    int
	course    course
}

// span is the time from a warming's first tenth to its last high. The low itself may lie anywhere in a long
// flat stretch.
func (w *warming) span(tr *trace) (fromU, toU float64) {
	l := w.legs[0]
	b := l.high
	for b > l.low && tr.binY[b] > l.lowY+0.1*(l.highY-l.lowY) {
		b--
	}
	return tr.binT[b], tr.binT[w.topEnd]
}

// lowU is the time of a warming's low.
func (w *warming) lowU(tr *trace) float64 { return tr.binT[w.legs[0].low] }

// coverage is the share of a stretch that a trace covers with readings no further apart than a gap.
func (tr *trace) coverage(fromU, toU, gapS float64) float64 {
	if toU <= fromU {
		return 1
	}
	if n := len(tr.t); tr.uniform && n > 0 {
		return max(0, min(toU, tr.t[n-1])-max(fromU, tr.t[0])) / (toU - fromU)
	}
	covered := 0.0
	a := tr.at(fromU)
	for i := max(a, 1); i < len(tr.t) && tr.t[i-1] < toU; i++ {
		if d := tr.t[i] - tr.t[i-1]; d <= gapS {
			covered += min(tr.t[i], toU) - max(tr.t[i-1], fromU)
		}
	}
	return covered / (toU - fromU)
}

// plan pairs the warmings of both rings and chooses for each the trace to read it from: the inner ring's,
// unless that probe was not there or the outer ring is the hotter one.
func (s *Segmenter) plan(in, out *trace, o Options) {
	s.plans = s.plans[:0]
	switch {
	case in == nil && out == nil:
		return
	case in == nil || out == nil:
		tr := in
		if tr == nil {
			tr = out
		}
		for _, w := range tr.warmings {
			s.plans = append(s.plans, plan{tr: tr, w: w})
		}
	default:
		s.pair(in, out)
	}
	for i := range s.plans {
		p := &s.plans[i]
		p.fromU = p.tr.t[0]
		if i > 0 {
			_, prevU := s.plans[i-1].w.span(s.plans[i-1].tr)
			p.fromU = prevU
		}
		// A long gap before the low: what stood before it tells nothing of the level after it.
		lowU := p.w.lowU(p.tr)
		k := p.tr.at(lowU)
		for j := min(k, len(p.tr.t)-1); j > 0 && p.tr.t[j-1] >= p.fromU; j-- {
			if p.tr.t[j]-p.tr.t[j-1] > max(4*s.clock.gapS, 120) {
				p.fromU = p.tr.t[j]
				break
			}
		}
	}
}

// pair merges the warmings of two traces in order of time.
func (s *Segmenter) pair(in, out *trace) {
	gap := max(s.clock.gapS, gapFactor*max(in.spacing, out.spacing))
	used := make([]bool, len(out.warmings))
	for _, w := range in.warmings {
		p := plan{tr: in, other: out, w: w}
		a0, a1 := w.span(in)
		best, share := -1, 0.0
		for j := range out.warmings {
			b0, b1 := out.warmings[j].span(out)
			if d := min(a1, b1) - max(a0, b0); d > share {
				best, share = j, d
			}
			if min(a1, b1) > max(a0, b0) {
				used[j] = true
			}
		}
		if best >= 0 {
			ow := out.warmings[best]
			b0, b1 := ow.span(out)
			lo, hi := min(a0, b0), max(a1, b1)
			late := hi - 0.2*(hi-lo)
			if in.coverage(lo, hi, gap) < 0.9*out.coverage(lo, hi, gap) || in.coverage(late, hi, gap) < 0.6*out.coverage(late, hi, gap) {
				p.tr, p.other, p.w, ow = out, in, ow, w
			} else if share > 0.8*min(a1-a0, b1-b0) && hi-lo < 2.5*min(a1-a0, b1-b0) && outerLeads(in, out, &w, &ow) && out.coverage(lo, hi, gap) >= 0.9*in.coverage(lo, hi, gap) {
				// The hotter ring is the heated one: it breaks off when the heater does, the other rises on.
				p.tr, p.other, p.w, ow = out, in, ow, w
			}
			l := ow.legs[0]
			p.otherLeg = &l
			// One warming of the leading trace may hold two of the other's; it is read once.
			if n := len(s.plans); n > 0 && s.plans[n-1].tr == p.tr && s.plans[n-1].w.topEnd == p.w.topEnd {
				continue
			}
		}
		s.plans = append(s.plans, p)
	}
	for j, w := range out.warmings {
		if used[j] {
			continue
		}
		// Only the outer ring shows it: believed if the inner probe was not there, or stood still.
		b0, b1 := w.span(out)
		if in.coverage(b0, b1, gap) >= 0.5 {
			y0, y1 := 1e9, -1e9
			for k := in.binAt(b0); k < len(in.binT) && in.binT[k] <= b1; k++ {
				y0, y1 = min(y0, in.binY[k]), max(y1, in.binY[k])
			}
			if y1-y0 > 0.3*w.rise() || withinCycle(in, (b0+b1)/2) {
				continue
			}
		}
		p := plan{tr: out, other: in, w: w}
		at := len(s.plans)
		for at > 0 {
			if u, _ := s.plans[at-1].w.span(s.plans[at-1].tr); u < b0 {
				break
			}
			at--
		}
		s.plans = append(s.plans, plan{})
		copy(s.plans[at+1:], s.plans[at:])
		s.plans[at] = p
	}
}

// outerLeads says whether the outer ring is ahead while both are heated: by then it has risen more than the
// inner one, when that has risen by four fifths.
func outerLeads(in, out *trace, w, ow *warming) bool {
	l, ol := w.legs[0], ow.legs[0]
	b := l.low
	for b < l.high && in.binY[b] < l.lowY+0.8*(l.highY-l.lowY) {
		b++
	}
	y, ok := out.level(in.binT[b], max(2*probeSpanS, 3*out.spacing))
	return ok && y-ol.lowY > hotterRing*(in.binY[b]-l.lowY)
}

// withinCycle says whether u lies between the low before and the last high of one of a trace's warmings.
func withinCycle(tr *trace, u float64) bool {
	for i := range tr.warmings {
		if a, b := tr.warmings[i].span(tr); u >= a && u <= b {
			return true
		}
	}
	return false
}

// settleRows divides the log's rows among the cycles: each ends where the trace is lowest before the next,
// at the last long gap before it, or at its onset if that comes first.
func (s *Segmenter) settleRows(res *Result) {
	// Every cycle has at least one row, even if the clock stands still.
	n := s.clock.log.Len()
	s.plans = s.plans[:min(len(s.plans), n-len(res.Cycles))]
	start := 0
	if len(res.Cycles) > 0 {
		res.Cycles[0].Rows.End = min(res.Cycles[0].Rows.End, n-len(s.plans))
		start = res.Cycles[0].Rows.End
	}
	for i := range s.plans {
		p := &s.plans[i]
		p.firstRow = start
		p.endRow = n
		if i+1 < len(s.plans) {
			q := &s.plans[i+1]
			lowU := q.w.lowU(q.tr)
			u := min(lowU, q.course.onset.u)
			row := s.clock.rowAt(u)
			_, topU := p.w.span(p.tr)
			for j := row; j > 0 && s.clock.u[j-1] > topU; j-- {
				if s.clock.u[j]-s.clock.u[j-1] > max(4*s.clock.gapS, 120) {
					row = j
					break
				}
			}
			p.endRow = min(max(row, start+1), n-(len(s.plans)-1-i))
		}
		start = p.endRow
	}
}
