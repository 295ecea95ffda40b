package mesh

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// tube is a closed square tube along x, outside 10 x 10, wall 2, length 40,
// with the bore's ends joined to the outside by ring faces.
func tube() *Mesh {
	const length = 40.0
	m := &Mesh{}
	for _, s := range []float64{0, 2} { // outer square, then inner square
		for _, x := range []float64{0, length} {
			for _, p := range [][2]float64{{s, s}, {10 - s, s}, {10 - s, 10 - s}, {s, 10 - s}} {
				m.Vertices = append(m.Vertices, r3.Vec{X: x, Y: p[0], Z: p[1]})
			}
		}
	}
	quad := func(a, b, c, d int32) {
		m.Faces = append(m.Faces, [3]int32{a, b, c}, [3]int32{a, c, d})
	}
	for i := range int32(4) {
		j := (i + 1) % 4
		quad(i, i+4, j+4, j)       // outside walls... turned below if needed
		quad(8+i, 8+j, 12+j, 12+i) // bore
		quad(i, j, 8+j, 8+i)       // ring at x = 0
		quad(4+i, 12+i, 12+j, 4+j) // ring at x = length
	}
	for i, f := range m.Faces {
		m.Faces[i] = [3]int32{f[0], f[2], f[1]}
	}
	return m
}

// signedVolume is the sum of signed tetrahedra about the first vertex.
func signedVolume(m *Mesh) float64 {
	var six float64
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		o := m.Vertices[0]
		six += r3.Dot(r3.Sub(a, o), r3.Cross(r3.Sub(b, o), r3.Sub(c, o)))
	}
	return six / 6
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.15g, want %.15g within %g", what, got, want, tol)
	}
}

func TestCutOfATubeIsASquareWithASquareHole(t *testing.T) {
	m := tube()
	near(t, "volume", signedVolume(m), 40*(100-36), 1e-9)
	r, err := Cut(m, AxisPlane(X, 13))
	if err != nil {
		t.Fatal(err)
	}
	if len(r) != 1 || len(r[0].Holes) != 1 || len(r[0].Outer) != 4 || len(r[0].Holes[0]) != 4 {
		t.Fatalf("got %v, want one square with one square hole", r)
	}
	near(t, "outer", LoopArea(r[0].Outer), 100, 1e-12)
	near(t, "hole", LoopArea(r[0].Holes[0]), -36, 1e-12)
	if !r.Contains(r2.Vec{X: 1, Y: 5}) || r.Contains(r2.Vec{X: 5, Y: 5}) {
		t.Error("material and bore are mixed up")
	}
}

func TestInPlaneAxesFollowCyclically(t *testing.T) {
	m := Cuboid(r3.Vec{X: 1, Y: 20, Z: 300}, r3.Vec{X: 2, Y: 22, Z: 303})
	for _, c := range []struct {
		axis     Axis
		at       float64
		min, max r2.Vec
	}{
		{X, 1.5, r2.Vec{X: 20, Y: 300}, r2.Vec{X: 22, Y: 303}},
		{Y, 21, r2.Vec{X: 300, Y: 1}, r2.Vec{X: 303, Y: 2}},
		{Z, 301, r2.Vec{X: 1, Y: 20}, r2.Vec{X: 2, Y: 22}},
	} {
		r, err := Cut(m, AxisPlane(c.axis, c.at))
		if err != nil {
			t.Fatal(err)
		}
		if b := r.Bounds(); b.Min != c.min || b.Max != c.max {
			t.Errorf("%v-cut spans %v, want %v to %v", c.axis, b, c.min, c.max)
		}
		if r.Area() <= 0 || len(r[0].Outer) != 4 {
			t.Errorf("%v-cut: %v", c.axis, r)
		}
	}
}

func TestWhereTheSectionChangesTheLowerSideIsTaken(t *testing.T) {
	m := Merge(Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 1, Z: 1}), Cuboid(r3.Vec{X: 10}, r3.Vec{X: 20, Y: 2, Z: 2}))
	s := NewSlicer(m, X)
	for _, c := range []struct{ x, below, above float64 }{{0, 1, 1}, {5, 1, 1}, {10, 1, 4}, {20, 4, 4}} {
		r, err := s.At(c.x)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "At", r.Area(), c.below, 1e-12)
		if r, err = Cut(m, AxisPlane(X, c.x)); err != nil {
			t.Fatal(err)
		}
		near(t, "Cut", r.Area(), c.below, 1e-12)
		if r, err = s.Above(c.x); err != nil {
			t.Fatal(err)
		}
		near(t, "Above", r.Area(), c.above, 1e-12)
	}
}

func TestAnIslandInAHoleIsAPolygonOfItsOwn(t *testing.T) {
	m := Merge(tube(), Cuboid(r3.Vec{X: 0, Y: 4, Z: 4}, r3.Vec{X: 40, Y: 6, Z: 6}))
	r, err := Cut(m, AxisPlane(X, 20))
	if err != nil {
		t.Fatal(err)
	}
	if len(r) != 2 || len(r[0].Holes) != 1 || len(r[1].Holes) != 0 {
		t.Fatalf("got %d polygons: %v", len(r), r)
	}
	near(t, "area", r.Area(), 64+4, 1e-12)
}

func TestACutOutsideNamesTheExtent(t *testing.T) {
	_, err := Cut(tube(), AxisPlane(X, 41))
	if err == nil || !strings.Contains(err.Error(), "x=0 to x=40") {
		t.Errorf("got %v", err)
	}
	if _, err = NewSlicer(tube(), X).At(-1); err == nil || !strings.Contains(err.Error(), "x=0 to x=40") {
		t.Errorf("got %v", err)
	}
}

func TestAnOpenMeshIsRefusedWhereItIsOpen(t *testing.T) {
	m := tube()
	m.Faces = m.Faces[1:]
	_, err := Cut(m, AxisPlane(X, 20))
	if err == nil || !strings.Contains(err.Error(), "open near") {
		t.Errorf("got %v", err)
	}
}
