package judge

import (
	"strings"
	"testing"

	"ringheat/analyze/segment"
	"ringheat/analyze/series"

	"pgregory.net/rapid"
)

// cutRows takes the rows between two times (s, both kept) out of a log, as a logger that stood still does.
func cutRows(l *series.Log, c *Case, fromS, toS float64) {
	keep := func(t float64) bool { return t <= fromS || t >= toS }
	row := func(old int) int {
		n := 0
		for _, t := range l.TimeS[:min(old, len(l.TimeS))] {
			if keep(t) {
				n++
			}
		}
		return n
	}
	for _, w := range []*segment.Window{&c.Cycle.Rows, &c.Cycle.RiseInner, &c.Cycle.RiseOuter} {
		w.First, w.End = row(w.First), row(w.End)
	}
	for _, m := range []*segment.Moment{&c.Cycle.Onset, &c.Cycle.RampEnd, &c.Cycle.End} {
		m.Row = row(m.Row)
	}
	for k := range l.Channels {
		var out []float64
		for i, v := range l.Channels[k].C {
			if keep(l.TimeS[i]) {
				out = append(out, v)
			}
		}
		l.Channels[k].C, l.Channels[k].Valid = out, len(out)
	}
	var times []float64
	for _, t := range l.TimeS {
		if keep(t) {
			times = append(times, t)
		}
	}
	l.TimeS = times
}

// endAt says where segmentation put the end of heating.
func endAt(c *Case, atS float64) {
	c.Cycle.End.AtS, c.Cycle.RampEnd.AtS = atS, atS
	for i, t := range c.Log.TimeS {
		if t <= atS {
			c.Cycle.End.Row, c.Cycle.RampEnd.Row = i, i
		}
	}
}

func gear() Settings { return Settings{Kind: Gear, MaxTempC: num(128), ProbeToleranceK: num(1.5)} }

// TestHoleAcrossThePeak: the part went to 132 °C in a hole, before which segmentation put the end of heating.
// Nothing read was above 118 °C, but nothing shows that it stayed below 128 °C.
func TestHoleAcrossThePeak(t *testing.T) {
	for _, end := range []float64{596, 604, 700, 740} {
		for _, to := range []float64{900, 1216, 2000} {
			b := bench{every: 2, heatS: 740, offS: 740, endS: 3000, innerC: 132, coolKPerS: 0.03, step: 0.1, noise: 0.05, source: series.ByHeading, oneProbe: true}
			b.spoil = func(l *series.Log, c *Case) {
				cutRows(l, c, 604, to)
				endAt(c, end)
			}
			j := Judge(b.build(), mustCheck(t, gear()))
			f := j.Finding(MaxTemp)
			if to == 900 && f.Verdict == Fail {
				continue // 127.2 °C was read
			}
			if f.Verdict != Unproven || j.Verdict != Unproven {
				t.Errorf("end put at %v s, hole until %v s: %s, %s", end, to, verdicts(j), f.Reason)
			}
			if at := *f.AtS; at > 606 && at < to-2 {
				t.Errorf("end put at %v s: peak found at %v s, inside the hole", end, at)
			}
			if *f.Acceptance < 125 || *f.Acceptance > 128 {
				t.Errorf("acceptance limit %v", *f.Acceptance)
			}
		}
	}
}

// TestLongerHoleIsNoMoreProof: while a part warms, a longer hole never turns UNPROVEN into PASS.
func TestLongerHoleIsNoMoreProof(t *testing.T) {
	for _, end := range []float64{280, 290, 300} {
		last := Pass
		for _, d := range []float64{6, 20, 60, 120, 600, 3600, 7200} {
			b := defaultBench()
			b.noise, b.endS = 0.05, 900
			b.spoil = func(l *series.Log, c *Case) {
				for i := range l.TimeS {
					if l.TimeS[i] > 290 {
						l.TimeS[i] += d
					}
				}
				endAt(c, end)
			}
			j := Judge(b.build(), mustCheck(t, Settings{ProbeToleranceK: tight}))
			v := j.Finding(MaxTemp).Verdict
			if last == Unproven && v != Unproven {
				t.Errorf("end put at %v s, %v s unseen: %s", end, d, verdicts(j))
			}
			last = v
		}
		if last != Unproven {
			t.Errorf("end put at %v s: two hours unseen while warming: %s", end, last)
		}
	}
}

