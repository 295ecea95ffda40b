package mesh_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"swapworth/mass"
	"swapworth/mesh"
)

type demoSolid struct {
	Volume   float64    `json:"volume_mm3"`
	Centroid [3]float64 `json:"centroid_mm"`
}

type demoList struct {
	Parts []struct {
		File         string
		Drawn, Round demoSolid
	}
	Broken []struct{ File string }
}

func readDemo(t *testing.T) demoList {
	t.Helper()
	text, err := os.ReadFile("../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	var list demoList
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	if len(list.Parts) < 5 || len(list.Broken) < 5 {
		t.Fatalf("demo.json lists %d parts and %d broken files", len(list.Parts), len(list.Broken))
	}
	return list
}

// Source of the values: the closed forms of discs, sectors and rectangles that
// testdata/generate writes beside the meshes; the rest is float32 rounding.
func TestDemoPartsAreClosedAndHaveTheirClosedFormVolume(t *testing.T) {
	for _, p := range readDemo(t).Parts {
		l, err := mesh.Load(filepath.Join("../testdata", p.File), mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !l.Report.Closed || len(l.Report.Shells) != 1 || l.Turned || len(l.Warnings) > 0 {
			t.Errorf("%s: %+v %v", p.File, l.Report, l.Warnings)
		}
		got := mass.Of(l.Mesh)
		if off := got.Volume/p.Drawn.Volume - 1; math.Abs(off) > 1e-6 {
			t.Errorf("%s: %.10g mm3, drawn %.10g mm3, off by %g", p.File, got.Volume, p.Drawn.Volume, off)
		}
		if off := got.Volume/p.Round.Volume - 1; math.Abs(off) > 1e-3 {
			t.Errorf("%s: %.10g mm3, round %.10g mm3, off by %g", p.File, got.Volume, p.Round.Volume, off)
		}
		for i, c := range [3]float64{got.Centroid.X, got.Centroid.Y, got.Centroid.Z} {
			if math.Abs(c-p.Drawn.Centroid[i]) > 1e-5 {
				t.Errorf("%s: centroid %d at %.9g mm, want %.9g mm", p.File, i, c, p.Drawn.Centroid[i])
			}
		}
	}
}

func TestBrokenDemoPartsAreBrokenAsTheySay(t *testing.T) {
	load := func(name string, opt mesh.Options) (*mesh.Loaded, error) {
		return mesh.Load(filepath.Join("../testdata/broken", name), opt)
	}
	whole, err := mesh.Load("../testdata/arm_old.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	volume := whole.Mesh.SignedVolume()

	open, err := load("arm_open.stl", mesh.Options{})
	if err != nil || open.Report.Closed || open.Report.OpenEdges != 2*96 {
		t.Errorf("open: %v, %d open edges", err, open.Report.OpenEdges)
	}
	in, err := load("arm_inside_out.stl", mesh.Options{})
	if err != nil || !in.Turned || math.Abs(in.Mesh.SignedVolume()/volume-1) > 1e-9 {
		t.Errorf("inside out: %v, turned %v", err, in.Turned)
	}
	inch, err := mesh.ParseUnit("in")
	if err != nil {
		t.Fatal(err)
	}
	scaled, err := load("arm_inch.stl", mesh.Options{Unit: inch})
	if err != nil || math.Abs(scaled.Mesh.SignedVolume()/volume-1) > 1e-6 {
		t.Errorf("inches: %v, %g mm3", err, scaled.Mesh.SignedVolume())
	}
	metre, err := load("arm_metre.stl", mesh.Options{})
	if err != nil || len(metre.Warnings) == 0 {
		t.Errorf("metres read as millimetres: %v, warnings %v", err, metre.Warnings)
	}
	if _, err := load("arm_cut_short.stl", mesh.Options{}); err == nil {
		t.Error("a file cut short was read without an error")
	}
}

func TestTheGeneratorWritesTheSameBytes(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors may round the last bit of a coordinate differently")
	}
	folder := t.TempDir()
	cmd := exec.Command("go", "run", "./testdata/generate", "-to", folder)
	cmd.Dir = ".."
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	list := readDemo(t)
	names := []string{"demo.json"}
	for _, p := range list.Parts {
		names = append(names, p.File)
	}
	for _, b := range list.Broken {
		names = append(names, b.File)
	}
	for _, name := range names {
		kept, err := os.ReadFile(filepath.Join("../testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		fresh, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(kept, fresh) {
			t.Errorf("%s differs from what the generator writes: run go run ./testdata/generate", name)
		}
	}
}
