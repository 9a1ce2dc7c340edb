package curve

import "math"

// RingTraces are the two rings' readings that TwoRings works on: the heating from onset to switch-off at
// constant power, and, when there is one, the cooling after it. Both probes were read at the same times (s,
// ascending); missing samples are removed in pairs.
type RingTraces struct {
	TimeS, InnerC, OuterC                []float64
	AfterTimeS, AfterInnerC, AfterOuterC []float64
	AmbientC                             float64 // temperature of the surroundings, °C
	StepK                                float64 // display step, K; 0 when unknown
}

// TwoRings is what the temperatures tell of two coupled rings,
//
//	dTi/dt = Pi/Ci - G/Ci (Ti - To) - hi/Ci (Ti - Ta)
//	dTo/dt = Po/Co + G/Co (Ti - To) - ho/Co (To - Ta)
//
// Only these six quotients can be found from temperatures; the share of the heat that each ring takes
// needs the masses. The solution is a sum of two exponentials in both rings, with shared decay rates.
type TwoRings struct {
	Status Status
	Why    string

	N           int // samples of both rings
	NEff        float64
	ResidualSDK float64
	Lag1        float64
	Widening    float64

	EqualisingS       Estimate // Ci Co/(G (Ci + Co)): time constant with which the rings equalise, s
	CouplingInnerPerS Estimate // G/Ci, 1/s
	CouplingOuterPerS Estimate // G/Co, 1/s
	LossInnerPerS     Estimate // hi/Ci, 1/s
	LossOuterPerS     Estimate // ho/Co, 1/s
	HeatInnerKPerS    Estimate // Pi/Ci, K/s
	HeatOuterKPerS    Estimate // Po/Co, K/s
	// DifferencePerRateS is the difference inner - outer to which a ramp tends, over the common rate of the
	// rings, K per K/s. Positive: the inner ring is hotter.
	DifferencePerRateS Estimate

	theta ringTheta
	cov   [ringParams][ringParams]float64 // widened
	quant float64                         // t quantile of the intervals
}

const ringParams = 8

// ringTheta are the fitted parameters: two rates (1/s), then offset and two amplitudes (K, K/s) of the
// inner and of the outer ring. T(t) = a0 + a1 phi(k1, t) + a2 phi(k2, t).
type ringTheta [ringParams]float64

// ringBody is the physical reading of a ringTheta.
type ringBody struct{ gi, go_, hi, ho, pi, po float64 }

// body turns the exponentials into couplings and losses: with the amplitudes of each mode as columns of V,
// the matrix of the differential equation is -V diag(k1, k2) V^-1.
func (p *ringTheta) body(ambient float64) (b ringBody, ok bool) {
	k1, k2 := p[0], p[1]
	ui, uo, vi, vo := p[3], p[6], p[4], p[7]
	det := ui*vo - vi*uo
	if det == 0 {
		return b, false
	}
	a11 := -(k1*ui*vo - k2*vi*uo) / det
	a12 := -(k2 - k1) * ui * vi / det
	a21 := -(k1 - k2) * uo * vo / det
	a22 := -(k2*ui*vo - k1*uo*vi) / det
	b.gi, b.go_ = a12, a21
	b.hi, b.ho = -a11-a12, -a22-a21
	xi, xo := p[2]-ambient, p[5]-ambient
	b.pi = ui + vi - a11*xi - a12*xo
	b.po = uo + vo - a21*xi - a22*xo
	return b, true
}

// after gives the difference inner - outer a time t after switch-off with the rings at xi and xo above
// ambient, and the two rings' excess themselves.
func (p *ringTheta) after(xi, xo, t float64) (d, inner, outer float64) {
	k1, k2 := p[0], p[1]
	ui, uo, vi, vo := p[3], p[6], p[4], p[7]
	det := ui*vo - vi*uo
	a := (xi*vo - vi*xo) / det * math.Exp(-k1*t)
	b := (ui*xo - xi*uo) / det * math.Exp(-k2*t)
	inner, outer = a*ui+b*vi, a*uo+b*vo
	return inner - outer, inner, outer
}

