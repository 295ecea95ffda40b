package figure

import (
	"bytes"
	"image/png"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"swapworth/internal/golden"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
	"swapworth/quantity"
)

func referencePart(t *testing.T, name string) *mesh.Mesh {
	t.Helper()
	l, err := mesh.Load(filepath.Join("..", "..", "testdata", "reference", name+".stl"), mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l.Mesh
}

// figureGolden compares the SVG with the golden file and checks that the PNG is
// a picture of the right shape.
func figureGolden(t *testing.T, name string, f Figure) {
	t.Helper()
	svg, err := f.SVG()
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, name+".svg", svg)
	b, err := f.PNG(72)
	if err != nil {
		t.Fatal(err)
	}
	picture, err := png.DecodeConfig(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	w, h := f.Size()
	if abs(picture.Width-int(w.Points())) > 1 || abs(picture.Height-int(h.Points())) > 1 {
		t.Errorf("%s: PNG is %d by %d pixels for a figure of %v by %v points", name, picture.Width, picture.Height, w, h)
	}
	if strings.TrimSpace(f.Alt) == "" {
		t.Errorf("%s has no alternative text", name)
	}
}

func abs(v int) int { return max(v, -v) }

func TestThreeViewsOfTheReferenceCarriages(t *testing.T) {
	f := ThreeViews(quantity.Metric, []PartView{
		{Name: "stock part", Mesh: referencePart(t, "carriage_old"), Cuts: []CutMark{{mesh.X, 60, "A"}}},
		{Name: "redesign", Series: 1, Mesh: referencePart(t, "carriage_new"), Cuts: []CutMark{{mesh.X, 60, "A"}}},
	})
	figureGolden(t, "views", f)
}

func TestCutsOfTheReferenceCarriages(t *testing.T) {
	var views []SectionView
	for i, name := range []string{"carriage_old", "carriage_new"} {
		cut, err := cut.Section(referencePart(t, name), mesh.AxisPlane(mesh.X, 40.1))
		if err != nil {
			t.Fatal(err)
		}
		views = append(views, SectionView{
			Name: []string{"stock part", "redesign"}[i], At: "x = 40.1 mm", Region: cut,
			Centroid: cut.Bounds().Center(), Axes: [2]mesh.Axis{mesh.Y, mesh.Z},
			Says: "A " + quantity.Number(cut.Area(), 4) + " mm2",
		})
	}
	figureGolden(t, "sections", Sections(quantity.Metric, "Section", views))
}

func TestCurvesStartAtZeroAndSayTheirEnds(t *testing.T) {
	f, err := Curves(quantity.Metric, "Flexural rigidity", "x, mm", "EI, N mm2", []Curve{
		{"stock part", []float64{0, 50, 120}, []float64{5.1e7, 4.2e7, 5.1e7}},
		{"redesign", []float64{0, 50, 120}, []float64{8.8e7, 3.1e7, 8.8e7}},
	})
	if err != nil {
		t.Fatal(err)
	}
	figureGolden(t, "curves", f)
	for _, want := range []string{"31000000 at 50", "88000000 at 0"} {
		if !strings.Contains(f.Alt, want) {
			t.Errorf("%q does not say %q", f.Alt, want)
		}
	}
}

func TestSpreadsAreDrawnAndSaid(t *testing.T) {
	f := Spreads(quantity.Metric, "Mass", "g, if only this input were uncertain", []SpreadRow{
		{"weight of the stock part", materials.Range{Low: 63, Nominal: 65, High: 67}},
		{"an input with a name that takes two lines of room", materials.Range{Low: 64, Nominal: 65, High: 68}},
	})
	figureGolden(t, "spreads", f)
	if !strings.Contains(f.Alt, "65.0 (63.0 to 67.0)") {
		t.Errorf("%q does not give the interval", f.Alt)
	}
}

// A finely meshed bore has hundreds of edges under its rim; none of them may eat
// a piece of it.
func TestTheRimOfAHoleIsDrawnAllAround(t *testing.T) {
	m := referencePart(t, "carriage_new")
	pixel := newDepthImage(m, fromAbove).pixel
	v := newView(m, featureEdges(m), fromAbove)
	for _, hole := range feature.Holes(m) {
		for degrees := 0.0; degrees < 360; degrees += 5 {
			sin, cos := math.Sincos(degrees * math.Pi / 180)
			rim := flatPoint{u: hole.Centre.X + hole.Diameter/2*cos, v: hole.Centre.Y + hole.Diameter/2*sin}
			off := math.Inf(1)
			for _, line := range v.visible {
				for i := range line[1:] {
					off = min(off, distanceToLine(rim, line[i], line[i+1]))
				}
			}
			if off > 2*pixel {
				t.Errorf("hole %d: nothing is drawn within %.2f mm of its rim at %g degrees", hole.Number, off, degrees)
			}
		}
	}
}

func TestTheNumberOfAHoleCoversNoOtherHole(t *testing.T) {
	// Two holes of 6 mm beside one of 8 mm, 2 mm apart, at 3 points a mm.
	at := func(x, d float64) vg.Rectangle { return around(vg.Point{X: vg.Length(x), Y: 0}, vg.Length(d/2*3)) }
	holes := []vg.Rectangle{at(0, 6), at(27, 8), at(54, 6)}
	placed := slices.Clone(holes)
	for i := range holes {
		label := leastCovering(placed, i, vg.Point{X: 4, Y: 6})
		for k, other := range placed {
			if k != i && overlap(label, other) > 0 {
				t.Errorf("the number of hole %d covers %v", i+1, other)
			}
		}
		placed = append(placed, label)
	}
}

func TestAStretchFarAboveTheRestMakesTheAxisLogarithmic(t *testing.T) {
	even := []Curve{{"stock part", []float64{0, 50, 120}, []float64{5, 4, 5}}}
	if logFloor(even) != 0 {
		t.Error("an even curve is drawn on a logarithmic axis")
	}
	// A boss 5 mm long is 20 times as stiff as the rest; the end vanishes.
	boss := []Curve{{"arm", []float64{0, 5, 5, 120, 120}, []float64{400, 400, 20, 20, 0}}}
	if floor := logFloor(boss); floor != 4 {
		t.Errorf("got a floor of %g; want a fifth of the middle value", floor)
	}
}
