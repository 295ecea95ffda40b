package mesh

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/parallel"
)

// Moments are the integrals of 1, x and x x' over a space, about a point.
type Moments struct {
	About  r3.Vec     // mm
	Volume float64    // mm3
	First  r3.Vec     // mm4
	Second [6]float64 // of xx, yy, zz, xy, yz, zx, mm5
}

// add takes in the part from z0 to z1 of an upright line at x, y, weight mm2 of
// the ground it stands for.
func (m *Moments) add(x, y, z0, z1, weight float64) {
	dz := weight * (z1 - z0)
	z := (z0 + z1) / 2
	m.Volume += dz
	m.First = r3.Add(m.First, r3.Scale(dz, r3.Vec{X: x, Y: y, Z: z}))
	zz := (z0*z0 + z0*z1 + z1*z1) / 3
	for i, v := range [6]float64{x * x, y * y, zz, x * y, y * z, z * x} {
		m.Second[i] += dz * v
	}
}

// merge adds the share of the moments o about the same point.
func (m *Moments) merge(o Moments, share float64) {
	m.Volume += share * o.Volume
	m.First = r3.Add(m.First, r3.Scale(share, o.First))
	for i, v := range o.Second {
		m.Second[i] += share * v
	}
}

// twice estimates the volume that a mesh of balanced edges counts too often within
// a box, and its moments: the integral of w - [w >= 1], where w is how often the
// faces wind around a point. spread is the difference between the largest and the
// smallest of four estimates of the volume, each from a lattice of upright lines
// with a start of its own; it is at least the share of one line. A heap of shells
// needs no fine answer.
func twice(m *Mesh, ground Box, heap bool) (all Moments, spread float64) {
	faces := make([]int32, 0, len(m.Faces))
	for f := range m.Faces {
		if !m.Collapsed(f) && overUnder(m.FaceBox(int32(f)), ground) {
			faces = append(faces, int32(f))
		}
	}
	tree := m.FaceTree(faces)
	size := ground.Size()
	all.About = ground.Center()
	// A Fibonacci lattice: n lines, whose shadows on both axes are evenly spaced,
	// so that walls along an axis do not fall in step with them.
	n, step := 10946, 6765
	if heap {
		n, step = 2584, 1597
	}
	weight := size.X * size.Y / float64(n)
	random := rand.New(rand.NewPCG(1, 0)) // a fixed seed: the same file gives the same answer
	low, high := math.Inf(1), math.Inf(-1)
	for range 4 {
		dx, dy := random.Float64(), random.Float64()
		const run = 64
		sums := make([]Moments, (n+run-1)/run)
		parallel.Chunks(n, run, func(chunk, from, to int) {
			for i := from; i < to; i++ {
				_, x := math.Modf(float64(i)/float64(n) + dx)
				_, y := math.Modf(float64(i*step%n)/float64(n) + dy)
				foot := r3.Vec{X: ground.Min.X + x*size.X, Y: ground.Min.Y + y*size.Y, Z: math.Inf(-1)}
				excess(m, tree, foot, all.About, weight, &sums[chunk])
			}
		})
		volume := 0.0
		for _, s := range sums {
			all.merge(s, 1./4)
			volume += s.Volume
		}
		low, high = min(low, volume), max(high, volume)
	}
	return all, max(high-low, abs(all.Volume)/float64(n))
}

// excess adds the moments of w - [w >= 1] along the upright line over foot.
func excess(m *Mesh, tree *boxtree.Tree, foot, about r3.Vec, weight float64, sum *Moments) {
	type step struct {
		z     float64
		turns int
	}
	var steps []step
	m.Above(tree, foot, func(_ int32, turns int, z float64) {
		steps = append(steps, step{z - about.Z, turns})
	})
	slices.SortFunc(steps, func(a, b step) int { return cmp.Compare(a.z, b.z) })
	// A face that looks up ends a body: going up, the winding falls by its turns.
	w := 0
	for i := 0; i+1 < len(steps); i++ {
		w -= steps[i].turns
		over := w
		if w >= 1 {
			over--
		}
		if over != 0 {
			sum.add(foot.X-about.X, foot.Y-about.Y, steps[i].z, steps[i+1].z, weight*float64(over))
		}
	}
}

// overUnder reports whether an upright line may meet both boxes.
func overUnder(b, o Box) bool {
	return b.Min.X <= o.Max.X && o.Min.X <= b.Max.X && b.Min.Y <= o.Max.Y && o.Min.Y <= b.Max.Y
}

// sharedBox returns the box of the points in both; it is empty when they do not
// meet.
func sharedBox(b, o Box) Box {
	return Box{
		Min: r3.Vec{X: max(b.Min.X, o.Min.X), Y: max(b.Min.Y, o.Min.Y), Z: max(b.Min.Z, o.Min.Z)},
		Max: r3.Vec{X: min(b.Max.X, o.Max.X), Y: min(b.Max.Y, o.Max.Y), Z: min(b.Max.Z, o.Max.Z)},
	}
}
