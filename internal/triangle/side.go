package triangle

import (
	"math"
	"math/big"

	"gonum.org/v1/gonum/spatial/r3"
)

// Side returns the exact sign of (a - d) . ((b - d) x (c - d)): 1 when d lies
// below the plane of a, b, c, seen from where they turn counter-clockwise, -1
// when it lies above, 0 when it lies in the plane. The rounding bound is that
// of Shewchuk, Adaptive Precision Floating-Point Arithmetic and Fast Robust
// Geometric Predicates, Discrete & Computational Geometry 18 (1997).
func Side(a, b, c, d r3.Vec) int {
	u, v, w := r3.Sub(a, d), r3.Sub(b, d), r3.Sub(c, d)
	vw1, vw2 := v.Y*w.Z, v.Z*w.Y
	wu1, wu2 := w.Y*u.Z, w.Z*u.Y
	uv1, uv2 := u.Y*v.Z, u.Z*v.Y
	det := u.X*(vw1-vw2) + v.X*(wu1-wu2) + w.X*(uv1-uv2)
	size := math.Abs(u.X)*(math.Abs(vw1)+math.Abs(vw2)) +
		math.Abs(v.X)*(math.Abs(wu1)+math.Abs(wu2)) +
		math.Abs(w.X)*(math.Abs(uv1)+math.Abs(uv2))
	const bound = (7 + 56*0x1p-53) * 0x1p-53
	switch {
	case det > bound*size:
		return 1
	case -det > bound*size:
		return -1
	case size == 0:
		return 0
	}
	return exactSide(a, b, c, d)
}

func exactSide(a, b, c, d r3.Vec) int {
	// A product of three differences of float64 numbers of any exponents fits.
	exact := func(x, y float64) *big.Float {
		return new(big.Float).SetMode(big.ToNearestEven).SetPrec(6800).Sub(big.NewFloat(x), big.NewFloat(y))
	}
	u := [3]*big.Float{exact(a.X, d.X), exact(a.Y, d.Y), exact(a.Z, d.Z)}
	v := [3]*big.Float{exact(b.X, d.X), exact(b.Y, d.Y), exact(b.Z, d.Z)}
	w := [3]*big.Float{exact(c.X, d.X), exact(c.Y, d.Y), exact(c.Z, d.Z)}
	times := func(x, y *big.Float) *big.Float { return new(big.Float).Mul(x, y) }
	sum := new(big.Float).SetPrec(6800)
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		sum.Add(sum, times(u[k], new(big.Float).Sub(times(v[i], w[j]), times(v[j], w[i]))))
	}
	return sum.Sign()
}
