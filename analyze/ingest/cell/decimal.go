package cell

// DecimalEvidence counts what a sample of cells says about the decimal mark. The zero value is ready.
type DecimalEvidence struct {
	Point     int // cells that are numbers only if '.' is the decimal mark: 23.4, 1,234.5
	Comma     int // cells that are numbers only if ',' is the decimal mark: 23,4, 1.234,5
	Ambiguous int // cells that are a number either way, with different values: 1,234 or 1.234
	Neither   int // numbers without either mark
	// ambiguous cells by the mark they hold
	ambiguousPoint, ambiguousComma int
	pointExample, commaExample     string
}

// Add takes one cell into the evidence. Cells that are no numbers are passed over.
func (e *DecimalEvidence) Add(b []byte) {}

// Decide gives the decimal mark '.' or ',' and, in words, why. decided is false when the evidence is even
// or empty; mark is then the better guess ('.' when nothing speaks for a comma).
func (e *DecimalEvidence) Decide() (mark byte, decided bool, evidence string) {
	return '.', false, ""
}
