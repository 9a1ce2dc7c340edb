package segment

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Usual ways to warm a part. Every one has a cold stretch of 40 s before.
var (
	warmAndSwitchOff = []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 110}, {kind: "off", s: 1200}}
	warmAndHold      = []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 110}, {kind: "prop", s: 240, level: 110}, {kind: "off", s: 1200}}
	warmAndSwing     = []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 110}, {kind: "onoff", s: 300, level: 110, band: 2}, {kind: "off", s: 1200}}
	warmTwice        = []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 110}, {kind: "off", s: 1500}, {kind: "to", s: 9000, level: 112}, {kind: "off", s: 1000}}
	warmThrice       = []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 110}, {kind: "off", s: 900}, {kind: "to", s: 9000, level: 110}, {kind: "off", s: 900}, {kind: "to", s: 9000, level: 108}, {kind: "off", s: 900}}
)

func seedCount(full int) int {
	if raceEnabled || testing.Short() {
		return max(3, full/8)
	}
	return full
}

func draw(seed uint64) (*rand.Rand, plant) {
	r := rand.New(rand.NewPCG(seed, 99))
	p := plainPlant(r)
	p.start = p.ambient
	return r, p
}

// errors counts how far moments lie from the truth, in units of what is allowed.
type errorTally struct {
	n, beyond int
	worst     float64
}

func (e *errorTally) add(off, allowed float64) {
	e.n++
	v := math.Abs(off) / allowed
	if v > 1 {
		e.beyond++
	}
	e.worst = max(e.worst, v)
}

// TestMoments holds the moments of ordinary warmings against the simulated truth, over sampling
// intervals, noise and display steps. An onset may be off by the lag of heater and probe or by two
// readings, and by what noise hides: the time that the ramp takes for four standard deviations.
func TestMoments(t *testing.T) {
	for _, c := range []struct {
		name   string
		stages []stage
		cycles int
		hold   string // kind of hold, "" for none
	}{
		{"switched off at the top", warmAndSwitchOff, 1, ""},
		{"held by a proportional control", warmAndHold, 1, "prop"},
		{"held by on/off control", warmAndSwing, 1, "onoff"},
		{"two warmings", warmTwice, 2, ""},
		{"three, warm restarts", warmThrice, 3, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var onset, rampEnd, end errorTally
			var s Segmenter
			for _, dt := range []float64{0.5, 1, 2, 5} {
				for _, noise := range []float64{0.05, 0.2, 0.5} {
					for seed := range uint64(seedCount(12)) {
						r, p := draw(seed)
						p.dt, p.noise = dt, noise
						p.step = []float64{0.1, 0.1, 0.5, 1}[seed%4]
						tr := p.run(r, c.stages)
						log := p.log(r, tr)
						res := s.Find(log, []int{0}, []int{1}, Options{})
						if len(res.Cycles) != c.cycles {
							t.Fatalf("dt %g, noise %g, seed %d: %d cycles, want %d", dt, noise, seed, len(res.Cycles), c.cycles)
						}
						if n := len(res.Spikes[0]) + len(res.Spikes[1]); n > 0 {
							t.Errorf("dt %g, noise %g, seed %d: %d readings marked in a log without spikes", dt, noise, seed, n)
						}
						for i, cy := range res.Cycles {
							on, off := tr.stageU[1+2*i], tr.stageU[2+2*i]
							if !cy.Onset.Known || !cy.RampEnd.Known || !cy.End.Known {
								t.Fatalf("dt %g, noise %g, seed %d: a moment is not known: %+v", dt, noise, seed, cy)
							}
							lag := max(p.heaterS+p.probeS, 2*dt)
							slope := p.ratePK / 2
							hidden := (4*noise + p.step) / slope
							onset.add(cy.Onset.AtS-on, lag+hidden)
							rampEnd.add(cy.RampEnd.AtS-off, lag+hidden+2*dt)
							switch c.hold {
							case "":
								end.add(cy.End.AtS-off, lag+hidden+2*dt)
							case "prop":
								end.add(cy.End.AtS-tr.stageU[3], lag+30+100*noise)
							case "onoff": // the heater may have been off for one swing, or the last crest lies in the first
								end.add(cy.End.AtS-tr.stageU[3], 75)
							}
							rise := 0
							for _, ph := range cy.Phases {
								if ph.Kind == Ramp {
									rise++
								}
							}
							if rise != 1 {
								t.Errorf("dt %g, noise %g, seed %d: %d ramps at one power: %+v", dt, noise, seed, rise, cy.Phases)
							}
							for _, d := range cy.Defects {
								t.Errorf("dt %g, noise %g, seed %d: false alarm: %s", dt, noise, seed, d.Message)
							}
							checkWindow(t, log.TimeS, cy.RiseInner, on, off, p, dt)
						}
					}
				}
			}
			for _, e := range []struct {
				name string
				errorTally
			}{{"onset", onset}, {"ramp end", rampEnd}, {"end of heating", end}} {
				if share := float64(e.beyond) / float64(e.n); share > 0.03+1.5/math.Sqrt(float64(e.n))*0.17 || e.worst > 3 {
					t.Errorf("%s: %d of %d beyond what is allowed, worst %.1f times", e.name, e.beyond, e.n, e.worst)
				}
			}
		})
	}
}

