package clock

func (d *detector) parts() {}

func (d *detector) named() {}

func (d *detector) numbers() {
	for c := range d.cols {
		q := &d.cols[c]
		if !d.most(q.numbers, q.filled) || q.stamps > 0 || q.says.other && !q.says.time {
			continue
		}
		p := &Plan{kind: Elapsed, mode: modeNumber, columns: []int{c}, decimal: d.s.Decimal, settings: d.s, epochSec: noEpoch}
		unit := q.says.unit
		if unit == 0 {
			unit = second
		}
		p.setUnit(unit)
		p.format = "number"
		m := d.measure(p)
		if q.says.time {
			d.add(p, m, 90, "")
		} else {
			d.add(p, m, 50, "")
		}
	}
}

func (d *detector) rowCounter() {}
