package mesh

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// turnsAround returns how often the projection of the triangle a, b, c on the
// x-y plane turns around the point p: 1 when p lies within a triangle that
// looks up, -1 within one that looks down, else 0.
//
// A point on an edge or a vertex belongs to exactly one of the triangles that
// meet there, because each edge is judged alike whichever triangle asks.
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
	return orient(r2.Vec{X: a.X, Y: a.Y}, r2.Vec{X: b.X, Y: b.Y}, r2.Vec{X: p.X, Y: p.Y}) > 0
}