// Plain words of TwoRings.Why.
const (
	ringsSeen      = "the rings' equalising shows clearly"
	ringsShort     = "the heating is too short to see the difference settle"
	ringsFew       = "too few samples of both rings"
	ringsUnseen    = "the rings' equalising does not show in the temperatures"
	ringsCoarse    = "the samples are too far apart to see the rings equalise"
	ringsImposible = "the temperatures do not behave like two rings that exchange heat"
	ringsFewWorth  = "too few independent samples: the readings are few, or wander smoothly about the curves"
)

// RingsEstimator estimates two coupled rings. The zero value is ready; it keeps its buffers between calls.
type RingsEstimator struct {
	x       exponentials
	coarse  exponentials
	buffers [6][]float64
}

// TwoRings fits both rings together. The result is never an error; a trace that tells nothing has the
// status Undetermined and says why. Estimates are Known, and wait and difference answers given, only
// when the status is Determined.
func (e *RingsEstimator) TwoRings(in RingTraces) TwoRings {
	out := TwoRings{Status: Undetermined, Widening: 1}
	n, m := len(in.TimeS), len(in.AfterTimeS)
	if len(in.InnerC) != n || len(in.OuterC) != n || len(in.AfterInnerC) != m || len(in.AfterOuterC) != m {
		panic("curve: as many times as temperatures of both rings are needed")
	}
	out.N = 2 * (n + m)
	if n < 12 || !ascending(in.TimeS) || !ascending(in.AfterTimeS) || !allFinite(in.InnerC, in.OuterC, in.AfterInnerC, in.AfterOuterC) {
		out.Why = ringsFew
		return out
	}
	if m < 12 {
		m = 0
		out.N = 2 * n
	}
	span := in.TimeS[n-1] - in.TimeS[0]
	step := span / float64(n-1)
	set := func(x *exponentials, t, yi, yo, at, ai, ao []float64) {
		s := [maxSeries]series{{t, yi, in.TimeS[0], true}, {t, yo, in.TimeS[0], true}}
		if len(at) == 0 {
			x.set(2, s[:2]...)
			return
		}
		s[2] = series{at, ai, in.AfterTimeS[0], true}
		s[3] = series{at, ao, in.AfterTimeS[0], true}
		x.set(2, s[:]...)
	}
	// the best of a grid of rates on thinned traces, then the full solution from there
	set(&e.coarse, e.thin(0, in.TimeS), e.thin(1, in.InnerC), e.thin(2, in.OuterC),
		e.thin(3, in.AfterTimeS[:m]), e.thin(4, in.AfterInnerC[:m]), e.thin(5, in.AfterOuterC[:m]))
	best, start := math.Inf(1), [2]float64{}
	for _, slow := range [...]float64{0, 0.6, 1.8} {
		for fast := 2.5; fast*step < 1*span; fast *= 1.7 {
			if fast < 2*slow {
				continue
			}
			k := [maxRates]float64{slow / span * e.coarse.scale, fast / span * e.coarse.scale}
			if rss, ok := e.coarse.at(&k); ok && rss < best {
				best, start = rss, [2]float64{slow / span, fast / span}
			}
		}
	}
	if math.IsInf(best, 1) {
		out.Why = ringsUnseen
		return out
	}
	set(&e.x, in.TimeS, in.InnerC, in.OuterC, in.AfterTimeS[:m], in.AfterInnerC[:m], in.AfterOuterC[:m])
	if !e.x.solve(start[:]) {
		out.Why = ringsUnseen
		return out
	}
	e.read(&out, in, step)
	return out
}

// thin averages neighbours so that at most 150 points remain.
func (e *RingsEstimator) thin(buffer int, v []float64) []float64 {
	size := (len(v) + 149) / 150
	if size <= 1 {
		return v
	}
	n := len(v) / size
	b := grown(e.buffers[buffer], n)
	e.buffers[buffer] = b
	for i := range b {
		s := 0.0
		for _, x := range v[i*size : (i+1)*size] {
			s += x
		}
		b[i] = s / float64(size)
	}
	return b
}

func ascending(t []float64) bool {
	for i := 1; i < len(t); i++ {
		if !(t[i] >= t[i-1]) {
			return false
		}
	}
	return len(t) == 0 || (t[len(t)-1] > t[0] && !math.IsInf(t[len(t)-1], 0))
}

