package asmade

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

func (p Part) area(f int32) float64 {
	a, b, c := p.Mesh.Triangle(int(f))
	return r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
}

// outward returns the normal of a face at one of its corners: along the radius
// on a round wall, so that corners stay on its circle.
func (p Part) outward(f, v int32) r3.Vec {
	if r := p.round[f]; r >= 0 {
		return p.radial(int(r), p.Mesh.Vertices[v])
	}
	return p.normal(f)
}

// normal returns the normal of the plane that a face lies in.
func (p Part) normal(f int32) r3.Vec {
	skin := p.Features.Skin
	return skin.Patches[skin.Patch[f]].Normal
}

// edge returns the vector along the edge from corner k of a face.
func (p Part) edge(f int32, k int) r3.Vec {
	v := p.Mesh.Faces[f]
	return r3.Sub(p.Mesh.Vertices[v[(k+1)%3]], p.Mesh.Vertices[v[k]])
}

// convex reports whether the edge from corner k of face f to face g is an outer
// one.
func (p Part) convex(f, g int32, k int) bool {
	return r3.Dot(r3.Cross(p.normal(f), p.normal(g)), p.edge(f, k)) > 0
}

func (p Part) centre(f int32) r3.Vec {
	a, b, c := p.Mesh.Triangle(int(f))
	return r3.Scale(1./3, r3.Add(a, r3.Add(b, c)))
}

func (p Part) variant(name string, m *mesh.Mesh, err float64, notes ...string) Variant {
	p.snap(m)
	return Variant{
		Name: name, Mesh: m, Error: err, Notes: notes,
		Added: m.SignedVolume() - p.Mesh.SignedVolume(),
	}
}

// extent returns how far the part reaches along a unit vector.
func (p Part) extent(d r3.Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range p.Mesh.Vertices {
		h := r3.Dot(v, d)
		low, high = min(low, h), max(high, h)
	}
	return low, high
}

// snap rounds moved corners to a grid of 2^-30 mm, so that corners of one face
// square to an axis of the file still share their coordinate.
func (p Part) snap(m *mesh.Mesh) {
	const grid = 1 << 30
	to := func(x float64) float64 { return math.Round(x*grid) / grid }
	for i, v := range m.Vertices {
		if v != p.Mesh.Vertices[i] {
			m.Vertices[i] = r3.Vec{X: to(v.X), Y: to(v.Y), Z: to(v.Z)}
		}
	}
}

// share is the part's mesh as it is.
func (p Part) share() *mesh.Mesh {
	return &mesh.Mesh{Vertices: slices.Clone(p.Mesh.Vertices), Faces: p.Mesh.Faces}
}

// radial returns the outward normal of a round wall at a point on it.
func (p Part) radial(round int, at r3.Vec) r3.Vec {
	r := p.Features.Rounds[round]
	d := r3.Sub(at, r.Centre)
	d = r3.Unit(r3.Sub(d, r3.Scale(r3.Dot(d, r.Axis), r.Axis)))
	if r.Concave {
		return r3.Scale(-1, d)
	}
	return d
}
