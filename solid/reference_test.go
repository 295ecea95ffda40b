package solid

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
)

// reference is what the quadratic tetrahedra of another program found for a
// part clamped on its face at low x and loaded on its face at high x; see
// testdata/reference/README.md.
type reference struct {
	Case struct {
		E     float64            `json:"E_MPa"`
		Nu    float64            `json:"nu"`
		Force float64            `json:"force_N"`
		K     map[string]float64 `json:"stiffness_N_per_mm"`
	} `json:"clamped_xmin_traction_xmax"`
}

func loadReference(t testing.TB, name string) (*mesh.Mesh, reference) {
	t.Helper()
	text, err := os.ReadFile("../testdata/reference/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var r reference
	if err := json.Unmarshal(text, &r); err != nil {
		t.Fatal(err)
	}
	l, err := mesh.Load("../testdata/reference/"+name+".stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l.Mesh, r
}

func TestReferencePartsComeOutAsWithFineTetrahedra(t *testing.T) {
	for _, name := range []string{"slab", "tube", "ribbed", "carriage_old", "carriage_new"} {
		m, ref := loadReference(t, name)
		e := materials.Elastic{YoungsModulus: ref.Case.E, Poisson: ref.Case.Nu}
		for _, axis := range []mesh.Axis{mesh.Y, mesh.Z} {
			p, err := EndProblem(m, mesh.X, axis, "cantilever", ref.Case.Force)
			if err != nil {
				t.Fatal(err)
			}
			r, err := Check(context.Background(), m, e, p, Options{Unknowns: 60000})
			if err != nil {
				t.Fatalf("%s along %s: %v", name, axis, err)
			}
			want := ref.Case.K[axis.String()+"_fine"]
			off := 100 * (r.Stiffness/want - 1)
			t.Logf("%-13s %s %9.2f want %9.2f: %+.2f %% (own estimate %.2f %%), %d unknowns, %.2f s",
				name, axis, r.Stiffness, want, off, r.ErrorPercent, r.Unknowns, r.Seconds)
			for _, g := range r.Grids {
				t.Logf("    %d unknowns, edge %.2f, k %.2f (%+.2f %%), %d iterations", g.Unknowns, g.Edge, g.Stiffness, 100*(g.Stiffness/want-1), g.Iterations)
			}
			if math.Abs(off) > 3 {
				t.Errorf("%s along %s: %.2f N/mm, the tetrahedra gave %.2f", name, axis, r.Stiffness, want)
			}
		}
	}
}
