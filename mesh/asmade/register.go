package asmade

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Wall is the thinnest place between two faces square to the milling direction.
type Wall struct {
	Thickness float64 // mm
	At        r3.Vec  // a point on one of the two faces
}

// Register is what an origin error does to a part milled from both sides: the
// part is turned over about one of its edges, so an error e of the origin stands
// on one side as +e and on the other as -e, and what is milled from the second
// side lands 2 e away from where it belongs (common practice).
type Register struct {
	Offset float64 // 2 e, mm
	Second int     // pockets milled from the second side
	// Between is the thinnest wall between faces milled from different sides as
	// drawn; Left is what the offset leaves of it in the worst direction. Nil
	// when no wall lies between the two.
	Between *Wall
	Left    *float64
}

// Registration returns what an origin error of e mm does to a part whose outline,
// holes and one face are milled from side first, and whose pockets open to the
// other side are milled after the flip; and the part itself with those pockets
// shifted by 2 e towards the thinnest wall.
func Registration(p Part, first r3.Vec, e float64) (Register, Variant, error) {
	if !(e > 0) || math.IsInf(e, 0) {
		return Register{}, Variant{}, fmt.Errorf("origin error of %.4g mm: expected more than 0", e)
	}
	second := Pockets(p, r3.Scale(-1, first))
	r := Register{Offset: 2 * e, Second: len(second)}
	fromSecond := map[int32]bool{}
	for _, pocket := range second {
		for _, f := range pocket.Floor {
			fromSecond[f] = true
		}
		for _, f := range pocket.Walls {
			fromSecond[f] = true
		}
	}
	between, towards := p.thinnest(first, fromSecond)
	r.Between = between
	if len(second) == 0 {
		return r, Variant{}, errors.New("nothing is milled from the second side, so the two sides cannot be out of register")
	}
	shift := r3.Vec{}
	if between != nil {
		left := between.Thickness - r.Offset
		r.Left = &left
		level := r3.Sub(towards, r3.Scale(r3.Dot(towards, first), first)) // a chord of a bore may lean
		shift = r3.Scale(r.Offset, r3.Unit(level))
	} else {
		shift = r3.Scale(r.Offset, p.across(first))
	}
	name := fmt.Sprintf("sides out of register by %.3g mm (origin error %.3g mm, doubled by the flip)", r.Offset, e)
	if r.Left != nil && *r.Left <= 0 {
		return r, Variant{}, fmt.Errorf("an origin error of %.3g mm breaks through the wall of %.3g mm at (%.4g, %.4g, %.4g)",
			e, between.Thickness, between.At.X, between.At.Y, between.At.Z)
	}
	m := &mesh.Mesh{Vertices: slices.Clone(p.Mesh.Vertices), Faces: p.Mesh.Faces}
	moved := make([]bool, len(m.Vertices))
	for f := range fromSecond {
		for _, v := range p.Mesh.Faces[f] {
			if !moved[v] {
				moved[v] = true
				m.Vertices[v] = r3.Add(m.Vertices[v], shift)
			}
		}
	}
	m, lost, err := p.settled(m)
	if err != nil {
		return r, Variant{}, fmt.Errorf("sides out of register by %.3g mm: %w", r.Offset, err)
	}
	return r, p.variant(name, m, lost), nil
}

// across returns the direction of the part's square axes most nearly square to d.
func (p Part) across(d r3.Vec) r3.Vec {
	best := p.Square[0]
	for _, a := range p.Square {
		if math.Abs(r3.Dot(a, d)) < math.Abs(r3.Dot(best, d)) {
			best = a
		}
	}
	return best
}

// thinnest casts rays from the middles of upright faces into the material, to the
// first upright face beyond. It returns the thinnest wall between the sides, and
// the direction from its face of the second side to the other one.
func (p Part) thinnest(axis r3.Vec, second map[int32]bool) (between *Wall, towards r3.Vec) {
	var upright []int32
	for f := range p.Mesh.Faces {
		if p.area(int32(f)) > 0 && p.upright(int32(f), axis) {
			upright = append(upright, int32(f))
		}
	}
	skin := p.Features.Skin
	for _, f := range p.samples(upright) {
		a, b, c := p.Mesh.Triangle(int(f))
		from := r3.Scale(1./3, r3.Add(a, r3.Add(b, c)))
		into := r3.Scale(-1, skin.Patches[skin.Patch[f]].Normal)
		far, g := p.firstHit(from, into, upright, f)
		if g < 0 || second[f] == second[g] || between != nil && far >= between.Thickness {
			continue
		}
		between, towards = &Wall{Thickness: far, At: from}, into
		if !second[f] {
			towards = r3.Scale(-1, into)
		}
	}
	return between, towards
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
