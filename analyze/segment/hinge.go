package segment

import "math"

// hinges looks for changes of heating power inside a stretch that otherwise follows y' = p - k*y.
// Integrated, that is y = a + p*t - k*(integral of y), linear in all three, and a change of power at t1
// adds one term d*(t-t1)+. So the best place for a kink is found by least squares over every place,
// without knowing k.
type hinges struct {
	t     []float64    // time scaled to 0..1
	r     []float64    // residual of the terms so far
	q     [][]float64  // orthonormal terms so far
	store []float64    // backing
	sums  [][2]float64 // scratch: for every term, sum of q and of q*t beyond the place
	span  float64
	t0    float64
}

// start takes the readings t, y and removes the smooth first-order part.
func (h *hinges) start(t, y []float64) {
	h.startLine(t, y)
	n := len(t)
	area := h.next()
	area[0] = 0
	for i := 1; i < n; i++ {
		area[i] = area[i-1] + 0.5*(y[i]+y[i-1]-2*y[0])*(h.t[i]-h.t[i-1])
	}
	h.keep(area)
}

// startLine takes the readings t, y and removes the best straight line.
func (h *hinges) startLine(t, y []float64) {
	n := len(t)
	const terms = 10
	if cap(h.store) < (terms+2)*n {
		h.store = make([]float64, (terms+2)*n)
	}
	h.t = h.store[:n]
	h.r = h.store[n : 2*n]
	h.q = h.q[:0]
	h.t0, h.span = t[0], t[n-1]-t[0]
	if h.span <= 0 {
		h.span = 1
	}
	one := h.next()
	for i := range t {
		h.t[i] = (t[i] - t[0]) / h.span
		one[i] = 1
	}
	copy(h.r, y)
	h.keep(one)
	lin := h.next()
	copy(lin, h.t)
	h.keep(lin)
}

// next is the storage of the next term.
func (h *hinges) next() []float64 {
	n := len(h.t)
	k := len(h.q) + 2
	return h.store[k*n : (k+1)*n]
}

// keep makes v orthonormal to the terms so far, adds it, and takes it out of the residual. It returns
// the residual's projection on it.
func (h *hinges) keep(v []float64) float64 {
	for range 2 { // twice: one Gram-Schmidt pass loses orthogonality on nearly straight rises
		for _, q := range h.q {
			d := dot(q, v)
			for i := range v {
				v[i] -= d * q[i]
			}
		}
	}
	norm := math.Sqrt(dot(v, v))
	if norm < 1e-9 {
		return 0
	}
	for i := range v {
		v[i] /= norm
	}
	p := dot(v, h.r)
	for i := range v {
		h.r[i] -= p * v[i]
	}
	h.q = append(h.q, v)
	return p
}

// best is the place in [lo, hi) of the hinge that lowers the residual sum of squares most, and by how
// much; at is -1 when there is none. sign limits it to kinks down (-1) or up (+1); 0 takes both.
func (h *hinges) best(lo, hi, sign int) (at int, gain float64) {
	n := len(h.t)
	at = -1
	if cap(h.sums) < len(h.q) {
		h.sums = make([][2]float64, 16)
	}
	sums := h.sums[:len(h.q)]
	clear(sums)
	var r0, r1, t0, t1, t2 float64 // sums over samples beyond the place
	for k := n - 1; k >= lo && k >= 0; k-- {
		tk := h.t[k]
		if k < hi {
			rg := r1 - tk*r0
			gg := t2 - 2*tk*t1 + tk*tk*t0
			for j := range sums {
				p := sums[j][1] - tk*sums[j][0]
				gg -= p * p
			}
			if gg > 1e-10 && (sign == 0 || rg*float64(sign) > 0) {
				if v := rg * rg / gg; v > gain {
					gain, at = v, k
				}
			}
		}
		r0 += h.r[k]
		r1 += h.r[k] * tk
		t0++
		t1 += tk
		t2 += tk * tk
		for j, q := range h.q {
			sums[j][0] += q[k]
			sums[j][1] += q[k] * tk
		}
	}
	return at, gain
}

// add takes the hinge at place k into the model.
func (h *hinges) add(k int) {
	g := h.next()
	tk := h.t[k]
	for i := range g {
		g[i] = max(0, h.t[i]-tk)
	}
	h.keep(g)
}

func dot(a, b []float64) float64 {
	s := 0.0
	b = b[:len(a)]
	for i, v := range a {
		s += v * b[i]
	}
	return s
}
