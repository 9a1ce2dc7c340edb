package segment

import "math"

// A probe that is put on late, falls off or is taken off moves faster than a ring can. Two bounds tell,
// both from the rings' heat balance: no ring warms faster than the steepest ramp of the one that is
// heated, and after switch-off the hotter ring can't lose heat to the cooler one faster than the heater
// supplied it, so no ring cools faster than it was heated. And while one ring is being heated, the cooler
// one can't fall.
const (
	fastUp   = 2.5 // times the steepest sustained rise of the other probe
	fastDown = 1.6 // times the steepest sustained rise of either
)

// loss is a stretch in which a probe did not touch its ring.
type loss struct {
	fromU, toU float64
	fromY, toY float64
	late       bool // not put on before toU
	never      bool // stayed at its start level
	back       bool // came back to the ring at toU
	afterEnd   bool // nothing was being heated any more
}

// steepest is the steepest sustained rise of a trace, K/s, over its largest upward move.
func (tr *trace) steepest(tt []turn) (rate, rise float64) {
	var low, high turn
	for i := 0; i+1 < len(tt); i++ {
		if !tt[i].high && tt[i+1].y-tt[i].y > rise {
			rise = tt[i+1].y - tt[i].y
			low, high = tt[i], tt[i+1]
		}
	}
	if rise <= 0 {
		return
	}
	a, b := low.bin, high.bin
	for a < b && tr.binY[a+1] < low.y+0.05*rise {
		a++
	}
	for b > a && tr.binY[b-1] > high.y-0.05*rise {
		b--
	}
	window := (tr.binT[b] - tr.binT[a]) / 5
	j := a
	for i := a; i < b; i++ {
		for j < b && (tr.binT[j]-tr.binT[i] < window || j <= i) {
			j++
		}
		if d := tr.binT[j] - tr.binT[i]; d > 0 && d >= window*0.99 {
			rate = max(rate, (tr.binY[j]-tr.binY[i])/d)
		}
	}
	return
}

// level is the mean of the bins of a trace about time u, and whether there are any within reach of it.
func (tr *trace) level(u, reachS float64) (float64, bool) {
	k := tr.binAt(u)
	best, found := 0.0, false
	d := reachS
	for _, j := range [2]int{k - 1, k} {
		if j >= 0 && j < len(tr.binT) {
			if e := math.Abs(tr.binT[j] - u); e <= d {
				best, found, d = tr.binY[j], true, e
			}
		}
	}
	return best, found
}

// move is the mean slope of a trace from bin i on over at least span seconds, and the bin it reaches.
func (tr *trace) move(i int, span float64) (slope float64, j int) {
	for j = i + 1; j < len(tr.binT) && tr.binT[j]-tr.binT[i] < span; j++ {
	}
	if j >= len(tr.binT) {
		return 0, -1
	}
	return (tr.binY[j] - tr.binY[i]) / (tr.binT[j] - tr.binT[i]), j
}

// middle is the median of the five bins about bin b: a few readings that are out don't move it.
func (tr *trace) middle(b int) float64 {
	a := max(0, min(b-2, len(tr.binY)-5))
	v := [5]float64{}
	n := copy(v[:], tr.binY[a:min(a+5, len(tr.binY))])
	return quantile(v[:n], 0.5)
}

// surely lowers the size of a slope by what noise can feign when the steepest of many is picked.
func (tr *trace) surely(slope, span float64) float64 {
	return max(0, math.Abs(slope)-6*tr.binNoiseK/span)
}

// probeSpanS is the time over which a probe's own response to being put on or taken off is judged.
const probeSpanS = 10

