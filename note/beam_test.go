package note

import (
	"strings"
	"testing"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
)

func beamReport(t *testing.T, part string, s beam.Setup) Document {
	t.Helper()
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Yield: 250}
	r, err := beam.OfPart(referencePart(t, part), e, s)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := BeamReport{File: part, Result: r}.Document()
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestARefusedBeamSaysSoFirst(t *testing.T) {
	doc := beamReport(t, "carriage_old", beam.Setup{Load: mesh.Y})
	if first := doc.Lead[0]; first.Tone != Bad || !strings.Contains(first.Text, "use the solid check") {
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
	if len(doc.Lead) != 2 || doc.Lead[1].Tone != Bad || !strings.Contains(doc.Lead[1].Text, "safety factor 0.417") {
		t.Errorf("%+v", doc.Lead)
	}
}
