package repair

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/sample"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// meshFromBytes makes any mesh: three bytes a vertex, then three a face.
func meshFromBytes(data []byte, vertices uint8) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := 0; i < int(vertices) && len(data) >= 3; i, data = i+1, data[3:] {
		m.Vertices = append(m.Vertices, r3.Vec{X: float64(data[0]) / 3, Y: float64(data[1]) / 5, Z: float64(data[2]) / 7})
	}
	n := len(m.Vertices)
	for ; n > 0 && len(data) >= 3; data = data[3:] {
		m.Faces = append(m.Faces, [3]int32{int32(int(data[0]) % n), int32(int(data[1]) % n), int32(int(data[2]) % n)})
	}
	return m
}

func bytesFromMesh(m *mesh.Mesh) []byte {
	var data []byte
	for _, v := range m.Vertices {
		data = append(data, byte(math.Round(v.X*3)), byte(math.Round(v.Y*5)), byte(math.Round(v.Z*7)))
	}
	for _, f := range m.Faces {
		data = append(data, byte(f[0]), byte(f[1]), byte(f[2]))
	}
	return data
}

// FuzzCutClipAndRepair holds on meshes of any kind: no panic and no hang; what a
// cut returns has outer loops counter-clockwise and holes clockwise; what is
// clipped balances its edges when the mesh did; filling gaps leaves fewer of them.
func FuzzCutClipAndRepair(f *testing.F) {
	block := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 9, Y: 5, Z: 4})
	f.Add(bytesFromMesh(block), uint8(8), 4.0, 1.0, 0.0, 0.0)
	f.Add(bytesFromMesh(block), uint8(8), 4.0, 1.0, 2.0, 3.0)
	f.Add(bytesFromMesh(sample.Without(block, func(f int) bool { return f < 2 })), uint8(8), 2.0, 0.0, 1.0, 1.0)
	f.Add(bytesFromMesh(sample.Tube()), uint8(16), 4.0, 1.0, 1.0, 0.0)
	f.Fuzz(func(t *testing.T, data []byte, vertices uint8, at, x, y, z float64) {
		m := meshFromBytes(data, vertices)
		p, err := mesh.PlaneFromNormal(r3.Vec{X: at, Y: at / 2, Z: at / 3}, r3.Vec{X: x, Y: y, Z: z})
		if err != nil {
			return
		}
		region, err := cut.Section(m, p)
		for _, polygon := range region {
			if cut.LoopArea(polygon.Outer) < 0 {
				t.Fatal("an outer loop runs clockwise")
			}
			for _, h := range polygon.Holes {
				if cut.LoopArea(h) > 0 {
					t.Fatal("a hole runs counter-clockwise")
				}
			}
		}
		before := mesh.EdgesOf(m)
		if half, err2 := cut.Clip(m, p); err == nil && err2 == nil && before.Balanced && !mesh.EdgesOf(half).Balanced {
			t.Fatal("the clipped mesh is open")
		}
		whole, repairs := gaps(m)
		if after := mesh.EdgesOf(whole); len(repairs) > 0 && len(after.Open) >= len(before.Open) {
			t.Fatalf("%d open edges before, %d after %v", len(before.Open), len(after.Open), repairs)
		}
	})
}

// FuzzFaces makes faces between the points of a small grid, where everything that
// can coincide does: mending them opens no closed mesh.
func FuzzFaces(f *testing.F) {
	grid := func(m *mesh.Mesh) []byte {
		var b []byte
		for _, c := range cornersOf(m) {
			b = append(b, byte(c.X+4*c.Y+16*c.Z))
		}
		return b
	}
	f.Add(grid(box(0, 3)))
	f.Add(grid(mesh.Merge(box(0, 2), box(1, 3))))
	f.Add(grid(mesh.Merge(box(0, 3), turned(box(1, 2)), box(0, 1))))
	f.Add(grid(box(0, 2))[:30])
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 300 {
			return
		}
		corners := make([]r3.Vec, len(data))
		for i, b := range data {
			corners[i] = r3.Vec{X: float64(b & 3), Y: float64(b >> 2 & 3), Z: float64(b >> 4 & 3)}
		}
		m := mesh.Weld(corners)
		if len(m.Faces) == 0 {
			return
		}
		read, mended := loaded(t, m, mesh.Options{}), loaded(t, m, mesh.Options{Repair: Faults{}})
		// Nothing is left of a mesh of faces and their own backs.
		if read.Report.Closed && !mended.Report.Closed && len(mended.Mesh.Faces) > 0 {
			t.Fatalf("repair opened a closed mesh: %+v", mended.Repairs)
		}
		mesh.Intersections(mended.Mesh)
	})
}
