package judge

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringheat/analyze/series"
)

// TestSecondsAbove: what the clock shows above 120 °C, on traces whose crossings are known.
func TestSecondsAbove(t *testing.T) {
	with := func(f func(b *bench)) bench { b := defaultBench(); f(&b); return b }
	for _, tc := range []struct {
		name  string
		bench bench
		want  float64
		tol   float64
	}{
		{"never above", defaultBench(), 0, 0},
		{"exactly at the limit", with(func(b *bench) { b.innerC = 120 }), 0, 0},
		// 105 K in 300 s up, 0.05 K/s down: 5 K above take 14.29 s up and 100 s down.
		{"one ring, crossings between rows", with(func(b *bench) { b.innerC = 125; b.step = 0 }), 5/(105./300) + 100, 0.05},
		{"the same every 7 s", with(func(b *bench) { b.innerC = 125; b.every = 7; b.step = 0; b.heatS, b.offS, b.endS = 301, 301, 602 }), 5/(105./301) + 100, 0.1},
		{"tenths of a degree", with(func(b *bench) { b.innerC = 125 }), 5/(105./300) + 100, 2},
		// The outer ring is above for a part of the same time: either ring counts once.
		{"both rings at the same time", with(func(b *bench) { b.innerC, b.outerC, b.step = 125, 123, 0 }), 5/(105./300) + 100, 0.05},
		{"another excursion of the outer ring", with(func(b *bench) {
			b.innerC, b.outerC, b.step, b.endS = 125, 100, 0, 900
			b.spoil = func(l *series.Log, c *Case) {
				for i := 700; i <= 750; i++ {
					l.Channels[1].C[i] = 130
				}
			}
		}), 5/(105./300) + 100 + 50 + 2 - 10./43 - 10./30, 1.0},
		{"one real sample later on", with(func(b *bench) {
			b.innerC, b.step = 125, 0
			b.spoil = func(l *series.Log, c *Case) { l.Channels[0].C[500] = 126 }
		}), 5/(105./300) + 100 + 6/(126-115.05) + 6/(126-114.95), 0.05},
		{"log ends above", with(func(b *bench) { b.innerC, b.step, b.endS = 125, 0, 330 }), 5/(105./300) + 30, 0.05},
		{"a spike is no excursion", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				l.Channels[0].C[150] = 400
				c.Spikes = [][]int32{{150}, nil}
			}
		}), 0, 0},
		{"a real sample at switch-off is one", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { l.Channels[0].C[300] = 125 }
		}), 2 * 5 / 25.3, 0.05},
		{"an open probe hides nothing of the other ring", with(func(b *bench) {
			b.innerC, b.outerC, b.step = 125, 124, 0
			b.spoil = func(l *series.Log, c *Case) { missing(l, 0, 310, 320) }
		}), 5/(105./300) + 100, 0.1},
		{"clock steps back", with(func(b *bench) {
			b.innerC, b.step = 125, 0
			b.spoil = func(l *series.Log, c *Case) {
				for i := 305; i < len(l.TimeS); i++ {
					l.TimeS[i] -= 200
				}
			}
		}), 5/(105./300) + 100, 0.1},
	} {
		t.Run(tc.name, func(t *testing.T) {
			j := Judge(tc.bench.build(), Settings{MaxTempC: num(120)})
			if math.Abs(*j.OverLimitS-tc.want) > tc.tol {
				t.Errorf("%v s above, want %v", *j.OverLimitS, tc.want)
			}
		})
	}
}

// TestFlickerIsOneExcursion: a noisy hold just above the limit was above it all the time, one just
// below it not at all; neither is a string of short excursions.
func TestFlickerIsOneExcursion(t *testing.T) {
	for _, tc := range []struct {
		name     string
		holdC    float64
		low, top float64
	}{
		{"above", 120.3, 598, 618},
		{"below", 119.7, 0, 0},
	} {
		for seed := uint64(1); seed <= 20; seed++ {
			b := defaultBench()
			b.innerC, b.outerC, b.offS, b.endS, b.noise, b.seed = tc.holdC, 100, 900, 1000, 0.2, seed
			j := Judge(b.build(), Settings{MaxTempC: num(120)})
			if s := *j.OverLimitS; s < tc.low || s > tc.top {
				t.Errorf("%s, seed %d: %v s above", tc.name, seed, s)
			}
		}
	}
	// A real excursion before a hold just below the limit is counted alone.
	rng := rand.New(rand.NewPCG(7, 7))
	b := defaultBench()
	b.innerC, b.outerC, b.offS, b.endS, b.noise = 119.7, 100, 900, 1000, 0
	b.spoil = func(l *series.Log, c *Case) {
		for i := 300; i <= 900; i++ {
			v := 119.75 + 0.15*rng.NormFloat64()
			if i < 350 {
				v = 124
			}
			l.Channels[0].C[i] = inSteps(v, 0.1)
		}
	}
	j := Judge(b.build(), Settings{MaxTempC: num(120)})
	if s := *j.OverLimitS; s < 49.5 || s > 51 {
		t.Errorf("one excursion of 50 s gives %v s", s)
	}
}
