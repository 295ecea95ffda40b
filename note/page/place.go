package page

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/quantity"
	"swapworth/solid"
)

// place is somewhere a part may be held or loaded, in the words that the flags and
// the case file take.
type place struct {
	Word   string `json:"word"`             // "hole:3"
	Also   string `json:"also,omitempty"`   // of a hole, its wall: "bore:3"
	Label  string `json:"label"`            // "hole 3, 5.5 mm through"
	Number int    `json:"number,omitempty"` // written beside it in the view
	Listed bool   `json:"listed"`           // of the faces only the larger ones are
	Marks  []mark `json:"marks"`            // where a hold is drawn
	Walls  []mark `json:"walls,omitempty"`  // the same on the wall of a hole
	Ends   []mark `json:"ends,omitempty"`   // the mouths of a hole, one where it is blind
}

// mark is a point of a surface and the way out of the material there.
type mark struct {
	At  [3]float64 `json:"at"` // mm
	Out [3]float64 `json:"out"`
}

// places are those of a part, spoken of in a system of units, with the index of the one that each face of the mesh
// belongs to, -1 for none.
type places struct {
	units  quantity.System
	places []place
	owner  []int32
}

// listedFaces is how many flat faces a list offers, the largest first; a click finds
// the others.
const listedFaces = 12

// mostFaces is how many flat faces are places at all, the largest first: a scanned or
// free-formed surface has one for every pair of triangles, and nobody points at them.
const mostFaces = 2000

// placesOf lists holes, outer round walls and flat faces, in the numbers that
// solid.ParsePlace reads.
func placesOf(units quantity.System, m *mesh.Mesh, found *feature.Features) places {
	p := places{units: units, owner: slices.Repeat([]int32{-1}, len(m.Faces))}
	for i, f := range found.Faces[:min(mostFaces, len(found.Faces))] {
		p.addFace(m, f, i < listedFaces)
	}
	flat := len(p.places)
	for i, r := range found.Rims() {
		p.own(r.Faces)
		word := solid.Rim(i + 1).String()
		p.places = append(p.places, place{
			Word: word, Listed: true, Marks: around(r.Centre, r.Axis, r.Radius, 1),
			Label: units.Text(fmt.Sprintf("outer round wall %d, %s mm across", i+1, quantity.Short(2*r.Radius, 4))),
		})
	}
	rims := len(p.places)
	for _, h := range found.Holes {
		p.own(h.Faces)
		p.places = append(p.places, holePlace(units, h))
	}
	p.reorder(flat, rims)
	return p
}

// own gives the faces of a wall to the place that is added next.
func (p *places) own(faces []int32) {
	for _, f := range faces {
		p.owner[f] = int32(len(p.places))
	}
}

// addFace names a flat face by a point well inside of it, so that no other face is
// nearer, and by the way it looks.
func (p *places) addFace(m *mesh.Mesh, f feature.Face, listed bool) {
	p.own(f.Faces)
	at, look := rounded(insideOf(m, f)), rounded(f.Normal)
	p.places = append(p.places, place{
		Word: solid.FaceAt(at, look).String(), Listed: listed,
		Marks: []mark{{array(at), array(f.Normal)}},
		Label: p.units.Text(fmt.Sprintf("flat face %d, %s mm2, looks along %s", f.Number, quantity.Short(f.Area, 3), looks(f.Normal))),
	})
}

// insideOf is the middle of a face's largest triangle; the middle of the face itself
// may lie over a pocket.
func insideOf(m *mesh.Mesh, f feature.Face) r3.Vec {
	at, largest := f.Centroid, 0.0
	for _, t := range f.Faces {
		a, b, c := m.Triangle(int(t))
		if area := r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))); area > largest {
			at, largest = r3.Scale(1./3, r3.Add(a, r3.Add(b, c))), area
		}
	}
	return at
}

// rounded keeps a micrometre, or a thousandth of a direction: less than where faces
// are told apart.
func rounded(v r3.Vec) r3.Vec {
	round := func(x float64) float64 { return math.Round(x*1000)/1000 + 0 } // no negative zero
	return r3.Vec{X: round(v.X), Y: round(v.Y), Z: round(v.Z)}
}

// looks says a direction as "+z" where it is one of the file's axes.
func looks(n r3.Vec) string {
	for _, a := range []mesh.Axis{mesh.X, mesh.Y, mesh.Z} {
		if math.Abs(a.Of(n)) > 0.9999 {
			return map[bool]string{true: "+", false: "-"}[a.Of(n) > 0] + a.String()
		}
	}
	return fmt.Sprintf("(%.2g, %.2g, %.2g)", n.X, n.Y, n.Z)
}

func holePlace(units quantity.System, h feature.Hole) place {
	ends := []mark{{array(h.Mouth()), array(h.Axis)}}
	if h.Open {
		ends = append(ends, mark{array(h.Bottom()), array(r3.Scale(-1, h.Axis))})
	}
	label := fmt.Sprintf("hole %d, %s mm %s", h.Number, quantity.Short(h.Diameter, 4), h.Kind)
	return place{
		Word: solid.Bolted(h.Number, 0).String(), Also: solid.Bore(h.Number).String(), Label: units.Text(label), Number: h.Number, Listed: true,
		Marks: ends, Ends: ends, Walls: around(h.Centre, h.Axis, h.Diameter/2, -1),
	}
}

// around are three points of a round wall, that look outwards (1) or to the axis (-1).
func around(centre, axis r3.Vec, radius, out float64) (marks []mark) {
	across := mesh.X.Unit()
	if math.Abs(axis.X) > 0.9 {
		across = mesh.Y.Unit()
	}
	u := r3.Unit(r3.Cross(axis, across))
	v := r3.Cross(axis, u)
	for k := range 3 {
		t := 2 * math.Pi * float64(k) / 3
		d := r3.Add(r3.Scale(math.Cos(t), u), r3.Scale(math.Sin(t), v))
		marks = append(marks, mark{array(r3.Add(centre, r3.Scale(radius, d))), array(r3.Scale(out, d))})
	}
	return marks
}

// reorder puts the holes first, then outer round walls, then flat faces.
func (p *places) reorder(flat, rims int) {
	n := len(p.places)
	p.places = slices.Concat(p.places[rims:], p.places[flat:rims], p.places[:flat])
	for i, o := range p.owner {
		switch {
		case int(o) >= rims:
			p.owner[i] -= int32(rims)
		case int(o) >= flat:
			p.owner[i] += int32(n - rims - flat)
		case o >= 0:
			p.owner[i] += int32(n - flat)
		}
	}
}

func array(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
