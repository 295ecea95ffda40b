package mesh

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
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

func TestAnInsideOutMeshIsTurnedAndSaid(t *testing.T) {
	l, err := LoadFrom(bytes.NewReader(binaryOf(t, Merge(box(0, 10).turned(), box(2, 3)))), "part.stl", Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !l.Turned || l.Mesh.SignedVolume() != 999 || !l.Report.Shells[1].Cavity {
		t.Errorf("turned %v, volume %g, %+v", l.Turned, l.Mesh.SignedVolume(), l.Report.Shells)
	}
	if len(l.Warnings) != 1 || !strings.Contains(l.Warnings[0], "turned") {
		t.Errorf("warnings %q", l.Warnings)
	}
}

func TestAPartOfAnUnlikelySizeNamesTheLikelyUnit(t *testing.T) {
	for _, c := range []struct {
		size float64
		unit Unit
		want string
	}{
		{120, Millimetre, ""},
		{3000, Millimetre, ""},
		{1, Millimetre, ""},
		{0.12, Millimetre, "--unit m "},
		{0.9, Millimetre, "--unit m "},
		{120, Metre, "--unit mm "},
		{4, Inch, ""},
		{200, Inch, "--unit mm "},
		{30000, Millimetre, "check the unit"},
		{0.0001, Millimetre, "check the unit"},
	} {
		m := Cuboid(r3.Vec{}, r3.Vec{X: c.size, Y: c.size / 2, Z: c.size / 10})
		l, err := LoadFrom(bytes.NewReader(binaryOf(t, m)), "part.stl", Options{Unit: c.unit})
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Join(l.Warnings, " ")
		if (text == "") != (c.want == "") || !strings.Contains(text, c.want) {
			t.Errorf("%g %s: warning %q, want one with %q", c.size, c.unit, text, c.want)
		}
	}
}

func TestFilesAreFoundWhateverTheirName(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	file := binaryOf(t, unitCube)
	sum := sha256.Sum256(file)
	for _, name := range []string{"part.stl", "a  b.stl", "it's \"new\".stl", "Träger 日本.stl", "-part.stl", "no ending", "x.stl.gz", "%d %s.stl"} {
		if err := os.WriteFile(name, file, 0o644); err != nil {
			t.Fatal(err)
		}
		l, err := Load(name, Options{})
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		if l.Path != name || l.SHA256 != hex.EncodeToString(sum[:]) {
			t.Errorf("%q: path %q, hash %s", name, l.Path, l.SHA256)
		}
	}
}

func TestPathsThatAreNoFileGiveOneLine(t *testing.T) {
	folder := t.TempDir()
	for path, want := range map[string]string{
		filepath.Join(folder, "lost.stl"):               "no such file",
		folder:                                          "is a directory",
		filepath.Join(folder, "line\nbreak"):            `line\nbreak`,
		filepath.Join(folder, strings.Repeat("x", 300)): "file name too long",
	} {
		_, err := Load(path, Options{})
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want %q", path, err, want)
		}
	}
}

func TestReadingStopsWhenTheCallerGivesUp(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	path := filepath.Join(t.TempDir(), "part.stl")
	if err := os.WriteFile(path, binaryOf(t, unitCube), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := LoadContext(ctx, path, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want that of the context", err)
	}
}

func TestMoreTrianglesThanTheLimitAreRefused(t *testing.T) {
	for name, file := range map[string][]byte{"binary": binaryOf(t, unitCube), "text": []byte(textOf(unitCube))} {
		if _, err := LoadFrom(bytes.NewReader(file), name, Options{MaxTriangles: 11}); err == nil || !strings.Contains(err.Error(), "limit") {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := LoadFrom(bytes.NewReader(file), name, Options{MaxTriangles: 12}); err != nil {
			t.Error(err)
		}
	}
}

func TestAShellThatIsInsideOutBesideTheOthersIsTurnedAlone(t *testing.T) {
	m := Merge(box(0, 10), box(20, 24).turned(), box(2, 4).turned())
	l, err := LoadFrom(bytes.NewReader(binaryOf(t, m)), "part.stl", Options{})
	if err != nil {
		t.Fatal(err)
	}
	if v := l.Mesh.SignedVolume(); !l.Turned || v != 1000+64-8 {
		t.Errorf("turned %v, volume %g, want 1056 with the cavity left as it is", l.Turned, v)
	}
}

func TestSharedSpaceIsSaidWithItsVolume(t *testing.T) {
	m := Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 6}))
	l, err := LoadFrom(bytes.NewReader(binaryOf(t, m)), "part.stl", Options{})
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(l.Warnings, "; ")
	if !strings.Contains(text, "shells 1 and 2 share space") || !strings.Contains(text, "400 mm3 too much") {
		t.Errorf("warnings %q", text)
	}
}

func TestABodyInsideAnotherIsAskedAbout(t *testing.T) {
	l, err := LoadFrom(bytes.NewReader(binaryOf(t, Merge(box(0, 10), box(2, 3)))), "part.stl", Options{})
	if err != nil {
		t.Fatal(err)
	}
	if text := strings.Join(l.Warnings, "; "); !strings.Contains(text, "shell 2 lies inside shell 1") || !strings.Contains(text, "1 mm3 less") {
		t.Errorf("warnings %q", text)
	}
}
