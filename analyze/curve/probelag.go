package curve

import "math"

// RampLag is by how much a first-order probe lags behind a ramp, K: a steady rateKPerS for elapsedS seconds seen
// through the probe's time constant lagS. It tends to rateKPerS*lagS.
func RampLag(rateKPerS, lagS, elapsedS float64) float64 {
	if lagS <= 0 {
		return 0
	}
	return -rateKPerS * lagS * math.Expm1(-elapsedS/lagS)
}

// LagTrace is one probe's trace around switch-off.
type LagTrace struct {
	TimeS, TempC []float64 // s, ascending, and °C; missing samples and spikes removed
	SwitchOffS   float64   // end of heating, s
	// SwitchOffU is its standard uncertainty, s. 0 means exactly known, from the heater's own record. A switch-off
	// read from the trace itself is late by about the lag: give its uncertainty as several samples.
	SwitchOffU float64
	// EqualisingS is the rings' equalising time, s; 0 for a part of one body.
	EqualisingS float64
	// GivenS is the probe's time constant when it is known, s, and GivenU its standard uncertainty. 0: it is looked for.
	GivenS, GivenU float64
	StepK          float64 // display step, K; 0 when unknown
}

// ProbeLag is a probe's time constant and what follows from it at switch-off. The body's temperature is taken as a
// ramp (with curvature) before, and a decay with the rings' equalising time on a straight line after; the probe follows
// it by its first-order lag.
type ProbeLag struct {
	Status Status
	Why    string

	N           int
	NEff        float64
	ResidualSDK float64
	Lag1        float64
	Widening    float64

	LagS       Estimate // the probe's time constant, s
	RateKPerS  Estimate // the body's rate at switch-off, K/s
	TruePeakC  Estimate // the body's temperature at switch-off, °C: the lagging ramp plus rate times lag
	RaisedK    float64  // of that, the part above the indicated ramp; never negative
	SwitchOffS float64  // switch-off as fitted, s
}

// Plain words of ProbeLag.Why.
const (
	lagSeen     = "the probe's lag shows at switch-off"
	lagGiven    = "the probe's time constant was given"
	lagFew      = "too few samples around switch-off"
	lagUnseen   = "the probe's lag does not show at switch-off"
	lagCoarse   = "the samples are too far apart to see the probe's lag"
	lagMixed    = "the probe's lag can't be told from the rings' equalising"
	lagFewWorth = "too few independent samples around switch-off"
)

const lagTerms = 6

// lagFit solves the linear part for one lag and switch-off.
type lagFit struct {
	in     *LagTrace
	lo, hi int // rows used
	width  float64
	cols   [lagTerms][]float64
	res    []float64
	coeff  [lagTerms]float64
	ri     [lagTerms][lagTerms]float64 // inverse of the triangular factor
	terms  int
}

