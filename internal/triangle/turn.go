package triangle

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Turn returns a number with the exact sign of the determinant
//
//	| bx-ax  by-ay |
//	| cx-ax  cy-ay |
//
// positive when a, b, c turn counter-clockwise and zero exactly when they lie
// on one line. The sign is exact short of underflow. The rounding bound is that
// of J. R. Shewchuk, Adaptive Precision Floating-Point Arithmetic and Fast
// Robust Geometric Predicates, Discrete & Computational Geometry 18 (1997).
func Turn(a, b, c r2.Vec) float64 {
	left := (a.X - c.X) * (b.Y - c.Y)
	right := (a.Y - c.Y) * (b.X - c.X)
	det := left - right
	const bound = (3 + 16*0x1p-53) * 0x1p-53
	if math.Abs(det) > bound*(math.Abs(left)+math.Abs(right)) || left == 0 && right == 0 {
		return det
	}
	return orientExact(a, b, c)
}

// orientExact adds the six products of the expanded determinant without error.
func orientExact(a, b, c r2.Vec) float64 {
	var sum expansion
	sum.addProduct(a.X, b.Y)
	sum.addProduct(-a.Y, b.X)
	sum.addProduct(b.X, c.Y)
	sum.addProduct(-b.Y, c.X)
	sum.addProduct(c.X, a.Y)
	sum.addProduct(-c.Y, a.X)
	return sum.last()
}

// expansion is an exact sum kept as parts that do not overlap, smallest first.
type expansion struct {
	part [12]float64
	n    int
}

func (e *expansion) addProduct(x, y float64) {
	hi := x * y
	e.add(math.FMA(x, y, -hi))
	e.add(hi)
}

// add is Shewchuk's GROW-EXPANSION with zero parts left out.
func (e *expansion) add(v float64) {
	n := 0
	for i := 0; i < e.n; i++ {
		sum, low := twoSum(v, e.part[i])
		if low != 0 {
			e.part[n] = low
			n++
		}
		v = sum
	}
	if v != 0 {
		e.part[n] = v
		n++
	}
	e.n = n
}

// last returns the largest part, which carries the sign of the sum.
func (e *expansion) last() float64 {
	if e.n == 0 {
		return 0
	}
	return e.part[e.n-1]
}

// twoSum returns a+b rounded and the error of the rounding (Knuth).
func twoSum(a, b float64) (sum, low float64) {
	sum = a + b
	bb := sum - a
	return sum, (a - (sum - bb)) + (b - bb)
}
