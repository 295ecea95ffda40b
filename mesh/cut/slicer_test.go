package cut_test

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/sample"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// perforated is a plate 300 x 200 x 6 with a grid of round holes: about 30 000
// faces.
func perforated(tb testing.TB) *mesh.Mesh {
	p := cut.Polygon{Outer: sample.Rectangle(0, 0, 300, 200)}
	for i := range 12 {
		for j := range 8 {
			at := r2.Vec{X: 12.5 + 25*float64(i), Y: 12.5 + 25*float64(j)}
			p.Holes = append(p.Holes, sample.Reversed(sample.Ring(at, 8, 80)))
		}
	}
	m, err := cut.Extrude(cut.Region{p}, mesh.AxisPlane(mesh.Z, 0), 6)
	if err != nil {
		tb.Fatal(err)
	}
	return m
}

func TestHundredsOfCutsTakeAMillisecondOrSoEach(t *testing.T) {
	m := perforated(t)
	if len(m.Faces) < 30000 {
		t.Fatalf("only %d faces", len(m.Faces))
	}
	start := time.Now()
	s := cut.NewSlicer(m, mesh.X)
	const cuts = 300
	var volume float64
	for i := range cuts {
		r, err := s.At((float64(i) + 0.5) * 300 / cuts)
		if err != nil {
			t.Fatal(err)
		}
		volume += r.Area() * 300 / cuts
	}
	if d := time.Since(start); d > cuts*10*time.Millisecond {
		t.Errorf("%d cuts took %v", cuts, d)
	}
	if want := sample.Volume(m); math.Abs(volume-want) > 1e-2*want { // the rule itself is that coarse on round holes
		t.Errorf("midpoint rule gives %g mm3, the volume is %g mm3", volume, want)
	}
}

func TestPositionsAreWhereTheVerticesAre(t *testing.T) {
	s := cut.NewSlicer(sample.Bracket(), mesh.Z)
	xs := s.Positions(1e-6)
	want := []float64{0, 2, 6, 9}
	if len(xs) != len(want) {
		t.Fatalf("got %v, want %v", xs, want)
	}
	for i, x := range xs {
		if x != want[i] {
			t.Errorf("got %v, want %v", xs, want)
		}
	}
	if lo, hi := s.Extent(); lo != 0 || hi != 9 {
		t.Errorf("extent %g to %g", lo, hi)
	}
}

func TestASlicerOfAnEmptyMeshSaysSo(t *testing.T) {
	if _, err := cut.NewSlicer(&mesh.Mesh{}, mesh.X).At(0); err == nil {
		t.Error("no error")
	}
}

func BenchmarkSlicerAt(b *testing.B) {
	s := cut.NewSlicer(perforated(b), mesh.X)
	for i := 0; b.Loop(); i++ {
		if _, err := s.At(math.Mod(float64(i)*7.3+0.1, 300)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTriangulate10k(b *testing.B) {
	p := cut.Polygon{Outer: sample.Rectangle(0, 0, 300, 200)}
	for i := range 100 {
		at := r2.Vec{X: 15 + 30*float64(i%10), Y: 10 + 20*float64(i/10)}
		p.Holes = append(p.Holes, sample.Reversed(sample.Ring(at, 8, 100)))
	}
	for b.Loop() {
		if _, _, err := cut.Triangulate(p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkClip(b *testing.B) {
	m := perforated(b)
	for b.Loop() {
		if _, err := cut.Clip(m, mesh.AxisPlane(mesh.X, 101)); err != nil {
			b.Fatal(err)
		}
	}
}
