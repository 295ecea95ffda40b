package boxtree_test

import (
	"math/rand/v2"
	"swapworth/internal/boxtree"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestTheTreeFindsEveryBoxThatMeets(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for _, n := range []int{0, 1, 3, 4, 5, 1000} {
		boxes := make([]r3.Box, n)
		items := make([]int32, n)
		for i := range boxes {
			lo := r3.Vec{X: random.Float64(), Y: random.Float64(), Z: random.Float64()}
			boxes[i] = r3.Box{Min: lo, Max: r3.Add(lo, r3.Vec{X: random.Float64() / 10, Y: random.Float64() / 10})}
			items[i] = int32(i)
		}
		tree := boxtree.New(items, func(i int32) r3.Box { return boxes[i] })
		for _, q := range boxes {
			got := map[int32]bool{}
			tree.Near(q, func(i int32) bool { got[i] = true; return true })
			along := map[int32]bool{}
			tree.Along(q.Min, r3.Vec{X: 0.5, Y: 0.5, Z: 0.5}, 0.01, func(i int32) bool { along[i] = true; return true })
			for i, b := range boxes {
				if boxtree.Meet(b, q) && !got[int32(i)] {
					t.Fatalf("box %d of %d was not found", i, n)
				}
				for step := range 20 {
					p := r3.Add(q.Min, r3.Scale(float64(step)/19, r3.Sub(r3.Vec{X: 0.5, Y: 0.5, Z: 0.5}, q.Min)))
					if boxtree.Meet(b, r3.Box{Min: p, Max: p}) && !along[int32(i)] {
						t.Fatalf("box %d of %d was not found along the segment", i, n)
					}
				}
			}
		}
	}
}
