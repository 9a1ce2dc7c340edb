package generate

import "math"

// Misfit is the largest distance in kelvin between a noise-free rise and the first-order curve
// a + b exp(-k t) that lies nearest to it by least squares, k free between nearly straight and very bent,
// of either sign. It says how far a rise is from first order, whatever made it so.
func Misfit(rise []float64) float64 {
	const most = 400 // points used: the curve is smooth
	every := max(1, len(rise)/most)
	var y []float64
	for i := 0; i < len(rise); i += every {
		y = append(y, rise[i])
	}
	if len(y) < 4 {
		return 0
	}
	best, bestK := math.Inf(1), 0.0
	for k := -8.0; k <= 20; k += 0.2 { // curvature over the whole rise
		if rss, _ := nearest(y, k); rss < best {
			best, bestK = rss, k
		}
	}
	lo, hi := bestK-0.2, bestK+0.2
	for range 60 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		ra, _ := nearest(y, a)
		rb, _ := nearest(y, b)
		if ra < rb {
			hi = b
		} else {
			lo = a
		}
	}
	_, worst := nearest(y, (lo+hi)/2)
	return worst
}

// nearest solves the linear part for a fixed curvature k (per whole length) and gives the sum of squares
// and the largest distance. The basis (1 - exp(-k x))/k goes over into x as k goes to 0.
func nearest(y []float64, k float64) (rss, worst float64) {
	n := float64(len(y))
	basis := func(i int) float64 {
		x := float64(i) / (n - 1)
		if math.Abs(k) < 1e-6 {
			return x
		}
		return -math.Expm1(-k*x) / k
	}
	var sg, sgg, sy, sgy float64
	gs := make([]float64, len(y))
	for i, v := range y {
		g := basis(i)
		gs[i] = g
		sg += g
		sgg += g * g
		sy += v
		sgy += g * v
	}
	slope := (n*sgy - sg*sy) / (n*sgg - sg*sg)
	level := (sy - slope*sg) / n
	for i, v := range y {
		r := v - level - slope*gs[i]
		rss += r * r
		worst = max(worst, math.Abs(r))
	}
	return rss, worst
}
