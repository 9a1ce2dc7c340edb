package curve

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// CoolingTrace is the bore's cooling after switch-off, hanging free.
type CoolingTrace struct {
	TimeS, TempC []float64 // s, ascending, and °C; missing samples removed
	SwitchOffS   float64   // end of heating on the same clock, s
	// EqualisingS is the rings' equalising time, s. Samples within three of it after switch-off are left out:
	// there the bore still gives heat to the outer ring. 0: not known, or one body; all samples count.
	EqualisingS float64
	AmbientC    float64 // temperature of the surroundings, °C
	AmbientU    float64 // its standard uncertainty, K; 3 K is usual when the part's start temperature stands in for it
	StepK       float64 // display step, K; 0 when unknown
}

// Cooling is Newton's law T = Ta + (T1 - Ta) exp(-k t) fitted to a cooling part, with the surroundings known
// only within their uncertainty. It holds for the part hanging free: contact with the seat cools it faster.
// It never uses the rise's time constant. Real losses fall a little faster than in proportion as the part
// cools, so carrying the law on errs towards too cool.
type Cooling struct {
	Status Status
	Why    string

	FromS, ToS  float64 // first and last sample used, s
	N           int
	NEff        float64
	ResidualSDK float64
	Lag1        float64
	Widening    float64

	DecayPerS     Estimate // k, 1/s
	TimeConstantS Estimate // 1/k, s
	AmbientC      Estimate // surroundings, from the given ones and the readings together, °C

	origin  float64 // time zero of the law, s
	span    float64 // s
	noise   float64 // of one reading, K
	quant95 float64 // one-sided 95 % t quantile
	at      [coolingAngles]coolingPoint
}

// coolingPoint is the solution for one decay rate.
type coolingPoint struct {
	k             float64 // 1/span
	ta, b         float64 // surroundings, and excess at the origin
	vaa, vab, vbb float64 // their covariance, K^2
	excess        float64 // deviance above the minimum
}

const coolingAngles = 21

// Plain words of Cooling.Why.
const (
	coolingKnown    = "the cooling record tells how fast the part cools"
	coolingShort    = "the cooling record is too short to tell how fast the part cools"
	coolingNone     = "no cooling record of this part"
	coolingMixed    = "the part does not yet cool as one body"
	coolingWarming  = "the readings do not fall towards the surroundings"
	coolingFewWorth = "too few independent samples: the readings are few, or wander smoothly about the curve"
)

// Cooling estimates the cooling of a part. The result is never an error: a trace that tells nothing has the
// status NoRise or Undetermined, says why, and predicts nothing.
//
// Where the first samples after three equalising times still show two rings, it starts later.
func (e *Estimator) Cooling(in CoolingTrace) Cooling {
	if len(in.TempC) != len(in.TimeS) {
		panic("curve: as many times as temperatures are needed")
	}
	out := e.coolingFrom(in, 3)
	for _, later := range [...]float64{4.5, 6} {
		if out.Status != NotFirstOrder || !(in.EqualisingS > 0) {
			break
		}
		if next := e.coolingFrom(in, later); next.Status == Determined {
			out = next
		}
	}
	return out
}

