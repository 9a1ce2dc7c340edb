package segment

import (
	"reflect"
	"slices"
	"testing"

	"ringheat/analyze/series"
)

func clone(log *series.Log) *series.Log {
	c := *log
	c.TimeS = slices.Clone(log.TimeS)
	c.Channels = slices.Clone(log.Channels)
	for i := range c.Channels {
		c.Channels[i].C = slices.Clone(log.Channels[i].C)
	}
	return &c
}

// TestInvariance: the same warming told otherwise gives the same answer.
func TestInvariance(t *testing.T) {
	var s Segmenter
	for seed := range uint64(seedCount(24)) {
		r, p := draw(seed)
		log := p.log(r, p.run(r, [][]stage{warmAndHold, warmTwice, warmAndSwitchOff}[seed%3]))
		in, out := []int{0}, []int{1}
		want := s.Find(log, in, out, Options{})

		var fresh Segmenter
		if got := fresh.Find(log, in, out, Options{}); !reflect.DeepEqual(got, want) {
			t.Errorf("seed %d: a fresh Segmenter finds something else", seed)
		}
		// The log must not be changed, and a result must stand when the Segmenter goes on.
		before, kept := clone(log), clone(log)
		s.Find(kept, in, out, Options{})
		if !reflect.DeepEqual(before.Channels, kept.Channels) || !reflect.DeepEqual(before.TimeS, kept.TimeS) {
			t.Errorf("seed %d: Find changed the log", seed)
		}
		again := s.Find(log, in, out, Options{})
		s.Find(garbage(r), in, out, Options{})
		if !reflect.DeepEqual(again, want) {
			t.Errorf("seed %d: the result changed when another log was read", seed)
		}
		// Other channels between them.
		swapped := clone(log)
		swapped.Channels = []series.Channel{log.Channels[1], {Name: "humidity", C: make([]float64, log.Len())}, log.Channels[0]}
		got := s.Find(swapped, []int{2}, []int{0}, Options{})
		if !sameWindows(got, want) {
			t.Errorf("seed %d: the order of columns matters", seed)
		}
		// The clock begins elsewhere.
		shifted := clone(log)
		for i := range shifted.TimeS {
			shifted.TimeS[i] += 4096
		}
		if got := s.Find(shifted, in, out, Options{}); !sameWindows(got, want) {
			t.Errorf("seed %d: the clock's start matters", seed)
		}
		// A second probe on the inner ring, with every other reading blank, follows the first.
		second := clone(log)
		ch := series.Channel{C: slices.Clone(log.Channels[0].C), StepK: log.Channels[0].StepK}
		for i := range ch.C {
			if i%2 == 0 {
				ch.C[i] = series.Missing()
			}
		}
		second.Channels = append(second.Channels, ch)
		if got := s.Find(second, []int{2, 0}, out, Options{}); !sameWindows(got, want) {
			t.Errorf("seed %d: a second probe on the ring changes the cycle", seed)
		}
	}
}

func sameWindows(a, b Result) bool {
	if len(a.Cycles) != len(b.Cycles) {
		return false
	}
	for i := range a.Cycles {
		x, y := a.Cycles[i], b.Cycles[i]
		if x.RiseInner != y.RiseInner || x.RiseOuter != y.RiseOuter || x.Rows != y.Rows || x.Onset.Row != y.Onset.Row || x.End.Row != y.End.Row {
			return false
		}
	}
	return true
}

// TestNoProbes: without a probe there is nothing to say.
func TestNoProbes(t *testing.T) {
	var s Segmenter
	r, p := draw(1)
	log := p.log(r, p.run(r, warmAndHold))
	if res := s.Find(log, nil, nil, Options{}); len(res.Cycles) != 0 || len(res.Spikes) != 2 {
		t.Errorf("%+v", res)
	}
	if res := s.Find(&series.Log{}, nil, nil, Options{}); len(res.Cycles) != 0 {
		t.Errorf("%+v", res)
	}
	// The outer probe alone serves as well.
	if res := s.Find(log, nil, []int{1}, Options{}); len(res.Cycles) != 1 || res.Cycles[0].RiseOuter.Len() == 0 || res.Cycles[0].RiseInner.Len() != 0 {
		t.Errorf("%+v", res)
	}
}

// TestOptions: what counts as a cycle can be set.
func TestOptions(t *testing.T) {
	var s Segmenter
	r, p := draw(2)
	log := p.log(r, p.run(r, []stage{{kind: "off", s: 60}, {kind: "to", s: 4000, level: p.ambient + 8}, {kind: "off", s: 900}}))
	if res := s.Find(log, []int{0}, []int{1}, Options{}); len(res.Cycles) != 0 {
		t.Errorf("a rise of 8 K is a cycle by default: %+v", res.Cycles)
	}
	if res := s.Find(log, []int{0}, []int{1}, Options{MinRise: 5}); len(res.Cycles) != 1 {
		t.Errorf("a rise of 8 K is none with MinRise 5: %+v", res.Cycles)
	}
}
