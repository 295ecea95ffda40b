package mesh

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestRaysAgreeWithAWalkOverAllFaces(t *testing.T) {
	m := lumps(t)
	rays := NewRays(m)
	draw := rand.New(rand.NewPCG(3, 5))
	box := m.Bounds()
	size := box.Size()
	met := 0
	for range 2000 {
		from := r3.Add(box.Min, r3.Vec{X: draw.Float64() * size.X, Y: draw.Float64() * size.Y, Z: draw.Float64() * size.Z})
		way := r3.Unit(r3.Vec{X: draw.NormFloat64(), Y: draw.NormFloat64(), Z: draw.NormFloat64()})
		want := 1e3
		for f := range m.Faces {
			if at := rays.meets(int32(f), from, way); at > 0 {
				want = min(want, at)
			}
		}
		got, face := rays.First(from, way, 1e3)
		if got != want {
			t.Fatalf("from %v along %v: %g, walking over all faces %g", from, way, got, want)
		}
		if face >= 0 {
			met++
		}
	}
	if met < 500 {
		t.Errorf("only %d of 2000 rays met anything", met)
	}
}

// lumps is a field of tetrahedra of many sizes.
func lumps(t testing.TB) *Mesh {
	t.Helper()
	draw := rand.New(rand.NewPCG(1, 2))
	m := &Mesh{}
	for range 300 {
		at := int32(len(m.Vertices))
		c := r3.Vec{X: 50 * draw.Float64(), Y: 30 * draw.Float64(), Z: 20 * draw.Float64()}
		size := 12 * draw.Float64()
		for range 4 {
			m.Vertices = append(m.Vertices, r3.Add(c, r3.Vec{X: size * draw.Float64(), Y: size * draw.Float64(), Z: size * draw.Float64()}))
		}
		m.Faces = append(m.Faces, [3]int32{at, at + 1, at + 2}, [3]int32{at, at + 1, at + 3}, [3]int32{at, at + 2, at + 3}, [3]int32{at + 1, at + 2, at + 3})
	}
	return m
}

func BenchmarkRays(b *testing.B) {
	m := lumps(b)
	rays := NewRays(m)
	for i := 0; b.Loop(); i++ {
		rays.First(r3.Vec{X: float64(i % 50), Y: 15, Z: 10}, r3.Unit(r3.Vec{X: 1, Y: float64(i%7) - 3}), 1e3)
	}
}
