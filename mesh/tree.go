package mesh

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
)

// boxTree finds the boxes that meet a given box. It is a complete binary tree
// over the boxes in the order of a space-filling curve, so that neighbours in
// space share a branch. An empty branch has a box that meets nothing.
type boxTree struct {
	items []int32 // numbers of the boxes along the curve
	nodes []Box   // of node i the children are 2i and 2i+1; nodes[1] is the root
	first int     // the first leaf
}

// perLeaf is how many boxes one leaf holds.
const perLeaf = 4

// nowhere is the box that meets no other.
var nowhere = Box{
	Min: r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)},
	Max: r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)},
}

// newBoxTree builds the tree of the boxes with the listed numbers.
func newBoxTree(items []int32, box func(item int32) Box) *boxTree {
	all := nowhere
	for _, i := range items {
		all = all.joined(box(i))
	}
	order := make([]keyed, len(items))
	parallel.Chunks(len(items), chunkSize, func(_, from, to int) {
		for i := from; i < to; i++ {
			order[i] = keyed{alongCurve(box(items[i]).Center(), all), items[i]}
		}
	})
	t := &boxTree{items: make([]int32, len(items)), first: 1}
	for i, o := range sortedByKey(order) {
		t.items[i] = o.item
	}
	for t.first*perLeaf < len(items) {
		t.first *= 2
	}
	t.nodes = make([]Box, 2*t.first)
	parallel.Chunks(t.first, chunkSize/perLeaf, func(_, from, to int) {
		for leaf := from; leaf < to; leaf++ {
			b := nowhere
			for _, i := range t.leaf(leaf) {
				b = b.joined(box(i))
			}
			t.nodes[t.first+leaf] = b
		}
	})
	for i := t.first - 1; i > 0; i-- {
		t.nodes[i] = t.nodes[2*i].joined(t.nodes[2*i+1])
	}
	return t
}

// newFaceTree builds the tree over the listed faces.
func (m *Mesh) newFaceTree(faces []int32) *boxTree {
	return newBoxTree(faces, func(f int32) Box { return m.faceBox(f) })
}

func (m *Mesh) faceBox(f int32) Box {
	a, b, c := m.Triangle(int(f))
	return Box{a, a}.including(b).including(c)
}

// leaf returns the items of a leaf, counted from 0.
func (t *boxTree) leaf(i int) []int32 {
	return t.items[min(len(t.items), i*perLeaf):min(len(t.items), (i+1)*perLeaf)]
}

// near calls found for every item of the leaves that meet q: for all items
// whose box meets q, and some more. It ends early when found returns false.
func (t *boxTree) near(q Box, found func(item int32) bool) {
	t.visit(func(b *Box) bool { return b.meets(q) }, found)
}

// along is near for the boxes that come within d of the segment from a to b.
func (t *boxTree) along(a, b r3.Vec, d float64, found func(item int32) bool) {
	start := [3]float64{a.X, a.Y, a.Z}
	step := [3]float64{b.X - a.X, b.Y - a.Y, b.Z - a.Z}
	t.visit(func(box *Box) bool {
		lo := [3]float64{box.Min.X, box.Min.Y, box.Min.Z}
		hi := [3]float64{box.Max.X, box.Max.Y, box.Max.Z}
		if lo[0] > hi[0] {
			return false // an empty branch
		}
		from, to := 0.0, 1.0 // the part of the segment between the walls so far
		for k := range start {
			if step[k] == 0 {
				if start[k] < lo[k]-d || start[k] > hi[k]+d {
					return false
				}
				continue
			}
			t0, t1 := (lo[k]-d-start[k])/step[k], (hi[k]+d-start[k])/step[k]
			from, to = max(from, min(t0, t1)), min(to, max(t0, t1))
		}
		return from <= to
	}, found)
}