// checkWindow says whether the rise window holds nothing but rise. Where lag is hidden by noise the
// window may end a few seconds after the switch, as the trace has not yet shown it.
func checkWindow(t *testing.T, timeS []float64, w Window, on, off float64, p plant, dt float64) {
	t.Helper()
	if w.Len() < 4 {
		t.Errorf("window of %d readings", w.Len())
		return
	}
	if first := timeS[w.First]; first < on+p.probeS/2 {
		t.Errorf("the window begins at %.1f s, heating at %.1f s", first, on)
	}
	if last := timeS[w.End-1]; last > off+0.6*(p.heaterS+p.probeS)+dt {
		t.Errorf("the window ends at %.1f s, the ramp at %.1f s, lag %.1f s", last, off, p.heaterS+p.probeS)
	}
	if span := timeS[w.End-1] - timeS[w.First]; span < 0.4*(off-on) && dt*10 < off-on {
		t.Errorf("the window has only %.0f of %.0f s", span, off-on)
	}
}

func TestPhases(t *testing.T) {
	for _, c := range []struct {
		name   string
		stages []stage
		want   []PhaseKind
		at     []int // for each phase but the first, the stage whose begin is its begin
	}{
		{"power raised", []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 65, power: 0.5}, {kind: "to", s: 9000, level: 112}, {kind: "off", s: 1200}},
			[]PhaseKind{Before, Ramp, Ramp, Cooling}, []int{1, 2, 3}},
		{"power lowered", []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 75}, {kind: "to", s: 9000, level: 102, power: 0.6}, {kind: "off", s: 1200}},
			[]PhaseKind{Before, Ramp, Ramp, Cooling}, []int{1, 2, 3}},
		{"interrupted", []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 75}, {kind: "off", s: 240}, {kind: "to", s: 9000, level: 112}, {kind: "off", s: 1200}},
			[]PhaseKind{Before, Ramp, Interruption, Ramp, Cooling}, []int{1, 2, 3, 4}},
		{"soaked on the way", []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 65}, {kind: "prop", s: 300, level: 65}, {kind: "to", s: 9000, level: 110}, {kind: "off", s: 1200}},
			[]PhaseKind{Before, Ramp, Hold, Ramp, Cooling}, []int{1, 2, 3, 4}},
		{"held by a control that swings by 8 K", []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 112}, {kind: "onoff", s: 1800, level: 108, band: 8}, {kind: "off", s: 1200}},
			[]PhaseKind{Before, Ramp, Hold, Cooling}, []int{1, 2, -1}},
		{"ramp, hold, cooling", warmAndHold, []PhaseKind{Before, Ramp, Hold, Cooling}, []int{1, 2, 3}},
		{"long before", []stage{{kind: "off", s: 6000}, {kind: "to", s: 9000, level: 110}, {kind: "off", s: 1200}},
			[]PhaseKind{Before, Ramp, Cooling}, []int{1, 2}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s Segmenter
			seeds := seedCount(40)
			wrong := 0
			for seed := range uint64(seeds) {
				r, p := draw(seed)
				p.noise = 0.05 + 0.2*r.Float64()
				tr := p.run(r, c.stages)
				log := p.log(r, tr)
				res := s.Find(log, []int{0}, []int{1}, Options{})
				if len(res.Cycles) != 1 {
					t.Errorf("seed %d: %d cycles", seed, len(res.Cycles))
					continue
				}
				cy := res.Cycles[0]
				ok := len(cy.Phases) == len(c.want)
				for i := 0; ok && i < len(c.want); i++ {
					ok = cy.Phases[i].Kind == c.want[i]
					if ok && i > 0 && c.at[i-1] > 0 {
						off := cy.Phases[i].FromS - tr.stageU[c.at[i-1]]
						ok = math.Abs(off) < 15+p.heaterS+p.probeS+0.02*(tr.stageU[c.at[i-1]])
					}
				}
				if !ok {
					wrong++
					t.Logf("seed %d: phases %+v, stages %.0f", seed, cy.Phases, tr.stageU)
				}
				// No window over a change of power.
				for _, w := range []Window{cy.RiseInner, cy.RiseOuter} {
					for k := 2; k+1 < len(tr.stageU); k++ {
						if w.Len() > 0 && log.TimeS[w.First] < tr.stageU[k]-5 && log.TimeS[w.End-1] > tr.stageU[k]+p.heaterS+p.probeS {
							if ok {
								t.Errorf("seed %d: window %v spans the change at %.0f s", seed, w, tr.stageU[k])
							}
						}
					}
				}
			}
			if float64(wrong) > 0.1*float64(seeds) {
				t.Errorf("%d of %d logs have other phases", wrong, seeds)
			}
		})
	}
}

