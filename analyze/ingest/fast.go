package ingest

import (
	"bytes"

	"ringheat/analyze/ingest/clock"
)

// powersOfTen are exact in a float64.
var powersOfTen = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// longestTime is the longest time cell that the fast path reads.
const longestTime = 48

// grow makes room for at least one more row in every column.
func (r *rows) grow() {
	n := len(r.timeS)
	want := max(2*n, 1024)
	if cap(r.timeS) == n {
		grown := make([]float64, n, want)
		copy(grown, r.timeS)
		r.timeS = grown
	}
	if cap(r.lines) == n {
		grown := make([]int32, n, want)
		copy(grown, r.lines)
		r.lines = grown
	}
	for k := range r.plan.channels {
		if cap(r.values[k]) == n {
			grown := make([]float64, n, want)
			copy(grown, r.values[k])
			r.values[k] = grown
		}
	}
}

// fast reads rows straight from the bytes of the window, as long as they are exactly as the plan expects: the usual
// number of cells, short plain numbers, a time that the clock knows. At anything else it stops before that
// line, with nothing taken from it. text starts at a line; used is how many of its bytes were read, taken how many
// rows, at most most. line is the number of the line before.
//
// One pass over the bytes and no allocation: a number is m / 10^d with both exact (see shortDecimal, its plain twin).
func (r *rows) fast(text []byte, line, most int) (used, taken int) {
	// Every loop below ends at a line feed at the latest, so none looks for the end of text.
	end := bytes.LastIndexByte(text, '\n')
	if end < 0 {
		return 0, 0
	}
	text = text[:end+1]
	pl := r.plan
	delim, act := pl.delim, pl.act
	last := len(act) - 1
	nt := len(pl.time.columns)
	row := len(r.timeS)
	counts, counting := r.clock.Counts()
	var count int64
	counted := false
	room := 0
	var timeS []float64
	var lines []int32
	values, decimalsSeen := r.wide[:0], r.decimals
	i := 0
rows:
	for i < len(text) && taken < most {
		if row >= room {
			r.timeS, r.lines = r.timeS[:row], r.lines[:row]
			for k := range pl.channels {
				r.values[k] = r.values[k][:row]
			}
			r.grow()
			room = min(cap(r.timeS), cap(r.lines))
			values = values[:0]
			for k := range pl.channels {
				room = min(room, cap(r.values[k]))
				values = append(values, r.values[k][:cap(r.values[k])])
			}
			timeS, lines = r.timeS[:room], r.lines[:room]
		}
		for c := range act {
			a := &act[c]
			switch a.kind {
			case actChannel:
				b := text[i]
				neg, quoted := false, false
				if b-'0' > 9 { // blanks, a quote, a sign
					for b == ' ' {
						i++
						b = text[i]
					}
					if quoted = b == '"'; quoted {
						i++
						b = text[i]
					}
					if neg = b == '-'; neg || b == '+' {
						i++
						b = text[i]
					}
				}
				start := i
				var m uint64
				for d := b - '0'; d <= 9; d = b - '0' {
					m = m*10 + uint64(d)
					i++
					b = text[i]
				}
				digits, decimals := i-start, 0
				v := float64(m)
				if b == a.mark {
					i++
					b = text[i]
					start = i
					for d := b - '0'; d <= 9; d = b - '0' {
						m = m*10 + uint64(d)
						i++
						b = text[i]
					}
					decimals = i - start
					digits += decimals
					if uint(digits-1) > 14 { // none, or more than are exact
						break rows
					}
					if v = float64(m); decimals > 0 {
						v /= powersOfTen[decimals]
					}
					if k := a.channel; decimals > decimalsSeen[k] {
						decimalsSeen[k] = decimals
					}
				} else if uint(digits-1) > 14 {
					break rows
				}
				if neg {
					v = -v
				}
				if quoted {
					if b != '"' {
						break rows
					}
					i++
				}
				values[a.channel][row] = v
			case actTime:
				start := i
				if counting { // digits of a count are read here and now, as clock's number does
					var m uint64
					b := text[i]
					for d := b - '0'; d <= 9; d = b - '0' {
						m = m*10 + uint64(d)
						i++
						b = text[i]
					}
					digits, dec := i-start, 0
					if b == counts.Decimal && digits > 0 && b != delim {
						i++
						b = text[i]
						for d := b - '0'; d <= 9; d = b - '0' {
							m = m*10 + uint64(d)
							i++
							b = text[i]
						}
						dec = i - start - digits - 1
					}
					if counted = uint(digits-1) < 18 && digits+dec <= 18 && dec < 10 && (b == delim || b == '\r' || b == '\n') && m <= counts.Limit[dec]; counted {
						count = int64(m) * counts.Mul[dec]
						break
					}
					i = start
				}
				if text[i] == '"' {
					j := bytes.IndexByte(text[i+1:min(i+longestTime, len(text))], '"')
					if j < 0 {
						break rows
					}
					r.timeBuf[a.channel] = trim(text[i+1 : i+1+j])
					i += j + 2
					break
				}
				b := text[i]
				for b != delim && b >= ' ' {
					i++
					b = text[i]
				}
				if i > start && (text[start] <= ' ' || text[i-1] <= ' ' || text[i-1] >= 0x80) {
					r.timeBuf[a.channel] = trim(text[start:i])
				} else {
					r.timeBuf[a.channel] = text[start:i]
				}
			case actStatus:
				usual := pl.channels[a.channel].usual
				if !bytes.HasPrefix(text[i:], usual) {
					break rows // not as usual: what it says counts
				}
				i += len(usual)
			default:
				b := text[i]
				if b == '"' {
					i++
					for b = text[i]; b != '"' && (b >= ' ' || b == '\t'); b = text[i] {
						i++
					}
					if b != '"' {
						break rows
					}
					i++
					break
				}
				for b != delim && b != '"' && (b >= ' ' || b == '\t') {
					i++
					b = text[i]
				}
			}
			if c < last {
				if text[i] != delim {
					break rows
				}
				i++
			}
		}
		if text[i] == '\r' && text[i+1] == '\n' {
			i++
		}
		if text[i] != '\n' {
			break
		}
		var t float64
		var st clock.Status
		if counted {
			t = r.clock.TakeCount(count)
			counted = false
		} else if nt == 1 {
			t, st = r.clock.ParseCell(r.timeBuf[0])
		} else {
			t, st = r.clock.Parse(r.timeBuf[:nt])
		}
		if st != clock.OK {
			break
		}
		i++
		taken++
		timeS[row] = t
		lines[row] = int32(line + taken)
		row++
		used = i
	}
	r.wide = values
	r.timeS, r.lines = r.timeS[:row], r.lines[:row]
	for k := range pl.channels {
		r.values[k] = r.values[k][:row]
	}
	if taken > 0 {
		if r.npending > 0 {
			r.settlePending(false)
		}
		r.account.Total += taken
		r.account.Samples += taken
	}
	return used, taken
}
