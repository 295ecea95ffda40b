package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// holed is a plate 40 x 30 x 5 with a window 10 x 8 in it.
func holed(t testing.TB) *Mesh {
	t.Helper()
	m, err := Extrude(Region{{
		Outer: []r2.Vec{{}, {X: 40}, {X: 40, Y: 30}, {Y: 30}},
		Holes: [][]r2.Vec{{{X: 10, Y: 10}, {X: 10, Y: 18}, {X: 20, Y: 18}, {X: 20, Y: 10}}},
	}}, AxisPlane(Z, 0), 5)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestARayMeetsTheNearestFace(t *testing.T) {
	rays := NewRays(holed(t))
	for _, c := range []struct {
		what      string
		from, way r3.Vec
		want      float64 // -1 for nothing
	}{
		{"down on the top", r3.Vec{X: 5, Y: 5, Z: 12}, r3.Vec{Z: -1}, 7},
		{"down through the window", r3.Vec{X: 15, Y: 14, Z: 12}, r3.Vec{Z: -1}, -1},
		{"across the window", r3.Vec{X: 12, Y: 14, Z: 2}, r3.Vec{X: 1}, 8},
		{"inside the material, to the side", r3.Vec{X: 30, Y: 14, Z: 2}, r3.Vec{X: 1}, 10},
		{"along the middle edge of the top's two triangles", r3.Vec{X: 20, Y: 15, Z: 9}, r3.Vec{Z: -1}, 4},
		{"away", r3.Vec{X: 5, Y: 5, Z: 12}, r3.Vec{Z: 1}, -1},
	} {
		at, face := rays.First(c.from, c.way, 1e3)
		if c.want < 0 && face >= 0 || c.want >= 0 && (face < 0 || math.Abs(at-c.want) > 1e-9) {
			t.Errorf("%s: face %d at %g, want %g", c.what, face, at, c.want)
		}
	}
	if _, face := rays.First(r3.Vec{X: 5, Y: 5, Z: 12}, r3.Vec{Z: -1}, 6); face >= 0 {
		t.Error("a face was met beyond the end of the ray")
	}
}

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
