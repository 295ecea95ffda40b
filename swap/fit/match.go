package fit

import (
	"cmp"
	"math"
	"slices"

	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// match is a hole of the old part and one of the new, by index.
type match struct {
	old, new int
	aside    float64 // distance of the axes, mm
}

// pairUp matches holes whose axes lie within the distance, nearest first. The
// distance is measured square to the old hole's axis, at the middle of the new
// hole; holes on one axis are told apart by where along it they are.
func pairUp(old, moved []feature.Hole, within float64) []match {
	type option struct {
		match
		order float64
	}
	var options []option
	for i := range old {
		for j := range moved {
			a, b := &old[i], &moved[j]
			if !mayPair(a, b, within) {
				continue
			}
			aside, along := apart(a, b)
			order := aside + alongWeight*along + sizeWeight*math.Abs(a.Diameter-b.Diameter)
			options = append(options, option{match{i, j, aside}, order})
		}
	}
	slices.SortStableFunc(options, func(a, b option) int { return cmp.Compare(a.order, b.order) })
	usedOld, usedNew := make([]bool, len(old)), make([]bool, len(moved))
	var out []match
	for _, o := range options {
		if !usedOld[o.old] && !usedNew[o.new] {
			usedOld[o.old], usedNew[o.new] = true, true
			out = append(out, o.match)
		}
	}
	slices.SortFunc(out, func(a, b match) int { return a.old - b.old })
	return out
}

// resized is the change over the larger diameter from which two holes on one axis
// are two: a bearing's bore that became a screw's.
const resized = 0.6

// oneAxis is the cosine of the tilt up to which a hole is the same, tilted.
var oneAxis = math.Cos(2 * math.Pi / 180)

// What a distance along the axis and a change of diameter weigh, against one of the
// axes, when holes compete for a partner: a thicker plate moves the middle of a hole
// along its axis, and of two holes side by side the equal one is meant.
const (
	alongWeight = 0.05
	sizeWeight  = 0.5
)

// mayPair reports whether two holes lie on one axis, beside each other, and are
// of a size.
func mayPair(a, b *feature.Hole, within float64) bool {
	if math.Abs(a.Diameter-b.Diameter) > resized*max(a.Diameter, b.Diameter) || math.Abs(r3.Dot(a.Axis, b.Axis)) < oneAxis {
		return false
	}
	aside, along := apart(a, b)
	return aside <= within && along <= (a.Depth+b.Depth)/2+within
}

// apart returns the distance of b's middle from a's axis and along it, mm.
func apart(a, b *feature.Hole) (aside, along float64) {
	d := r3.Sub(b.Centre, a.Centre)
	along = r3.Dot(d, a.Axis)
	return r3.Norm(r3.Sub(d, r3.Scale(along, a.Axis))), math.Abs(along)
}

// pairAll matches holes that coincide, then what is left with the nearest
// within reach: those have moved.
func pairAll(old, moved []feature.Hole) []match {
	out := pairUp(old, moved, coincide)
	leftOld, leftNew := left(len(old), out, func(m match) int { return m.old }), left(len(moved), out, func(m match) int { return m.new })
	pick := func(holes []feature.Hole, at []int) []feature.Hole {
		var some []feature.Hole
		for _, k := range at {
			some = append(some, holes[k])
		}
		return some
	}
	for _, m := range pairUp(pick(old, leftOld), pick(moved, leftNew), reach) {
		out = append(out, match{leftOld[m.old], leftNew[m.new], m.aside})
	}
	slices.SortFunc(out, func(a, b match) int { return a.old - b.old })
	return out
}

// reach is how far a hole may have moved and still be called the same, mm.
const reach = 10.0

// left lists the indices that no match uses.
func left(n int, matches []match, of func(match) int) []int {
	used := make([]bool, n)
	for _, m := range matches {
		used[of(m)] = true
	}
	var out []int
	for k, is := range used {
		if !is {
			out = append(out, k)
		}
	}
	return out
}
