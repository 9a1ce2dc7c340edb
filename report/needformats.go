package report

import (
	"encoding/json"
	"io"

	"github.com/gocarina/gocsv"

	"ringheat/analyze"
	"ringheat/analyze/joint"
)

// NeedSchema names the form of need's JSON and of its list.
const NeedSchema = "ringheat.need/1"

// The JSON form of an answer. Units stand in the keys; null is a value that does not exist.
type jsonNeed struct {
	Schema             string         `json:"schema"`
	Part               *string        `json:"part"`
	Kind               string         `json:"kind"`
	RingClass          *string        `json:"ring_class"`
	BoreMM             float64        `json:"bore_mm"`
	InterferenceMinUM  float64        `json:"interference_min_um"`
	InterferenceMaxUM  float64        `json:"interference_max_um"`
	InterferenceUUM    float64        `json:"interference_u_um"`
	InterferenceBasis  string         `json:"interference_basis"`
	InterferenceSource string         `json:"interference_source"`
	InterferenceSure   string         `json:"interference_confidence"`
	EaseUM             float64        `json:"ease_um"`
	EaseBasis          string         `json:"ease_basis"`
	PartMaterial       jsonMaterial   `json:"part_material"`
	ShaftMaterial      jsonMaterial   `json:"shaft_material"`
	ShaftTempC         float64        `json:"shaft_temp_c"`
	ShaftTempUK        float64        `json:"shaft_temp_u_k"`
	PartTempC          *float64       `json:"part_temp_c"`
	NeededC            float64        `json:"needed_c"`
	NeededUK           float64        `json:"needed_u_k"`
	NeededExpandedK    float64        `json:"needed_expanded_k"`
	CoverageFactor     float64        `json:"coverage_factor"`
	WithSmallestC      float64        `json:"needed_with_smallest_interference_c"`
	Budget             []jsonBudget   `json:"budget"`
	LimitC             float64        `json:"limit_c"`
	LimitBasis         string         `json:"limit_basis"`
	ProbeToleranceK    float64        `json:"probe_tolerance_k"`
	ProbeBasis         string         `json:"probe_basis"`
	GuardK             float64        `json:"guard_k"`
	MarginK            *float64       `json:"margin_k"`
	LowestC            float64        `json:"lowest_set_point_c"`
	HighestC           *float64       `json:"highest_set_point_c"`
	SetPointC          *float64       `json:"set_point_c"`
	Feasibility        string         `json:"feasibility"`
	ByWarming          bool           `json:"possible_by_warming"`
	CoolShaftC         *float64       `json:"cool_shaft_c"`
	Answer             string         `json:"answer"`
	Confidence         string         `json:"confidence"`
	Table              []jsonNeedCell `json:"table"`
	Clearance          *jsonClearance `json:"clearance"`
	Notes              []string       `json:"notes"`
	Cautions           []string       `json:"cautions"`
}

type jsonMaterial struct {
	Name      string  `json:"name"`
	Law       string  `json:"law"`
	AlphaPerK float64 `json:"alpha_per_k"`
	Source    string  `json:"source"`
	Sure      string  `json:"confidence"`
}

type jsonBudget struct {
	Input string  `json:"input"`
	UK    float64 `json:"u_k"`
	Basis string  `json:"basis"`
}

type jsonNeedCell struct {
	ShaftTempC     float64  `json:"shaft_temp_c"`
	InterferenceUM float64  `json:"interference_um"`
	NeededC        float64  `json:"needed_c"`
	AboveShaftK    float64  `json:"above_shaft_k"`
	SetPointC      *float64 `json:"set_point_c"`
	Feasibility    string   `json:"feasibility"`
}

type jsonClearance struct {
	Words           string              `json:"words"`
	MinUM           float64             `json:"min_um"`
	MaxUM           *float64            `json:"max_um"`
	Source          string              `json:"source"`
	Sure            string              `json:"confidence"`
	InnerRacewayMM  float64             `json:"inner_raceway_mm"`
	OuterRacewayMM  float64             `json:"outer_raceway_mm"`
	RacewayBasis    string              `json:"raceway_basis"`
	UsedUpAtK       *float64            `json:"used_up_at_k"`
	UsedUpHalfwayK  float64             `json:"used_up_at_k_elements_halfway"`
	CustomaryLimitK float64             `json:"customary_limit_k"`
	Stricter        string              `json:"stricter"`
	StricterWords   string              `json:"stricter_words"`
	Left            []jsonClearanceLeft `json:"left"`
	MountedMinUM    *float64            `json:"mounted_min_um"`
	MountedMaxUM    *float64            `json:"mounted_max_um"`
	MountedWords    string              `json:"mounted_words"`
}

