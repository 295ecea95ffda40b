package repair

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// referenceParts returns each reference mesh with the signed volume of its
// polyhedron as the B-rep kernel's export states it (testdata/reference).
func referenceParts(t *testing.T) map[string]struct {
	mesh   *mesh.Mesh
	volume float64 // mm3
} {
	t.Helper()
	parts := map[string]struct {
		mesh   *mesh.Mesh
		volume float64
	}{}
	for _, name := range []string{"slab", "carriage_old", "carriage_new", "tube", "ribbed"} {
		stem := filepath.Join("../../testdata/reference", name)
		text, err := os.ReadFile(stem + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var truth struct {
			STL struct {
				Volume float64 `json:"volume_mm3"`
			}
		}
		if err := json.Unmarshal(text, &truth); err != nil {
			t.Fatal(err)
		}
		l, err := mesh.Load(stem+".stl", mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		parts[name] = struct {
			mesh   *mesh.Mesh
			volume float64
		}{l.Mesh, truth.STL.Volume}
	}
	return parts
}

// Between neighbouring vertex positions the area of the section is a quadratic
// polynomial, which Simpson's rule integrates exactly.
func TestSectionsOfReferencePartsIntegrateToTheirVolume(t *testing.T) {
	tried := map[string]int{}
	for name, part := range referenceParts(t) {
		for _, a := range []mesh.Axis{mesh.X, mesh.Y, mesh.Z} {
			s := cut.NewSlicer(part.mesh, a)
			area := func(r cut.Region, err error) float64 {
				if err != nil {
					t.Fatalf("%s along %v: %v", name, a, err)
				}
				return r.Area()
			}
			xs := s.Positions(0)
			if len(xs) > 2500 {
				continue // the carriages: their halves are checked below
			}
			tried[name]++
			var volume float64
			for i := 0; i+1 < len(xs); i++ {
				lo, hi := xs[i], xs[i+1]
				volume += (hi - lo) / 6 * (area(s.Above(lo)) + 4*area(s.At(lo/2+hi/2)) + area(s.At(hi)))
			}
			if off := volume/part.volume - 1; math.Abs(off) > 1e-9 {
				t.Errorf("%s along %v: %.12g mm3, want %.12g mm3", name, a, volume, part.volume)
			}
		}
	}
	if len(tried) != 3 {
		t.Errorf("only %v were cut", tried)
	}
}

func TestHalvesOfReferencePartsAddUpAndEndsComeBack(t *testing.T) {
	for name, part := range referenceParts(t) {
		box := part.mesh.Bounds()
		plane, err := mesh.PlaneFromNormal(box.Center(), box.Size())
		if err != nil {
			t.Fatal(err)
		}
		var sum float64
		for _, p := range []mesh.Plane{plane, plane.Flipped()} {
			half, err := cut.Clip(part.mesh, p)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if !mesh.Check(half).Closed {
				t.Errorf("%s: a half is not closed", name)
			}
			sum += half.SignedVolume()
		}
		if off := sum/part.volume - 1; math.Abs(off) > 1e-9 {
			t.Errorf("%s: halves add up to %.12g mm3, want %.12g mm3", name, sum, part.volume)
		}

		open := &mesh.Mesh{Vertices: part.mesh.Vertices}
		for f := range part.mesh.Faces {
			if a, b, c := part.mesh.Triangle(f); min(a.X, b.X, c.X) < box.Max.X {
				open.Faces = append(open.Faces, part.mesh.Faces[f])
			}
		}
		whole, repairs := gaps(open)
		if off := whole.SignedVolume()/part.volume - 1; math.Abs(off) > 1e-9 || !mesh.Check(whole).Closed || len(repairs) != 1 {
			t.Errorf("%s without its end: %.12g mm3, want %.12g mm3, after %v", name, whole.SignedVolume(), part.volume, repairs)
		}
	}
}
