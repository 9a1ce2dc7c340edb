package sampledata

// Optional is a number that may not exist: an empty cell of the list. The zero Optional does not exist.
type Optional struct {
	Value float64
	Known bool
}

// Some is a number that exists.
func Some(v float64) Optional { return Optional{v, true} }

// TruthRow is the truth about one heating cycle of one demo log.
//
// "Metal" is the temperature of the ring itself. "Shown" is what a perfect logger would have shown: with
// the probe's lag and offset, without noise, spikes and display step, and only while the probe's circuit was
// closed and the logger ran. Seconds count from the log's first row. All values are exact up to the
// integration's step of 0.1 s. "Inner" is the bore probe of a one-body part as well.
type TruthRow struct {
	File  string // name in the folder logs
	Cycle int    // 1, 2, ... in the order of time
	Kind  string // bearing, gear, coupling, ...

	OnsetS   float64  // heater switched on
	RampEndS Optional // full power ends; does not exist for a proportional controller or past the log's end
	EndS     Optional // heater switched off for good; does not exist past the log's end

	StartInnerC     float64  // metal when the heater was switched on
	StartOuterC     Optional // the outer ring's values do not exist for a one-body part
	RateInnerKPerS  float64  // heat set free per second over heat capacity at the onset: no losses, nothing passed on
	RateOuterKPerS  Optional
	PeakMetalInnerC float64 // highest within the log
	PeakMetalInnerS float64 // when
	PeakMetalOuterC Optional
	PeakMetalOuterS Optional
	PeakShownInnerC float64
	PeakShownInnerS float64
	PeakShownOuterC Optional
	PeakShownOuterS Optional
	UnseenPeakC     Optional // highest metal of either ring after the log stopped, where that is higher

	OverLimitMetalS float64 // time that either ring was above MaxTempC
	OverLimitShownS float64

	DiffMetalK      Optional // largest |inner - outer| of the metal
	DiffMetalS      Optional
	DiffMetalHotter string // "inner", "outer", or "" for a one-body part
	DiffShownK      Optional
	DiffShownS      Optional
	DiffShownHotter string

	Rise        string   // "first-order" or "not-first-order": the inner probe's noise-free rise, start-up lag left out
	MisfitK     float64  // largest distance of that rise from the nearest first-order curve, K
	MisfitOuter Optional // the same for the outer probe, K
	RiseWhy     string   // what bends it

	LagInnerS, OffsetInnerK, NoiseInnerK float64
	LagOuterS, OffsetOuterK, NoiseOuterK Optional
	DisplayStepK                         float64
	IntervalS                            float64
	Rows, Spikes                         int // of the whole log

	// What the run sheet asks, and what must be found under it.
	MaxTempC         float64
	MaxRingDiffK     Optional
	NeedTempC        Optional
	OverTimeAllowedS float64
	ProbeToleranceK  float64
	ExpectMaxTemp    string // pass, fail, unproven or not-asked
	ExpectRingDiff   string
	ExpectNeedTemp   string
	ExpectRecord     string
	ExpectVerdict    string
	Why              string // the reason in a few words
}
