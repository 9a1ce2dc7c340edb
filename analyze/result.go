package analyze

import (
	"ringheat/analyze/curve"
	"ringheat/analyze/ingest"
	"ringheat/analyze/judge"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// LogResult is everything found in one log.
type LogResult struct {
	Name   string
	SHA256 string // of the bytes as stored, lower-case hex; "" when they could not be read
	Err    error  // why the log could not be read; then Log is nil and Verdict unproven

	Log          *series.Log
	Reading      ingest.Reading
	Inner, Outer []int // channels given to the rings, indices into Log.Channels
	OneBody      bool  // the part has no outer ring
	Spikes       [][]int32
	Cycles       []Cycle

	Verdict judge.Verdict
	Reason  string // the one reason that matters

	Support, Part string // as the user gave them
	NeedTempC     *float64
}

// Cycle is one warming and everything found about it.
type Cycle struct {
	Segment   segment.Cycle
	Inner     curve.FirstOrder
	Outer     curve.FirstOrder // Status NoRise for a one-body part
	Judgement judge.CycleJudgement
	Deep      *Deep // nil: not asked for
}
