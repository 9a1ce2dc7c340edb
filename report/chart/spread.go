package chart

import (
	"slices"

	"gonum.org/v1/plot/vg"
)

// spread moves labels apart along one line. want holds the centre that each label would like, size its
// length; the answer holds centres, in the same order of labels, within [lo, hi], with at least gap between
// neighbours and moved as little as possible (labels in a cluster share the move). It is false when the
// labels are too long for the stretch all together; then they are set one after the other from lo.
func spread(want, size []vg.Length, lo, hi, gap vg.Length) ([]vg.Length, bool) {
	order := make([]int, len(want))
	total := -gap
	for i := range order {
		order[i] = i
		total += size[i] + gap
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case want[a] < want[b]:
			return -1
		case want[a] > want[b]:
			return 1
		}
		return 0
	})
	// A cluster is a run of labels that touch; it stands where the mean of its members' wishes is.
	type cluster struct {
		first, n int
		length   vg.Length
		wish     vg.Length // sum over members of the start that the cluster would have by that member's wish
	}
	start := func(c cluster) vg.Length {
		return max(lo, min(c.wish/vg.Length(c.n), hi-c.length))
	}
	var stack []cluster
	for k, i := range order {
		stack = append(stack, cluster{first: k, n: 1, length: size[i], wish: want[i] - size[i]/2})
		for len(stack) > 1 {
			a, b := stack[len(stack)-2], stack[len(stack)-1]
			if start(a)+a.length+gap <= start(b) {
				break
			}
			merged := cluster{first: a.first, n: a.n + b.n, length: a.length + gap + b.length,
				wish: a.wish + b.wish - vg.Length(b.n)*(a.length+gap)}
			stack = append(stack[:len(stack)-2], merged)
		}
	}
	out := make([]vg.Length, len(want))
	for _, c := range stack {
		at := start(c)
		for _, i := range order[c.first : c.first+c.n] {
			out[i] = at + size[i]/2
			at += size[i] + gap
		}
	}
	return out, total <= hi-lo
}
