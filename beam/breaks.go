package beam

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// breaksOf returns the coordinates along an axis at which the section of a part
// changes: every face at right angles to the axis, where it jumps, and of the
// other corners as many as spacing in mm allows. Between two neighbours the
// section varies smoothly or not at all.
func breaksOf(m *mesh.Mesh, a mesh.Axis, spacing float64) []float64 {
	lo, hi := a.Of(m.Bounds().Min), a.Of(m.Bounds().Max)
	tol := 1e-6 * (hi - lo)
	jumps := jumpsOf(m, a, tol)
	all := make([]float64, 0, len(m.Vertices))
	for _, v := range m.Vertices {
		all = append(all, a.Of(v))
	}
	sort.Float64s(all)
	kept := append([]float64{}, jumps...)
	last, next := math.Inf(-1), 0
	for _, x := range all {
		for next < len(jumps) && jumps[next] < x {
			last = max(last, jumps[next])
			next++
		}
		if x-last >= spacing && (next == len(jumps) || jumps[next]-x >= spacing) {
			kept = append(kept, x)
			last = x
		}
	}
	sort.Float64s(kept)
	return kept
}

// jumpsOf returns the coordinates of faces at right angles to the axis, in
// ascending order.
func jumpsOf(m *mesh.Mesh, a mesh.Axis, tol float64) []float64 {
	var at []float64
	for f := range m.Faces {
		p, q, r := m.Triangle(f)
		x, y, z := a.Of(p), a.Of(q), a.Of(r)
		if max(x, y, z)-min(x, y, z) > tol {
			continue
		}
		if r3.Norm(r3.Cross(r3.Sub(q, p), r3.Sub(r, p))) > 0 {
			at = append(at, x)
		}
	}
	if len(at) == 0 {
		return nil
	}
	return mergeClose(at, tol)
}
