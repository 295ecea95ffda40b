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
// crease does not. A triangle of a low wall drawn with a row of corners at half
// height turns both ways along the wall but not up it; it counts as a third of a
// flat. Flats that touch over a smooth side make up a patch, save that
// a flat much wider than its neighbour is the plane a fillet runs out into. A
// patch with curved flats that count for fewestFlats is a round.
type rounds struct {
	flat   []int32   // for every face, the flat it belongs to, named by its first face
	width  []float64 // for every flat, mm
	curved []bool    // for every flat, whether it is part of a round
	patch  []int32   // for every flat, the patch it belongs to, named by its first face
}

func newRounds(s *surface) *rounds {
	r := &rounds{flat: s.flats()}
	thirds := r.measure(s)
	patches := newGroups(len(r.flat))
	for h, g := range s.across {
		if g > int32(h) && s.smooth(h) && r.tangent(h/3, int(g)/3) < 0 {
			patches.join(r.flat[h/3], r.flat[g/3])
		}
	}
	size := make([]int32, len(r.flat))
	for i, n := range thirds {
		size[patches.of(int32(i))] += n
	}
	r.curved, r.patch = make([]bool, len(r.flat)), make([]int32, len(r.flat))
	for i, f := range r.flat {
		if int(f) == i {
			r.patch[i] = patches.of(f)
			r.curved[i] = size[r.patch[i]] >= 3*fewestFlats
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

// turning is what the smooth sides of a flat do.
type turning struct {
	area   float64 // of the flat, mm2
	length float64 // of its smooth sides, mm
	total  float64 // of |turn| x length, rad mm
	sum    r3.Vec  // of turn x length x outward direction, rad mm
	spread tensor  // of |turn| x length x outward direction squared, rad mm
	normal r3.Vec
}

// measure sets the width of every flat, twice its area over the length of its
// smooth sides, which for a strip between two of them is its width; and returns
// how many thirds of a curved flat it counts for.
func (r *rounds) measure(s *surface) (thirds []int32) {
	flats := make([]turning, len(r.flat))
	for f := range s.mesh.Faces {
		to := &flats[r.flat[f]]
		to.area += s.double[f] / 2
		to.normal = s.normal[f]
		for h := 3 * f; h < 3*f+3; h++ {
			if !s.smooth(h) {
				continue
			}
			e, turn := s.edge(h), float64(s.turn[h])
			l, out := length(e), r3.Cross(e, s.normal[f])
			to.length += l
			to.total += math.Abs(turn) * l
			to.sum = r3.Add(to.sum, r3.Scale(turn, out))
			to.spread.add(math.Abs(turn)/l, out)
		}
	}
	thirds = make([]int32, len(flats))
	r.width = make([]float64, len(flats))
	for i, f := range flats {
		if f.length > 0 {
			r.width[i] = 2 * f.area / f.length
			thirds[i] = f.thirds()
		}
	}
	return thirds
}

// thirds is 3 where the turning of a flat nearly cancels, 1 where it cancels at
// least along the flat, across the direction in which the rest turns, and 0
// beside a lone crease.
func (f *turning) thirds() int32 {
	if length(f.sum) <= lopsided*f.total {
		return 3
	}
	along := r3.Cross(f.sum, f.normal)
	if f.spread.along(along) >= sideways*f.total*r3.Dot(along, along) {
		return 1
	}
	return 0
}

// tensor is a sum of w v v', its upper half by rows.
type tensor [6]float64

func (t *tensor) add(w float64, v r3.Vec) {
	t[0] += w * v.X * v.X
	t[1] += w * v.X * v.Y
	t[2] += w * v.X * v.Z
	t[3] += w * v.Y * v.Y
	t[4] += w * v.Y * v.Z
	t[5] += w * v.Z * v.Z
}

// along returns d' t d.
func (t *tensor) along(d r3.Vec) float64 {
	return t[0]*d.X*d.X + t[3]*d.Y*d.Y + t[5]*d.Z*d.Z + 2*(t[1]*d.X*d.Y+t[2]*d.X*d.Z+t[4]*d.Y*d.Z)
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
