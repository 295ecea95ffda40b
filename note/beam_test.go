package note

import (
	"path/filepath"
	"strings"
	"testing"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/note/render"
)

func beamReport(t *testing.T, part string, s beam.Setup) render.Document {
	t.Helper()
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Yield: 250}
	r, err := beam.OfPart(referencePart(t, part), e, s)
	if err != nil {
		t.Fatal(err)
	}
	return BeamReport{File: part, Result: r}.Document()
}

func TestARefusedBeamSaysSoFirst(t *testing.T) {
	doc := beamReport(t, "carriage_old", beam.Setup{Load: mesh.Y})
	if first := doc.Lead[0]; first.Tone != render.Bad || !strings.Contains(first.Text, "use the solid check") {
		t.Errorf("%+v", doc.Lead)
	}
}

func TestABeamWithoutALoadNamesTheForceAtYield(t *testing.T) {
	doc := beamReport(t, "slab", beam.Setup{Load: mesh.Z})
	// F = yield W/L = 250 x 20 x 25/6/100
	if len(doc.Lead) != 2 || !strings.Contains(doc.Lead[1].Text, "it yields at 208 N") {
		t.Errorf("%+v", doc.Lead)
	}
}

func TestABeamThatYieldsSaysSo(t *testing.T) {
	doc := beamReport(t, "slab", beam.Setup{Load: mesh.Z, Force: 500})
	if len(doc.Lead) != 2 || doc.Lead[1].Tone != render.Bad || !strings.Contains(doc.Lead[1].Text, "safety factor 0.417") {
		t.Errorf("%+v", doc.Lead)
	}
}

func referencePart(t *testing.T, name string) *mesh.Mesh {
	t.Helper()
	l, err := mesh.Load(filepath.Join("..", "testdata", "reference", name+".stl"), mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l.Mesh
}
