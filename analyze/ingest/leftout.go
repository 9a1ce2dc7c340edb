package ingest

import (
	"fmt"
	"math"

	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// What a log holds of the part besides the probes with a role: the highest of each interval, a third probe, a cage or
// seal. Such a column is read for its highest reading alone, so that no one takes the part for cooler than the log shows it.

// summary notes that a channel's figures sum up an interval.
func (ch *channelPlan) summary(m *heading.Meaning) {
	ch.Averaged = m.Statistic == heading.Average
	ch.Lowest = m.Statistic == heading.Minimum
	ch.body = m.Elsewhere
}

// watch lists, behind the probes, the columns that are left out and may hold temperatures of the part all the same.
func (p *planner) watch(pl *plan) {
	pl.probes = len(pl.channels)
	for _, ig := range p.read.Ignored {
		c := ig.Column - 1
		if c < 0 || c >= len(p.table.columns) {
			continue
		}
		col := &p.table.columns[c]
		if ig.Reason == otherRun || !col.ofThePart() {
			continue
		}
		ch := channelPlan{column: c, scale: 1, decimal: col.decimal, why: ig.Reason}
		ch.Name, ch.Column = ig.Name, ig.Column
		if ch.Name == "" {
			ch.Name = fmt.Sprintf("column %d", ig.Column)
		}
		p.watchedUnit(pl, &ch, col)
		pl.channels = append(pl.channels, ch)
	}
}

// ofThePart says whether a column that is no probe may still show how hot the part was.
func (c *column) ofThePart() bool {
	m := &c.meaning
	if c.numbers == 0 || c.numbers <= c.texts+c.times || m.Elsewhere != "" {
		return false
	}
	switch m.NotProbe {
	case heading.StatisticColumn:
		return m.Statistic != heading.StandardDeviation && m.Statistic != heading.Range
	case heading.ComputedColumn:
		return true
	case heading.MayBeProbe:
	default:
		return false
	}
	switch m.Quantity {
	case heading.Temperature:
		return true
	case heading.NoQuantity, heading.Value, heading.Name:
		return m.Unit != quantity.UnknownUnit || c.implausible() == "" && c.min > -60 && c.max < 800 && !c.counts()
	}
	return false
}

// counts says whether whole numbers go up by the same step from row to row, as a counter does.
func (c *column) counts() bool {
	if !c.integers || len(c.values) < 3 {
		return false
	}
	even := 0
	for i := 2; i < len(c.values); i++ {
		if d := c.values[i] - c.values[i-1]; d != 0 && d == c.values[i-1]-c.values[i-2] {
			even++
		}
	}
	return 10*even >= 8*(len(c.values)-2)
}

// watchedUnit takes a watched column's unit from its heading or cells, else from the flag or the probes.
func (p *planner) watchedUnit(pl *plan, ch *channelPlan, col *column) {
	m := &col.meaning
	switch {
	case m.Unit != quantity.UnknownUnit && !(m.UnitWeak && m.Unit == quantity.KelvinUnit && col.min < 200):
		ch.Unit, ch.UnitSource = m.Unit, series.ByHeading
		if m.UnitScale > 0 {
			ch.scale = m.UnitScale
		}
	case col.suffix != quantity.UnknownUnit:
		ch.Unit, ch.UnitSource = col.suffix, series.ByCell
	default:
		ch.Unit, ch.UnitSource, ch.scale = pl.channels[0].Unit, pl.channels[0].UnitSource, pl.channels[0].scale
	}
}

// leaveOut lists a watched column, if it ever had a reading.
func (r *Reader) leaveOut(cp *channelPlan, maxC float64) {
	if !series.IsMissing(maxC) {
		r.log.LeftOut = append(r.log.LeftOut, series.LeftOut{Column: cp.Column, Name: cp.Name, MaxC: maxC, Why: cp.why})
	}
}

// leaveOutChannel lists a probe that has no role, unless its heading names another body than the part.
func (r *Reader) leaveOutChannel(ch *series.Channel, maxC float64) {
	if ch.Role != series.NoRole || series.IsMissing(maxC) {
		return
	}
	for i := range r.plan.channels[:r.plan.probes] {
		if cp := &r.plan.channels[i]; cp.Column == ch.Column && cp.Name == ch.Name && cp.body != "" {
			return
		}
	}
	r.log.LeftOut = append(r.log.LeftOut, series.LeftOut{Column: ch.Column, Name: ch.Name, MaxC: maxC, Why: "a temperature that neither a heading nor a flag gives a place on the part; --inner or --outer names it"})
}

// highest gives the highest reading; missing without any.
func highest(values []float64) float64 {
	top := math.Inf(-1)
	for _, v := range values {
		if v > top { // false for a missing sample
			top = v
		}
	}
	if math.IsInf(top, -1) {
		return series.Missing()
	}
	return top
}
