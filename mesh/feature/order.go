package feature

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// oneCoordinate is the distance in mm below which neighbouring coordinates count
// as one when features are numbered: well above what remeshing moves a fitted
// centre (some 0.002 mm), well below what a drawing tells apart.
const oneCoordinate = 0.1

// nearLimit is how near to oneCoordinate a gap may come, mm, before another mesh
// of the same part could put it on the other side: ten times the tolerance of a
// round wall.
const nearLimit = 0.02

// byPlace returns the order of points by x, then y, then z. Of each coordinate
// all values are sorted; neighbours nearer than limit count as one, so that the
// order is a total one and depends on where the points lie and on nothing else.
func byPlace(points []r3.Vec, limit float64) []int {
	rank := make([][3]int, len(points))
	for a := range 3 {
		values := make([]float64, len(points))
		for i, p := range points {
			values[i] = [3]float64{p.X, p.Y, p.Z}[a]
		}
		for i, r := range clusters(values, func(before, v float64) bool { return v-before < limit }) {
			rank[i][a] = r
		}
	}
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		p, q := points[i], points[j]
		return cmp.Or(slices.Compare(rank[i][:], rank[j][:]),
			cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y), cmp.Compare(p.Z, q.Z))
	})
	return order
}

// clusters numbers values in rising order, where a value and the next larger one
// have the same number if they count as one.
func clusters(values []float64, one func(value, next float64) bool) []int {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(values[i], values[j]) })
	rank := make([]int, len(values))
	for n := 1; n < len(order); n++ {
		i, before := order[n], order[n-1]
		rank[i] = rank[before]
		if !one(values[before], values[i]) {
			rank[i]++
		}
	}
	return rank
}

// inOrder returns the elements of list in an order.
func inOrder[T any](list []T, order []int) []T {
	out := make([]T, len(order))
	for n, i := range order {
		out[n] = list[i]
	}
	return out
}

// NumberingDoubt says which holes another mesh of the same part might number
// otherwise: two coordinates of theirs differ by so nearly 0.1 mm that it is
// chance whether they count as one. It is empty where the numbers are safe.
func NumberingDoubt(holes []Hole) string {
	var centres []r3.Vec
	for _, h := range holes {
		centres = append(centres, h.Centre)
	}
	low, high := byPlace(centres, oneCoordinate-nearLimit), byPlace(centres, oneCoordinate+nearLimit)
	for n, i := range low {
		if high[n] == i {
			continue
		}
		for a := range 3 {
			if j, gap, ok := nearGap(centres, i, a); ok {
				return fmt.Sprintf("holes %d and %d differ by %.3f mm along %s, near the %g mm below which coordinates count as one: another mesh of the part may number them otherwise; look at their places",
					holes[min(i, j)].Number, holes[max(i, j)].Number, gap, "xyz"[a:a+1], oneCoordinate)
			}
		}
		other := high[n]
		return fmt.Sprintf("holes %d and %d lie in rows whose coordinates differ by nearly %g mm, below which they count as one: another mesh of the part may number them otherwise; look at their places",
			holes[min(i, other)].Number, holes[max(i, other)].Number, oneCoordinate)
	}
	return ""
}

// nearGap finds the point whose coordinate a is about oneCoordinate from that of
// point i.
func nearGap(points []r3.Vec, i, a int) (j int, gap float64, ok bool) {
	at := func(k int) float64 { return [3]float64{points[k].X, points[k].Y, points[k].Z}[a] }
	for k := range points {
		if g := math.Abs(at(k) - at(i)); math.Abs(g-oneCoordinate) <= nearLimit {
			return k, g, true
		}
	}
	return 0, 0, false
}
