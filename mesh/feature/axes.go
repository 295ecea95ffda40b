package feature

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/mesh"
)

// Square holds three right-handed unit vectors along which a part is square:
// how it would be clamped, and the sides of the stock it is cut from.
type Square [3]r3.Vec

const (
	// squareTo is the cosine up to which a face counts as square to another: 0.1
	// degrees, what a machinist's square is good for on a small part (common practice).
	squareTo = 2e-3
	// mostFaces is how many faces are looked at for the broadest direction. They are
	// sorted by area, and each is held against all others: what comes later has less
	// than a fortieth of the surface.
	mostFaces = 40
	// oneDirection is how far the cosine between two normals may be from 1, 0.08
	// degrees, for their areas to add up.
	oneDirection = 1e-6
	// askew is the lean in rad up to which a part counts as square to the coordinates:
	// 0.001 mm in 100 mm, the plane's own tolerance (flatDistance).
	askew = 1e-5
)

// Axes returns the directions in which a part is square: the normal of its
// largest planar face, the normal of the largest planar face square to that
// one, and the third. Where a second face is missing, the box of least area
// around the part seen along the first decides. A part that is square to the
// coordinate axes within 1e-5 rad gets exactly x, y and z.
func Axes(m *mesh.Mesh, faces []Face) Square {
	s := Square{{X: 1}, {Y: 1}, {Z: 1}}
	if len(faces) == 0 {
		return s
	}
	first := Broadest(faces)
	second := broadest(faces, func(f Face) bool { return math.Abs(r3.Dot(f.Normal, first)) < squareTo })
	if vector.Length(second) == 0 {
		second = tightest(m, first)
	}
	second = r3.Unit(r3.Sub(second, r3.Scale(r3.Dot(second, first), first)))
	found := Square{first, second, r3.Cross(first, second)}
	if found.alongCoordinates() {
		return s
	}
	return found
}

// Broadest returns the normal of the plane direction that has the most area; faces
// looking opposite ways count as one direction. It is zero without faces.
func Broadest(faces []Face) r3.Vec {
	return broadest(faces, func(Face) bool { return true })
}

// broadest is Broadest among the faces that count.
func broadest(faces []Face, counts func(Face) bool) r3.Vec {
	var best r3.Vec
	most := 0.0
	for i, f := range faces {
		if i == mostFaces {
			break
		}
		if !counts(f) {
			continue
		}
		area := 0.0
		for _, g := range faces {
			if math.Abs(r3.Dot(f.Normal, g.Normal)) > 1-oneDirection {
				area += g.Area
			}
		}
		if area > most*(1+oneArea) {
			best, most = f.Normal, area
		}
	}
	return best
}

// tightest returns the direction across the axis along which the part's box,
// seen along the axis, has the least area, in steps of half a degree.
func tightest(m *mesh.Mesh, axis r3.Vec) r3.Vec {
	u, v := across(axis)
	best, least := u, math.Inf(1)
	for k := range 180 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 360)
		d := r3.Add(r3.Scale(cos, u), r3.Scale(sin, v))
		size := Square{d, r3.Cross(axis, d), axis}.Box(m).Size()
		if area := size.X * size.Y; area < least*(1-oneArea) {
			best, least = d, area
		}
	}
	return best
}

func (s Square) alongCoordinates() bool {
	for _, d := range s {
		c := []float64{math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)}
		slices.Sort(c)
		if c[1] > askew {
			return false
		}
	}
	return true
}

// Box returns the part's extent along the three directions: X of the box is
// along s[0], and so on, mm.
func (s Square) Box(m *mesh.Mesh) mesh.Box {
	turned := mesh.Mesh{Vertices: make([]r3.Vec, len(m.Vertices))}
	for i, v := range m.Vertices {
		turned.Vertices[i] = r3.Vec{X: r3.Dot(v, s[0]), Y: r3.Dot(v, s[1]), Z: r3.Dot(v, s[2])}
	}
	return turned.Bounds()
}
