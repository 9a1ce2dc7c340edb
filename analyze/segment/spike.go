package segment

import "math"

// A spike detector for one trace. Neighbourhoods are at most reach readings to each side, marked
// ones left out, and end at gaps.
const (
	reach       = 8
	nearReach   = 3
	spikePass   = 3   // marking is repeated with the noise of the unmarked samples at most so often
	nearFactor  = 3.0 // a straight line through 3 readings explains a reading within 3 of its sd
	farFactor   = 5.0 // one through 8 readings within 5
	bendShare   = 0.7 // share of its own step by which a curve may bend from one reading to the next
	spikePace   = 1.5 // a spike moves faster than this many times the steepest sustained slope
	longestRunS = 4   // spikes next to spikes are told from a true move only within so many seconds
	edgeFloorK  = 10  // a first or last reading must be at least so far out, K,
	edgePace    = 5   // and this many times as fast as the part was seen to change
	stepFactor  = 2.5 // display steps that a spike stands out at least: 3 whole ones
)

// side is a neighbourhood on one side, nearest first.
type side struct {
	t, y [reach]float64
	n    int
}

// line extrapolates the least-squares line through the nearest k readings to time t; gain is the
// variance of (reading at t - extrapolation) for white noise of variance 1.
func (s *side) line(k int, t float64) (y, gain float64) {
	k = min(k, s.n)
	var mt, my float64
	for i := 0; i < k; i++ {
		mt += s.t[i]
		my += s.y[i]
	}
	mt /= float64(k)
	my /= float64(k)
	var stt, sty float64
	for i := 0; i < k; i++ {
		d := s.t[i] - mt
		stt += d * d
		sty += d * (s.y[i] - my)
	}
	gain = 1 + 1/float64(k)
	if stt <= 0 {
		return my, gain
	}
	d := t - mt
	return my + sty/stt*d, gain + d*d/stt
}

// level is the middle of the nearest three readings and its time.
func (s *side) level() (t, y float64) {
	switch s.n {
	case 1:
		return s.t[0], s.y[0]
	case 2:
		return 0.5 * (s.t[0] + s.t[1]), 0.5 * (s.y[0] + s.y[1])
	}
	return s.t[1], median3(s.y[0], s.y[1], s.y[2])
}

// explains says whether the trace on this side, continued straight, reaches a reading; off is how far
// it misses by the nearer line.
func (s *side) explains(t, y, noise, floor float64) (ok bool, off float64) {
	near, gain := s.line(nearReach, t)
	off = y - near
	if s.n >= 3 {
		// A curve that moves by so much from reading to reading may bend by as much.
		floor = max(floor, bendShare*min(math.Abs(s.y[0]-s.y[1]), math.Abs(s.y[1]-s.y[2])))
	}
	if math.Abs(off) < max(nearFactor*noise*math.Sqrt(gain), floor) {
		return true, off
	}
	far, gain := s.line(reach, t)
	return math.Abs(y-far) < max(farFactor*noise*math.Sqrt(gain), floor), off
}

// goesOn says whether a reading only carries on the nearest step on this side: the same way, and not much
// further. A step that is itself within the noise carries nothing on.
func (s *side) goesOn(y, least float64) bool {
	step, jump := s.y[0]-s.y[1], y-s.y[0]
	return math.Abs(step) > 0.7*least && step*jump > 0 && math.Abs(jump) < spikePace*math.Abs(step)
}

type spikeFinder struct {
	marked      []bool
	left, right side
	tr          *trace
	gapS        float64
	sigma       float64
	floorK      float64
	paceK       float64 // K/s that the part was seen to change
}

// neighbours collects up to reach unmarked readings on both sides of readings [i, j].
func (f *spikeFinder) neighbours(i, j int) {
	tr := f.tr
	f.left.n, f.right.n = 0, 0
	for k := i - 1; k >= 0 && f.left.n < reach && tr.t[k+1]-tr.t[k] <= f.gapS; k-- {
		if !f.marked[k] {
			f.left.t[f.left.n], f.left.y[f.left.n] = tr.t[k], tr.y[k]
			f.left.n++
		}
	}
	for k := j + 1; k < len(tr.t) && f.right.n < reach && tr.t[k]-tr.t[k-1] <= f.gapS; k++ {
		if !f.marked[k] {
			f.right.t[f.right.n], f.right.y[f.right.n] = tr.t[k], tr.y[k]
			f.right.n++
		}
	}
}

