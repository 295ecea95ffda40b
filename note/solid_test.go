package note

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/solid"
)

func solidReport(t *testing.T) SolidReport {
	t.Helper()
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	var p solid.Problem
	for _, axis := range []mesh.Axis{mesh.Y, mesh.Z} {
		one, err := solid.EndProblem(bar, mesh.X, axis, "cantilever", 100)
		if err != nil {
			t.Fatal(err)
		}
		one.Cases = append(p.Cases, one.Cases...)
		p = one
	}
	r, err := solid.Check(context.Background(), bar, materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Yield: 50}, p,
		solid.Options{Unknowns: 4000, Shape: true})
	if err != nil {
		t.Fatal(err)
	}
	return SolidReport{File: "bar.stl", Result: r, Mesh: bar}
}

func TestASolidCheckFitsATerminalAndSaysWhatYields(t *testing.T) {
	r := solidReport(t)
	var b bytes.Buffer
	if err := Write(&b, Target{}, r, r.Document()); err != nil {
		t.Fatal(err)
	}
	out := b.String()
	for _, line := range strings.Split(out, "\n") {
		if utf8.RuneCountInString(line) > 80 {
			t.Errorf("a line of %d columns: %s", utf8.RuneCountInString(line), line)
		}
	}
	for _, say := range []string{"makes it yield", "grid-dependent", "extrapolated"} {
		if !strings.Contains(out, say) {
			t.Errorf("the table does not say %q:\n%s", say, out)
		}
	}
}

func TestTheDeflectedPartIsDrawnWhereItGoes(t *testing.T) {
	r := solidReport(t)
	f := DeflectedPart("bar", r.Mesh, r.Deflected)
	if _, err := f.SVG(); err != nil {
		t.Fatal(err)
	}
	a, err := f.PNG(60)
	if err != nil {
		t.Fatal(err)
	}
	b, err := DeflectedPart("bar", r.Mesh, r.Deflected).PNG(60)
	if err != nil || !bytes.Equal(a, b) {
		t.Errorf("the same part gives different pictures (%v)", err)
	}
	if !strings.Contains(f.Alt, "enlarged") {
		t.Errorf("alternative text %q", f.Alt)
	}
	// the free end moves most, the clamped one not at all
	for i, p := range r.Deflected.Points {
		if p.X == 0 && r3.Norm(r.Deflected.Moves[i]) > 1e-9 {
			t.Fatalf("the clamped end moves by %g mm at %v", r3.Norm(r.Deflected.Moves[i]), p)
		}
		if p.X == 100 && r.Deflected.Moves[i].Y < 0.1 {
			t.Fatalf("the loaded end moves by %v at %v", r.Deflected.Moves[i], p)
		}
	}
}
