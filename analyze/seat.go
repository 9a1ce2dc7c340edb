package analyze

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"ringheat/analyze/joint"
	"ringheat/analyze/judge"
	"ringheat/analyze/parts"
	"ringheat/analyze/quantity"
)

// SeatData is what a user gives of the seat instead of a needed temperature: the bore, and one of interference, classes and
// measured sizes. The rest has defaults that are said in the result.
type SeatData struct {
	BoreMM *float64

	InterferenceUM *float64 // largest interference
	ShaftClass     string   // tolerance class of the shaft, such as "m6"
	BoreClass      string   // "" is Normal for a bearing
	// ShaftMeasuredUM and BoreMeasuredUM are measured deviations from the nominal size at 20 °C. Either takes the place of its class.
	ShaftMeasuredUM, BoreMeasuredUM *float64
	MeasuredUUM                     *float64 // standard uncertainty of each measured size

	EaseUM                  *float64 // nil: the custom for the kind of part
	AlphaPerK               *float64 // coefficient of part and shaft
	Material, ShaftMaterial string   // "": steel of 12 per million and kelvin; the part's own
	ShaftC                  *float64 // nil: 20 °C
	ShaftUK                 *float64 // standard uncertainty of the shaft's temperature; nil: left out
	PartC                   *float64 // the part before it is warmed; nil: as cold as the shaft
}

// given says whether anything of the seat was given.
func (d *SeatData) given() bool { return *d != SeatData{} }

// Seat puts the data into joint's form, and fills the defaults for the kind of part. Errors name the flag.
func (d *SeatData) Seat(kind judge.PartKind) (joint.Seat, error) {
	var s joint.Seat
	sizes := d.ShaftClass != "" || d.ShaftMeasuredUM != nil || d.BoreClass != "" || d.BoreMeasuredUM != nil
	switch {
	case d.BoreMM == nil || d.InterferenceUM == nil && !sizes:
		return s, errors.New("a seat needs --bore-mm and --interference-um, both; instead of the interference --shaft-class or a measured shaft will do")
	case d.InterferenceUM != nil && sizes:
		return s, errors.New("--interference-um says how tight the seat is, and so do classes and measured sizes: leave one of them out")
	case d.ShaftClass != "" && d.ShaftMeasuredUM != nil:
		return s, errors.New("--shaft-class and --shaft-measured-um both say how large the shaft is: leave one of them out")
	case d.BoreClass != "" && d.BoreMeasuredUM != nil:
		return s, errors.New("--bore-class and --bore-measured-um both say how large the bore is: leave one of them out")
	case d.MeasuredUUM != nil && d.ShaftMeasuredUM == nil && d.BoreMeasuredUM == nil:
		return s, errors.New("--measured-u-um is the uncertainty of measured sizes, and none is given: give --shaft-measured-um or --bore-measured-um, or leave it out")
	case d.AlphaPerK != nil && (d.Material != "" || d.ShaftMaterial != ""):
		return s, errors.New("--alpha-per-k and the materials both say how much is expanded: leave one of them out")
	}
	s = joint.Seat{DiameterMM: *d.BoreMM, EaseUM: d.EaseUM, Form: form(kind), ShaftC: joint.ReferenceC}
	if err := d.materials(&s); err != nil {
		return s, err
	}
	if d.ShaftC != nil {
		s.ShaftC = quantity.Celsius(*d.ShaftC)
	}
	if d.ShaftUK != nil {
		s.ShaftStdK = *d.ShaftUK
	}
	if d.PartC != nil {
		c := quantity.Celsius(*d.PartC)
		s.PartC = &c
	}
	if d.InterferenceUM != nil {
		s.Interference = joint.GivenInterference(*d.InterferenceUM)
		return s, nil
	}
	shaft, bore, err := d.sizes(kind)
	if err != nil {
		return s, err
	}
	s.Interference, err = joint.FindInterference(*d.BoreMM, shaft, bore, s.Shaft, s.Part)
	return s, err
}

