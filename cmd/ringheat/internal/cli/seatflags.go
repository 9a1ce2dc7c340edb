package cli

import (
	"strings"

	"github.com/spf13/pflag"

	"ringheat/analyze"
	"ringheat/analyze/joint"
	"ringheat/analyze/parts"
)

// seatFlags are the flags that tell the seat and the internal clearance. Those that a command does not register stay empty, and
// may be filled from a parts list.
type seatFlags struct {
	bore, interference, ease  optional
	shaftClass, boreClass     string
	shaftMeasured             optional
	boreMeasured, measuredU   optional
	alpha                     optional
	material, shaftMaterial   string
	shaftTemp, shaftTempU     optional
	partTemp                  optional
	bearingType, group        string
	clearanceMin              optional
	clearanceMax, outsideDiam optional
}

// registerShort registers the flags of the seat that every command has.
func (f *seatFlags) registerShort(fs *pflag.FlagSet) {
	fs.Var(&f.bore, "bore-mm", "seat's bore diameter, `mm`")
	fs.Var(&f.interference, "interference-um", "largest interference, `µm`")
	fs.StringVar(&f.shaftClass, "shaft-class", "", "tolerance `class` of the shaft instead of the interference, such as m6 (ISO 286)")
	fs.StringVar(&f.boreClass, "bore-class", "", "tolerance `class` of the bore, such as H7 (a bearing's is Normal after ISO 492 when not given)")
	fs.Var(&f.ease, "ease-um", "clearance wanted while slipping on, `µm`")
	fs.Var(&f.alpha, "alpha-per-k", "thermal expansion `coefficient` of part and shaft, 1/K")
	fs.Var(&f.shaftTemp, "shaft-temp-c", "shaft's `temperature`, °C")
}

// registerRest registers the flags of the seat that only need has.
func (f *seatFlags) registerRest(fs *pflag.FlagSet) {
	fs.Var(&f.shaftMeasured, "shaft-measured-um", "measured shaft at 20 °C, `µm` from the nominal diameter, instead of its class")
	fs.Var(&f.boreMeasured, "bore-measured-um", "measured bore at 20 °C, `µm` from the nominal diameter, instead of its class")
	fs.Var(&f.measuredU, "measured-u-um", "standard uncertainty of each measured size, `µm`")
	fs.StringVar(&f.material, "material", "", "`material` of the part: "+strings.Join(parts.MaterialNames(), ", "))
	fs.StringVar(&f.shaftMaterial, "shaft-material", "", "`material` of the shaft (the part's own when not given)")
	fs.Var(&f.shaftTempU, "shaft-temp-u-k", "standard uncertainty of the shaft's temperature, `K`")
	fs.Var(&f.partTemp, "part-temp-c", "`temperature` of the part before it is warmed, °C (the shaft's when not given)")
	fs.StringVar(&f.bearingType, "bearing-type", "", "`type` of the bearing: "+joint.BearingTypes)
	fs.StringVar(&f.group, "clearance-group", "", "`group` of its internal clearance (ISO 5753-1): "+joint.Groups)
	fs.Var(&f.clearanceMin, "clearance-min-um", "the bearing's own smallest internal clearance instead of a group, `µm`")
	fs.Var(&f.clearanceMax, "clearance-max-um", "the bearing's own largest internal clearance, `µm`")
	fs.Var(&f.outsideDiam, "outside-mm", "the bearing's outside diameter, `mm`; with it the raceways are estimated")
}

// data gives the seat.
func (f *seatFlags) data() analyze.SeatData {
	return analyze.SeatData{
		BoreMM: f.bore.v, InterferenceUM: f.interference.v, ShaftClass: f.shaftClass, BoreClass: f.boreClass,
		ShaftMeasuredUM: f.shaftMeasured.v, BoreMeasuredUM: f.boreMeasured.v, MeasuredUUM: f.measuredU.v,
		EaseUM: f.ease.v, AlphaPerK: f.alpha.v, Material: f.material, ShaftMaterial: f.shaftMaterial,
		ShaftC: f.shaftTemp.v, ShaftUK: f.shaftTempU.v, PartC: f.partTemp.v,
	}
}

// clearance gives the internal clearance.
func (f *seatFlags) clearance() analyze.ClearanceData {
	return analyze.ClearanceData{BearingType: f.bearingType, Group: strings.ToUpper(f.group), MinUM: f.clearanceMin.v, MaxUM: f.clearanceMax.v, OutsideMM: f.outsideDiam.v}
}

// tight says whether the flags tell how tight the seat is.
func (f *seatFlags) tight() bool {
	return f.interference.v != nil || f.shaftClass != "" || f.shaftMeasured.v != nil
}

// some gives a flag of the seat that was given; "" for none.
func (f *seatFlags) some() string {
	switch {
	case f.interference.v != nil:
		return "--interference-um"
	case f.shaftClass != "":
		return "--shaft-class"
	case f.boreClass != "":
		return "--bore-class"
	case f.shaftMeasured.v != nil:
		return "--shaft-measured-um"
	case f.boreMeasured.v != nil:
		return "--bore-measured-um"
	case f.ease.v != nil:
		return "--ease-um"
	case f.shaftTemp.v != nil:
		return "--shaft-temp-c"
	case f.alpha.v != nil:
		return "--alpha-per-k"
	case f.material != "" || f.shaftMaterial != "":
		return "--material"
	case f.bore.v != nil:
		return "--bore-mm"
	}
	return ""
}