// at gives the residual sum of squares. The terms are, in order: temperature at switch-off, rate before, curvature
// before, rate of the straight line after, and (for two rings) the decaying rate after.
func (f *lagFit) at(lag, off float64) (rss float64, ok bool) {
	in := f.in
	n := f.hi - f.lo
	for i := range n {
		s := in.TimeS[f.lo+i] - off
		c := [lagTerms]float64{0: 1}
		te := in.EqualisingS
		q := 0.0
		if te > 0 {
			q = lag / te
			if math.Abs(1-q) < 1e-6 {
				q = 1 - 1e-6
			}
		}
		if s < 0 {
			c[1] = s - lag
			c[2] = (s*s - 2*lag*s + 2*lag*lag) / f.width
			if te > 0 {
				c[5] = math.Exp(-s/te)/(1-q) - 1 + (s-lag)/te
			}
		} else {
			e := 0.0
			if lag > 0 {
				e = math.Exp(-s / lag)
			}
			c[1] = -lag * e
			c[2] = 2 * lag * lag * e / f.width
			c[3] = s - lag + lag*e
			if te > 0 {
				// response to te (1 - exp(-s/te)), and to the settling's end
				c[4] = te * (1 - e - (math.Exp(-s/te)-e)/(1-q))
				c[5] = q * q / (1 - q) * e
			}
		}
		for j := range f.terms {
			f.cols[j][i] = c[j]
		}
		f.res[i] = in.TempC[f.lo+i]
	}
	var r [lagTerms][lagTerms]float64
	var z [lagTerms]float64
	for j := range f.terms {
		q := f.cols[j]
		before := dot(q, q)
		for range 2 {
			for b := range j {
				s := dot(f.cols[b], q)
				axpy(-s, f.cols[b], q)
				r[b][j] += s
			}
		}
		norm := math.Sqrt(dot(q, q))
		if !(norm*norm > 1e-16*before) {
			return math.Inf(1), false
		}
		r[j][j] = norm
		for i := range q {
			q[i] /= norm
		}
		z[j] = dot(q, f.res)
		axpy(-z[j], q, f.res)
	}
	for c := range f.terms {
		f.ri[c][c] = 1 / r[c][c]
		for b := c - 1; b >= 0; b-- {
			s := 0.0
			for l := b + 1; l <= c; l++ {
				s += r[b][l] * f.ri[l][c]
			}
			f.ri[b][c] = -s / r[b][b]
		}
	}
	for a := range f.terms {
		f.coeff[a] = 0
		for l := a; l < f.terms; l++ {
			f.coeff[a] += f.ri[a][l] * z[l]
		}
	}
	return dot(f.res, f.res), true
}

// variance of a linear parameter for unit variance of a sample.
func (f *lagFit) variance(a int) (v float64) {
	for l := a; l < f.terms; l++ {
		v += f.ri[a][l] * f.ri[a][l]
	}
	return v
}

