// Package disjoint keeps disjoint sets of the numbers 0..n-1, and joins many of
// them on all cores.
package disjoint

import (
	"slices"

	"swapworth/internal/parallel"
)

// Sets holds for every number one of its set that is not larger, and itself for the
// smallest: each set is named by its smallest member, so that the names do not
// depend on the order of joining.
type Sets []int32

// New returns n sets of one number each.
func New(n int) Sets {
	s := make(Sets, n)
	parallel.Chunks(n, run, func(_, from, to int) {
		for i := from; i < to; i++ {
			s[i] = int32(i)
		}
	})
	return s
}

// Find returns the smallest member of the set of i.
func (s Sets) Find(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// Join makes one set of those of a and b.
func (s Sets) Join(a, b int32) {
	a, b = s.Find(a), s.Find(b)
	if a < b {
		s[b] = a
	} else {
		s[a] = b
	}
}

// run is how many numbers one core takes at a time: many, for what joins numbers of
// two runs is left to one core.
const run = 1 << 17

// JoinAll joins the pairs that pairs hands out for the numbers from..to-1. It is
// called for runs that make up 0..n-1, on all cores.
func (s Sets) JoinAll(pairs func(from, to int, join func(a, b int32))) {
	across := make([][][2]int32, (len(s)+run-1)/run)
	parallel.Chunks(len(s), run, func(chunk, from, to int) {
		lo, hi := int32(from), int32(to)
		pairs(from, to, func(a, b int32) {
			if a >= lo && a < hi && b >= lo && b < hi {
				s.Join(a, b)
			} else {
				across[chunk] = append(across[chunk], [2]int32{a, b})
			}
		})
	})
	for _, p := range slices.Concat(across...) {
		s.Join(p[0], p[1])
	}
}

// Names returns the smallest member of the set of every number.
func (s Sets) Names() []int32 {
	names := make([]int32, len(s))
	parallel.Chunks(len(s), run, func(_, from, to int) {
		for i := from; i < to; i++ {
			at := int32(i)
			for s[at] != at {
				if at < int32(i) && at >= int32(from) {
					at = names[at] // known already
					break
				}
				at = s[at]
			}
			names[i] = at
		}
	})
	return names
}
