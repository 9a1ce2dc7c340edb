package parts

import "strings"

// column describes one column of a parts list.
type column struct {
	name     string
	words    string // what stands in it
	template string // a cell of the template's example
	required bool
}

// columns are the columns of a parts list in the order of the template. They may stand in any order; those that are not
// required may be left out.
var columns = []column{
	{"part", "name of the part, as --part and a run sheet's column part give it", "EXAMPLE-100", true},
	{"description", "what it is, plain words", "example bearing, delete this row", false},
	{"kind", "bearing, ring, gear, coupling or sleeve", "bearing", true},
	{"ring_class", "class in the limits table (ringheat limits), several joined by +; write general where none is known", "sn", true},
	{"cage", "material of a bearing's cage: steel, brass, polyamide or phenolic", "steel", false},
	{"sealed", "yes or no: sealed for life", "no", false},
	{"greased", "yes or no: filled with grease", "no", false},
	{"bore_mm", "bore diameter, mm", "100", false},
	{"outside_diameter_mm", "outside diameter, mm", "180", false},
	{"width_mm", "width, mm", "34", false},
	{"mass_kg", "mass, kg", "3.5", false},
	{"shaft_class", "tolerance class of the shaft seat (ISO 286), such as m6; or give interference_um instead", "m6", false},
	{"bore_class", "tolerance class of the bore: Normal for a bearing (taken when empty), H7 and the like for a hub", "Normal", false},
	{"interference_um", "largest interference, µm, where no shaft_class is given", "", false},
	{"ease_um", "clearance wanted while slipping on, µm; empty: the custom for the kind of part", "", false},
	{"need_temp_c", "needed bore temperature, °C, where neither shaft_class nor interference_um is given", "", false},
	{"material", "material of the part, as ringheat need -h lists them; empty: steel", "", false},
	{"shaft_material", "material of the shaft; empty: the part's own", "", false},
	{"alpha_per_k", "expansion coefficient of part and shaft, 1/K, instead of materials", "", false},
	{"bearing_type", "deep-groove-ball, cylindrical-roller or spherical-roller", "cylindrical-roller", false},
	{"clearance_group", "internal clearance C2, CN, C3, C4 or C5; with it evenness is also held to the difference that uses the clearance up", "C3", false},
	{"clearance_min_um", "the bearing's own smallest internal clearance, µm, instead of a group", "", false},
	{"clearance_max_um", "the bearing's own largest internal clearance, µm", "", false},
	{"max_temp_c", "highest temperature of the part, °C; empty: from the limits table", "", false},
	{"max_temp_source", "where max_temp_c is from; must be given when it is above the limits table's", "", false},
	{"max_ring_diff_k", "largest difference between the rings, K; empty: from the limits table", "", false},
	{"over_time_allowed_s", "seconds above the limit that the part stands", "", false},
	{"over_ceiling_k", "how far above the limit that allowance goes, K", "", false},
	{"max_rate_k_per_min", "fastest warming that the part's maker allows, K/min; noted when exceeded, not judged", "", false},
	{"max_rate_source", "where max_rate_k_per_min is from", "", false},
	{"hold_min", "time at temperature that the part's maker asks for, minutes; printed, not judged", "", false},
	{"hold_source", "where hold_min is from", "", false},
	{"note", "anything else", "", false},
}

// Columns names the columns of a parts list in the order of the template.
func Columns() []string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.name
	}
	return names
}

func findColumn(name string) *column {
	for i := range columns {
		if columns[i].name == name {
			return &columns[i]
		}
	}
	return nil
}

// likely gives the column that a wrong heading probably means; "" when none is near.
func likely(heading string) string {
	plain := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r == '_' || r == '-' || r == ' ' || r == '.' {
				return -1
			}
			return r
		}, strings.ToLower(s))
	}
	h := plain(heading)
	if h == "" {
		return ""
	}
	for _, c := range columns {
		if p := plain(c.name); p == h || strings.HasPrefix(p, h) || strings.HasPrefix(h, p) {
			return c.name
		}
	}
	return ""
}
