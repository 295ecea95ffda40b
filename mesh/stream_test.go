package mesh

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func stream(t *testing.T, file []byte, opt Options) *Streamed {
	t.Helper()
	s, err := StreamFrom(context.Background(), bytes.NewReader(file), "part.stl", opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestOnePassTellsWhatLoadingTells(t *testing.T) {
	paths, err := filepath.Glob("../testdata/reference/*.stl")
	if err != nil || len(paths) == 0 {
		t.Fatal("no reference parts")
	}
	for _, text := range []bool{false, true} {
		ring := filepath.Join(t.TempDir(), "ring.stl")
		writeRing(t, ring, 150, text) // several blocks
		paths = append(paths, ring)
	}
	for _, path := range paths {
		l, err := Load(path, Options{Unit: Inch})
		if err != nil {
			t.Fatal(err)
		}
		s, err := Stream(context.Background(), path, Options{Unit: Inch})
		if err != nil {
			t.Fatal(err)
		}
		if v := l.Mesh.SignedVolume(); math.Abs(s.VolumeMM3/v-1) > 1e-12 {
			t.Errorf("%s: volume %.15g mm3, loading gives %.15g", path, s.VolumeMM3, v)
		}
		area := 0.0
		for f := range l.Mesh.Faces {
			area += l.Mesh.FaceArea(f)
		}
		if math.Abs(s.AreaMM2/area-1) > 1e-9 {
			t.Errorf("%s: area %.12g mm2, loading gives %.12g", path, s.AreaMM2, area)
		}
		box := l.Mesh.Bounds()
		if r3.Norm(r3.Sub(box.Min, s.Box.Min)) > 1e-9 || r3.Norm(r3.Sub(box.Max, s.Box.Max)) > 1e-9 {
			t.Errorf("%s: box %v, loading gives %v", path, s.Box, box)
		}
		if !s.Balanced || s.Turned || s.Triangles != int64(l.Triangles) || s.SHA256 != l.SHA256 || s.Format != l.Format {
			t.Errorf("%s: %+v", path, s)
		}
	}
}

func TestOnePassNoticesAnyFaceThatIsMissingTurnedOrDoubled(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	m := randomPrism(random, 0.4, 10)
	for f := range m.Faces {
		for name, faces := range map[string][][3]int32{
			"missing": append(append([][3]int32(nil), m.Faces[:f]...), m.Faces[f+1:]...),
			"turned":  append(append([][3]int32(nil), m.Faces[:f]...), append([][3]int32{turnedFace(m.Faces[f])}, m.Faces[f+1:]...)...),
			"doubled": append(append([][3]int32(nil), m.Faces...), m.Faces[f]),
		} {
			if stream(t, binaryOf(t, &Mesh{Vertices: m.Vertices, Faces: faces}), Options{}).Balanced {
				t.Errorf("face %d %s: taken for balanced", f, name)
			}
		}
	}
}

func TestOnePassTellsAnInsideOutPart(t *testing.T) {
	s := stream(t, binaryOf(t, box(1e4, 1e4+2).turned()), Options{})
	if !s.Turned || s.VolumeMM3 != 8 || len(s.Warnings) == 0 {
		t.Errorf("%+v, want 8 mm3 turned", s)
	}
}
