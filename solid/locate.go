package solid

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
)

// part is a mesh with what places need to know of it.
type part struct {
	m     *mesh.Mesh
	box   mesh.Box
	tol   float64
	found *feature.Features
	known map[Place]spot // places found before; nil where they are not kept
}

func (p *part) holes() []feature.Hole { return p.features().Holes }

func (p *part) features() *feature.Features {
	if p.found == nil {
		f := feature.Find(p.m)
		p.found = &f
	}
	return p.found
}

// flatAt reports whether a flat face of the part lies across an axis at a
// coordinate: not the chord of a round end that happens to stand so.
func (p *part) flatAt(a mesh.Axis, at float64) bool {
	for _, f := range p.features().Faces {
		if math.Abs(a.Of(f.Box.Min)-at) <= p.tol && math.Abs(a.Of(f.Box.Max)-at) <= p.tol {
			return true
		}
	}
	return false
}

// spot is a place found on a part, in model axes.
type spot struct {
	faces   [][3]r3.Vec
	whole   bool
	box     *mesh.Box
	point   *r3.Vec
	warning string
}

// locate finds a place on the part.
func (p *part) locate(pl Place) (spot, error) {
	if s, ok := p.known[pl]; ok {
		return s, nil
	}
	s, err := p.search(pl)
	if err == nil && p.known != nil {
		p.known[pl] = s
	}
	return s, err
}

// search finds a place that was not asked for before.
func (p *part) search(pl Place) (spot, error) {
	switch pl.kind {
	case endFace:
		return p.end(pl), nil
	case endPoint:
		return p.middleOfEnd(pl), nil
	case insideBox:
		b := pl.box
		return spot{box: &b}, nil
	case section:
		b := p.box
		half := 0.01 * pl.axis.Of(p.box.Size())
		at := pl.axis.Of(pl.point)
		if at < pl.axis.Of(b.Min) || at > pl.axis.Of(b.Max) {
			return spot{}, fmt.Errorf("solid: %s lies outside the part, which reaches from %g to %g mm along %s",
				pl, pl.axis.Of(b.Min), pl.axis.Of(b.Max), pl.axis)
		}
		b.Min = setAxis(b.Min, pl.axis, max(at-half, pl.axis.Of(b.Min)))
		b.Max = setAxis(b.Max, pl.axis, min(at+half, pl.axis.Of(b.Max)))
		return spot{box: &b}, nil
	case flatFace:
		return p.faceAt(pl)
	case rim:
		rims := p.features().Rims()
		if pl.hole > len(rims) {
			return spot{}, fmt.Errorf("solid: %s: the part has %d outer round walls that go fully round; name a face instead", pl, len(rims))
		}
		return p.wall(rims[pl.hole-1].Faces), nil
	}
	holes := p.holes()
	if pl.hole < 1 || pl.hole > len(holes) {
		return spot{}, fmt.Errorf("solid: %s: the part has %d holes; `fit` lists them", pl, len(holes))
	}
	h := holes[pl.hole-1]
	doubt := feature.NumberingDoubt(holes)
	if pl.kind == bore {
		s := p.wall(h.Faces)
		s.warning = doubt
		return s, nil
	}
	s, err := p.washers(pl, h)
	s.warning = doubt
	return s, err
}

// wall collects faces of the mesh.
func (p *part) wall(faces []int32) (s spot) {
	for _, f := range faces {
		a, b, c := p.m.Triangle(int(f))
		s.faces = append(s.faces, [3]r3.Vec{a, b, c})
	}
	return s
}

func setAxis(v r3.Vec, a mesh.Axis, x float64) r3.Vec {
	switch a {
	case mesh.X:
		v.X = x
	case mesh.Y:
		v.Y = x
	default:
		v.Z = x
	}
	return v
}

