package heading

// Read says what a heading means. text is the heading, several header rows joined by a space or a line
// end, outermost first; unit is the cell of the unit row, "" without one. Both may be damaged or hold
// anything. It never fails: a heading that says nothing gives the zero Meaning with Number -1.
func Read(text, unit string) Meaning {
	return Meaning{Number: -1}
}

// IsHeading says whether a cell reads like a heading: it holds at least one word of the vocabulary
// or a unit. Bare numbers, dates and unknown words are not counted.
func IsHeading(text string) bool { m := Read(text, ""); return m.Evidence != "" }
