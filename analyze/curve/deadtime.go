package curve

import "math"

// DeadTime is a first-order rise that starts later than the heating: the curve is at the known start
// temperature until a dead time after the onset.
type DeadTime struct {
	Status Status // Determined when the dead time has an interval
	Why    string

	DeadTimeS Estimate // s after the onset
	// Curve is the curve itself, with its reference time at the onset: its start temperature is what the
	// curve would have had then, below the real one of a warming part.
	Curve FirstOrder
	// ClassicalS and ClassicalSE are the plain least-squares dead time and its error, s.
	ClassicalS, ClassicalSE float64
	ClassicalOK             bool
}

// Plain words of DeadTime.Why.
const (
	deadSeen  = "the curve meets the start temperature after the onset"
	deadNone  = "no dead time shows: the curve meets the start temperature at the onset, within the error"
	deadCurve = "the rise does not determine when it began"
)

// DeadTime estimates the dead time of a rise. timeS and tempC are the samples of the rise after it has begun to
// show; startC (°C) is the temperature before, startU (K) its standard uncertainty, and onsetS (s) the time the
// heating began. It is an option for a probe far from the heat, never the default: with a free start temperature a
// dead time can't be told from one, so the known start temperature carries the whole answer.
func (e *Estimator) DeadTime(timeS, tempC []float64, startC, startU, onsetS float64, o Options) DeadTime {
	o.FixedStart, o.RefS = nil, &onsetS
	out := DeadTime{Status: Undetermined, Why: deadCurve}
	out.Curve = e.FirstOrder(timeS, tempC, o)
	c := &out.Curve.Classical
	if !c.OK {
		out.Why = out.Curve.Why
		return out
	}
	// e.resid still holds the solution; the samples are prepared again for the profile
	if e.prepare(timeS, tempC, o) != "" {
		return out
	}
	defer e.release()
	tr, r := &e.trace, &e.resid
	gap := (startC - c.StartC) / r.rate // phi(k, d), in spans
	arg := -r.k * gap
	if !(arg > -1) {
		return out
	}
	d := gap
	if math.Abs(arg) > 1e-12 {
		d = -math.Log1p(arg) / r.k
	}
	// d is defined by start + rate*phi(k, d) = startC
	phi, dphi := basis(r.k, d)
	slope := r.rate * math.Exp(-r.k*d) // K per span
	g0, gr, gk := -1/slope, -phi/slope, -r.rate*dphi/slope
	v := &r.classical
	variance := g0*g0*v.start + gr*gr*v.rate + gk*gk*v.k + 2*(g0*gr*v.startRate+g0*gk*v.startK+gr*gk*v.rateK)
	out.ClassicalS, out.ClassicalSE, out.ClassicalOK = d*tr.span, math.Sqrt(math.Max(0, variance))*c.ResidualSD*tr.span, true
	if out.Curve.NEff < minNEff {
		out.Why = whyFewWorth
		return out
	}
	if out.Curve.Status == NoRise || !out.Curve.DecayPerS.CI.HasLow || !out.Curve.DecayPerS.CI.HasHigh {
		return out
	}
	t := studentQuantile975(out.Curve.NEff - 3)
	// the widened variance of FirstOrder
	sd := out.Curve.StartC.StdErr / math.Max(c.StartSE, 1e-300)
	slack := t * t * sd * sd * c.ResidualSD * c.ResidualSD
	n := float64(len(tempC))
	shift := tr.off - startC
	syy := tr.syy + n*shift*shift
	constrained := func(k, d float64) float64 {
		sp, spp, spy := e.sums(k)
		f, _ := basis(k, d)
		ww := spp - 2*f*sp + n*f*f
		wy := spy + shift*sp - f*n*shift
		return syy - wy*wy/ww
	}
	kLow, kHigh := out.Curve.DecayPerS.CI.Low*tr.span, out.Curve.DecayPerS.CI.High*tr.span
	margin := kHigh - kLow
	kLow, kHigh = kLow-margin, kHigh+margin
	least := func(d float64) float64 { // over k
		const golden = 0.6180339887498949
		a, b := kLow, kHigh
		x1, x2 := b-golden*(b-a), a+golden*(b-a)
		f1, f2 := constrained(x1, d), constrained(x2, d)
		for range 22 {
			if f1 < f2 {
				b, x2, f2 = x2, x1, f1
				x1 = b - golden*(b-a)
				f1 = constrained(x1, d)
			} else {
				a, x1, f1 = x1, x2, f2
				x2 = a + golden*(b-a)
				f2 = constrained(x2, d)
			}
		}
		return math.Min(f1, f2)
	}
	low := least(d)
	widened := math.Sqrt(slack/(t*t)) * math.Sqrt(math.Max(0, variance)) // standard error, spans
	end := func(side float64) float64 {
		inside, outside := d, d+side*t*widened
		for range 30 {
			if least(outside)-low >= slack {
				break
			}
			inside, outside = outside, outside+side*t*widened
		}
		for range 25 {
			mid := (inside + outside) / 2
			if least(mid)-low < slack {
				inside = mid
			} else {
				outside = mid
			}
		}
		return outside
	}
	before, after := d-end(-1), end(1)-d
	// the start temperature's own uncertainty, at right angles to the curve's
	u := math.Abs(startU / slope)
	before, after = math.Hypot(before, t*u), math.Hypot(after, t*u)
	out.Status, out.Why = Determined, deadSeen
	out.DeadTimeS = Estimate{Value: d * tr.span, StdErr: math.Hypot(widened, u) * tr.span, Known: true, CI: Interval{
		Low: (d - before) * tr.span, High: (d + after) * tr.span, HasLow: true, HasHigh: true}}
	if out.DeadTimeS.CI.Low <= 0 {
		out.Why = deadNone
	}
	return out
}
