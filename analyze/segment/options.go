package segment

import "ringheat/analyze/quantity"

// Options sets what counts as a cycle. The zero value means the defaults named at each field.
type Options struct {
	// MinRise is the smallest rise that is a warming; 0 means 10 K. Smaller ones are ambient drift.
	MinRise quantity.Kelvin
	// MinRateKPerMin is the smallest mean rate of a warming; 0 means 0.1 K/min.
	MinRateKPerMin float64
	// MinHoldS is the shortest hold that is told from the rounding of a peak by lag; 0 means 20 s.
	MinHoldS float64
	// WarmC: a log whose first row already rises began after the onset if it begins warmer than this;
	// 0 means 4 K above the ambient channel or, where there is none, 30 °C.
	WarmC quantity.Celsius
	// HeldC: a log or a first stretch without any rise is part of a warming if it is hotter than this;
	// 0 means 45 °C.
	HeldC quantity.Celsius
	// SpikeSigma is how many noise standard deviations a spike lies off at least; 0 means 7.
	SpikeSigma float64
	// SpikeFloor is the smallest distance of a spike; 0 means 0.5 K. Two and a half display steps
	// are asked as well.
	SpikeFloor quantity.Kelvin
	// ManySpikesShare is the share of marked samples from which ManySpikes is reported; 0 means 0.03.
	ManySpikesShare float64
	// CoarsePeak is how far the true peak may lie above the highest reading before TooCoarse is
	// reported; 0 means 3 K.
	CoarsePeak quantity.Kelvin
}

func (o Options) withDefaults() Options {
	if o.MinRise <= 0 {
		o.MinRise = 10
	}
	if o.MinRateKPerMin <= 0 {
		o.MinRateKPerMin = 0.1
	}
	if o.MinHoldS <= 0 {
		o.MinHoldS = 20
	}
	if o.HeldC <= 0 {
		o.HeldC = 45
	}
	if o.SpikeSigma <= 0 {
		o.SpikeSigma = 7
	}
	if o.SpikeFloor <= 0 {
		o.SpikeFloor = 0.5
	}
	if o.ManySpikesShare <= 0 {
		o.ManySpikesShare = 0.03
	}
	if o.CoarsePeak <= 0 {
		o.CoarsePeak = 3
	}
	return o
}
