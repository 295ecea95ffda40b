package beam

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// breaksOf returns the coordinates along an axis at which the section of a part
// may change: every face at right angles to the axis, where it jumps, and of the
// part's corners as many as spacing in mm allows. Between two neighbours the
// section varies smoothly or not at all. Vertices on a flat face or on a
// straight edge are no corners, so that the same solid has the same breaks
// however its faces are divided.
func breaksOf(m *mesh.Mesh, a mesh.Axis, spacing float64) []float64 {
	lo, hi := a.Of(m.Bounds().Min), a.Of(m.Bounds().Max)
	jumps := jumpsOf(m, a, 1e-6*(hi-lo))
	var all []float64
	for v, is := range corners(m) {
		if is {
			all = append(all, a.Of(m.Vertices[v]))
		}
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

// cornerSharpness is the least determinant of the mean of n n^T over the unit
// normals n around a vertex for it to be a corner. The determinant is zero on a
// flat face and on a straight edge; at the rim of a bore drawn with 360 chords
// it is 1e-5, and normals rounded to the digits of a file leave less than 1e-8.
const cornerSharpness = 1e-8

// corners tells which vertices are corners of the solid: those whose faces' do
// not all run along one line.
func corners(m *mesh.Mesh) []bool {
	type moment struct{ xx, yy, zz, xy, xz, yz, n float64 }
	at := make([]moment, len(m.Vertices))
	for f := range m.Faces {
		p, q, r := m.Triangle(f)
		n := r3.Cross(r3.Sub(q, p), r3.Sub(r, p))
		size := r3.Norm(n)
		if size == 0 {
			continue
		}
		n = r3.Scale(1/size, n)
		for _, v := range m.Faces[f] {
			s := &at[v]
			s.xx, s.yy, s.zz = s.xx+n.X*n.X, s.yy+n.Y*n.Y, s.zz+n.Z*n.Z
			s.xy, s.xz, s.yz = s.xy+n.X*n.Y, s.xz+n.X*n.Z, s.yz+n.Y*n.Z
			s.n++
		}
	}
	out := make([]bool, len(at))
	for v, s := range at {
		det := s.xx*(s.yy*s.zz-s.yz*s.yz) - s.xy*(s.xy*s.zz-s.yz*s.xz) + s.xz*(s.xy*s.yz-s.yy*s.xz)
		out[v] = det > cornerSharpness*s.n*s.n*s.n
	}
	return out
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
		// a sliver of a slanted face may be short along the axis too
		n := r3.Cross(r3.Sub(q, p), r3.Sub(r, p))
		if size := r3.Norm(n); size > 0 && abs(a.Of(n)) > 0.99*size {
			at = append(at, x)
		}
	}
	if len(at) == 0 {
		return nil
	}
	return mergeClose(at, tol)
}
