package main

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// area is a shape with holes.
type area struct {
	outer shape
	holes []shape
}

// slab is a layer of a part, from the top of the one before, in mm.
type slab struct {
	thickness float64
	areas     []area
}

// part is a demo part: layers along z from z = 0.
type part struct {
	name, what string
	slabs      []slab
}

// solid is the volume in mm3 and the centroid in mm.
type solid struct {
	Volume   float64    `json:"volume_mm3"`
	Centroid [3]float64 `json:"centroid_mm"`
}

// solid returns the part's closed form, of the drawn polyhedron or of the true
// rounds.
func (p part) solid(choose func(shape) moment) solid {
	var s solid
	z := 0.0
	for _, l := range p.slabs {
		var m moment
		for _, a := range l.areas {
			m = m.add(1, choose(a.outer))
			for _, h := range a.holes {
				m = m.add(-1, choose(h))
			}
		}
		s.Volume += m.area * l.thickness
		s.Centroid[0] += m.x * l.thickness
		s.Centroid[1] += m.y * l.thickness
		s.Centroid[2] += m.area * l.thickness * (z + l.thickness/2)
		z += l.thickness
	}
	for i := range s.Centroid {
		s.Centroid[i] = math.Round(s.Centroid[i]/s.Volume*1e12) / 1e12
	}
	return s
}

// mesh builds the part.
func (p part) mesh() (*mesh.Mesh, error) {
	var layers []cut.Layer
	for _, l := range p.slabs {
		var region cut.Region
		for _, a := range l.areas {
			polygon := cut.Polygon{Outer: a.outer.loop}
			for _, h := range a.holes {
				polygon.Holes = append(polygon.Holes, clockwise(h.loop))
			}
			region = append(region, polygon)
		}
		layers = append(layers, cut.Layer{Region: region, Thickness: l.thickness})
	}
	return cut.Stack(mesh.AxisPlane(mesh.Z, 0), layers...)
}

func clockwise(loop []r2.Vec) []r2.Vec {
	back := make([]r2.Vec, len(loop))
	for i, p := range loop {
		back[len(loop)-1-i] = p
	}
	return back
}

// turnedInsideOut returns the mesh with every face looking inwards.
func turnedInsideOut(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: m.Vertices}
	for _, f := range m.Faces {
		out.Faces = append(out.Faces, [3]int32{f[0], f[2], f[1]})
	}
	return out
}

// scaled returns the mesh with every coordinate times k.
func scaled(m *mesh.Mesh, k float64) *mesh.Mesh {
	out := &mesh.Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, r3.Scale(k, v))
	}
	return out
}

// withoutFaces returns the mesh without the faces whose corners all satisfy
// the condition.
func withoutFaces(m *mesh.Mesh, gone func(r3.Vec) bool) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: m.Vertices}
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		if !gone(a) || !gone(b) || !gone(c) {
			out.Faces = append(out.Faces, m.Faces[f])
		}
	}
	return out
}
