package curve

import "math"

// Plain words of the statuses. They are constants: the batch path builds no strings.
const (
	whyBends     = "the rise bends enough to tell its time constant"
	whyStraight  = "the rise is too short or too straight to tell its time constant"
	whySpeedsUp  = "the rise speeds up, which no body with constant power and losses does"
	whyFewWorth  = "too few independent samples: the readings are few, or wander smoothly about the curve"
	whyTooFast   = "the rise is over within the first few samples"
	whyExplodes  = "the readings follow no heating curve"
	whyNoRise    = "no rise stands out of the noise"
	whySingular  = "the samples do not determine a curve"
	gateRoot     = 3.0
	normal975    = 1.959963984540054
	riseEvidence = 16.0 // F-like ratio that a curve must reach over a constant
)

// Readings whose noise is below 0.3 display steps (residuals below sqrt(0.3^2 + 1/12) steps) carry
// rounding errors that are no noise: they follow the curve in a pattern of its own that averages out
// slower than independent errors, or on some slopes hardly at all. The cautious answer: the residual
// variance is at least that of rounding, step^2/12, and an independent sample costs at least
// coarseFactor samples. Against simulation the intervals then cover 95 % or more; more is accepted here.
const (
	coarseShare  = 0.416
	coarseFactor = 3.0
)

// roundingShare of the sum of squares is what rounding in the arithmetic can leave of it: smaller
// residuals carry no information, and no correlation.
const roundingShare = 1e-20

// FirstOrder estimates the first-order curve of one rise. timeS (s) ascends and need not be evenly
// spaced; tempC (°C) has the same length and no missing samples. Both are only read.
//
// The result is never an error: a trace that tells nothing has the status NoRise and says why.
// Intervals are two-sided 95 % profile intervals, widened for the autocorrelation of the residuals;
// they do not depend on the status.
func (e *Estimator) FirstOrder(timeS, tempC []float64, o Options) FirstOrder {
	out := FirstOrder{Status: NoRise, N: len(tempC), MisfitP: 1, Widening: 1}
	if why := e.prepare(timeS, tempC, o); why != "" {
		out.Why = why
		return out
	}
	defer e.release()
	tr := &e.trace
	out.T0S, out.EndS = tr.ref, timeS[len(timeS)-1]
	if tr.syy == 0 {
		out.Why = whyNoRise
		return out
	}
	if ok, edge := e.solve(); !ok {
		out.Status, out.Why = Undetermined, whySingular
		if edge {
			out.Why = whyExplodes
			if e.at(farGrid[len(farGrid)-1]).rss < e.at(searchGrid[0]).rss {
				out.Why = whyTooFast
			}
		}
		return out
	}
	r := &e.resid
	n := float64(len(tempC))
	e.classical(&out.Classical)

	sd := math.Sqrt(r.sdSq)
	out.ResidualSDK = sd
	var c correlation
	if r.rss > roundingShare*tr.syy {
		out.Lag1 = r.lag / r.rss
		c = correlationOf(out.Lag1, r.lag2/r.rss, n, 3, o.StepK*o.StepK/12*n/r.rss)
		if sd < coarseShare*o.StepK {
			c.rho = c.lag1 // the rounding is the correlation itself
		}
	}
	f2 := c.factor()
	if !tr.uniform {
		f2 = e.unevenFactor(c)
	}
	if q := o.StepK; sd < coarseShare*q {
		// the rounding errors are no noise but follow the curve, see coarseFactor
		f2 = math.Max(f2, coarseFactor)
		r.sdSq = math.Max(r.sdSq, q*q/12)
	}
	out.Widening = math.Sqrt(f2)
	out.NEff = n / f2

	rise := r.rate * e.shape(r.k)
	e.misfit(&out, rise, o.StepK)

	e.fill(&out, f2, n)
	return out
}

// release lets go of the caller's samples.
func (e *Estimator) release() { e.trace.t, e.trace.y = nil, nil }

// shape is phi at the last sample less phi at the first, in spans.
func (e *Estimator) shape(k float64) float64 {
	a, _ := basis(k, e.trace.x0)
	b, _ := basis(k, e.trace.x0+1)
	return b - a
}

// classical fills the plain least-squares solution.
func (e *Estimator) classical(c *Classical) {
	tr, r := &e.trace, &e.resid
	s2 := r.sdSq
	v := &r.classical
	c.OK = true
	c.RSS, c.ResidualSD = r.rssAtSolution, math.Sqrt(s2)
	c.StartC, c.StartSE = tr.off+r.start, math.Sqrt(s2*math.Max(0, v.start))
	c.RateKPerS, c.RateSE = r.rate/tr.span, math.Sqrt(s2*v.rate)/tr.span
	c.DecayPerS, c.DecaySE = r.k/tr.span, math.Sqrt(s2*v.k)/tr.span
	if r.k > 0 {
		c.TimeConstantS = tr.span / r.k
		c.TimeConstantSE = math.Sqrt(s2*v.k) / (r.k * r.k) * tr.span
		c.FinalC = c.StartC + r.rate/r.k
		c.FinalSE = math.Sqrt(s2 * e.finalVariance())
	}
}

// finalVariance is that of start + rate/k for unit residual variance, by the delta method.
func (e *Estimator) finalVariance() float64 {
	r := &e.resid
	v := &r.classical
	gr, gk := 1/r.k, -r.rate/(r.k*r.k)
	return math.Max(0, v.start+gr*gr*v.rate+gk*gk*v.k+2*(gr*v.startRate+gk*v.startK+gr*gk*v.rateK))
}

