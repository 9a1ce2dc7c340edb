package clock

// headingOrder reads the order of day, month and year from a heading that spells its format out, as "Date (dd/mm/yyyy)",
// "TT.MM.JJJJ", "jj/mm/aaaa". AnyOrder when it does not.
func headingOrder(s string) Order {
	if len(s) > 200 {
		s = s[:200]
	}
	// runs of one letter, in order
	var letters [40]byte
	var lengths, froms [40]int
	n := 0
	for i := 0; i < len(s) && n < len(letters); {
		c := s[i] | 0x20
		j := i + 1
		for j < len(s) && s[j]|0x20 == c {
			j++
		}
		if 'a' <= c && c <= 'z' {
			letters[n], lengths[n], froms[n] = c, j-i, i
			n++
		}
		i = j
	}
	for k := 0; k+2 < n; k++ {
		// three runs with one sign between each
		if froms[k]+lengths[k]+1 != froms[k+1] || froms[k+1]+lengths[k+1]+1 != froms[k+2] {
			continue
		}
		if end := froms[k+2] + lengths[k+2]; end < len(s) && (s[end]|0x20 >= 'a' && s[end]|0x20 <= 'z') || froms[k] > 0 && s[froms[k]-1]|0x20 >= 'a' && s[froms[k]-1]|0x20 <= 'z' {
			continue
		}
		a, b, c := letters[k], letters[k+1], letters[k+2]
		day := func(x, other byte) bool { return x == 'd' || x == 't' || x == 'j' && other == 'a' || x == 'g' }
		year := func(x byte) bool { return x == 'y' || x == 'j' || x == 'a' }
		switch {
		case lengths[k] > 4 || lengths[k+1] > 4 || lengths[k+2] > 4:
		case day(a, c) && b == 'm' && year(c):
			return DMY
		case a == 'm' && day(b, c) && year(c):
			return MDY
		case year(a) && b == 'm' && day(c, a):
			return YMD
		}
	}
	return AnyOrder
}
