package parts

import (
	"fmt"
	"strings"

	"ringheat/analyze/judge"
)

// Part is one row of a parts list. A nil pointer or an empty text is a cell that was left empty.
type Part struct {
	Name, Description string
	Kind              judge.PartKind
	RingClass         string // classes of the limits table, joined by '+'; never empty
	Cage              string // material of a bearing's cage: "steel", "brass", "polyamide", "phenolic"
	Sealed, Greased   bool

	BoreMM, OutsideMM, WidthMM *float64 // mm
	MassKG                     *float64

	ShaftClass, BoreClass   string   // tolerance classes of the seat
	InterferenceUM, EaseUM  *float64 // µm
	NeedTempC               *float64 // needed bore temperature, °C, where no seat is given
	Material, ShaftMaterial string   // names of joint's table of materials
	AlphaPerK               *float64 // coefficient of part and shaft, 1/K

	BearingType, ClearanceGroup    string
	ClearanceMinUM, ClearanceMaxUM *float64 // the bearing's own, µm, where no group is given

	MaxTempC         *float64 // °C; nil: the limits table's
	MaxTempSource    string
	MaxRingDiffK     *float64 // K; nil: the limits table's
	OverTimeAllowedS *float64
	OverCeilingK     *float64

	MaxRateKPerMin *float64 // the maker's fastest warming
	MaxRateSource  string
	HoldMin        *float64 // the maker's holding time
	HoldSource     string
	Note           string

	Line int // in the file
}

// Classes are all classes of the limits table that hold for the part, joined by '+': the class of its rings, its cage,
// seals and grease. The strictest decides.
func (p *Part) Classes() string { return p.classes(p.RingClass) }

// ClassesWith is Classes with another class of the rings: cage, seals and grease stay.
func (p *Part) ClassesWith(ringClass string) string { return p.classes(ringClass) }

func (p *Part) classes(rings string) string {
	list := []string{rings}
	if p.Cage != "" {
		list = append(list, cagePrefix+p.Cage)
	}
	if p.Sealed {
		list = append(list, "sealed")
	}
	if p.Greased {
		list = append(list, "greased")
	}
	return strings.Join(list, "+")
}

const cagePrefix = "cage-"

// HasSeat says whether the part's row lets a needed temperature be worked out.
func (p *Part) HasSeat() bool {
	return p.BoreMM != nil && (p.InterferenceUM != nil || p.ShaftClass != "")
}

// HasClearance says whether the part's row tells its internal clearance.
func (p *Part) HasClearance() bool { return p.ClearanceGroup != "" || p.ClearanceMinUM != nil }

// List is a parts list.
type List struct {
	Name  string // the file's name
	Parts []Part // in the file's order; names are unique
}

// Find gives a part by its name, without regard to case and spaces around it.
func (l *List) Find(name string) (*Part, error) {
	name = strings.TrimSpace(name)
	for i := range l.Parts {
		if strings.EqualFold(l.Parts[i].Name, name) {
			return &l.Parts[i], nil
		}
	}
	return nil, fmt.Errorf("%s has no part %q: its parts are %s", l.Name, shorten(name), l.names())
}

// names lists the parts, the first of them when there are many.
func (l *List) names() string {
	const most = 12
	var names []string
	for i := range l.Parts {
		if i == most {
			return fmt.Sprintf("%s and %d more", strings.Join(names, ", "), len(l.Parts)-most)
		}
		names = append(names, l.Parts[i].Name)
	}
	return strings.Join(names, ", ")
}
