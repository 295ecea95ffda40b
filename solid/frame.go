package solid

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// frame is the grid's own axes: those of the model or, in a part that lies
// askew, those of its flat faces, ordered by the sides of the part's box, longest
// first. The origin is the middle of the model's box, so that a part far from
// the origin loses no digits.
type frame struct {
	axes   [3]r3.Vec    // orthonormal, by model axis
	model  [3]mesh.Axis // the model axis that a grid axis is, or is nearest to
	turned bool         // the axes are not those of the model
	origin r3.Vec
}

// frameOf returns the frame along the model's axes.
func frameOf(b mesh.Box) frame {
	return frameAlong([3]r3.Vec{mesh.X.Unit(), mesh.Y.Unit(), mesh.Z.Unit()}, b.Size(), b.Center())
}

// frameAlong orders orthonormal axes by the part's sizes along them.
func frameAlong(axes [3]r3.Vec, size, origin r3.Vec) frame {
	order := [3]mesh.Axis{mesh.X, mesh.Y, mesh.Z}
	slices.SortStableFunc(order[:], func(p, q mesh.Axis) int {
		return cmp.Compare(q.Of(size), p.Of(size))
	})
	f := frame{origin: origin}
	for a, m := range order {
		f.axes[a], f.model[a] = axes[m], m
	}
	return f
}

// vector returns the components of a model vector along the grid axes.
func (f frame) vector(v r3.Vec) (x [3]float64) {
	for a, e := range f.axes {
		x[a] = r3.Dot(e, v)
	}
	return
}

// in returns the grid coordinates of a model point.
func (f frame) in(p r3.Vec) [3]float64 { return f.vector(r3.Sub(p, f.origin)) }

// out returns the model vector with components x along the grid axes.
func (f frame) out(x [3]float64) (v r3.Vec) {
	for a, e := range f.axes {
		v = r3.Add(v, r3.Scale(x[a], e))
	}
	return
}

// point returns the model point at grid coordinates x.
func (f frame) point(x [3]float64) r3.Vec { return r3.Add(f.out(x), f.origin) }

// mirrored reports whether the axes are left-handed.
func (f frame) mirrored() bool { return r3.Dot(r3.Cross(f.axes[0], f.axes[1]), f.axes[2]) < 0 }

// flags returns which grid axes are held when those model axes are that are set.
// It fails where what is held is not a set of grid axes.
func (f frame) flags(h [3]bool) (x [3]bool, ok bool) {
	for a, e := range f.axes {
		share := 0.0
		for m, yes := range h {
			if c := mesh.Axis(m).Of(e); yes {
				share += c * c
			}
		}
		if share > 1e-9 && share < 1-1e-9 {
			return x, false
		}
		x[a] = share > 0.5
	}
	return x, true
}

// surface brings a mesh into the frame.
func (f frame) surface(m *mesh.Mesh) *grid.Surface {
	tol := tolerance(m.Bounds())
	if f.turned { // what was exact along the model's axes has been rounded
		tol *= 4
	}
	points := make([][3]float64, len(m.Vertices))
	for i, v := range m.Vertices {
		points[i] = f.in(v)
	}
	faces := slices.Clone(m.Faces)
	if f.mirrored() {
		for i, t := range faces {
			faces[i] = [3]int32{t[0], t[2], t[1]}
		}
	}
	return grid.NewSurface(points, faces, tol)
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
func (f frame) region(s spot, whole *grid.Surface, part mesh.Box, name string) (*region.Region, bool) {
	r := &region.Region{Whole: s.whole, Name: name}
	if s.box != nil {
		box, ok := f.box(*s.box, whole, part)
		r.Box = &box
		return r, ok
	}
	for _, t := range s.faces {
		if f.mirrored() {
			t[1], t[2] = t[2], t[1]
		}
		r.Faces = append(r.Faces, [3][3]float64{f.in(t[0]), f.in(t[1]), f.in(t[2])})
	}
	return r, true
}

// box brings a box along the model's axes into the frame: exactly where the axes
// are the same, and as a slab or bar through the whole part where it reaches
// beyond the part along the axes that are not. It fails on other boxes.
func (f frame) box(b mesh.Box, whole *grid.Surface, part mesh.Box) (box [2][3]float64, ok bool) {
	ok = true
	low, high := f.in(b.Min), f.in(b.Max)
	for a, e := range f.axes {
		m := f.model[a]
		if math.Abs(m.Of(e)) > 1-1e-12 {
			box[0][a], box[1][a] = min(low[a], high[a]), max(low[a], high[a])
			continue
		}
		box[0][a], box[1][a] = whole.Low[a], whole.High[a]
		ok = ok && m.Of(b.Min) <= m.Of(part.Min) && m.Of(b.Max) >= m.Of(part.Max)
	}
	return box, ok
}

// axial returns the components of a moment: in a left-handed frame the sign of
// every cross product turns.
func (f frame) axial(v r3.Vec) [3]float64 {
	if f.mirrored() {
		v = r3.Scale(-1, v)
	}
	return f.vector(v)
}

// outAxial returns the model moment with components x along the grid axes.
func (f frame) outAxial(x [3]float64) r3.Vec {
	v := f.out(x)
	if f.mirrored() {
		v = r3.Scale(-1, v)
	}
	return v
}

// outArray is out as an array by model axis.
func (f frame) outArray(x [3]float64) [3]float64 {
	v := f.out(x)
	return [3]float64{v.X, v.Y, v.Z}
}
