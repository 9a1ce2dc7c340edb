package clock

// scanZone reads an offset or a zone's name behind the time.
func (s *stamp) scanZone(b []byte, tk []token, i int) {
	open := punct(b, tk, i, '(')
	if open {
		i++
	}
	named := false
	mark := i
	if word(tk, i) {
		var buf [24]byte
		off, ok := zoneOf(fold(b[tk[i].from:tk[i].to], &buf))
		if !ok {
			return
		}
		s.hasZone, s.offsetS = true, off
		s.zoneName = off != 0
		named = true
		i++
	}
	if (punct(b, tk, i, '+') || punct(b, tk, i, '-')) && number(tk, i+1) && !tk[i+1].spaced {
		sign := int32(1)
		if b[tk[i].from] == '-' {
			sign = -1
		}
		v, d := tk[i+1].value, tk[i+1].digits
		next := i + 2
		off, ok := int32(0), false
		switch {
		case d <= 2 && punct(b, tk, next, ':') && number(tk, next+1) && tk[next+1].digits == 2 && v <= 15 && tk[next+1].value < 60:
			off, ok = int32(v*3600+tk[next+1].value*60), true
			next += 2
		case d == 2 && v <= 15 && !dateFollows(b, tk, next):
			off, ok = int32(v*3600), true
		case d == 1 && named && !dateFollows(b, tk, next):
			off, ok = int32(v*3600), true
		case d == 4 && v/100 <= 15 && v%100 < 60 && !dateFollows(b, tk, next):
			off, ok = int32(v/100*3600+v%100*60), true
		}
		if ok {
			s.hasZone, s.zoneName = true, false
			s.offsetS = sign * off
			i = next
		} else if named {
			s.hasZone = true
		}
	}
	if !s.hasZone {
		return
	}
	for j := mark; j < i; j++ {
		tk[j].used = true
	}
	if open {
		tk[mark-1].used = true
		if punct(b, tk, i, ')') {
			tk[i].used = true
		}
	} else if punct(b, tk, i, '[') { // [Area/City] behind the offset
		for j := i; j < len(tk); j++ {
			tk[j].used = true
			if punct(b, tk, j, ']') {
				break
			}
		}
	}
}

// zoneWords passes over a zone's long name behind the time: "Central European Summer Time", "Mitteleuropäische Sommerzeit". Such a name
// says nothing that could be counted on.
func zoneWords(b []byte, tk []token, from int) {
	last := -1
	for i := from; i < len(tk); i++ {
		switch {
		case tk[i].kind == tokNumber:
			return
		case tk[i].kind == tokWord:
			var buf [24]byte
			switch string(fold(b[tk[i].from:tk[i].to], &buf)) {
			case "time", "zeit", "normalzeit", "sommerzeit", "winterzeit", "tid", "tijd":
				last = i
			}
		}
	}
	for i := from; i <= last; i++ {
		tk[i].used = true
	}
}

// dateFollows says whether the tokens from i on go on as a date: "-21.08.2021", "-2021-08-21".
func dateFollows(b []byte, tk []token, i int) bool {
	return i+1 < len(tk) && !tk[i].spaced && !tk[i+1].spaced && (punct(b, tk, i, '-') || punct(b, tk, i, '.') || punct(b, tk, i, '/')) && tk[i+1].kind != tokPunct
}
