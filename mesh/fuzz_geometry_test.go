package mesh

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// meshFromBytes makes any mesh: three bytes a vertex, then three a face.
func meshFromBytes(data []byte, vertices uint8) *Mesh {
	m := &Mesh{}
	for i := 0; i < int(vertices) && len(data) >= 3; i, data = i+1, data[3:] {
		m.Vertices = append(m.Vertices, r3.Vec{X: float64(data[0]) / 3, Y: float64(data[1]) / 5, Z: float64(data[2]) / 7})
	}
	n := len(m.Vertices)
	for ; n > 0 && len(data) >= 3; data = data[3:] {
		m.Faces = append(m.Faces, [3]int32{int32(int(data[0]) % n), int32(int(data[1]) % n), int32(int(data[2]) % n)})
	}
	return m
}

func bytesFromMesh(m *Mesh) []byte {
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
	block := Cuboid(r3.Vec{}, r3.Vec{X: 9, Y: 5, Z: 4})
	f.Add(bytesFromMesh(block), uint8(8), 4.0, 1.0, 0.0, 0.0)
	f.Add(bytesFromMesh(block), uint8(8), 4.0, 1.0, 2.0, 3.0)
	f.Add(bytesFromMesh(without(block, func(f int) bool { return f < 2 })), uint8(8), 2.0, 0.0, 1.0, 1.0)
	f.Add(bytesFromMesh(tube()), uint8(16), 4.0, 1.0, 1.0, 0.0)
	f.Fuzz(func(t *testing.T, data []byte, vertices uint8, at, x, y, z float64) {
		m := meshFromBytes(data, vertices)
		p, err := PlaneFromNormal(r3.Vec{X: at, Y: at / 2, Z: at / 3}, r3.Vec{X: x, Y: y, Z: z})
		if err != nil {
			return
		}
		region, err := Cut(m, p)
		for _, polygon := range region {
			if LoopArea(polygon.Outer) < 0 {
				t.Fatal("an outer loop runs clockwise")
			}
			for _, h := range polygon.Holes {
				if LoopArea(h) > 0 {
					t.Fatal("a hole runs counter-clockwise")
				}
			}
		}
		before := newEdgeTable(m)
		if half, err2 := Clip(m, p); err == nil && err2 == nil && before.balanced && !newEdgeTable(half).balanced {
			t.Fatal("the clipped mesh is open")
		}
		whole, repairs := RepairGaps(m)
		if after := newEdgeTable(whole); len(repairs) > 0 && len(after.open) >= len(before.open) {
			t.Fatalf("%d open edges before, %d after %v", len(before.open), len(after.open), repairs)
		}
	})
}
