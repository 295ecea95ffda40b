package note

import (
	"bytes"
	"image/png"
	"path/filepath"
	"strings"
	"testing"

	"swapworth/mesh"
)

func referencePart(t *testing.T, name string) *mesh.Mesh {
	t.Helper()
	l, err := mesh.Load(filepath.Join("..", "testdata", "reference", name+".stl"), mesh.Options{})
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
	golden(t, name+".svg", svg)
	b, err := f.PNG(72)
	if err != nil {
		t.Fatal(err)
	}
	picture, err := png.DecodeConfig(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	w, h := f.size()
	if abs(picture.Width-int(w.Points())) > 1 || abs(picture.Height-int(h.Points())) > 1 {
		t.Errorf("%s: PNG is %d by %d pixels for a figure of %v by %v points", name, picture.Width, picture.Height, w, h)
	}
	if strings.TrimSpace(f.Alt) == "" {
		t.Errorf("%s has no alternative text", name)
	}
}

func abs(v int) int { return max(v, -v) }

func TestThreeViewsOfTheReferenceCarriages(t *testing.T) {
	f := ThreeViews([]PartView{
		{Name: "stock part", Mesh: referencePart(t, "carriage_old"), Cuts: []CutMark{{mesh.X, 60, "A"}}},
		{Name: "redesign", Mesh: referencePart(t, "carriage_new"), Cuts: []CutMark{{mesh.X, 60, "A"}}},
	})
	figureGolden(t, "views", f)
}
