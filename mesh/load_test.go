package mesh

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

func TestReferencePartsAreClosedWithTheVolumeOfTheirPolyhedron(t *testing.T) {
	for _, name := range []string{"slab", "carriage_old", "carriage_new", "tube", "ribbed"} {
		var reference struct {
			STL struct {
				Triangles int     `json:"triangles"`
				Volume    float64 `json:"volume_mm3"`
			} `json:"stl"`
		}
		text, err := os.ReadFile("../testdata/reference/" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &reference); err != nil {
			t.Fatal(err)
		}
		l, err := Load("../testdata/reference/"+name+".stl", Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !l.Report.Closed || len(l.Report.Shells) != 1 || len(l.Warnings) > 0 {
			t.Errorf("%s: %+v %v, want one closed shell and no warning", name, l.Report, l.Warnings)
		}
		if l.Triangles != reference.STL.Triangles {
			t.Errorf("%s: %d triangles, want %d", name, l.Triangles, reference.STL.Triangles)
		}
		// The reference was summed in another order: 1e-9 as its makers state.
		if v := l.Mesh.SignedVolume(); math.Abs(v/reference.STL.Volume-1) > 1e-9 {
			t.Errorf("%s: volume %.12g mm3, want %.12g", name, v, reference.STL.Volume)
		}
	}
}
