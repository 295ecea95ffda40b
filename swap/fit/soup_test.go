package fit

import (
	"math"
	"testing"

	"swapworth/internal/property"
	"swapworth/mesh"
	"swapworth/mesh/asmade"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// soup draws triangles that bound nothing: shared, doubled, flipped, without
// area, far away.
func soup(t *rapid.T) *mesh.Mesh {
	coordinate := rapid.OneOf(rapid.Float64Range(-20, 20), rapid.SampledFrom([]float64{0, 1, 10, 1e6, -1e-3}))
	n := rapid.IntRange(3, 14).Draw(t, "vertices")
	m := &mesh.Mesh{}
	for range n {
		m.Vertices = append(m.Vertices, r3.Vec{X: coordinate.Draw(t, "x"), Y: coordinate.Draw(t, "y"), Z: coordinate.Draw(t, "z")})
	}
	vertex := rapid.Int32Range(0, int32(n-1))
	for range rapid.IntRange(0, 30).Draw(t, "faces") {
		m.Faces = append(m.Faces, [3]int32{vertex.Draw(t, "a"), vertex.Draw(t, "b"), vertex.Draw(t, "c")})
	}
	return m
}

func TestNoMeshMakesItPanic(t *testing.T) {
	property.Few(t, 200, func(t *rapid.T) {
		a, b := soup(t), soup(t)
		r := Compare(a, b, Options{})
		for _, h := range r.Holes {
			if math.IsNaN(h.Diameter + h.Depth + h.Centre[0]) {
				t.Fatalf("%+v", h)
			}
		}
		p := asmade.Read(a)
		axis := asmade.MillAxis(p)
		_, _ = asmade.Unfaced(p, axis, 50)
		_, _ = asmade.StockLeft(p, axis, 0.1, 0.1, 13)
		_, _ = asmade.WithoutChamfers(p)
		_, _ = asmade.Oversize(p, 0.1)
		_, _ = asmade.AtLimit(p, asmade.Medium, true)
		_, _ = asmade.Registration(p, axis, 0.1)
	})
	Compare(&mesh.Mesh{}, &mesh.Mesh{}, Options{})
}
