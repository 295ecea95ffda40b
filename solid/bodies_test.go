package solid

import (
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/mesh"
)

func TestALooseBodyIsLeftOutAndMentioned(t *testing.T) {
	t.Parallel()
	m, _ := loadReference(t, "slab")
	p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 100)
	if err != nil {
		t.Fatal(err)
	}
	want := solve(t, m, aluminium, p, Options{Unknowns: 25000})
	loose := mesh.Merge(m, mesh.Cuboid(r3.Vec{X: 40, Y: 8, Z: 5.5}, r3.Vec{X: 60, Y: 12, Z: 7}))
	got := solve(t, loose, aluminium, p, Options{Unknowns: 25000})
	near(t, "stiffness beside a loose body", got.Stiffness, want.Stiffness, 0.5)
	if !strings.Contains(strings.Join(got.Warnings, " "), "separate body") {
		t.Errorf("warnings %q do not mention the loose body", got.Warnings)
	}
	// a load on the loose body finds nothing to push
	p.Cases[0].Loads[0].Place = FaceAt(r3.Vec{X: 50, Y: 10, Z: 7}, r3.Vec{})
	if _, err := Check(t.Context(), loose, aluminium, p, Options{Unknowns: 8000}); err == nil || !strings.Contains(err.Error(), "nothing holds the body on which face:50,10,7 lies") {
		t.Errorf("a load on a loose body: got %v", err)
	}
}

// Two shells that overlap are one body, and its common volume counts once.
func TestOverlappingShellsAreOneBody(t *testing.T) {
	whole := bar(100, 20, 5)
	halves := mesh.Merge(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 60, Y: 20, Z: 5}), mesh.Cuboid(r3.Vec{X: 40}, r3.Vec{X: 100, Y: 20, Z: 5}))
	var k []float64
	for _, m := range []*mesh.Mesh{whole, halves} {
		p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 100)
		if err != nil {
			t.Fatal(err)
		}
		k = append(k, solve(t, m, aluminium, p, Options{Unknowns: 8000}).Stiffness)
	}
	near(t, "two overlapping halves", k[1], k[0], 0.5)
}

// A saw cut narrower than a cell must not be bridged: two leaves side by side
// are half as stiff each as their sum, not eight times.
func TestANarrowSlotStaysOpen(t *testing.T) {
	// a fork: leaves 3 thick, a cut of 0.5 between, joined by a block at low x
	fork := mesh.Merge(
		mesh.Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 15, Z: 6.5}),
		mesh.Cuboid(r3.Vec{X: 5}, r3.Vec{X: 90, Y: 15, Z: 3}),
		mesh.Cuboid(r3.Vec{X: 5, Z: 3.5}, r3.Vec{X: 90, Y: 15, Z: 6.5}))
	p, err := EndProblem(fork, mesh.X, mesh.Z, "cantilever", 10)
	if err != nil {
		t.Fatal(err)
	}
	r := solve(t, fork, aluminium, p, Options{Unknowns: 20000})
	leaf, block := 15.0*27/12, 15*6.5*6.5*6.5/12
	flex := 80.0*80*80/(3*70000*2*leaf) + (90.0*90*90-80*80*80)/(3*70000*block)
	near(t, "two leaves on a block", r.Stiffness, 1/flex, 4)
}
