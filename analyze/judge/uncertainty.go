package judge

import "math"

// uncertainty is a combined uncertainty (GUM 5.1.2: root of the sum of squares) with its budget.
type uncertainty struct {
	budget   []Component
	sum2     float64 // sum of squared standard uncertainties
	bound    float64 // sum of half-widths and of three times each unbounded component
	noiseU   float64
	noiseDoF float64
}

// rectangular adds a component that lies within +-a and nowhere in it more likely: u = a/sqrt(3) (GUM 4.3.7).
func (m *uncertainty) rectangular(name string, a float64, basis string) {
	u := a / math.Sqrt(3)
	m.budget = append(m.budget, Component{Name: name, HalfWidth: a, U: u, Basis: basis})
	m.sum2 += u * u
	m.bound += a
}

// normal adds a component given by its standard uncertainty; dof are its degrees of freedom, 0 when
// they are many.
func (m *uncertainty) normal(name string, u, dof float64, basis string) {
	m.budget = append(m.budget, Component{Name: name, U: u, Basis: basis})
	m.sum2 += u * u
	if dof > 0 {
		m.noiseU = math.Hypot(m.noiseU, u)
		if m.noiseDoF == 0 || dof < m.noiseDoF {
			m.noiseDoF = dof
		}
	}
}

// standard is the combined standard uncertainty.
func (m *uncertainty) standard() float64 { return math.Sqrt(m.sum2) }

// expanded is U with its coverage factor k. U = k u, with k = 2 (one-sided 97.7 %), or a little more
// when few samples stand behind the noise (GUM G.4: Student's t with the effective degrees of freedom);
// but never more than the sum of all half-widths and of three times the other components, beyond
// which the value cannot be: a sum of bounds is a bound.
func (m *uncertainty) expanded() (expandedU, k float64) {
	u := m.standard()
	if !(u > 0) {
		return 0, 2
	}
	k = m.coverage(u)
	bound := m.bound
	rest := 0.0
	for i := range m.budget {
		if m.budget[i].HalfWidth == 0 {
			rest += m.budget[i].U * m.budget[i].U
		}
	}
	bound += 3 * math.Sqrt(rest)
	if k*u > bound {
		return bound, bound / u
	}
	return k * u, k
}

// coverage is the coverage factor: the quantile of Student's t at the one-sided level of k = 2.
func (m *uncertainty) coverage(u float64) float64 {
	const z = 2.0
	if m.noiseU == 0 || m.noiseDoF <= 0 {
		return z
	}
	// Welch-Satterthwaite (GUM G.4.1); the rectangular components have no end of degrees of freedom.
	r := u / m.noiseU
	nu := m.noiseDoF * r * r * r * r
	if nu > 1e4 {
		return z
	}
	nu = math.Max(nu, 3)
	// Expansion of the t quantile in 1/nu (Abramowitz and Stegun 26.7.5).
	const z2 = z * z
	g1 := z * (z2 + 1) / 4
	g2 := z * ((5*z2+16)*z2 + 3) / 96
	g3 := z * (((3*z2+19)*z2+17)*z2 - 15) / 384
	g4 := z * ((((79*z2+776)*z2+1482)*z2-1920)*z2 - 945) / 92160
	return z + g1/nu + g2/(nu*nu) + g3/(nu*nu*nu) + g4/(nu*nu*nu*nu)
}
