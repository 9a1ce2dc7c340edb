package curve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestExtremeIsItsPlainTwin: what is read once, side by side and in runs gives the very bits of the plain
// reading, on traces with ties, equal times, few samples, corners anywhere and values of either sign.
func TestExtremeIsItsPlainTwin(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 31))
	compared, methods := 0, map[string]int{}
	for range seedsFor(4000) {
		n := 1 + rng.IntN(40)
		if rng.IntN(2) == 0 {
			n = 1 + rng.IntN(1500)
		}
		ts, ys := make([]float64, n), make([]float64, n)
		step := []float64{0, 0.1, 0.5, 1}[rng.IntN(4)]
		noise := []float64{0, 0.05, 0.3}[rng.IntN(3)]
		level, rate, cool, off := 100*rng.Float64()-50, 0.3*rng.Float64(), 0.2*rng.Float64()-0.05, float64(rng.IntN(n+1))
		at := 0.0
		for i := range ts {
			ts[i] = at
			if rng.IntN(20) > 0 {
				at++
			}
			ys[i] = level + rate*math.Min(at, off) - cool*math.Max(0, at-off) + noise*rng.NormFloat64()
			if step > 0 {
				ys[i] = math.Round(ys[i]/step) * step
			}
		}
		var corners []float64
		for c := -2.0; len(corners) < 6 && rng.IntN(4) > 0; {
			c += rng.Float64() * float64(n) / 2
			corners = append(corners, c)
		}
		if rng.IntN(2) == 0 {
			corners = []float64{off}
		}
		o := ExtremeOptions{StepK: step, CornersS: corners}
		for _, sign := range []float64{1, -1} {
			got, want := extreme(ts, ys, o, sign), plainExtreme(ts, ys, o, sign)
			if got != want {
				t.Fatalf("%d samples, corners %v, sign %g:\n%+v\n%+v, the plain twin", n, corners, sign, got, want)
			}
			methods[got.Method]++
			compared++
		}
	}
	t.Logf("%d compared: %v", compared, methods)
	for _, m := range []string{methodCorner, methodEdge, methodVertex, methodLevel, methodSample} {
		if methods[m] == 0 {
			t.Errorf("no trace was read by %q", m)
		}
	}
}

// plainExtreme is extreme as it is described, one thing after the other.
func plainExtreme(t, y []float64, o ExtremeOptions, sign float64) Extreme {
	n := len(y)
	if len(t) != n {
		panic("curve: as many times as values are needed")
	}
	if n == 0 {
		return Extreme{}
	}
	// the raw extreme, and the noise from second differences (6 sigma^2 for independent noise; corners are
	// few and curvature is small from sample to sample)
	top := 0
	sum := 0.0
	best := sign * y[0]
	for i := 1; i < n; i++ {
		if v := sign * y[i]; v > best {
			best, top = v, i
		}
	}
	for i := 2; i < n; i++ {
		sum += math.Abs(y[i] - 2*y[i-1] + y[i-2])
	}
	out := Extreme{Raw: best, RawAtS: t[top], Known: true}
	if n < 5 {
		out.Value, out.AtS, out.N, out.Method = best, t[top], 1, methodSample
		out.StdErr, out.NoiseSD = 0, 0
		return out
	}
	const meanToSD = 1.2533141373155 / 2.449489742783178 // mean |x| of a normal to its sd; sqrt(6)
	noise := meanToSD * sum / float64(n-2)
	// below the floor nothing is called a shape: display steps, rounding of the arithmetic
	floor := math.Max(math.Max(noise, o.StepK/math.Sqrt(12)), 1e-10*(1+math.Abs(best)))

	var last piece
	lastOK := false
	found := false
	consider := func(p *piece) {
		if !found || p.value > out.Value {
			out.Value, out.StdErr, out.AtS = p.value, p.se, p.at
			out.NoiseSD, out.N, out.Method = p.noise, p.n, p.method
			found = true
		}
	}
	// A piece is carried to its corner to meet its neighbour there. Where it meets none, as a fall after a
	// level hold, the corner may lie a sample later than it was put, and a piece carried past its own samples
	// would run above all of them: it is read within them.
	alone := func(p *piece) {
		if p.atLeft || p.atRight {
			*p = plainPiece(t[p.first:p.end], y[p.first:p.end], math.Inf(-1), math.Inf(1), sign, noise, floor)
		}
		consider(p)
	}
	// pieces from corner to corner; one whose highest sample is far below the highest of all can't matter
	first := 0
	left := math.Inf(-1)
	corner := 0
	for first < n {
		for corner < len(o.CornersS) && o.CornersS[corner] <= t[first] {
			left = o.CornersS[corner]
			corner++
		}
		end, right := n, math.Inf(1)
		if corner < len(o.CornersS) {
			right = o.CornersS[corner]
			end = first + 1
			for end < n && t[end] <= right {
				end++
			}
			if end == n && right > t[n-1] {
				right = math.Inf(1)
			}
		}
		p, ok := piece{}, false
		if high := plainTop(y[first:end], sign); high > best-math.Max(12*floor, 0.05*math.Abs(best-sign*y[0])) {
			p, ok = plainPiece(t[first:end], y[first:end], left, right, sign, noise, floor), true
			p.first, p.end = first, end
		}
		if lastOK && ok && last.atRight && p.atLeft {
			c := meet(&last, &p)
			consider(&c)
			last.atRight, p.atLeft = false, false // used up
			lastOK = p.at > left
			last = p
		} else {
			if lastOK {
				alone(&last)
			}
			last, lastOK = p, ok
		}
		first, left = end, right
	}
	if lastOK {
		alone(&last)
	}
	return out
}

