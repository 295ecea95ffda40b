package mass

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// rounds tells the faces that stand for a curved surface from those that are
// meant to be flat.
//
// Coplanar neighbours make up a flat. A flat is curved when its smooth sides
// turn about equally both ways: a strip of a cylinder does, a face beside a lone
// crease does not. Flats that touch over a smooth side make up a patch, save that
// a flat much wider than its neighbour is the plane a fillet runs out into. A
// patch with at least fewestFlats curved flats is a round.
type rounds struct {
	flat   []int32   // for every face, the flat it belongs to, named by its first face
	width  []float64 // for every flat, mm
	curved []bool    // for every flat, whether it is part of a round
}

func newRounds(s *surface) *rounds {
	r := &rounds{flat: s.flats()}
	balanced := r.measure(s)
	patches := newGroups(len(r.flat))
	for h, g := range s.across {
		if g > int32(h) && s.smooth(h) && r.tangent(h/3, int(g)/3) < 0 {
			patches.join(r.flat[h/3], r.flat[g/3])
		}
	}
	size := make([]int32, len(r.flat))
	for i, ok := range balanced {
		if ok {
			size[patches.of(int32(i))]++
		}
	}
	r.curved = make([]bool, len(r.flat))
	for i, f := range r.flat {
		if int(f) == i {
			r.curved[i] = size[patches.of(f)] >= fewestFlats
		}
	}
	return r
}

// face reports whether a face is part of a round.
func (r *rounds) face(f int) bool { return r.curved[r.flat[f]] }

// tangent returns which of two faces lies in a plane that a fillet runs out
// into, or -1.
func (r *rounds) tangent(f, g int) int {
	a, b := r.width[r.flat[f]], r.width[r.flat[g]]
	switch {
	case a > tangentPlane*b:
		return f
	case b > tangentPlane*a:
		return g
	}
	return -1
}

// flats joins the faces that no turn divides.
func (s *surface) flats() []int32 {
	g := newGroups(len(s.mesh.Faces))
	for h, across := range s.across {
		if across > int32(h) && s.turn[h] == 0 {
			g.join(int32(h/3), across/3)
		}
	}
	for i := range g {
		g[i] = g.of(int32(i))
	}
	return g
}

// measure sets the width of every flat, twice its area over the length of its
// smooth sides, which for a strip between two of them is its width; and says
// whether its turning is balanced: whether the sum of turn x length x outward
// direction over its smooth sides nearly vanishes.
func (r *rounds) measure(s *surface) (balanced []bool) {
	type flat struct {
		area, length, total float64
		sum                 r3.Vec
	}
	flats := make([]flat, len(r.flat))
	for f := range s.mesh.Faces {
		to := &flats[r.flat[f]]
		to.area += s.double[f] / 2
		for h := 3 * f; h < 3*f+3; h++ {
			if !s.smooth(h) {
				continue
			}
			e, turn := s.edge(h), float64(s.turn[h])
			l := length(e)
			to.length += l
			to.total += math.Abs(turn) * l
			to.sum = r3.Add(to.sum, r3.Scale(turn, r3.Cross(e, s.normal[f])))
		}
	}
	balanced = make([]bool, len(flats))
	r.width = make([]float64, len(flats))
	for i, f := range flats {
		if f.length > 0 {
			r.width[i] = 2 * f.area / f.length
			balanced[i] = length(f.sum) <= lopsided*f.total
		}
	}
	return balanced
}

// groups are disjoint sets of indices; each is named by its smallest member.
type groups []int32

func newGroups(n int) groups {
	g := make(groups, n)
	for i := range g {
		g[i] = int32(i)
	}
	return g
}

// of returns the name of the group of i.
func (g groups) of(i int32) int32 {
	for g[i] != i {
		g[i] = g[g[i]]
		i = g[i]
	}
	return i
}

func (g groups) join(a, b int32) {
	a, b = g.of(a), g.of(b)
	if a < b {
		g[b] = a
	} else {
		g[a] = b
	}
}
