package segment

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ringheat/analyze/series"
)

// TestDefects spoils clean logs in one way each. The defect must be named, dated and put to the right probe.
func TestDefects(t *testing.T) {
	blank := func(log *series.Log, ch int, from, to float64) {
		for i, u := range log.TimeS {
			if u > from && u < to {
				log.Channels[ch].C[i] = series.Missing()
			}
		}
	}
	type truthAt func(tr *truth) float64
	ramp := func(f float64) truthAt { return func(tr *truth) float64 { return tr.part(1, f) } }
	for _, c := range []struct {
		name     string
		stages   []stage
		probes   func(p plant, tr *truth)         // what the probes did
		log      func(log *series.Log, tr *truth) // what the logger did
		single   bool                             // only the inner probe was there
		kind     DefectKind
		channel  int
		from, to truthAt // nil: not checked
		words    string
		allowed  float64 // share of logs that may miss it
		others   []DefectKind
	}{
		{name: "outer probe open", stages: warmAndSwitchOff, log: func(log *series.Log, tr *truth) { blank(log, 1, tr.part(1, .5), tr.part(1, .8)) },
			kind: ProbeOpen, channel: 1, from: ramp(.5), to: ramp(.8), words: "the outer probe gave no reading from"},
		{name: "inner probe open over the peak", stages: warmAndSwitchOff, log: func(log *series.Log, tr *truth) { blank(log, 0, tr.part(1, .9), tr.stageU[2]+60) },
			kind: ProbeOpen, channel: 0, from: ramp(.9), to: func(tr *truth) float64 { return tr.stageU[2] + 60 }, words: "the inner probe gave no reading"},
		{name: "inner put on late", stages: warmAndHold, probes: func(p plant, tr *truth) {
			p.put(tr, true, 20, func(u float64) bool { return u > tr.part(1, .45) })
		}, kind: ProbeLate, channel: 0, to: ramp(.45), words: "put on late"},
		{name: "outer put on late", stages: warmAndHold, probes: func(p plant, tr *truth) {
			p.put(tr, false, 20, func(u float64) bool { return u > tr.part(1, .6) })
		}, kind: ProbeLate, channel: 1, to: ramp(.6), words: "put on late"},
		{name: "the only probe put on late", stages: warmAndHold, single: true, probes: func(p plant, tr *truth) {
			p.put(tr, true, 20, func(u float64) bool { return u > tr.part(1, .5) })
		}, kind: ProbeLate, channel: 0, to: ramp(.5), words: "put on late", allowed: .1, others: []DefectKind{OnsetNotSeen}},
		{name: "inner detached", stages: warmAndHold, probes: func(p plant, tr *truth) {
			p.put(tr, true, 40, func(u float64) bool { return u < tr.part(1, .6) })
		}, kind: ProbeDetached, channel: 0, from: ramp(.6), words: "came off"},
		{name: "outer detached", stages: warmAndHold, probes: func(p plant, tr *truth) {
			p.put(tr, false, 40, func(u float64) bool { return u < tr.part(1, .6) })
		}, kind: ProbeDetached, channel: 1, from: ramp(.6), words: "came off"},
		{name: "outer detached and put back", stages: warmAndHold, probes: func(p plant, tr *truth) {
			p.put(tr, false, 40, func(u float64) bool { return u < tr.part(1, .4) || u > tr.part(1, .75) })
		}, kind: ProbeDetached, channel: 1, from: ramp(.4), to: ramp(.75), words: "lost its ring", allowed: .1},
		{name: "inner detached and put back", stages: warmAndHold, probes: func(p plant, tr *truth) {
			p.put(tr, true, 40, func(u float64) bool { return u < tr.part(1, .4) || u > tr.part(1, .75) })
		}, kind: ProbeDetached, channel: 0, from: ramp(.4), to: ramp(.75), words: "lost its ring", allowed: .1},
		{name: "the only probe detached", stages: warmAndHold, single: true, probes: func(p plant, tr *truth) {
			p.put(tr, true, 40, func(u float64) bool { return u < tr.part(1, .6) })
		}, kind: ProbeDetached, channel: 0, from: ramp(.6), words: "faster than the ring can cool", allowed: .15},
		{name: "outer never on", stages: warmAndSwitchOff, probes: func(p plant, tr *truth) {
			p.put(tr, false, 20, func(float64) bool { return false })
		}, kind: ProbeDetached, channel: 1, words: "was not on the ring"},
		{name: "inner never on", stages: warmAndSwitchOff, probes: func(p plant, tr *truth) {
			p.put(tr, true, 20, func(float64) bool { return false })
		}, kind: ProbeDetached, channel: 0, words: "was not on the ring"},
		{name: "taken off after a while", stages: warmAndSwitchOff, probes: func(p plant, tr *truth) {
			p.put(tr, true, 15, func(u float64) bool { return u < tr.stageU[2]+200 })
		}, kind: ProbeDetached, channel: 0, from: func(tr *truth) float64 { return tr.stageU[2] + 200 }, words: "faster than the ring can cool", allowed: .15},
		{name: "gap over the peak", stages: warmAndSwitchOff, log: func(log *series.Log, tr *truth) {
			cut(log, func(_ int, u float64) bool { return u < tr.part(1, .9) || u > tr.stageU[2]+50 })
		}, kind: SamplingGap, channel: -1, from: ramp(.9), to: func(tr *truth) float64 { return tr.stageU[2] + 50 }, words: "no rows"},
		{name: "clock stepped back", stages: warmAndSwitchOff, log: func(log *series.Log, tr *truth) {
			for i, u := range log.TimeS {
				if u > tr.part(1, .4) {
					log.TimeS[i] -= 30
				}
			}
		}, kind: ClockFault, channel: -1, words: "stepped back"},
		{name: "inner in poor contact", stages: warmAndSwitchOff, probes: func(p plant, tr *truth) { poor(p, tr, true, 45, 0.6) },
			kind: PoorContact, channel: 0, words: "low and slow", allowed: .25},
		{name: "outer in poor contact", stages: warmAndSwitchOff, probes: func(p plant, tr *truth) { poor(p, tr, false, 90, 0.35) },
			kind: PoorContact, channel: 1, words: "low and slow", allowed: .25},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s Segmenter
			seeds := seedCount(40)
			missed := 0
			for seed := range uint64(seeds) {
				r, p := draw(seed)
				p.dt = []float64{1, 1, 2}[seed%3]
				tr := p.run(r, c.stages)
				if c.probes != nil {
					c.probes(p, &tr)
				}
				log := p.log(r, tr)
				if c.log != nil {
					c.log(log, &tr)
				}
				outer := []int{1}
				if c.single {
					outer = nil
				}
				res := s.Find(log, []int{0}, outer, Options{})
				if err := checkResult(log, res); err != nil {
					t.Errorf("seed %d: %v", seed, err)
				}
				if len(res.Cycles) != 1 {
					t.Errorf("seed %d: %d cycles", seed, len(res.Cycles))
					continue
				}
				cy := res.Cycles[0]
				found := false
				for _, d := range cy.Defects {
					if d.Kind != c.kind || d.Channel != c.channel {
						ok := false
						for _, k := range c.others {
							ok = ok || d.Kind == k
						}
						if !ok && missed == 0 {
							t.Logf("seed %d: also: %s", seed, d.Message)
						}
						continue
					}
					late := 25 + 3*p.probeS
					ok := strings.Contains(d.Message, c.words) &&
						(c.from == nil || math.Abs(d.FromS-c.from(&tr)) < late) && (c.to == nil || math.Abs(d.ToS-c.to(&tr)) < late+15)
					found = found || ok
					if !ok {
						t.Logf("seed %d: %+v", seed, d)
					}
				}
				if !found {
					missed++
					t.Logf("seed %d: not found among %+v", seed, cy.Defects)
				}
				// What is fitted must not hold the stretch without contact.
				for ch, w := range []Window{cy.RiseInner, cy.RiseOuter} {
					if w.Len() == 0 || c.probes == nil || c.kind == PoorContact || ch != c.channel || !found {
						continue
					}
					a, b := log.TimeS[w.First], log.TimeS[w.End-1]
					if c.from != nil && c.to == nil && b > c.from(&tr)+10 || c.from == nil && c.to != nil && a < c.to(&tr)+5 {
						t.Errorf("seed %d: window %.0f to %.0f s", seed, a, b)
					}
				}
			}
			if float64(missed) > c.allowed*float64(seeds) {
				t.Errorf("%d of %d missed", missed, seeds)
			}
		})
	}
}