// end collects the flat faces at an end. An end without a flat face of a
// two-hundredth of the box's cross-section is taken as its last twentieth.
func (p *part) end(pl Place) spot {
	at, sign := pl.axis.Of(p.box.Min), -1.0
	if pl.high {
		at, sign = pl.axis.Of(p.box.Max), 1
	}
	var s spot
	area := 0.0
	for f := range p.m.Faces {
		a, b, c := p.m.Triangle(f)
		off := max(math.Abs(pl.axis.Of(a)-at), math.Abs(pl.axis.Of(b)-at), math.Abs(pl.axis.Of(c)-at))
		n := sign * pl.axis.Of(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
		if off <= p.tol && n > 0 {
			s.faces = append(s.faces, [3]r3.Vec{a, b, c})
			area += n
		}
	}
	s.whole = true
	size := p.box.Size()
	if area >= size.X*size.Y*size.Z/pl.axis.Of(size)/200 && p.flatAt(pl.axis, at) {
		return s
	}
	b := p.box
	reach := pl.axis.Of(size) / 20
	if pl.high {
		b.Min = setAxis(b.Min, pl.axis, at-reach)
	} else {
		b.Max = setAxis(b.Max, pl.axis, at+reach)
	}
	return spot{box: &b, warning: fmt.Sprintf(
		"the part has no flat face at %s along %s; the last %.3g mm of material stand in for one", pl, pl.axis, reach)}
}

// turning is the place of a support that lets an end turn: of a stretch that
// stands in for a flat face the section in its middle, since a stretch held
// across the span all along cannot turn.
func (s spot) turning(a mesh.Axis) spot {
	if s.box == nil {
		return s
	}
	b := *s.box
	at := a.Of(b.Center())
	b.Min, b.Max = setAxis(b.Min, a, at), setAxis(b.Max, a, at)
	s.box = &b
	s.warning += ", held in its middle so that it may turn"
	return s
}

// middleOfEnd is the centroid of the low end.
func (p *part) middleOfEnd(pl Place) spot {
	s := p.end(Place{axis: pl.axis})
	if s.box != nil {
		c := s.box.Center()
		return spot{point: &c}
	}
	var sum r3.Vec
	total := 0.0
	for _, f := range s.faces {
		area := r3.Norm(r3.Cross(r3.Sub(f[1], f[0]), r3.Sub(f[2], f[0])))
		sum = r3.Add(sum, r3.Scale(area/3, r3.Add(f[0], r3.Add(f[1], f[2]))))
		total += area
	}
	c := r3.Scale(1/total, sum)
	return spot{point: &c}
}

// faceAt collects the flat face around the face nearest to a point.
func (p *part) faceAt(pl Place) (spot, error) {
	best, near := -1, math.Inf(1)
	look := pl.normal
	if r3.Norm(look) > 0 {
		look = r3.Unit(look)
	}
	for f := range p.m.Faces {
		a, b, c := p.m.Triangle(f)
		n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
		l := r3.Norm(n)
		if l == 0 || (look != r3.Vec{} && r3.Dot(n, look) < 0.996*l) { // within 5 degrees
			continue
		}
		if d := distance(pl.point, a, b, c); d < near {
			best, near = f, d
		}
	}
	if best < 0 {
		return spot{}, fmt.Errorf("solid: %s: no face looks that way", pl)
	}
	if size := r3.Norm(p.box.Size()); near > 0.01*size {
		return spot{}, fmt.Errorf("solid: %s: the nearest such face is %.3g mm away; check the point", pl, near)
	}
	a, b, c := p.m.Triangle(best)
	n := r3.Unit(r3.Cross(r3.Sub(b, a), r3.Sub(c, a)))
	return spot{faces: p.flatAround(a, n), whole: true}, nil
}

// flatAround returns the faces in the plane through a point with a normal.
func (p *part) flatAround(a, n r3.Vec) [][3]r3.Vec {
	var out [][3]r3.Vec
	for f := range p.m.Faces {
		u, v, w := p.m.Triangle(f)
		if math.Abs(r3.Dot(n, r3.Sub(u, a))) > p.tol || math.Abs(r3.Dot(n, r3.Sub(v, a))) > p.tol ||
			math.Abs(r3.Dot(n, r3.Sub(w, a))) > p.tol || r3.Dot(n, r3.Cross(r3.Sub(v, u), r3.Sub(w, u))) <= 0 {
			continue
		}
		out = append(out, [3]r3.Vec{u, v, w})
	}
	return out
}

// washerRatio is the outer diameter of a plain washer over the diameter of its
// clearance hole: 10/5.5, 12/6.6, 16/9 for M5, M6, M8 (ISO 7089 and ISO 273,
// from memory).
const washerRatio = 1.8

// washers collects the rings under the washers at both mouths of a hole.
func (p *part) washers(pl Place, h feature.Hole) (spot, error) {
	outer := pl.width
	if outer == 0 {
		outer = washerRatio * h.Diameter
	}
	var s spot
	for side, n := range []r3.Vec{h.Axis, r3.Scale(-1, h.Axis)} {
		mouth := h.Mouth()
		if side == 1 {
			mouth = h.Bottom()
		}
		for _, f := range p.flatAround(mouth, n) {
			s.faces = append(s.faces, insideDisc(f, mouth, n, outer/2)...)
		}
	}
	if len(s.faces) == 0 {
		return s, fmt.Errorf("solid: %s: no flat face around the mouth takes a washer of %.3g mm; try bore:%d", pl, outer, pl.hole)
	}
	return s, nil
}

// insideDisc cuts a triangle to a regular polygon of 48 sides with the area of
// a disc, and returns the pieces as triangles.
func insideDisc(f [3]r3.Vec, centre, n r3.Vec, radius float64) [][3]r3.Vec {
	const sides = 48
	u := r3.Unit(r3.Sub(f[1], f[0]))
	v := r3.Cross(n, u)
	half := math.Pi / sides
	apothem := radius * math.Sqrt(half/math.Tan(half)) // equal area
	poly := []r3.Vec{f[0], f[1], f[2]}
	for k := range sides {
		t := 2 * math.Pi * float64(k) / sides
		d := r3.Add(r3.Scale(math.Cos(t), u), r3.Scale(math.Sin(t), v))
		var kept []r3.Vec
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			da := apothem - r3.Dot(d, r3.Sub(a, centre))
			db := apothem - r3.Dot(d, r3.Sub(b, centre))
			if da >= 0 {
				kept = append(kept, a)
			}
			if (da > 0 && db < 0) || (da < 0 && db > 0) {
				kept = append(kept, r3.Add(a, r3.Scale(da/(da-db), r3.Sub(b, a))))
			}
		}
		if poly = kept; len(poly) < 3 {
			return nil
		}
	}
	var out [][3]r3.Vec
	for i := 2; i < len(poly); i++ {
		out = append(out, [3]r3.Vec{poly[0], poly[i-1], poly[i]})
	}
	return out
}

