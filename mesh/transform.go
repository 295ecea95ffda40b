package mesh

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Transform is a rigid motion: p -> Rotation p + Shift, with Shift in mm.
// Rotation is row-major and orthonormal. The zero value is not a motion; start
// from Identity.
type Transform struct {
	Rotation [3][3]float64
	Shift    r3.Vec
}

// Identity leaves every point where it is.
func Identity() Transform {
	return Transform{Rotation: [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
}

// Translation moves every point by shift, in mm.
func Translation(shift r3.Vec) Transform {
	t := Identity()
	t.Shift = shift
	return t
}

// RotationAbout turns by angle in radians, right-handed, about the line through
// the origin along axis (Rodrigues' formula). An axis without length gives the
// identity.
func RotationAbout(axis r3.Vec, angle float64) Transform {
	length := r3.Norm(axis)
	if length == 0 {
		return Identity()
	}
	k := r3.Scale(1/length, axis)
	s, c := math.Sincos(angle)
	e := [3]float64{k.X, k.Y, k.Z}
	cross := [3][3]float64{{0, -k.Z, k.Y}, {k.Z, 0, -k.X}, {-k.Y, k.X, 0}}
	t := Identity()
	for i := range 3 {
		for j := range 3 {
			t.Rotation[i][j] = c*t.Rotation[i][j] + s*cross[i][j] + (1-c)*e[i]*e[j]
		}
	}
	return t
}

// Apply returns where the point p goes, in mm.
func (t Transform) Apply(p r3.Vec) r3.Vec { return r3.Add(t.Turn(p), t.Shift) }

// Turn returns where the direction d goes: the rotation alone.
func (t Transform) Turn(d r3.Vec) r3.Vec {
	r := &t.Rotation
	return r3.Vec{
		X: r[0][0]*d.X + r[0][1]*d.Y + r[0][2]*d.Z,
		Y: r[1][0]*d.X + r[1][1]*d.Y + r[1][2]*d.Z,
		Z: r[2][0]*d.X + r[2][1]*d.Y + r[2][2]*d.Z,
	}
}

// Compose returns the motion that does first, then t.
func (t Transform) Compose(first Transform) Transform {
	var c Transform
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				c.Rotation[i][j] += t.Rotation[i][k] * first.Rotation[k][j]
			}
		}
	}
	c.Shift = t.Apply(first.Shift)
	return c
}

// Inverse returns the motion that undoes t.
func (t Transform) Inverse() Transform {
	var inv Transform
	for i := range 3 {
		for j := range 3 {
			inv.Rotation[i][j] = t.Rotation[j][i]
		}
	}
	inv.Shift = r3.Scale(-1, inv.Turn(t.Shift))
	return inv
}

// mirrors reports whether the rotation turns right-handed into left-handed.
func (t Transform) mirrors() bool {
	r := t.Rotation
	row := func(i int) r3.Vec { return r3.Vec{X: r[i][0], Y: r[i][1], Z: r[i][2]} }
	return r3.Dot(row(0), r3.Cross(row(1), row(2))) < 0
}

// Transformed returns the mesh moved by t. Should t be a mirror image, the
// faces are turned so that they still point outwards.
func (m *Mesh) Transformed(t Transform) *Mesh {
	out := &Mesh{
		Vertices: make([]r3.Vec, len(m.Vertices)),
		Faces:    append([][3]int32(nil), m.Faces...),
	}
	for i, v := range m.Vertices {
		out.Vertices[i] = t.Apply(v)
	}
	if t.mirrors() {
		for i, f := range out.Faces {
			out.Faces[i] = [3]int32{f[0], f[2], f[1]}
		}
	}
	return out
}
