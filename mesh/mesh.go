package mesh

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/parallel"
)

// Mesh is a welded triangle mesh. Corners that coincide share one entry of
// Vertices. Faces list three vertex indices, counter-clockwise seen from
// outside the solid. The zero value is the empty mesh.
type Mesh struct {
	Vertices []r3.Vec // mm
	Faces    [][3]int32

	across []HalfEdge // see Neighbours, where it is known already
}

// Triangle returns the three corners of face f, in mm.
func (m *Mesh) Triangle(f int) (a, b, c r3.Vec) {
	v := m.Faces[f]
	return m.Vertices[v[0]], m.Vertices[v[1]], m.Vertices[v[2]]
}

// Box is the set of points p with Min <= p <= Max in every coordinate, in mm.
type Box = r3.Box

// Bounds returns the smallest box that holds every vertex; an empty mesh has
// the zero box.
func (m *Mesh) Bounds() Box {
	if len(m.Vertices) == 0 {
		return Box{}
	}
	boxes := make([]Box, (len(m.Vertices)+chunkSize-1)/chunkSize)
	parallel.Chunks(len(m.Vertices), chunkSize, func(chunk, from, to int) {
		b := Box{Min: m.Vertices[from], Max: m.Vertices[from]}
		for _, v := range m.Vertices[from+1 : to] {
			b.Min.X, b.Max.X = min(b.Min.X, v.X), max(b.Max.X, v.X)
			b.Min.Y, b.Max.Y = min(b.Min.Y, v.Y), max(b.Max.Y, v.Y)
			b.Min.Z, b.Max.Z = min(b.Min.Z, v.Z), max(b.Max.Z, v.Z)
		}
		boxes[chunk] = b
	})
	b := boxes[0]
	for _, o := range boxes[1:] {
		b = boxtree.Join(b, o)
	}
	return b
}

// Axis is one of the three coordinate axes.
type Axis int

// The coordinate axes.
const (
	X Axis = iota
	Y
	Z
)

// ParseAxis reads "x", "y" or "z" in either case.
func ParseAxis(s string) (Axis, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "x":
		return X, nil
	case "y":
		return Y, nil
	case "z":
		return Z, nil
	}
	return 0, fmt.Errorf("axis %q: expected x, y or z", s)
}

// UnmarshalText reads what ParseAxis reads, for flags and files.
func (a *Axis) UnmarshalText(text []byte) (err error) {
	*a, err = ParseAxis(string(text))
	return err
}

// MarshalText writes what String writes.
func (a Axis) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// String returns "x", "y" or "z".
func (a Axis) String() string { return [...]string{"x", "y", "z"}[a] }

// Of returns the coordinate of v along the axis.
func (a Axis) Of(v r3.Vec) float64 { return [...]float64{v.X, v.Y, v.Z}[a] }

// Unit returns the unit vector along the axis.
func (a Axis) Unit() r3.Vec {
	return [...]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[a]
}

// Next returns the axis that follows cyclically: x, y, z, x.
func (a Axis) Next() Axis { return (a + 1) % 3 }