// EstimateProbeLag finds the probe's time constant from the rounding of the corner at switch-off, or takes the given
// one, and the body's temperature at switch-off with it. The lag is taken from the data only when the samples are closer
// than half of it, it is shorter than a fifth of the rings' equalising time, and it clearly differs from none. The
// result is never an error.
func EstimateProbeLag(in LagTrace) ProbeLag {
	out := ProbeLag{Status: Undetermined, Widening: 1}
	if len(in.TempC) != len(in.TimeS) {
		panic("curve: as many times as temperatures are needed")
	}
	n := len(in.TimeS)
	if n < 20 || !ascending(in.TimeS) || !allFinite(in.TempC) {
		out.Why = lagFew
		return out
	}
	step := (in.TimeS[n-1] - in.TimeS[0]) / float64(n-1)
	// before switch-off a parabola serves for half of the stretch that the decay serves for after it
	width := math.Max(math.Max(40*step, 8*in.GivenS), 1.5*in.EqualisingS)
	after := math.Max(width, 2*in.EqualisingS)
	if in.EqualisingS == 0 {
		width = math.Max(width, 60)
		after = width
	}
	f := lagFit{in: &in, width: width, terms: lagTerms - 2}
	if in.EqualisingS > 0 {
		f.terms = lagTerms
	}
	for f.lo < n && in.TimeS[f.lo] < in.SwitchOffS-width {
		f.lo++
	}
	f.hi = f.lo
	before := 0
	for f.hi < n && in.TimeS[f.hi] <= in.SwitchOffS+after {
		if in.TimeS[f.hi] < in.SwitchOffS {
			before++
		}
		f.hi++
	}
	m := f.hi - f.lo
	out.N = m
	if before < 8 || m-before < 8 {
		out.Why = lagFew
		return out
	}
	for j := range f.cols {
		f.cols[j] = make([]float64, m)
	}
	f.res = make([]float64, m)

	// the noise's scale for the prior on the switch-off comes from the best fit with the switch-off free
	maxLag := 0.4 * width
	if in.EqualisingS > 0 {
		maxLag = math.Min(maxLag, 0.5*in.EqualisingS)
	}
	reach := 4 * in.SwitchOffU
	unit := 0.0 // variance of an independent sample's worth, 0 until known
	// least is the smallest deviance over the switch-off for a lag
	anchored, anchorLag, anchorOff := false, 0.0, 0.0
	least := func(lag float64) (dev, off float64) {
		g := func(off float64) float64 {
			rss, ok := f.at(lag, off)
			if !ok {
				return math.Inf(1)
			}
			if unit > 0 {
				rss /= unit
				if reach > 0 {
					z := (off - in.SwitchOffS) / in.SwitchOffU
					rss += z * z
				}
			}
			return rss
		}
		if reach == 0 {
			return g(in.SwitchOffS), in.SwitchOffS
		}
		// The corner of the readings' asymptotes lies at switch-off plus lag, so a longer lag wants an
		// earlier switch-off: around the first solution a short search suffices.
		from, to := in.SwitchOffS-reach, in.SwitchOffS+reach
		steps := 24
		if anchored {
			centre := anchorOff - (lag - anchorLag)
			aside := 2*step + 0.6*math.Abs(lag-anchorLag)
			if a, b := math.Max(from, centre-aside), math.Min(to, centre+aside); a < b {
				from, to, steps = a, b, 16
			}
		}
		const golden = 0.6180339887498949
		x1, x2 := to-golden*(to-from), from+golden*(to-from)
		f1, f2 := g(x1), g(x2)
		for range steps {
			if f1 < f2 {
				to, x2, f2 = x2, x1, f1
				x1 = to - golden*(to-from)
				f1 = g(x1)
			} else {
				from, x1, f1 = x1, x2, f2
				x2 = from + golden*(to-from)
				f2 = g(x2)
			}
		}
		dev, off = f1, x1
		if f2 < f1 {
			dev, off = f2, x2
		}
		return dev, off
	}
	best := func() (lag, dev, off float64) {
		if in.GivenS > 0 {
			dev, off = least(in.GivenS)
			return in.GivenS, dev, off
		}
		dev, off = least(0)
		for l := 0.3 * step; l < maxLag; l *= 1.3 {
			if v, o := least(l); v < dev {
				lag, dev, off = l, v, o
			}
		}
		if lag > 0 {
			const golden = 0.6180339887498949
			a, b := lag/1.3, lag*1.3
			x1, x2 := b-golden*(b-a), a+golden*(b-a)
			f1, _ := least(x1)
			f2, _ := least(x2)
			for range 14 {
				if f1 < f2 {
					b, x2, f2 = x2, x1, f1
					x1 = b - golden*(b-a)
					f1, _ = least(x1)
				} else {
					a, x1, f1 = x1, x2, f2
					x2 = a + golden*(b-a)
					f2, _ = least(x2)
				}
			}
			lag = (a + b) / 2
			dev, off = least(lag)
		}
		return
	}
	lag, rss, off := best()
	params := float64(f.terms)
	if in.GivenS == 0 {
		params++
	}
	if in.SwitchOffU > 0 {
		params++
	}
	nn := float64(m)
	f.at(lag, off)
	variance := rss / (nn - params)
	out.ResidualSDK = math.Sqrt(variance)
	var c correlation
	if rss > 1e-20*nn*f.coeff[0]*f.coeff[0] {
		out.Lag1 = lag1(f.res)
		c = correlationOf(out.Lag1, lag2(f.res), nn, params, in.StepK*in.StepK/12*nn/rss)
	}
	f2 := c.factor()
	if out.ResidualSDK < coarseShare*in.StepK {
		f2 = math.Max(correlation{c.lag1, c.lag1}.factor(), coarseFactor)
		variance = math.Max(variance, in.StepK*in.StepK/12)
	}
	variance = math.Max(variance, 1e-18*f.coeff[0]*f.coeff[0])
	out.Widening, out.NEff = math.Sqrt(f2), nn/f2
	if out.NEff < minNEff+params {
		out.Why = lagFewWorth
		return out
	}
	unit = variance * f2
	t := studentQuantile975(out.NEff - params)
	anchored, anchorLag, anchorOff = true, lag, off
	lag, dev, off := best() // now with the switch-off held by its own uncertainty
	out.SwitchOffS = off
	sd := 0.0
	if in.GivenS > 0 {
		sd = in.GivenU
		out.LagS = Estimate{Value: lag, StdErr: sd, Known: true, CI: Interval{
			Low: math.Max(0, lag-2*sd), High: lag + 2*sd, HasLow: true, HasHigh: true}}
		out.Why = lagGiven
	} else {
		none, _ := least(0)
		if !(lag > 0) || !(none-dev > gateRoot*gateRoot) {
			out.Why = lagUnseen
			return out
		}
		end := func(from, to float64) (float64, bool) {
			if v, _ := least(to); v-dev < t*t {
				return to, false
			}
			for range 16 {
				mid := (from + to) / 2
				if v, _ := least(mid); v-dev < t*t {
					from = mid
				} else {
					to = mid
				}
			}
			return to, true
		}
		low, okLow := end(lag, 0)
		high, okHigh := end(lag, math.Min(maxLag, 4*lag))
		switch {
		case !okLow:
			out.Why = lagUnseen
			return out
		case !okHigh || in.EqualisingS > 0 && lag > in.EqualisingS/5:
			out.Why = lagMixed
			return out
		case step > lag/2:
			out.Why = lagCoarse
			return out
		}
		sd = (high - low) / (2 * t)
		out.LagS = Estimate{Value: lag, StdErr: sd, Known: true, CI: Interval{Low: low, High: high, HasLow: true, HasHigh: true}}
		out.Why = lagSeen
	}
	out.Status = Determined
	// temperature and rate at switch-off: the linear error, and what the lag's and the switch-off's errors move them
	value := func(lag, off float64) (peak, rate float64) {
		f.at(lag, off)
		return f.coeff[0], f.coeff[1]
	}
	move := func(lag float64) (peak, rate, off float64) {
		_, off = least(lag)
		peak, rate = value(lag, off)
		return
	}
	p1, r1, _ := move(lag + sd)
	p0, r0, _ := move(math.Max(0, lag-sd))
	dp, dr := (p1-p0)/2, (r1-r0)/2
	if in.SwitchOffU > 0 {
		// at a fixed lag: how sharply the readings and the prior hold the switch-off
		h := 0.05 * in.SwitchOffU
		g := func(o float64) float64 {
			rss, _ := f.at(lag, o)
			z := (o - in.SwitchOffS) / in.SwitchOffU
			return rss/unit + z*z
		}
		curve := (g(off+h) - 2*g(off) + g(off-h)) / (h * h) / 2
		u := in.SwitchOffU
		if curve > 0 {
			u = math.Min(u, 1/math.Sqrt(curve))
		}
		pa, ra := value(lag, off+h)
		pb, rb := value(lag, off-h)
		dp = math.Hypot(dp, (pa-pb)/(2*h)*u)
		dr = math.Hypot(dr, (ra-rb)/(2*h)*u)
	}
	peak, rate := value(lag, off)
	around := func(v, se float64) Estimate {
		return Estimate{Value: v, StdErr: se, Known: true, CI: Interval{Low: v - t*se, High: v + t*se, HasLow: true, HasHigh: true}}
	}
	out.TruePeakC = around(peak, math.Hypot(math.Sqrt(unit*f.variance(0)), dp))
	out.RateKPerS = around(rate, math.Hypot(math.Sqrt(unit*f.variance(1)), dr))
	out.RaisedK = math.Max(0, rate*lag)
	return out
}
