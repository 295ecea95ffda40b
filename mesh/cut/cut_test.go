package cut_test

import (
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/sample"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func TestCutOfATubeIsASquareWithASquareHole(t *testing.T) {
	m := sample.Tube()
	sample.Near(t, "volume", sample.Volume(m), 40*(100-36), 1e-9)
	r, err := cut.Section(m, mesh.AxisPlane(mesh.X, 13))
	if err != nil {
		t.Fatal(err)
	}
	if len(r) != 1 || len(r[0].Holes) != 1 || len(r[0].Outer) != 4 || len(r[0].Holes[0]) != 4 {
		t.Fatalf("got %v, want one square with one square hole", r)
	}
	sample.Near(t, "outer", cut.LoopArea(r[0].Outer), 100, 1e-12)
	sample.Near(t, "hole", cut.LoopArea(r[0].Holes[0]), -36, 1e-12)
	if !r[0].Contains(r2.Vec{X: 1, Y: 5}) || r[0].Contains(r2.Vec{X: 5, Y: 5}) {
		t.Error("material and bore are mixed up")
	}
}

func TestInPlaneAxesFollowCyclically(t *testing.T) {
	m := mesh.Cuboid(r3.Vec{X: 1, Y: 20, Z: 300}, r3.Vec{X: 2, Y: 22, Z: 303})
	for _, c := range []struct {
		axis     mesh.Axis
		at       float64
		min, max r2.Vec
	}{
		{mesh.X, 1.5, r2.Vec{X: 20, Y: 300}, r2.Vec{X: 22, Y: 303}},
		{mesh.Y, 21, r2.Vec{X: 300, Y: 1}, r2.Vec{X: 303, Y: 2}},
		{mesh.Z, 301, r2.Vec{X: 1, Y: 20}, r2.Vec{X: 2, Y: 22}},
	} {
		r, err := cut.Section(m, mesh.AxisPlane(c.axis, c.at))
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
	m := mesh.Merge(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 1, Z: 1}), mesh.Cuboid(r3.Vec{X: 10}, r3.Vec{X: 20, Y: 2, Z: 2}))
	s := cut.NewSlicer(m, mesh.X)
	for _, c := range []struct{ x, below, above float64 }{{0, 1, 1}, {5, 1, 1}, {10, 1, 4}, {20, 4, 4}} {
		r, err := s.At(c.x)
		if err != nil {
			t.Fatal(err)
		}
		sample.Near(t, "At", r.Area(), c.below, 1e-12)
		if r, err = cut.Section(m, mesh.AxisPlane(mesh.X, c.x)); err != nil {
			t.Fatal(err)
		}
		sample.Near(t, "Cut", r.Area(), c.below, 1e-12)
		if r, err = s.Above(c.x); err != nil {
			t.Fatal(err)
		}
		sample.Near(t, "Above", r.Area(), c.above, 1e-12)
	}
}

func TestAnIslandInAHoleIsAPolygonOfItsOwn(t *testing.T) {
	m := mesh.Merge(sample.Tube(), mesh.Cuboid(r3.Vec{X: 0, Y: 4, Z: 4}, r3.Vec{X: 40, Y: 6, Z: 6}))
	r, err := cut.Section(m, mesh.AxisPlane(mesh.X, 20))
	if err != nil {
		t.Fatal(err)
	}
	if len(r) != 2 || len(r[0].Holes) != 1 || len(r[1].Holes) != 0 {
		t.Fatalf("got %d polygons: %v", len(r), r)
	}
	sample.Near(t, "area", r.Area(), 64+4, 1e-12)
}

func TestACutOutsideNamesTheExtent(t *testing.T) {
	_, err := cut.Section(sample.Tube(), mesh.AxisPlane(mesh.X, 41))
	if err == nil || !strings.Contains(err.Error(), "x=0 to x=40") {
		t.Errorf("got %v", err)
	}
	if _, err = cut.NewSlicer(sample.Tube(), mesh.X).At(-1); err == nil || !strings.Contains(err.Error(), "x=0 to x=40") {
		t.Errorf("got %v", err)
	}
}

func TestAnOpenMeshIsRefusedWhereItIsOpen(t *testing.T) {
	m := sample.Tube()
	m.Faces = m.Faces[1:]
	_, err := cut.Section(m, mesh.AxisPlane(mesh.X, 20))
	if err == nil || !strings.Contains(err.Error(), "open near") {
		t.Errorf("got %v", err)
	}
}
