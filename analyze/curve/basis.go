package curve

import "math"

// basis gives, for the decay rate k and the time x since the start (any consistent units),
//
//	phi(k, x)  = (1 - exp(-k x))/k
//	dphi(k, x) = d phi / d k = (x exp(-k x) - phi)/k
//
// Both are smooth through k = 0, where phi = x and dphi = -x^2/2. Near it the quotients lose digits,
// so the power series in z = k x is used; its first term left out is below 1e-16 of the sum.
func basis(k, x float64) (phi, dphi float64) {
	z := k * x
	if math.Abs(z) < 0.03 {
		phi = x * (1 - z/2*(1-z/3*(1-z/4*(1-z/5*(1-z/6*(1-z/7*(1-z/8)))))))
		dphi = -x * x * (1./2 - z*(1./3-z*(1./8-z*(1./30-z*(1./144-z*(1./840-z*(1./5760-z/45360)))))))
		return phi, dphi
	}
	em := math.Expm1(-z)
	phi = -em / k
	dphi = (x*(1+em) - phi) / k
	return phi, dphi
}
