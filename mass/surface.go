package mass

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
	"swapworth/internal/vector"
	"swapworth/mesh"
)

// surface is a mesh with what the recognition of rounds needs of its sides; a
// side is named 3f+k as in mesh.Neighbours.
type surface struct {
	mesh   *mesh.Mesh
	across []int32
	normal []r3.Vec  // of every face, of length 1; zero for a face without area
	double []float64 // twice the area of every face, mm2
	turn   []float32 // rad, positive where convex; 0 along flats and gaps
	grain  float64   // mm, what the rounding of a file's coordinates may displace a corner by
}

func newSurface(m *mesh.Mesh) *surface {
	box := m.Bounds()
	largest := 0.0
	for _, v := range []r3.Vec{box.Min, box.Max} {
		largest = max(largest, math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
	}
	s := &surface{
		mesh:   m,
		across: mesh.Neighbours(m),
		normal: make([]r3.Vec, len(m.Faces)),
		double: make([]float64, len(m.Faces)),
		turn:   make([]float32, 3*len(m.Faces)),
		grain:  largest * 0x1p-22, // four half units in the last place of a float32
	}
	parallel.Chunks(len(m.Faces), chunkSize, func(_, from, to int) {
		for f := from; f < to; f++ {
			a, b, c := m.Triangle(f)
			n := r3.Cross(sub(b, a), sub(c, a))
			if s.double[f] = vector.Length(n); s.double[f] > 0 {
				s.normal[f] = r3.Scale(1/s.double[f], n)
			}
		}
	})
	parallel.Chunks(len(m.Faces), chunkSize, func(_, from, to int) {
		for h := 3 * from; h < 3*to; h++ {
			if g := s.across[h]; g > int32(h) {
				t := s.measureTurn(h, int(g))
				s.turn[h], s.turn[g] = t, t
			}
		}
	})
	return s
}

// measureTurn returns the angle from one face's normal to the next over the
// sides h and g, or 0 where it is no more than rounding.
func (s *surface) measureTurn(h, g int) float32 {
	e := s.edge(h)
	l := vector.Length(e)
	n, next := s.normal[h/3], s.normal[g/3]
	sine, cosine := r3.Dot(r3.Cross(n, next), e), r3.Dot(n, next)
	if l == 0 || cosine == 0 && sine == 0 {
		return 0
	}
	t := math.Atan2(sine/l, cosine)
	if math.Abs(t)*min(s.double[h/3], s.double[g/3]) <= s.grain*l {
		return 0
	}
	return float32(t)
}

// edge returns the vector along a side, mm.
func (s *surface) edge(h int) r3.Vec {
	f, k := &s.mesh.Faces[h/3], h%3
	next := k + 1
	if next == 3 {
		next = 0
	}
	return sub(s.mesh.Vertices[f[next]], s.mesh.Vertices[f[k]])
}

// sharpTurn is the turn, in rad, from which an edge is a real one: the sides
// of an octagon (45 degrees) and of a hexagon (60) stay flat, a hole drawn
// with nine chords (40) is round.
const sharpTurn = 41 * math.Pi / 180

// smooth reports whether a side turns, but less than a real edge does.
func (s *surface) smooth(h int) bool {
	t := s.turn[h]
	return t != 0 && t < sharpTurn && t > -sharpTurn
}