// out says whether readings [i, j] (one or two) stand out and the trace comes back after them.
func (f *spikeFinder) out(i, j int) bool {
	tr := f.tr
	noise := tr.localNoise(i)
	floor := stepFactor * tr.stepK
	least := max(f.sigma*noise, f.floorK, floor)
	if i > 0 && j+1 < len(tr.y) && !f.marked[i-1] && !f.marked[j+1] {
		// Most candidates are noise; a spike is far from its neighbours on both sides.
		in, back := tr.y[i]-tr.y[i-1], tr.y[j]-tr.y[j+1]
		if math.Abs(in) < 0.5*least || math.Abs(back) < 0.5*least || i == j && in*back < 0 {
			return false
		}
	}
	f.neighbours(i, j)
	if f.left.n < 2 || f.right.n < 2 {
		return false
	}
	// What the part was seen to do in that time, it may have done here as well.
	pace := spikePace * f.paceK * min(tr.t[i]-f.left.t[0], f.right.t[0]-tr.t[j])
	least = max(least, pace)
	lt, ly := f.left.level()
	rt, ry := f.right.level()
	slope := 0.0
	if rt > lt {
		slope = (ry - ly) / (rt - lt)
	}
	di := tr.y[i] - (ly + slope*(tr.t[i]-lt))
	dj := tr.y[j] - (ly + slope*(tr.t[j]-lt))
	if math.Abs(di) < least || math.Abs(dj) < least {
		return false
	}
	byLeft, offLeft := f.left.explains(tr.t[i], tr.y[i], noise, floor)
	if byLeft || offLeft*di < 0 {
		return false
	}
	byRight, offRight := f.right.explains(tr.t[j], tr.y[j], noise, floor)
	if byRight || offRight*dj < 0 {
		return false
	}
	if f.left.goesOn(tr.y[i], least) || f.right.goesOn(tr.y[j], least) {
		return false
	}
	// Out and back: what follows stands where it stood before, or where that was heading. A next neighbour
	// that is out itself, the other way, is passed over.
	before, after := f.left.next(di), f.right.next(dj)
	half := 0.5 * min(math.Abs(di), math.Abs(dj))
	if math.Abs(f.right.y[after]-f.left.y[before]) <= half {
		return true
	}
	if math.Abs(ry-ly) > 2*half && math.Abs(f.right.y[after]-f.left.y[before]) > 2*half {
		return false // too steep here to tell a peak from a spike
	}
	ahead, _ := f.left.line(nearReach, f.right.t[after])
	behind, _ := f.right.line(nearReach, f.left.t[before])
	return math.Abs(f.right.y[after]-ahead) <= half || math.Abs(f.left.y[before]-behind) <= half
}

// next is the nearest reading, or the one in the middle of the nearest three where the nearest lies off that
// one against the direction of out by more than half of out.
func (s *side) next(out float64) int {
	if s.n < 3 {
		return 0
	}
	middle := median3(s.y[0], s.y[1], s.y[2])
	if off := s.y[0] - middle; off*out >= 0 || math.Abs(off) < 0.25*math.Abs(out) {
		return 0
	}
	if s.y[1] == middle {
		return 1
	}
	return 2
}

