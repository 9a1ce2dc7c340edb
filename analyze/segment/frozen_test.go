package segment

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringheat/analyze/series"
)

// TestFrozenAndSaturated freezes or clips a log. The stretch must be named on every probe it touches.
func TestFrozenAndSaturated(t *testing.T) {
	freeze := func(ch *series.Channel, log *series.Log, from, to float64) {
		last := math.NaN()
		for i, u := range log.TimeS {
			if u < from {
				last = ch.C[i]
			} else if u < to {
				ch.C[i] = last
			}
		}
	}
	end := math.Inf(1)
	for _, c := range []struct {
		name  string
		kind  DefectKind
		spoil func(log *series.Log, tr *truth)
		chs   []int
		from  func(tr *truth) float64
	}{
		{"both to the end", Frozen, func(log *series.Log, tr *truth) {
			freeze(&log.Channels[0], log, tr.part(1, .6), end)
			freeze(&log.Channels[1], log, tr.part(1, .6), end)
		}, []int{0, 1}, func(tr *truth) float64 { return tr.part(1, .6) }},
		{"inner to the end", Frozen, func(log *series.Log, tr *truth) { freeze(&log.Channels[0], log, tr.part(1, .6), end) },
			[]int{0}, func(tr *truth) float64 { return tr.part(1, .6) }},
		{"inner on the ramp, then it catches up", Frozen, func(log *series.Log, tr *truth) {
			freeze(&log.Channels[0], log, tr.part(1, .5), tr.part(1, .8))
		}, []int{0}, func(tr *truth) float64 { return tr.part(1, .5) }},
		{"toggles between two values", Frozen, func(log *series.Log, tr *truth) {
			for i, u := range log.TimeS {
				if u > tr.part(1, .6) {
					log.Channels[0].C[i] = 70 + 0.1*float64(i%2)
				}
			}
		}, []int{0}, func(tr *truth) float64 { return tr.part(1, .6) }},
		{"end of range", Saturated, func(log *series.Log, tr *truth) {
			for i := range log.TimeS {
				log.Channels[0].C[i] = min(log.Channels[0].C[i], 95)
			}
		}, []int{0}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s Segmenter
			missed := 0
			seeds := seedCount(20)
			for seed := range uint64(seeds) {
				r, p := draw(seed)
				p.dt, p.noise = []float64{1, 2}[seed%2], []float64{0.1, 0.2}[seed/2%2]
				tr := p.run(r, []stage{{kind: "off", s: 60}, {kind: "to", s: 3000, level: 110}, {kind: "off", s: 2000}})
				log := p.log(r, tr)
				c.spoil(log, &tr)
				res := s.Find(log, []int{0}, []int{1}, Options{})
				if err := checkResult(log, res); err != nil {
					t.Errorf("seed %d: %v", seed, err)
				}
				for _, ch := range c.chs {
					found := false
					for _, cy := range res.Cycles {
						for _, d := range cy.Defects {
							found = found || d.Kind == c.kind && d.Channel == ch && (c.from == nil || math.Abs(d.FromS-c.from(&tr)) < 5) && d.ToS-d.FromS > 20
						}
					}
					if !found {
						missed++
						t.Logf("seed %d, channel %d: %+v", seed, ch, res.Cycles)
					}
				}
			}
			if missed > seeds/8 {
				t.Errorf("%d missed", missed)
			}
		})
	}
}

// TestStandingStill: what a part does on a quiet or a coarse display is no frozen reading and no end of a range.
func TestStandingStill(t *testing.T) {
	var s Segmenter
	logs, alarms := 0, 0
	for seed := range uint64(seedCount(100)) {
		r := rand.New(rand.NewPCG(seed, 77))
		p := plainPlant(r)
		p.start = p.ambient
		p.noise = []float64{0, 0.01, 0.05, 0.15}[seed%4]
		p.step = []float64{0.1, 1, 5.0 / 9, 0.5, 0.01}[r.IntN(5)]
		p.dt = []float64{1, 2, 10, 60}[r.IntN(4)]
		p.jitter = []float64{0, 0.3}[r.IntN(2)]
		slow := []float64{1, 1, 5}[r.IntN(3)] // ovens take hours
		p.ratePK /= slow
		p.gi, p.gox, p.hi, p.ho = p.gi/slow, p.gox/slow, p.hi/slow, p.ho/slow
		if slow > 1 {
			p.dt = max(p.dt, 10)
		}
		kind := []string{"prop", "onoff", "off"}[r.IntN(3)]
		tr := p.run(r, []stage{{kind: "off", s: 120}, {kind: "to", s: 4000 * slow, level: 110}, {kind: kind, s: 900 * slow, level: 110, band: 2}, {kind: "off", s: 1500 * slow}})
		log := p.log(r, tr)
		res := s.Find(log, []int{0}, []int{1}, Options{})
		logs++
		for _, cy := range res.Cycles {
			for _, d := range cy.Defects {
				if d.Kind == Frozen || d.Kind == Saturated || d.Kind == SameTrace || d.Kind == SlowSpike {
					alarms++
					t.Logf("seed %d, %s: %s: %+v", seed, kind, d.Message, p)
				}
			}
		}
	}
	if 100*alarms > logs {
		t.Errorf("%d alarms in %d logs", alarms, logs)
	}
}
