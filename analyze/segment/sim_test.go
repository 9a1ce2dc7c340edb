package segment

import (
	"math"
	"math/rand/v2"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// A small simulator of a part being warmed, for tests only: two rings that exchange heat, a heater with
// lag, a control, probes with lag, noise and a display. It shares nothing with the demo data's generator.

type plant struct {
	ratePK   float64 // K/s that full power gives the inner ring
	outShare float64 // the same for the outer ring, as a share
	gi, gox  float64 // exchange, 1/s, of the inner and of the outer ring
	hi, ho   float64 // losses, 1/s
	heaterS  float64 // heater lag
	probeS   float64 // probe lag
	ambient  float64
	start    float64 // temperature of the part at the begin
	noise    float64
	step     float64
	dt       float64
	jitter   float64 // share of dt by which reading times scatter
}

// stage is one thing the operator does.
type stage struct {
	kind  string  // "off", "heat" (for s seconds), "to" (until the inner ring reaches level), "onoff", "prop" (hold at level for s seconds)
	s     float64 // seconds; for "to" the longest time
	level float64
	power float64 // share of full power; 0 means 1
	band  float64 // on/off hysteresis, K
}

type truth struct {
	stageU []float64 // time at which each stage begins, and the end
	inner  []float64 // metal
	outer  []float64
	indI   []float64 // noise-free indications
	indO   []float64
	t      []float64
}

// run integrates the plant through the stages.
func (p plant) run(r *rand.Rand, stages []stage) truth {
	var tr truth
	ti, to := p.start, p.start
	pi, po := ti, to
	h := 0.0
	const sub = 0.1
	step := min(sub, p.dt/10)
	u, next := 0.0, 0.0
	record := func() {
		tr.t = append(tr.t, next)
		tr.inner, tr.outer = append(tr.inner, ti), append(tr.outer, to)
		tr.indI, tr.indO = append(tr.indI, pi), append(tr.indO, po)
	}
	aim := 0.0
	if p.jitter > 0 {
		aim = p.dt * p.jitter * (r.Float64() - 0.5)
	}
	lag := func(x, to, tau float64) float64 {
		if tau <= 0 {
			return to
		}
		return x + (to-x)*(1-math.Exp(-step/tau))
	}
	for _, st := range stages {
		tr.stageU = append(tr.stageU, u)
		power := st.power
		if power == 0 {
			power = 1
		}
		on := true
		begin := u
		for {
			if st.kind == "to" && (ti >= st.level || u-begin >= st.s) || st.kind != "to" && u-begin >= st.s-1e-9 {
				break
			}
			want := 0.0
			switch st.kind {
			case "heat", "to":
				want = power
			case "onoff":
				if ti >= st.level+st.band/2 {
					on = false
				} else if ti <= st.level-st.band/2 {
					on = true
				}
				if on {
					want = power
				}
			case "prop":
				need := (p.gi*(ti-to) + p.hi*(ti-p.ambient)) / p.ratePK
				want = min(power, max(0, need+(st.level-ti)*0.02/p.ratePK))
			}
			h = lag(h, want, p.heaterS)
			for u >= next+aim-1e-9 {
				record()
				next += p.dt
				if p.jitter > 0 {
					aim = p.dt * p.jitter * (r.Float64() - 0.5)
				}
			}
			di := p.ratePK*h - p.gi*(ti-to) - p.hi*(ti-p.ambient)
			do := p.ratePK*p.outShare*h + p.gox*(ti-to) - p.ho*(to-p.ambient)
			ti += step * di
			to += step * do
			pi, po = lag(pi, ti, p.probeS), lag(po, to, p.probeS)
			u += step
		}
	}
	tr.stageU = append(tr.stageU, u)
	return tr
}

// log makes a log of a truth: noise and display on the indications.
func (p plant) log(r *rand.Rand, tr truth) *series.Log {
	show := func(v float64) float64 {
		v += p.noise * r.NormFloat64()
		if p.step > 0 {
			v = math.Round(v/p.step) * p.step
		}
		return v
	}
	log := &series.Log{}
	in := series.Channel{Role: series.Inner, StepK: 0}
	out := series.Channel{Role: series.Outer}
	for i := range tr.t {
		u := tr.t[i]
		log.TimeS = append(log.TimeS, u)
		in.C = append(in.C, show(tr.indI[i]))
		out.C = append(out.C, show(tr.indO[i]))
	}
	in.StepK, out.StepK = kelvin(p.step), kelvin(p.step)
	in.Valid, out.Valid = len(in.C), len(out.C)
	log.Channels = []series.Channel{in, out}
	log.Clock.IntervalS = p.dt
	return log
}

// plainPlant draws a two-ring part of ordinary size: it takes 200 to 1500 s to a target near 110 °C.
func plainPlant(r *rand.Rand) plant {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	heat := between(200, 1500)
	rate := 90 / heat * between(1.2, 2)
	te := between(0.05, 0.25) * heat
	return plant{
		ratePK: rate, outShare: between(0.2, 0.7),
		gi: 0.45 / te, gox: 0.55 / te, hi: between(0.1, 0.3) / heat, ho: between(0.1, 0.3) / heat,
		heaterS: between(2, 8), probeS: between(1, 6),
		ambient: between(15, 28), noise: between(0.05, 0.3), step: 0.1, dt: 1,
	}
}

func kelvin(v float64) quantity.Kelvin { return quantity.Kelvin(v) }

// put lets a probe follow its ring only while on(u); otherwise it follows the ambient with airS.
func (p plant) put(tr *truth, inner bool, airS float64, on func(u float64) bool) {
	metal, ind := tr.outer, tr.indO
	if inner {
		metal, ind = tr.inner, tr.indI
	}
	x := ind[0]
	if !on(tr.t[0]) {
		x = p.ambient
	}
	for i := range ind {
		dt := p.dt
		if i > 0 {
			dt = tr.t[i] - tr.t[i-1]
		}
		if on(tr.t[i]) {
			x += (metal[i] - x) * (1 - math.Exp(-dt/max(p.probeS, 0.01)))
		} else {
			x += (p.ambient - x) * (1 - math.Exp(-dt/airS))
		}
		ind[i] = x
	}
}

// part is the share f of the way from stage k's begin to its end, s.
func (tr *truth) part(k int, f float64) float64 {
	return tr.stageU[k] + f*(tr.stageU[k+1]-tr.stageU[k])
}

// cut keeps the rows of a log for which keep is true.
func cut(log *series.Log, keep func(i int, u float64) bool) {
	k := 0
	for i, u := range log.TimeS {
		if !keep(i, u) {
			continue
		}
		log.TimeS[k] = u
		for c := range log.Channels {
			log.Channels[c].C[k] = log.Channels[c].C[i]
		}
		k++
	}
	log.TimeS = log.TimeS[:k]
	for c := range log.Channels {
		log.Channels[c].C = log.Channels[c].C[:k]
	}
}

// restart makes the first row's time 0.
func restart(log *series.Log) {
	for i, t0 := 0, log.TimeS[0]; i < len(log.TimeS); i++ {
		log.TimeS[i] -= t0
	}
}

// last is the index of the last row.
func (tr *truth) last() int { return len(tr.t) - 1 }