// sizes says what is known of shaft and bore.
func (d *SeatData) sizes(kind judge.PartKind) (shaft, bore joint.SizeSpec, err error) {
	switch {
	case d.ShaftMeasuredUM != nil:
		shaft.Measured = d.measured(*d.ShaftMeasuredUM)
	case d.ShaftClass != "":
		shaft.Class = d.ShaftClass
	default:
		return shaft, bore, errors.New("the bore is only half of a seat: give --shaft-class or --shaft-measured-um too")
	}
	switch {
	case d.BoreMeasuredUM != nil:
		bore.Measured = d.measured(*d.BoreMeasuredUM)
	case d.BoreClass == "" && kind.TwoRings(), strings.EqualFold(d.BoreClass, joint.NormalBore):
		bore.Class = joint.NormalBore
		if !kind.TwoRings() {
			err = fmt.Errorf("--bore-class %s is for bearings: give one such as H7", d.BoreClass)
		}
	case d.BoreClass == "":
		err = fmt.Errorf("a %s has no bore class of its own: give --bore-class (such as H7) or --bore-measured-um", kind)
	default:
		bore.Class = d.BoreClass
	}
	return shaft, bore, err
}

// measured is a size from its deviation, in whole nanometres so that it prints as it was given.
func (d *SeatData) measured(deviationUM float64) *joint.Measured {
	m := &joint.Measured{SizeMM: math.Round(*d.BoreMM*1e6+deviationUM*1e3) / 1e6, AtC: joint.ReferenceC}
	if d.MeasuredUUM != nil {
		m.StdUM = *d.MeasuredUUM
	}
	return m
}

// materials fills in what part and shaft are made of.
func (d *SeatData) materials(s *joint.Seat) error {
	s.Part = steel(s.Form)
	if d.AlphaPerK != nil {
		s.Part = joint.GivenMaterial(*d.AlphaPerK, true)
		s.Shaft = s.Part
		return s.Part.Check()
	}
	var err error
	if d.Material != "" {
		if s.Part, err = parts.Material(d.Material); err != nil {
			return fmt.Errorf("--material: %w", err)
		}
	}
	s.Shaft = s.Part
	if d.ShaftMaterial != "" {
		if s.Shaft, err = parts.Material(d.ShaftMaterial); err != nil {
			return fmt.Errorf("--shaft-material: %w", err)
		}
	}
	return nil
}

// steel is the material taken when none is named. Its coefficient is the same for rings and hubs, its name is not.
func steel(f joint.Form) joint.Material {
	m := joint.BearingSteel()
	if f == joint.Hub {
		m.Name = "steel"
		m.Origin = joint.Origin{Source: "trade custom for steel, from memory; published tables have 11.2 to 12.5", Confidence: joint.Memory}
	}
	return m
}

// UseSeat works the needed bore temperature out of seat data and puts it, with its uncertainty and where
// it is from, into the judge's settings. Without seat data it does nothing.
func (s *Settings) UseSeat(d SeatData) error {
	if !d.given() {
		return nil
	}
	if s.Judge.NeedTempC != nil {
		return errors.New("--need-temp-c and the seat's data both say how warm the bore must be: leave one of them out")
	}
	seat, err := d.Seat(s.Judge.Kind)
	if err != nil {
		return err
	}
	need, err := joint.FindNeed(seat)
	if err != nil {
		return fmt.Errorf("seat: %w", err)
	}
	c := upTenth(float64(need.NeededC))
	s.Judge.NeedTempC = &c
	s.Judge.NeedTempU = need.StdK
	basis := fmt.Sprintf("largest interference %g µm", need.Interference.MaxUM)
	if d.InterferenceUM == nil {
		basis += " (" + need.Interference.Basis + ")"
	}
	s.Judge.NeedTempBasis = fmt.Sprintf("bore %g mm, %s, ease %g µm (%s), shaft at %g °C",
		*d.BoreMM, basis, need.EaseUM, need.EaseBasis, float64(seat.ShaftC))
	s.Said = append(s.Said, fmt.Sprintf("needed temperature %g °C worked out from the seat: %s", c, s.Judge.NeedTempBasis))
	return nil
}

// upTenth rounds a needed temperature up to tenths, and downTenth a limit down, so that no digit that nobody can read is
// printed and the rounding errs to the safe side. What is a tenth already stays.
func upTenth(v float64) float64   { return math.Ceil(v*10-1e-6) / 10 }
func downTenth(v float64) float64 { return math.Floor(v*10+1e-6) / 10 }

// form says what custom of ease a kind of part follows.
func form(k judge.PartKind) joint.Form {
	switch k {
	case judge.Gear, judge.Coupling, judge.Sleeve:
		return joint.Hub
	}
	return joint.Ring
}
