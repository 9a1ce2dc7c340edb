package segment

import (
	"math"
	"math/rand/v2"
	"testing"
)

// anyPlant draws parts from a wide range: seconds to hours, one body or two, the outer ring warmed directly
// or only through the inner one, light or heavy against it, good or bad insulation.
func anyPlant(r *rand.Rand) plant {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	heat := math.Exp(between(math.Log(60), math.Log(4000)))
	p := plant{
		ratePK: 90 / heat * between(1.1, 2.5), outShare: between(0, 1),
		hi: between(0.02, 0.6) / heat, ho: between(0.02, 0.6) / heat,
		heaterS: min(between(0, 12), heat/15), probeS: min(between(0.5, 8), heat/15),
		ambient: between(5, 30), noise: math.Exp(between(math.Log(0.03), math.Log(0.5))),
		step: []float64{0.01, 0.1, 0.1, 0.5, 1}[r.IntN(5)],
	}
	p.dt = max(0.5, math.Round(2*heat/[]float64{60, 300, 1200}[r.IntN(3)])/2)
	p.start = p.ambient
	if r.IntN(5) > 0 {
		te, m := between(0.02, 0.5)*heat, between(0.25, 0.75) // m: share of the outer ring in the part's heat capacity
		p.gi, p.gox = m/te, (1-m)/te
		p.ratePK *= 1 + m // more power for the mass that is warmed through the inner ring
	} else {
		p.outShare = 1
		p.ho = p.hi
	}
	return p
}

// TestFalseAlarms: over parts of every kind, clean logs give the right number of cycles and no defect.
func TestFalseAlarms(t *testing.T) {
	var s Segmenter
	logs, alarms, miscounted, extra := 0, 0, 0, 0
	for seed := range uint64(seedCount(400)) {
		r := rand.New(rand.NewPCG(seed, 31))
		p := anyPlant(r)
		long := 90 / p.ratePK
		st := []stage{{kind: "off", s: 0.2*long + 10*p.dt}, {kind: "to", s: 12 * long, level: p.ambient + 60 + 30*r.Float64()}}
		if r.IntN(2) == 0 {
			st = append(st, stage{kind: "prop", s: 0.5 * long, level: st[1].level})
		}
		st = append(st, stage{kind: "off", s: 2 * long})
		tr := p.run(r, st)
		log := p.log(r, tr)
		if tr.stageU[2]-tr.stageU[1] >= 12*long-1 {
			continue // never reached the level: no ordinary warming
		}
		for _, single := range []bool{false, true} {
			outer := []int{1}
			if single {
				outer = nil
			}
			res := s.Find(log, []int{0}, outer, Options{})
			logs++
			if len(res.Cycles) != 1 {
				miscounted++
				t.Logf("seed %d, single %v: %d cycles: %+v", seed, single, len(res.Cycles), p)
				continue
			}
			for _, d := range res.Cycles[0].Defects {
				if d.Kind == TooCoarse && p.ratePK*p.dt > 3 {
					continue // true: readings stand far apart
				}
				alarms++
				t.Logf("seed %d, single %v, dt %g, stages %.0f: %s: %s: %+v", seed, single, p.dt, tr.stageU, d.Kind, d.Message, p)
			}
			ramps := 0
			for _, ph := range res.Cycles[0].Phases {
				if ph.Kind == Ramp || ph.Kind == Interruption {
					ramps++
				}
			}
			if ramps != 1 {
				extra++
				t.Logf("seed %d, single %v, stages %.0f: phases %+v: %+v", seed, single, tr.stageU, res.Cycles[0].Phases, p)
			}
			if n := len(res.Spikes[0]) + len(res.Spikes[1]); n > 0 {
				alarms++
				t.Logf("seed %d, single %v: marked %v: %+v", seed, single, res.Spikes, p)
			}
		}
	}
	if logs < 20 {
		t.Errorf("only %d logs", logs)
	}
	if 100*alarms > 2*logs || 100*miscounted > logs || 100*extra > 5*logs {
		t.Errorf("of %d logs %d have a false alarm, %d the wrong number of cycles, %d ramps that were none", logs, alarms, miscounted, extra)
	}
}