func TestUnseenEnds(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(40)) {
		r, p := draw(seed)
		// The log begins when a third of the ramp is over.
		tr := p.run(r, warmAndSwitchOff)
		log := p.log(r, tr)
		cut(log, func(_ int, u float64) bool { return u >= tr.part(1, 0.35) })
		restart(log)
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || res.Cycles[0].Onset.Known || !hasDefect(res.Cycles[0], OnsetNotSeen) || !res.Cycles[0].End.Known {
			t.Errorf("seed %d: begun late: %+v", seed, res.Cycles)
		}
		// It begins with the heater.
		log = p.log(r, tr)
		cut(log, func(_ int, u float64) bool { return u >= tr.stageU[1] })
		restart(log)
		res = s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || !res.Cycles[0].Onset.Known || res.Cycles[0].Onset.AtS > p.heaterS+p.probeS+4*p.noise/p.ratePK {
			t.Errorf("seed %d: begun with the heater: %+v", seed, res.Cycles)
		}
		// It stops on the ramp.
		log = p.log(r, tr)
		cut(log, func(_ int, u float64) bool { return u <= tr.part(1, 0.8) })
		res = s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || res.Cycles[0].End.Known || res.Cycles[0].RampEnd.Known || !hasDefect(res.Cycles[0], StillRising) {
			t.Errorf("seed %d: stopped on the ramp: %+v", seed, res.Cycles)
		} else if w := res.Cycles[0].RiseInner; log.TimeS[w.End-1] < tr.part(1, 0.7) {
			t.Errorf("seed %d: stopped on the ramp: window ends at %.0f s", seed, log.TimeS[w.End-1])
		}
		// It shows cooling alone.
		log = p.log(r, tr)
		cut(log, func(_ int, u float64) bool { return u >= tr.stageU[2]+60 })
		restart(log)
		res = s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || res.Cycles[0].Onset.Known || res.Cycles[0].End.Known || !hasDefect(res.Cycles[0], CoolingOnly) {
			t.Errorf("seed %d: cooling alone: %+v", seed, res.Cycles)
		}
		// It stops in the hold.
		tr = p.run(r, warmAndHold)
		log = p.log(r, tr)
		cut(log, func(_ int, u float64) bool { return u <= tr.part(2, 0.8) })
		res = s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || !res.Cycles[0].RampEnd.Known || res.Cycles[0].End.Known || hasDefect(res.Cycles[0], StillRising) {
			t.Errorf("seed %d: stopped in the hold: %+v", seed, res.Cycles)
		}
		// It begins in the hold.
		log = p.log(r, tr)
		cut(log, func(_ int, u float64) bool { return u >= tr.part(2, 0.3) })
		restart(log)
		res = s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || res.Cycles[0].Onset.Known || !hasDefect(res.Cycles[0], OnsetNotSeen) {
			t.Errorf("seed %d: begun in the hold: %+v", seed, res.Cycles)
		}
	}
}