func allFinite(columns ...[]float64) bool {
	for _, c := range columns {
		for _, v := range c {
			if !(math.Abs(v) < 1e100) {
				return false
			}
		}
	}
	return true
}

// read turns the solution into the result.
func (e *RingsEstimator) read(out *TwoRings, in RingTraces, step float64) {
	x := &e.x
	var theta [maxParams]float64
	var cov [maxParams][maxParams]float64
	x.covariance(&theta, &cov)
	n := float64(x.n)
	variance := x.rss / (n - float64(x.params))
	out.ResidualSDK = math.Sqrt(variance)
	lag, lag2 := 0.0, 0.0
	for i := range x.series {
		r := x.parts[i].res
		lag += dot(r[1:], r[:len(r)-1])
		lag2 += dot(r[2:], r[:len(r)-2])
	}
	floor := 1e-20 * n * theta[2] * theta[2]
	var c correlation
	if x.rss > floor {
		out.Lag1 = lag / x.rss
		c = correlationOf(out.Lag1, lag2/x.rss, n, float64(x.params), in.StepK*in.StepK/12*n/x.rss)
	}
	f2 := c.factor()
	if out.ResidualSDK < coarseShare*in.StepK {
		f2 = math.Max(correlation{c.lag1, c.lag1}.factor(), coarseFactor)
		variance = math.Max(variance, in.StepK*in.StepK/12)
	}
	out.Widening, out.NEff = math.Sqrt(f2), n/f2
	if out.NEff < minNEff+float64(x.params) {
		out.Why = ringsFewWorth
		return
	}
	out.quant = studentQuantile975(out.NEff - float64(x.params))
	copy(out.theta[:], theta[:ringParams])
	if out.theta[1] < out.theta[0] { // the fast mode second
		order := [ringParams]int{1, 0, 2, 4, 3, 5, 7, 6}
		for i, o := range order {
			out.theta[i] = theta[o]
			for j, p := range order {
				out.cov[i][j] = cov[o][p] * variance * f2
			}
		}
	} else {
		for i := range ringParams {
			for j := range ringParams {
				out.cov[i][j] = cov[i][j] * variance * f2
			}
		}
	}
	b, ok := out.theta.body(in.AmbientC)
	if !ok {
		out.Why = ringsUnseen
		return
	}
	rate := out.estimate(func(p *ringTheta) float64 { b, _ := p.body(in.AmbientC); return b.gi + b.go_ })
	fast := out.estimate(func(p *ringTheta) float64 { return p[4] - p[7] })
	switch {
	case !(math.Abs(fast.Value) > gateRoot*fast.StdErr):
		out.Why = ringsUnseen
		return
	case !(rate.Value > gateRoot*rate.StdErr) || !(out.theta[1] > 2*math.Max(0, out.theta[0])):
		out.Why = ringsShort
		return
	case rate.CI.High*step > 0.7:
		out.Why = ringsCoarse
		return
	case b.gi < 0 || b.go_ < 0:
		out.Why = ringsImposible
		return
	}
	out.Status, out.Why = Determined, ringsSeen
	out.EqualisingS = Estimate{
		Value: 1 / rate.Value, StdErr: rate.StdErr / (rate.Value * rate.Value), Known: true,
		CI: Interval{Low: 1 / rate.CI.High, High: 1 / rate.CI.Low, HasLow: true, HasHigh: true},
	}
	of := func(f func(ringBody) float64) Estimate {
		return out.estimate(func(p *ringTheta) float64 { b, _ := p.body(in.AmbientC); return f(b) })
	}
	out.CouplingInnerPerS = of(func(b ringBody) float64 { return b.gi })
	out.CouplingOuterPerS = of(func(b ringBody) float64 { return b.go_ })
	out.LossInnerPerS = of(func(b ringBody) float64 { return b.hi })
	out.LossOuterPerS = of(func(b ringBody) float64 { return b.ho })
	out.HeatInnerKPerS = of(func(b ringBody) float64 { return b.pi })
	out.HeatOuterKPerS = of(func(b ringBody) float64 { return b.po })
	out.DifferencePerRateS = of(func(b ringBody) float64 { return (b.pi - b.po) / (b.pi*b.go_ + b.po*b.gi) })
}

