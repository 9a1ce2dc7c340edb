package cell

// ParsePlain reads a plain number: an optional sign, digits with at most one decimal mark, an optional
// exponent; nothing else, no blanks. decimal is '.' or ','. It returns the number, correctly rounded
// (the same bits as strconv.ParseFloat gives for the cell with its mark written '.'), and the digits
// written behind the mark less the exponent, not below 0. ok is false for anything else, also for numbers that are long enough to need
// care (more than 19 digits, large exponents): Parse reads those. It never allocates.
func ParsePlain(b []byte, decimal byte) (v float64, decimals int, ok bool) {
	return 0, 0, false
}

// Parse reads a cell the tolerant way; see Value. decimal is '.' or ','. It takes blanks and quotes round the cell,
// a plus sign, a sign apart from its digits, typographic and full-width signs and digits, thousands marks,
// a unit behind the number, scientific notation, and the words in many languages that loggers write for "no reading".
// It allocates only for unusual cells.
func Parse(b []byte, decimal byte) Value {
	return Value{}
}
