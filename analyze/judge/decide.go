package judge

import "math"

// decision is what a rule says of a value.
type decision struct {
	verdict    Verdict
	proven     bool    // beyond the limit by more than U
	acceptance float64 // limit after the guard band
}

// atMost judges a value that must not exceed the tolerance limit: guarded acceptance with guard band
// w = g U (JCGM 106:2012 clause 8.3.2, from memory) for Strict and ThreeZone, simple acceptance
// (clause 8.2) for Simple. ThreeZone rejects by a guard band as well (the three zones of ISO 14253-1).
// y, limit and the expanded uncertainty U are in one unit; equality accepts.
func atMost(y, limit, expandedU, g float64, rule Rule) decision {
	d := decision{acceptance: limit - g*expandedU, proven: exceeds(y, limit+expandedU)}
	switch rule {
	case Simple:
		d.acceptance = limit
		d.verdict = Fail
		if !exceeds(y, limit) {
			d.verdict = Pass
		}
	case ThreeZone:
		switch {
		case !exceeds(y, d.acceptance):
			d.verdict = Pass
		case exceeds(y, limit+g*expandedU):
			d.verdict = Fail
		}
	default:
		switch {
		case !exceeds(y, d.acceptance):
			d.verdict = Pass
		case exceeds(y, limit):
			d.verdict = Fail
		}
	}
	return d
}

// atLeast is the mirror image of atMost, for a value that must reach the limit.
func atLeast(y, limit, expandedU, g float64, rule Rule) decision {
	d := atMost(-y, -limit, expandedU, g, rule)
	d.acceptance = -d.acceptance
	return d
}

// exceeds says whether y lies above x by more than rounding error. Both come from sums of decimal
// fractions, so 117.4 may stand as 117.39999999999999; readings are never so close without being equal.
func exceeds(y, x float64) bool { return y-x > 1e-9*(1+math.Abs(x)) }

// coarsestStepK is the coarsest step in which values are compared, K. A display of whole degrees is
// compared in tenths all the same, since a local curve over many samples tells less than a degree apart.
const coarsestStepK = 0.1

// inSteps rounds a value to whole reading steps from 0, so that what is printed is what is compared.
func inSteps(y, stepK float64) float64 {
	if !(stepK > 0) || stepK > coarsestStepK {
		stepK = coarsestStepK
	}
	if stepK < 1e-6 {
		return y
	}
	n := math.Round(y / stepK)
	if per := math.Round(1 / stepK); math.Abs(per*stepK-1) < 1e-9 {
		return n / per // the double nearest to the decimal, where n*step would miss it by a digit
	}
	return n * stepK
}

// conformance is the probability that the true value does not exceed the limit, for a value y with
// standard uncertainty u and a normal distribution (JCGM 106:2012 clause 7.3, from memory). With u = 0
// it is 0 or 1.
func conformance(y, limit, u float64) float64 {
	if !(u > 0) {
		if exceeds(y, limit) {
			return 0
		}
		return 1
	}
	return 0.5 * math.Erfc(-(limit-y)/u/math.Sqrt2)
}

// setRisk gives the specific risk of a decision (JCGM 106:2012 clause 9.3.2, from memory): that an
// accepted value does not conform, or that a rejected one does.
func (f *Finding) setRisk() {
	if f.Conformance == nil {
		return
	}
	switch f.Verdict {
	case Pass:
		f.Risk = ptr(1 - *f.Conformance)
	case Fail:
		f.Risk = ptr(*f.Conformance)
	}
}
