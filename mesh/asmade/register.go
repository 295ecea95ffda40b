package asmade

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Wall is the thinnest place between two faces along the milling direction.
type Wall struct {
	Thickness float64 // mm
	At        r3.Vec  // a point on one of the two faces
}

// Register is what an origin error does to a part milled from both sides: the
// part is turned over about one of its edges, so an error e of the origin stands
// on one side as +e and on the other as -e, and what is milled from the second
// side lands 2 e away from where it belongs (common practice).
type Register struct {
	Offset  float64 // 2 e, mm
	Way     r3.Vec  // unit: the sense of an axis of the part in which more is lost
	Pockets int     // milled from the second side, steps at the edge included
	Holes   int     // blind holes and counterbores made from the second side
	// Between is the wall between faces milled from different sides of which the
	// offset leaves least, as drawn, and Left is that rest. Nil when no wall lies
	// between the two.
	Between *Wall
	Left    *float64
	// Variant is the part with its second side shifted; Err says why it could not
	// be made.
	Variant Variant
	Err     error
}

// Registration returns what an origin error of e mm along each of the two axes of
// the table does to a part whose outline, windows, through holes and one face are
// milled from side first, and whose pockets, blind holes and counterbores that
// open to the other side are made after the flip.
func Registration(p Part, first r3.Vec, e float64) ([]Register, error) {
	if !(e > 0) || math.IsInf(e, 0) {
		return nil, fmt.Errorf("origin error of %.4g mm: expected more than 0", e)
	}
	s := p.secondSide(first)
	if s.pockets+s.holes == 0 {
		return nil, Absent("nothing is milled from the second side, so the two sides cannot be out of register")
	}
	gaps := s.gaps()
	var out []Register
	for _, axis := range p.Square {
		if math.Abs(r3.Dot(axis, first)) > mostly {
			continue
		}
		r := Register{Offset: 2 * e, Pockets: s.pockets, Holes: s.holes}
		for _, way := range [2]r3.Vec{axis, r3.Scale(-1, axis)} {
			wall, left := thinned(gaps, r3.Scale(2*e, way))
			if r.Way == (r3.Vec{}) || wall != nil && left < *r.Left {
				r.Way = way
				if wall != nil {
					r.Between, r.Left = wall, &left
				}
			}
		}
		r.Variant, r.Err = s.shifted(r)
		out = append(out, r)
	}
	return out, nil
}

// second is a part with what is made from its second side.
type second struct {
	*lay
	made           map[int32]bool // faces
	pockets, holes int
	nearWall       map[int32]int32
}

// secondSide finds what opens to the other side than first.
func (p Part) secondSide(first r3.Vec) second {
	back := r3.Scale(-1, first)
	s := second{lay: p.lie(first), made: map[int32]bool{}}
	holes := p.holesUpTo(math.Inf(1))
	for _, pocket := range s.lay.pockets(back, 0) {
		round := true
		for _, f := range pocket.Walls {
			s.made[f] = true
			round = round && holes[f]
		}
		if round {
			s.holes++
		} else {
			s.pockets++
		}
	}
	for _, h := range p.Features.Holes {
		if h.Open || r3.Dot(h.Axis, back) < levelCosine || s.made[h.Faces[0]] {
			continue
		}
		s.holes++
		s.drill(h.Faces)
	}
	s.nearWall = s.nearest(wall)
	return s
}

// drill takes the wall of a hole and the point of the drill.
func (s second) drill(faces []int32) {
	queue := append([]int32{}, faces...)
	for _, f := range faces {
		s.made[f] = true
	}
	for len(queue) > 0 {
		f := queue[0]
		queue = queue[1:]
		for _, g := range s.part.Features.Skin.Neighbour[f] {
			if g >= 0 && !s.made[g] && s.role[g] == fixed {
				s.made[g] = true
				queue = append(queue, g)
			}
		}
	}
}

// moves reports whether a face that is not level was made from the second side.
func (s second) moves(f int32) bool {
	if s.role[f] == breaks || s.role[f] == foot {
		g, ok := s.nearWall[f]
		return ok && s.made[g]
	}
	return s.made[f]
}

