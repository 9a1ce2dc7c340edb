package joint

// Confidence says how sure a figure of the tables is.
type Confidence uint8

// The confidences, surest first. Given: by the user. Verified: two independent published sources agree. SingleSource: one
// source. Memory: known in the trade or remembered, no text was read. Disputed figures are refused.
const (
	Given Confidence = iota
	Verified
	SingleSource
	Memory
	Disputed
)

var confidenceNames = [...]string{"given", "verified", "single source", "memory", "disputed"}

// String gives the word used in the tables.
func (c Confidence) String() string { return confidenceNames[c] }

func parseConfidence(s string) (Confidence, bool) {
	for i, name := range confidenceNames {
		if s == name {
			return Confidence(i), true
		}
	}
	return 0, false
}

// Origin is where a figure is from and how sure it is.
type Origin struct {
	Source     string
	Confidence Confidence
}

// weakest gives the less sure of two.
func weakest(a, b Confidence) Confidence { return max(a, b) }