// contacts finds the losses of contact of x, with z the other ring's probe (nil if there is none).
func (s *Segmenter) contacts(x, z *trace, xt, zt []turn, o Options) []loss {
	if len(x.binT) < 4 {
		return nil
	}
	var out []loss
	xRate, _ := x.steepest(xt)
	zRate, zRise := 0.0, 0.0
	if z != nil && len(z.binT) >= 4 {
		zRate, zRise = z.steepest(zt)
	}
	if zRise >= float64(o.MinRise) {
		out = s.late(x, z, zt, zRate, out, o)
		out = s.detachedWhileHeated(x, z, zt, max(zRate, 1e-9), out, o)
	}
	if zRise < float64(o.MinRise) {
		out = s.jumps(x, xt, out, o)
	}
	out = s.fellFast(x, z, xt, max(xRate, zRate), out, o)
	return out
}

// late finds warmings of z through which x stays where it was and then jumps, or never moves.
func (s *Segmenter) late(x, z *trace, zt []turn, zRate float64, out []loss, o Options) []loss {
	for i := 0; i+1 < len(zt); i++ {
		if zt[i].high || zt[i+1].y-zt[i].y < float64(o.MinRise) {
			continue
		}
		rise := zt[i+1].y - zt[i].y
		k := zt[i].bin
		onset := k
		for k < zt[i+1].bin && z.binY[k] < zt[i].y+max(8, 0.15*rise) {
			if z.binY[k] < zt[i].y+0.03*rise {
				onset = k
			}
			k++
		}
		reach := max(2*probeSpanS, 3*x.spacing, 3*z.spacing)
		y0, ok0 := x.level(z.binT[onset], reach)
		y1, ok1 := x.level(z.binT[k], reach)
		still := max(1.5, x.tolK(5))
		if !ok0 || !ok1 || math.Abs(y1-y0) > still {
			continue
		}
		// Follow x until it leaves its level.
		a := x.binAt(z.binT[k])
		for a < len(x.binT) && math.Abs(x.binY[a]-y0) <= still {
			a++
		}
		endU := z.binT[len(z.binT)-1]
		for j := i + 2; j < len(zt); j++ {
			if !zt[j].high {
				endU = z.binT[zt[j].bin]
				break
			}
		}
		if a >= len(x.binT) || x.binT[a] > endU {
			if rise >= 2*float64(o.MinRise) {
				out = append(out, loss{fromU: z.binT[onset], toU: min(endU, x.binT[len(x.binT)-1]), fromY: y0, toY: y0, never: true})
			}
			continue
		}
		a = max(a-1, 0)
		best, from, to := 0.0, -1, -1
		for b := a; b < len(x.binT) && x.binT[b] < x.binT[a]+4*probeSpanS+4*x.spacing; b++ {
			if sl, j := x.move(b, probeSpanS); j > 0 && sl > best {
				best, from, to = sl, b, j
			}
		}
		if from < 0 || x.surely(best, x.binT[to]-x.binT[from]) < fastUp*zRate {
			continue
		}
		for sl, j := x.move(to, probeSpanS); j > 0 && sl > 1.5*zRate; sl, j = x.move(to, probeSpanS) {
			to = j
		}
		if x.binY[to]-y0 < 8 {
			continue
		}
		out = append(out, loss{fromU: z.binT[onset], toU: x.binT[to], fromY: y0, toY: x.binY[to], late: true, back: true})
	}
	return out
}

