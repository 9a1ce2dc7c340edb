package judge

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// TestWholeTraceIsItsPlainTwin: what is read from stretch to stretch and from gap to gap where every row has a
// reading gives the very bits of the reading row by row that holes and spikes need.
func TestWholeTraceIsItsPlainTwin(t *testing.T) {
	rounds := 600
	if raceEnabled || testing.Short() {
		rounds = 60
	}
	rng := rand.New(rand.NewPCG(3, 77))
	seen := map[string]int{}
	for round := range rounds {
		b := defaultBench()
		b.seed, b.noise = uint64(round), []float64{0, 0.05, 0.4}[rng.IntN(3)]
		b.every = []float64{1, 1, 5, 20}[rng.IntN(4)]
		b.heatS, b.innerC, b.outerC = 100+200*rng.Float64(), 60+70*rng.Float64(), 60+70*rng.Float64()
		b.offS = b.heatS + float64(rng.IntN(2))*150
		b.coolKPerS = 0.3 * rng.Float64()
		b.spoil = func(l *series.Log, c *Case) {
			at, gaps := 0.0, rng.IntN(4)
			for i := range l.TimeS {
				l.TimeS[i] = at
				at += b.every
				switch rng.IntN(60) {
				case 0:
					at += float64(gaps) * 4 * b.every * rng.Float64()
				case 1:
					at -= float64(gaps) / 3 * b.every
				case 2:
					if gaps == 3 {
						at -= 3 * b.every // the clock steps back
					}
				}
			}
			for _, kind := range []segment.DefectKind{segment.OnsetNotSeen, segment.TooCoarse, segment.ClockFault} {
				if rng.IntN(6) == 0 {
					defect(c, kind, -1, 0, 50)
				}
			}
		}
		c := b.build()
		s := mustCheck(t, Settings{Kind: Bearing})
		p, err := s.plan()
		if err != nil {
			t.Fatal(err)
		}
		sc := newScene(&c, &p, &s, &Workspace{})
		sc.findPeaks()
		if len(sc.gaps) > 0 {
			seen["gaps"]++
		}
		if !sc.neverFell {
			seen["clock steps back"]++
		}
		for i := range sc.traces {
			whole := sc.traces[i]
			if !whole.whole {
				t.Fatalf("round %d: a trace without holes is not seen whole", round)
			}
			twin := whole
			twin.whole, twin.valid, twin.first, twin.last, twin.everyS = false, 0, -1, -1, 0
			sc.countReadings(&twin)
			if twin.valid != whole.valid || twin.first != whole.first || twin.last != whole.last || twin.everyS != whole.everyS {
				t.Fatalf("round %d: counted %+v, the plain twin %+v", round, whole, twin)
			}
			for _, stretch := range []float64{b.every / 2, 5 * b.every, 17.3, 1e6} {
				for _, rate := range []float64{0, 0.2} {
					if got, want := sc.fastestWhole(&whole, stretch, rate), sc.fastestIn(&twin, stretch, rate); got != want {
						t.Fatalf("round %d: fastest over %g s is %v K/s, the plain twin %v", round, stretch, got, want)
					}
				}
			}
			got, want := sc.unseenPeak(&whole), sc.unseenPeak(&twin)
			if got != want {
				t.Fatalf("round %d: unseen %+v, the plain twin %+v", round, got, want)
			}
			if got.why != "" {
				seen["unseen peak"]++
			}
		}
		best, ok := sc.largestPair()
		for i := range sc.traces {
			sc.traces[i].whole = false
		}
		plain, plainOK := sc.largestPair()
		if ok != plainOK || best.peak != plain.peak || best.sign != plain.sign || best.valid != plain.valid || best.unseen != plain.unseen {
			t.Fatalf("round %d: largest difference %+v, the plain twin %+v", round, best, plain)
		}
		if best.sign < 0 {
			seen["outer hotter"]++
		}
		if best.unseen.why != "" {
			seen["unseen difference"]++
		}
		for limit := 55.0; limit < 140; limit += 5 {
			if held, _, ok := sc.heldC(); sc.coldFor(limit) && ok && held > limit {
				t.Fatalf("round %d: held at %v °C, taken to be colder than %g °C", round, held, limit)
			}
		}
	}
	t.Log(seen)
	for _, what := range []string{"gaps", "clock steps back", "unseen peak", "outer hotter", "unseen difference"} {
		if seen[what] == 0 {
			t.Errorf("no case with %s", what)
		}
	}
}

// TestSeek: the guess never changes the answer.
func TestSeek(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 78))
	for range 300 {
		axis, at := make([]float64, 1+rng.IntN(20)), 0.0
		for i := range axis {
			at += float64(rng.IntN(3))
			axis[i] = at
		}
		i, d := rng.IntN(len(axis)+1), float64(rng.IntN(12))
		want := i
		for want < len(axis) && axis[want]-axis[0] < d {
			want++
		}
		for likely := -1; likely <= len(axis)+1; likely++ {
			if got := seek(axis, i, likely, axis[0], d); got != want {
				t.Fatalf("seek(%v, %d, %d, %g) = %d, want %d", axis, i, likely, d, got, want)
			}
		}
	}
}

func TestAllFinite(t *testing.T) {
	for n := range 12 {
		v := make([]float64, n)
		if got := allFinite(v); got != (n > 0) {
			t.Errorf("%d values: %v", n, got)
		}
		for i := range v {
			for _, bad := range []float64{series.Missing(), math.Inf(1), math.Inf(-1)} {
				v[i] = bad
				if allFinite(v) {
					t.Errorf("%v taken for finite", v)
				}
			}
			v[i] = 20
		}
	}
}

// TestLogIsOnlyRead: traces share the log's samples where nothing is to be changed in them, and have their own
// where a spike is blanked or a calibration taken off.
func TestLogIsOnlyRead(t *testing.T) {
	for _, s := range []Settings{{}, {Calibration: &Calibration{InnerOffsetK: 1.5, ExpandedK: 0.4}}} {
		for _, spikes := range [][][]int32{nil, {{40, 300}, {7}}} {
			b := defaultBench()
			b.noise = 0.1
			c := b.build()
			c.Spikes = spikes
			before := make([][]float64, len(c.Log.Channels))
			for i := range before {
				before[i] = append(before[i], c.Log.Channels[i].C...)
			}
			j := Judge(c, mustCheck(t, s))
			for i := range before {
				if !reflect.DeepEqual(before[i], c.Log.Channels[i].C) {
					t.Errorf("%s of the log was changed (calibration %v, spikes %v)", c.Log.Channels[i].Name, s.Calibration, spikes)
				}
			}
			// The same again with buffers of its own: what is shared must not be written to by another.
			c.Work = &Workspace{}
			Judge(c, s)
			if again := Judge(c, s); !reflect.DeepEqual(j, again) {
				t.Errorf("judged anew: %+v\nfirst %+v", again, j)
			}
		}
	}
}