// estimate gives a function of the parameters with its error by the delta method.
func (r *TwoRings) estimate(f func(*ringTheta) float64) Estimate {
	var g [ringParams]float64
	for j := range g {
		h := 0.02 * math.Sqrt(r.cov[j][j])
		if h == 0 {
			h = 1e-9 * (1e-12 + math.Abs(r.theta[j]))
		}
		up, down := r.theta, r.theta
		up[j] += h
		down[j] -= h
		g[j] = (f(&up) - f(&down)) / (2 * h)
	}
	v := 0.0
	for i := range g {
		for j := range g {
			v += g[i] * r.cov[i][j] * g[j]
		}
	}
	e := Estimate{Value: f(&r.theta), StdErr: math.Sqrt(math.Max(0, v)), Known: true}
	e.CI = Interval{Low: e.Value - r.quant*e.StdErr, High: e.Value + r.quant*e.StdErr, HasLow: true, HasHigh: true}
	return e
}

// DifferenceAt is the difference inner - outer, K, to which a ramp with the common rate rateKPerS tends, with
// the heat shared between the rings as it was here.
func (r *TwoRings) DifferenceAt(rateKPerS float64) Estimate {
	e := r.DifferencePerRateS
	e.Value *= rateKPerS
	e.StdErr *= math.Abs(rateKPerS)
	e.CI.Low *= rateKPerS
	e.CI.High *= rateKPerS
	if rateKPerS < 0 {
		e.CI.Low, e.CI.High = e.CI.High, e.CI.Low
	}
	return e
}

// Wait answers how long after switch-off the rings must stand until they are within some kelvin.
type Wait struct {
	Status  Status   // Determined; else Why says what is missing
	Reached bool     // false with Determined: it will not be reached while the part is warm
	AfterS  Estimate // s after switch-off; the interval's High is the time that is enough in 97.5 % of cases
	RestK   float64  // difference, K in size, that losses keep up when Reached is false
	Why     string
}

// Wait gives the seconds after switch-off until |inner - outer| stays within withinK, for rings that are at
// innerC and outerC at switch-off in surroundings of ambientC. It looks ten equalising times ahead: what is
// left then is kept up by unequal losses, and 'will not be reached'.
func (r *TwoRings) Wait(innerC, outerC, ambientC, withinK float64) Wait {
	if r.Status != Determined {
		return Wait{Status: Undetermined, Why: r.Why}
	}
	xi, xo := innerC-ambientC, outerC-ambientC
	horizon := 10 * r.EqualisingS.Value
	// size gives |difference| and its error bounds
	size := func(t float64) (v, low, high float64) {
		d := r.estimate(func(p *ringTheta) float64 { d, _, _ := p.after(xi, xo, t); return d })
		v = math.Abs(d.Value)
		return v, v - r.quant*d.StdErr, v + r.quant*d.StdErr
	}
	const steps = 100
	// last time at which each still lies above; -1 when it never does
	var last [3]float64
	pick := func(t float64, which int) float64 {
		v, low, high := size(t)
		return [3]float64{low, v, high}[which]
	}
	for which := range last {
		last[which] = -1
		for i := steps; i >= 0; i-- {
			t := horizon * float64(i) / steps
			if pick(t, which) <= withinK {
				continue
			}
			if i == steps {
				last[which] = math.Inf(1)
				break
			}
			a, b := t, horizon*float64(i+1)/steps
			for range 30 {
				if mid := (a + b) / 2; pick(mid, which) > withinK {
					a = mid
				} else {
					b = mid
				}
			}
			last[which] = b
			break
		}
	}
	rest, _, _ := size(horizon)
	w := Wait{Status: Determined, RestK: rest}
	switch {
	case math.IsInf(last[0], 1):
		w.Why = "unequal losses keep the rings further apart"
	case math.IsInf(last[2], 1):
		w.Status, w.Why = Undetermined, "the losses are not known well enough to tell whether it will be reached"
	default:
		w.Reached = true
		w.Why = "reached by equalising"
		w.AfterS = Estimate{Value: math.Max(0, last[1]), Known: true, CI: Interval{
			Low: math.Max(0, last[0]), High: math.Max(0, last[2]), HasLow: true, HasHigh: true}}
		w.AfterS.StdErr = (w.AfterS.CI.High - w.AfterS.CI.Low) / (2 * r.quant)
	}
	return w
}
