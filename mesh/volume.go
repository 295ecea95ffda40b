package mesh

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
)

// SignedVolume returns the volume, in mm3, that the mesh encloses, by the
// divergence theorem: the sum over the faces (a, b, c) of
//
//	(a - o) . ((b - a) x (c - a)) / 6
//
// with o the middle of the box. It is negative when the faces look inwards.
// The volume of a mesh that is not closed depends on o and means nothing.
//
// Products and sums carry twice the digits of a float64, so that the error of
// a closed mesh stays below 1e-12 of its volume for plates a million times
// wider than thick and for parts far from the origin.
func (m *Mesh) SignedVolume() float64 {
	o := m.reference()
	parts := make([]doubled, (len(m.Faces)+chunkSize-1)/chunkSize)
	parallel.Chunks(len(m.Faces), chunkSize, func(chunk, from, to int) {
		for f := from; f < to; f++ {
			parts[chunk] = parts[chunk].plus(m.sixVolumes(f, o))
		}
	})
	var sum doubled
	for _, p := range parts {
		sum = sum.plus(p)
	}
	return sum.value() / 6
}

// reference returns the middle of the box, rounded to float32, so that its
// differences from a file's coordinates in mm are exact.
func (m *Mesh) reference() r3.Vec {
	c := m.Bounds().Center()
	return r3.Vec{X: float64(float32(c.X)), Y: float64(float32(c.Y)), Z: float64(float32(c.Z))}
}

// sixVolumes returns six times the signed volume, in mm3, of the tetrahedron
// that face f makes with o.
func (m *Mesh) sixVolumes(f int, o r3.Vec) doubled {
	a, b, c := m.Triangle(f)
	u, v, p := r3.Sub(b, a), r3.Sub(c, a), r3.Sub(a, o)
	x := minor(u.Y, v.Z, u.Z, v.Y).times(p.X)
	y := minor(u.Z, v.X, u.X, v.Z).times(p.Y)
	z := minor(u.X, v.Y, u.Y, v.X).times(p.Z)
	return x.plus(y).plus(z)
}

// doubled is the sum of two float64 that together hold about 106 bits: high is
// the sum rounded, low the rest. (Dekker, Numer. Math. 18, 1971, from memory.)
type doubled struct{ high, low float64 }

func (d doubled) value() float64 { return d.high + d.low }

// plus adds e, by the error-free sum of two float64 (Knuth, from memory).
func (d doubled) plus(e doubled) doubled {
	s := d.high + e.high
	t := s - d.high
	rest := (d.high - (s - t)) + (e.high - t) + d.low + e.low
	high := s + rest
	return doubled{high, rest - (high - s)}
}

// times multiplies by k.
func (d doubled) times(k float64) doubled {
	p := d.high * k
	return doubled{p, math.FMA(d.high, k, -p) + d.low*k}
}

// minor returns a*b - c*d.
func minor(a, b, c, d float64) doubled {
	p, q := a*b, c*d
	return doubled{p, math.FMA(a, b, -p)}.plus(doubled{-q, -math.FMA(c, d, -q)})
}
