package curve

import "math"

// correctedLag corrects the lag-1 correlation r of n residuals for its bias (the fitted curve and the
// small number pull it down) and keeps it within [0, 0.995].
func correctedLag(r, n float64) float64 {
	return math.Max(0, math.Min(0.995, r+3*(1+3*r)/n))
}

// variance factor f^2: samples that one independent sample costs, for a first-order autoregression.
func varianceFactor(r float64) float64 { return (1 + r) / (1 - r) }

// minNEff is the number of independent samples below which no interval is given: the quantile and
// the correlation itself are then guesses.
const minNEff = 10

// unevenFactor is varianceFactor for samples at uneven times: the correlation is one in time,
// rho(d) = exp(-d/theta). theta is chosen so that neighbours have the mean correlation r; the
// factor is then 1 + 2/n times the sum of the correlations of every sample with all before it, which a
// recurrence gives in one reading. On even sampling it equals varianceFactor.
func (e *Estimator) unevenFactor(r float64) float64 {
	if r <= 0 {
		return 1
	}
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
			c := &table[b]
			d := c.sum / c.count
			p := c.count * math.Exp(-d*rate)
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
		return varianceFactor(0.995)
	}
	sum := r / (1 - r) // as if the past went on at the mean step
	total := 0.0
	for i := 1; i < n; i++ {
		sum = math.Exp(-(t[i]-t[i-1])/mean*rate) * (1 + sum)
		total += sum
	}
	f2 := 1 + 2*total/float64(n-1)
	return math.Min(f2, varianceFactor(0.995))
}
