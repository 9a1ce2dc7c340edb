package segment

import "math"

// firstOrder is a plain least-squares estimate of y = a + b*exp(-k*(t-t0)) by a search over k, with the
// classical standard error of k. It shares no code with the estimator of the project.
func firstOrder(t, y []float64) (k, se float64) {
	n := float64(len(t))
	span := t[len(t)-1] - t[0]
	rss := func(k float64) (float64, float64, float64) {
		var sy, sg, sgg, syg float64
		for i := range t {
			g := math.Exp(-k * (t[i] - t[0]))
			sg += g
			sgg += g * g
			sy += y[i]
			syg += y[i] * g
		}
		b := (syg - sg*sy/n) / (sgg - sg*sg/n)
		a := (sy - b*sg) / n
		r := 0.0
		for i := range t {
			d := y[i] - a - b*math.Exp(-k*(t[i]-t[0]))
			r += d * d
		}
		return r, a, b
	}
	lo, hi := 0.01/span, 12/span
	// Coarse grid, then golden section.
	best, at := math.Inf(1), lo
	for i := range 60 {
		k := lo * math.Pow(hi/lo, float64(i)/59)
		if r, _, _ := rss(k); r < best {
			best, at = r, k
		}
	}
	f := math.Pow(hi/lo, 1.0/59)
	a, b := at/f, at*f
	const g = 0.6180339887498949
	for range 60 {
		x1, x2 := b-g*(b-a), a+g*(b-a)
		r1, _, _ := rss(x1)
		r2, _, _ := rss(x2)
		if r1 < r2 {
			b = x2
		} else {
			a = x1
		}
	}
	k = 0.5 * (a + b)
	r, _, bb := rss(k)
	s2 := r / (n - 3)
	// Fisher information of k with a and b projected out.
	var s1, sg, sd, sgg, sgd, sdd float64
	for i := range t {
		e := math.Exp(-k * (t[i] - t[0]))
		d := -bb * (t[i] - t[0]) * e
		s1++
		sg += e
		sd += d
		sgg += e * e
		sgd += e * d
		sdd += d * d
	}
	gg := sgg - sg*sg/s1
	gd := sgd - sg*sd/s1
	dd := sdd - sd*sd/s1
	return k, math.Sqrt(s2 / (dd - gd*gd/gg))
}
