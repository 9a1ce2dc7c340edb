package cell

import "fmt"

// DecimalEvidence counts what a sample of cells says about the decimal mark. The zero value is ready.
type DecimalEvidence struct {
	Point     int // cells that are numbers only if '.' is the decimal mark: 23.4, 1,234.5
	Comma     int // cells that are numbers only if ',' is the decimal mark: 23,4, 1.234,5
	Ambiguous int // cells that are a number either way, with different values: 1,234 or 1.234
	Neither   int // numbers without either mark

	ambiguousPoint, ambiguousComma int // ambiguous cells by the mark they hold
	pointExample, commaExample     string
}

// Add takes one cell into the evidence. Cells that are no numbers are passed over.
func (e *DecimalEvidence) Add(b []byte) {
	b = strip(b)
	if len(b) == 0 || len(b) > 60 {
		return
	}
	p, pok := tolerant(b, '.')
	c, cok := tolerant(b, ',')
	switch {
	case pok && cok:
		if p.Number == c.Number && p.Grouped == c.Grouped {
			e.Neither++
			return
		}
		e.Ambiguous++
		if p.Grouped {
			e.ambiguousComma++
			keepExample(&e.commaExample, b)
		} else {
			e.ambiguousPoint++
			keepExample(&e.pointExample, b)
		}
	case pok:
		if e.Point == 0 {
			e.pointExample = ""
		}
		e.Point++
		keepExample(&e.pointExample, b)
	case cok:
		if e.Comma == 0 {
			e.commaExample = ""
		}
		e.Comma++
		keepExample(&e.commaExample, b)
	}
}

func keepExample(s *string, b []byte) {
	if *s == "" {
		*s = string(b)
	}
}

// Merge adds another sample's evidence, so that columns can be looked at apart and together.
func (e *DecimalEvidence) Merge(o DecimalEvidence) {
	if o.pointExample != "" && (e.pointExample == "" || e.Point == 0 && o.Point > 0) {
		e.pointExample = o.pointExample
	}
	if o.commaExample != "" && (e.commaExample == "" || e.Comma == 0 && o.Comma > 0) {
		e.commaExample = o.commaExample
	}
	e.Point += o.Point
	e.Comma += o.Comma
	e.Ambiguous += o.Ambiguous
	e.Neither += o.Neither
	e.ambiguousPoint += o.ambiguousPoint
	e.ambiguousComma += o.ambiguousComma
}

// Decide gives the decimal mark '.' or ',' and, in words, why. decided is false when the evidence is even
// or empty; mark is then the better guess: ',' only where cells hold a comma and none a point. A column of "23,456" stays
// undecided: it may be thousandths or thousands.
func (e *DecimalEvidence) Decide() (mark byte, decided bool, evidence string) {
	switch {
	case e.Point > 0 && e.Comma == 0:
		return '.', true, fmt.Sprintf("%d cells such as %q are numbers only with a decimal point", e.Point, e.pointExample)
	case e.Comma > 0 && e.Point == 0:
		return ',', true, fmt.Sprintf("%d cells such as %q are numbers only with a decimal comma", e.Comma, e.commaExample)
	case e.Point > 0:
		mark, decided = '.', e.Point >= 20*e.Comma
		if e.Comma > e.Point {
			mark, decided = ',', e.Comma >= 20*e.Point
		}
		return mark, decided, fmt.Sprintf("%d cells such as %q ask for a point, %d such as %q for a comma", e.Point, e.pointExample, e.Comma, e.commaExample)
	case e.ambiguousPoint > 0 && e.ambiguousComma > 0:
		return '.', false, fmt.Sprintf("cells such as %q and %q can be read with either mark", e.pointExample, e.commaExample)
	case e.ambiguousComma > 0:
		return ',', false, fmt.Sprintf("%d cells such as %q can be thousandths or thousands", e.ambiguousComma, e.commaExample)
	case e.ambiguousPoint > 0:
		return '.', false, fmt.Sprintf("%d cells such as %q can be thousandths or thousands", e.ambiguousPoint, e.pointExample)
	case e.Neither > 0:
		return '.', false, fmt.Sprintf("all %d numbers are whole", e.Neither)
	}
	return '.', false, "no numbers seen"
}
