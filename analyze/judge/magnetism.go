package judge

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"ringheat/analyze/quantity"
)

// FieldUnit is a unit in which a residual magnetic field is read.
type FieldUnit string

// The units. mT and gauss are units of flux density, turned into field strength as in air.
const (
	AmperePerCentimetre FieldUnit = "A/cm"
	AmperePerMetre      FieldUnit = "A/m"
	Millitesla          FieldUnit = "mT"
	Gauss               FieldUnit = "G"
	Oersted             FieldUnit = "Oe"
)

// perUnit is the field strength in A/cm of one unit in air, with mu0 = 4 pi 1e-7 H/m (exact up to the
// SI of 2019, and to 2e-10 since): 1 A/cm is 0.1256637 mT or 1.256637 G; 1 Oe is 1000/(4 pi) A/m.
func (u FieldUnit) perUnit() (float64, bool) {
	switch u {
	case AmperePerCentimetre:
		return 1, true
	case AmperePerMetre:
		return 0.01, true
	case Millitesla:
		return 100 / (4 * math.Pi), true
	case Gauss, Oersted:
		return 10 / (4 * math.Pi), true
	}
	return 0, false
}

// ParseFieldUnit reads the name of a unit as people write it.
func ParseFieldUnit(text string) (FieldUnit, error) {
	switch strings.ToLower(strings.ReplaceAll(strings.TrimSpace(text), " ", "")) {
	case "a/cm":
		return AmperePerCentimetre, nil
	case "a/m":
		return AmperePerMetre, nil
	case "mt", "millitesla":
		return Millitesla, nil
	case "g", "gs", "gauss":
		return Gauss, nil
	case "oe", "oersted":
		return Oersted, nil
	}
	return "", fmt.Errorf("%q is not a unit of a magnetic field: give A/cm, A/m, mT, G or Oe", shorten(text))
}

// Magnetism is a reading of the part's residual field after warming.
type Magnetism struct {
	Value      float64   // highest reading at the part, in Unit; the sign only tells the pole
	Unit       FieldUnit // "" is A/cm
	Background *float64  // reading away from the part, in Unit; nil: budgeted with usualBackground
	LimitAcm   *float64  // tolerance limit, A/cm; nil: usualFieldLimit, said
}

// The customary limit of the field left in a bearing after warming, and the field of the surroundings
// that is budgeted where none was read, both in A/cm (common practice, no source, from memory).
const (
	usualFieldLimit = 2
	usualBackground = 0.4
)

func (m *Magnetism) check() error {
	if m.Unit != "" {
		if _, ok := m.Unit.perUnit(); !ok {
			return fmt.Errorf("the unit %q of the residual field is not known: give A/cm, A/m, mT, G or Oe", m.Unit)
		}
	}
	if !quantity.Finite(m.Value) || m.Background != nil && !quantity.Finite(*m.Background) {
		return errors.New("the reading of the residual field is not a number")
	}
	if m.LimitAcm != nil && !(quantity.Finite(*m.LimitAcm) && *m.LimitAcm > 0) {
		return errors.New("the limit of the residual field must be a number above 0 A/cm")
	}
	return nil
}

// judge compares the residual field with its limit, both in A/cm.
func (m *Magnetism) judge(g float64, rule Rule) Finding {
	f := Finding{Check: Magnet, Coverage: 2}
	unit := m.Unit
	if unit == "" {
		unit = AmperePerCentimetre
	}
	per, _ := unit.perUnit()
	limit := float64(usualFieldLimit)
	if m.LimitAcm != nil {
		limit = *m.LimitAcm
	} else {
		f.Assumed = append(f.Assumed, fmt.Sprintf("limit of the residual field %s A/cm: common practice, no source, from memory", plain(limit)))
	}
	background, basis := usualBackground, "field of the surroundings, not read; common practice, no source"
	if m.Background != nil {
		background, basis = math.Abs(*m.Background)*per, "field read away from the part"
	} else {
		f.Assumed = append(f.Assumed, fmt.Sprintf("a field of the surroundings of %s A/cm is allowed for, as none was read", plain(background)))
	}
	if unit != AmperePerCentimetre && unit != AmperePerMetre {
		f.Assumed = append(f.Assumed, fmt.Sprintf("%s turned into A/cm as in air", unit))
	}
	const stepAcm = 0.01
	y := inSteps(math.Abs(m.Value)*per, stepAcm)
	var u uncertainty
	u.rectangular("field of the surroundings", background, basis)
	u.rectangular("display step", stepAcm/2, "rounding to 0.01 A/cm")
	expanded, k := u.expanded()
	d := atMost(y, limit, expanded, g, rule)
	f.Verdict, f.Value, f.Limit, f.Acceptance, f.Uncertainty, f.Coverage = d.verdict, ptr(y), ptr(limit), ptr(d.acceptance), ptr(expanded), k
	f.Conformance, f.Budget = ptr(conformance(y, limit, u.standard())), u.budget
	if d.verdict == Fail {
		f.Proven = ptr(d.proven)
	}
	side := "below"
	if exceeds(y, limit) {
		side = "above"
	}
	only := ""
	if d.verdict == Unproven {
		only = "only "
	}
	f.Reason = fmt.Sprintf("residual field of %s A/cm, %s%s A/cm %s the limit of %s A/cm, with an uncertainty of %s A/cm",
		quantity.FormatDecimals(y, 2), only, quantity.FormatDecimals(math.Abs(y-limit), 2), side, plain(limit), quantity.FormatDecimals(expanded, 2))
	return f
}
