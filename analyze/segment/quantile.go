package segment

// quantile gives the q-th quantile (nearest rank) of v and reorders v. v must not be empty.
func quantile(v []float64, q float64) float64 {
	k := int(q * float64(len(v)-1))
	lo, hi := 0, len(v)-1
	for lo < hi {
		p := v[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for v[i] < p {
				i++
			}
			for v[j] > p {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}

// median3 is the middle one of three.
func median3(a, b, c float64) float64 {
	return max(min(a, b), min(max(a, b), c))
}