// distance returns the distance of a point from a triangle (Ericson, Real-Time
// Collision Detection, 5.1.5).
func distance(p, a, b, c r3.Vec) float64 { return r3.Norm(r3.Sub(p, closest(p, a, b, c))) }

// closest is the point of a triangle closest to a point.
func closest(p, a, b, c r3.Vec) r3.Vec {
	ab, ac, ap := r3.Sub(b, a), r3.Sub(c, a), r3.Sub(p, a)
	n := r3.Cross(ab, ac)
	if n2 := r3.Norm2(n); n2 > 0 {
		v := r3.Dot(r3.Cross(ap, ac), n) / n2
		w := r3.Dot(r3.Cross(ab, ap), n) / n2
		if v >= 0 && w >= 0 && v+w <= 1 {
			return r3.Sub(p, r3.Scale(r3.Dot(ap, n)/n2, n))
		}
	}
	var out r3.Vec
	least := math.Inf(1)
	for _, e := range [3][2]r3.Vec{{a, b}, {b, c}, {c, a}} {
		d := r3.Sub(e[1], e[0])
		t := r3.Dot(r3.Sub(p, e[0]), d) / max(r3.Norm2(d), 1e-300)
		q := r3.Add(e[0], r3.Scale(min(max(t, 0), 1), d))
		if off := r3.Norm(r3.Sub(p, q)); off < least {
			least, out = off, q
		}
	}
	return out
}
