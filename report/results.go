package report

import (
	"encoding/csv"
	"io"
	"reflect"
	"strconv"

	"ringheat/analyze"
	"ringheat/analyze/curve"
	"ringheat/analyze/judge"
	"ringheat/analyze/quantity"
)

// ResultsSchema names the form of the results list; it stands in the first column of every row.
const ResultsSchema = "ringheat.results/1"

// number is an optional figure in a list: an empty cell where the value does not exist, never 0.
type number struct{ v *float64 }

// MarshalCSV writes the figure.
func (n number) MarshalCSV() (string, error) {
	if n.v == nil {
		return "", nil
	}
	return figureCell(*n.v), nil
}

// words is a text in a list, safe to open in a spreadsheet.
type words string

// MarshalCSV writes the text.
func (s words) MarshalCSV() (string, error) { return spreadsheetSafe(string(s)), nil }

// resultRow is one cycle of one log, or a log without one.
type resultRow struct {
	Schema        words  `csv:"ringheat_results"`
	Log           words  `csv:"log"`
	Cycle         int    `csv:"cycle"`
	Cycles        int    `csv:"cycles"`
	Verdict       words  `csv:"verdict"`
	LogVerdict    words  `csv:"log_verdict"`
	Reason        words  `csv:"reason"`
	MaxTemp       words  `csv:"max_temp"`
	RingDiff      words  `csv:"ring_diff"`
	NeedTemp      words  `csv:"need_temp"`
	Record        words  `csv:"record"`
	Magnetism     words  `csv:"magnetism"`
	InnerPeakC    number `csv:"inner_peak_c"`
	OuterPeakC    number `csv:"outer_peak_c"`
	LimitC        number `csv:"max_temp_c"`
	UncertaintyK  number `csv:"max_temp_uncertainty_k"`
	OverLimitS    number `csv:"over_limit_s"`
	DiffK         number `csv:"max_ring_diff_k"`
	DiffAtS       number `csv:"max_ring_diff_at_s"`
	Hotter        words  `csv:"max_ring_diff_hotter"`
	DiffLimitK    number `csv:"ring_diff_limit_k"`
	NeedC         number `csv:"need_temp_c"`
	OnsetS        number `csv:"onset_s"`
	RampEndS      number `csv:"ramp_end_s"`
	EndS          number `csv:"end_s"`
	InnerStatus   words  `csv:"inner_status"`
	InnerStartC   number `csv:"inner_start_c"`
	InnerRate     number `csv:"inner_rate_k_per_min"`
	InnerTauS     number `csv:"inner_time_constant_s"`
	InnerTauSE    number `csv:"inner_time_constant_se_s"`
	InnerTauLow   number `csv:"inner_time_constant_low_s"`
	InnerTauHigh  number `csv:"inner_time_constant_high_s"`
	InnerFinalC   number `csv:"inner_final_c"`
	OuterStatus   words  `csv:"outer_status"`
	OuterStartC   number `csv:"outer_start_c"`
	OuterRate     number `csv:"outer_rate_k_per_min"`
	OuterTauS     number `csv:"outer_time_constant_s"`
	OuterTauSE    number `csv:"outer_time_constant_se_s"`
	OuterTauLow   number `csv:"outer_time_constant_low_s"`
	OuterTauHigh  number `csv:"outer_time_constant_high_s"`
	OuterFinalC   number `csv:"outer_final_c"`
	Part          words  `csv:"part"`
	Support       words  `csv:"support"`
	Samples       int    `csv:"samples"`
	IntervalS     number `csv:"interval_s"`
	ProblemsFound int    `csv:"problems"`
	SHA256        words  `csv:"sha256"`
	Error         words  `csv:"error"`
	Caution       words  `csv:"caution"`
}

// ResultsList writes results as a CSV list, one row a cycle; a log without a cycle, or one that could not
// be read, has one row too.
type ResultsList struct {
	w      *csv.Writer
	cells  []string
	headed bool
}

// NewResultsList begins a list on w.
func NewResultsList(w io.Writer) *ResultsList { return &ResultsList{w: csv.NewWriter(w)} }

// Continue says that the header stands already before what this list writes.
func (l *ResultsList) Continue() { l.headed = true }

// Add writes one log's rows.
func (l *ResultsList) Add(r *analyze.LogResult) error {
	if !l.headed {
		l.headed = true
		l.w.Write(headings(l.cells[:0])) // an error stays with the writer
	}
	rows := resultRows(r)
	for i := range rows {
		l.cells = cells(&rows[i], l.cells[:0])
		l.w.Write(l.cells)
	}
	l.w.Flush()
	return l.w.Error()
}

// headings are the columns' names, from the tags of resultRow.
func headings(into []string) []string {
	t := reflect.TypeFor[resultRow]()
	for i := range t.NumField() {
		into = append(into, t.Field(i).Tag.Get("csv"))
	}
	return into
}

