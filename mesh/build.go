package mesh

import "gonum.org/v1/gonum/spatial/r3"

// Cuboid returns the closed mesh of the box from lo to hi, in mm: 8 vertices
// and 12 faces that point outwards.
func Cuboid(lo, hi r3.Vec) *Mesh {
	m := &Mesh{}
	for i := range 8 {
		v := lo
		if i&1 != 0 {
			v.X = hi.X
		}
		if i&2 != 0 {
			v.Y = hi.Y
		}
		if i&4 != 0 {
			v.Z = hi.Z
		}
		m.Vertices = append(m.Vertices, v)
	}
	for _, q := range [6][4]int32{
		{0, 2, 3, 1}, {4, 5, 7, 6}, // z low, z high
		{0, 1, 5, 4}, {2, 6, 7, 3}, // y low, y high
		{0, 4, 6, 2}, {1, 3, 7, 5}, // x low, x high
	} {
		m.Faces = append(m.Faces, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

// Merge puts several meshes into one. Vertices are not welded: each part stays
// a shell of its own.
func Merge(parts ...*Mesh) *Mesh {
	out := &Mesh{}
	for _, p := range parts {
		base := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, p.Vertices...)
		for _, f := range p.Faces {
			out.Faces = append(out.Faces, [3]int32{f[0] + base, f[1] + base, f[2] + base})
		}
	}
	return out
}
