// Package triangle answers questions about one triangle or the plane through it.
// Signs are exact: the same points give the same answer in whatever order and
// wherever they lie, short of underflow.
package triangle

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Through returns the point of the segment p q on the plane of a, b, c,
// for p and q on opposite sides.
func Through(a, b, c, p, q r3.Vec) r3.Vec {
	n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	hp, hq := r3.Dot(n, r3.Sub(p, a)), r3.Dot(n, r3.Sub(q, a))
	if hp == hq {
		return r3.Scale(0.5, r3.Add(p, q))
	}
	t := hp / (hp - hq)
	return r3.Add(p, r3.Scale(max(0, min(1, t)), r3.Sub(q, p)))
}

// HeightAt returns the z of the triangle a, b, c over the x and y of p, which
// lie within it.
func HeightAt(p, a, b, c r3.Vec) float64 {
	n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	z := a.Z + (n.X*(a.X-p.X)+n.Y*(a.Y-p.Y))/n.Z
	return max(min(a.Z, b.Z, c.Z), min(max(a.Z, b.Z, c.Z), z))
}

// Normal returns the unit normal of a triangle, zero where it has none.
func Normal(a, b, c r3.Vec) r3.Vec {
	n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	if length := r3.Norm(n); length > 0 && !math.IsInf(length, 0) {
		return r3.Scale(1/length, n)
	}
	return r3.Vec{}
}

// Around returns how often the projection of the triangle a, b, c on the
// x-y plane turns around the point p: 1 when p lies within a triangle that
// looks up, -1 within one that looks down, else 0.
//
// A point on an edge or a vertex belongs to exactly one of the triangles that
// meet there, because each edge is judged alike whichever triangle asks.
func Around(p, a, b, c r3.Vec) int {
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
	return Turn(r2.Vec{X: a.X, Y: a.Y}, r2.Vec{X: b.X, Y: b.Y}, r2.Vec{X: p.X, Y: p.Y}) > 0
}
