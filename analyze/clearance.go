package analyze

import (
	"errors"
	"fmt"

	"ringheat/analyze/joint"
	"ringheat/analyze/judge"
	"ringheat/analyze/quantity"
)

// ClearanceData is what a user gives of a bearing's internal clearance: type and group, or the bearing's own range; and the
// outside diameter, from which the raceways are estimated.
type ClearanceData struct {
	BearingType, Group string
	MinUM, MaxUM       *float64 // the bearing's own, instead of a group
	OutsideMM          *float64
}

func (d *ClearanceData) given() bool {
	return d.BearingType != "" || d.Group != "" || d.MinUM != nil || d.MaxUM != nil || d.OutsideMM != nil
}

// Clearance is a bearing's internal clearance and what warming and mounting take of it.
type Clearance struct {
	Words    string // "C3 of a cylindrical-roller bearing"
	Radial   joint.Radial
	Raceways joint.Raceways
	Evenness joint.Evenness
	// LimitK is the difference, inner ring hotter, at which the smallest clearance is used up, rounded down to tenths; 0 when the
	// smallest clearance is none, so that it gives no limit.
	LimitK float64
	Note   string // why it gives no limit; "" when it does

	Left  []ClearanceLeft // over the difference between the rings
	After *joint.AfterMounting
	// CustomaryK is the limit of evenness that holds beside it, and StricterWords which of the two decides.
	CustomaryK      float64
	CustomaryWords  string
	StricterWords   string
	ClearanceStrict bool // the clearance's limit is the stricter
}

// ClearanceLeft is the clearance left at one difference between the rings.
type ClearanceLeft struct {
	DiffK float64
	Left  joint.Left
}

// radial finds the clearance of the unmounted bearing.
func (d *ClearanceData) radial(boreMM float64) (r joint.Radial, words string, err error) {
	own := d.MinUM != nil || d.MaxUM != nil
	switch {
	case own && d.Group != "":
		return r, "", errors.New("--clearance-group and the bearing's own clearance both say how large it is: leave one of them out")
	case own && (d.MinUM == nil || d.MaxUM == nil):
		return r, "", errors.New("--clearance-min-um and --clearance-max-um belong together: give both")
	case own:
		r, err = joint.GivenClearance(*d.MinUM, *d.MaxUM)
		return r, "the bearing's own internal clearance", err
	case d.Group == "" || d.BearingType == "":
		return r, "", fmt.Errorf("internal clearance needs --clearance-group (%s) and --bearing-type (%s), both", joint.Groups, joint.BearingTypes)
	}
	r, err = joint.InternalClearance(joint.BearingType(d.BearingType), boreMM, d.Group)
	return r, fmt.Sprintf("internal clearance %s of a %s bearing", d.Group, d.BearingType), err
}

// find works out clearance, raceways and the difference that uses the clearance up.
func (d *ClearanceData) find(kind judge.PartKind, boreMM *float64, m joint.Material) (*Clearance, error) {
	if !kind.TwoRings() {
		return nil, fmt.Errorf("internal clearance is for bearings, and a %s has none: leave it out", kind)
	}
	if boreMM == nil || d.OutsideMM == nil {
		return nil, errors.New("what heat takes from the internal clearance needs --bore-mm and --outside-mm, both")
	}
	var c Clearance
	var err error
	if c.Radial, c.Words, err = d.radial(*boreMM); err != nil {
		return nil, err
	}
	if c.Raceways, err = joint.EstimateRaceways(*boreMM, *d.OutsideMM); err != nil {
		return nil, err
	}
	if c.Evenness, err = joint.EvennessLimit(c.Raceways, m, c.Radial); err != nil {
		return nil, err
	}
	if c.LimitK = downTenth(float64(c.Evenness.CautiousK)); c.LimitK <= 0 {
		c.LimitK = 0
		c.Note = "the smallest clearance of the group is none or next to none, so any hotter inner ring may use it up: it gives no limit to judge by; " +
			"give the bearing's own clearance, and warm evenly"
	}
	return &c, nil
}

// leftAt lists the clearance left over the difference between the rings, the inner one at innerC.
func (c *Clearance) leftAt(m joint.Material, innerC float64, diffsK []float64) error {
	for _, k := range diffsK {
		left, err := joint.LeftWhileWarm(c.Raceways, m, c.Radial, quantity.Celsius(innerC), quantity.Celsius(innerC-k))
		if err != nil {
			return err
		}
		c.Left = append(c.Left, ClearanceLeft{k, left})
	}
	return nil
}

// compare says which limit of evenness decides.
func (c *Clearance) compare(customaryK float64, words string) {
	c.CustomaryK, c.CustomaryWords = customaryK, words
	switch {
	case c.LimitK == 0:
		c.StricterWords = fmt.Sprintf("the customary limit of %g K decides", customaryK)
	case c.LimitK < customaryK:
		c.ClearanceStrict = true
		c.StricterWords = fmt.Sprintf("the clearance decides: it is used up at %g K, before the customary limit of %g K", c.LimitK, customaryK)
	default:
		c.StricterWords = fmt.Sprintf("the customary limit of %g K decides: the clearance is used up at %g K only", customaryK, c.LimitK)
	}
}

// UseClearance works out at which difference between the rings the internal clearance is used up, and gives it to the judge as a
// second limit of evenness. Without clearance data it does nothing.
func (s *Settings) UseClearance(d ClearanceData, seat SeatData) error {
	if !d.given() || d.Group == "" && d.MinUM == nil && d.MaxUM == nil {
		return nil
	}
	form := joint.Seat{Form: form(s.Judge.Kind)}
	if err := seat.materials(&form); err != nil {
		return err
	}
	c, err := d.find(s.Judge.Kind, seat.BoreMM, form.Part)
	if err != nil {
		return err
	}
	switch own := s.Judge.ClearanceDiffK; {
	case own != nil && *own != c.LimitK:
		s.Said = append(s.Said, fmt.Sprintf("--clearance-diff-k %g overrules the clearance of the part, which is used up at %g K: %s", *own, c.LimitK, c.Words))
	case own != nil:
	case c.LimitK == 0:
		s.Said = append(s.Said, c.Words+": "+c.Note)
	default:
		s.Judge.ClearanceDiffK = &c.LimitK
		s.Said = append(s.Said, fmt.Sprintf("%s: %s; taken as a second limit of evenness, the stricter decides", c.Words, c.Evenness.Words))
	}
	return nil
}
