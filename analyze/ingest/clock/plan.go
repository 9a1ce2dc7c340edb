package clock

// Plan says which columns carry time and how they are written. It is made by Detect and does not change; it may be
// shared between goroutines.
type Plan struct {
	kind    Kind
	columns []int
	format  string
	order   Order
}

// Kind is the kind of clock.
func (p *Plan) Kind() Kind { return p.kind }

// Columns lists the 0-based columns whose cells Reader.Parse wants, in its order. Empty for a plan that only counts rows.
func (p *Plan) Columns() []int { return p.columns }

// Format says in words how the time is written.
func (p *Plan) Format() string { return p.format }

// Order is the order of numeric dates in use; AnyOrder where there are none.
func (p *Plan) Order() Order { return p.order }

// Reader gives a fresh reader for all rows of the log, first row first.
func (p *Plan) Reader() *Reader { return &Reader{plan: p} }