// TestHoleBeforeTheNextCycle: what was hidden between two cycles belongs to the earlier one.
func TestHoleBeforeTheNextCycle(t *testing.T) {
	b := defaultBench()
	b.oneProbe = true
	b.spoil = func(l *series.Log, c *Case) {
		for i := range l.TimeS {
			if l.TimeS[i] > 280 {
				l.TimeS[i] += 1800
			}
		}
		endAt(c, 270)
		c.Cycle.Rows.End = 281
	}
	j := Judge(b.build(), mustCheck(t, gear()))
	if v := j.Finding(MaxTemp).Verdict; v != Unproven {
		t.Errorf("%s: %s", verdicts(j), j.Reason)
	}
}

// TestReheatInCooling: after 20 minutes unseen the rings read hotter than cooling leaves them.
func TestReheatInCooling(t *testing.T) {
	for _, open := range []bool{false, true} {
		for _, back := range []float64{0, 12, 25} { // K above what cooling leaves
			b := defaultBench()
			b.every, b.endS, b.coolKPerS, b.noise, b.outerC = 2, 3000, 0.02, 0.05, 98
			b.spoil = func(l *series.Log, c *Case) {
				for k := range l.Channels {
					for i, at := range l.TimeS {
						if at >= 2000 {
							l.Channels[k].C[i] = inSteps(l.Channels[k].C[i]+back, 0.1)
						}
					}
				}
				if open {
					missing(l, 0, 801, 1999)
					missing(l, 1, 801, 1999)
				} else {
					cutRows(l, c, 800, 2000)
				}
			}
			j := Judge(b.build(), mustCheck(t, Settings{ProbeToleranceK: tight}))
			want := Pass
			if back > 0 {
				want = Unproven
			}
			for _, check := range []Check{MaxTemp, RingDiff} {
				f := j.Finding(check)
				if f.Verdict != want {
					t.Errorf("%v K above cooling, probes open %v: %s %s: %s", back, open, check, f.Verdict, f.Reason)
				}
			}
			if want == Unproven && !strings.Contains(j.Finding(MaxTemp).Reason, "warmer than by cooling alone") {
				t.Errorf("reason: %s", j.Finding(MaxTemp).Reason)
			}
		}
	}
}

// TestFewerRowsProveNoMore: a part that went above its limit is never passed because rows were lost.
func TestFewerRowsProveNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := defaultBench()
		b.every, b.endS, b.coolKPerS = 4, 1500, 0.05
		b.innerC = float64(rapid.IntRange(1195, 1350).Draw(t, "top")) / 10
		b.noise, b.seed = 0.05, rapid.Uint64().Draw(t, "seed")
		holes := rapid.IntRange(1, 3).Draw(t, "holes")
		b.spoil = func(l *series.Log, c *Case) {
			for range holes {
				from := 2 * float64(rapid.IntRange(20, 700).Draw(t, "from"))
				cutRows(l, c, from, from+2*float64(rapid.IntRange(2, 400).Draw(t, "rows")))
			}
			var s segment.Segmenter
			found := s.Find(l, c.Inner, c.Outer, segment.Options{})
			if len(found.Cycles) == 0 {
				c.Log = nil
				return
			}
			c.Cycle, c.Spikes = found.Cycles[0], found.Spikes
		}
		if j := Judge(b.build(), Settings{ProbeToleranceK: num(1)}); j.Finding(MaxTemp).Verdict == Pass {
			t.Fatalf("a part warmed to %v °C passes: %s", b.innerC, j.Finding(MaxTemp).Reason)
		}
	})
}

// TestShortRiseBeforeALongHole: the rate of the rise is that of the rise, not of the whole log or of the hole.
func TestShortRiseBeforeALongHole(t *testing.T) {
	b := defaultBench()
	b.every, b.endS, b.innerC, b.oneProbe = 2, 1500, 119.5, true
	b.spoil = func(l *series.Log, c *Case) {
		cutRows(l, c, 40, 1024)
		endAt(c, 40)
	}
	j := Judge(b.build(), mustCheck(t, Settings{Kind: Gear, MaxTempC: num(130), ProbeToleranceK: tight}))
	if f := j.Finding(MaxTemp); f.Verdict != Unproven {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
}
