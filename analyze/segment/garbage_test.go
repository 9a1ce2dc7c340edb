package segment

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"ringheat/analyze/series"
)

// garbage draws logs that no logger should write, but some do.
func garbage(r *rand.Rand) *series.Log {
	n := r.IntN(12)
	if r.IntN(3) > 0 {
		n = r.IntN(400)
	}
	log := &series.Log{}
	t := 0.0
	style := r.IntN(6)
	for range n {
		log.TimeS = append(log.TimeS, t)
		switch style {
		case 0:
			t++
		case 1:
			t += float64(r.IntN(3)) // repeats
		case 2:
			t += r.ExpFloat64() * 10
		case 3:
			t++
			if r.IntN(40) == 0 {
				t -= 100 * r.Float64() // steps back
			}
		case 4: // the clock stands still
		case 5:
			t++
			if r.IntN(50) == 0 {
				t += 1e5
			}
		}
	}
	for range 2 {
		ch := series.Channel{StepK: kelvin([]float64{0, 0.1, 1}[r.IntN(3)])}
		kind := r.IntN(8)
		y := 20 + 100*r.Float64()
		missing := r.IntN(4) == 0
		for i := range n {
			switch kind {
			case 0:
			case 1:
				y = 1000 * r.NormFloat64()
			case 2:
				y += r.NormFloat64()
			case 3:
				y = 20 + 90*math.Abs(math.Sin(float64(i)/20))
			case 4:
				y = 20
				if i > n/2 {
					y = 120
				}
			case 5:
				y = []float64{1e308, -1e308, 0, 20}[r.IntN(4)]
			case 6:
				y = 20 + float64(i%2)*80
			case 7:
				y = math.NaN()
			}
			v := y
			if missing && r.IntN(3) == 0 {
				v = series.Missing()
			} else if v == v {
				ch.Valid++
			}
			ch.C = append(ch.C, v)
		}
		log.Channels = append(log.Channels, ch)
	}
	return log
}

// checkResult says what of a result contradicts the contract.
func checkResult(log *series.Log, res Result) error {
	n := log.Len()
	if len(res.Spikes) != len(log.Channels) {
		return fmt.Errorf("%d spike lists for %d channels", len(res.Spikes), len(log.Channels))
	}
	for c, rows := range res.Spikes {
		for i, v := range rows {
			if v < 0 || int(v) >= n || i > 0 && v <= rows[i-1] || series.IsMissing(log.Channels[c].C[v]) {
				return fmt.Errorf("channel %d: spike rows %v", c, rows)
			}
		}
	}
	at := 0
	for i, cy := range res.Cycles {
		if cy.Rows.First < at || cy.Rows.End <= cy.Rows.First || cy.Rows.End > n {
			return fmt.Errorf("cycle %d: rows %v after %d", i, cy.Rows, at)
		}
		at = cy.Rows.End
		for _, m := range []Moment{cy.Onset, cy.RampEnd, cy.End} {
			if m.Evidence == "" {
				return fmt.Errorf("cycle %d: a moment without evidence", i)
			}
			if m.Known && (m.Row < 0 || m.Row >= n || math.IsNaN(m.AtS) || math.IsInf(m.AtS, 0)) || !m.Known && m.Row != -1 {
				return fmt.Errorf("cycle %d: moment %+v", i, m)
			}
		}
		row := cy.Rows.First
		for _, p := range cy.Phases {
			if p.First < row || p.End <= p.First || p.End > cy.Rows.End {
				return fmt.Errorf("cycle %d: phases %+v in rows %v", i, cy.Phases, cy.Rows)
			}
			row = p.End
		}
		for _, w := range []Window{cy.RiseInner, cy.RiseOuter} {
			if w == (Window{}) {
				continue
			}
			if w.First < 0 || w.End > n || w.Len() <= 0 {
				return fmt.Errorf("cycle %d: window %v", i, w)
			}
			for k := w.First + 1; k < w.End; k++ {
				if log.TimeS[k] < log.TimeS[k-1] {
					return fmt.Errorf("cycle %d: window %v holds a step back", i, w)
				}
			}
		}
		for _, d := range cy.Defects {
			if d.First < 0 || d.End <= d.First || d.End > n || d.Message == "" || d.Kind == "" {
				return fmt.Errorf("cycle %d: defect %+v", i, d)
			}
		}
	}
	return nil
}

func TestGarbage(t *testing.T) {
	var s Segmenter
	seeds := 20000
	if raceEnabled || testing.Short() {
		seeds = 1500
	}
	cycles := 0
	for seed := range uint64(seeds) {
		r := rand.New(rand.NewPCG(seed, 5))
		log := garbage(r)
		in, out := []int{0}, []int{1}
		switch r.IntN(5) {
		case 0:
			in = nil
		case 1:
			out = nil
		case 2:
			in, out = []int{0, 1}, nil
		case 3:
			in, out = nil, nil
		}
		func() {
			defer func() {
				if e := recover(); e != nil {
					t.Logf("seed %d", seed)
					panic(e)
				}
			}()
			res := s.Find(log, in, out, Options{})
			cycles += len(res.Cycles)
			if err := checkResult(log, res); err != nil {
				t.Errorf("seed %d: %v", seed, err)
			}
		}()
	}
	if cycles == 0 {
		t.Error("no log gave a cycle: the test shows nothing")
	}
}
