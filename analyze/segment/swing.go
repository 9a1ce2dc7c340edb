package segment

import "math"

// turn is an extreme of the binned trace, found with hysteresis.
type turn struct {
	bin  int
	y    float64
	high bool
}

// turns finds the extremes of y between which the trace moves by at least delta. The first and the
// last are the record's own ends of movement and may be unconfirmed.
func turns(y []float64, delta float64, out []turn) []turn {
	out = out[:0]
	if len(y) == 0 {
		return out
	}
	lo, hi := 0, 0
	dir := 0
	for i, v := range y {
		switch {
		case dir >= 0 && v > y[hi]:
			hi = i
		case dir <= 0 && v < y[lo]:
			lo = i
		}
		switch dir {
		case 0:
			if v-y[lo] >= delta && lo <= hi {
				out = append(out, turn{lo, y[lo], false})
				dir, hi = 1, i
			} else if y[hi]-v >= delta {
				out = append(out, turn{hi, y[hi], true})
				dir, lo = -1, i
			}
		case 1:
			if y[hi]-v >= delta {
				out = append(out, turn{hi, y[hi], true})
				dir, lo = -1, i
			}
		case -1:
			if v-y[lo] >= delta {
				out = append(out, turn{lo, y[lo], false})
				dir, hi = 1, i
			}
		}
	}
	switch dir {
	case 1:
		out = append(out, turn{hi, y[hi], true})
	case -1:
		out = append(out, turn{lo, y[lo], false})
	}
	return out
}

// leg is one move up inside a warming: from a low to a high, in bins.
type leg struct {
	low, high   int
	lowY, highY float64
	ripple      bool // a return to the hold after the control let it fall, not a rise of its own
}

// warming is one cycle as seen by one trace, in bins.
type warming struct {
	start, end int // bins [start, end): from the end of the one before to the start of the next
	legs       []leg
	peakY      float64
	topEnd     int // last high that belongs to it
	lowEnd     int // low before the next warming, or the last bin
}

func (w *warming) rise() float64 { return w.peakY - w.legs[0].lowY }

// Shares of the rise that tell hold ripple, interruption and warm restart apart. They are customs of
// this program, tried on simulated logs.
const (
	rippleShare    = 0.15 // on/off control may let the part fall by this share and bring it back
	interruptShare = 0.35 // a deeper fall ends the cycle
	higherShare    = 0.10 // an interrupted warming goes on to be this much higher
)

// warmings groups turning points into cycles.
func warmings(tr *trace, tt []turn, o Options, ws []warming, legs []leg) ([]warming, []leg) {
	ws, legs = ws[:0], legs[:0]
	first := 0 // index into legs of the open warming
	open := false
	var w warming
	finish := func(lowEnd int) {
		w.legs = legs[first:len(legs):len(legs)]
		w.lowEnd = lowEnd
		seconds := tr.binT[w.topEnd] - tr.binT[w.legs[0].low]
		if w.rise() >= float64(o.MinRise) && w.rise()*60 >= o.MinRateKPerMin*seconds {
			ws = append(ws, w)
		} else {
			legs = legs[:first]
		}
		open = false
	}
	for i := 0; i+1 < len(tt); i++ {
		if tt[i].high {
			continue
		}
		l := leg{low: tt[i].bin, lowY: tt[i].y, high: tt[i+1].bin, highY: tt[i+1].y}
		if open {
			last := &legs[len(legs)-1]
			rise := w.peakY - legs[first].lowY
			fall := last.highY - l.lowY
			offS := tr.binT[l.low] - tr.binT[last.high]
			onS := tr.binT[last.high] - tr.binT[legs[first].low]
			goesHigher := l.highY > w.peakY+higherShare*rise
			switch {
			case fall <= interruptShare*rise && goesHigher && offS <= 2*onS+60:
				// an interruption
			case fall <= rippleShare*rise && l.highY <= w.peakY+higherShare*rise && l.highY >= w.peakY-rippleShare*rise:
				l.ripple = true
			case l.highY-l.lowY < max(float64(o.MinRise), rippleShare*rise):
				continue // a bump in the cooling
			default:
				finish(l.low)
			}
		}
		if !open {
			open = true
			first = len(legs)
			w = warming{peakY: math.Inf(-1)}
		}
		legs = append(legs, l)
		w.topEnd = l.high
		w.peakY = max(w.peakY, l.highY)
	}
	if open {
		finish(len(tr.binT) - 1)
	}
	start := 0
	for i := range ws {
		ws[i].start = start
		ws[i].end = ws[i].lowEnd + 1
		start = ws[i].end
	}
	if n := len(ws); n > 0 {
		ws[n-1].end = len(tr.binT)
	}
	return ws, legs
}