// poor lets a probe sit behind an air gap: it follows only the share f of its ring's rise, with contactS.
func poor(p plant, tr *truth, inner bool, contactS, f float64) {
	metal, ind := tr.outer, tr.indO
	if inner {
		metal, ind = tr.inner, tr.indI
	}
	x := ind[0]
	for i := range ind {
		dt := p.dt
		if i > 0 {
			dt = tr.t[i] - tr.t[i-1]
		}
		x += (p.ambient + f*(metal[i]-p.ambient) - x) * (1 - math.Exp(-dt/contactS))
		ind[i] = x
	}
}

// TestCoarsePeak: 120 s between readings hide a peak, 1 s doesn't, and a hold shows it.
func TestCoarsePeak(t *testing.T) {
	var s Segmenter
	hiddenPeaks := 0
	defer func() {
		if hiddenPeaks == 0 {
			t.Error("no log hid its peak: the test shows nothing")
		}
	}()
	for seed := range uint64(seedCount(60)) {
		r, p := draw(seed)
		p.dt = 120
		stages := []stage{{kind: "off", s: 300}, {kind: "to", s: 9000, level: 110}, {kind: "off", s: 1800}}
		tr := p.run(r, stages)
		log := p.log(r, tr)
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 {
			t.Errorf("seed %d: %d cycles", seed, len(res.Cycles))
			continue
		}
		cy := res.Cycles[0]
		if off := cy.RampEnd.AtS - tr.stageU[2]; math.Abs(off) > 2*p.dt || math.Abs(cy.Onset.AtS-tr.stageU[1]) > 2*p.dt {
			t.Errorf("seed %d: onset %.0f, ramp end %.0f, stages %.0f", seed, cy.Onset.AtS, cy.RampEnd.AtS, tr.stageU)
		}
		highest := math.Inf(-1)
		for _, y := range log.Channels[0].C {
			highest = max(highest, y)
		}
		if hidden := maxOf(p, r, stages) - highest; hidden > 3.5 {
			hiddenPeaks++
			if !hasDefect(cy, TooCoarse) {
				t.Errorf("seed %d: the peak lies %.1f K above the highest reading and nothing is said", seed, hidden)
			}
		}
		p.dt = 1
		log = p.log(r, p.run(r, stages))
		if res := s.Find(log, []int{0}, []int{1}, Options{}); len(res.Cycles) != 1 || hasDefect(res.Cycles[0], TooCoarse) {
			t.Errorf("seed %d: at 1 s: %+v", seed, res.Cycles)
		}
	}
}

// maxOf is the highest indication of the inner probe, read every half second.
func maxOf(p plant, r *rand.Rand, stages []stage) float64 {
	p.dt = 0.5
	tr := p.run(r, stages)
	v := math.Inf(-1)
	for _, y := range tr.indI {
		v = max(v, y)
	}
	return v
}

// TestBlanksOfMergedLoggers: two loggers in one file leave every other cell of each probe empty.
func TestBlanksOfMergedLoggers(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(20)) {
		r, p := draw(seed)
		log := p.log(r, p.run(r, warmAndHold))
		for i := range log.TimeS {
			log.Channels[i%2].C[i] = series.Missing()
		}
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || len(res.Cycles[0].Defects) > 0 {
			t.Errorf("seed %d: %+v", seed, res.Cycles)
		}
	}
}
