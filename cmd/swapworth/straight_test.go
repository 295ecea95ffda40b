package main

import (
	"bytes"
	"encoding/json"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// A part gives the same stiffness however it lies in its file, and says that it was
// straightened.
func TestAPartThatLiesAskewIsBentAlongItsOwnSides(t *testing.T) {
	straight := filepath.Join("..", "..", "testdata", "reference", "slab.stl")
	l, err := mesh.Load(straight, mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	askew := filepath.Join(t.TempDir(), "askew.stl")
	if err := mesh.WriteFile(askew, l.Mesh.Transformed(mesh.RotationAbout(r3.Vec{X: 0.2, Y: 0.1, Z: 1}, 0.5)), false); err != nil {
		t.Fatal(err)
	}
	for _, command := range [][]string{
		{"beam", "--load-along", "y"},
		{"solid", "--load-along", "z", "--unknowns", "6000", "--grids", "2", "--modes", "0"},
	} {
		of := func(path string) (stiffness float64, assumed string) {
			var out bytes.Buffer
			root := newRoot()
			root.SetOut(&out)
			root.SetArgs(append([]string{command[0], path, "--material", "6061-T6", "--format", "json"}, command[1:]...))
			if err := root.Execute(); err != nil {
				t.Fatalf("%s %s: %v", command[0], path, err)
			}
			var r struct {
				Stiffness   float64  `json:"stiffness_n_per_mm"`
				Assumptions []string `json:"assumptions"`
			}
			if err := json.Unmarshal(out.Bytes(), &r); err != nil {
				t.Fatal(err)
			}
			return r.Stiffness, strings.Join(r.Assumptions, "\n")
		}
		want, _ := of(straight)
		got, said := of(askew)
		if !(want > 0) || math.Abs(got/want-1) > 1e-3 {
			t.Errorf("%s: %g N/mm askew, %g straight", command[0], got, want)
		}
		if !strings.Contains(said, "askew") || !strings.Contains(said, "100 mm") {
			t.Errorf("%s: nothing is said of how the part lies: %s", command[0], said)
		}
	}
}
