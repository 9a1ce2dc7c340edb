package generate

import "math"

// Stage is one stretch of a log: a part under the probes, or the probes hanging in the air.
type Stage struct {
	LengthS    float64 // s
	Body       *Body   // nil: the probes hang in the air
	StartC     float64 // temperature of the whole part when the stage begins, °C
	Heating    Heating // PowerW 0: not heated
	CoolFactor float64 // losses are this many times larger once heating has ended; 0 means 1
}

// Session is everything that one log saw.
type Session struct {
	AirC         float64
	AirDriftKPer float64 // drift of the air, K/h
	Inner, Outer Probe
	Stages       []Stage
}

// StepS is the step of the integration, s. Every time constant is at least ten times longer.
const StepS = 0.1

// Trace is the noise-free truth at every step of the integration.
type Trace struct {
	Air                    []float64 // °C
	InnerMetal, OuterMetal []float64 // °C; where no part is under the probes, the air's
	InnerShown, OuterShown []float64 // °C: lag and offset in, noise and display step not yet
	PowerW                 []float64 // W, heater's lag in
	SetPointC              []float64 // °C; 0 where the heater is not controlled
	StageFirst             []int     // index of the first step of each stage
}

type state [5]float64 // Ti, To, power, inner probe, outer probe

// Integrate runs the session's equations and gives the noise-free trace.
func Integrate(s *Session) *Trace {
	tr := &Trace{}
	var y state
	y[0], y[1], y[3], y[4] = s.AirC, s.AirC, s.AirC, s.AirC
	atS := 0.0
	for i := range s.Stages {
		st := &s.Stages[i]
		tr.StageFirst = append(tr.StageFirst, len(tr.Air))
		air := func(local float64) float64 { return s.AirC + s.AirDriftKPer*(atS+local)/3600 }
		if st.Body != nil {
			y[0], y[1] = st.StartC, st.StartC
			if i == 0 { // the probes have been on the part for a while
				y[3], y[4] = st.StartC, st.StartC
			}
		}
		y[2] = 0
		h := &st.Heating
		h.begin(st.StartC)
		steps := int(math.Round(st.LengthS / StepS))
		for n := 0; n < steps; n++ {
			local := float64(n) * StepS
			if st.Body == nil {
				y[0], y[1] = air(local), air(local)
			}
			tr.record(s, st, &y, air(local))
			want := h.demand(local, y[3]+s.Inner.OffsetK, y[0])
			body := st.Body
			if body != nil && st.CoolFactor > 0 && local >= h.end() {
				cooled := *body
				cooled.Inner.LossWPerK *= st.CoolFactor
				cooled.Outer.LossWPerK *= st.CoolFactor
				body = &cooled
			}
			if h.LagS == 0 {
				y[2] = want
			}
			y = rungeKutta(y, func(v state) (d state) {
				if body != nil {
					d[0], d[1] = body.rates(v[0], v[1], air(local), v[2])
				}
				if h.LagS > 0 {
					d[2] = (want - v[2]) / h.LagS
				}
				d[3] = (v[0] - v[3]) / s.Inner.LagS
				if s.Outer.LagS > 0 {
					d[4] = (v[1] - v[4]) / s.Outer.LagS
				}
				return d
			})
		}
		atS += st.LengthS
	}
	return tr
}

func (tr *Trace) record(s *Session, st *Stage, y *state, air float64) {
	tr.Air = append(tr.Air, air)
	tr.InnerMetal = append(tr.InnerMetal, y[0])
	tr.OuterMetal = append(tr.OuterMetal, y[1])
	tr.InnerShown = append(tr.InnerShown, y[3]+s.Inner.OffsetK)
	tr.OuterShown = append(tr.OuterShown, y[4]+s.Outer.OffsetK)
	tr.PowerW = append(tr.PowerW, y[2])
	tr.SetPointC = append(tr.SetPointC, st.Heating.SetPointC)
}

// rungeKutta advances y by StepS with the classical fourth-order rule.
func rungeKutta(y state, f func(state) state) state {
	add := func(d state, w float64) state {
		v := y
		for i := range v {
			v[i] += w * d[i]
		}
		return v
	}
	k1 := f(y)
	k2 := f(add(k1, StepS/2))
	k3 := f(add(k2, StepS/2))
	k4 := f(add(k3, StepS))
	for i := range y {
		y[i] += StepS / 6 * (k1[i] + 2*k2[i] + 2*k3[i] + k4[i])
	}
	return y
}
