package mass

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
	"swapworth/internal/vector"
	"swapworth/mesh"
)

const (
	// sharpTurn is the turn, in rad, from which an edge is a real one: the sides
	// of an octagon (45 degrees) and of a hexagon (60) stay flat, a hole drawn
	// with nine chords (40) is round.
	sharpTurn = 41 * math.Pi / 180

	// fewestFlats is how many flats that turn on both sides a patch needs before
	// it counts as a round and not as a bevel.
	fewestFlats = 3

	// lopsided is the share of a flat's turning that may lack a counterpart on its
	// other side. The first chord of a fillet has 1/3, a lone crease has 1.
	lopsided = 0.6

	// sideways is the share of a lopsided flat's turning that its two sides along
	// the wall have at least: a chord as wide as the wall is high has 1/2, the
	// mitred end faces of a bevel have far less.
	sideways = 0.2

	// tangentPlane is how many times wider than a chord a flat beside it must be
	// to be the plane that a fillet runs out into.
	tangentPlane = 4

	// cone is the share of a prism's segment that a segment running to a point
	// has, as its chord shrinks in proportion to the distance from the point.
	cone = 1. / 3
)

// faceting estimates the volume between the flat faces of a mesh and the rounds
// they stand for, in mm3: signed, positive where the mesh encloses too little,
// and the sum of its absolute parts.
//
// A chord c that turns by t leaves out a segment of area c^2 t/12. On any
// triangulation of a smooth surface that becomes a sum over the edges: with l
// the length of an edge, t its turn (positive where the solid is convex) and h
// the heights of the two triangles on it,
//
//	t l (h1^2 + h2^2) / 24
//
// which follows from the error of linear interpolation over a triangle,
// A/24 sum k l^2 over its sides with k the normal curvature along the side, and
// the curvature of a triangle from the turns at its sides (E. Grinspun et al.,
// Computing discrete shape operators on general meshes, Eurographics 2006, from
// memory).
//
// Only the edges of smooth patches count: see type rounds. of holds the same
// round by round, about a point.
func faceting(m *mesh.Mesh, about r3.Vec) (bias, segments float64, of []lump) {
	s := newSurface(m)
	round := newRounds(s)
	hidden := make([]float64, len(m.Faces))
	parts := make([][2]sum, (len(m.Faces)+chunkSize-1)/chunkSize)
	parallel.Chunks(len(m.Faces), chunkSize, func(chunk, from, to int) {
		for f := from; f < to; f++ {
			for h := 3 * f; h < 3*f+3; h++ {
				if g := s.across[h]; g >= 0 && s.smooth(h) && (round.face(f) || round.face(int(g)/3)) {
					v := s.segment(h, round)
					hidden[f] += v
					parts[chunk][0].add(v)
					parts[chunk][1].add(math.Abs(v))
				}
			}
		}
	})
	var total [2]sum
	for _, p := range parts {
		total[0].merge(p[0])
		total[1].merge(p[1])
	}
	return total[0].value(), total[1].value(), lumps(m, hidden, round, about)
}

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

// smooth reports whether a side turns, but less than a real edge does.
func (s *surface) smooth(h int) bool {
	t := s.turn[h]
	return t != 0 && t < sharpTurn && t > -sharpTurn
}

// segment returns the volume that belongs to one side as seen from its own face,
// mm3. The flat that a fillet runs out into turns by half a chord's angle; the
// chord stands in for it with its own width.
func (s *surface) segment(h int, r *rounds) float64 {
	l := vector.Length(s.edge(h))
	height := s.double[h/3] / l
	share := height * height * s.taper(h/3)
	switch r.tangent(h/3, int(s.across[h])/3) {
	case h / 3:
		return 0
	case int(s.across[h]) / 3:
		share *= 2
	}
	return float64(s.turn[h]) * l * share / 24
}

// taper is 1, or cone for a face of a fan whose smooth sides all meet in one
// point.
func (s *surface) taper(f int) float64 {
	point := s.apex(f)
	if point < 0 {
		return 1
	}
	for h := 3 * f; h < 3*f+3; h++ {
		if s.smooth(h) && s.apex(int(s.across[h])/3) != point {
			return 1
		}
	}
	return cone
}

// apex returns the vertex in which the two smooth sides of a face meet, or -1
// when it has one or three.
func (s *surface) apex(f int) int32 {
	smooth, other := 0, 0
	for k := range 3 {
		if s.smooth(3*f + k) {
			smooth++
		} else {
			other = k
		}
	}
	if smooth != 2 {
		return -1
	}
	return s.mesh.Faces[f][(other+2)%3]
}
