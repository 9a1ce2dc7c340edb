package cli

import (
	"os"
	"strconv"

	"github.com/spf13/pflag"

	"ringheat/analyze"
	"ringheat/analyze/judge"
)

// checkFlags are the flags that say how one log is read and judged. Each may stand as a column of a run
// sheet too.
type checkFlags struct {
	reading readingFlags

	kind, ringClass              string
	maxTemp, maxRingDiff         optional
	needTemp                     optional
	overTime, overCeiling        optional
	bore, interference, ease     optional
	alpha, shaftTemp             optional
	probeTolerance, guardFactor  optional
	setPoint                     optional
	probeClass, rule             string
	mountedAt                    string
	part, parts, support, limits string
}

func (f *checkFlags) register(fs *pflag.FlagSet) {
	fs.StringVar(&f.kind, "kind", "", "what is warmed: `bearing|ring|gear|coupling|sleeve` (bearing when not given)")
	fs.StringVar(&f.ringClass, "ring-class", "", "`class` of the part in the limits table; several joined by +")
	fs.Var(&f.maxTemp, "max-temp-c", "tolerance `limit` of the temperature, °C (from the limits table when not given)")
	fs.Var(&f.maxRingDiff, "max-ring-diff-k", "tolerance `limit` of the difference between the rings, K")
	fs.Var(&f.needTemp, "need-temp-c", "bore `temperature` that the seat needs, °C")
	fs.StringVar(&f.mountedAt, "mounted-at", "", "`moment` of mounting: seconds from the first row, or a clock time")
	fs.Var(&f.overTime, "over-time-allowed-s", "`seconds` above the limit that the part stands")
	fs.Var(&f.overCeiling, "over-ceiling-k", "how far above the limit that allowance goes, `K`")
	fs.Var(&f.probeTolerance, "probe-tolerance-k", "half-width of each probe's tolerance, ± `K`")
	fs.StringVar(&f.probeClass, "probe-class", "", "the probe's tolerance `class`: K1, K2, J1, T1, ... (IEC 60584-1), AA, A, B, C (IEC 60751)")
	fs.StringVar(&f.rule, "rule", "", "decision rule: `strict|three-zone|simple` (strict when not given)")
	fs.Var(&f.guardFactor, "guard-factor", "guard band as a `multiple` of the expanded uncertainty (1 when not given)")
	fs.Var(&f.setPoint, "set-point-c", "what the heater was set to, `°C`")
	fs.StringVar(&f.part, "part", "", "the part's `name`, kept with the result")
	fs.StringVar(&f.support, "support", "", "the heater support's `name`, kept with the result")
	fs.StringVar(&f.limits, "limits", "", "a limits table of your own, CSV `file` (ringheat limits prints the form)")
	f.reading.register(fs)
	fs.Var(&f.bore, "bore-mm", "seat's bore diameter, `mm`")
	fs.Var(&f.interference, "interference-um", "largest interference, `µm`")
	fs.Var(&f.ease, "ease-um", "clearance wanted while slipping on, `µm`")
	fs.Var(&f.alpha, "alpha-per-k", "thermal expansion `coefficient` of part and shaft, 1/K")
	fs.Var(&f.shaftTemp, "shaft-temp-c", "shaft's `temperature`, °C")
	fs.StringVar(&f.parts, "parts", "", "parts list, CSV `file`")
}

// settings turns the flags into an analysis' settings. table is the limits table in force.
func (f *checkFlags) settings(table *judge.LimitsTable) (analyze.Settings, error) {
	var s analyze.Settings
	if err := f.refuseLater(); err != nil {
		return s, err
	}
	flags, saved, err := f.reading.withSaved()
	if err != nil {
		return s, err
	}
	s.Saved = saved
	if s.Reading, err = flags.options(); err != nil {
		return s, err
	}
	s.MountedAt, s.Part, s.Support = f.mountedAt, f.part, f.support
	s.Judge = judge.Settings{
		Kind: judge.PartKind(f.kind), RingClass: f.ringClass,
		MaxTempC: f.maxTemp.v, MaxRingDiffK: f.maxRingDiff.v, NeedTempC: f.needTemp.v,
		OverTimeAllowedS: f.overTime.v, OverCeilingK: f.overCeiling.v,
		ProbeToleranceK: f.probeTolerance.v, ProbeClass: f.probeClass,
		Rule: judge.Rule(f.rule), GuardFactor: f.guardFactor.v, SetPointC: f.setPoint.v, Limits: table,
	}
	if err := s.UseSeat(analyze.SeatData{
		BoreMM: f.bore.v, InterferenceUM: f.interference.v, EaseUM: f.ease.v, AlphaPerK: f.alpha.v, ShaftC: f.shaftTemp.v,
	}); err != nil {
		return s, usagef("", "%s", err)
	}
	if err := s.Check(); err != nil {
		return s, usagef("", "%s", err)
	}
	return s, nil
}

// refuseLater refuses flags that are known and not judged yet, in words, so that nothing is thought to
// have been looked at.
func (f *checkFlags) refuseLater() error {
	if f.parts != "" {
		return usagef("give the limits as flags, or a run sheet with --runs", "--parts is not judged by this version")
	}
	return nil
}

// loadLimits reads the user's limits table, or gives the built-in one.
func loadLimits(path string) (*judge.LimitsTable, error) {
	if path == "" {
		return judge.DefaultLimits(), nil
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, usagef("check the spelling and the folder", "can't open the limits table %s: %v", path, reason(err))
	}
	defer file.Close()
	table, err := judge.LoadLimits(file, path)
	if err != nil {
		return nil, usagef("ringheat limits prints a table to start from", "%v", err)
	}
	return table, nil
}

// optional is a flag's figure that may not be given.
type optional struct{ v *float64 }

func (o *optional) Set(text string) error {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return usagef("", "%q is not a number; write it with a decimal point", text)
	}
	o.v = &v
	return nil
}

func (o *optional) Type() string { return "" }

func (o *optional) String() string {
	if o == nil || o.v == nil {
		return ""
	}
	return strconv.FormatFloat(*o.v, 'g', -1, 64)
}
