package mesh

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// checkRead reads a file in every way and holds what comes out of it to what
// the rest of the program relies on: a file of known length, a stream, one pass and
// what is written and read again all tell the same.
func checkRead(t *testing.T, file []byte) {
	l, err := LoadFrom(bytes.NewReader(file), "fuzz.stl", Options{MaxTriangles: 1 << 20})
	again, errStream := LoadFrom(struct{ io.Reader }{bytes.NewReader(file)}, "fuzz.stl", Options{MaxTriangles: 1 << 20})
	if (err == nil) != (errStream == nil) {
		t.Fatalf("a file of known length gives %v, a stream %v", err, errStream)
	}
	pass, errPass := StreamFrom(context.Background(), bytes.NewReader(file), "fuzz.stl", Options{})
	if fmt.Sprint(err) != fmt.Sprint(errPass) && !strings.Contains(fmt.Sprint(err), "more than the limit") {
		t.Fatalf("loading gives %v, one pass %v", err, errPass)
	}
	if err != nil {
		if text := err.Error(); strings.ContainsAny(text, "\n\r") || !strings.HasPrefix(text, "fuzz.stl: ") {
			t.Fatalf("error %q is not one line with the name of the file", text)
		}
		return
	}
	if l.Triangles == 0 || len(l.Mesh.Faces) > l.Triangles || len(again.Mesh.Faces) != len(l.Mesh.Faces) {
		t.Fatalf("%d triangles, %d faces, %d from a stream", l.Triangles, len(l.Mesh.Faces), len(again.Mesh.Faces))
	}
	if pass.Triangles != int64(l.Triangles) {
		t.Fatalf("%d triangles loaded, %d in one pass", l.Triangles, pass.Triangles)
	}
	checkWrittenAgain(t, l)
	for _, f := range l.Mesh.Faces {
		for _, v := range f {
			if v < 0 || int(v) >= len(l.Mesh.Vertices) {
				t.Fatalf("face %v names a vertex that is not there", f)
			}
		}
	}
	for _, v := range l.Mesh.Vertices {
		if s := v.X + v.Y + v.Z; math.IsNaN(s) || math.IsInf(s, 0) {
			t.Fatalf("vertex %v", v)
		}
	}
	if l.Report.Closed && l.Mesh.SignedVolume() < 0 && l.Report.OverlapTotal == 0 {
		t.Fatal("a closed mesh was left inside out")
	}
	if l.Triangles <= 2000 {
		Intersections(l.Mesh)
	}
}

// checkWrittenAgain writes a mesh and reads it: nothing changes but what its
// rounding to float32 does.
func checkWrittenAgain(t *testing.T, l *Loaded) {
	if len(l.Mesh.Faces) == 0 {
		return
	}
	again, err := LoadFrom(bytes.NewReader(binaryOf(t, l.Mesh)), "again.stl", Options{})
	if err != nil {
		t.Fatalf("written and read again: %v", err)
	}
	if l.Report.Closed && !again.Report.Closed || l.Report.Closed && len(again.Mesh.Faces) != len(l.Mesh.Faces) {
		t.Fatalf("%d faces, closed; written and read again %d faces, closed %v", len(l.Mesh.Faces), len(again.Mesh.Faces), again.Report.Closed)
	}
	v, w := l.Mesh.SignedVolume(), again.Mesh.SignedVolume()
	if l.Report.Closed && math.Abs(v-w) > 1e-6*math.Abs(v)+l.Report.RoundingMM3+again.Report.RoundingMM3 {
		t.Fatalf("volume %g, written and read again %g", v, w)
	}
}

func FuzzBinary(f *testing.F) {
	bin := binaryOf(f, unitCube)
	f.Add(bin)
	f.Add(bin[:100])
	f.Add(withCount(bin, math.MaxUint32))
	f.Add(withCoordinate(bin, 3, math.NaN()))
	f.Add(withHeader(bin, "solid"))
	f.Add(packed(f, bin))
	f.Fuzz(checkRead)
}

func FuzzText(f *testing.F) {
	text := textOf(unitCube)
	f.Add(text)
	f.Add(strings.ToUpper(text))
	f.Add(text[:len(text)/3])
	f.Add("solid\nfacet normal 0 0 1 outer loop vertex 0 0 0 vertex 1e-50 0 0 vertex 0 1e38 0 endloop endfacet endsolid\x00")
	f.Fuzz(func(t *testing.T, text string) { checkRead(t, []byte("solid "+text)) })
}

// FuzzFaces makes faces between the points of a small grid, where everything
// that can coincide does, and mends them.
func FuzzFaces(f *testing.F) {
	grid := func(m *Mesh) []byte {
		var b []byte
		for _, c := range cornersOf(m) {
			b = append(b, byte(c.X+4*c.Y+16*c.Z))
		}
		return b
	}
	f.Add(grid(box(0, 3)))
	f.Add(grid(Merge(box(0, 2), box(1, 3))))
	f.Add(grid(Merge(box(0, 3), box(1, 2).turned(), box(0, 1))))
	f.Add(grid(box(0, 2))[:30])
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 300 {
			return
		}
		corners := make([]r3.Vec, len(data))
		for i, b := range data {
			corners[i] = r3.Vec{X: float64(b & 3), Y: float64(b >> 2 & 3), Z: float64(b >> 4 & 3)}
		}
		if m := Weld(corners); len(m.Faces) > 0 {
			checkRead(t, binaryOf(t, m))
		}
	})
}
