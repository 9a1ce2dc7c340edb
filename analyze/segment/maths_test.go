package segment

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ringheat/analyze/series"
)

// TestLine holds the straight line against NIST StRD "Norris" (linear regression, certified values).
// source: NIST/ITL Statistical Reference Datasets, Norris.dat: B0, B1 and the standard deviation of B1.
func TestLine(t *testing.T) {
	points := [][2]float64{{0.2, 0.1}, {337.4, 338.8}, {118.2, 118.1}, {884.6, 888.0}, {10.1, 9.2}, {226.5, 228.1}, {666.3, 668.5}, {996.3, 998.5},
		{448.6, 449.1}, {777.0, 778.9}, {558.2, 559.2}, {0.4, 0.3}, {0.6, 0.1}, {775.5, 778.1}, {666.9, 668.8}, {338.0, 339.3}, {447.5, 448.9},
		{11.6, 10.8}, {556.0, 557.7}, {228.1, 228.3}, {995.8, 998.0}, {887.6, 888.8}, {120.2, 119.6}, {0.3, 0.3}, {0.3, 0.6}, {556.8, 557.6},
		{339.1, 339.3}, {887.2, 888.0}, {999.0, 998.5}, {779.0, 778.9}, {11.1, 10.2}, {118.3, 117.6}, {229.2, 228.9}, {669.1, 668.4}, {448.9, 449.2}, {0.5, 0.2}}
	slices.SortFunc(points, func(a, b [2]float64) int { return int(math.Copysign(1, a[0]-b[0])) })
	var x, y []float64
	for _, p := range points {
		x, y = append(x, p[0]), append(y, p[1])
	}
	p := fitPolynomial(x, y, 1)
	if b0 := p.at(0); math.Abs(b0 - -0.262323073774029) > 1e-10 {
		t.Errorf("B0 %.15f", b0)
	}
	if b1 := p.slope(3); math.Abs(b1-1.00211681802045) > 1e-12 {
		t.Errorf("B1 %.15f", b1)
	}
	if se := 0.884796396144373 * p.slopeSE; math.Abs(se-0.000429796848199937) > 1e-12 {
		t.Errorf("standard deviation of B1 %.15f", se)
	}
	// A parabola through points that lie on one.
	for i := range x {
		y[i] = 3 - 0.5*x[i] + 0.002*x[i]*x[i]
	}
	q := fitPolynomial(x, y, 2)
	if math.Abs(q.at(500)-253) > 1e-9 || math.Abs(q.slope(500)-1.5) > 1e-11 {
		t.Errorf("parabola: %v %v", q.at(500), q.slope(500))
	}
	if u := q.before(900, 253); math.Abs(u-500) > 1e-6 {
		t.Errorf("the parabola passes 253 at %v, want 500", u)
	}
}

// TestProbeLag holds the simulator's probe against the exact lag of a first-order body on a ramp.
// source: lag = rate * tau * (1 - exp(-t/tau)), exact; the figures below computed from it.
func TestProbeLag(t *testing.T) {
	for _, c := range []struct{ rate, tau, at, indicated float64 }{
		{1, 2, 6, 4.099574137}, {1, 2, 20, 18.0000908}, {0.5, 5, 15, 5.124467671}, {0.5, 5, 25, 10.01684487},
	} {
		p := plant{ratePK: c.rate, probeS: c.tau, dt: 1}
		tr := p.run(rand.New(rand.NewPCG(1, 1)), []stage{{kind: "heat", s: 30}})
		if got := tr.indI[int(c.at)]; math.Abs(got-c.indicated) > 0.06*c.rate {
			t.Errorf("rate %g, lag %g, %g s: %.3f, want %.3f", c.rate, c.tau, c.at, got, c.indicated)
		}
	}
}

func TestQuantile(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 60; n++ {
		v := make([]float64, n)
		for i := range v {
			v[i] = float64(r.IntN(12))
		}
		sorted := slices.Sorted(slices.Values(v))
		for _, q := range []float64{0, 0.1, 0.4, 0.5, 1} {
			if got, want := quantile(slices.Clone(v), q), sorted[int(q*float64(n-1))]; got != want {
				t.Fatalf("quantile %g of %v: %g, want %g", q, v, got, want)
			}
		}
	}
}

// TestNoise: the noise of a ramp with spikes in every eighth reading is found to within a factor.
func TestNoise(t *testing.T) {
	for _, sigma := range []float64{0.05, 0.3, 2} {
		for _, spikes := range []bool{false, true} {
			r := rand.New(rand.NewPCG(7, 7))
			log := &series.Log{Channels: []series.Channel{{}}}
			for i := range 4000 {
				y := 20 + 0.2*float64(i) + sigma*r.NormFloat64()
				if spikes && i%8 == 0 {
					y += 30 * sigma
				}
				log.TimeS = append(log.TimeS, float64(i))
				log.Channels[0].C = append(log.Channels[0].C, y)
			}
			var c clock
			c.read(log)
			var tr trace
			tr.load(log, &c, 0)
			tr.measureNoise(nil)
			lo, hi := 0.93, 1.07
			if spikes {
				hi = 2.2
			}
			if q := tr.noiseK / sigma; q < lo || q > hi {
				t.Errorf("noise %g, spikes %v: found %.2f times that", sigma, spikes, q)
			}
		}
	}
}

// TestDeparture dates a known departure, sharp or rounded by a lag.
func TestDeparture(t *testing.T) {
	var d departures
	for _, lag := range []float64{0, 4, 10} {
		var worst, mean float64
		const runs = 50
		for seed := range uint64(runs) {
			r := rand.New(rand.NewPCG(seed, 9))
			var u, res []float64
			for i := range 120 {
				x := float64(i)
				v := 0.05 * r.NormFloat64()
				if x > 70 {
					// the response of one lag to a ramp of 0.2 K/s that begins at 70 s
					v += 0.2 * (x - 70)
					if lag > 0 {
						v -= 0.2 * lag * (1 - math.Exp(-(x-70)/lag))
					}
				}
				u, res = append(u, x), append(res, v)
			}
			k := d.first(u, res, 1, 0.05)
			off := float64(k.at) - 70
			mean += off / runs
			worst = max(worst, math.Abs(off))
			if k.slope < 0.15 || k.slope > 0.25 {
				t.Errorf("lag %g, seed %d: slope %.3f", lag, seed, k.slope)
			}
		}
		if math.Abs(mean) > 1+0.2*lag || worst > 2+0.5*lag {
			t.Errorf("lag %g: %.1f s late on the average, at most %.1f s off", lag, mean, worst)
		}
	}
}

// TestHinge: a change of power in a first-order rise is found where it is, whatever the time constant.
func TestHinge(t *testing.T) {
	var h hinges
	for _, k := range []float64{0, 0.001, 0.01} {
		for _, power := range []float64{0.5, 1.6} {
			r := rand.New(rand.NewPCG(3, 3))
			var u, y []float64
			v := 20.0
			for i := range 300 {
				u = append(u, float64(i))
				y = append(y, v+0.02*r.NormFloat64())
				p := 0.3
				if i >= 180 {
					p *= power
				}
				for range 10 {
					v += 0.1 * (p - k*(v-20))
				}
			}
			h.start(u, y)
			if at, gain := h.best(10, 290, 0); at < 177 || at > 183 || gain < 1 {
				t.Errorf("k %g, power times %g: found at %d (gain %.2f), want 180", k, power, at, gain)
			}
		}
	}
}
