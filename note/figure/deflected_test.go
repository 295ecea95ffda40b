package figure

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/solid"
)

func TestAStressThatIsNoNumberHasTheColourOfNone(t *testing.T) {
	if got := rampColor(math.NaN()); got != rampColor(0) {
		t.Errorf("colour %v, want %v", got, rampColor(0))
	}
	if rampColor(2) != stressRamp[len(stressRamp)-1] {
		t.Error("more than the largest stress has not the last colour")
	}
}

// loadedBar is a bar clamped at one end and pushed sideways at the other.
func loadedBar(t *testing.T) LoadedPart {
	t.Helper()
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	p, err := solid.EndProblem(bar, mesh.X, mesh.Y, "cantilever", 100)
	if err != nil {
		t.Fatal(err)
	}
	r, err := solid.Check(context.Background(), bar, materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Yield: 50}, p,
		solid.Options{Unknowns: 4000, Shape: true})
	if err != nil {
		t.Fatal(err)
	}
	return LoadedPart{Mesh: bar, Shape: r.Deflected}
}

func TestTheDeflectedPartIsDrawnWhereItGoes(t *testing.T) {
	part := loadedBar(t)
	f := StressViews(quantity.Metric, "bar", part)
	if _, err := f.SVG(); err != nil {
		t.Fatal(err)
	}
	a, err := f.PNG(60)
	if err != nil {
		t.Fatal(err)
	}
	b, err := StressViews(quantity.Metric, "bar", part).PNG(60)
	if err != nil || !bytes.Equal(a, b) {
		t.Errorf("the same part gives different pictures (%v)", err)
	}
	if !strings.Contains(f.Alt, "enlarged") {
		t.Errorf("alternative text %q", f.Alt)
	}
	// the free end moves most, the clamped one not at all
	for i, p := range part.Shape.Points {
		if p.X == 0 && r3.Norm(part.Shape.Moves[i]) > 1e-9 {
			t.Fatalf("the clamped end moves by %g mm at %v", r3.Norm(part.Shape.Moves[i]), p)
		}
		if p.X == 100 && part.Shape.Moves[i].Y < 0.1 {
			t.Fatalf("the loaded end moves by %v at %v", part.Shape.Moves[i], p)
		}
	}
}
