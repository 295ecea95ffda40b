// Package ways compares the directions along which a part's surface looks with the
// axes of a frame, to tell how a part lies in its file.
package ways

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// Way is a direction that flat faces look along or against, or about which round
// walls turn.
type Way struct {
	Unit r3.Vec
	Area float64 // mm2
}

// same is the angle in radians between directions that count as one: above the
// rounding of float32 coordinates on a face a thousandth as long as it is far from
// the origin, 2^-24 x 1000 = 6e-5.
const same = 1e-4

// One reports whether two unit vectors point along one line.
func One(a, b r3.Vec) bool { return r3.Norm(r3.Cross(a, b)) < same }

// Across reports whether two unit vectors are at right angles.
func Across(a, b r3.Vec) bool { return math.Abs(r3.Dot(a, b)) < same }

// Square returns the unit vector nearest to v at right angles to the unit vector a.
func Square(v, a r3.Vec) r3.Vec { return r3.Unit(r3.Sub(v, r3.Scale(r3.Dot(v, a), a))) }

// Along returns the area that follows one of three axes.
func Along(all []Way, axes [3]r3.Vec) (area float64) {
	for _, w := range all {
		for _, e := range axes {
			if One(w.Unit, e) {
				area += w.Area
				break
			}
		}
	}
	return area
}

// tie is by how much the cosines of one assignment of axes must beat those of
// another: rounding of three unit vectors is 1e-16, and at 45 degrees two
// assignments are equal.
const tie = 1e-9

// Named orders orthonormal axes by the file's axes they are nearest to, pointing the
// same way and right-handed.
func Named(axes [3]r3.Vec) [3]r3.Vec {
	var best [3]r3.Vec
	most := -1.0
	for _, p := range [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		var try [3]r3.Vec
		sum := 0.0
		for m, k := range p {
			c := mesh.Axis(m).Of(axes[k])
			sum += math.Abs(c)
			try[m] = r3.Scale(math.Copysign(1, c), axes[k])
		}
		if sum > most+tie {
			best, most = try, sum
		}
	}
	if r3.Dot(r3.Cross(best[0], best[1]), best[2]) < 0 { // cannot be, short of a tie: then one axis gives way
		best[2] = r3.Scale(-1, best[2])
	}
	return best
}
