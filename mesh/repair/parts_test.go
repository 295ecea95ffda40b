package repair

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/property"
	"swapworth/mesh"
)

func box(lo, hi float64) *mesh.Mesh {
	return mesh.Cuboid(r3.Vec{X: lo, Y: lo, Z: lo}, r3.Vec{X: hi, Y: hi, Z: hi})
}

func moved(m *mesh.Mesh, by r3.Vec) *mesh.Mesh { return m.Transformed(mesh.Translation(by)) }

// turned returns the mesh inside out.
func turned(m *mesh.Mesh) *mesh.Mesh {
	t := &mesh.Mesh{Vertices: m.Vertices}
	for _, f := range m.Faces {
		t.Faces = append(t.Faces, turnedFace(f))
	}
	return t
}

func turnedFace(f [3]int32) [3]int32 { return [3]int32{f[0], f[2], f[1]} }

// cornersOf lists the corners of a mesh, three a face.
func cornersOf(m *mesh.Mesh) (list []r3.Vec) {
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		list = append(list, a, b, c)
	}
	return list
}

func prism(random *rand.Rand, thin, far float64) *mesh.Mesh {
	vertices, faces := property.Prism(random, thin, far)
	return &mesh.Mesh{Vertices: vertices, Faces: faces}
}

func binaryOf(t testing.TB, m *mesh.Mesh) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := mesh.Write(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// loaded writes a mesh and reads it as opt says.
func loaded(t *testing.T, m *mesh.Mesh, opt mesh.Options) *mesh.Loaded {
	t.Helper()
	l, err := mesh.LoadFrom(bytes.NewReader(binaryOf(t, m)), "part.stl", opt)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
