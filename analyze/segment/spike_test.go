package segment

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringheat/analyze/series"
)

// TestSpikes puts spikes into the readings while the part is heated and asks for exactly those back.
func TestSpikes(t *testing.T) {
	for _, c := range []struct {
		name   string
		every  int // readings from spike to spike
		pair   bool
		sign   int     // 0: either
		least  float64 // size, in noise standard deviations; the largest is four times that
		found  float64 // share that must be found
		dt     float64
		noises []float64
	}{
		{"a few single ones", 97, false, 0, 12, 0.99, 1, []float64{0.05, 0.2, 2}},
		{"every eighth reading", 8, false, 1, 14, 0.99, 1, []float64{0.05, 0.2, 1}},
		{"every eighth, downwards", 8, false, -1, 14, 0.99, 1, []float64{0.05, 0.2, 1}},
		{"pairs", 61, true, 0, 12, 0.98, 1, []float64{0.05, 0.2, 2}},
		{"pairs from every eighth reading on", 8, true, 1, 30, 0.97, 1, []float64{0.05, 0.2}},
		{"at 5 s", 31, false, 0, 20, 0.99, 5, []float64{0.2, 0.5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s Segmenter
			put, found, wrong, clean := 0, 0, 0, 0
			for _, noise := range c.noises {
				for seed := range uint64(seedCount(16)) {
					r, p := draw(seed)
					p.noise, p.dt = noise, c.dt
					p.step = 0.1
					tr := p.run(r, warmAndHold)
					log := p.log(r, tr)
					pace := 1.5 * p.ratePK * p.dt
					is := map[int32]bool{}
					y := log.Channels[0].C
					size := func() float64 {
						a := max(math.Hypot(noise, 0.03)*c.least*(1+3*r.Float64()), 0.6+3*noise, 2*pace)
						if c.sign < 0 || c.sign == 0 && r.IntN(2) == 0 {
							return -a
						}
						return a
					}
					for i, u := range log.TimeS {
						if u > tr.stageU[1]+10*p.dt && u < tr.stageU[2] && i%c.every == 0 {
							a := size()
							y[i] += a
							is[int32(i)] = true
							if c.pair {
								y[i+1] += math.Copysign(size(), a)
								is[int32(i)+1] = true
							}
						}
					}
					res := s.Find(log, []int{0}, []int{1}, Options{})
					put += len(is)
					clean += len(y) - len(is)
					for _, row := range res.Spikes[0] {
						if is[row] {
							found++
						} else {
							wrong++
						}
					}
					wrong += len(res.Spikes[1])
					if len(res.Cycles) != 1 || math.Abs(res.Cycles[0].RampEnd.AtS-tr.stageU[2]) > 30+3*p.dt {
						t.Errorf("noise %g, seed %d: spikes upset the cycle: %+v", noise, seed, res.Cycles)
					} else if c.every == 8 && !hasDefect(res.Cycles[0], ManySpikes) {
						t.Errorf("noise %g, seed %d: many spikes are not reported", noise, seed)
					}
				}
			}
			if put == 0 || float64(found) < c.found*float64(put) {
				t.Errorf("%d of %d spikes found", found, put)
			}
			if float64(wrong) > 2e-5*float64(clean)+0.002*float64(put) {
				t.Errorf("%d of %d true readings marked", wrong, clean)
			}
		})
	}
}

// TestTruePeaks: what a part can do is never marked.
func TestTruePeaks(t *testing.T) {
	var s Segmenter
	log := func(dt, step float64, y ...float64) *series.Log {
		l := &series.Log{Channels: []series.Channel{{StepK: kelvin(step), C: y, Valid: len(y)}}}
		for i := range y {
			l.TimeS = append(l.TimeS, dt*float64(i))
		}
		l.Clock.IntervalS = dt
		return l
	}
	for _, c := range []struct {
		name string
		log  *series.Log
	}{
		{"one reading at the top, 60 s apart", log(60, 0.1, 20, 20.1, 20, 20.1, 50, 80, 110, 101, 96, 93, 91, 89, 87.5, 86)},
		{"one reading at the top after two on the ramp", log(60, 0.1, 20, 20, 20, 20, 20, 60, 110, 90, 84, 80, 77, 75, 73)},
		{"the whole rise between two readings", log(600, 0.1, 20, 20, 20, 20, 20, 110, 80, 62, 50, 42, 36, 32)},
		{"a step that stays", log(1, 0.1, 20, 20, 20.1, 20, 20, 20, 60, 60.1, 60, 60, 60.1, 60, 60)},
		{"a display that flickers by one and two steps", log(1, 1, 20, 20, 21, 20, 20, 22, 20, 20, 20, 21, 21, 20, 20, 19, 20, 20, 22, 20, 20, 20)},
		{"a slow display", log(1, 1, 20, 20, 20, 20, 21, 21, 21, 21, 22, 22, 22, 22, 23, 23, 23, 23, 24, 24, 24, 24)},
		{"constant", log(1, 0.1, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20)},
	} {
		if res := s.Find(c.log, []int{0}, nil, Options{}); len(res.Spikes[0]) > 0 {
			t.Errorf("%s: rows %v marked", c.name, res.Spikes[0])
		}
	}
	// Fast parts switched off at the top, the peak in one reading or none, and tight on/off control.
	marked := 0
	for seed := range uint64(seedCount(60)) {
		r, p := draw(seed)
		p.dt = []float64{1, 5, 10, 20, 60}[seed%5]
		p.noise = []float64{0.02, 0.2, 2}[seed%3]
		p.step = []float64{0.1, 1}[seed%2]
		p.ratePK *= 2
		for _, st := range [][]stage{warmAndSwitchOff, warmAndSwing, warmTwice} {
			l := p.log(r, p.run(r, st))
			res := s.Find(l, []int{0}, []int{1}, Options{})
			marked += len(res.Spikes[0]) + len(res.Spikes[1])
		}
	}
	if marked > 1 {
		t.Errorf("%d true readings marked", marked)
	}
}

