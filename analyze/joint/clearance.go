package joint

import (
	"fmt"
	"math"
	"strings"
	"sync"
)

// BearingType is a type of rolling bearing with cylindrical bore whose radial internal clearance ISO 5753-1 lists.
type BearingType string

// The types kept here.
const (
	DeepGrooveBall    BearingType = "deep-groove-ball"
	CylindricalRoller BearingType = "cylindrical-roller"
	SphericalRoller   BearingType = "spherical-roller"
)

// BearingTypes lists them, for messages and help.
const BearingTypes = "deep-groove-ball, cylindrical-roller, spherical-roller"

// Groups lists the clearance groups; CN is Normal.
const Groups = "C2, CN, C3, C4, C5"

// Radial is the range of radial internal clearance of an unmounted bearing, µm. Only MinUM matters for what heat can eat; MaxKnown is false
// where published copies dispute the upper bound.
type Radial struct {
	MinUM, MaxUM float64
	MaxKnown     bool
	Origin       Origin
	Note         string // why MaxUM is not known
}

// GivenClearance is the radial internal clearance of one bearing as its user knows it, µm.
func GivenClearance(minUM, maxUM float64) (Radial, error) {
	if !(minUM >= 0) || !(maxUM >= minUM) || math.IsInf(maxUM, 0) {
		return Radial{}, fmt.Errorf("internal clearance from %s to %s µm: two numbers of 0 or more are wanted, the smaller first", plain(minUM), plain(maxUM))
	}
	return Radial{MinUM: minUM, MaxUM: maxUM, MaxKnown: true, Origin: Origin{"given", Given}}, nil
}

type clearanceCell struct {
	kind  BearingType
	sizes sizeRange
	group string
	upper bool
	um    float64
	from  Origin
	why   string
}

var clearanceTable = sync.OnceValue(func() []clearanceCell {
	var t []clearanceCell
	readTable("iso5753_radial_clearance.csv", []string{"kind", "over_mm", "incl_mm", "group", "bound", "um", "source", "confidence", "why"}, func(c cells) {
		cell := clearanceCell{BearingType(c.text("kind")), c.sizes(), c.text("group"), c.text("bound") == "max", 0, c.origin(), c.text("why")}
		if cell.from.Confidence != Disputed {
			cell.um = c.number("um")
		}
		t = append(t, cell)
	})
	return t
})

// InternalClearance gives the radial internal clearance of a bearing by type, bore in mm and group (ISO 5753-1). Group "" is CN.
// What the published copies dispute is refused.
func InternalClearance(kind BearingType, boreMM float64, group string) (Radial, error) {
	group = strings.ToUpper(strings.TrimSpace(group))
	if group == "" {
		group = "CN"
	}
	if !contains(strings.Split(Groups, ", "), group) {
		return Radial{}, fmt.Errorf("clearance group %q is none of %s", group, Groups)
	}
	known := false
	var r Radial
	found := false
	for _, c := range clearanceTable() {
		if c.kind != kind {
			continue
		}
		known = true
		if c.group != group || !c.sizes.holds(boreMM) {
			continue
		}
		found = true
		switch {
		case c.from.Confidence == Disputed && !c.upper:
			return Radial{}, fmt.Errorf("internal clearance %s of a %s bearing with %s mm bore: %s, so no figure is given: give the bearing's own clearance", group, kind, plain(boreMM), c.why)
		case c.from.Confidence == Disputed:
			r.Note = c.why
		case c.upper:
			r.MaxUM, r.MaxKnown = c.um, true
			r.Origin.Confidence = weakest(r.Origin.Confidence, c.from.Confidence)
		default:
			r.MinUM = c.um
			r.Origin = Origin{c.from.Source, weakest(r.Origin.Confidence, c.from.Confidence)}
		}
	}
	switch {
	case !known:
		return Radial{}, fmt.Errorf("bearing type %q is none of %s", kind, BearingTypes)
	case !found:
		return Radial{}, fmt.Errorf("internal clearance of a %s bearing with %s mm bore is not in the table: give the bearing's own clearance", kind, plain(boreMM))
	}
	return r, nil
}
