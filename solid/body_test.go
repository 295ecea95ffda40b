package solid

import (
	"context"
	"fmt"
	"math"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
)

// What a body found before must not change what it finds next: every problem,
// whatever the order, comes out as on a body of its own.
func TestABodyAnswersAsIfItWereAskedForTheFirstTime(t *testing.T) {
	t.Parallel()
	m, _ := loadReference(t, "ribbed")
	body, err := NewBody(m)
	if err != nil {
		t.Fatal(err)
	}
	steel := materials.Elastic{YoungsModulus: 210000, Poisson: 0.3, Yield: 235, Density: 7850}
	hard := materials.Elastic{YoungsModulus: 72000, Poisson: aluminium.Poisson, Yield: 500, Density: 2810}
	opt := Options{Unknowns: 5000, Grids: 2, Modes: 1}
	for _, c := range []struct {
		support string
		load    mesh.Axis
		force   float64
		e       materials.Elastic
	}{
		{"cantilever", mesh.Z, 100, aluminium},
		{"cantilever", mesh.Y, 100, aluminium},
		{"fixed-fixed", mesh.Z, 100, aluminium},
		{"cantilever", mesh.Z, 100, hard},
		{"cantilever", mesh.Z, -30, aluminium},
		{"propped", mesh.Z, 100, steel},
		{"cantilever", mesh.Z, 100, steel},
		{"cantilever", mesh.Z, 100, aluminium},
	} {
		p, err := EndProblem(m, mesh.X, c.load, c.support, c.force)
		if err != nil {
			t.Fatal(err)
		}
		want, err := Check(t.Context(), m, c.e, p, opt)
		if err != nil {
			t.Fatal(err)
		}
		got, err := body.Check(t.Context(), c.e, p, opt)
		if err != nil {
			t.Fatal(err)
		}
		what := fmt.Sprintf("%s along %s, E %g", c.support, c.load, c.e.YoungsModulus)
		near(t, what+": stiffness", got.Stiffness, want.Stiffness, 1e-7)
		near(t, what+": error", got.ErrorPercent, want.ErrorPercent, 1e-5)
		near(t, what+": stress", got.MaxStress, want.MaxStress, 1e-4)
		near(t, what+": movement", got.Cases[0].Largest, want.Cases[0].Largest, 1e-6)
		near(t, what+": frequency", *got.Frequency, *want.Frequency, 1e-5)
		for a := range 3 {
			if off := math.Abs(got.Cases[0].Reaction[a] - want.Cases[0].Reaction[a]); off > 1e-6*math.Abs(c.force) {
				t.Errorf("%s: reaction %v, want %v", what, got.Cases[0].Reaction, want.Cases[0].Reaction)
			}
		}
		if fmt.Sprint(got.Warnings) != fmt.Sprint(want.Warnings) {
			t.Errorf("%s: warnings %q, want %q", what, got.Warnings, want.Warnings)
		}
	}
}

// A refined check keeps the grids of the first and adds one.
func TestARefinedCheckAddsAGrid(t *testing.T) {
	m, ref := loadReference(t, "slab")
	body, err := NewBody(m)
	if err != nil {
		t.Fatal(err)
	}
	p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 100)
	if err != nil {
		t.Fatal(err)
	}
	opt := Options{Unknowns: 4000, Grids: 2}
	first, err := body.Check(t.Context(), aluminium, p, opt)
	if err != nil {
		t.Fatal(err)
	}
	second, err := body.Check(t.Context(), aluminium, p, opt.Refined())
	if err != nil {
		t.Fatal(err)
	}
	if len(second.Grids) != 3 || second.Grids[1].Stiffness != first.Grids[1].Stiffness {
		t.Errorf("grids %v after %v", second.Grids, first.Grids)
	}
	if second.Unknowns < 4*first.Unknowns {
		t.Errorf("%d unknowns after %d", second.Unknowns, first.Unknowns)
	}
	near(t, "slab", second.Stiffness, ref.Case.K["z_fine"], second.ErrorPercent)
}

// BenchmarkBody compares what a first check takes with another direction, another
// support, and another material on the same body.
func BenchmarkBody(b *testing.B) {
	m, _ := loadReference(b, "carriage_new")
	ask := func(body *Body, support string, load mesh.Axis, e materials.Elastic) float64 {
		p, err := EndProblem(m, mesh.X, load, support, 100)
		if err != nil {
			b.Fatal(err)
		}
		before := processorSeconds()
		if _, err := body.Check(context.Background(), e, p, Quick()); err != nil {
			b.Fatal(err)
		}
		return processorSeconds() - before
	}
	hard := materials.Elastic{YoungsModulus: 72000, Poisson: aluminium.Poisson, Density: 2810}
	for b.Loop() {
		body, err := NewBody(m)
		if err != nil {
			b.Fatal(err)
		}
		first := ask(body, "cantilever", mesh.Z, aluminium)
		b.ReportMetric(first, "cpu-s")
		b.ReportMetric(ask(body, "cantilever", mesh.Y, aluminium)/first, "direction/first")
		b.ReportMetric(ask(body, "cantilever", mesh.Y, hard)/first, "material/first")
		b.ReportMetric(ask(body, "propped", mesh.Z, aluminium)/first, "support/first")
	}
}
