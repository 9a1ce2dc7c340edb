package segment

import (
	"math"

	"ringheat/analyze/series"
)

// trace is one channel's readings without missing samples and, after spikes have been marked,
// without those either, on the unrolled time axis.
type trace struct {
	channel int
	ring    string // "inner" or "outer", for messages
	t, y    []float64
	row     []int32
	stepK   float64   // display step, K; 0 unknown
	uniform bool      // readings stand at even distances
	valid   int       // readings before spikes and losses were taken out
	noiseK  float64   // standard deviation of one reading, rounding included, K
	whiteK  float64   // the same without rounding, K
	blockK  []float64 // the same for each block of noiseBlock readings, rounding not included
	spacing float64   // usual time between readings, s

	binT, binY []float64 // means of consecutive readings
	binFirst   []int32   // index of each bin's first reading; one more at the end
	binNoiseK  float64   // standard deviation of a bin mean, K
	binS       float64   // usual time that a bin covers, s

	turns    []turn
	legs     []leg
	warmings []warming
	losses   []loss
	stands   []stand
	unitK    float64 // smallest change that is seen, K
	spikes   []int32 // rows
}

// Readings beyond these can't be a steel part's and are marked as spikes straight away: absolute zero, and
// twice the melting point of steel.
const (
	lowestC  = -273.15
	highestC = 3000
)

// noiseBlock is the number of readings whose noise is judged together.
const noiseBlock = 128

// rounding is the standard deviation of a rounding error for a display step of 1: 1/sqrt(12).
const rounding = 0.288675

func (tr *trace) load(log *series.Log, c *clock, channel int) {
	ch := &log.Channels[channel]
	tr.channel = channel
	tr.spikes = nil
	tr.losses, tr.warmings, tr.turns = nil, tr.warmings[:0], tr.turns[:0]
	tr.stepK = float64(ch.StepK)
	n := len(ch.C)
	if cap(tr.t) < n {
		tr.t, tr.y, tr.row = make([]float64, n), make([]float64, n), make([]int32, n)
	}
	t, y, row := tr.t[:n], tr.y[:n], tr.row[:n]
	u := c.u[:n]
	k := 0
	for i, v := range ch.C {
		if v > lowestC && v < highestC {
			t[k], y[k], row[k] = u[i], v, int32(i)
			k++
		} else if !series.IsMissing(v) {
			tr.spikes = append(tr.spikes, int32(i))
		}
	}
	tr.t, tr.y, tr.row = t[:k], y[:k], row[:k]
	tr.valid = k + len(tr.spikes)
	tr.uniform = k == n && c.uniform
	tr.spacing = c.intervalS
	if n := len(tr.t); n > 0 && n < len(ch.C)*3/4 {
		tr.spacing = c.usualStep(tr.t)
	}
}

// curvature is the distance of reading i from the line between its neighbours, K. Its variance for
// white noise of variance 1 is 1.5 on even spacing.
func (tr *trace) curvature(i int) float64 {
	if tr.uniform {
		return tr.y[i] - 0.5*(tr.y[i-1]+tr.y[i+1])
	}
	return tr.unevenCurvature(i)
}

func (tr *trace) unevenCurvature(i int) float64 {
	a, b := tr.t[i]-tr.t[i-1], tr.t[i+1]-tr.t[i]
	if d := a - b; d < 1e-6 && d > -1e-6 || a+b <= 0 {
		return tr.y[i] - 0.5*(tr.y[i-1]+tr.y[i+1])
	}
	w := b / (a + b)
	return tr.y[i] - w*tr.y[i-1] - (1-w)*tr.y[i+1]
}

// findStep raises stepK to the step that the readings are seen to keep to, where that is coarser than the
// one the log's notation shows: many neighbours are equal, and those that are not differ by a step.
func (tr *trace) findStep(scratch []float64) []float64 {
	scratch = scratch[:0]
	stride := max(1, len(tr.y)/400)
	pairs := 0
	for i := 1; i < len(tr.y); i += stride {
		pairs++
		if d := math.Abs(tr.y[i] - tr.y[i-1]); d > 1e-9 {
			scratch = append(scratch, d)
		}
	}
	if n := len(scratch); n >= 8 && pairs-n > pairs/4 {
		tr.stepK = max(tr.stepK, quantile(scratch, 0.1))
	}
	return scratch
}

// measureNoise sets noiseK and blockK. The 40 % quantile stands for the median, because two-sample
// spikes in every eighth reading touch half of all curvatures.
func (tr *trace) measureNoise(scratch []float64) []float64 {
	const q, z = 0.40, 0.5244 // z: standard normal quantile at (1+q)/2
	scale := 1 / (z * math.Sqrt(1.5))
	n := len(tr.y)
	tr.blockK = tr.blockK[:0]
	for b := 0; b < n; b += noiseBlock {
		end := min(b+noiseBlock, n-1)
		scratch = scratch[:0]
		if tr.uniform {
			for i := max(b, 1); i < end; i += 3 {
				scratch = append(scratch, math.Abs(tr.y[i]-0.5*(tr.y[i-1]+tr.y[i+1])))
			}
		} else {
			for i := max(b, 1); i < end; i += 3 {
				scratch = append(scratch, math.Abs(tr.curvature(i)))
			}
		}
		s := 0.0
		if len(scratch) >= 8 || b == 0 && len(scratch) > 0 {
			s = scale * quantile(scratch, q)
		} else if len(tr.blockK) > 0 {
			s = tr.blockK[len(tr.blockK)-1]
		}
		tr.blockK = append(tr.blockK, s)
	}
	white := 0.0
	if len(tr.blockK) > 0 {
		scratch = append(scratch[:0], tr.blockK...)
		white = quantile(scratch, 0.5)
	}
	tr.whiteK = white
	tr.noiseK = math.Sqrt(white*white + rounding*rounding*tr.stepK*tr.stepK)
	return scratch
}

