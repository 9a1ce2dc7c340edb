package analyze

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"ringheat/analyze/joint"
	"ringheat/analyze/judge"
	"ringheat/analyze/quantity"
)

// NeedQuestion is everything that is asked before a part is warmed.
type NeedQuestion struct {
	Part                   string // its name, if it has one
	Kind                   judge.PartKind
	RingClass              string
	MaxTempC, MaxRingDiffK *float64           // nil: from the limits table
	Limits                 *judge.LimitsTable // nil: the built-in one
	ProbeToleranceK        *float64
	ProbeClass             string
	Seat                   SeatData
	Clearance              ClearanceData
	Said                   []string // where the figures come from, said with the answer
}

// NeedAnswer is how warm the bore has to be, and whether the part stands it.
type NeedAnswer struct {
	Part      string
	Kind      judge.PartKind
	RingClass string
	Seat      joint.Seat
	Need      joint.Need

	LimitC     float64
	LimitWords string // where it is from
	// ProbeToleranceK is the half-width of the tolerance of the probe that the part is warmed by; GuardK its expanded uncertainty.
	ProbeToleranceK, GuardK float64
	ProbeWords              string

	// Table is the need over the temperature of the shaft, one column an interference, the joint's own largest one among them.
	ShaftC         []float64
	InterferenceUM []float64
	Table          [][]joint.AmbientRow // [shaft temperature][interference]
	Own            int                  // the column of the joint itself

	Clearance *Clearance // nil: not asked
	Notes     []string
}

// ByWarming says whether warming alone does the joint within the limit.
func (a *NeedAnswer) ByWarming() bool {
	f := a.Need.Feasibility
	return f == joint.Possible || f == joint.NoWarming || f == joint.NoLimit
}

// widestProbe is the tolerance class taken when nothing is known of the probe, as the judge takes it.
const widestProbe = "K2"

// The table's shaft temperatures, °C, besides the joint's own: a yard in winter to a hot hall.
var ambients = []float64{-20, -10, 0, 10, 20, 30, 40}

// AskNeed answers how warm a bore has to be for its seat. Errors name the flag to change.
func AskNeed(q NeedQuestion) (*NeedAnswer, error) {
	if q.Seat.BoreMM == nil {
		return nil, errors.New("--bore-mm is missing: give the bore of the seat in mm, or name a part with --parts and --part")
	}
	if q.Kind == "" {
		q.Kind = judge.Bearing
		q.Said = append(q.Said, "the part is taken as a bearing, as no kind was given")
	}
	table := q.Limits
	if table == nil {
		table = judge.DefaultLimits()
	}
	settings := judge.Settings{Kind: q.Kind, RingClass: q.RingClass, MaxTempC: q.MaxTempC, MaxRingDiffK: q.MaxRingDiffK,
		ProbeToleranceK: q.ProbeToleranceK, ProbeClass: q.ProbeClass, Limits: table}
	if err := settings.Check(); err != nil {
		return nil, err
	}
	a := &NeedAnswer{Part: q.Part, Kind: q.Kind, RingClass: q.RingClass}
	limits, err := table.Find(q.Kind, q.RingClass)
	if err != nil && (q.MaxTempC == nil || q.RingClass != "") {
		return nil, err
	}
	a.LimitC, a.LimitWords = limits.MaxTemp.Value, classWords(q.Kind, limits.MaxTempClass, limits.MaxTemp)
	if q.MaxTempC != nil {
		a.LimitC, a.LimitWords = *q.MaxTempC, "as given"
	}
	if err := a.probe(&q); err != nil {
		return nil, err
	}
	if a.Seat, err = q.Seat.Seat(q.Kind); err != nil {
		return nil, err
	}
	limit := quantity.Celsius(a.LimitC)
	a.Seat.LimitC, a.Seat.GuardK = &limit, a.GuardK
	if a.Need, err = joint.FindNeed(a.Seat); err != nil {
		return nil, fmt.Errorf("seat: %w", err)
	}
	if err := a.tabulate(); err != nil {
		return nil, err
	}
	if q.Clearance.given() {
		diff, words := limits.MaxRingDiff.Value, classWords(q.Kind, limits.MaxRingDiffClass, limits.MaxRingDiff)
		if q.MaxRingDiffK != nil {
			diff, words = *q.MaxRingDiffK, "as given"
		}
		if err := a.clear(&q, diff, words); err != nil {
			return nil, err
		}
	}
	a.note(&q)
	return a, nil
}

func classWords(kind judge.PartKind, class string, s judge.Sourced) string {
	return fmt.Sprintf("%s, class %s: %s (%s)", kind, class, s.Source, s.Confidence)
}

// probe finds the uncertainty of the reading that the part is warmed by: U = 2 u, u = a/sqrt(3) for a tolerance of +-a (GUM 4.3.7).
func (a *NeedAnswer) probe(q *NeedQuestion) error {
	switch {
	case q.ProbeToleranceK != nil:
		a.ProbeToleranceK, a.ProbeWords = *q.ProbeToleranceK, "tolerance as given"
	default:
		name := q.ProbeClass
		if name == "" {
			name = widestProbe
		}
		class, err := judge.ParseProbeClass(name)
		if err != nil {
			return fmt.Errorf("--probe-class: %w", err)
		}
		a.ProbeToleranceK, a.ProbeWords = class.ToleranceK(a.LimitC), class.Words
		if q.ProbeClass == "" {
			a.ProbeWords += ", the widest class in common use, as no tolerance was given"
		}
	}
	a.GuardK = joint.CoverageFactor * a.ProbeToleranceK / math.Sqrt(3)
	return nil
}

