package mass

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// sum adds float64 numbers with the rounding errors carried along (Neumaier's
// variant of Kahan's sum, Z. angew. Math. Mech. 54, 1974, from memory).
type sum struct{ high, low float64 }

func (s *sum) add(v float64) {
	t := s.high + v
	b := t - s.high
	s.low += (s.high - (t - b)) + (v - b)
	s.high = t
}

func (s *sum) addParts(high, low float64) {
	s.add(high)
	s.low += low
}

func (s *sum) merge(o sum) { s.addParts(o.high, o.low) }

func (s sum) value() float64 { return s.high + s.low }

// pair is a number held as high + low, with |low| no more than half a unit in
// the last place of high: about 106 bits.
type pair struct{ high, low float64 }

// minor returns a*b - c*d as a pair: the products exact by fused multiply-add,
// their difference by the error-free sum (Dekker 1971, Knuth, from memory).
func minor(a, b, c, d float64) pair {
	p, q := a*b, c*d
	low := math.FMA(a, b, -p) - math.FMA(c, d, -q)
	high := p - q
	t := high - p
	low += (p - (high - t)) - (q + t)
	return pair{high, low}
}

// paired is a vector of pairs.
type paired struct{ x, y, z pair }

func sub(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }

func cross(u, v r3.Vec) paired {
	return paired{minor(u.Y, v.Z, u.Z, v.Y), minor(u.Z, v.X, u.X, v.Z), minor(u.X, v.Y, u.Y, v.X)}
}

// dot returns n . a as a rounded value and what the rounding lost.
func (n paired) dot(a r3.Vec) (high, low float64) {
	x, y, z := n.x.high*a.X, n.y.high*a.Y, n.z.high*a.Z
	low = math.FMA(n.x.high, a.X, -x) + math.FMA(n.y.high, a.Y, -y) + math.FMA(n.z.high, a.Z, -z) +
		n.x.low*a.X + n.y.low*a.Y + n.z.low*a.Z
	xy := x + y
	t := xy - x
	low += (x - (xy - t)) + (y - t)
	high = xy + z
	t = high - xy
	low += (xy - (high - t)) + (z - t)
	return high, low
}

// chunkSize is how many faces one step of parallel work takes. Sums are put
// together chunk by chunk, so results do not depend on the number of cores.
const chunkSize = 1 << 14
