package clock

// Reader turns the time cells of consecutive rows into seconds. It keeps what it needs between rows
// (midnights passed, both readings of an ambiguous date) in a few words of memory.
type Reader struct {
	plan *Plan
}

// Parse reads one row's time: cells are those of Plan.Columns, in that order. The seconds count from the first
// row that was OK. cells are not kept. It does not allocate on the usual formats.
func (r *Reader) Parse(cells [][]byte) (seconds float64, st Status) { return 0, Bad }

// ParseCell is Parse for a plan of one column.
func (r *Reader) ParseCell(cell []byte) (seconds float64, st Status) { return 0, Bad }

// Finish says what the whole column showed. The reader must not be used afterwards.
func (r *Reader) Finish() Outcome { return Outcome{} }
