package cli

import (
	"fmt"
	"os"
	"strings"

	"ringheat/analyze"
	"ringheat/analyze/judge"
	"ringheat/analyze/parts"
)

// loadParts reads a parts list.
func loadParts(path string, table *judge.LimitsTable) (*parts.List, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, usagef("check the spelling and the folder", "can't open the parts list %s: %v", path, reason(err))
	}
	defer file.Close()
	list, err := parts.Load(file, path, table)
	if err != nil {
		return nil, usagef("ringheat parts --template prints a list to start from", "%v", err)
	}
	return list, nil
}

// partsLists keeps the parts list that was read last, so that a run sheet's rows read it once. The zero value is empty; a nil one
// keeps nothing.
type partsLists struct {
	path  string
	table *judge.LimitsTable
	list  *parts.List
}

func (l *partsLists) load(path string, table *judge.LimitsTable) (*parts.List, error) {
	if l == nil {
		return loadParts(path, table)
	}
	if l.list == nil || l.path != path || l.table != table {
		list, err := loadParts(path, table)
		if err != nil {
			return nil, err
		}
		*l = partsLists{path, table, list}
	}
	return l.list, nil
}

// partFlags are the flags that a part of a parts list may fill.
type partFlags struct {
	name, kind, ringClass string
	maxTemp, maxRingDiff  optional
	overTime, overCeiling optional
	needTemp              optional
	seat                  seatFlags
	seatAsked             bool // the needed temperature comes from the seat

	needBasis string // where needTemp is from; "" for a flag
	maker     analyze.Maker
	said      []string // what was taken from the part, and what overruled it
}

// findPart finds the part that --part names in the list that --parts names; nil when no list is named.
func findPart(lists *partsLists, path, name string, table *judge.LimitsTable) (*parts.Part, *parts.List, error) {
	if path == "" {
		return nil, nil, nil
	}
	list, err := lists.load(path, table)
	if err != nil {
		return nil, nil, err
	}
	if strings.TrimSpace(name) == "" {
		return nil, nil, usagef("name the part with --part, or in the run sheet's column part", "%s is a list of %d parts, and none is named", path, len(list.Parts))
	}
	p, err := list.Find(name)
	if err != nil {
		return nil, nil, usagef("correct the name, or add the part to the list; ringheat parts "+path+" prints it", "%v", err)
	}
	return p, list, nil
}

// take fills the flags that were not given from a part. A flag that was given overrules the part's value, and that is said.
func (f *partFlags) take(p *parts.Part, listName string, table *judge.LimitsTable) error {
	from := fmt.Sprintf("part %s of %s", p.Name, listName)
	overrules := func(flag, given, column, own string) {
		f.said = append(f.said, fmt.Sprintf("%s %s overrules %s %s of %s", flag, given, column, own, from))
	}
	number := func(flag string, into *optional, column string, own *float64) {
		switch {
		case own == nil:
		case into.v == nil:
			into.v = own
		case *into.v != *own:
			overrules(flag, into.String(), column, (&optional{own}).String())
		}
	}
	text := func(flag string, into *string, column, own string) {
		switch {
		case own == "":
		case *into == "":
			*into = own
		case !strings.EqualFold(*into, own):
			overrules(flag, *into, column, own)
		}
	}

	f.name = p.Name
	f.said = append(f.said, "taken from the parts list: "+from)
	sameKind := f.kind == "" || judge.PartKind(f.kind) == p.Kind
	text("--kind", &f.kind, "kind", string(p.Kind))
	f.takeClass(p, sameKind, overrules)
	if sameKind {
		f.takeLimits(p, from, table, overrules, number)
	}
	f.maker = analyze.Maker{MaxRateKPerMin: p.MaxRateKPerMin, MaxRateSource: p.MaxRateSource, HoldMin: p.HoldMin, HoldSource: p.HoldSource}

	if err := f.takeNeed(p, from, overrules, number, text); err != nil {
		return err
	}
	if p.Kind.TwoRings() && sameKind && p.HasClearance() && f.seat.group == "" && f.seat.clearanceMin.v == nil {
		f.seat.group, f.seat.clearanceMin.v, f.seat.clearanceMax.v = p.ClearanceGroup, p.ClearanceMinUM, p.ClearanceMaxUM
	} else if p.HasClearance() && sameKind {
		f.said = append(f.said, "the clearance given overrules that of "+from)
	}
	if sameKind && (f.seat.group != "" || f.seat.clearanceMin.v != nil) {
		text("--bearing-type", &f.seat.bearingType, "bearing_type", p.BearingType)
		number("--outside-mm", &f.seat.outsideDiam, "outside_diameter_mm", p.OutsideMM)
	}
	return nil
}

// takeClass joins the classes of the part. Cage, seals and grease stay even if --ring-class names other rings.
func (f *partFlags) takeClass(p *parts.Part, sameKind bool, overrules func(flag, given, column, own string)) {
	switch {
	case !sameKind:
		f.said = append(f.said, fmt.Sprintf("classes and limits of part %s are those of a %s and are left out", p.Name, p.Kind))
	case f.ringClass == "":
		f.ringClass = p.Classes()
	default:
		if !strings.EqualFold(f.ringClass, p.RingClass) {
			overrules("--ring-class", f.ringClass, "ring_class", p.RingClass)
		}
		f.ringClass = p.ClassesWith(f.ringClass)
	}
}

