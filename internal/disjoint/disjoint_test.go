package disjoint

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Joining on all cores gives the sets that joining pair after pair gives, each
// named by its smallest member.
func TestJoiningAllAtOnceGivesTheSameSets(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 1, 50, 3 * run} {
		other := make([]int32, n)
		for i := range other {
			other[i] = int32(i)
			switch random.IntN(4) {
			case 0:
				other[i] = int32(random.IntN(n))
			case 1:
				other[i] = int32(max(0, i-random.IntN(5)))
			}
		}
		one := New(n)
		for i, o := range other {
			one.Join(int32(i), o)
		}
		all := New(n)
		all.JoinAll(func(from, to int, join func(a, b int32)) {
			for i := from; i < to; i++ {
				join(int32(i), other[i])
			}
		})
		names := all.Names()
		want := make([]int32, n)
		for i := range want {
			want[i] = one.Find(int32(i))
			if want[i] > int32(i) || want[want[i]] != want[i] {
				t.Fatalf("n %d: the set of %d is named %d", n, i, want[i])
			}
		}
		if !slices.Equal(names, want) {
			t.Errorf("n %d: the sets differ", n)
		}
	}
}
