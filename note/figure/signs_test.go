package figure

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/solid"
)

func TestHoldsAndLoadsAreDrawnOnTheViewsAndSaidInWords(t *testing.T) {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	c := solid.CaseResult{
		Reactions: []solid.Reaction{{Place: "end:low", Centre: [3]float64{0, 10, 2.5}}},
		Acts: []solid.Act{
			{Centre: [3]float64{100, 10, 2.5}, Force: [3]float64{0, 0, -5}, Moment: [3]float64{300, 0, 0}},
			{Centre: [3]float64{50, 10, 5}, Force: [3]float64{0, 0, -40}, Pressure: 0.1},
		},
	}
	bare := ThreeViews(quantity.Metric, []PartView{{Name: "bar", Mesh: bar}})
	f := ThreeViews(quantity.Metric, []PartView{{Name: "bar", Mesh: bar, Signs: SignsOf(c)}})
	for _, want := range []string{
		"held (hatched square) at (0, 10, 2.5) mm", "force (arrow) at (100, 10, 2.5) mm",
		"moment (arrow with two heads) at (100, 10, 2.5) mm", "pressure (arrow with a bar) at (50, 10, 5) mm",
	} {
		if !strings.Contains(f.Alt, want) {
			t.Errorf("no %q in %q", want, f.Alt)
		}
	}
	// at least a square, a shaft and two heads in each of three views
	if more := count(t, f) - count(t, bare); more < 3*4 {
		t.Errorf("%d more strokes with holds and loads", more)
	}
}

func TestTwoLoadedPartsShareScaleAndLegend(t *testing.T) {
	small, large := loadedBar(t), loadedBar(t)
	for i := range large.Shape.Stress {
		large.Shape.Stress[i] *= 3
	}
	f := StressViews(quantity.Metric, "both", LoadedPart{"stock part", small.Mesh, small.Shape}, LoadedPart{"redesign", large.Mesh, large.Shape})
	svg, err := f.SVG()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"stock part", "redesign"} {
		if !bytes.Contains(svg, []byte(name)) {
			t.Errorf("%s is not named", name)
		}
	}
	if legend := quantity.Number(slices.Max(large.Shape.Stress), 3) + " MPa"; !bytes.Contains(svg, []byte(legend)) {
		t.Errorf("the legend does not end at %s", legend)
	}
	if !strings.Contains(f.Alt, " and ") {
		t.Errorf("alternative text %q", f.Alt)
	}
}

func count(t *testing.T, f Figure) int {
	t.Helper()
	svg, err := f.SVG()
	if err != nil {
		t.Fatal(err)
	}
	return bytes.Count(svg, []byte("<path"))
}
