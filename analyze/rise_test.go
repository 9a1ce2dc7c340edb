package analyze

import (
	"math/rand/v2"
	"slices"
	"testing"

	"ringheat/analyze/series"
)

// TestCompleteRowsAreTheSamples: rows are taken as they stand exactly where picking the samples one by one
// leaves nothing out.
func TestCompleteRowsAreTheSamples(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 9))
	both := [2]int{}
	for range 2000 {
		n := 1 + rng.IntN(12)
		log := &series.Log{TimeS: make([]float64, n), Channels: []series.Channel{{C: make([]float64, n)}}}
		c := log.Channels[0].C
		for i := range c {
			log.TimeS[i], c[i] = float64(i), 20+rng.Float64()
			if rng.IntN(20) == 0 {
				c[i] = series.Missing()
			}
		}
		var marked []int32
		for row := range n {
			if rng.IntN(10) == 0 {
				marked = append(marked, int32(row))
			}
		}
		first := rng.IntN(n)
		end := first + 1 + rng.IntN(n-first)
		ts, ys := samples(log, 0, [][]int32{marked}, first, end, nil, nil)
		got := complete(c[first:end], marked, first)
		if got != (len(ys) == end-first) || got && (!slices.Equal(ts, log.TimeS[first:end]) || !slices.Equal(ys, c[first:end])) {
			t.Fatalf("rows %d to %d of %v with spikes %v: complete %v, samples %v", first, end, c, marked, got, ys)
		}
		if got {
			both[1]++
		} else {
			both[0]++
		}
	}
	if both[0] < 100 || both[1] < 100 {
		t.Errorf("too few of either kind: %v", both)
	}
}
