package fit

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
)

// Places of the stock part are found on the redesign with Hole, Face and
// Round. Everything they take is in the stock part's file; everything they
// return, the number from Hole apart, is in the common frame, which is that of the
// stock part: the redesign as Motion lays it. A place without a match, or a
// redesign whose place is unknown (mirrored, or laid on by a guess), is an error
// that names the place.

// Motion takes points of the redesign's file into the stock part's frame.
func (r Result) Motion() mesh.Transform { return r.Frame.Transform() }

// Hole returns the number that the stock part's hole has in the redesign's own
// file. A redesign that was moved is numbered anew, as numbers follow coordinates.
func (r Result) Hole(old int) (new int, ok bool) {
	if r.lost() != nil {
		return 0, false
	}
	for _, p := range r.Pairs {
		if p.Old == old {
			return p.New, true
		}
	}
	return 0, false
}

// Face finds the flat face of the redesign that takes the place of the stock
// part's flat face nearest to a point; with a normal other than zero, of those
// that look that way within 5 degrees. It is the one whose level differs least, so
// that a point over a new pocket names the face around it and not the floor; of
// several at one level the nearest. It returns the point of the redesign's face
// nearest to the one given, and the face's normal.
func (r Result) Face(point, normal r3.Vec) (at, look r3.Vec, err error) {
	name := "face at " + place(point)
	if err := r.lost(); err != nil {
		return at, look, fmt.Errorf("%s: %w", name, err)
	}
	mine, _, ok := nearestFace(r.old.Mesh, r.old.Features.Faces, point, normal)
	if !ok {
		return at, look, fmt.Errorf("%s: no flat face of the stock part looks that way", name)
	}
	back := r.Motion().Inverse()
	level := r.faceAtLevel(mine)
	_, at, ok = nearestFace(r.new.Mesh, level, back.Apply(point), back.Turn(mine.Normal))
	at = r.Motion().Apply(at)
	if !ok {
		return at, look, fmt.Errorf("%s has no match: no face of the redesign within %s mm looks that way", name, number(reach))
	}
	return at, mine.Normal, nil
}

// Round finds the round wall of the redesign that takes the place of one of the
// stock part's: about the same axis, on the same side of the material, and of a
// radius that is not half as large again.
func (r Result) Round(old feature.Round) (feature.Round, error) {
	name := fmt.Sprintf("the round wall of %s mm diameter at %s", number(2*old.Radius), place(old.Centre))
	if err := r.lost(); err != nil {
		return feature.Round{}, fmt.Errorf("%s: %w", name, err)
	}
	var best feature.Round
	least := math.Inf(1)
	for _, n := range movedRounds(r.new.Features.Rounds, r.Motion()) {
		if n.Concave != old.Concave || math.Abs(r3.Dot(n.Axis, old.Axis)) < sameWay || math.Abs(n.Radius-old.Radius) > old.Radius/2 {
			continue
		}
		d := r3.Sub(n.Centre, old.Centre)
		along := r3.Dot(d, old.Axis)
		aside := r3.Norm(r3.Sub(d, r3.Scale(along, old.Axis)))
		if aside > reach || math.Abs(along) > (old.To-old.From+n.To-n.From)/2+reach {
			continue
		}
		if far := aside + math.Abs(n.Radius-old.Radius) + alongWeight*math.Abs(along); far < least {
			best, least = n, far
		}
	}
	if math.IsInf(least, 1) {
		return best, fmt.Errorf("%s has no match in the redesign", name)
	}
	return best, nil
}

// lost says why no place of the redesign can be told.
func (r Result) lost() error {
	switch {
	case r.Frame.Mirrored:
		return errors.New("the redesign is a mirror image, so its places are not those of the stock part")
	case r.Frame.Guess:
		return errors.New("how the redesign lies on the stock part is a guess")
	}
	return nil
}

// sameWay is the cosine of 5 degrees, within which two directions are one to a
// person who points at a face.
var sameWay = math.Cos(5 * math.Pi / 180)

