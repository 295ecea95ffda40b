package triangulation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/triangle"
)

// turn is triangle.Turn: positive when a, b, c turn left, zero when they are in
// line, exact.
func turn(a, b, c r2.Vec) float64 { return triangle.Turn(a, b, c) }

// dot returns a number with the exact sign of the scalar product of q-p and r-p, as
// long as both are exact, as they are on a grid: the roundings of the two products
// decide where the products cancel.
func dot(p, q, r r2.Vec) float64 {
	u, v := r2.Sub(q, p), r2.Sub(r, p)
	x, y := u.X*v.X, u.Y*v.Y
	return x + y + (math.FMA(u.X, v.X, -x) + math.FMA(u.Y, v.Y, -y))
}

func distance(a, b r2.Vec) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// inCircle reports whether d is inside the circle through a, b, c (turning
// left) beyond doubt: a determinant within its rounding error counts as
// outside, so that flips always make progress.
func inCircle(a, b, c, d r2.Vec) bool {
	ax, ay, bx, by, cx, cy := a.X-d.X, a.Y-d.Y, b.X-d.X, b.Y-d.Y, c.X-d.X, c.Y-d.Y
	aa, bb, cc := ax*ax+ay*ay, bx*bx+by*by, cx*cx+cy*cy
	bc1, bc2 := bx*cy, cx*by
	ca1, ca2 := cx*ay, ax*cy
	ab1, ab2 := ax*by, bx*ay
	det := aa*(bc1-bc2) + bb*(ca1-ca2) + cc*(ab1-ab2)
	size := aa*(math.Abs(bc1)+math.Abs(bc2)) + bb*(math.Abs(ca1)+math.Abs(ca2)) + cc*(math.Abs(ab1)+math.Abs(ab2))
	const bound = (10 + 96*0x1p-53) * 0x1p-53 // Shewchuk 1997, as in triangle.Turn
	return det > bound*size
}

// circumcentre returns the centre of the circle through three points and its
// radius.
func circumcentre(a, b, c r2.Vec) (x, y, radius float64) {
	bx, by, cx, cy := b.X-a.X, b.Y-a.Y, c.X-a.X, c.Y-a.Y
	d := 2 * turn(a, b, c)
	bb, cc := bx*bx+by*by, cx*cx+cy*cy
	ux, uy := (cy*bb-by*cc)/d, (bx*cc-cx*bb)/d
	return a.X + ux, a.Y + uy, math.Hypot(ux, uy)
}