// coolingFrom takes the samples from so many equalising times after switch-off on.
func (e *Estimator) coolingFrom(in CoolingTrace, times float64) Cooling {
	out := Cooling{Status: Undetermined, Widening: 1}
	first := 0
	for first < len(in.TimeS) && in.TimeS[first] < in.SwitchOffS+times*in.EqualisingS {
		first++
	}
	ts, ys := in.TimeS[first:], in.TempC[first:]
	if len(ts) == 0 {
		out.Status, out.Why = NoRise, coolingNone
		return out
	}
	out.FromS, out.ToS, out.N = ts[0], ts[len(ts)-1], len(ts)
	// the free curve gives the noise, its correlation, and whether one body cools here at all
	free := e.FirstOrder(ts, ys, Options{StepK: in.StepK})
	out.NEff, out.ResidualSDK, out.Lag1, out.Widening = free.NEff, free.ResidualSDK, free.Lag1, free.Widening
	switch {
	case free.Status == NoRise, !free.Classical.OK:
		out.Why = coolingShort
		return out
	case free.NEff < minNEff:
		out.Why = coolingFewWorth
		return out
	case free.Status == NotFirstOrder && free.MisfitP < misfitP:
		out.Status, out.Why = NotFirstOrder, coolingMixed
		return out
	}
	e.prepare(ts, ys, Options{})
	defer e.release()
	tr := &e.trace
	n := float64(len(ts))
	variance := free.Classical.ResidualSD * free.Classical.ResidualSD
	if in.StepK > 0 && free.Classical.ResidualSD < coarseShare*in.StepK {
		variance = math.Max(variance, in.StepK*in.StepK/12)
	}
	variance = math.Max(variance, 1e-14*tr.syy/n)
	out.noise = math.Sqrt(variance)
	unit := variance * free.Widening * free.Widening // variance of an independent sample's worth
	u := math.Max(in.AmbientU, 0.01)
	weight := unit / (u * u)
	ambient := in.AmbientC - tr.off

	at := func(k float64) (p coolingPoint, ss float64) {
		sp, spp, spy := e.sums(k)
		se := n - k*sp
		see := n - 2*k*sp + k*k*spp
		sey := -k * spy
		a11, a12, a22 := n+weight, se, see
		r1, r2 := weight*ambient, sey
		det := a11*a22 - a12*a12
		p.k = k
		p.ta = (a22*r1 - a12*r2) / det
		p.b = (a11*r2 - a12*r1) / det
		p.vaa, p.vab, p.vbb = unit*a22/det, -unit*a12/det, unit*a11/det
		ss = (tr.syy + weight*ambient*ambient - r1*p.ta - r2*p.b) / unit
		p.ta += tr.off
		return p, ss
	}
	// coarse search along log k, then golden section
	bestK, low := 0.0, math.Inf(1)
	const ratio = 1.3
	for k := 1e-3; k < 60; k *= ratio {
		if _, s := at(k); s < low {
			bestK, low = k, s
		}
	}
	a, b := bestK/ratio, bestK*ratio
	const golden = 0.6180339887498949
	for range 50 {
		x1, x2 := b-golden*(b-a), a+golden*(b-a)
		_, f1 := at(x1)
		_, f2 := at(x2)
		if f1 < f2 {
			b = x2
		} else {
			a = x1
		}
	}
	bestK = (a + b) / 2
	best, low := at(bestK)
	out.origin, out.span = tr.ref, tr.span
	if !(best.b > 0) || bestK < 2e-3 {
		out.Why = coolingWarming
		return out
	}
	nu := out.NEff - 3
	two := distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile(0.975)
	out.quant95 = distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile(0.95)
	// ends of the two-sided profile interval of k
	end := func(side float64) (float64, bool) {
		x, f := bestK, 0.0
		step := 1.02
		for range 400 {
			next := x * math.Pow(step, side)
			if next > 100 || next < 1e-4 {
				return 0, false
			}
			_, s := at(next)
			if s-low > two*two {
				// between x and next
				for range 40 {
					mid := math.Sqrt(x * next)
					if _, s := at(mid); s-low > two*two {
						next = mid
					} else {
						x = mid
					}
				}
				return next, true
			}
			x, f = next, s-low
			if f < 0.3*two*two {
				step = math.Min(1.3, 1+2*(step-1))
			}
		}
		return 0, false
	}
	lo, okLo := end(-1)
	hi, okHi := end(1)
	if !okLo || !okHi || hi > 2*lo {
		out.Why = coolingShort
		return out
	}
	for i := range out.at {
		s := math.Sin(math.Pi * (float64(i)/(coolingAngles-1) - 0.5))
		half, bend := (hi-lo)/2, (hi+lo)/2-bestK
		p, ss := at(bestK + s*(half+bend*s))
		p.excess = math.Max(0, ss-low)
		out.at[i] = p
	}
	sd := (hi - lo) / (2 * two) / tr.span
	k := bestK / tr.span
	out.Status, out.Why = Determined, coolingKnown
	out.DecayPerS = Estimate{Value: k, StdErr: sd, Known: true, CI: Interval{Low: lo / tr.span, High: hi / tr.span, HasLow: true, HasHigh: true}}
	out.TimeConstantS = Estimate{Value: 1 / k, StdErr: sd / (k * k), Known: true, CI: Interval{Low: tr.span / hi, High: tr.span / lo, HasLow: true, HasHigh: true}}
	surroundings := func(p *coolingPoint) (float64, float64) { return p.ta, p.vaa }
	out.AmbientC = Estimate{Value: best.ta, Known: true, CI: Interval{
		Low: out.bound(-1, two, surroundings), High: out.bound(1, two, surroundings), HasLow: true, HasHigh: true}}
	out.AmbientC.StdErr = (out.AmbientC.CI.High - out.AmbientC.CI.Low) / (2 * two)
	return out
}

