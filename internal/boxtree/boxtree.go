// Package boxtree finds which of many boxes meet a box, a segment or a ray, and joins
// boxes. Trees are built on all cores and come out alike on any number of them.
package boxtree

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
)

// Tree finds the boxes that meet a given box. It is a complete binary tree
// over the boxes in the order of a space-filling curve, so that neighbours in
// space share a branch. An empty branch has a box that meets nothing.
type Tree struct {
	Items []int32  // numbers of the boxes along the curve
	Nodes []r3.Box // of node i the children are 2i and 2i+1; nodes[1] is the root
	First int      // the first leaf
}

// chunk is how many boxes one step of parallel work takes: long enough to hide the
// hand-over, short enough to balance two cores.
const chunk = 1 << 15

// PerLeaf is how many boxes one leaf holds.
const PerLeaf = 4

// Nowhere is the box that meets no other.
var Nowhere = r3.Box{
	Min: r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)},
	Max: r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)},
}

// New builds the tree of the boxes with the listed numbers.
func New(items []int32, box func(item int32) r3.Box) *Tree {
	all := Nowhere
	for _, i := range items {
		all = Join(all, box(i))
	}
	order := make([]keyed, len(items))
	parallel.Chunks(len(items), chunk, func(_, from, to int) {
		for i := from; i < to; i++ {
			order[i] = keyed{alongCurve(box(items[i]).Center(), all), items[i]}
		}
	})
	t := &Tree{Items: make([]int32, len(items)), First: 1}
	for i, o := range sortedByKey(order) {
		t.Items[i] = o.item
	}
	for t.First*PerLeaf < len(items) {
		t.First *= 2
	}
	t.Nodes = make([]r3.Box, 2*t.First)
	parallel.Chunks(t.First, chunk/PerLeaf, func(_, from, to int) {
		for leaf := from; leaf < to; leaf++ {
			b := Nowhere
			for _, i := range t.Leaf(leaf) {
				b = Join(b, box(i))
			}
			t.Nodes[t.First+leaf] = b
		}
	})
	for i := t.First - 1; i > 0; i-- {
		t.Nodes[i] = Join(t.Nodes[2*i], t.Nodes[2*i+1])
	}
	return t
}

// Leaf returns the items of a leaf, counted from 0.
func (t *Tree) Leaf(i int) []int32 {
	return t.Items[min(len(t.Items), i*PerLeaf):min(len(t.Items), (i+1)*PerLeaf)]
}

// Near calls found for every item of the leaves that meet q: for all items
// whose box meets q, and some more. It ends early when found returns false.
func (t *Tree) Near(q r3.Box, found func(item int32) bool) {
	t.visit(func(b *r3.Box) bool { return Meet(*b, q) }, found)
}

// Along is near for the boxes that come within d of the segment from a to b.
func (t *Tree) Along(a, b r3.Vec, d float64, found func(item int32) bool) {
	start := [3]float64{a.X, a.Y, a.Z}
	step := [3]float64{b.X - a.X, b.Y - a.Y, b.Z - a.Z}
	t.visit(func(box *r3.Box) bool {
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

// visit calls found for every item of the leaves that lie in nodes accepted by in.
func (t *Tree) visit(in func(b *r3.Box) bool, found func(item int32) bool) {
	var stack [64]int32
	stack[0] = 1
	for n := 1; n > 0; {
		n--
		node := int(stack[n])
		if !in(&t.Nodes[node]) {
			continue
		}
		if node < t.First {
			stack[n], stack[n+1] = int32(2*node), int32(2*node+1)
			n += 2
			continue
		}
		for _, item := range t.Leaf(node - t.First) {
			if !found(item) {
				return
			}
		}
	}
}

// Meet reports whether the boxes share a point.
func Meet(b, o r3.Box) bool {
	return b.Min.X <= o.Max.X && o.Min.X <= b.Max.X &&
		b.Min.Y <= o.Max.Y && o.Min.Y <= b.Max.Y &&
		b.Min.Z <= o.Max.Z && o.Min.Z <= b.Max.Z
}

// Join returns the smallest box that holds both.
func Join(b, o r3.Box) r3.Box {
	return r3.Box{
		Min: r3.Vec{X: min(b.Min.X, o.Min.X), Y: min(b.Min.Y, o.Min.Y), Z: min(b.Min.Z, o.Min.Z)},
		Max: r3.Vec{X: max(b.Max.X, o.Max.X), Y: max(b.Max.Y, o.Max.Y), Z: max(b.Max.Z, o.Max.Z)},
	}
}

// curveBits is how many bits of each coordinate tell the place along the curve: a
// part of 100 mm is cut into cells of 2 um.
const curveBits = 16

// alongCurve returns the place of p along the Morton curve through the box:
// the bits of its three coordinates in turn.
func alongCurve(p r3.Vec, in r3.Box) uint64 {
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
	if len(order) < chunk {
		slices.SortStableFunc(order, func(a, b keyed) int { return cmp.Compare(a.key, b.key) })
		return order
	}
	to := make([]keyed, len(order))
	run := max(chunk, len(order)/64)
	counts := make([][1 << digit]int32, (len(order)+run-1)/run)
	for shift := 0; shift < 3*curveBits; shift += digit {
		digitOf := func(k keyed) uint64 { return k.key >> shift & (1<<digit - 1) }
		parallel.Chunks(len(order), run, func(part, lo, hi int) {
			counts[part] = [1 << digit]int32{}
			for _, k := range order[lo:hi] {
				counts[part][digitOf(k)]++
			}
		})
		at := int32(0)
		for d := range 1 << digit {
			for part := range counts {
				at, counts[part][d] = at+counts[part][d], at
			}
		}
		parallel.Chunks(len(order), run, func(part, lo, hi int) {
			next := &counts[part]
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

// Extend returns the smallest box that holds b and p.
func Extend(b r3.Box, p r3.Vec) r3.Box {
	return r3.Box{
		Min: r3.Vec{X: min(b.Min.X, p.X), Y: min(b.Min.Y, p.Y), Z: min(b.Min.Z, p.Z)},
		Max: r3.Vec{X: max(b.Max.X, p.X), Y: max(b.Max.Y, p.Y), Z: max(b.Max.Z, p.Z)},
	}
}

// Span returns the items of a leaf node.
func (t *Tree) Span(node int) (from, to int) {
	leaf := node - t.First
	return min(len(t.Items), leaf*PerLeaf), min(len(t.Items), (leaf+1)*PerLeaf)
}
