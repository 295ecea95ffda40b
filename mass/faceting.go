package mass

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
	"swapworth/internal/vector"
	"swapworth/mesh"
)

// cone is the share of a prism's segment that a segment running to a point
// has, as its chord shrinks in proportion to the distance from the point.
const cone = 1. / 3

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