func plainTop(y []float64, sign float64) float64 {
	best := sign * y[0]
	for _, v := range y {
		if v *= sign; v > best {
			best = v
		}
	}
	return best
}

// plainFit fills the sums for the samples t, y one after the other and solves.
func (p *local) plainFit(t, y []float64, sign float64) {
	n := len(y)
	p.scale = math.Max(p.t0-t[0], t[n-1]-p.t0)
	if p.scale <= 0 {
		p.scale = 1
	}
	p.s, p.z, p.yy, p.m, p.points = [9]float64{}, [5]float64{}, 0, n, 0
	size := (n + gather - 1) / gather
	for i := 0; i < n; i += size {
		end := min(i+size, n)
		var st, sy float64
		tt := t[i:end]
		for j, v := range y[i:end] {
			st += tt[j]
			sy += v
		}
		w := float64(end - i)
		sy = sign*sy - w*p.y0
		u := (st/w - p.t0) / p.scale
		p.yy += sy * sy / w
		p.points++
		for j := range p.s {
			p.s[j] += w
			w *= u
		}
		for j := range p.z {
			p.z[j] += sy
			sy *= u
		}
	}
	p.factor()
}

// plainPiece finds the largest value of one piece, reading everything again for every answer.
func plainPiece(t, y []float64, left, right, sign, noise, floor float64) piece {
	n := len(y)
	// the highest place: of the means of five neighbours
	c := 0
	if n >= 9 {
		s := y[0] + y[1] + y[2] + y[3] + y[4]
		bestSum := math.Inf(-1)
		for i := 2; ; i++ {
			if v := sign * s; v > bestSum {
				bestSum, c = v, i
			}
			if i+3 >= n {
				break
			}
			s += y[i+3] - y[i-2]
		}
	} else {
		for i, v := range y {
			if sign*v > sign*y[c] {
				c = i
			}
		}
	}
	if n < 4 {
		at := t[c]
		p := piece{value: sign * y[c], se: floor, at: at, noise: floor, n: 1, method: methodSample}
		p.atLeft = c == 0 && !math.IsInf(left, 0)
		p.atRight = c == n-1 && !math.IsInf(right, 0)
		p.slopeU = math.Inf(1)
		return p
	}

	// grow the window around the place while the cubic and quartic terms stay within the noise
	var kept, before local
	var keptLo, keptHi, beforeLo, beforeHi int
	stopped := false
	for h := 3; ; h *= 2 {
		lo, hi := max(0, c-h), min(n, c+h+1)
		now := local{t0: t[c], y0: sign * y[c]}
		now.plainFit(t[lo:hi], y[lo:hi], sign)
		if now.points > 6 && now.rank == 5 && keptHi > keptLo {
			df := float64(now.points - 5)
			if math.Abs(now.z[3]) > growTest*floor || math.Abs(now.z[4]) > growTest*floor ||
				now.rss(4) > 2.25*floor*floor*(df+4*math.Sqrt(2*df)) {
				stopped = true
				break
			}
		}
		before, beforeLo, beforeHi = kept, keptLo, keptHi
		kept, keptLo, keptHi = now, lo, hi
		if lo == 0 && hi == n {
			break
		}
	}
	// where the curve's own shape ended the growth, the window before has a third of the bias
	if stopped && beforeHi-beforeLo >= 7 {
		kept, keptLo, keptHi = before, beforeLo, beforeHi
	}
	return topOf(&kept, t, keptLo, keptHi, left, right, noise, floor, stopped)
}
