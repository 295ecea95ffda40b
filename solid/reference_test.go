package solid

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
)

// long runs the reference parts at full size: go test ./solid -long
var long = flag.Bool("long", false, "solve the reference parts at full size")

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
	t.Parallel()
	for _, name := range []string{"slab", "tube", "ribbed", "carriage_old", "carriage_new"} {
		m, ref := loadReference(t, name)
		e := materials.Elastic{YoungsModulus: ref.Case.E, Poisson: ref.Case.Nu}
		var p Problem
		for _, axis := range []mesh.Axis{mesh.Y, mesh.Z} {
			one, err := EndProblem(m, mesh.X, axis, "cantilever", ref.Case.Force)
			if err != nil {
				t.Fatal(err)
			}
			one.Cases = append(p.Cases, one.Cases...)
			p = one
		}
		unknowns := 30_000
		if *long {
			unknowns = usualUnknowns
		}
		r := solve(t, m, e, p, Options{Unknowns: unknowns})
		for _, c := range r.Cases {
			want := ref.Case.K[c.Name+"_fine"]
			near(t, name+" along "+c.Name, c.Stiffness, want, 3)
			if off := 100 * math.Abs(c.Stiffness/want-1); off > c.ErrorPercent+0.5 {
				t.Errorf("%s along %s is off by %.2f %%, its own estimate is %.2f %%", name, c.Name, off, c.ErrorPercent)
			}
		}
	}
}

// The preconditioner is worth its name only if finer grids take no more
// iterations.
func TestFinerGridsTakeNoMoreIterations(t *testing.T) {
	t.Parallel()
	m, _ := loadReference(t, "carriage_new")
	p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 100)
	if err != nil {
		t.Fatal(err)
	}
	var its []int
	for _, unknowns := range []int{12_000, 30_000, 90_000} {
		its = append(its, solve(t, m, aluminium, p, Options{Unknowns: unknowns, Grids: 2}).Iterations)
	}
	if its[2] > its[0]+its[0]/4 || its[2] > 40 {
		t.Errorf("iterations %v: they grow with the grid", its)
	}
}