// fill computes the widened errors, the profile intervals and the status.
func (e *Estimator) fill(out *FirstOrder, f2, n float64) {
	tr, r := &e.trace, &e.resid
	c := &out.Classical
	f := math.Sqrt(f2)
	if c.ResidualSD > 0 { // a coarse display raises the variance as well
		f *= math.Sqrt(r.sdSq) / c.ResidualSD
	}
	out.StartC = Estimate{Value: c.StartC, StdErr: f * c.StartSE, Known: true}
	out.RateKPerS = Estimate{Value: c.RateKPerS, StdErr: f * c.RateSE, Known: true}
	out.DecayPerS = Estimate{Value: c.DecayPerS, StdErr: f * c.DecaySE, Known: true}

	// the smallest sum of squares that rounding leaves meaningful
	p := profile{k: r.k, rss: e.at(r.k).rss, numerics: 1e-14 * tr.syy}
	variance := math.Max(r.sdSq, p.numerics/(n-float64(tr.params)))
	root := e.at(0).rss - p.rss
	if root <= 0 {
		root = 0
	}
	root = math.Sqrt(root / (variance * f2))
	if r.k < 0 {
		root = -root
	}
	evidence := (tr.syy - p.rss) / (variance * f2)
	if tr.fixed {
		evidence = math.Inf(1)
	}

	if out.NEff < minNEff {
		out.Status = Undetermined
		if out.Why != "" { // misfit found
			out.Status = NotFirstOrder
		} else {
			out.Why = whyFewWorth
		}
		return
	}
	t := studentQuantile975(out.NEff - 3)
	p.slack = t * t * f2 * variance
	p.sdK = t * math.Sqrt(f2*variance*r.classical.k)
	p.lo, p.hasLo = p.end(e, -1)
	p.hi, p.hasHi = p.end(e, +1)
	e.intervals(out, &p)

	switch {
	case evidence < riseEvidence:
		out.Status, out.Why = NoRise, whyNoRise
		out.StartC.Known, out.RateKPerS.Known, out.DecayPerS.Known = false, false, false
	case p.hasHi && p.hi <= 0:
		out.Status, out.Why = NotFirstOrder, whySpeedsUp
	case out.Why != "": // misfit found
		out.Status = NotFirstOrder
	case !p.hasHi:
		out.Status, out.Why = Undetermined, whyTooFast
	case root >= gateRoot*t/normal975 && p.hasLo && p.lo > 0:
		out.Status, out.Why = Determined, whyBends
		out.TimeConstantS.Value, out.TimeConstantS.StdErr, out.TimeConstantS.Known = c.TimeConstantS, f*c.TimeConstantSE, true
		out.FinalC.Value, out.FinalC.StdErr, out.FinalC.Known = c.FinalC, f*c.FinalSE, true
	default:
		out.Status, out.Why = Undetermined, whyStraight
	}
}

// intervals fills the profile intervals of all parameters.
func (e *Estimator) intervals(out *FirstOrder, p *profile) {
	tr := &e.trace
	out.DecayPerS.CI = Interval{Low: p.lo / tr.span, High: p.hi / tr.span, HasLow: p.hasLo, HasHigh: p.hasHi}
	if p.hasHi && p.hi > 0 {
		out.TimeConstantS.CI.Low, out.TimeConstantS.CI.HasLow = tr.span/p.hi, true
	}
	if p.hasLo && p.lo > 0 {
		out.TimeConstantS.CI.High, out.TimeConstantS.CI.HasHigh = tr.span/p.lo, true
	}
	if tr.fixed {
		out.StartC.CI = Interval{Low: tr.off, High: tr.off, HasLow: true, HasHigh: true}
	}
	if !p.hasLo || !p.hasHi {
		return
	}
	p.sample(e)
	if !tr.fixed {
		out.StartC.CI = p.interval(e, math.Inf(-1), startQuantity)
	}
	rate := p.interval(e, math.Inf(-1), rateQuantity)
	out.RateKPerS.CI = Interval{Low: rate.Low / tr.span, High: rate.High / tr.span, HasLow: true, HasHigh: true}
	e.finalInterval(out, p, rate)
}

// interval gives both bounds of a quantity, for k above from.
func (p *profile) interval(e *Estimator, from float64, quantity func(*Estimator, float64, conditional) (value, variance float64)) Interval {
	return Interval{
		Low:    p.bound(e, from, -1, quantity),
		High:   p.bound(e, from, +1, quantity),
		HasLow: true, HasHigh: true,
	}
}

// finalInterval fills the interval of the final temperature. While the interval of k reaches 0 a
// straight line is possible, so there is no end in the direction of the rise; if even the direction is
// open there is no end at all.
func (e *Estimator) finalInterval(out *FirstOrder, p *profile, rate Interval) {
	if p.hi <= 0 || (rate.Low <= 0 && rate.High >= 0) {
		return
	}
	out.FinalC.CI = p.interval(e, 0, finalQuantity)
	if p.lo <= 0 {
		rising := rate.Low > 0
		out.FinalC.CI.HasLow, out.FinalC.CI.HasHigh = rising, !rising
		if rising {
			out.FinalC.CI.High = 0
		} else {
			out.FinalC.CI.Low = 0
		}
	}
}