// TestCoarseTruePeaks: a rise of one to six readings, at any phase of the sampling and with hardly any
// noise, is never taken for a spike. A peak that is taken away could hide harm.
func TestCoarseTruePeaks(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(600)) {
		r, p := draw(seed)
		p.noise = []float64{0, 0.02, 0.1, 0.4}[seed%4]
		heat := 60 / p.ratePK
		p.dt = heat / (0.7 + 5.5*r.Float64())
		st := []stage{{kind: "off", s: (4 + r.Float64()) * p.dt}, {kind: "to", s: 20 * heat, level: 110}}
		if seed%3 == 0 {
			st = append(st, stage{kind: "onoff", s: 3 * heat, level: 110, band: 4})
		}
		st = append(st, stage{kind: "off", s: 12 * p.dt})
		log := p.log(r, p.run(r, st))
		if res := s.Find(log, []int{0}, []int{1}, Options{}); len(res.Spikes[0])+len(res.Spikes[1]) > 0 {
			t.Errorf("seed %d, dt %.0f: %v marked of %.1f and %.1f", seed, p.dt, res.Spikes, log.Channels[0].C, log.Channels[1].C)
		}
	}
}

// TestReadingsOutAtTheEnds: a first or last reading has no other side, so only absurd ones are marked.
func TestReadingsOutAtTheEnds(t *testing.T) {
	var s Segmenter
	r, p := draw(1)
	tr := p.run(r, warmAndSwitchOff)
	l := p.log(r, tr)
	n := l.Len()
	l.Channels[0].C[0] += 80
	l.Channels[0].C[n-1] -= 60
	l.Channels[1].C[n/2] = 6000
	res := s.Find(l, []int{0}, []int{1}, Options{})
	if len(res.Spikes[0]) != 2 || res.Spikes[0][0] != 0 || int(res.Spikes[0][1]) != n-1 || len(res.Spikes[1]) != 1 {
		t.Errorf("marked %v", res.Spikes)
	}
	l = p.log(r, tr)
	cut(l, func(_ int, u float64) bool { return u < tr.part(1, 0.5) })
	if res := s.Find(l, []int{0}, []int{1}, Options{}); len(res.Spikes[0])+len(res.Spikes[1]) > 0 {
		t.Errorf("a log cut on the ramp: marked %v", res.Spikes)
	}
}

// TestNoise2K: noise is not a spike, whatever its size.
func TestNoise2K(t *testing.T) {
	var s Segmenter
	marked, readings := 0, 0
	for seed := range uint64(seedCount(80)) {
		r := rand.New(rand.NewPCG(seed, 21))
		p := plainPlant(r)
		p.start, p.noise = p.ambient, 2
		l := p.log(r, p.run(r, warmAndSwing))
		res := s.Find(l, []int{0}, []int{1}, Options{})
		marked += len(res.Spikes[0]) + len(res.Spikes[1])
		readings += 2 * l.Len()
	}
	if marked > readings/100000+1 {
		t.Errorf("%d of %d readings marked", marked, readings)
	}
}

// TestSpikesAtRandom: a spike in one of fourteen readings, one or two long, so that some stand side by side.
func TestSpikesAtRandom(t *testing.T) {
	var s Segmenter
	put, found, wrong := 0, 0, 0
	for seed := range uint64(seedCount(40)) {
		r, p := draw(seed)
		p.noise = 0.15
		tr := p.run(r, warmAndSwitchOff)
		log := p.log(r, tr)
		is := map[int32]bool{}
		for i, u := range log.TimeS {
			if u < tr.stageU[1]+10 || u > tr.stageU[2] || r.IntN(20) > 0 {
				continue
			}
			for k := i; k < i+1+r.IntN(2); k++ {
				log.Channels[0].C[k] += (8 + 30*r.Float64()) * float64(1-2*r.IntN(2))
				is[int32(k)] = true
			}
		}
		res := s.Find(log, []int{0}, []int{1}, Options{})
		put += len(is)
		for _, row := range res.Spikes[0] {
			if is[row] {
				found++
			} else {
				wrong++
			}
		}
		if len(res.Cycles) != 1 {
			t.Errorf("seed %d: %d cycles", seed, len(res.Cycles))
		}
	}
	if float64(found) < 0.96*float64(put) || float64(wrong) > 0.01*float64(put) {
		t.Errorf("%d of %d found, %d true readings marked", found, put, wrong)
	}
}