// shifted makes the variant: faces of the second side move by the offset, level
// faces stay in their planes. A corner between moving faces alone moves as it is.
func (s second) shifted(r Register) (Variant, error) {
	name := fmt.Sprintf("sides out of register by %.3g mm along %s", r.Offset, sideName(r.Way))
	if r.Left != nil && *r.Left <= 0 {
		return Variant{Name: name}, fmt.Errorf("an origin error of %.3g mm breaks through the wall of %.3g mm at (%.4g, %.4g, %.4g)",
			r.Offset/2, r.Between.Thickness, r.Between.At.X, r.Between.At.Y, r.Between.At.Z)
	}
	shift := r3.Scale(r.Offset, r.Way)
	rigid, held := map[int32]r3.Vec{}, map[int32]bool{}
	for f, corners := range s.part.Mesh.Faces {
		if s.role[f] == level || s.role[f] == unsized {
			continue
		}
		for _, v := range corners {
			if s.moves(int32(f)) {
				rigid[v] = shift
			} else {
				held[v] = true
			}
		}
	}
	for v := range held {
		delete(rigid, v)
	}
	m, misfit, err := s.part.offset(func(list []demand, f, v int32) []demand {
		n := s.outward(f, v)
		if s.role[f] == breaks || s.role[f] == foot {
			n = s.joins(s.nearWall, f, v)
			list = append(list, demand{s.axis, 0})
		}
		switch {
		case s.role[f] == unsized:
			return list
		case s.role[f] != level && s.moves(f):
			return append(list, demand{n, r3.Dot(n, shift)})
		}
		return append(list, demand{n, 0})
	}, rigid)
	if err != nil {
		return Variant{Name: name}, fmt.Errorf("sides out of register by %.3g mm: %w", r.Offset, err)
	}
	return s.part.variant(name, m, misfit), nil
}

// gap is a wall between two faces of which one was made from the second side:
// near says that the ray began there.
type gap struct {
	Wall
	into r3.Vec // unit, along the ray
	near bool
}

// gaps casts rays from the middles of upright faces into the material, to the
// first upright face beyond.
func (s second) gaps() []gap {
	var upright []int32
	for f := range s.role {
		if s.role[f] == wall && s.run[f] < 0 && s.part.area(int32(f)) > 0 {
			upright = append(upright, int32(f))
		}
	}
	var out []gap
	for _, f := range s.part.samples(upright) {
		from, into := s.part.centre(f), r3.Scale(-1, s.shape[f])
		into = r3.Unit(r3.Sub(into, r3.Scale(r3.Dot(into, s.axis), s.axis))) // a chord of a bore may lean
		far, g := s.part.firstHit(from, into, upright, f)
		if g >= 0 && s.made[f] != s.made[g] {
			out = append(out, gap{Wall{far, from}, into, s.made[f]})
		}
	}
	return out
}

// thinned returns the wall of which a shift of the second side leaves least, as
// drawn, and what it leaves; nil where there is none.
func thinned(gaps []gap, shift r3.Vec) (thinnest *Wall, left float64) {
	for i, g := range gaps {
		by := r3.Dot(shift, g.into)
		if g.near {
			by = -by
		}
		if thinnest == nil || g.Thickness+by < left {
			thinnest, left = &gaps[i].Wall, g.Thickness+by
		}
	}
	return thinnest, left
}

// samples picks some twelve faces spread over each patch, and no more than some
// thousands in all.
func (p Part) samples(faces []int32) []int32 {
	const perPatch, inAll = 12, 4000
	patch := p.Features.Skin.Patch
	sizes, met := map[int32]int{}, map[int32]int{}
	for _, f := range faces {
		sizes[patch[f]]++
	}
	var out []int32
	for _, f := range faces {
		met[patch[f]]++
		if every := (sizes[patch[f]] + perPatch - 1) / perPatch; met[patch[f]]%every == 0 {
			out = append(out, f)
		}
	}
	if every := (len(out) + inAll - 1) / inAll; every > 1 {
		few := out[:0]
		for k := 0; k < len(out); k += every {
			few = append(few, out[k])
		}
		out = few
	}
	return out
}

// firstHit returns the distance to the first of the faces that a ray meets from
// inside, and that face; -1 when it meets none.
func (p Part) firstHit(from, into r3.Vec, faces []int32, not int32) (far float64, hit int32) {
	far, hit = math.Inf(1), -1
	for _, g := range faces {
		if g == not {
			continue
		}
		n := p.Features.Skin.Patches[p.Features.Skin.Patch[g]].Normal
		slope := r3.Dot(n, into)
		if slope < 0.5 { // meets it from outside, or too slantingly to be a wall
			continue
		}
		a, b, c := p.Mesh.Triangle(int(g))
		t := r3.Dot(n, r3.Sub(a, from)) / slope
		if t < 1e-6 || t >= far || !within(r3.Add(from, r3.Scale(t, into)), a, b, c, n) {
			continue
		}
		far, hit = t, g
	}
	return far, hit
}

// within reports whether a point of a triangle's plane lies in the triangle.
func within(q, a, b, c, n r3.Vec) bool {
	const slack = -1e-9
	for _, e := range [3][2]r3.Vec{{a, b}, {b, c}, {c, a}} {
		if r3.Dot(n, r3.Cross(r3.Sub(e[1], e[0]), r3.Sub(q, e[0]))) < slack {
			return false
		}
	}
	return true
}