// visit calls found for every item of the leaves that lie in nodes that meet.
func (t *boxTree) visit(meets func(b *Box) bool, found func(item int32) bool) {
	var stack [64]int32
	stack[0] = 1
	for n := 1; n > 0; {
		n--
		node := int(stack[n])
		if !meets(&t.nodes[node]) {
			continue
		}
		if node < t.first {
			stack[n], stack[n+1] = int32(2*node), int32(2*node+1)
			n += 2
			continue
		}
		for _, item := range t.leaf(node - t.first) {
			if !found(item) {
				return
			}
		}
	}
}

// meets reports whether the boxes share a point.
func (b Box) meets(o Box) bool {
	return b.Min.X <= o.Max.X && o.Min.X <= b.Max.X &&
		b.Min.Y <= o.Max.Y && o.Min.Y <= b.Max.Y &&
		b.Min.Z <= o.Max.Z && o.Min.Z <= b.Max.Z
}

// joined returns the smallest box that holds both.
func (b Box) joined(o Box) Box {
	return Box{
		Min: r3.Vec{X: min(b.Min.X, o.Min.X), Y: min(b.Min.Y, o.Min.Y), Z: min(b.Min.Z, o.Min.Z)},
		Max: r3.Vec{X: max(b.Max.X, o.Max.X), Y: max(b.Max.Y, o.Max.Y), Z: max(b.Max.Z, o.Max.Z)},
	}
}

// curveBits is how many bits of each coordinate tell the place along the curve: a
// part of 100 mm is cut into cells of 2 um.
const curveBits = 16

// alongCurve returns the place of p along the Morton curve through the box:
// the bits of its three coordinates in turn.
func alongCurve(p r3.Vec, in Box) uint64 {
	scale := func(x, lo, hi float64) uint64 {
		if hi <= lo {
			return 0
		}
		return spread(uint64((x - lo) / (hi - lo) * (1<<curveBits - 1)))
	}
	return scale(p.X, in.Min.X, in.Max.X) | scale(p.Y, in.Min.Y, in.Max.Y)<<1 | scale(p.Z, in.Min.Z, in.Max.Z)<<2
}

// spread puts two zeros between the low 21 bits of x.
func spread(x uint64) uint64 {
	x = (x | x<<32) & 0x1f00000000ffff
	x = (x | x<<16) & 0x1f0000ff0000ff
	x = (x | x<<8) & 0x100f00f00f00f00f
	x = (x | x<<4) & 0x10c30c30c30c30c3
	return (x | x<<2) & 0x1249249249249249
}

// keyed is an item with its place along the curve.
type keyed struct {
	key  uint64
	item int32
}

// sortedByKey sorts by key and keeps the order of equal ones: a radix sort by
// digits from the lowest, each counted and moved on all cores. It may return order
// itself or a copy.
func sortedByKey(order []keyed) []keyed {
	const digit = 12
	if len(order) < chunkSize {
		slices.SortStableFunc(order, func(a, b keyed) int { return cmp.Compare(a.key, b.key) })
		return order
	}
	to := make([]keyed, len(order))
	run := max(chunkSize, len(order)/64)
	counts := make([][1 << digit]int32, (len(order)+run-1)/run)
	for shift := 0; shift < 3*curveBits; shift += digit {
		digitOf := func(k keyed) uint64 { return k.key >> shift & (1<<digit - 1) }
		parallel.Chunks(len(order), run, func(chunk, lo, hi int) {
			counts[chunk] = [1 << digit]int32{}
			for _, k := range order[lo:hi] {
				counts[chunk][digitOf(k)]++
			}
		})
		at := int32(0)
		for d := range 1 << digit {
			for chunk := range counts {
				at, counts[chunk][d] = at+counts[chunk][d], at
			}
		}
		parallel.Chunks(len(order), run, func(chunk, lo, hi int) {
			next := &counts[chunk]
			for _, k := range order[lo:hi] {
				d := digitOf(k)
				to[next[d]] = k
				next[d]++
			}
		})
		order, to = to, order
	}
	return order
}
