package clock

import (
	"fmt"
	"slices"
)

// measured is how a plan did on the sample.
type measured struct {
	reader                    *Reader
	ok, bad, blank            int
	forward, still, backwards int
	medianS, durationS        float64
}

// measure reads the sample and sees how the clock runs; newest row first is found here.
func (d *detector) measure(p *Plan) measured {
	m := d.measureOnce(p)
	if m.backwards < 2 || m.backwards <= m.forward {
		return m
	}
	p.descending = true
	n := d.measureOnce(p)
	n.forward, n.backwards = n.backwards, n.forward
	if n.backwards*10 > n.forward {
		p.descending = false
		return m
	}
	return n
}

func (d *detector) measureOnce(p *Plan) measured {
	m := measured{reader: p.Reader()}
	r := m.reader
	steps := d.steps[:0]
	last, have := 0.0, false
	var few [8][]byte
	cells := append(few[:0], make([][]byte, len(p.columns))...)
	breaks := d.t.Breaks
	for i, row := range d.t.Rows {
		for len(breaks) > 0 && breaks[0] <= i {
			if breaks[0] == i {
				r.breakHere()
				have = false
			}
			breaks = breaks[1:]
		}
		for k, c := range p.columns {
			cells[k] = nil
			if c < len(row) {
				cells[k] = row[c]
			}
		}
		s, st := r.Parse(cells)
		switch st {
		case Bad:
			m.bad++
			continue
		case Blank:
			m.blank++
			continue
		}
		m.ok++
		if have {
			switch step := s - last; {
			case step > 0:
				m.forward++
				steps = append(steps, step)
			case step < 0:
				m.backwards++
				if p.descending {
					steps = append(steps, -step)
				}
			default:
				m.still++
			}
		}
		last, have = s, true
		m.durationS = max(m.durationS, s, -s)
	}
	if len(steps) > 0 {
		slices.Sort(steps)
		m.medianS = steps[len(steps)/2]
	}
	d.steps = steps
	return m
}

// add books a candidate with the score that its running earns.
func (d *detector) add(p *Plan, m measured, score float64, evidence string) {
	if m.ok == 0 || m.ok*10 < (m.ok+m.bad)*6 && len(d.s.Columns) == 0 {
		return
	}
	c := Candidate{Plan: p, Evidence: evidence, durationS: m.durationS, medianS: m.medianS}
	steps := m.forward + m.still + m.backwards
	if m.bad > 0 {
		score -= 40 * float64(m.bad) / float64(m.ok+m.bad)
		c.Evidence += fmt.Sprintf("; %d of %d sampled cells do not read so", m.bad, m.ok+m.bad)
	}
	if m.blank > 0 {
		score -= 30 * float64(m.blank) / float64(m.ok+m.bad+m.blank)
		c.Evidence += fmt.Sprintf("; %d sampled rows have it blank", m.blank)
	}
	switch {
	case steps > 0 && m.forward == 0 && m.backwards == 0:
		c.Dead = true
		score -= 1000
		c.Evidence += fmt.Sprintf("; it never advances in %d sampled rows", m.ok)
	case steps > 0:
		if m.still > 0 {
			score -= 40 * float64(m.still) / float64(steps)
			c.Evidence += fmt.Sprintf("; %d of %d steps repeat the time before", m.still, steps)
		}
		if m.backwards > 0 {
			score -= 60 * float64(m.backwards) / float64(steps)
			c.Evidence += fmt.Sprintf("; %d of %d steps go back", m.backwards, steps)
		}
	}
	if q := p.quantum(d); q > 0 && m.medianS > 0 {
		score -= 12 * min(1, q/m.medianS)
	}
	if m.medianS > 0 {
		c.Evidence += fmt.Sprintf("; usual step %s s", trimFloat(m.medianS))
	}
	if len(p.columns) > 0 {
		score -= 0.05 * float64(min(p.columns[0], 100))
	}
	if p.descending {
		c.Evidence += "; newest row first"
	}
	c.Score = score
	d.out = append(d.out, c)
}

func trimFloat(v float64) string {
	return fmt.Sprintf("%.6g", v)
}

// quantum is the smallest step that a plan's notation can show, s; 0 if unknown.
func (p *Plan) quantum(d *detector) float64 {
	q := 0.0
	switch p.mode {
	case modeStamp:
		c := p.columns[len(p.columns)-1]
		for _, k := range p.columns {
			if d.cols[k].times > 0 {
				c = k
			}
		}
		s := &d.cols[c].hasTime
		q = 1
		if s.timeParts == 2 && !p.minSec && !s.worded {
			q = 60
		}
		if p.fraction {
			q = 0.001
		}
		for range s.fracDigits {
			q /= 10
		}
	case modeNumber:
		q = float64(p.unit) / 1e9
		for range max(0, d.cols[p.columns[0]].decimals) {
			q /= 10
		}
	case modeParts:
		q = 1
	}
	return q
}
