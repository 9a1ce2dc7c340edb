package segment

// Moment is a point of a cycle on the log's time axis. Known is false when it lies outside the log
// (the log began after the onset, or stopped before the end of heating); then AtS is not to be used.
type Moment struct {
	Row      int     // index into series.Log.TimeS; -1 when not Known
	AtS      float64 // s since the log's first row; may lie between two rows
	Known    bool
	Evidence string // plain words: what showed it
}

// PhaseKind names a stretch of a cycle.
type PhaseKind string

// The phases. A change of heating power inside the rise starts a new Ramp.
const (
	Before       PhaseKind = "before"
	Ramp         PhaseKind = "ramp"
	Hold         PhaseKind = "hold"
	Interruption PhaseKind = "interruption"
	Cooling      PhaseKind = "cooling"
)

// Phase is a stretch of a cycle, rows [First, End).
type Phase struct {
	Kind       PhaseKind
	First, End int
	FromS, ToS float64
}

// Window is a range of rows, [First, End). The zero Window is empty.
type Window struct{ First, End int }

// Len is the number of rows.
func (w Window) Len() int { return w.End - w.First }

// DefectKind names something that makes a record weaker evidence.
type DefectKind string

// The defects that segmentation can see.
const (
	ProbeOpen       DefectKind = "probe-open"       // no reading for a stretch
	ProbeDetached   DefectKind = "probe-detached"   // falls away from the ring while the other heats on
	ProbeLate       DefectKind = "probe-late"       // put on after the onset
	PoorContact     DefectKind = "poor-contact"     // reads low and slow
	SamplingGap     DefectKind = "gap"              // clock gap within the cycle
	ClockFault      DefectKind = "clock-fault"      // clock stepped back within the cycle
	TooCoarse       DefectKind = "too-coarse"       // sampling too slow to see the peak
	StillRising     DefectKind = "still-rising"     // log stopped while the part was heating
	OnsetNotSeen    DefectKind = "onset-not-seen"   // log began with the part already warm
	Frozen          DefectKind = "frozen"           // readings repeat to the last digit while the part can't have stood still
	Saturated       DefectKind = "saturated"        // the rise breaks off into one constant value: the end of a range
	SameTrace       DefectKind = "same-trace"       // two channels agree in every digit: one probe logged twice
	SlowSpike       DefectKind = "slow-spike"       // marked samples that a part could perhaps have followed
	ManySpikes      DefectKind = "many-spikes"      // a large share of samples had to be marked
	CoolingOnly     DefectKind = "cooling-only"     // no rise in the log
	NotIdentifiable DefectKind = "not-identifiable" // which stretch is the rise could not be told
)

// Defect is one such thing, dated.
type Defect struct {
	Kind       DefectKind
	Channel    int // index into Log.Channels; -1 when it concerns all
	First, End int // rows [First, End)
	FromS, ToS float64
	Message    string
}

// Cycle is one warming of one part: onset, ramp, hold, end of heating, cooling.
type Cycle struct {
	Rows      Window // all rows that belong to it, cooling included, up to the next cycle
	Onset     Moment // heating begins
	RampEnd   Moment // the rise ends: hold begins or heating ends
	End       Moment // heating ends (switch-off)
	Phases    []Phase
	RiseInner Window // rows whose inner samples are fitted: within the rise, after any start-up lag
	RiseOuter Window // the same for the outer ring; empty for a one-body part
	Defects   []Defect
}

// Result is what segmentation found in a log.
type Result struct {
	Cycles []Cycle
	// Spikes lists, for every channel of the log (same index), the rows marked as spikes: samples that
	// no heat capacity could follow. Ascending. Marked samples are no temperatures, but stay in the log.
	Spikes [][]int32
}
