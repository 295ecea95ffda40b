package mesh_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// holed is a plate 40 x 30 x 5 with a window 10 x 8 in it.
func holed(t testing.TB) *mesh.Mesh {
	t.Helper()
	m, err := cut.Extrude(cut.Region{{
		Outer: []r2.Vec{{}, {X: 40}, {X: 40, Y: 30}, {Y: 30}},
		Holes: [][]r2.Vec{{{X: 10, Y: 10}, {X: 10, Y: 18}, {X: 20, Y: 18}, {X: 20, Y: 10}}},
	}}, mesh.AxisPlane(mesh.Z, 0), 5)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestARayMeetsTheNearestFace(t *testing.T) {
	rays := mesh.NewRays(holed(t))
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
