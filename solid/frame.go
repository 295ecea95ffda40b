package solid

import (
	"cmp"
	"math"
	"slices"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// frame reorders the model's axes by the sides of the part's box, longest
// first, and puts the origin in the middle of the box, so that a part far from
// the origin loses no digits.
type frame struct {
	model  [3]mesh.Axis // the model axis that a grid axis is
	origin r3.Vec
}

func frameOf(b mesh.Box) frame {
	f := frame{model: [3]mesh.Axis{mesh.X, mesh.Y, mesh.Z}, origin: b.Center()}
	size := b.Size()
	slices.SortStableFunc(f.model[:], func(p, q mesh.Axis) int {
		return cmp.Compare(q.Of(size), p.Of(size))
	})
	return f
}

// vector returns the components of a model vector along the grid axes.
func (f frame) vector(v r3.Vec) (x [3]float64) {
	for a, m := range f.model {
		x[a] = m.Of(v)
	}
	return
}

// in returns the grid coordinates of a model point.
func (f frame) in(p r3.Vec) [3]float64 { return f.vector(r3.Sub(p, f.origin)) }

// out returns the model vector with components x along the grid axes.
func (f frame) out(x [3]float64) (v r3.Vec) {
	for a, m := range f.model {
		v = r3.Add(v, r3.Scale(x[a], m.Unit()))
	}
	return
}

// point returns the model point at grid coordinates x.
func (f frame) point(x [3]float64) r3.Vec { return r3.Add(f.out(x), f.origin) }

// mirrored reports whether the reordering is a reflection.
func (f frame) mirrored() bool { return (f.model[1]-f.model[0]+3)%3 != 1 }

// flags reorders what is set by model axis.
func (f frame) flags(h [3]bool) (x [3]bool) {
	for a, m := range f.model {
		x[a] = h[m]
	}
	return
}

// surface brings a mesh into the frame.
func (f frame) surface(m *mesh.Mesh) *surface {
	b := m.Bounds()
	s := &surface{low: f.in(b.Min), high: f.in(b.Max), tol: tolerance(b)}
	s.points = make([][3]float64, len(m.Vertices))
	for i, v := range m.Vertices {
		s.points[i] = f.in(v)
	}
	s.faces = slices.Clone(m.Faces)
	if f.mirrored() {
		for i, t := range s.faces {
			s.faces[i] = [3]int32{t[0], t[2], t[1]}
		}
	}
	return s
}

// tolerance is the distance below which coordinates count as one: the rounding
// of the float32 numbers in an STL file, at least a millionth of the part.
func tolerance(b mesh.Box) float64 {
	far := 0.0
	for _, v := range []r3.Vec{b.Min, b.Max} {
		far = max(far, math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
	}
	return max(1e-6*r3.Norm(b.Size()), 2*far/(1<<23))
}

// region brings a located place into the frame.
func (f frame) region(s spot, name string) *region {
	r := &region{whole: s.whole, name: name}
	if s.box != nil {
		r.box = &[2][3]float64{f.in(s.box.Min), f.in(s.box.Max)}
		return r
	}
	for _, t := range s.faces {
		if f.mirrored() {
			t[1], t[2] = t[2], t[1]
		}
		r.faces = append(r.faces, [3][3]float64{f.in(t[0]), f.in(t[1]), f.in(t[2])})
	}
	return r
}
