package judge

// Verdict is one check's answer or the whole cycle's. The zero Verdict is Unproven: nothing passes
// without evidence.
type Verdict uint8

// The verdicts. NotAsked stands only in findings.
const (
	Unproven Verdict = iota
	Pass
	Fail
	NotAsked
)

var verdictNames = [...]string{"unproven", "pass", "fail", "not-asked"}

// String gives the lower-case name used in JSON and lists.
func (v Verdict) String() string { return verdictNames[v] }

// Check names what a finding answers.
type Check string

// The checks. Each stands once in every cycle.
const (
	MaxTemp  Check = "max-temp"
	RingDiff Check = "ring-diff"
	NeedTemp Check = "need-temp"
	Record   Check = "record"
	Magnet   Check = "magnetism" // only where a reading of it was given
)

// Rule is a decision rule in the sense of JCGM 106:2012 clause 8.
type Rule string

// The decision rules of DEVELOPERS.md, "Verdict rules".
const (
	Strict    Rule = "strict"     // guarded acceptance: PASS up to limit - U, FAIL above the limit
	ThreeZone Rule = "three-zone" // PASS up to limit - U, FAIL above limit + U
	Simple    Rule = "simple"     // simple acceptance: PASS up to the limit
)

// Words names the rule in the terms of JCGM 106:2012 (clauses 8.2 and 8.3, from memory).
func (r Rule) Words() string {
	switch r {
	case ThreeZone:
		return "guarded acceptance and guarded rejection, the three zones of ISO 14253-1: PASS up to the limit minus U, FAIL above the limit plus U, UNPROVEN between"
	case Simple:
		return "simple acceptance with shared risk: PASS up to the limit, FAIL above it"
	}
	return "guarded acceptance: PASS up to the limit minus U; above the limit not accepted (FAIL); UNPROVEN between"
}

// Component is one line of an uncertainty budget.
type Component struct {
	Name      string  // plain words
	HalfWidth float64 // K; 0 when the component is not a rectangular one
	U         float64 // standard uncertainty, K
	Basis     string  // where the figure is from
}

// Finding is one check's answer, with everything needed to follow it.
type Finding struct {
	Check       Check
	Verdict     Verdict
	Proven      *bool    // for a Fail: beyond limit + U; for other verdicts nil
	Value       *float64 // measured value y: °C, or K for a difference
	Limit       *float64 // tolerance limit L: °C, or K for a difference
	Acceptance  *float64 // acceptance limit after the guard band
	Uncertainty *float64 // expanded uncertainty U, K
	Coverage    float64  // coverage factor of U
	Conformance *float64 // conformance probability (JCGM 106), 0..1
	Risk        *float64 // specific risk of the decision (JCGM 106): consumer's for a Pass, producer's for a Fail; else nil
	AtS         *float64 // when the value was reached, s since the log's first row
	Subject     string   // which ring or probe decided ("inner", "outer", "inner hotter", ...)
	Reason      string   // one sentence a person understands
	Assumed     []string // what was assumed
	Budget      []Component
}
