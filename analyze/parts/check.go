package parts

import (
	"fmt"
	"strings"

	"ringheat/analyze/joint"
	"ringheat/analyze/judge"
)

// check holds a row's figures against each other, against the limits table and against joint's tables. The message names the
// column to change.
func (p *Part) check(limits *judge.LimitsTable) error {
	for _, check := range []func() error{
		func() error { return p.checkClasses(limits) }, p.checkSizes, p.checkSeat, p.checkMaterials, p.checkClearance, p.checkMaker,
	} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// checkClasses holds the classes against the limits table, and a limit of the part's own against theirs.
func (p *Part) checkClasses(limits *judge.LimitsTable) error {
	for _, c := range []struct {
		column string
		given  bool
	}{{"cage", p.Cage != ""}, {"sealed", p.Sealed}, {"greased", p.Greased}} {
		if c.given && !p.Kind.TwoRings() {
			return fmt.Errorf("column %s: a %s has none: leave it empty, or correct kind", c.column, p.Kind)
		}
	}
	if _, err := limits.Find(p.Kind, p.RingClass); err != nil {
		return fmt.Errorf("column ring_class: %w", err)
	}
	if p.Cage != "" {
		if _, err := limits.Find(p.Kind, cagePrefix+p.Cage); err != nil {
			return fmt.Errorf("column cage: no class %s in the limits table: %w", cagePrefix+shorten(p.Cage), err)
		}
	}
	found, err := limits.Find(p.Kind, p.Classes())
	if err != nil {
		return fmt.Errorf("columns sealed and greased: %w", err)
	}
	switch {
	case p.MaxTempC == nil && p.MaxTempSource != "":
		return fmt.Errorf("column max_temp_source says where max_temp_c is from, which is empty: give the temperature in °C, or leave both empty")
	case p.MaxTempC != nil && *p.MaxTempC > found.MaxTemp.Value && p.MaxTempSource == "":
		return fmt.Errorf("column max_temp_c: %s °C is above the %s °C of class %s (%s): say in max_temp_source where it is from, or correct one of them",
			plain(*p.MaxTempC), plain(found.MaxTemp.Value), found.MaxTempClass, found.MaxTemp.Source)
	case p.MaxRingDiffK != nil && !p.Kind.TwoRings():
		return fmt.Errorf("column max_ring_diff_k: a %s is one body and has no difference between rings: leave it empty", p.Kind)
	case p.OverCeilingK != nil && p.OverTimeAllowedS == nil:
		return fmt.Errorf("column over_ceiling_k bounds the allowance of over_time_allowed_s, which is empty: give both or neither")
	}
	return nil
}

func (p *Part) checkSizes() error {
	switch {
	case p.OutsideMM != nil && p.BoreMM != nil && *p.OutsideMM <= *p.BoreMM:
		return fmt.Errorf("column outside_diameter_mm: %s mm is not larger than the bore of %s mm: correct one of them", plain(*p.OutsideMM), plain(*p.BoreMM))
	case p.InterferenceUM != nil && p.BoreMM != nil && *p.InterferenceUM > 10**p.BoreMM:
		return fmt.Errorf("column interference_um: %s µm is more than 1 %% of the bore of %s mm: check the units", plain(*p.InterferenceUM), plain(*p.BoreMM))
	case p.EaseUM != nil && p.BoreMM != nil && *p.EaseUM > 10**p.BoreMM:
		return fmt.Errorf("column ease_um: %s µm is more than 1 %% of the bore of %s mm: check the units", plain(*p.EaseUM), plain(*p.BoreMM))
	}
	return nil
}

// checkSeat refuses seat data that say too little, or two things.
func (p *Part) checkSeat() error {
	seat := p.ShaftClass != "" || p.InterferenceUM != nil
	switch {
	case p.ShaftClass != "" && p.InterferenceUM != nil:
		return fmt.Errorf("columns shaft_class and interference_um both say how tight the seat is: leave one of them empty")
	case seat && p.NeedTempC != nil:
		return fmt.Errorf("column need_temp_c and the seat's data both say how warm the bore must be: leave one of them empty")
	case seat && p.BoreMM == nil:
		return fmt.Errorf("column bore_mm is empty: the seat's data need it, in mm")
	case p.EaseUM != nil && !seat:
		return fmt.Errorf("column ease_um is the clearance wanted on a seat, and the row has none: give shaft_class or interference_um, or leave it empty")
	case p.BoreClass != "" && p.ShaftClass == "":
		return fmt.Errorf("column bore_class is half of a seat: give shaft_class too, or leave it empty")
	case p.ShaftClass != "" && p.BoreClass == "" && !p.Kind.TwoRings():
		return fmt.Errorf("column bore_class is empty: a %s has no bore class of its own; give one such as H7", p.Kind)
	case p.ShaftClass == "":
		return nil
	}
	if _, err := joint.Shaft(*p.BoreMM, p.ShaftClass); err != nil {
		return fmt.Errorf("column shaft_class: %w", err)
	}
	if p.BoreClass == "" || strings.EqualFold(p.BoreClass, joint.NormalBore) {
		if !p.Kind.TwoRings() {
			return fmt.Errorf("column bore_class: %s is for bearings: give one such as H7", joint.NormalBore)
		}
		p.BoreClass = joint.NormalBore
		if _, err := joint.BearingBore(*p.BoreMM); err != nil {
			return fmt.Errorf("column bore_class: %w", err)
		}
		return nil
	}
	if _, err := joint.Hole(*p.BoreMM, p.BoreClass); err != nil {
		return fmt.Errorf("column bore_class: %w", err)
	}
	return nil
}

func (p *Part) checkMaterials() error {
	for _, m := range []struct{ column, name string }{{"material", p.Material}, {"shaft_material", p.ShaftMaterial}} {
		if m.name == "" {
			continue
		}
		if p.AlphaPerK != nil {
			return fmt.Errorf("columns %s and alpha_per_k both say how much is expanded: leave one of them empty", m.column)
		}
		if _, err := Material(m.name); err != nil {
			return fmt.Errorf("column %s: %w", m.column, err)
		}
	}
	if p.Material == ElongationSteel && (p.Kind.TwoRings() || p.Kind == judge.Ring) {
		return fmt.Errorf("column material: %s is for hubs of carbon steel, not for hardened rings: name another", ElongationSteel)
	}
	return nil
}

// ElongationSteel names carbon steel that expands after the elongation formula of EN 1993-1-2, for hubs.
const ElongationSteel = "carbon-steel-en1993"

// Material finds a material by name: joint's table, or ElongationSteel.
func Material(name string) (joint.Material, error) {
	if strings.EqualFold(strings.TrimSpace(name), ElongationSteel) {
		return joint.CarbonSteelHub(), nil
	}
	m, err := joint.FindMaterial(name)
	if err != nil {
		return m, fmt.Errorf("material %q is not known: name one of %s, or give the coefficient", shorten(name), strings.Join(MaterialNames(), ", "))
	}
	return m, nil
}

// MaterialNames lists the materials that may be named.
func MaterialNames() []string {
	var names []string
	for _, m := range joint.Materials() {
		names = append(names, m.Name)
	}
	return append(names, ElongationSteel)
}

// checkClearance refuses clearance data that can't be used.
func (p *Part) checkClearance() error {
	own := p.ClearanceMinUM != nil || p.ClearanceMaxUM != nil
	switch {
	case !p.Kind.TwoRings() && (own || p.ClearanceGroup != "" || p.BearingType != ""):
		return fmt.Errorf("columns bearing_type and clearance_group are for bearings, and a %s is none: leave them empty, or correct kind", p.Kind)
	case own && p.ClearanceGroup != "":
		return fmt.Errorf("columns clearance_group and clearance_min_um both say how large the internal clearance is: leave one of them empty")
	case own && (p.ClearanceMinUM == nil || p.ClearanceMaxUM == nil):
		return fmt.Errorf("columns clearance_min_um and clearance_max_um belong together: give both, in µm")
	case own && *p.ClearanceMaxUM < *p.ClearanceMinUM:
		return fmt.Errorf("column clearance_max_um: %s µm is less than clearance_min_um, %s µm: correct one of them", plain(*p.ClearanceMaxUM), plain(*p.ClearanceMinUM))
	case p.ClearanceGroup != "" && p.BearingType == "":
		return fmt.Errorf("column bearing_type is empty: a clearance group needs it; give one of %s", joint.BearingTypes)
	case (own || p.ClearanceGroup != "") && (p.BoreMM == nil || p.OutsideMM == nil):
		return fmt.Errorf("columns bore_mm and outside_diameter_mm: what heat takes from the clearance needs both, in mm")
	}
	if p.BearingType != "" && !contains(strings.Split(joint.BearingTypes, ", "), p.BearingType) {
		return fmt.Errorf("column bearing_type: %q is none of %s", shorten(p.BearingType), joint.BearingTypes)
	}
	if p.ClearanceGroup != "" {
		if _, err := joint.InternalClearance(joint.BearingType(p.BearingType), *p.BoreMM, p.ClearanceGroup); err != nil {
			return fmt.Errorf("column clearance_group: %w", err)
		}
	}
	return nil
}

// checkMaker asks for the source of figures that only a part's maker can give.
func (p *Part) checkMaker() error {
	for _, m := range []struct {
		column, source string
		v              *float64
	}{{"max_rate", p.MaxRateSource, p.MaxRateKPerMin}, {"hold", p.HoldSource, p.HoldMin}} {
		if m.v != nil && m.source == "" {
			return fmt.Errorf("column %s_source is empty: say which of the maker's documents the figure is from", m.column)
		}
		if m.v == nil && m.source != "" {
			return fmt.Errorf("column %s_source is given, but its figure is empty: give both or neither", m.column)
		}
	}
	return nil
}

func contains(list []string, s string) bool {
	for _, v := range list {
		if v == s {
			return true
		}
	}
	return false
}
