package mesh

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// twice estimates the volume, in mm3, that overlapping shells count too often:
// the integral of w - [w >= 1] over the space the pairs share, where w is how
// often the closed shells wind around a point. The union of the shells has the
// sum of their volumes less that. spread is the difference between the largest
// and the smallest of four estimates, each from a lattice of upright lines with a
// start of its own; it is at least the share of one line.
func (b *bodies) twice(m *Mesh, overlaps []Overlap) (volume, spread float64) {
	closed := make([]int32, 0, len(b.of))
	for f, s := range b.of {
		if s >= 0 && b.shells[s].Closed {
			closed = append(closed, int32(f))
		}
	}
	tree := m.newFaceTree(closed)
	ground := nowhere
	for _, o := range overlaps {
		ground = ground.joined(b.shells[o.Shells[0]].Box.shared(b.shells[o.Shells[1]].Box))
	}
	size := ground.Size()
	// A Fibonacci lattice: n lines, whose shadows on both axes are evenly spaced,
	// so that walls along an axis do not fall in step with them.
	n, step := 10946, 6765
	if len(b.shells) > fewShells {
		n, step = 2584, 1597 // a heap of shells needs no fine answer
	}
	random := rand.New(rand.NewPCG(1, 0)) // a fixed seed: the same file gives the same answer
	low, high := math.Inf(1), math.Inf(-1)
	for range 4 {
		dx, dy := random.Float64(), random.Float64()
		const run = 64
		sums := make([]float64, (n+run-1)/run)
		inChunks(n, run, func(chunk, from, to int) {
			for i := from; i < to; i++ {
				_, x := math.Modf(float64(i)/float64(n) + dx)
				_, y := math.Modf(float64(i*step%n)/float64(n) + dy)
				sums[chunk] += excess(m, tree, ground.Min.X+x*size.X, ground.Min.Y+y*size.Y)
			}
		})
		sum := 0.0
		for _, s := range sums {
			sum += s
		}
		sum *= size.X * size.Y / float64(n)
		low, high = min(low, sum), max(high, sum)
		volume += sum / 4
	}
	return volume, max(high-low, abs(volume)/float64(n))
}

// excess integrates w - [w >= 1] along the upright line at x, y, in mm.
func excess(m *Mesh, tree *boxTree, x, y float64) float64 {
	type step struct {
		z     float64
		turns int
	}
	var steps []step
	m.above(tree, r3.Vec{X: x, Y: y, Z: math.Inf(-1)}, func(_ int32, turns int, z float64) {
		steps = append(steps, step{z, turns})
	})
	slices.SortFunc(steps, func(a, b step) int { return cmp.Compare(a.z, b.z) })
	// A face that looks up ends a body: going up, the winding falls by its turns.
	w, sum := 0, 0.0
	for i := 0; i+1 < len(steps); i++ {
		w -= steps[i].turns
		over := w
		if w >= 1 {
			over--
		}
		sum += float64(over) * (steps[i+1].z - steps[i].z)
	}
	return sum
}

// shared returns the box of the points in both; it is empty when they do not
// meet.
func (b Box) shared(o Box) Box {
	return Box{
		Min: r3.Vec{X: max(b.Min.X, o.Min.X), Y: max(b.Min.Y, o.Min.Y), Z: max(b.Min.Z, o.Min.Z)},
		Max: r3.Vec{X: min(b.Max.X, o.Max.X), Y: min(b.Max.Y, o.Max.Y), Z: min(b.Max.Z, o.Max.Z)},
	}
}
