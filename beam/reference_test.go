package beam

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
)

// solidStiffness reads the stiffness in N/mm of a reference part from quadratic
// tetrahedra (GetFEM 5.4; testdata/reference/README.md), whole face clamped at
// low x, even traction on the whole face at high x.
func solidStiffness(t testing.TB, part string, load mesh.Axis) float64 {
	t.Helper()
	text, err := os.ReadFile("../testdata/reference/" + part + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var ref struct {
		Clamped struct {
			Stiffness map[string]float64 `json:"stiffness_N_per_mm"`
		} `json:"clamped_xmin_traction_xmax"`
	}
	if err := json.Unmarshal(text, &ref); err != nil {
		t.Fatal(err)
	}
	k := ref.Clamped.Stiffness[load.String()+"_fine"]
	if !(k > 0) {
		t.Fatalf("%s: no stiffness along %s", part, load)
	}
	return k
}

func referencePart(t testing.TB, name string) *mesh.Mesh {
	t.Helper()
	l, err := mesh.Load("../testdata/reference/"+name+".stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l.Mesh
}

// referenceElastic is the material of the reference parts.
var referenceElastic = materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Yield: 250, Density: 2700}

func TestReferencePartsBendLikeTheSolid(t *testing.T) {
	for _, c := range []struct {
		part string
		load mesh.Axis
		band float64 // relative, measured
	}{
		{"slab", mesh.Y, 0.01},
		{"slab", mesh.Z, 0.025},
		{"tube", mesh.Y, 0.01},
		{"tube", mesh.Z, 0.01},
		{"ribbed", mesh.Z, 0.01},
	} {
		r, err := OfPart(referencePart(t, c.part), referenceElastic, Setup{Span: mesh.X, Load: c.load})
		if err != nil {
			t.Fatalf("%s %s: %v", c.part, c.load, err)
		}
		if r.Stiffness == nil {
			t.Fatalf("%s %s: refused: %s", c.part, c.load, r.Refused)
		}
		want := solidStiffness(t, c.part, c.load)
		off := *r.Stiffness/want - 1
		t.Logf("%s %s: %.2f N/mm, solid %.2f, %+.2f %%, stated %+.1f to %+.1f %%", c.part, c.load,
			*r.Stiffness, want, 100*off, 100*r.MethodError.Low, 100*r.MethodError.High)
		if abs(off) > c.band {
			t.Errorf("%s %s: %.2f N/mm, solid %.2f: %+.2f %%", c.part, c.load, *r.Stiffness, want, 100*off)
		}
		if want < *r.Stiffness*(1+r.MethodError.Low) || want > *r.Stiffness*(1+r.MethodError.High) {
			t.Errorf("%s %s: the solid value lies outside the stated error", c.part, c.load)
		}
	}
}

// Pockets take a quarter of the section of both carriages.
func TestPocketedPartsAreNoBeams(t *testing.T) {
	for _, part := range []string{"carriage_old", "carriage_new"} {
		r, err := OfPart(referencePart(t, part), referenceElastic, Setup{Span: mesh.X, Load: mesh.Z, Force: 100})
		if err != nil {
			t.Fatal(err)
		}
		if r.Stiffness != nil || r.MaxStress != nil || r.Frequency != nil || !strings.Contains(r.Refused, "cut-outs take") {
			t.Errorf("%s: %v N/mm, refused: %q", part, r.Stiffness, r.Refused)
		}
	}
}

func TestStubbyPartsAreRefused(t *testing.T) {
	for _, part := range []string{"ribbed", "carriage_old", "carriage_new"} {
		r, err := OfPart(referencePart(t, part), referenceElastic, Setup{Span: mesh.X, Load: mesh.Y, Force: 100})
		if err != nil {
			t.Fatal(err)
		}
		if r.Stiffness != nil || r.MaxStress != nil || r.Frequency != nil || r.Refused == "" {
			t.Errorf("%s: slenderness %.3g was not refused", part, r.Slenderness)
		}
	}
}

func BenchmarkRibbedPlate(b *testing.B) {
	m := referencePart(b, "ribbed")
	for b.Loop() {
		if _, err := OfPart(m, referenceElastic, Setup{Span: mesh.X, Load: mesh.Z, Force: 100}); err != nil {
			b.Fatal(err)
		}
	}
}
