// Package vector measures vectors of parts, whose coordinates are millimetres and
// need no guard against overflow.
package vector

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Length is the Euclidean length of v; r3.Norm guards against overflow, which makes
// it several times slower.
func Length(v r3.Vec) float64 { return math.Sqrt(v.X*v.X + v.Y*v.Y + v.Z*v.Z) }

// Degrees is an angle in degrees.
func Degrees(rad float64) float64 { return rad * 180 / math.Pi }

// DegreesBetween is the angle between two vectors, 0 to 180, exact at both ends where
// an arc cosine loses half of the digits.
func DegreesBetween(a, b r3.Vec) float64 {
	return Degrees(math.Atan2(Length(r3.Cross(a, b)), r3.Dot(a, b)))
}

// Of is a vector given by its coordinates.
func Of(x [3]float64) r3.Vec { return r3.Vec{X: x[0], Y: x[1], Z: x[2]} }

// Norm is the Euclidean length of a vector given by its coordinates.
func Norm(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }

// Cross is the cross product of two vectors given by their coordinates.
func Cross(u, v [3]float64) [3]float64 {
	return [3]float64{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
}
