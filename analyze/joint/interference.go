package joint

import (
	"errors"
	"fmt"
	"math"

	"ringheat/analyze/quantity"
)

// Measured is a diameter that was measured.
type Measured struct {
	SizeMM float64
	StdUM  float64          // standard uncertainty, µm; 0 means not stated, and the answer says so
	AtC    quantity.Celsius // temperature of the part when measured; 20 is the reference temperature of ISO 1
}

// SizeSpec is what is known of the shaft's or the bore's diameter: exactly one of the three.
type SizeSpec struct {
	Class    string      // tolerance class: "m6" for a shaft, "H7" for a hub's bore, "Normal" for a bearing's bore
	Measured *Measured   // measured size
	Limits   *Deviations // limit deviations from a drawing, µm; the Origin is the user's
}

// Interference is how much larger the shaft is than the bore, both at 20 °C, µm. Negative means clearance.
type Interference struct {
	MinUM, MaxUM float64
	StdUM        float64 // standard uncertainty of MaxUM from measuring; 0 when it comes from tolerances
	Basis        string  // plain words
	Origin       Origin
}

// GivenInterference is an interference that the user states as one number, µm.
func GivenInterference(um float64) Interference {
	return Interference{MinUM: um, MaxUM: um, Basis: "interference as given", Origin: Origin{Source: "given", Confidence: Given}}
}

// size is a diameter's range about the nominal, µm.
type size struct {
	lowerUM, upperUM, stdUM float64
	words                   string
	from                    Origin
}

// resolve turns a spec into limits about the nominal at 20 °C.
func (s SizeSpec) resolve(what string, nominalMM float64, m Material, tolerance func(float64, string) (Deviations, error)) (size, error) {
	given := 0
	for _, is := range []bool{s.Class != "", s.Measured != nil, s.Limits != nil} {
		if is {
			given++
		}
	}
	if given != 1 {
		return size{}, fmt.Errorf("%s: give exactly one of tolerance class, measured size and limit deviations", what)
	}
	switch {
	case s.Measured != nil:
		v := *s.Measured
		if !(v.SizeMM > 0) || math.IsInf(v.SizeMM, 0) || v.StdUM < 0 || !quantity.Finite(v.StdUM) || !quantity.Finite(float64(v.AtC)) {
			return size{}, fmt.Errorf("%s: a measured size is a positive number of mm with an uncertainty of 0 or more µm", what)
		}
		strain, err := m.Strain(v.AtC)
		if err != nil {
			return size{}, fmt.Errorf("%s, measured at %s °C: %w", what, plain(float64(v.AtC)), err)
		}
		at20 := v.SizeMM / (1 + strain)
		um := (at20 - nominalMM) * 1000
		if math.Abs(um) > 0.01*nominalMM*1000 {
			return size{}, fmt.Errorf("%s: the measured %s mm is more than 1 %% away from the nominal %s mm: check both", what, plain(v.SizeMM), plain(nominalMM))
		}
		words := fmt.Sprintf("%s measured as %s mm", what, plain(v.SizeMM))
		if v.AtC != 20 {
			words += fmt.Sprintf(" at %s °C", plain(float64(v.AtC)))
		}
		if v.StdUM == 0 {
			words += ", uncertainty of measuring not stated and left out"
		}
		return size{um, um, v.StdUM, words, Origin{"measured", Given}}, nil
	case s.Limits != nil:
		if !quantity.Finite(s.Limits.LowerUM) || !quantity.Finite(s.Limits.UpperUM) || s.Limits.LowerUM > s.Limits.UpperUM {
			return size{}, fmt.Errorf("%s: the lower deviation %s µm lies above the upper one %s µm", what, plain(s.Limits.LowerUM), plain(s.Limits.UpperUM))
		}
		from := s.Limits.Origin
		if from.Source == "" {
			from.Source = "given"
		}
		return size{s.Limits.LowerUM, s.Limits.UpperUM, 0, fmt.Sprintf("%s %+g/%+g µm", what, s.Limits.UpperUM, s.Limits.LowerUM), from}, nil
	}
	d, err := tolerance(nominalMM, s.Class)
	if err != nil {
		return size{}, err
	}
	return size{d.LowerUM, d.UpperUM, 0, fmt.Sprintf("%s %s (%+g/%+g µm)", what, s.Class, d.UpperUM, d.LowerUM), d.Origin}, nil
}

// NormalBore is the class name of a bearing bore after ISO 492.
const NormalBore = "Normal"

func boreTolerance(nominalMM float64, class string) (Deviations, error) {
	if class == NormalBore {
		return BearingBore(nominalMM)
	}
	return Hole(nominalMM, class)
}

// FindInterference gives the interference between a shaft seat and a bore of the same nominal diameter in mm. The materials
// serve to bring measured sizes to 20 °C.
func FindInterference(nominalMM float64, shaft, bore SizeSpec, shaftMaterial, partMaterial Material) (Interference, error) {
	if !(nominalMM > 0) || math.IsInf(nominalMM, 0) {
		return Interference{}, errors.New("nominal diameter: a positive number of mm is wanted")
	}
	s, err := shaft.resolve("shaft", nominalMM, shaftMaterial, Shaft)
	if err != nil {
		return Interference{}, err
	}
	b, err := bore.resolve("bore", nominalMM, partMaterial, boreTolerance)
	if err != nil {
		return Interference{}, err
	}
	source := s.from.Source
	if b.from.Source != source {
		source += "; " + b.from.Source
	}
	return Interference{
		MinUM: s.lowerUM - b.upperUM, MaxUM: s.upperUM - b.lowerUM,
		StdUM:  math.Hypot(s.stdUM, b.stdUM),
		Basis:  s.words + ", " + b.words,
		Origin: Origin{source, weakest(s.from.Confidence, b.from.Confidence)},
	}, nil
}