// sustained is the steepest slope that three steps in a row keep up, K/s: what the part is seen to do. One
// or two readings that are out can't make three steps in one direction; a few more in a row could, so of a
// long trace the steepest few are left out.
func (tr *trace) sustained() float64 {
	p := pace{keep: min(1+len(tr.y)/300, len(pace{}.top))}
	if len(tr.y) < 4 {
		return 0
	}
	var d1, d2 float64
	if tr.uniform && tr.spacing > 0 {
		// In kelvins a step; the noise of one step decides most of them at once.
		last := tr.y[0]
		for _, y := range tr.y[1:] {
			d := y - last
			last = y
			if d > p.least {
				if d1 > p.least && d2 > p.least {
					p.add(min(d, d1, d2))
				}
			} else if d < -p.least {
				if d1 < -p.least && d2 < -p.least {
					p.add(-max(d, d1, d2))
				}
			}
			d2, d1 = d1, d
		}
		return p.least / tr.spacing
	}
	for i := 1; i < len(tr.y); i++ {
		d := 0.0
		if dt := tr.t[i] - tr.t[i-1]; dt > 0 {
			d = (tr.y[i] - tr.y[i-1]) / dt
		}
		p.add(max(min(d, d1, d2), -max(d, d1, d2)))
		d2, d1 = d1, d
	}
	return p.least
}

// pace keeps the largest few of many slopes; least is the smallest of these.
type pace struct {
	top   [8]float64 // the first keep of it, ascending
	keep  int
	least float64
}

func (p *pace) add(m float64) {
	if m <= p.least {
		return
	}
	k := 0
	for ; k+1 < p.keep && p.top[k+1] < m; k++ {
		p.top[k] = p.top[k+1]
	}
	p.top[k] = m
	p.least = p.top[0]
}

// localNoise is the noise about reading i, K: its block's or the whole trace's, whichever is larger.
func (tr *trace) localNoise(i int) float64 {
	return max(tr.noiseK, tr.blockK[min(i/noiseBlock, len(tr.blockK)-1)])
}

// manyMarked is the share of marked readings from which some more may have stayed unmarked.
const manyMarked = 0.005

// bin fills the bin means. A bin never spans a gap. Where many readings had to be marked a bin has at least
// five, and its median stands for its mean.
func (tr *trace) bin(size int, gapS float64) {
	robust := float64(len(tr.spikes)) > manyMarked*float64(len(tr.t))
	if robust {
		size = max(size, 5)
	}
	var five [64]float64
	tr.binT, tr.binY, tr.binFirst = tr.binT[:0], tr.binY[:0], tr.binFirst[:0]
	n := len(tr.y)
	for i := 0; i < n; {
		end := min(i+size, n)
		st, sy := tr.t[i], tr.y[i]
		j := i + 1
		for ; j < end && (tr.uniform || tr.t[j]-tr.t[j-1] <= gapS); j++ {
			st += tr.t[j]
			sy += tr.y[j]
		}
		m := 1 / float64(j-i)
		mean := sy * m
		if robust && j-i >= 3 {
			mean = quantile(append(five[:0], tr.y[i:j]...), 0.5)
		}
		tr.binT = append(tr.binT, st*m)
		tr.binY = append(tr.binY, mean)
		tr.binFirst = append(tr.binFirst, int32(i))
		i = j
	}
	tr.binFirst = append(tr.binFirst, int32(n))
	if robust { // and a bin that is out as a whole goes with its neighbours
		prev := 0.0
		for b := range tr.binY {
			v := tr.binY[b]
			if b > 0 && b+1 < len(tr.binY) {
				tr.binY[b] = median3(prev, v, tr.binY[b+1])
			}
			prev = v
		}
	}
	tr.binS = float64(size) * tr.spacing
	tr.binNoiseK = tr.meanNoise(size)
}

// meanNoise is the standard deviation of the mean of m readings, K. Noise of 0.3 display steps or more
// makes rounding errors independent; with less they go on together and don't average out.
func (tr *trace) meanNoise(m int) float64 {
	r := rounding * tr.stepK
	if tr.whiteK >= 0.3*tr.stepK {
		r /= math.Sqrt(float64(m))
	}
	return math.Sqrt(tr.whiteK*tr.whiteK/float64(m) + r*r)
}

// binSize chooses how many readings make a bin: enough to bring noise down to about 0.1 K, at most
// 10 s and at most a hundredth of the record.
func (tr *trace) binSize() int {
	want := tr.noiseK / 0.1
	size := want * want
	if tr.spacing > 0 {
		size = min(size, 10/tr.spacing)
	}
	size = min(size, float64(len(tr.y))/100)
	return max(1, int(size))
}
