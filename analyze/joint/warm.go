package joint

import (
	"errors"
	"fmt"
	"math"

	"ringheat/analyze/quantity"
)

// Raceways are the diameters that decide how heat changes the internal clearance, mm.
type Raceways struct {
	InnerMM, OuterMM float64 // raceway of the inner and of the outer ring
	Estimated        bool    // from bore and outside diameter, not from a drawing
	Basis            string
}

// RollingElementMM is the diameter of a rolling element that fills the space between the raceways.
func (r Raceways) RollingElementMM() float64 { return (r.OuterMM - r.InnerMM) / 2 }

// EstimateRaceways takes the raceways a fifth of the section's diameters in from bore and outside diameter: inner (4 d + D)/5,
// outer (d + 4 D)/5. Custom, from memory; it errs towards a large outer raceway and so towards a large loss.
func EstimateRaceways(boreMM, outsideMM float64) (Raceways, error) {
	if !(boreMM > 0) || !(outsideMM > boreMM) || math.IsInf(outsideMM, 0) {
		return Raceways{}, fmt.Errorf("bore %s mm and outside diameter %s mm: two positive sizes are wanted, the outside diameter the larger", plain(boreMM), plain(outsideMM))
	}
	return Raceways{(4*boreMM + outsideMM) / 5, (boreMM + 4*outsideMM) / 5, true,
		"raceways estimated from bore and outside diameter as (4 d + D)/5 and (d + 4 D)/5, custom, from memory"}, nil
}

// GivenRaceways are raceways from a drawing, mm.
func GivenRaceways(innerMM, outerMM float64) (Raceways, error) {
	if !(innerMM > 0) || !(outerMM > innerMM) || math.IsInf(outerMM, 0) {
		return Raceways{}, fmt.Errorf("raceways %s and %s mm: two positive diameters are wanted, the outer the larger", plain(innerMM), plain(outerMM))
	}
	return Raceways{innerMM, outerMM, false, "raceways as given"}, nil
}

// Loss is how much of the radial internal clearance is gone while the rings have different temperatures, µm.
//
// With Fi and Eo the raceways, Dw the rolling element's diameter and Tw its temperature,
//
//	loss = alpha (Fi Ti + 2 Dw Tw - Eo To),  Eo = Fi + 2 Dw,
//
// so that equal temperatures take nothing. Tw was not measured and lies between the rings. A loss below nothing is given as 0: a hotter
// outer ring eats no clearance.
type Loss struct {
	CautiousUM float64 // rolling elements as hot as the inner ring: alpha Eo (Ti - To); this one is judged by
	MeanUM     float64 // rolling elements halfway between the rings
}

// LossAt gives the loss at ring temperatures.
func LossAt(r Raceways, alphaPerK float64, innerC, outerC quantity.Celsius) Loss {
	diff := math.Max(0, float64(innerC.Minus(outerC)))
	return Loss{
		CautiousUM: 1000 * alphaPerK * r.OuterMM * diff,
		MeanUM:     1000 * alphaPerK * (r.OuterMM + r.InnerMM) / 2 * diff,
	}
}

// Evenness is the difference between the rings, inner hotter, at which the smallest clearance of the group is used up.
type Evenness struct {
	CautiousK quantity.Kelvin // rolling elements as hot as the inner ring: offered as the physical limit
	MeanK     quantity.Kelvin // rolling elements halfway
	Words     string
	// Confidence is that of the clearance, or memory when the raceways are estimated.
	Confidence Confidence
}

// EvennessLimit turns a clearance into the temperature difference that uses it up. The part is still free while it is warmed, so
// the clearance is that of the unmounted bearing. The coefficient's upper half-width counts: it makes the limit smaller.
func EvennessLimit(r Raceways, m Material, clearance Radial) (Evenness, error) {
	if err := m.Check(); err != nil {
		return Evenness{}, err
	}
	if !(clearance.MinUM >= 0) {
		return Evenness{}, errors.New("the smallest internal clearance is below 0: the bearing is preloaded before it is warmed")
	}
	alpha := m.AlphaPerK * (1 + m.halfWidth())
	e := Evenness{
		CautiousK:  quantity.Kelvin(clearance.MinUM / (1000 * alpha * r.OuterMM)),
		MeanK:      quantity.Kelvin(clearance.MinUM / (1000 * alpha * (r.OuterMM + r.InnerMM) / 2)),
		Confidence: clearance.Origin.Confidence,
	}
	if r.Estimated {
		e.Confidence = weakest(e.Confidence, Memory)
	}
	e.Words = fmt.Sprintf("the smallest clearance of %s µm is used up when the inner ring is %s K hotter than the outer (%s K if the rolling elements are halfway); %s",
		plain(clearance.MinUM), quantity.FormatDecimals(float64(e.CautiousK), 1), quantity.FormatDecimals(float64(e.MeanK), 1), r.Basis)
	return e, nil
}

// Left is the clearance left while the rings have different temperatures, µm. Negative: the rolling elements are clamped.
type Left struct {
	Loss       Loss
	CautiousUM float64 // smallest clearance minus the cautious loss
	MeanUM     float64 // smallest clearance minus the loss with the rolling elements halfway
	LargestUM  float64 // largest clearance minus the cautious loss; only when the largest is known
	MaxKnown   bool
	Words      string
}

// LeftWhileWarm gives the clearance left at ring temperatures.
func LeftWhileWarm(r Raceways, m Material, clearance Radial, innerC, outerC quantity.Celsius) (Left, error) {
	if err := m.Check(); err != nil {
		return Left{}, err
	}
	if !quantity.Finite(float64(innerC)) || !quantity.Finite(float64(outerC)) {
		return Left{}, errors.New("ring temperatures: two numbers are wanted")
	}
	l := Left{Loss: LossAt(r, m.AlphaPerK, innerC, outerC), MaxKnown: clearance.MaxKnown}
	l.CautiousUM = clearance.MinUM - l.Loss.CautiousUM
	l.MeanUM = clearance.MinUM - l.Loss.MeanUM
	if clearance.MaxKnown {
		l.LargestUM = clearance.MaxUM - l.Loss.CautiousUM
	}
	switch {
	case innerC <= outerC:
		l.Words = "the outer ring is at least as warm as the inner: no clearance is lost"
	case l.CautiousUM > 0:
		l.Words = fmt.Sprintf("at least %s µm of internal clearance are left", quantity.FormatDecimals(l.CautiousUM, 0))
	default:
		l.Words = fmt.Sprintf("a bearing with the smallest clearance may be clamped: %s µm too little", quantity.FormatDecimals(-l.CautiousUM, 0))
	}
	return l, nil
}
