package report

import (
	"encoding/json"
	"io"
	"time"

	"ringheat/analyze"
	"ringheat/analyze/curve"
	"ringheat/analyze/ingest"
	"ringheat/analyze/judge"
	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// CheckSchema names the form of check's JSON lines. A reader of an old line needs no other program to
// know what stands in it: keys are added under the same name, never renamed.
const CheckSchema = "ringheat.check/1"

// The JSON form of one log. Units stand in the keys; null is a value that does not exist.
type jsonLog struct {
	Schema    string        `json:"schema"`
	Log       string        `json:"log"`
	SHA256    *string       `json:"sha256"`
	Error     *string       `json:"error"`
	Start     *string       `json:"start"`
	Samples   int           `json:"samples"`
	IntervalS *float64      `json:"interval_s"`
	Reading   *jsonReading  `json:"reading"`
	Channels  []jsonChannel `json:"channels"`
	Problems  []jsonProblem `json:"problems"`
	Count     int           `json:"problem_count"`
	NeedTempC *float64      `json:"need_temp_c"`
	Support   *string       `json:"support"`
	Part      *string       `json:"part"`
	Cycles    []jsonCycle   `json:"cycles"`
	Verdict   string        `json:"verdict"`
	Reason    string        `json:"reason"`
	Cautions  []string      `json:"cautions"`
}

type jsonReading struct {
	Encoding      string        `json:"encoding"`
	Compressed    string        `json:"compressed,omitempty"`
	Delimiter     string        `json:"delimiter"`
	Decimal       string        `json:"decimal"`
	HeaderLines   []int         `json:"header_lines"`
	FirstDataLine int           `json:"first_data_line"`
	Layout        string        `json:"layout"`
	Time          jsonTime      `json:"time"`
	Rows          jsonRows      `json:"rows"`
	Ignored       []jsonIgnored `json:"ignored"`
	Questions     []string      `json:"questions"`
	Flags         []string      `json:"flags"`
}

type jsonTime struct {
	Kind    string `json:"kind"`
	Format  string `json:"format"`
	Columns []int  `json:"columns"`
	Zone    string `json:"zone,omitempty"`
}

type jsonRows struct {
	Total    int            `json:"total"`
	Samples  int            `json:"samples"`
	Problems int            `json:"problems"`
	Skipped  map[string]int `json:"skipped"`
}

type jsonIgnored struct {
	Column int    `json:"column"`
	Name   string `json:"name"`
	Reason string `json:"reason"`
}

type jsonChannel struct {
	Name    string         `json:"name"`
	Column  int            `json:"column"`
	Role    *string        `json:"role"`
	Unit    *string        `json:"unit"`
	Valid   int            `json:"valid"`
	Missing map[string]int `json:"missing"`
	Spikes  int            `json:"spikes"`
}

type jsonProblem struct {
	Line    *int   `json:"line"`
	Column  *int   `json:"column"`
	Raw     string `json:"raw"`
	Kind    string `json:"kind"`
	Message string `json:"message"`
}

type jsonCycle struct {
	OnsetS   *float64      `json:"onset_s"`
	RampEndS *float64      `json:"ramp_end_s"`
	EndS     *float64      `json:"end_s"`
	Inner    *jsonRise     `json:"inner"`
	Outer    *jsonRise     `json:"outer"`
	Peak     jsonPeak      `json:"peak_c"`
	OverS    *float64      `json:"over_limit_s"`
	DiffK    *float64      `json:"max_ring_diff_k"`
	DiffAtS  *float64      `json:"max_ring_diff_at_s"`
	Hotter   *string       `json:"max_ring_diff_hotter"`
	Phases   []jsonPhase   `json:"phases"`
	Defects  []jsonDefect  `json:"defects"`
	Findings []jsonFinding `json:"findings"`
	Rule     string        `json:"rule"`
	Assumed  []string      `json:"assumed"`
	Notes    []string      `json:"notes"`
	Verdict  string        `json:"verdict"`
	Reason   string        `json:"reason"`
	jsonDeep
}

type jsonPeak struct {
	Inner *float64 `json:"inner"`
	Outer *float64 `json:"outer"`
}

type jsonRise struct {
	StartC  *float64 `json:"start_c"`
	StartSE *float64 `json:"start_se_c"`
	Rate    *float64 `json:"rate_k_per_min"`
	RateSE  *float64 `json:"rate_se_k_per_min"`
	RateCI  interval `json:"rate_ci_k_per_min"`
	Tau     *float64 `json:"time_constant_s"`
	TauSE   *float64 `json:"time_constant_se_s"`
	TauCI   interval `json:"time_constant_ci_s"`
	Final   *float64 `json:"final_c"`
	FinalCI interval `json:"final_ci_c"`
	Status  string   `json:"status"`
	Why     string   `json:"why"`
	SD      *float64 `json:"residual_sd_k"`
	Lag1    *float64 `json:"lag1"`
	Samples int      `json:"samples"`
	FromS   *float64 `json:"from_s"`
	ToS     *float64 `json:"to_s"`
}

type jsonPhase struct {
	Kind  string  `json:"kind"`
	FromS float64 `json:"from_s"`
	ToS   float64 `json:"to_s"`
}

type jsonDefect struct {
	Kind    string  `json:"kind"`
	Channel *string `json:"channel"`
	FromS   float64 `json:"from_s"`
	ToS     float64 `json:"to_s"`
	Message string  `json:"message"`
}

type jsonFinding struct {
	Check       string          `json:"check"`
	Verdict     string          `json:"verdict"`
	Proven      *bool           `json:"proven"`
	Value       *float64        `json:"value"`
	Limit       *float64        `json:"limit"`
	Acceptance  *float64        `json:"acceptance_limit"`
	Uncertainty *float64        `json:"uncertainty"`
	Coverage    *float64        `json:"coverage_factor"`
	Conformance *float64        `json:"conformance_probability"`
	Risk        *float64        `json:"specific_risk"`
	AtS         *float64        `json:"at_s"`
	Subject     *string         `json:"subject"`
	Reason      string          `json:"reason"`
	Budget      []jsonComponent `json:"budget"`
}

type jsonComponent struct {
	Name      string   `json:"name"`
	HalfWidth *float64 `json:"half_width_k"`
	U         float64  `json:"u_k"`
	Basis     string   `json:"basis"`
}

// interval is an interval in JSON: [low, high], an end that runs to infinity null; null when none was computed.
type interval curve.Interval

func (i interval) MarshalJSON() ([]byte, error) {
	if !i.HasLow && !i.HasHigh {
		return []byte("null"), nil
	}
	var ends [2]*float64
	if i.HasLow {
		ends[0] = &i.Low
	}
	if i.HasHigh {
		ends[1] = &i.High
	}
	return json.Marshal(ends)
}

// scaled gives the interval in another unit.
func (i interval) scaled(by float64) interval {
	i.Low *= by
	i.High *= by
	return i
}

// WriteJSONLine writes one log's result as one line in the form CheckSchema.
func WriteJSONLine(w io.Writer, r *analyze.LogResult) error {
	line := jsonLog{
		Schema: CheckSchema, Log: r.Name, Channels: []jsonChannel{}, Problems: []jsonProblem{}, Cycles: []jsonCycle{},
		NeedTempC: r.NeedTempC, Support: textOrNull(r.Support), Part: textOrNull(r.Part),
		Verdict: r.Verdict.String(), Reason: r.Reason, Cautions: Cautions,
	}
	if r.Err != nil {
		line.Error = textOrNull(r.Err.Error())
	}
	line.SHA256 = textOrNull(r.SHA256)
	if r.Log != nil {
		line.addLog(r)
	}
	for i := range r.Cycles {
		line.Cycles = append(line.Cycles, cycleJSON(r, &r.Cycles[i]))
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(line)
}

func (line *jsonLog) addLog(r *analyze.LogResult) {
	l := r.Log
	line.Samples = l.Rows.Samples
	line.Count = l.ProblemCount
	if l.Len() > 1 {
		line.IntervalS = &l.Clock.IntervalS
	}
	if !l.Clock.Start.IsZero() {
		line.Start = startText(l)
	}
	line.Reading = readingJSON(l, &r.Reading)
	for i := range l.Channels {
		c := &l.Channels[i]
		spikes := 0
		if i < len(r.Spikes) {
			spikes = len(r.Spikes[i])
		}
		line.Channels = append(line.Channels, jsonChannel{
			Name: c.Name, Column: c.Column, Role: textOrNull(c.Role.String()), Unit: textOrNull(c.Unit.Letter()),
			Valid: c.Valid, Missing: counts(c.MissingKind), Spikes: spikes,
		})
	}
	for _, p := range l.Problems {
		line.Problems = append(line.Problems, jsonProblem{lineOrNull(p.Line), lineOrNull(p.Column), p.Raw, string(p.Kind), p.Message})
	}
}

func readingJSON(l *series.Log, g *ingest.Reading) *jsonReading {
	out := &jsonReading{
		Encoding: g.Encoding, Compressed: g.Compressed, Delimiter: g.Delimiter, Decimal: g.Decimal,
		HeaderLines: full(g.HeaderLines), FirstDataLine: g.FirstDataLine, Layout: g.Layout,
		Time:      jsonTime{Kind: g.ClockKind, Format: g.ClockFormat, Columns: full(g.ClockColumns), Zone: g.Zone},
		Rows:      jsonRows{l.Rows.Total, l.Rows.Samples, l.Rows.Problems, counts(l.Rows.Skipped)},
		Questions: full(g.Questions), Flags: full(g.Flags), Ignored: []jsonIgnored{},
	}
	for _, c := range g.Ignored {
		out.Ignored = append(out.Ignored, jsonIgnored(c))
	}
	return out
}

// startText writes the instant of the first row. A clock without a zone is written as UTC, the
// zone that ringheat keeps unnamed clocks in.
func startText(l *series.Log) *string {
	s := l.Clock.Start.Format(time.RFC3339Nano)
	return &s
}

func cycleJSON(r *analyze.LogResult, c *analyze.Cycle) jsonCycle {
	j := &c.Judgement
	out := jsonCycle{
		OnsetS: momentOrNull(c.Segment.Onset), RampEndS: momentOrNull(c.Segment.RampEnd), EndS: momentOrNull(c.Segment.End),
		Inner: riseJSON(&c.Inner), Phases: []jsonPhase{}, Defects: []jsonDefect{}, Findings: []jsonFinding{},
		Peak:  jsonPeak{peakOrNull(j.PeakInner), peakOrNull(j.PeakOuter)},
		OverS: j.OverLimitS, DiffK: j.MaxRingDiffK, DiffAtS: j.MaxRingDiffAtS, Hotter: textOrNull(j.HotterRing),
		jsonDeep: deepJSON(c.Deep),
		Rule:     string(j.Rule), Assumed: full(j.Assumed), Notes: full(j.Notes), Verdict: j.Verdict.String(), Reason: j.Reason,
	}
	if !r.OneBody {
		out.Outer = riseJSON(&c.Outer)
	}
	for _, p := range c.Segment.Phases {
		out.Phases = append(out.Phases, jsonPhase{string(p.Kind), p.FromS, p.ToS})
	}
	for _, d := range c.Segment.Defects {
		out.Defects = append(out.Defects, jsonDefect{string(d.Kind), channelOrNull(r.Log, d.Channel), d.FromS, d.ToS, d.Message})
	}
	for i := range j.Findings {
		out.Findings = append(out.Findings, findingJSON(&j.Findings[i]))
	}
	return out
}

func findingJSON(f *judge.Finding) jsonFinding {
	out := jsonFinding{
		Check: string(f.Check), Verdict: f.Verdict.String(), Proven: f.Proven, Value: f.Value, Limit: f.Limit,
		Acceptance: f.Acceptance, Uncertainty: f.Uncertainty, Conformance: f.Conformance, AtS: f.AtS,
		Subject: textOrNull(f.Subject), Reason: f.Reason, Risk: f.Risk, Budget: []jsonComponent{},
	}
	if f.Uncertainty != nil && f.Coverage > 0 {
		out.Coverage = &f.Coverage
	}
	for _, c := range f.Budget {
		part := jsonComponent{Name: c.Name, U: c.U, Basis: c.Basis}
		if c.HalfWidth > 0 {
			part.HalfWidth = &c.HalfWidth
		}
		out.Budget = append(out.Budget, part)
	}
	return out
}

func riseJSON(e *curve.FirstOrder) *jsonRise {
	out := &jsonRise{Status: string(e.Status), Why: e.Why, Samples: e.N}
	if e.Status == curve.NoRise {
		return out
	}
	out.FromS, out.ToS = &e.T0S, &e.EndS
	out.SD, out.Lag1 = &e.ResidualSDK, &e.Lag1
	if e.StartC.Known {
		out.StartC, out.StartSE = &e.StartC.Value, &e.StartC.StdErr
	}
	if e.RateKPerS.Known {
		out.Rate, out.RateSE = scaledPtr(e.RateKPerS.Value, 60), scaledPtr(e.RateKPerS.StdErr, 60)
	}
	out.RateCI = interval(e.RateKPerS.CI).scaled(60)
	if e.TimeConstantS.Known {
		out.Tau, out.TauSE = &e.TimeConstantS.Value, &e.TimeConstantS.StdErr
	}
	out.TauCI = interval(e.TimeConstantS.CI)
	if e.FinalC.Known {
		out.Final = &e.FinalC.Value
	}
	out.FinalCI = interval(e.FinalC.CI)
	return out
}

func scaledPtr(v, by float64) *float64 {
	v *= by
	return &v
}

func momentOrNull(m segment.Moment) *float64 {
	if !m.Known {
		return nil
	}
	return &m.AtS
}

func peakOrNull(p *judge.Peak) *float64 {
	if p == nil {
		return nil
	}
	return &p.ValueC
}

func textOrNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func lineOrNull(n int) *int {
	if n <= 0 {
		return nil
	}
	return &n
}

func channelOrNull(l *series.Log, i int) *string {
	if l == nil || i < 0 || i >= len(l.Channels) {
		return nil
	}
	return &l.Channels[i].Name
}

// full gives an empty list instead of null, so that readers need not tell the two apart.
func full[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

func counts(m map[string]int) map[string]int {
	if m == nil {
		return map[string]int{}
	}
	return m
}