func hasDefect(c Cycle, k DefectKind) bool {
	for _, d := range c.Defects {
		if d.Kind == k {
			return true
		}
	}
	return false
}

func TestNothingWarmed(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(40)) {
		r, p := draw(seed)
		p.dt, p.noise = 10, 0.05+2*r.Float64()
		tr := p.run(r, []stage{{kind: "off", s: 30000}})
		log := p.log(r, tr)
		if res := s.Find(log, []int{0}, []int{1}, Options{}); len(res.Cycles) != 0 {
			t.Errorf("seed %d: a flat log at ambient has %d cycles", seed, len(res.Cycles))
		}
		// A hall that warms by 8 K over the day.
		for i, u := range log.TimeS {
			for c := range log.Channels {
				log.Channels[c].C[i] += 8 * math.Sin(u/9000)
			}
		}
		if res := s.Find(log, []int{0}, []int{1}, Options{}); len(res.Cycles) != 0 {
			t.Errorf("seed %d: a drifting log at ambient has %d cycles", seed, len(res.Cycles))
		}
		// Held hot from the first row to the last.
		p.start, p.ambient = 110, 110
		log = p.log(r, p.run(r, []stage{{kind: "off", s: 3000}}))
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || res.Cycles[0].Onset.Known || res.Cycles[0].End.Known ||
			len(res.Cycles[0].Phases) != 1 || res.Cycles[0].Phases[0].Kind != Hold {
			t.Errorf("seed %d: held hot throughout: %+v", seed, res.Cycles)
		}
	}
}

// TestManyCycles counts cycles over days, with the logger off overnight.
func TestManyCycles(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(24)) {
		r, p := draw(seed)
		p.dt = []float64{1, 2, 5}[seed%3]
		want := 2 + int(seed%5)
		stages := []stage{{kind: "off", s: 60}}
		var off []int
		for range want {
			stages = append(stages, stage{kind: "to", s: 9000, level: 85 + 30*r.Float64()}, stage{kind: "off", s: 4000 + 4000*r.Float64()})
			off = append(off, len(stages)-1)
		}
		tr := p.run(r, stages)
		log := p.log(r, tr)
		if seed%2 == 0 {
			// The logger was off for the last part of every cooling.
			cut(log, func(_ int, u float64) bool {
				for _, k := range off {
					if u > tr.part(k, 0.4) && u < tr.part(k, 0.95) {
						return false
					}
				}
				return true
			})
		}
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != want {
			t.Errorf("seed %d: %d cycles, want %d", seed, len(res.Cycles), want)
			continue
		}
		for i, cy := range res.Cycles {
			if on := tr.stageU[1+2*i]; math.Abs(cy.Onset.AtS-on) > 40 {
				t.Errorf("seed %d: onset %d at %.0f s, heating began at %.0f s", seed, i, cy.Onset.AtS, on)
			}
			if i > 0 && cy.Rows.First != res.Cycles[i-1].Rows.End {
				t.Errorf("seed %d: rows %v follow %v", seed, cy.Rows, res.Cycles[i-1].Rows)
			}
			peakRow := 0
			for k := cy.Rows.First; k < cy.Rows.End; k++ {
				if log.Channels[0].C[k] > log.Channels[0].C[max(peakRow, cy.Rows.First)] {
					peakRow = k
				}
			}
			if u := log.TimeS[peakRow]; math.Abs(u-tr.stageU[2+2*i]) > 60 {
				t.Errorf("seed %d: the hottest row of cycle %d stands at %.0f s, switch-off at %.0f s", seed, i, u, tr.stageU[2+2*i])
			}
		}
	}
}

