package joint

import (
	"errors"
	"fmt"

	"ringheat/analyze/quantity"
)

// AfterMounting is an estimate of the radial internal clearance of a bearing on its shaft, cold, before the housing and the
// running temperature take their part, µm.
type AfterMounting struct {
	MinUM, MaxUM float64 // MaxUM only when MaxKnown
	MaxKnown     bool
	Share        float64 // of the interference that shows up at the raceway
	Words        string
}

// RacewayShare is the part of an interference by which the inner raceway grows, bore over raceway diameter. It is exact for a
// thick-walled ring on a solid shaft of the same modulus (Lame); a hollow shaft takes less, so this errs towards a small clearance.
func RacewayShare(boreMM float64, r Raceways) float64 { return boreMM / r.InnerMM }

// EstimateAfterMounting takes the interference's share from the clearance: the smallest clearance with the largest interference, and the
// other way round. An interference below nothing takes nothing. Smoothing of the surfaces is left out.
func EstimateAfterMounting(boreMM float64, r Raceways, clearance Radial, i Interference) (AfterMounting, error) {
	if !(boreMM > 0) || boreMM >= r.InnerMM {
		return AfterMounting{}, errors.New("the bore is a positive size smaller than the inner raceway")
	}
	a := AfterMounting{Share: RacewayShare(boreMM, r), MaxKnown: clearance.MaxKnown}
	a.MinUM = clearance.MinUM - a.Share*max(0, i.MaxUM)
	if clearance.MaxKnown {
		a.MaxUM = clearance.MaxUM - a.Share*max(0, i.MinUM)
	}
	a.Words = fmt.Sprintf("estimate: about %s %% of the interference is taken from the clearance (solid shaft, thick-walled ring)", quantity.FormatDecimals(100*a.Share, 0))
	if a.MinUM < 0 {
		a.Words += fmt.Sprintf("; with the smallest clearance and the largest interference the bearing would be preloaded by %s µm", quantity.FormatDecimals(-a.MinUM, 0))
	}
	return a, nil
}
