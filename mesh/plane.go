package mesh

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Plane is an oriented plane with a frame in it: the point (u, v) of the plane
// is Origin + u U + v V, in mm. U, V and Normal are unit vectors at right
// angles with U x V = Normal. "Above" is the side that Normal points to.
type Plane struct{ Origin, U, V, Normal r3.Vec }

// AxisPlane returns the plane at right angles to an axis, at the position at
// in mm. Its in-plane axes follow cyclically, so that (u, v) are model
// coordinates: (y, z) in an x-cut, (z, x) in a y-cut, (x, y) in a z-cut.
func AxisPlane(a Axis, at float64) Plane {
	return Plane{
		Origin: r3.Scale(at, a.Unit()),
		U:      a.Next().Unit(),
		V:      a.Next().Next().Unit(),
		Normal: a.Unit(),
	}
}

// PlaneFromNormal returns the plane through origin with the given normal, which
// need not be of unit length. U is the axis nearest to the plane, projected
// into it. It is an error when the normal has no direction.
func PlaneFromNormal(origin, normal r3.Vec) (Plane, error) {
	length := r3.Norm(normal)
	if !(length > 0) || math.IsInf(length, 0) {
		return Plane{}, errors.New("plane: the normal has no direction")
	}
	n := r3.Scale(1/length, normal)
	least := X
	for _, a := range []Axis{Y, Z} {
		if math.Abs(a.Of(n)) < math.Abs(least.Of(n)) {
			least = a
		}
	}
	e := least.Unit()
	u := r3.Unit(r3.Sub(e, r3.Scale(r3.Dot(e, n), n)))
	return Plane{Origin: origin, U: u, V: r3.Cross(n, u), Normal: n}, nil
}

// Height returns the signed distance of p above the plane, in mm.
func (p Plane) Height(q r3.Vec) float64 { return r3.Dot(r3.Sub(q, p.Origin), p.Normal) }

// Project returns the plane coordinates (u, v) of q's foot on the plane, in mm.
func (p Plane) Project(q r3.Vec) r2.Vec {
	d := r3.Sub(q, p.Origin)
	return r2.Vec{X: r3.Dot(d, p.U), Y: r3.Dot(d, p.V)}
}

// Point returns Origin + u U + v V, in mm.
func (p Plane) Point(q r2.Vec) r3.Vec {
	return r3.Add(p.Origin, r3.Add(r3.Scale(q.X, p.U), r3.Scale(q.Y, p.V)))
}

// PointAbove returns Origin + u U + v V + h Normal, in mm.
func (p Plane) PointAbove(q r2.Vec, h float64) r3.Vec {
	return r3.Add(p.Point(q), r3.Scale(h, p.Normal))
}

// Flipped returns the same plane seen from the other side: U and V change
// places and Normal turns round.
func (p Plane) Flipped() Plane {
	return Plane{Origin: p.Origin, U: p.V, V: p.U, Normal: r3.Scale(-1, p.Normal)}
}

// Axis returns the axis that the plane's normal points along exactly.
func (p Plane) Axis() (Axis, bool) {
	for _, a := range []Axis{X, Y, Z} {
		if p.Normal == a.Unit() {
			return a, true
		}
	}
	return 0, false
}