// takeLimits takes what the part stands.
func (f *partFlags) takeLimits(p *parts.Part, from string, table *judge.LimitsTable, overrules func(flag, given, column, own string),
	number func(string, *optional, string, *float64)) {
	switch {
	case f.maxTemp.v != nil && p.MaxTempC == nil:
		if found, err := table.Find(p.Kind, p.Classes()); err == nil && *f.maxTemp.v != found.MaxTemp.Value {
			overrules("--max-temp-c", f.maxTemp.String(), "the limit", fmt.Sprintf("%g °C of class %s", found.MaxTemp.Value, found.MaxTempClass))
		}
	case f.maxTemp.v == nil && p.MaxTempC != nil:
		where := "max_temp_c"
		if p.MaxTempSource != "" {
			where += ", " + p.MaxTempSource
		}
		f.said = append(f.said, fmt.Sprintf("limit %g °C from %s (%s)", *p.MaxTempC, from, where))
	}
	number("--max-temp-c", &f.maxTemp, "max_temp_c", p.MaxTempC)
	number("--max-ring-diff-k", &f.maxRingDiff, "max_ring_diff_k", p.MaxRingDiffK)
	number("--over-time-allowed-s", &f.overTime, "over_time_allowed_s", p.OverTimeAllowedS)
	number("--over-ceiling-k", &f.overCeiling, "over_ceiling_k", p.OverCeilingK)
}

// takeNeed settles where the needed temperature comes from: a flag, the flags' own seat, or the part.
func (f *partFlags) takeNeed(p *parts.Part, from string, overrules func(flag, given, column, own string),
	number func(string, *optional, string, *float64), text func(flag string, into *string, column, own string)) error {
	s := &f.seat
	given := s.some()
	f.seatAsked = given != ""
	number("--bore-mm", &s.bore, "bore_mm", p.BoreMM)
	materials := func() {
		switch {
		case s.alpha.v != nil && (p.Material != "" || p.ShaftMaterial != ""):
			overrules("--alpha-per-k", s.alpha.String(), "material", strings.Trim(p.Material+" and "+p.ShaftMaterial, " and"))
		case (s.material != "" || s.shaftMaterial != "") && p.AlphaPerK != nil:
			f.said = append(f.said, "the materials given overrule alpha_per_k of "+from)
		default:
			number("--alpha-per-k", &s.alpha, "alpha_per_k", p.AlphaPerK)
			text("--material", &s.material, "material", p.Material)
			text("--shaft-material", &s.shaftMaterial, "shaft_material", p.ShaftMaterial)
		}
	}
	if f.needTemp.v != nil {
		switch {
		case p.NeedTempC != nil && *p.NeedTempC != *f.needTemp.v:
			overrules("--need-temp-c", f.needTemp.String(), "need_temp_c", fmt.Sprint(*p.NeedTempC))
		case p.HasSeat():
			f.said = append(f.said, fmt.Sprintf("--need-temp-c %s overrules the seat of %s", f.needTemp.String(), from))
		}
		if !f.seatAsked {
			materials() // for the clearance
		}
		return nil
	}
	if p.NeedTempC != nil && !s.tight() {
		if given != "" {
			return usagef("leave the flag out, or give --interference-um or --shaft-class too",
				"%s gives need_temp_c and no seat, so %s has nothing to act on", from, given)
		}
		f.needTemp.v, f.needBasis = p.NeedTempC, "need_temp_c of "+from
		f.said = append(f.said, fmt.Sprintf("needed temperature %g °C from %s, taken as exact", *p.NeedTempC, f.needBasis))
		materials()
		return nil
	}
	materials()
	if p.NeedTempC != nil {
		f.said = append(f.said, fmt.Sprintf("the seat given overrules need_temp_c %g of %s", *p.NeedTempC, from))
		return nil
	}
	f.seatAsked = f.seatAsked || p.HasSeat()
	if !p.HasSeat() {
		return nil
	}
	own := "shaft_class " + p.ShaftClass
	if p.InterferenceUM != nil {
		own = fmt.Sprintf("interference_um %g", *p.InterferenceUM)
	}
	switch {
	case s.interference.v != nil && p.InterferenceUM != nil:
		number("--interference-um", &s.interference, "interference_um", p.InterferenceUM)
	case s.tight():
		f.said = append(f.said, fmt.Sprintf("the seat given overrules %s of %s", own, from))
		if s.interference.v == nil && s.boreMeasured.v == nil {
			text("--bore-class", &s.boreClass, "bore_class", p.BoreClass)
		}
	default:
		s.interference.v, s.shaftClass = p.InterferenceUM, p.ShaftClass
		if s.boreMeasured.v == nil {
			text("--bore-class", &s.boreClass, "bore_class", p.BoreClass)
		} else if p.BoreClass != "" {
			overrules("--bore-measured-um", s.boreMeasured.String(), "bore_class", p.BoreClass)
		}
	}
	number("--ease-um", &s.ease, "ease_um", p.EaseUM)
	return nil
}
