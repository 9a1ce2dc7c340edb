package generate

// Mode is how the heater is controlled.
type Mode uint8

// The modes. Timed: full power until the timer ends. UntilReached: full power until the bore probe shows
// the set-point, then off. OnOff: held at the set-point by a switching controller with a hysteresis.
// Proportional: power falls linearly to nothing over BandK below the set-point.
const (
	Timed Mode = iota
	UntilReached
	OnOff
	Proportional
)

// Step changes the power to a share of PowerW from a moment on. Share 0 is an interruption.
type Step struct {
	AfterS float64 // s since the heater was switched on
	Share  float64 // of PowerW, from then on
}

// Heating is one use of the heater.
type Heating struct {
	Mode       Mode
	PowerW     float64 // power that reaches the part, W
	OnAtS      float64 // switched on, s since the stage began
	ForS       float64 // timer: switched off this long after, s; for UntilReached the latest moment
	SetPointC  float64 // by the bore probe, °C
	BandK      float64 // hysteresis below the set-point (OnOff) or proportional band, K
	LagS       float64 // time constant with which the power follows, s; 0 means at once
	FallPerK   float64 // share of power lost per kelvin of bore temperature above the start
	Steps      []Step  // in order of AfterS
	startC     float64
	on         bool // OnOff: the switch's position
	done       bool // UntilReached: reached
	reachedS   float64
	hasReached bool
}

func (h *Heating) begin(startC float64) {
	h.startC, h.on, h.done, h.hasReached = startC, true, false, false
}

// demand gives the power asked for at atS seconds since the stage began, with the bore probe at probeC and
// the bore at boreC, and notes when the set-point was first reached.
func (h *Heating) demand(atS, probeC, boreC float64) float64 {
	since := atS - h.OnAtS
	if since < -tinyS || since > h.ForS-tinyS || h.PowerW == 0 {
		return 0
	}
	reached := h.Mode != Timed && probeC >= h.SetPointC
	if h.Mode == Proportional {
		reached = probeC >= h.SetPointC-h.BandK
	}
	if reached && !h.hasReached {
		h.hasReached, h.reachedS = true, atS
	}
	power := h.PowerW * (1 - h.FallPerK*(boreC-h.startC))
	for _, s := range h.Steps {
		if since >= s.AfterS-tinyS {
			power = h.PowerW * s.Share * (1 - h.FallPerK*(boreC-h.startC))
		}
	}
	switch h.Mode {
	case UntilReached:
		h.done = h.done || reached
		if h.done {
			return 0
		}
	case OnOff:
		if reached {
			h.on = false
		} else if probeC <= h.SetPointC-h.BandK {
			h.on = true
		}
		if !h.on {
			return 0
		}
	case Proportional:
		power *= min(1, max(0, (h.SetPointC-probeC)/h.BandK))
	}
	return power
}

// tinyS absorbs the rounding of the time axis, s.
const tinyS = 1e-6

// rampEnd is the moment at which full power ends, s since the stage began; known is false for a
// proportional controller, which has no such moment, and when the stage ended before.
func (h *Heating) rampEnd() (atS float64, known bool) {
	switch h.Mode {
	case Timed:
		return h.OnAtS + h.ForS, true
	case UntilReached, OnOff:
		return h.reachedS, h.hasReached
	}
	return 0, false
}

// end is the moment at which heating ends, s since the stage began.
func (h *Heating) end() float64 {
	if h.Mode == UntilReached && h.hasReached {
		return h.reachedS
	}
	return h.OnAtS + h.ForS
}