// TestSecondWarmingHigher: a part that has cooled for long and is warmed higher than before is a cycle of
// its own, though a short break in one warming looks alike.
func TestSecondWarmingHigher(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(24)) {
		r, p := draw(seed)
		for _, c := range []struct {
			offS   float64
			cycles int
		}{{0.3, 1}, {8, 2}} {
			heatS := 60 / p.ratePK
			tr := p.run(r, []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 75}, {kind: "off", s: c.offS * heatS}, {kind: "to", s: 9000, level: 112}, {kind: "off", s: 900}})
			res := s.Find(p.log(r, tr), []int{0}, []int{1}, Options{})
			if len(res.Cycles) != c.cycles {
				t.Errorf("seed %d: off for %.0f s: %d cycles, want %d", seed, c.offS*heatS, len(res.Cycles), c.cycles)
			}
		}
	}
}

// TestLengths goes from half a minute to ten hours.
func TestLengths(t *testing.T) {
	small := plant{ratePK: 6, outShare: .5, gi: .1, gox: .15, hi: .002, ho: .002, heaterS: .5, probeS: .5, ambient: 20, start: 20, noise: .2, step: .1, dt: .5}
	big := plant{ratePK: .012, outShare: .5, gi: .0005, gox: .0007, hi: .00002, ho: .00002, heaterS: 8, probeS: 8, ambient: 20, start: 20, noise: .2, step: .1, dt: 1}
	long := []stage{{kind: "off", s: 3600}, {kind: "to", s: 40000, level: 110}, {kind: "prop", s: 3600, level: 110}, {kind: "off", s: 18000}}
	coarse := big
	coarse.dt = 60
	for _, c := range []struct {
		name      string
		p         plant
		stages    []stage
		allowedS  float64
		leastRows int
	}{
		{"30 s, 60 rows", small, []stage{{kind: "off", s: 3}, {kind: "to", s: 60, level: 105}, {kind: "off", s: 9}}, 1.5, 20},
		{"10 h at 1 s", big, long, 60, 8000},
		{"10 h at 60 s", coarse, long, 180, 130},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.p.dt == 1 && (raceEnabled || testing.Short()) {
				t.Skip("36,000 rows; run without -short and -race")
			}
			var s Segmenter
			r := rand.New(rand.NewPCG(4, 4))
			tr := c.p.run(r, c.stages)
			log := c.p.log(r, tr)
			res := s.Find(log, []int{0}, []int{1}, Options{})
			if len(res.Cycles) != 1 {
				t.Fatalf("%d cycles", len(res.Cycles))
			}
			cy := res.Cycles[0]
			last := len(tr.stageU) - 2
			for _, m := range []struct {
				Moment
				want float64
			}{{cy.Onset, tr.stageU[1]}, {cy.RampEnd, tr.stageU[2]}, {cy.End, tr.stageU[last]}} {
				if !m.Known || math.Abs(m.AtS-m.want) > c.allowedS {
					t.Errorf("%+v, want %.1f s", m.Moment, m.want)
				}
			}
			if cy.RiseInner.Len() < c.leastRows {
				t.Errorf("window %v", cy.RiseInner)
			}
		})
	}
}

// TestUnevenSampling: readings scatter by 40 % of the interval about their time.
func TestUnevenSampling(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(24)) {
		r, p := draw(seed)
		p.dt, p.jitter = 3, 0.8
		tr := p.run(r, warmAndHold)
		log := p.log(r, tr)
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || len(res.Cycles[0].Defects) > 0 || len(res.Spikes[0]) > 0 {
			t.Errorf("seed %d: %+v", seed, res)
			continue
		}
		cy := res.Cycles[0]
		if math.Abs(cy.Onset.AtS-40) > 30 || math.Abs(cy.RampEnd.AtS-tr.stageU[2]) > 30 || math.Abs(cy.End.AtS-tr.stageU[3]) > 60 {
			t.Errorf("seed %d: %.0f %.0f %.0f, stages %.0f", seed, cy.Onset.AtS, cy.RampEnd.AtS, cy.End.AtS, tr.stageU)
		}
	}
}