// faceAtLevel lists the redesign's flat faces that look as one of the stock part does,
// at the level nearest to its own, and lie over or under it or within reach beside it.
func (r Result) faceAtLevel(mine feature.Face) []feature.Face {
	t := r.Motion()
	off := func(f feature.Face) float64 {
		return math.Abs(r3.Dot(mine.Normal, r3.Sub(t.Apply(f.Centroid), mine.Centroid)))
	}
	own := spansOf(r.old.Mesh, mine, mesh.Identity(), mine.Normal)
	var found []feature.Face
	least := reach
	for _, f := range r.new.Features.Faces {
		if r3.Dot(t.Turn(f.Normal), mine.Normal) < sameWay || off(f) > reach || own.apart(spansOf(r.new.Mesh, f, t, mine.Normal)) > reach {
			continue
		}
		found = append(found, f)
		least = min(least, off(f))
	}
	return slices.DeleteFunc(found, func(f feature.Face) bool { return off(f) > least+coincide })
}

// spans is how far a face goes along two directions across the way it looks, mm.
type spans struct{ low, high [2]float64 }

func spansOf(m *mesh.Mesh, f feature.Face, t mesh.Transform, normal r3.Vec) spans {
	u := r3.Unit(r3.Cross(normal, leastAlong(normal)))
	across := [2]r3.Vec{u, r3.Cross(normal, u)}
	s := spans{[2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}}
	for _, id := range f.Faces {
		a, b, c := m.Triangle(int(id))
		for _, p := range []r3.Vec{a, b, c} {
			for k, d := range across {
				at := r3.Dot(d, t.Apply(p))
				s.low[k], s.high[k] = min(s.low[k], at), max(s.high[k], at)
			}
		}
	}
	return s
}

// leastAlong is the axis that a direction has least of.
func leastAlong(d r3.Vec) r3.Vec {
	axis := mesh.X
	for _, a := range []mesh.Axis{mesh.Y, mesh.Z} {
		if math.Abs(a.Of(d)) < math.Abs(axis.Of(d)) {
			axis = a
		}
	}
	return axis.Unit()
}

// apart is how far two faces lie apart, seen along the way they look; 0 where their
// spans overlap.
func (s spans) apart(o spans) float64 {
	gap := func(k int) float64 { return max(0, s.low[k]-o.high[k], o.low[k]-s.high[k]) }
	return math.Hypot(gap(0), gap(1))
}

// nearestFace returns the flat face of a part that is nearest to a point and its
// nearest point; with a normal, of those that look that way.
func nearestFace(m *mesh.Mesh, faces []feature.Face, point, normal r3.Vec) (best feature.Face, at r3.Vec, ok bool) {
	least := math.Inf(1)
	for _, f := range faces {
		if normal != (r3.Vec{}) && r3.Dot(f.Normal, normal) < sameWay*r3.Norm(normal) {
			continue
		}
		for _, id := range f.Faces {
			a, b, c := m.Triangle(int(id))
			q := nearestOnTriangle(point, a, b, c)
			if d := r3.Norm(r3.Sub(point, q)); d < least {
				best, at, least, ok = f, q, d, true
			}
		}
	}
	return best, at, ok
}

// nearestOnTriangle returns the point of a triangle nearest to p (Ericson,
// Real-Time Collision Detection, 5.1.5).
func nearestOnTriangle(p, a, b, c r3.Vec) r3.Vec {
	n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	corners := [3]r3.Vec{a, b, c}
	inside := true
	best, least := a, math.Inf(1)
	for k := range 3 {
		from, to := corners[k], corners[(k+1)%3]
		d := r3.Sub(to, from)
		inside = inside && r3.Dot(r3.Cross(n, d), r3.Sub(p, from)) >= 0
		share := 0.0
		if l := r3.Norm2(d); l > 0 {
			share = max(0, min(1, r3.Dot(r3.Sub(p, from), d)/l))
		}
		q := r3.Add(from, r3.Scale(share, d))
		if far := r3.Norm2(r3.Sub(p, q)); far < least {
			best, least = q, far
		}
	}
	if l := r3.Norm2(n); inside && l > 0 {
		return r3.Sub(p, r3.Scale(r3.Dot(n, r3.Sub(p, a))/l, n))
	}
	return best
}

// Transform returns the motion as a transform.
func (f Frame) Transform() mesh.Transform {
	return mesh.Transform{Rotation: f.Rotation, Shift: r3.Vec{X: f.Shift[0], Y: f.Shift[1], Z: f.Shift[2]}}
}
