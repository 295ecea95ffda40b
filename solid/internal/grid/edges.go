package grid

import (
	"cmp"
	"math"
	"slices"

	"swapworth/internal/vector"
)

// sharpInner is the turn in degrees above which an inner edge is a corner, not
// a chord of a round.
const sharpInner = 25

// InnerCorners returns the edges at which the surface turns inwards sharply.
func InnerCorners(s *Surface) (out [][2][3]float64) {
	limit := math.Cos(sharpInner * math.Pi / 180)
	s.eachEdge(func(e surfaceEdge) {
		if e.cos <= limit && e.above > s.Tol {
			out = append(out, e.ends)
		}
	})
	return out
}

// SmoothEdge is an edge at which the surface turns inwards a little, as at a chord of a
// drawn round, and how far the nearer of its two faces reaches from it.
type SmoothEdge struct {
	Ends   [2][3]float64
	Height float64
}

// flatTurn is the turn in degrees below which two faces count as one plane.
const flatTurn = 0.5

// SmoothEdges returns the edges between the chords of holes and fillets, at which the
// surface turns inwards.
func SmoothEdges(s *Surface) (out []SmoothEdge) {
	sharp, flat := math.Cos(sharpInner*math.Pi/180), math.Cos(flatTurn*math.Pi/180)
	s.eachEdge(func(e surfaceEdge) {
		if e.cos > sharp && e.cos < flat && e.above > 0 {
			out = append(out, SmoothEdge{e.ends, e.height})
		}
	})
	return out
}

// surfaceEdge is an edge of two faces: the cosine of the turn there, how far the one
// face rises above the other (below zero where the edge is an outer one), and how far
// the nearer of the faces reaches from it, mm.
type surfaceEdge struct {
	ends               [2][3]float64
	cos, above, height float64
}

// eachEdge visits the edges at which two faces meet.
func (s *Surface) eachEdge(visit func(e surfaceEdge)) {
	type half struct {
		lo, hi int32
		face   int32
	}
	var halves []half
	for f, t := range s.Faces {
		for e := range 3 {
			a, b := t[e], t[(e+1)%3]
			halves = append(halves, half{min(a, b), max(a, b), int32(f)})
		}
	}
	slices.SortFunc(halves, func(p, q half) int {
		return cmp.Or(cmp.Compare(p.lo, q.lo), cmp.Compare(p.hi, q.hi), cmp.Compare(p.face, q.face))
	})
	corner := func(f int32) [3][3]float64 {
		t := s.Faces[f]
		return [3][3]float64{s.Points[t[0]], s.Points[t[1]], s.Points[t[2]]}
	}
	for i := 1; i < len(halves); i++ {
		p, q := halves[i-1], halves[i]
		if p.lo != q.lo || p.hi != q.hi {
			continue
		}
		fp, fq := corner(p.face), corner(q.face)
		np, nq := NormalOf(fp), NormalOf(fq)
		// inward where the far corner of one face lies above the other
		above := 0.0
		for _, v := range fq {
			d := 0.0
			for a := range 3 {
				d += np[a] * (v[a] - s.Points[p.lo][a])
			}
			if math.Abs(d) > math.Abs(above) {
				above = d
			}
		}
		e := surfaceEdge{ends: [2][3]float64{s.Points[p.lo], s.Points[p.hi]}, above: above}
		e.cos = np[0]*nq[0] + np[1]*nq[1] + np[2]*nq[2]
		if length := vector.Norm([3]float64{e.ends[1][0] - e.ends[0][0], e.ends[1][1] - e.ends[0][1], e.ends[1][2] - e.ends[0][2]}); length > 0 {
			e.height = 2 * min(AreaOf(fp), AreaOf(fq)) / length
		}
		visit(e)
	}
}
