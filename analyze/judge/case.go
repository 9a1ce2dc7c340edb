package judge

import (
	"time"

	"ringheat/analyze/curve"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// LocalCurve reads the largest value of a trace from a local curve, so that the noise of single samples
// does not push it up. *curve.Estimator is one.
type LocalCurve interface {
	// Largest takes times in seconds, never falling, and as many values, without missing samples and spikes.
	Largest(timeS, values []float64, o curve.ExtremeOptions) curve.Extreme
}

// Case is one cycle of one log with everything that is known about it.
type Case struct {
	Log          *series.Log
	Inner, Outer []int // channels on the inner ring (or the one body) and on the outer ring
	Cycle        segment.Cycle
	Spikes       [][]int32 // rows marked as spikes, one list a channel of Log; nil: none
	// RiseInner and RiseOuter are the curves estimated for this cycle; nil: none. They only help to say
	// how fast a ring could have warmed where nothing was recorded.
	RiseInner, RiseOuter *curve.FirstOrder
	Local                LocalCurve
	// LagInner and LagOuter say how far each probe lags behind its ring; nil: not looked for. A true peak
	// above the indicated one raises max-temp, and a lag while cooling lowers what the bore still was when
	// mounted; neither ever helps a PASS.
	LagInner, LagOuter *curve.ProbeLag
	// Cooling is the bore's cooling in this cycle; nil: not looked for. It can prove the bore warm enough
	// when it was mounted after the last reading.
	Cooling *curve.Cooling
	// RolesInDoubt says why it is not settled which probe sits on which ring; "" when it is settled.
	// Roles that stand on nothing but the order of the columns are in doubt without it.
	RolesInDoubt string
	// MountedProblem says why a mounting time that was given can't be placed in this log; "" when it
	// can or none was given. need-temp is then unproven.
	MountedProblem string
	// RunDate is the day of the run where the log itself has no date, as from a run sheet; the zero Time:
	// the log's own.
	RunDate time.Time
	// Work holds buffers to use again from one judgement to the next; nil: new ones. It must not be
	// shared by two judgements at the same time.
	Work *Workspace
}

// Peak is a ring's highest temperature in a cycle.
type Peak struct {
	ValueC  float64 // from the local curve, °C
	StdErrK float64 // its standard error from noise alone, K
	AtS     float64 // s since the log's first row
	RawC    float64 // highest single sample that is no spike, °C
	RawAtS  float64
	Channel int // index into Log.Channels
}

// CycleJudgement is the answer for one cycle.
type CycleJudgement struct {
	Findings []Finding // each check once: max-temp, ring-diff, need-temp, record; then magnetism if given
	Verdict  Verdict
	Reason   string // the one reason that matters

	PeakInner, PeakOuter *Peak    // nil: no reading of that ring
	OverLimitS           *float64 // s during which either ring was above the limit; nil: no reading
	MaxRingDiffK         *float64 // largest |inner - outer|, K; nil: not measured
	MaxRingDiffAtS       *float64
	HotterRing           string   // "inner" or "outer" at that time; "" when not measured or not settled
	SignedRingDiffK      *float64 // the same difference as inner - outer; nil: not measured or not settled

	Rule    Rule
	Notes   []string // what a reader should know, beside the findings
	Assumed []string // what was assumed for the whole judgement, each once
}

// Finding gives the finding of a check; nil when there is none.
func (j *CycleJudgement) Finding(c Check) *Finding {
	for i := range j.Findings {
		if j.Findings[i].Check == c {
			return &j.Findings[i]
		}
	}
	return nil
}