// cells writes a row's fields in their order. It is the part of the list that every log of a batch goes
// through, so it looks at the kinds of fields that resultRow has and makes no value of its own of each.
func cells(row *resultRow, into []string) []string {
	v := reflect.ValueOf(row).Elem()
	for i := range v.NumField() {
		s := ""
		switch f := v.Field(i); f.Kind() {
		case reflect.String:
			s = spreadsheetSafe(f.String())
		case reflect.Int:
			s = strconv.FormatInt(f.Int(), 10)
		case reflect.Struct: // a number
			if p := f.Field(0); !p.IsNil() {
				s = figureCell(p.Elem().Float())
			}
		default:
			panic("report: no cell for the field " + v.Type().Field(i).Name) // held by a test
		}
		into = append(into, s)
	}
	return into
}

// figureCell writes a figure with seven significant digits, which is more than any probe resolves; one that
// is no number stays empty.
func figureCell(v float64) string {
	if !quantity.Finite(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', 7, 64)
}

func resultRows(r *analyze.LogResult) []resultRow {
	base := resultRow{
		Schema: ResultsSchema, Log: words(r.Name), Cycles: len(r.Cycles), Verdict: words(r.Verdict.String()),
		LogVerdict: words(r.Verdict.String()), Reason: words(r.Reason), Part: words(r.Part), Support: words(r.Support),
		NeedC: number{r.NeedTempC}, SHA256: words(r.SHA256), Caution: ShortCaution,
	}
	if r.Err != nil {
		base.Error = words(r.Err.Error())
	}
	if r.Log != nil {
		base.Samples = r.Log.Rows.Samples
		base.ProblemsFound = r.Log.ProblemCount
		if r.Log.Len() > 1 {
			base.IntervalS = number{&r.Log.Clock.IntervalS}
		}
	}
	if len(r.Cycles) == 0 {
		return []resultRow{base}
	}
	rows := make([]resultRow, len(r.Cycles))
	for i := range r.Cycles {
		row := base
		row.Cycle = i + 1
		row.addCycle(r, &r.Cycles[i])
		rows[i] = row
	}
	return rows
}

func (row *resultRow) addCycle(r *analyze.LogResult, c *analyze.Cycle) {
	j := &c.Judgement
	row.Verdict, row.Reason = words(j.Verdict.String()), words(j.Reason)
	for i := range j.Findings {
		f := &j.Findings[i]
		v := words(f.Verdict.String())
		switch f.Check {
		case judge.MaxTemp:
			row.MaxTemp, row.LimitC, row.UncertaintyK = v, number{f.Limit}, number{f.Uncertainty}
		case judge.RingDiff:
			row.RingDiff, row.DiffLimitK = v, number{f.Limit}
		case judge.NeedTemp:
			row.NeedTemp = v
		case judge.Record:
			row.Record = v
		case judge.Magnet:
			row.Magnetism = v
		}
	}
	row.InnerPeakC, row.OuterPeakC = number{peakOrNull(j.PeakInner)}, number{peakOrNull(j.PeakOuter)}
	row.OverLimitS = number{j.OverLimitS}
	row.DiffK, row.DiffAtS, row.Hotter = number{j.MaxRingDiffK}, number{j.MaxRingDiffAtS}, words(j.HotterRing)
	row.OnsetS, row.RampEndS, row.EndS = number{momentOrNull(c.Segment.Onset)}, number{momentOrNull(c.Segment.RampEnd)}, number{momentOrNull(c.Segment.End)}
	in := riseCells(&c.Inner)
	row.InnerStatus, row.InnerStartC, row.InnerRate, row.InnerTauS, row.InnerTauSE = in.status, in.start, in.rate, in.tau, in.se
	row.InnerTauLow, row.InnerTauHigh, row.InnerFinalC = in.low, in.high, in.final
	if !r.OneBody {
		out := riseCells(&c.Outer)
		row.OuterStatus, row.OuterStartC, row.OuterRate, row.OuterTauS, row.OuterTauSE = out.status, out.start, out.rate, out.tau, out.se
		row.OuterTauLow, row.OuterTauHigh, row.OuterFinalC = out.low, out.high, out.final
	}
}

type riseColumns struct {
	status                                 words
	start, rate, tau, se, low, high, final number
}

func riseCells(e *curve.FirstOrder) riseColumns {
	j := riseJSON(e)
	c := riseColumns{status: words(j.Status), start: number{j.StartC}, rate: number{j.Rate}, tau: number{j.Tau}, se: number{j.TauSE}, final: number{j.Final}}
	if j.TauCI.HasLow {
		c.low = number{&j.TauCI.Low}
	}
	if j.TauCI.HasHigh {
		c.high = number{&j.TauCI.High}
	}
	return c
}
