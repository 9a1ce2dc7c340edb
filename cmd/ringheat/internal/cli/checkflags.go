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
	reading  readingFlags
	evidence evidenceFlags

	kind, ringClass              string
	maxTemp, maxRingDiff         optional
	clearanceDiff                optional
	needTemp                     optional
	overTime, overCeiling        optional
	seat                         seatFlags
	probeTolerance, guardFactor  optional
	setPoint                     optional
	probeClass, rule             string
	mountedAt                    string
	part, parts, support, limits string
	rings                        bool
	withinK, probeLag, ambientC  optional
	lists                        *partsLists // shared by the rows of a run sheet; nil: each reads the list anew
}

func (f *checkFlags) register(fs *pflag.FlagSet) {
	fs.StringVar(&f.kind, "kind", "", "`kind` of part: bearing, ring, gear, coupling or sleeve (a bearing when not given)")
	fs.StringVar(&f.ringClass, "ring-class", "", "`class` of the part in the limits table; several joined by +")
	fs.Var(&f.maxTemp, "max-temp-c", "tolerance `limit` of the temperature, °C (from the limits table when not given)")
	fs.Var(&f.maxRingDiff, "max-ring-diff-k", "tolerance `limit` of the difference between the rings, K")
	fs.Var(&f.clearanceDiff, "clearance-diff-k", "difference, inner ring hotter, that uses the internal clearance up, `K`; the stricter of the two decides")
	fs.Var(&f.needTemp, "need-temp-c", "bore `temperature` that the seat needs, °C")
	fs.StringVar(&f.mountedAt, "mounted-at", "", "`moment` of mounting: seconds from the first row, or a clock time")
	fs.Var(&f.overTime, "over-time-allowed-s", "`seconds` above the limit that the part stands")
	fs.Var(&f.overCeiling, "over-ceiling-k", "how far above the limit that allowance goes, `K`")
	fs.Var(&f.probeTolerance, "probe-tolerance-k", "half-width of each probe's tolerance, ± `K`")
	fs.StringVar(&f.probeClass, "probe-class", "", "the probe's tolerance `class`: K1, K2, J1, T1, ... (IEC 60584-1), AA, A, B, C (IEC 60751)")
	fs.StringVar(&f.rule, "rule", "", "decision `rule`: strict, three-zone or simple (strict when not given)")
	fs.Var(&f.guardFactor, "guard-factor", "guard band as a `multiple` of the expanded uncertainty (1 when not given)")
	fs.Var(&f.setPoint, "set-point-c", "what the heater was set to, `°C`")
	fs.StringVar(&f.part, "part", "", "the part's `name`, kept with the result")
	fs.StringVar(&f.support, "support", "", "the heater support's `name`, kept with the result")
	fs.StringVar(&f.limits, "limits", "", "a limits table of your own, CSV `file` (ringheat limits prints the form)")
	fs.BoolVar(&f.rings, "rings", false, "estimate the two coupled rings too: equalising time, wait, probe lag, cooling, mounting window")
	fs.Var(&f.withinK, "within-k", "with --rings: the wait until the rings are within this difference, `K` (5 when not given)")
	fs.Var(&f.probeLag, "probe-lag-s", "the probes' time constant, `seconds`, where it is known: the true peak is then judged")
	fs.Var(&f.ambientC, "ambient-c", "temperature of the surroundings, `°C`, for --rings (else an ambient channel, else the start)")
	f.reading.register(fs)
	f.evidence.register(fs)
	f.seat.registerShort(fs)
	fs.StringVar(&f.parts, "parts", "", "parts list, CSV `file` (ringheat parts --template prints the form); --part names the part, flags overrule it")
}

// settings turns the flags into an analysis' settings. table is the limits table in force.
func (f *checkFlags) settings(table *judge.LimitsTable) (analyze.Settings, error) {
	var s analyze.Settings
	reading, saved, err := f.reading.withSaved()
	if err != nil {
		return s, err
	}
	s.Saved = saved
	if s.Reading, err = reading.options(); err != nil {
		return s, err
	}
	s.Deep = analyze.DeepSettings{Rings: f.rings, WithinK: value(f.withinK), ProbeLag: f.probeLag.v, AmbientC: f.ambientC.v}
	p, err := f.ofPart(table)
	if err != nil {
		return s, err
	}
	s.MountedAt, s.Part, s.Support = f.mountedAt, p.name, f.support
	s.Said, s.Maker = p.said, p.maker
	s.Judge = judge.Settings{
		Kind: judge.PartKind(p.kind), RingClass: p.ringClass,
		MaxTempC: p.maxTemp.v, MaxRingDiffK: p.maxRingDiff.v, ClearanceDiffK: f.clearanceDiff.v,
		NeedTempC: p.needTemp.v, NeedTempBasis: p.needBasis,
		OverTimeAllowedS: p.overTime.v, OverCeilingK: p.overCeiling.v,
		ProbeToleranceK: f.probeTolerance.v, ProbeClass: f.probeClass,
		Rule: judge.Rule(f.rule), GuardFactor: f.guardFactor.v, SetPointC: f.setPoint.v, Limits: table,
	}
	if s.RunDate, err = f.evidence.use(&s.Judge); err != nil {
		return s, err
	}
	if p.seatAsked {
		if err := s.UseSeat(p.seat.data()); err != nil {
			return s, usagef("", "%s", err)
		}
	}
	if err := s.UseClearance(p.seat.clearance(), p.seat.data()); err != nil {
		return s, usagef("", "%s", err)
	}
	if err := s.Check(); err != nil {
		return s, usagef("", "%s", err)
	}
	return s, nil
}

// ofPart gives the flags that a part of the parts list may fill, filled from it where one is named.
func (f *checkFlags) ofPart(table *judge.LimitsTable) (partFlags, error) {
	p := partFlags{
		name: f.part, kind: f.kind, ringClass: f.ringClass, maxTemp: f.maxTemp, maxRingDiff: f.maxRingDiff,
		overTime: f.overTime, overCeiling: f.overCeiling, needTemp: f.needTemp, seat: f.seat,
	}
	p.seatAsked = p.seat.some() != ""
	part, list, err := findPart(f.lists, f.parts, f.part, table)
	if part == nil || err != nil {
		return p, err
	}
	return p, p.take(part, list.Name, table)
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