// mark finds the spikes of a trace; f.marked then has one flag a reading. It returns how many.
func (f *spikeFinder) mark(tr *trace, gapS float64, o Options) int {
	n := len(tr.t)
	f.tr, f.gapS = tr, gapS
	f.sigma, f.floorK = o.SpikeSigma, float64(o.SpikeFloor)
	if cap(f.marked) < n {
		f.marked = make([]bool, n)
	}
	f.marked = f.marked[:n]
	clear(f.marked)
	f.paceK = tr.sustained()
	count := 0
	for b := 0; b < n; b += noiseBlock {
		// A spike of size A bends the trace by A, a pair by A/2 at each of its two ends.
		bend := 0.4 * max(f.sigma*tr.localNoise(b), f.floorK, stepFactor*tr.stepK)
		for i, end := max(b, 1), min(b+noiseBlock, n-1); i < end; i++ {
			if tr.uniform {
				if i = tr.nextBend(i, end, bend); i == end {
					break
				}
			} else if c := tr.curvature(i); c < bend && c > -bend {
				continue
			}
			if f.marked[i] {
				continue
			}
			switch {
			case f.out(i, i):
				f.marked[i] = true
				count++
			case !f.marked[i+1] && i+2 < n && f.out(i, i+1):
				f.marked[i], f.marked[i+1] = true, true
				count += 2
			case i > 1 && !f.marked[i-1] && f.out(i-1, i):
				// Two readings in line with the one before bend the trace only here.
				f.marked[i-1], f.marked[i] = true, true
				count += 2
			default:
				count += f.markRun(i)
			}
		}
	}
	for _, i := range [2]int{0, n - 1} {
		if !f.marked[i] && f.outAtEdge(i) {
			f.marked[i] = true
			count++
		}
	}
	return count
}

// nextBend is the first of readings [i, end) whose curvature reaches bend, on even spacing; end if none does.
func (tr *trace) nextBend(i, end int, bend float64) int {
	y := tr.y[i-1 : end+1]
	for k := 1; k < len(y)-1; k++ {
		if c := y[k] - 0.5*(y[k-1]+y[k+1]); c >= bend || c <= -bend {
			return i + k - 1
		}
	}
	return end
}

// markRun marks three or four readings from i on that are out together within a few seconds: spikes next to
// spikes. It returns how many.
func (f *spikeFinder) markRun(i int) int {
	tr := f.tr
	for j := i + 2; j <= i+3 && j+1 < len(tr.t); j++ {
		if tr.t[j]-tr.t[i] > longestRunS || f.marked[i+1] || f.marked[j-1] || f.marked[j] {
			return 0
		}
		// All of it must stand on one side, far from what stands before and after.
		far := 0.5 * max(f.sigma*tr.localNoise(i), f.floorK, stepFactor*tr.stepK)
		side := math.Copysign(1, tr.y[i]-tr.y[i-1])
		whole := true
		for k := i; k <= j; k++ {
			whole = whole && side*(tr.y[k]-tr.y[i-1]) > far && side*(tr.y[k]-tr.y[j+1]) > far
		}
		if whole && f.out(i, j) {
			for k := i; k <= j; k++ {
				f.marked[k] = true
			}
			return j - i + 1
		}
	}
	return 0
}

// outAtEdge says whether the record's first or last reading is out of reach of all others. There is no
// other side to compare with, so far more is asked.
func (f *spikeFinder) outAtEdge(i int) bool {
	tr := f.tr
	f.neighbours(i, i)
	s := &f.left
	if i == 0 {
		s = &f.right
	}
	if s.n < 5 {
		return false
	}
	noise := tr.localNoise(i)
	least := max(2*f.sigma*noise, 2*stepFactor*tr.stepK, edgeFloorK, edgePace*f.paceK*math.Abs(tr.t[i]-s.t[0]))
	far, _ := s.line(reach, tr.t[i])
	return math.Abs(tr.y[i]-s.y[0]) > least && math.Abs(tr.y[i]-far) > least
}

// drop takes the marked readings out of a trace and appends their rows to rows.
func (tr *trace) drop(marked []bool, rows []int32) []int32 {
	k := 0
	for i, m := range marked {
		if m {
			rows = append(rows, tr.row[i])
			continue
		}
		tr.t[k], tr.y[k], tr.row[k] = tr.t[i], tr.y[i], tr.row[i]
		k++
	}
	tr.t, tr.y, tr.row = tr.t[:k], tr.y[:k], tr.row[:k]
	tr.uniform = false
	return rows
}
