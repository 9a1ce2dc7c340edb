package heading

import (
	"strings"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// claim is what a heading's words say for one role.
type claim struct {
	confidence float64
	from, to   int8 // tokens, both included
}

// make raises a claim to at least c over tokens i..j.
func (k *claim) make(c float64, i, j int) {
	if c > k.confidence {
		k.confidence, k.from, k.to = c, int8(i), int8(j)
	}
}

// role settles which part of the workpiece, or which other role, the words name.
func (m *Meaning) role(plain string, w *words, ts []token) {
	var inner, outer, ambient, shaft, setPoint claim
	spoken := m.Quantity == Temperature && (m.Unit != quantity.UnknownUnit || w.has(wTemp))
	for i := range ts {
		t := &ts[i]
		if t.used || t.kind != tWord {
			continue
		}
		next := neighbour(ts, i, 1)
		prev := neighbour(ts, i, -1)
		if hasRing(ts, prev) {
			// The ring may be another adjective's already: "Außenring innen".
			if p := neighbour(ts, prev, -1); p >= 0 && sideOf(&ts[p]) != 0 && sideOf(&ts[p]) != sideOf(t) {
				prev = p
			}
		}
		ringed := hasRing(ts, next) || hasRing(ts, prev)
		end := i
		if hasRing(ts, next) {
			end = next
		}
		start := i
		if end == i && hasRing(ts, prev) {
			start = prev
		}
		if i == len(ts)-1 || ts[i+1].used || ts[i+1].kind == tSymbol {
			switch side := initialOf(ts, i); side {
			case 'i':
				inner.make(0.5, i, i)
			case 'o':
				outer.make(0.5, i, i)
			case 'a':
				ambient.make(0.5, i, i)
			}
		}
		switch t.a {
		case wInner, wOuter:
			k := &inner
			if t.a == wOuter {
				k = &outer
			}
			c := 0.85
			switch {
			case ringed:
				c = 0.95
			case next >= 0 && ts[next].a == wTemp && ts[next].from == t.from && t.a == wOuter:
				c = 0.5 // "Außentemperatur" is the weather's as well
				m.outside = true
			case next >= 0 && ts[next].a == wAmbient, next >= 0 && ts[next].a == wAir, prev >= 0 && ts[prev].a == wAir:
				ambient.make(0.9, min(i, max(prev, 0)), i)
				continue
			case next >= 0 && ts[next].a == wNone && len(ts[next].text) > 2:
				c = 0.7
			}
			k.make(c, start, end)
		case wInside, wOutside:
			k := &inner
			if t.a == wOutside {
				k = &outer
			}
			switch {
			case ringed:
				k.make(0.9, start, end)
			case t.text == "outdoor", next >= 0 && ts[next].a == wAir, prev >= 0 && ts[prev].a == wAir:
				ambient.make(0.9, i, i)
			default:
				m.outside = t.a == wOutside
				m.internal = m.internal || t.text == "internal" || t.text == "interne"
				k.make(0.5, i, i)
			}
		case wBore:
			c := 0.9
			if t.text == "foro" || t.text == "nav" || t.text == "cubo" || t.text == "hub" || t.text == "boring" {
				c = 0.75
			}
			inner.make(c, i, i)
		case wRim:
			outer.make(0.6, i, i)
		case wIr:
			if !w.has(wInfrared) && !hasText(ts, "thermometer") {
				inner.make(0.55, i, i)
			}
		case wOr:
			if t.capital || w.count == 1 || adjoined(plain, t) || next < 0 || ts[next].a == wTemp && !t.apart {
				outer.make(0.55, i, i)
			}
		case wId:
			if spoken {
				inner.make(0.55, i, i)
			}
		case wOd:
			outer.make(0.55, i, i)
		case wLetteri, wLettero:
			if next >= 0 && ts[next].a == wRing {
				if t.a == wLetteri {
					inner.make(0.8, i, next)
				} else {
					outer.make(0.55, i, next) // also a seal
				}
			}
		case wAr, wBi, wBe, wPw, wPz, wYr:
			if w.count == 1 || spoken && w.count == 2 || prev >= 0 && ts[prev].text == "t" && w.count == 2 {
				switch t.a {
				case wBi, wPw:
					inner.make(0.5, i, i)
				default:
					outer.make(0.5, i, i)
				}
			}
		case wAmbient:
			ambient.make(0.9, i, i)
		case wAir:
			c := 0.75
			if w.has(wVoid) || w.has(wElsewhere) {
				c = 0
			}
			ambient.make(c, i, i)
		case wShaft:
			if next >= 0 && ts[next].a == wLocation && (ts[next].text == "side" || ts[next].text == "end" || ts[next].text == "seite") {
				continue
			}
			shaft.make(0.9, i, i)
		case wSeat:
			if !w.has(wBore) && !w.has(wInner) {
				shaft.make(0.65, i, i)
			}
		case wSetpoint:
			setPoint.make(0.95, i, i)
		case wSet:
			switch {
			case next >= 0 && (ts[next].a == wPoint || ts[next].a == wValue):
				setPoint.make(0.95, i, next)
			case next >= 0 && ts[next].a == wTemp:
				setPoint.make(0.9, i, next)
			case prev >= 0 && (ts[prev].a == wTemp || ts[prev].text == "t"):
				setPoint.make(0.9, prev, i)
			case w.count == 1 && t.text != "mal" && t.text != "cmd" && t.text != "command":
				setPoint.make(0.7, i, i)
			case prev >= 0 && (ts[prev].a == wPoint || ts[prev].a == wValue):
				setPoint.make(0.9, prev, i)
			case numbered(ts, i):
				// "Set 1 inner", "SP2": one of several sets or spots
			case prev >= 0 && isPlace(ts[prev].a), next >= 0 && isPlace(ts[next].a) && (prev < 0 || ts[prev].a != wBearing):
				setPoint.make(0.9, i, i) // "bore SP", "set inner"
			case m.Unit != quantity.UnknownUnit && (t.text == "sp" || t.text == "sv" || t.text == "cmd" || t.text == "command"):
				setPoint.make(0.8, i, i) // "heater SV °C"
			}
		case wNominal:
			if prev >= 0 && ts[prev].a == wValue || next >= 0 && (ts[next].a == wTemp || ts[next].a == wValue) {
				setPoint.make(0.7, i, i)
			}
		}
	}
	// Another body named: an adjective alone ("outer door", "inner tank") then speaks of that.
	if w.has(wVoid) || w.has(wElsewhere) {
		if inner.confidence < 0.9 {
			inner.confidence = 0
		}
		if outer.confidence < 0.9 {
			outer.confidence = 0
		}
	}
	if m.Quantity == NoQuantity && w.has(wDiameter) {
		inner.confidence, outer.confidence = 0, 0
	}
	best, role := pick(inner, outer, ambient, shaft, setPoint)
	if role == series.NoRole {
		return
	}
	m.Role, m.Confidence = role, best.confidence
	m.RoleWords = strings.Trim(plain[ts[best.from].from:ts[best.to].to], " _")
	if m.Quantity == NoQuantity {
		m.Quantity = Temperature
	}
}

// numbered says whether a number stands beside token i.
func numbered(ts []token, i int) bool {
	return i > 0 && ts[i-1].kind == tNumber && !ts[i-1].used || i+1 < len(ts) && ts[i+1].kind == tNumber && !ts[i+1].used
}

// isPlace says whether a word names a place of the part or its ring.
func isPlace(c class) bool {
	switch c {
	case wInner, wOuter, wInside, wOutside, wBore, wRim, wRing, wRace, wIr, wOr, wShaft:
		return true
	}
	return false
}

// initialOf reads the letter i, o or a that stands behind a T for temperature and ends the heading: "T_i", "T_o", "Ta". Such a letter
// names a place only in company.
func initialOf(ts []token, i int) byte {
	t := &ts[i]
	if len(t.text) == 2 && i == 0 && t.text[0] == 't' && t.to-t.from == 2 && !t.capital {
		switch c := t.text[1]; c {
		case 'i', 'o', 'a':
			return c
		}
	}
	if i > 0 && len(t.text) == 1 && ts[i-1].text == "t" && i == 1 {
		switch c := t.text[0]; c {
		case 'i', 'o', 'a':
			return c
		}
	}
	return 0
}

// pick weighs the claims. A set point wins over the place it is for; a place named with its ring over one named by an adjective
// alone; claims of equal weight for different places cancel each other.
func pick(inner, outer, ambient, shaft, setPoint claim) (claim, series.Role) {
	if setPoint.confidence > 0 {
		return setPoint, series.SetPoint
	}
	if ambient.confidence > 0 { // "ambient (outside)", "air outside"
		if inner.confidence < 0.9 && ambient.confidence >= 0.9 {
			inner.confidence = 0
		}
		if outer.confidence < 0.9 && ambient.confidence >= 0.9 {
			outer.confidence = 0
		}
	}
	if shaft.confidence > 0 {
		if inner.confidence < 0.9 {
			inner.confidence = 0
		}
		if outer.confidence < 0.9 {
			outer.confidence = 0
		}
	}
	all := [...]struct {
		k claim
		r series.Role
	}{{inner, series.Inner}, {outer, series.Outer}, {ambient, series.Ambient}, {shaft, series.Shaft}}
	best, second := -1, -1
	for i := range all {
		if all[i].k.confidence == 0 {
			continue
		}
		switch {
		case best < 0 || all[i].k.confidence > all[best].k.confidence:
			best, second = i, best
		case second < 0 || all[i].k.confidence > all[second].k.confidence:
			second = i
		}
	}
	if best < 0 {
		return claim{}, series.NoRole
	}
	k := all[best].k
	if second >= 0 {
		if k.confidence < 0.9 || k.confidence-all[second].k.confidence < 0.02 || all[second].k.confidence >= 0.9 {
			return claim{}, series.NoRole
		}
		k.confidence = Sure
	}
	return k, all[best].r
}

// neighbour gives the index of the next (step 1) or previous (step -1) word of the heading that is not a filler, -1 without one. It
// looks past full stops, hyphens and underscores, not past commas or slashes.
func neighbour(ts []token, i, step int) int {
	for j := i + step; j >= 0 && j < len(ts); j += step {
		t := &ts[j]
		switch {
		case t.kind == tSymbol:
			if t.text == "." || t.text == "-" || t.text == "°" || t.text == "'" || t.text == "(" || t.text == ")" || t.text == "[" || t.text == "]" {
				continue
			}
			return -1
		case t.used:
			continue
		case t.kind == tNumber:
			continue
		case t.a == wFiller && t.b == wNone:
			continue
		}
		return j
	}
	return -1
}

// hasRing says whether token i names a ring or raceway, or a bearing's part that has an inner and an outer one.
func hasRing(ts []token, i int) bool {
	return i >= 0 && (ts[i].a == wRing || ts[i].a == wRace)
}

// adjoined says whether an underscore or hyphen joins a token to its neighbour: "T_or", "or_temp", "T-OR".
func adjoined(plain string, t *token) bool {
	return t.from > 0 && (plain[t.from-1] == '_' || plain[t.from-1] == '-') || t.to < len(plain) && (plain[t.to] == '_' || plain[t.to] == '-')
}
