package mass

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/disjoint"
	"swapworth/internal/parallel"
	"swapworth/internal/vector"
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

const (
	// fewestFlats is how many flats that turn on both sides a patch needs before
	// it counts as a round and not as a bevel.
	fewestFlats = 3

	// lopsided is the share of a flat's turning that may lack a counterpart on its
	// other side. The first chord of a fillet has 1/3, a lone crease has 1.
	lopsided = 0.6

	// sideways is the share of a lopsided flat's turning that its two sides along
	// the wall have at least: a chord as wide as the wall is high has 1/2, bevels
	// that meet in mitres 0.15 and less. TestMitredBevelsAreNoRound.
	sideways = 0.2

	// tangentPlane is how many times wider than a chord a flat beside it must be
	// to be the plane that a fillet runs out into.
	tangentPlane = 4
)

func newRounds(s *surface) *rounds {
	r := &rounds{flat: s.flats()}
	thirds := r.measure(s)
	patches := disjoint.New(len(r.flat))
	patches.JoinAll(func(from, to int, join func(a, b int32)) {
		for h := 3 * from; h < 3*to; h++ {
			if g := s.across[h]; g >= 0 && g < int32(h) && s.smooth(h) && r.tangent(h/3, int(g)/3) < 0 {
				join(r.flat[h/3], r.flat[g/3])
			}
		}
	})
	r.patch = patches.Names()
	size := make([]int32, len(r.flat))
	for i, n := range thirds {
		if n > 0 {
			size[r.patch[i]] += int32(n)
		}
	}
	r.curved = make([]bool, len(r.flat))
	parallel.Chunks(len(r.flat), chunkSize, func(_, from, to int) {
		for i := from; i < to; i++ {
			r.curved[i] = size[r.patch[i]] >= 3*fewestFlats
		}
	})
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
	g := disjoint.New(len(s.mesh.Faces))
	g.JoinAll(func(from, to int, join func(a, b int32)) {
		for h := 3 * from; h < 3*to; h++ {
			if across := s.across[h]; across >= 0 && across < int32(h) && s.turn[h] == 0 {
				join(int32(h/3), across/3)
			}
		}
	})
	return g.Names()
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
//
// Each core adds up the flats that begin in its run of faces. Those that go on in
// another run are added up after that, so that no two cores write to one.
func (r *rounds) measure(s *surface) (thirds []int8) {
	thirds = make([]int8, len(r.flat))
	r.width = make([]float64, len(r.flat))
	settle := func(i int32, t *turning) {
		if t.length > 0 {
			r.width[i], thirds[i] = 2*t.area/t.length, t.thirds()
		}
	}
	chunks := (len(r.flat) + chunkSize - 1) / chunkSize
	rest := make([][]int32, chunks) // faces of flats that begin in an earlier run
	parallel.Chunks(len(r.flat), chunkSize, func(chunk, from, to int) {
		for f := from; f < to; f++ {
			if r.flat[f] < int32(from) {
				rest[chunk] = append(rest[chunk], int32(f))
			}
		}
	})
	long := map[int32]*turning{}
	for _, faces := range rest {
		for _, f := range faces {
			long[r.flat[f]] = &turning{}
		}
	}
	parallel.Chunks(len(r.flat), chunkSize, func(_, from, to int) {
		flats := make([]turning, to-from)
		for f := from; f < to; f++ {
			if i := int(r.flat[f]); i >= from {
				flats[i-from].add(s, f)
			}
		}
		for i := range flats {
			flat := int32(from + i)
			if t, ok := long[flat]; ok {
				*t = flats[i] // nobody else's: flat begins here
			} else if r.flat[flat] == flat {
				settle(flat, &flats[i])
			}
		}
	})
	for _, faces := range rest {
		for _, f := range faces {
			long[r.flat[f]].add(s, int(f))
		}
	}
	for i, t := range long {
		settle(i, t)
	}
	return thirds
}

// add takes in a face.
func (t *turning) add(s *surface, f int) {
	t.area += s.double[f] / 2
	t.normal = s.normal[f]
	for h := 3 * f; h < 3*f+3; h++ {
		if !s.smooth(h) {
			continue
		}
		e, turn := s.edge(h), float64(s.turn[h])
		l, out := vector.Length(e), r3.Cross(e, s.normal[f])
		t.length += l
		t.total += math.Abs(turn) * l
		t.sum = r3.Add(t.sum, r3.Scale(turn, out))
		t.spread.add(math.Abs(turn)/l, out)
	}
}

// thirds is 3 where the turning of a flat nearly cancels, 1 where it cancels at
// least along the flat, across the direction in which the rest turns, and 0
// beside a lone crease.
func (f *turning) thirds() int8 {
	if vector.Length(f.sum) <= lopsided*f.total {
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
