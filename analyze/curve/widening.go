package curve

import "math"

// lag1 is the correlation of neighbours among residuals r, whose mean is about 0.
func lag1(r []float64) float64 { return dot(r[1:], r[:len(r)-1]) / dot(r, r) }

// lag2 is that of neighbours but one.
func lag2(r []float64) float64 { return dot(r[2:], r[:len(r)-2]) / dot(r, r) }

// correctedLag corrects the lag-1 correlation r of n residuals for its bias (the fitted curve with its
// params parameters and the small number pull it down) and keeps it within [0, 0.995].
func correctedLag(r, n, params float64) float64 {
	return math.Max(0, math.Min(0.995, r+params*(1+3*r)/n))
}

// correlation describes the residuals' autocorrelation: lag1 at lag 1, falling by rho from lag to lag. For
// a pure first-order autoregression both are the same. Rounding on top of a slow wander lowers the first
// but not the second: lag 1 alone would then take the wander for shorter than it is.
type correlation struct{ lag1, rho float64 }

// correlationOf takes the raw correlations at lags 1 and 2 of n residuals, the number of parameters
// fitted, and the share of their variance that rounding to the display step would make as white noise.
// That is taken out of rho, but no more than half the variance, and no more than the white noise which
// the second differences leave room for, (6 - 8 r1 + 2 r2)/6 of the variance: on a trace that moves slowly
// against its step, rounding errors are correlated themselves.
func correlationOf(r1, r2, n, params, rounding float64) correlation {
	white := math.Max(0, math.Min(math.Min(0.5, rounding), (6-8*r1+2*r2)/6))
	return correlation{
		lag1: correctedLag(r1, n, params),
		rho:  correctedLag(math.Min(1, r1/(1-white)), n, params),
	}
}

// factor is f^2, the number of samples that one independent sample costs. With lag1 = rho = r it is
// (1 + r)/(1 - r).
func (c correlation) factor() float64 { return 1 + 2*c.lag1/(1-c.rho) }

// minNEff is the number of independent samples below which no interval is given: the quantile and
// the correlation itself are then guesses.
const minNEff = 10

// unevenFactor is factor for samples at uneven times: the correlation is one in time,
// share*exp(-d/theta). theta is chosen so that neighbours have the mean correlation rho; the factor is
// then 1 + 2/n times the sum of the correlations of every sample with all before it, which a
// recurrence gives in one reading. On even sampling it equals factor.
func (e *Estimator) unevenFactor(c correlation) float64 {
	if c.rho <= 0 {
		return 1
	}
	r, share := c.rho, c.lag1/c.rho
	tr := &e.trace
	t := tr.t
	n := len(t)
	// steps gathered by size, eight classes an octave
	const classes = 512
	type class struct{ count, sum float64 }
	var table [classes]class
	mean := tr.span / float64(n-1)
	used := 0
	var list [classes]uint16
	for i := 1; i < n; i++ {
		d := (t[i] - t[i-1]) / mean
		// exponent and three bits of the mantissa, from 2^-32 to 2^31
		b := int(math.Float64bits(d)>>49) - (1023-32)*8
		b = min(max(b, 0), classes-1)
		if table[b].count == 0 {
			list[used] = uint16(b)
			used++
		}
		table[b].count++
		table[b].sum += d
	}
	neighbours := func(rate float64) (f, df float64) {
		for _, b := range list[:used] {
			cl := &table[b]
			d := cl.sum / cl.count
			p := cl.count * math.Exp(-d*rate)
			f += p
			df -= p * d
		}
		return f / float64(n-1), df / float64(n-1)
	}
	// Newton on a convex falling function, from the left: no overshoot
	rate := 0.0
	for range 60 {
		f, df := neighbours(rate)
		if f-r <= 1e-9 || df == 0 {
			break
		}
		rate += (f - r) / -df
	}
	if rate <= 0 {
		return correlation{0.995, 0.995}.factor()
	}
	sum := r / (1 - r) // as if the past went on at the mean step
	total := 0.0
	for i := 1; i < n; i++ {
		sum = math.Exp(-(t[i]-t[i-1])/mean*rate) * (1 + sum)
		total += sum
	}
	f2 := 1 + 2*share*total/float64(n-1)
	return math.Min(f2, correlation{0.995, 0.995}.factor())
}
