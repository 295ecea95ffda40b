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
	"swapworth/note/render"
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
	if _, err := render.Write(&b, render.Target{}, r, r.Document()); err != nil {
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
