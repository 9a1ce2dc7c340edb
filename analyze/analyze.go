package analyze

import (
	"fmt"
	"io"
	"time"

	"ringheat/analyze/curve"
	"ringheat/analyze/ingest"
	"ringheat/analyze/judge"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// Settings is what a user may set for one log. The zero value leaves the reading to the evidence and
// takes every default of the limits table.
type Settings struct {
	Reading ingest.Options
	Saved   *ingest.Saved // a saved reading that the log must suit; nil: none
	Segment segment.Options
	Judge   judge.Settings
	Deep    DeepSettings

	MountedAt     string    // "", seconds from the first row, or a clock time in the log's zone
	RunDate       time.Time // day of the run where the log has no date; the zero Time: not known
	Support, Part string    // kept with the result

	Said  []string // where settings come from, said with every judgement
	Maker Maker    // what the part's maker asks for besides what is judged
}

// Check looks for settings that make no sense, before any log is read. The message names the flag.
func (s *Settings) Check() error {
	if err := s.Judge.Check(); err != nil {
		return err
	}
	if err := s.Deep.check(); err != nil {
		return err
	}
	if s.MountedAt != "" {
		if _, err := parseMounted(s.MountedAt); err != nil {
			return err
		}
		if s.Judge.NeedTempC == nil {
			return errMountedWithoutNeed
		}
	}
	return nil
}

// Analyzer runs the stages. Its zero value works; it keeps buffers between logs and belongs to one
// goroutine. The LogResult of a call is valid until the next call.
type Analyzer struct {
	reader    ingest.Reader
	segmenter segment.Segmenter
	estimator curve.Estimator
	rings     curve.RingsEstimator
	judging   judge.Workspace
	t, y      []float64 // the samples of one rise
}

// Log reads one log and judges it. Nothing about a log is an error of the program: one that can't be
// read gives a result with Err, and is unproven.
func (a *Analyzer) Log(name string, in io.Reader, s Settings) LogResult {
	out := LogResult{Name: name, Support: s.Support, Part: s.Part, NeedTempC: s.Judge.NeedTempC}
	s.Reading.OneBody = !s.Judge.Kind.TwoRings()
	out.OneBody = s.Reading.OneBody

	read, err := a.reader.ReadSaved(name, in, s.Reading, s.Saved)
	if err != nil {
		out.Err = err
		out.Reason = "the log could not be read: " + err.Error()
		return out
	}
	out.Log, out.Reading, out.SHA256 = read.Log, read.Reading, read.Log.SHA256

	out.Inner = out.Log.WithRole(series.Inner)
	if !out.OneBody {
		out.Outer = out.Log.WithRole(series.Outer)
	}
	found := a.segmenter.Find(out.Log, out.Inner, out.Outer, s.Segment)
	out.Spikes = found.Spikes

	mounted := a.mountedCycle(out.Log, found.Cycles, s)
	for i, c := range found.Cycles {
		cycle := Cycle{
			Segment: c,
			Inner:   a.rise(out.Log, out.Inner, c.RiseInner, out.Spikes),
			Outer:   a.rise(out.Log, out.Outer, c.RiseOuter, out.Spikes),
		}
		settings := s.Judge
		if i == mounted.cycle {
			settings.MountedAtS = &mounted.atS
		}
		evidence := judge.Case{
			Log: out.Log, Inner: out.Inner, Outer: out.Outer, Cycle: c, Spikes: out.Spikes,
			RiseInner: &cycle.Inner, RiseOuter: &cycle.Outer,
			Local: &a.estimator, MountedProblem: mounted.problem, RunDate: s.RunDate, Work: &a.judging,
		}
		if cycle.Deep = a.deep(out.Log, &out, &c, &s); cycle.Deep != nil {
			evidence.LagInner, evidence.LagOuter, evidence.Cooling = cycle.Deep.LagInner, cycle.Deep.LagOuter, cycle.Deep.Cooling
		}
		cycle.Judgement = judge.Judge(evidence, settings)
		s.say(&cycle, out.OneBody)
		out.Cycles = append(out.Cycles, cycle)
	}
	out.Verdict, out.Reason = overall(&out)
	return out
}

// rise estimates the first-order curve of one ring in one cycle: of the role's first channel, in the
// given rows, without samples that are missing or marked as spikes.
func (a *Analyzer) rise(log *series.Log, channels []int, w segment.Window, spikes [][]int32) curve.FirstOrder {
	if len(channels) == 0 || w.Len() <= 0 {
		return curve.FirstOrder{Status: curve.NoRise, Why: "no rise to estimate"}
	}
	ch := channels[0]
	c := &log.Channels[ch]
	t, y := log.TimeS[w.First:w.End], c.C[w.First:w.End]
	if !complete(y, spikesOf(spikes, ch), w.First) {
		a.t, a.y = samples(log, ch, spikes, w.First, w.End, a.t[:0], a.y[:0])
		t, y = a.t, a.y
	}
	return a.estimator.FirstOrder(t, y, curve.Options{StepK: float64(c.StepK)})
}

// complete says whether values that begin at a row have none missing and none marked as a spike.
func complete(y []float64, marked []int32, first int) bool {
	for _, row := range marked {
		if int(row) >= first && int(row) < first+len(y) {
			return false
		}
	}
	for _, v := range y {
		if series.IsMissing(v) {
			return false
		}
	}
	return true
}

// overall gives the log's verdict, that of its worst cycle, and the reason that matters.
func overall(r *LogResult) (judge.Verdict, string) {
	if len(r.Cycles) == 0 {
		return judge.Unproven, noCycle(r)
	}
	worst := 0
	for i := range r.Cycles {
		if severity(r.Cycles[i].Judgement.Verdict) > severity(r.Cycles[worst].Judgement.Verdict) {
			worst = i
		}
	}
	j := &r.Cycles[worst].Judgement
	return j.Verdict, j.Reason
}

// noCycle says why a log shows no cycle.
func noCycle(r *LogResult) string {
	if len(r.Inner)+len(r.Outer) == 0 {
		why := "nothing says which column is the inner ring's (the bore's): name it with --inner"
		if !r.OneBody {
			why += ", and the outer ring's with --outer"
		}
		return why
	}
	valid := 0
	for _, group := range [][]int{r.Inner, r.Outer} {
		for _, ch := range group {
			valid += r.Log.Channels[ch].Valid
		}
	}
	switch {
	case valid == 0:
		return "no probe gave a single reading"
	case r.Log.Len() < 3:
		return fmt.Sprintf("%d rows of readings are too few to see a heating cycle", r.Log.Len())
	}
	return "no heating cycle was found: no ring warmed by 10 K or more"
}

// severity orders verdicts from harmless to worst.
func severity(v judge.Verdict) int {
	switch v {
	case judge.Fail:
		return 2
	case judge.Unproven:
		return 1
	}
	return 0
}
