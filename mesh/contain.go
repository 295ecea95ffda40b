package mesh

import "gonum.org/v1/gonum/spatial/r3"

// turnsAround returns how often the projection of the triangle a, b, c on the
// x-y plane turns around the point p: 1 when p lies within a triangle that
// looks up, -1 within one that looks down, else 0.
//
// A point on an edge or a vertex belongs to exactly one of the triangles that
// meet there, because each edge is judged by the same numbers whichever
// triangle asks.
func turnsAround(p, a, b, c r3.Vec) int {
	return crosses(p, a, b) + crosses(p, b, c) + crosses(p, c, a)
}

// crosses returns 1 when the edge from a to b crosses, upwards in y, the ray
// from p towards +x, -1 when it crosses it downwards, else 0.
func crosses(p, a, b r3.Vec) int {
	switch {
	case a.Y <= p.Y && p.Y < b.Y:
		if leftOf(p, a, b) {
			return 1
		}
	case b.Y <= p.Y && p.Y < a.Y:
		if leftOf(p, b, a) {
			return -1
		}
	}
	return 0
}

// leftOf reports whether p is left of the edge that rises from a to b.
func leftOf(p, a, b r3.Vec) bool {
	return (b.X-a.X)*(p.Y-a.Y)-(p.X-a.X)*(b.Y-a.Y) > 0
}

// winding returns how often the listed faces wind around p: for a closed set
// of faces that look outwards, 1 inside and 0 outside. It counts the faces
// above p with the sign of their z. A point on a face may be counted either
// way.
func (m *Mesh) winding(p r3.Vec, faces []int32) int {
	turns := 0
	for _, f := range faces {
		a, b, c := m.Triangle(int(f))
		if max(a.Z, b.Z, c.Z) < p.Z {
			continue
		}
		if t := turnsAround(p, a, b, c); t != 0 && above(p, a, b, c) {
			turns += t
		}
	}
	return turns
}

// above reports whether the plane of a, b, c, which is not vertical, lies above
// p.
func above(p, a, b, c r3.Vec) bool {
	n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	return r3.Dot(n, r3.Sub(a, p))*n.Z > 0
}
