package fit

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// disc is a round flange with a spigot: places of every kind.
func disc(t testing.TB, thick float64, holes ...hole) *mesh.Mesh {
	return stack(t,
		cut.Layer{Region: region(box(0, 0, 100, 50), holes...), Thickness: thick},
		cut.Layer{Region: region(reversed(circle(hole{50, 25, 20}))), Thickness: 4})
}

func reversed[T any](list []T) []T {
	out := make([]T, len(list))
	for k, x := range list {
		out[len(list)-1-k] = x
	}
	return out
}

func TestPlacesOfTheStockPartAreFoundOnTheTurnedRedesign(t *testing.T) {
	old := disc(t, 5, pattern...)
	turn := mesh.Translation(r3.Vec{X: 31, Y: -7, Z: 2}).Compose(mesh.RotationAbout(r3.Vec{X: 1, Y: 2, Z: 3}, 2))
	new := disc(t, 6, pattern[:3]...).Transformed(turn)
	r := Compare(old, new, Options{})
	own := feature.Holes(new)
	lost := 0
	for _, h := range feature.Holes(old) {
		n, ok := r.Hole(h.Number)
		if !ok {
			lost++
			continue
		}
		got := r.Motion().Apply(own[n-1].Centre)
		if math.Hypot(got.X-h.Centre.X, got.Y-h.Centre.Y) > 1e-3 || math.Abs(own[n-1].Diameter-h.Diameter) > 1e-3 {
			t.Errorf("hole %d became %+v", h.Number, got)
		}
	}
	if lost != 1 {
		t.Errorf("%d holes without a match, want the one that is gone", lost)
	}

	at, look, err := r.Face(r3.Vec{X: 3, Y: 25, Z: 5}, r3.Vec{Z: 1})
	if err != nil || math.Abs(at.Z-5) > 1.001 || math.Abs(at.X-3) > 1e-3 || look.Z < 0.999 {
		t.Errorf("the upper face: %v looking %v, %v", at, look, err)
	}
	if _, _, err := r.Face(r3.Vec{X: 3, Y: 25, Z: 5}, r3.Vec{X: 1, Y: 1}); err == nil || !strings.Contains(err.Error(), "(3, 25, 5)") {
		t.Errorf("a face that is not there: %v", err)
	}

	for _, w := range feature.Find(old).Rounds {
		if w.Concave {
			continue
		}
		got, err := r.Round(w)
		if err != nil || math.Abs(got.Radius-10) > 1e-3 || math.Abs(got.Centre.X-50) > 1e-3 {
			t.Errorf("the spigot: %+v, %v", got, err)
		}
		w.Radius = 3
		if _, err := r.Round(w); err == nil {
			t.Error("a spigot of 6 mm was found")
		}
	}
	r = Compare(handed(t), mirror(handed(t)), Options{})
	if n, ok := r.Hole(1); ok {
		t.Errorf("of a mirrored part: hole %d", n)
	}
}

// The upper face of the plate stays the upper face, though a pocket lies under the
// point that names it, and though its level is another.
func TestAFaceOverANewPocketIsTheFaceAroundIt(t *testing.T) {
	stock, err := mesh.Load("../../testdata/plate_old.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	redesign, err := mesh.Load("../../testdata/plate_new.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	top := redesign.Mesh.Bounds().Max.Z
	r := Compare(stock.Mesh, redesign.Mesh, Options{})
	at, look, err := r.Face(r3.Vec{X: 55, Y: 70.333, Z: 5}, r3.Vec{Z: 1})
	if err != nil || math.Abs(at.Z-top) > 1e-6 || look.Z < 0.999 {
		t.Errorf("the face over the pocket became that at %v, looking %v (%v); the upper face is at %g", at, look, err, top)
	}
}
