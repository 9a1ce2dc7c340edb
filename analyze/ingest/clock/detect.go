package clock

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Detect finds the columns that carry time. It always returns a Detection; no candidates means that the
// caller has to ask for --time or --interval-s.
func Detect(t Table, s Settings) Detection {
	if s.Decimal == 0 {
		s.Decimal = '.'
	}
	d := detector{t: t, s: s}
	d.profile()
	switch {
	case len(s.Columns) > 0:
		d.named()
	default:
		d.stamps()
		d.parts()
		d.numbers()
		d.rowCounter()
	}
	return d.result()
}

type detector struct {
	t    Table
	s    Settings
	cols []profile
	out  []Candidate
	ask  []string
	used []int // columns that belong to a clock in parts
	st   stamp
	// reused by every measurement
	steps  []float64
	joined []byte
}

func (d *detector) heading(c int) string {
	if c < len(d.t.Columns) {
		if h := strings.TrimSpace(d.t.Columns[c].Heading); h != "" {
			return fmt.Sprintf("column %d (%s)", c+1, shorten(h))
		}
	}
	return fmt.Sprintf("column %d", c+1)
}

func shorten(s string) string {
	if len(s) <= 40 {
		return s
	}
	cut := 40
	for cut > 0 && s[cut]&0xC0 == 0x80 {
		cut--
	}
	return s[:cut] + "…"
}

func (d *detector) columnsText(cols []int) string {
	if len(cols) == 1 {
		return d.heading(cols[0])
	}
	parts := make([]string, len(cols))
	for i, c := range cols {
		parts[i] = fmt.Sprint(c + 1)
	}
	return "columns " + strings.Join(parts, ", ")
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

func (d *detector) headingText(c int) string {
	if c < len(d.t.Columns) {
		return d.t.Columns[c].Heading + " " + d.t.Columns[c].Unit
	}
	return ""
}

// result sorts the candidates and collects what is open.
func (d *detector) result() Detection {
	slices.SortStableFunc(d.out, func(a, b Candidate) int {
		switch {
		case a.Score > b.Score:
			return -1
		case a.Score < b.Score:
			return 1
		}
		return 0
	})
	d.disagreement()
	out := Detection{Candidates: d.out, Dated: -1}
	for i, c := range d.out {
		if k := c.Plan.kind; !c.Dead && (k == DateTime || k == Parts || k == Serial || k == Unix) {
			out.Dated = i
			break
		}
	}
	if len(d.out) > 0 && !d.out[0].Dead {
		// questions concern the candidate that is used
		for _, q := range d.ask {
			if cols := d.out[0].Plan.columns; len(cols) > 0 && strings.HasPrefix(q, d.columnsText(cols)+" ") {
				out.Questions = append(out.Questions, q)
			}
		}
	}
	return out
}

// disagreement compares the best clock with the others that run: two that do not tell the same length of time are a question.
func (d *detector) disagreement() {
	if len(d.out) < 2 || d.out[0].Dead || len(d.out[0].Plan.columns) == 0 {
		return
	}
	best := &d.out[0]
	for i := range d.out[1:] {
		o := &d.out[i+1]
		if o.Dead || o.Score < 65 || len(o.Plan.columns) == 0 || slices.Contains(best.Plan.columns, o.Plan.columns[0]) {
			continue
		}
		a, b := best.durationS, o.durationS
		if math.Abs(a-b) <= 0.05*max(a, b)+2*max(best.Plan.quantum(d), o.Plan.quantum(d)) {
			continue
		}
		if near(best.medianS, o.medianS) {
			// The same pace: one began later, or is blank in places.
			continue
		}
		best.Evidence += fmt.Sprintf("; %s counts %s s where this counts %s s", d.columnsText(o.Plan.columns), trimFloat(b), trimFloat(a))
		d.ask = append(d.ask, fmt.Sprintf("%s and %s tell different times (%s s and %s s over the sampled rows): name the right one with --time",
			d.columnsText(best.Plan.columns), d.columnsText(o.Plan.columns), trimFloat(a), trimFloat(b)))
		return
	}
}