type jsonClearanceLeft struct {
	DiffK  float64 `json:"ring_diff_k"`
	MinUM  float64 `json:"left_min_um"`
	MeanUM float64 `json:"left_min_um_elements_halfway"`
}

// WriteNeedJSON writes an answer as one JSON line.
func WriteNeedJSON(w io.Writer, a *analyze.NeedAnswer) error {
	n := &a.Need
	d := NewNeedDocument(a)
	j := jsonNeed{
		Schema: NeedSchema, Part: textOrNull(a.Part), Kind: string(a.Kind), RingClass: textOrNull(a.RingClass), BoreMM: a.Seat.DiameterMM,
		InterferenceMinUM: n.Interference.MinUM, InterferenceMaxUM: n.Interference.MaxUM, InterferenceUUM: n.Interference.StdUM,
		InterferenceBasis: n.Interference.Basis, InterferenceSource: n.Interference.Origin.Source, InterferenceSure: n.Interference.Origin.Confidence.String(),
		EaseUM: n.EaseUM, EaseBasis: n.EaseBasis, PartMaterial: materialJSON(&a.Seat.Part), ShaftMaterial: materialJSON(&a.Seat.Shaft),
		ShaftTempC: float64(a.Seat.ShaftC), ShaftTempUK: a.Seat.ShaftStdK, PartTempC: floatOrNull(a.Seat.PartC),
		NeededC: float64(n.NeededC), NeededUK: n.StdK, NeededExpandedK: joint.CoverageFactor * n.StdK, CoverageFactor: joint.CoverageFactor,
		WithSmallestC: float64(n.WithSmallestC), Budget: []jsonBudget{}, LimitC: a.LimitC, LimitBasis: a.LimitWords,
		ProbeToleranceK: a.ProbeToleranceK, ProbeBasis: a.ProbeWords, GuardK: a.GuardK, MarginK: floatOrNull(n.MarginK),
		LowestC: float64(n.LowestC), HighestC: floatOrNull(n.HighestC), SetPointC: floatOrNull(n.SetPointC), Feasibility: string(n.Feasibility),
		ByWarming: a.ByWarming(), CoolShaftC: floatOrNull(n.CoolShaftC), Answer: d.Answer, Confidence: n.Confidence.String(),
		Table: []jsonNeedCell{}, Clearance: clearanceJSON(a.Clearance), Notes: full(d.Notes), Cautions: Cautions,
	}
	for _, b := range n.Budget {
		j.Budget = append(j.Budget, jsonBudget{b.Input, b.StdK, b.Basis})
	}
	for i, shaft := range a.ShaftC {
		for k, um := range a.InterferenceUM {
			r := &a.Table[i][k]
			j.Table = append(j.Table, jsonNeedCell{shaft, um, float64(r.NeededC), float64(r.RiseK), floatOrNull(r.SetPointC), string(r.Feasibility)})
		}
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(j)
}

func materialJSON(m *joint.Material) jsonMaterial {
	law := "linear"
	if m.Law == joint.Eurocode {
		law = "EN 1993-1-2:2005 3.4.1.1"
	}
	return jsonMaterial{m.Name, law, m.AlphaPerK, m.Origin.Source, m.Origin.Confidence.String()}
}

func clearanceJSON(c *analyze.Clearance) *jsonClearance {
	if c == nil {
		return nil
	}
	j := &jsonClearance{
		Words: c.Words, MinUM: c.Radial.MinUM, Source: c.Radial.Origin.Source, Sure: c.Radial.Origin.Confidence.String(),
		InnerRacewayMM: c.Raceways.InnerMM, OuterRacewayMM: c.Raceways.OuterMM, RacewayBasis: c.Raceways.Basis,
		UsedUpHalfwayK: float64(c.Evenness.MeanK), CustomaryLimitK: c.CustomaryK, Stricter: "customary", StricterWords: c.StricterWords,
		Left: []jsonClearanceLeft{},
	}
	if c.Radial.MaxKnown {
		j.MaxUM = &c.Radial.MaxUM
	}
	if c.LimitK > 0 {
		j.UsedUpAtK = &c.LimitK
	}
	if c.ClearanceStrict {
		j.Stricter = "clearance"
	}
	for _, l := range c.Left {
		j.Left = append(j.Left, jsonClearanceLeft{l.DiffK, l.Left.CautiousUM, l.Left.MeanUM})
	}
	if c.After != nil {
		j.MountedMinUM, j.MountedWords = &c.After.MinUM, c.After.Words
		if c.After.MaxKnown {
			j.MountedMaxUM = &c.After.MaxUM
		}
	}
	return j
}

func floatOrNull[T ~float64](v *T) *float64 {
	if v == nil {
		return nil
	}
	f := float64(*v)
	return &f
}

// needRow is one cell of the table; the joint's own row holds the answer too.
type needRow struct {
	Schema         words  `csv:"ringheat_need"`
	Part           words  `csv:"part"`
	Kind           words  `csv:"kind"`
	RingClass      words  `csv:"ring_class"`
	BoreMM         number `csv:"bore_mm"`
	ShaftTempC     number `csv:"shaft_temp_c"`
	InterferenceUM number `csv:"interference_um"`
	EaseUM         number `csv:"ease_um"`
	NeededC        number `csv:"needed_c"`
	AboveShaftK    number `csv:"above_shaft_k"`
	LimitC         number `csv:"limit_c"`
	SetPointC      number `csv:"set_point_c"`
	Feasibility    words  `csv:"feasibility"`
	ThisJoint      words  `csv:"this_joint"`
	ExpandedK      number `csv:"needed_expanded_k"`
	LowestC        number `csv:"lowest_set_point_c"`
	HighestC       number `csv:"highest_set_point_c"`
	MarginK        number `csv:"margin_k"`
	CoolShaftC     number `csv:"cool_shaft_c"`
	DiffK          number `csv:"clearance_used_up_at_k"`
	Answer         words  `csv:"answer"`
	Caution        words  `csv:"caution"`
}

// WriteNeedList writes the table as a CSV list, one row a shaft temperature and interference.
func WriteNeedList(w io.Writer, a *analyze.NeedAnswer) error {
	var rows []needRow
	n := &a.Need
	for i := range a.ShaftC {
		for k := range a.InterferenceUM {
			r := &a.Table[i][k]
			needed, rise, shaft := float64(r.NeededC), float64(r.RiseK), a.ShaftC[i]
			row := needRow{
				Schema: NeedSchema, Part: words(a.Part), Kind: words(a.Kind), RingClass: words(a.RingClass), BoreMM: number{&a.Seat.DiameterMM},
				ShaftTempC: number{&shaft}, InterferenceUM: number{&a.InterferenceUM[k]}, EaseUM: number{&n.EaseUM}, NeededC: number{&needed},
				AboveShaftK: number{&rise}, LimitC: number{&a.LimitC}, SetPointC: number{floatOrNull(r.SetPointC)}, Feasibility: words(r.Feasibility),
				ThisJoint: "no", Caution: ShortCaution,
			}
			if k == a.Own && shaft == float64(a.Seat.ShaftC) {
				expanded, lowest := joint.CoverageFactor*n.StdK, float64(n.LowestC)
				row.ThisJoint, row.ExpandedK, row.LowestC, row.HighestC = "yes", number{&expanded}, number{&lowest}, number{floatOrNull(n.HighestC)}
				row.MarginK, row.CoolShaftC, row.Answer = number{floatOrNull(n.MarginK)}, number{floatOrNull(n.CoolShaftC)}, words(NewNeedDocument(a).Answer)
				if c := a.Clearance; c != nil && c.LimitK > 0 {
					row.DiffK = number{&c.LimitK}
				}
			}
			rows = append(rows, row)
		}
	}
	return gocsv.Marshal(rows, w)
}