// jumps finds a late probe without another one to compare with: a step up that is over within seconds,
// after which the trace goes on far more slowly, for at least as long and by a fair share of the rise: a
// short fast ramp does not.
func (s *Segmenter) jumps(x *trace, xt []turn, out []loss, o Options) []loss {
	for i := 0; i+1 < len(xt); i++ {
		if xt[i].high || xt[i+1].y-xt[i].y < float64(o.MinRise) {
			continue
		}
		best, from, to := 0.0, -1, -1
		for b := xt[i].bin; b < xt[i+1].bin; b++ {
			if sl, j := x.move(b, probeSpanS); j > 0 && sl > best {
				best, from, to = sl, b, j
			}
		}
		if from < 0 || x.binT[to]-x.binT[from] > 2*probeSpanS {
			continue
		}
		for from > xt[i].bin && x.binY[from]-x.binY[from-1] > 0.3*best*(x.binT[from]-x.binT[from-1]) {
			from--
		}
		for sl, j := x.move(to, probeSpanS); j > 0 && sl > 0.3*best; sl, j = x.move(to, probeSpanS) {
			to = j
		}
		jump := x.binY[to] - x.binY[from]
		wide := x.binT[to] - x.binT[from]
		before, after := x.binY[from]-xt[i].y, xt[i+1].y-x.binY[to]
		sl, j := x.move(to, 3*probeSpanS)
		if jump < 15 || wide > 4.5*probeSpanS || j < 0 || sl > 0.25*best || before > max(2, x.tolK(5)) || after < 0.15*(jump+after) || x.binT[xt[i+1].bin]-x.binT[to] < wide {
			continue
		}
		flat := from
		for flat > 0 && x.binT[flat]-x.binT[flat-1] < s.clock.gapS+x.binT[to]-x.binT[from] && x.binY[flat-1] < x.binY[from]+max(2, x.tolK(5)) {
			flat--
		}
		out = append(out, loss{fromU: x.t[x.binFirst[flat]], toU: x.binT[to], fromY: x.binY[from], toY: x.binY[to], late: true, back: true})
	}
	return out
}

// detachedWhileHeated finds where x falls while z rises, to below z.
func (s *Segmenter) detachedWhileHeated(x, z *trace, zt []turn, zRate float64, out []loss, o Options) []loss {
	for i := 0; i+1 < len(zt); i++ {
		if zt[i].high || zt[i+1].y-zt[i].y < float64(o.MinRise) {
			continue
		}
		rise := zt[i+1].y - zt[i].y
		fall := max(5, x.tolK(8), 4*x.stepK, 0.05*rise)
		endU := z.binT[zt[i+1].bin]
		m := x.binAt(z.binT[zt[i].bin])
		if m >= len(x.binT) {
			continue
		}
		for b := m; b < len(x.binT) && x.binT[b] <= endU; b++ {
			if x.binY[b] >= x.binY[m] {
				m = b
				continue
			}
			if x.binY[m]-x.binY[b] < fall || x.middle(m)-x.middle(b) < fall {
				continue
			}
			reach := max(2*probeSpanS, 3*z.spacing)
			knee := x.knee(m, b, max(x.tolK(4), 0.1*fall))
			now, ok := z.level(x.binT[b], reach)
			then, ok2 := z.level(x.binT[knee], reach)
			half, ok3 := z.level(0.5*(x.binT[knee]+x.binT[b]), reach)
			tol := max(1, z.tolK(3))
			if !ok || !ok2 || !ok3 || now-then < tol || now-half < 0.3*tol || x.meanAbout(b) > now-max(3, 5*(x.binNoiseK+z.binNoiseK)) || x.binY[knee]-x.binY[b] < fall {
				continue
			}
			l := loss{fromU: x.binT[knee], fromY: x.binY[knee]}
			b = s.comeback(x, b, zRate, &l)
			out = append(out, l)
			m = b
		}
	}
	return out
}

// knee is the bin between a and b that stands highest above the line from a to b, by more than least; a
// if none does.
func (tr *trace) knee(a, b int, least float64) int {
	knee, height := a, least
	sl := (tr.binY[b] - tr.binY[a]) / max(tr.binT[b]-tr.binT[a], 1e-9)
	for k := a + 1; k < b; k++ {
		if v := tr.binY[k] - tr.binY[a] - sl*(tr.binT[k]-tr.binT[a]); v > height {
			knee, height = k, v
		}
	}
	return knee
}

