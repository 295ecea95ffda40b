// Package delaunay triangulates plane regions with holes into well-shaped
// triangles whose size follows a wish at every corner.
//
// The triangulation is constrained Delaunay, refined after Ruppert (A Delaunay
// refinement algorithm for quality 2-dimensional mesh generation, J. Algorithms
// 18, 1995) with the treatment of small angles by Shewchuk (Delaunay refinement
// algorithms for triangular mesh generation, Comput. Geom. 22, 2002).
//
// Every point lies on a square grid of 2^29 steps over the region's longest
// side, so that the side of a line that a point is on is decided exactly in
// 64-bit integers and no outline, however degenerate, can lead it astray.
package delaunay

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// gridBits sets the steps of the grid over the region. With corners of the
// frame at most 1.5 * 2^30 apart, a product of differences stays below 2^62.
const gridBits = 29

// point is a grid point, in steps from the corner of the region's box.
type point struct{ X, Y int64 }

func (p point) sub(q point) point { return point{p.X - q.X, p.Y - q.Y} }

func (p point) float() (x, y float64) { return float64(p.X), float64(p.Y) }

// orient is positive when a, b, c turn left, negative when they turn right and
// zero when they are in line; twice the signed area, exact.
func orient(a, b, c point) int64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}

// dot is the scalar product of q-p and r-p, exact.
func dot(p, q, r point) int64 {
	return (q.X-p.X)*(r.X-p.X) + (q.Y-p.Y)*(r.Y-p.Y)
}

func distance(a, b point) float64 {
	return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))
}

// inCircle reports whether d is inside the circle through a, b, c (turning
// left) beyond doubt: a determinant within its rounding error counts as
// outside, so that flips always make progress.
func inCircle(a, b, c, d point) bool {
	ax, ay := a.sub(d).float()
	bx, by := b.sub(d).float()
	cx, cy := c.sub(d).float()
	aa, bb, cc := ax*ax+ay*ay, bx*bx+by*by, cx*cx+cy*cy
	bc1, bc2 := bx*cy, cx*by
	ca1, ca2 := cx*ay, ax*cy
	ab1, ab2 := ax*by, bx*ay
	det := aa*(bc1-bc2) + bb*(ca1-ca2) + cc*(ab1-ab2)
	size := aa*(math.Abs(bc1)+math.Abs(bc2)) + bb*(math.Abs(ca1)+math.Abs(ca2)) + cc*(math.Abs(ab1)+math.Abs(ab2))
	return det > 2e-15*size // 10 roundings of 2^-53, Shewchuk's bound is 1.1e-15
}

// circumcentre returns the centre of the circle through three points and its
// radius, in steps.
func circumcentre(a, b, c point) (x, y, radius float64) {
	bx, by := b.sub(a).float()
	cx, cy := c.sub(a).float()
	d := 2 * float64(orient(a, b, c))
	bb, cc := bx*bx+by*by, cx*cx+cy*cy
	ux, uy := (cy*bb-by*cc)/d, (bx*cc-cx*bb)/d
	return float64(a.X) + ux, float64(a.Y) + uy, math.Hypot(ux, uy)
}

// grid maps coordinates in mm to grid points and back.
type grid struct {
	origin r2.Vec
	step   float64 // mm
}

func gridOver(box r2.Box) grid {
	size := max(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	return grid{box.Min, size / (1 << gridBits)}
}

func (g grid) snap(p r2.Vec) point {
	return point{round((p.X - g.origin.X) / g.step), round((p.Y - g.origin.Y) / g.step)}
}

func (g grid) place(p point) r2.Vec {
	return r2.Vec{X: g.origin.X + g.step*float64(p.X), Y: g.origin.Y + g.step*float64(p.Y)}
}

func round(v float64) int64 { return int64(math.Round(v)) }
