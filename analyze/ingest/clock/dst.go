package clock

import "time"

// oddStep looks at a step that is not the usual one.
func (r *Reader) oddStep(jump int64) {
	p := r.plan
	if jump > 0 {
		defer func() { r.step = jump }()
	}
	if r.broken {
		r.broken = false
		return
	}
	if p.mode == modeNumber || p.mode == modeRows || p.kind == Elapsed || r.step <= 0 || r.startZone {
		return
	}
	const hour = 3600 * second
	if r.step >= hour/2 {
		return
	}
	tolerance := r.step/10 + 1
	change := jump - r.step
	forward := change > hour-tolerance && change < hour+tolerance
	back := change > -hour-tolerance && change < -hour+tolerance
	if !forward && !back {
		return
	}
	tod := (r.last - jump) % day
	if tod < 0 {
		tod += day
	}
	if tod > 4*hour { // the change is made at night
		return
	}
	if p.kind != TimeOfDay {
		switch time.Unix(r.last/second, 0).UTC().Month() {
		case time.March, time.April, time.September, time.October, time.November:
		default:
			return
		}
	}
	if len(r.dst) < maxDST {
		r.dst = append(r.dst, DSTStep{Row: r.row - 1, JumpS: secondsOf(jump), Forward: forward})
	}
}

const maxDST = 32
