package analyze

import (
	"errors"
	"fmt"

	"ringheat/analyze/joint"
	"ringheat/analyze/judge"
	"ringheat/analyze/quantity"
)

// SeatData is what a user gives of the seat instead of a needed temperature. Bore and interference go
// together; the rest has defaults that are said in the result.
type SeatData struct {
	BoreMM         *float64
	InterferenceUM *float64 // largest interference
	EaseUM         *float64 // nil: the custom for the kind of part
	AlphaPerK      *float64 // coefficient of part and shaft; nil: that of bearing steel
	ShaftC         *float64 // nil: 20 °C
}

// given says whether anything of the seat was given.
func (d *SeatData) given() bool {
	return d.BoreMM != nil || d.InterferenceUM != nil || d.EaseUM != nil || d.AlphaPerK != nil || d.ShaftC != nil
}

// UseSeat works the needed bore temperature out of seat data and puts it, with its uncertainty and where
// it is from, into the judge's settings. Without seat data it does nothing.
func (s *Settings) UseSeat(d SeatData) error {
	if !d.given() {
		return nil
	}
	switch {
	case s.Judge.NeedTempC != nil:
		return errors.New("--need-temp-c and the seat's data both say how warm the bore must be: leave one of them out")
	case d.BoreMM == nil || d.InterferenceUM == nil:
		return errors.New("a seat needs --bore-mm and --interference-um, both")
	}
	seat := joint.Seat{
		DiameterMM: *d.BoreMM, Interference: joint.GivenInterference(*d.InterferenceUM), EaseUM: d.EaseUM,
		Form: form(s.Judge.Kind), ShaftC: joint.ReferenceC,
	}
	if d.AlphaPerK != nil {
		seat.Part = joint.GivenMaterial(*d.AlphaPerK, true)
	}
	if d.ShaftC != nil {
		seat.ShaftC = quantity.Celsius(*d.ShaftC)
	}
	need, err := joint.FindNeed(seat)
	if err != nil {
		return fmt.Errorf("seat: %w", err)
	}
	c := float64(need.NeededC)
	s.Judge.NeedTempC = &c
	s.Judge.NeedTempU = need.StdK
	s.Judge.NeedTempBasis = fmt.Sprintf("bore %g mm, largest interference %g µm, ease %g µm (%s), shaft at %g °C",
		*d.BoreMM, *d.InterferenceUM, need.EaseUM, need.EaseBasis, float64(seat.ShaftC))
	return nil
}

// form says what custom of ease a kind of part follows.
func form(k judge.PartKind) joint.Form {
	switch k {
	case judge.Gear, judge.Coupling, judge.Sleeve:
		return joint.Hub
	}
	return joint.Ring
}
