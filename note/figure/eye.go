package figure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// eye is a direction of sight along a coordinate axis. A point p of the part is
// drawn right of the origin by right.Of(p) and up by up.Of(p); it lies nearer to
// the eye the larger toward * sight.Of(p) is.
type eye struct {
	right, up, sight mesh.Axis
	toward           float64 // +1 or -1
}

// flatPoint is a point of a drawing, in mm of the part, with its nearness.
type flatPoint struct{ u, v, near float64 }

type flatLine struct{ a, b flatPoint }

func (e eye) flat(p r3.Vec) flatPoint {
	return flatPoint{e.right.Of(p), e.up.Of(p), e.toward * e.sight.Of(p)}
}

func clampIndex(v float64, n int) int { return min(max(int(math.Floor(v)), 0), n-1) }