// TestOuterHotter: where the outer ring is the heated one, heating ends when it does, though the inner ring
// goes on rising.
func TestOuterHotter(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(24)) {
		r, p := draw(seed)
		p.gi, p.gox = 0.008, 0.006
		tr := p.run(r, []stage{{kind: "off", s: 40}, {kind: "heat", s: 70 / p.ratePK}, {kind: "off", s: 1200}})
		log := p.log(r, tr)
		log.Channels[0].C, log.Channels[1].C = log.Channels[1].C, log.Channels[0].C
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 || !res.Cycles[0].End.Known || math.Abs(res.Cycles[0].End.AtS-tr.stageU[2]) > 25 || len(res.Cycles[0].Defects) > 0 {
			t.Errorf("seed %d: switched off at %.0f s: %+v", seed, tr.stageU[2], res.Cycles)
		}
	}
}

// TestPartSwapped: the probes go from a warm part to a cold one, which is then warmed.
func TestPartSwapped(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(24)) {
		r, p := draw(seed)
		first := p.run(r, []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 100}, {kind: "off", s: 300}})
		second := p.run(r, []stage{{kind: "off", s: 200}, {kind: "to", s: 9000, level: 110}, {kind: "off", s: 600}})
		a, b := p.log(r, first), p.log(r, second)
		shift := a.TimeS[a.Len()-1] + p.dt
		for i, u := range b.TimeS {
			a.TimeS = append(a.TimeS, u+shift)
			for c := range a.Channels {
				// The probes take 6 s to come down to the second part.
				y := b.Channels[c].C[i] + (a.Channels[c].C[first.last()]-p.ambient)*math.Exp(-u/6)
				a.Channels[c].C = append(a.Channels[c].C, y)
			}
		}
		res := s.Find(a, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 2 {
			t.Errorf("seed %d: %d cycles", seed, len(res.Cycles))
			continue
		}
		if on := res.Cycles[1].Onset.AtS - shift - 200; math.Abs(on) > 45 {
			t.Errorf("seed %d: the second onset is %.0f s off", seed, on)
		}
		if !hasDefect(res.Cycles[0], ProbeDetached) || len(res.Cycles[1].Defects) > 0 {
			t.Errorf("seed %d: %+v and %+v", seed, res.Cycles[0].Defects, res.Cycles[1].Defects)
		}
	}
}

// TestOuterOvertakes: an outer ring that loses little heat ends up hotter in a long hold. The ramp still ends
// when the inner ring says so.
func TestOuterOvertakes(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(24)) {
		r, p := draw(seed)
		k := p.ratePK / 160
		p.gi, p.hi, p.gox, p.ho, p.outShare = 0.4*k, 0.6*k, 0.6*k, 0.06*k, 0.65
		tr := p.run(r, []stage{{kind: "off", s: 40}, {kind: "to", s: 9000, level: 100}, {kind: "prop", s: 1.2 / k, level: 100}, {kind: "off", s: 2 / k}})
		log := p.log(r, tr)
		res := s.Find(log, []int{0}, []int{1}, Options{})
		if len(res.Cycles) != 1 {
			t.Errorf("seed %d: %d cycles", seed, len(res.Cycles))
			continue
		}
		cy := res.Cycles[0]
		if off := cy.RampEnd.AtS - tr.stageU[2]; math.Abs(off) > 25 || log.TimeS[cy.RiseInner.End-1] > tr.stageU[2]+5 || len(cy.Defects) > 0 {
			t.Errorf("seed %d: ramp ends at %.0f s, window at %.0f s, found %+v", seed, tr.stageU[2], log.TimeS[cy.RiseInner.End-1], cy)
		}
	}
}