// comeback follows x from bin b of a fall to where it jumps up again, or to its end. It returns the bin
// from which x may be trusted again.
func (s *Segmenter) comeback(x *trace, b int, rate float64, l *loss) int {
	low := b
	for ; b < len(x.binT); b++ {
		if x.binY[b] < x.binY[low] {
			low = b
		}
		sl, j := x.move(b, probeSpanS)
		if j < 0 {
			continue
		}
		if x.surely(max(sl, 0), x.binT[j]-x.binT[b]) > fastUp*rate && x.binY[j]-x.binY[low] > 5 {
			for {
				next, k := x.move(j, probeSpanS)
				if k < 0 || next < 1.5*rate {
					break
				}
				j = k
			}
			l.toU, l.toY, l.back = x.binT[j], x.binY[j], true
			return j
		}
	}
	n := len(x.binT) - 1
	l.toU, l.toY = x.binT[n], x.binY[low]
	return n
}

// fellFast finds falls of x that are faster than any ring can cool.
func (s *Segmenter) fellFast(x, z *trace, xt []turn, rate float64, out []loss, o Options) []loss {
	if rate <= 0 {
		return out
	}
	for i := 0; i+1 < len(xt); i++ {
		if !xt[i].high {
			continue
		}
		fall := xt[i].y - xt[i+1].y
		// The level that x rose from bounds what a fall means.
		base := xt[i+1].y
		if i > 0 {
			base = min(base, xt[i-1].y)
		}
		if fall < max(10, 0.35*(xt[i].y-base)) {
			continue
		}
		if overlaps(out, x.binT[xt[i].bin]-probeSpanS, x.binT[xt[i+1].bin]) {
			continue
		}
		for b := xt[i].bin; b < xt[i+1].bin; b++ {
			sl, j := x.move(b, probeSpanS)
			if j < 0 || j > xt[i+1].bin+1 {
				break
			}
			if x.surely(min(sl, 0), x.binT[j]-x.binT[b]) < fastDown*rate {
				continue
			}
			// How far does it go at this pace or near it?
			end := j
			for end < xt[i+1].bin {
				next, k := x.move(end, probeSpanS)
				if k < 0 || next > -0.5*rate {
					break
				}
				end = k
			}
			drop := x.binY[b] - x.binY[end]
			if drop < max(10, 0.35*(xt[i].y-base)) {
				b = end
				continue
			}
			if z != nil {
				// A fall to the other ring's level is heat flowing into it.
				if zy, ok := z.level(x.binT[b], 2*probeSpanS); ok && x.binY[end] > zy-max(3, 0.05*(xt[i].y-base)) {
					b = end
					continue
				}
			}
			l := loss{fromU: x.binT[b], fromY: x.binY[b]}
			s.comeback(x, end, rate, &l)
			if !l.back || l.toU > x.binT[xt[i+1].bin] {
				// What follows the fall's end is another warming, or another part.
				l.toU, l.toY, l.back = x.binT[xt[i+1].bin], x.binY[end], false
				l.afterEnd = true
			}
			out = append(out, l)
			break
		}
	}
	return out
}

// overlaps says whether one of the losses touches the stretch.
func overlaps(ls []loss, fromU, toU float64) bool {
	for _, l := range ls {
		if l.fromU <= toU && l.toU >= fromU {
			return true
		}
	}
	return false
}

// without takes the readings of losses that hide the ring out of a trace. A probe that was taken off
// after everything else had happened keeps its readings.
func (tr *trace) without(ls []loss) bool {
	cut := false
	for _, l := range ls {
		cut = cut || !l.afterEnd
	}
	if !cut {
		return false
	}
	k := 0
	for i, u := range tr.t {
		in := false
		for _, l := range ls {
			in = in || !l.afterEnd && u >= l.fromU && u <= l.toU
		}
		if in {
			continue
		}
		tr.t[k], tr.y[k], tr.row[k] = tr.t[i], tr.y[i], tr.row[i]
		k++
	}
	tr.t, tr.y, tr.row = tr.t[:k], tr.y[:k], tr.row[:k]
	tr.uniform = false
	return true
}