// tabulate fills the table. The ease is that of the joint throughout, so that a column shows what another interference alone
// changes. An interference whose need can't be told is left out.
func (a *NeedAnswer) tabulate() error {
	a.ShaftC = shaftTemperatures(float64(a.Seat.ShaftC))
	shafts := make([]quantity.Celsius, len(a.ShaftC))
	for i, c := range a.ShaftC {
		shafts[i] = quantity.Celsius(c)
	}
	a.Table = make([][]joint.AmbientRow, len(shafts))
	own := a.Need.Interference.MaxUM
	for _, um := range a.interferences() {
		s := a.Seat
		if um != own {
			s.Interference = joint.GivenInterference(um)
		}
		s.EaseUM = &a.Need.EaseUM
		rows, err := joint.OverAmbient(s, shafts)
		if err != nil && um == own {
			return fmt.Errorf("table over the shaft's temperature: %w", err)
		}
		if err != nil {
			a.Notes = append(a.Notes, fmt.Sprintf("an interference of %g µm is left out of the table: %v", um, err))
			continue
		}
		if um == own {
			a.Own = len(a.InterferenceUM)
		}
		a.InterferenceUM = append(a.InterferenceUM, um)
		for i := range rows {
			a.Table[i] = append(a.Table[i], rows[i])
		}
	}
	return nil
}

// shaftTemperatures are the table's: ambients and the joint's own, with steps between where that lies far off.
func shaftTemperatures(own float64) []float64 {
	const step = 20
	list := append([]float64(nil), ambients...)
	if !holds(list, own) {
		list = append(list, own)
	}
	for c := ambients[0] - step; c > own; c -= step {
		list = append(list, c)
	}
	for c := ambients[len(ambients)-1] + step; c < own; c += step {
		list = append(list, c)
	}
	sort.Float64s(list)
	return list
}

// interferences are the table's: from the smallest to the largest that the sizes allow, or about the one that is given.
func (a *NeedAnswer) interferences() []float64 {
	low, high := a.Need.Interference.MinUM, a.Need.Interference.MaxUM
	var list []float64
	add := func(v float64) {
		if !holds(list, v) {
			list = append(list, v)
		}
	}
	add(high)
	switch {
	case high <= 0:
	case low < high:
		for i := range 4 {
			add(math.Round(max(low, 0) + (high-max(low, 0))*float64(i)/4))
		}
	default:
		for _, f := range []float64{0.5, 0.75, 1.25, 1.5} {
			add(math.Round(high * f))
		}
	}
	sort.Float64s(list)
	return list
}

func holds(list []float64, v float64) bool {
	for _, w := range list {
		if w == v {
			return true
		}
	}
	return false
}

// clear answers what warming and mounting take of the internal clearance.
func (a *NeedAnswer) clear(q *NeedQuestion, customaryK float64, words string) error {
	c, err := q.Clearance.find(q.Kind, q.Seat.BoreMM, a.Seat.Part)
	if err != nil {
		return err
	}
	diffs := []float64{10, 20, 30, 40}
	if !holds(diffs, customaryK) {
		diffs = append(diffs, customaryK)
		sort.Float64s(diffs)
	}
	inner := float64(a.Need.NeededC)
	if a.Need.SetPointC != nil {
		inner = float64(*a.Need.SetPointC)
	}
	if err := c.leftAt(a.Seat.Part, inner, diffs); err != nil {
		return err
	}
	after, err := joint.EstimateAfterMounting(a.Seat.DiameterMM, c.Raceways, c.Radial, a.Need.Interference)
	if err != nil {
		return err
	}
	c.After = &after
	c.compare(customaryK, words)
	a.Clearance = c
	return nil
}

// note says what was assumed, besides what joint says.
func (a *NeedAnswer) note(q *NeedQuestion) {
	say := func(format string, args ...any) { a.Notes = append(a.Notes, fmt.Sprintf(format, args...)) }
	a.Notes = append(append([]string(nil), q.Said...), append(a.Need.Notes, a.Notes...)...)
	if q.Seat.ShaftC == nil {
		say("the shaft is taken at %g °C, as no temperature was given", float64(joint.ReferenceC))
	}
	if q.Seat.ShaftUK == nil {
		say("the shaft's temperature is taken as exact")
	}
	coldest := a.Seat.ShaftC
	if c := a.Need.CoolShaftC; c != nil {
		coldest = *c
		say("a shaft at %g °C is the warmest that does it", float64(coldest))
	}
	if coldest < 0 {
		say("a cold shaft gathers frost and soon warms up; dry ice and liquid nitrogen burn the skin and displace the air that is breathed: their suppliers' instructions come first")
	}
	say("the part is taken as warm as its bore throughout; a bore cools on its way to the shaft, so what is lost on the way is added to the set-point by the user")
}