// bound is the profile bound of a quantity that is linear in surroundings and excess for a given k.
func (c *Cooling) bound(side, t float64, quantity func(*coolingPoint) (value, variance float64)) float64 {
	best := math.Inf(-1)
	var f [coolingAngles]float64
	top := 0
	for i := range c.at {
		f[i] = math.Inf(-1)
		p := &c.at[i]
		if p.excess > t*t {
			continue
		}
		v, w := quantity(p)
		f[i] = side*v + math.Sqrt((t*t-p.excess)*w)
		if f[i] > best {
			best, top = f[i], i
		}
	}
	if top > 0 && top < coolingAngles-1 {
		l, m, h := f[top-1], f[top], f[top+1]
		if den := l - 2*m + h; den < 0 && !math.IsInf(den, 0) {
			best = m - (l-h)*(l-h)/(8*den)
		}
	}
	return side * best
}

// At gives the part's temperature at a time (s, on the trace's clock), °C, and its lower 95 % prediction
// bound: the bound of the curve and the noise of one reading together. ok is false when the cooling is not
// determined or the time lies before the first sample used.
func (c *Cooling) At(timeS float64) (value, lower float64, ok bool) {
	if c.Status != Determined || timeS < c.FromS {
		return 0, 0, false
	}
	x := (timeS - c.origin) / c.span
	temperature := func(p *coolingPoint) (float64, float64) {
		e := math.Exp(-p.k * x)
		return p.ta + p.b*e, p.vaa + 2*e*p.vab + e*e*p.vbb
	}
	value, _ = temperature(&c.at[coolingAngles/2])
	low := c.bound(-1, c.quant95, temperature)
	return value, value - math.Hypot(math.Max(0, value-low), c.quant95*c.noise), true
}

// Window is the time left for mounting.
type Window struct {
	Status  Status
	UntilS  float64 // the lower 95 % prediction bound reaches the needed temperature, s on the trace's clock
	CentreS float64 // the curve itself does, s
	Open    bool    // false: the bore is not proven warm enough even at the start of the window
	Why     string
}

// Window answers until when the bore is proven warm enough: until the lower prediction bound falls to the needed
// temperature needC, °C, counted from fromS, s. It looks one day ahead at most.
func (c *Cooling) Window(needC, fromS float64) Window {
	if c.Status != Determined {
		return Window{Status: Undetermined, Why: c.Why}
	}
	from := math.Max(fromS, c.FromS)
	w := Window{Status: Determined, Why: "hanging free; contact with the seat shortens it", UntilS: from, CentreS: from}
	at := func(t float64, lower bool) float64 {
		v, l, _ := c.At(t)
		if lower {
			return l
		}
		return v
	}
	cross := func(lower bool) float64 {
		if at(from, lower) < needC {
			return from
		}
		const day = 86400.0
		a, b := from, from+60
		for at(b, lower) >= needC {
			a, b = b, b+2*(b-from)
			if b-from > day {
				return from + day
			}
		}
		for range 50 {
			if m := (a + b) / 2; at(m, lower) >= needC {
				a = m
			} else {
				b = m
			}
		}
		return a
	}
	w.CentreS = cross(false)
	w.UntilS = cross(true)
	w.Open = at(from, true) >= needC
	if !w.Open {
		w.Why = "the bore is not proven warm enough"
	}
	return w
}
