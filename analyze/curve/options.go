package curve

// Options steers FirstOrder. The zero value is the ordinary case: start temperature estimated, curve
// starting at the first sample, display step unknown.
type Options struct {
	// FixedStart is the start temperature T0 when it is known beforehand, °C. Nil: it is estimated.
	FixedStart *float64
	// RefS is the time t0 at which the curve starts, s. Nil: the time of the first sample.
	RefS *float64
	// StepK is the display step of the readings, K; 0 when unknown. It matters only when the noise is
	// smaller than 0.3 steps; the readings then tell less than their scatter says.
	StepK float64
}
