package mesh

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestBoxesThatPassThroughEachOtherAreFoundWhereTheyDo(t *testing.T) {
	rod := Cuboid(r3.Vec{X: -5, Y: 4.1, Z: 3.2}, r3.Vec{X: 15, Y: 5.3, Z: 4.4})
	list, total := Intersections(Merge(box(0, 10), rod))
	if total == 0 || len(list) == 0 {
		t.Fatal("no intersection was found")
	}
	for _, x := range list {
		if p := x.At; math.Min(math.Abs(p.X), math.Abs(p.X-10)) > 1e-9 || p.Y < 4 || p.Y > 5.4 {
			t.Errorf("intersection at %v is on neither wall that the rod passes", p)
		}
		if x.Faces[0] >= 12 || x.Faces[1] < 12 {
			t.Errorf("faces %v, want one of each box", x.Faces)
		}
	}
}

func TestFacesThatOnlyTouchDoNotIntersect(t *testing.T) {
	beside := Cuboid(r3.Vec{X: 10, Y: 3, Z: 3}, r3.Vec{X: 20, Y: 13, Z: 7})
	corner := Cuboid(r3.Vec{X: 10, Y: 10, Z: 10}, r3.Vec{X: 20, Y: 20, Z: 20})
	for name, m := range map[string]*Mesh{
		"one box":              box(0, 10),
		"boxes side by side":   Merge(box(0, 10), beside),
		"boxes at one corner":  Merge(box(0, 10), corner),
		"a box inside another": Merge(box(0, 10), box(2, 8)),
	} {
		if list, total := Intersections(m); total != 0 {
			t.Errorf("%s: %d intersections, first %+v", name, total, list[0])
		}
	}
}

// swept returns a closed bar of square section along stations x, y, direction
// in degrees and half width.
func swept(stations [][4]float64) *Mesh {
	m := &Mesh{}
	for _, s := range stations {
		sin, cos := math.Sincos(s[2] * math.Pi / 180)
		h := s[3]
		for _, o := range [4][2]float64{{-h, -h}, {h, -h}, {h, h}, {-h, h}} { // right to left, down to up
			m.Vertices = append(m.Vertices, r3.Vec{X: s[0] + o[0]*sin, Y: s[1] - o[0]*cos, Z: o[1]})
		}
	}
	last := int32(4 * (len(stations) - 1))
	for v := int32(0); v < last; v += 4 {
		for k := range int32(4) {
			a, b := v+k, v+(k+1)%4
			m.Faces = append(m.Faces, [3]int32{a, a + 4, b + 4}, [3]int32{a, b + 4, b})
		}
	}
	m.Faces = append(m.Faces, [3]int32{0, 1, 2}, [3]int32{0, 2, 3},
		[3]int32{last, last + 2, last + 1}, [3]int32{last, last + 3, last + 2})
	if m.SignedVolume() < 0 {
		return m.turned()
	}
	return m
}

func TestABarBentThroughItselfIsFoundAtTheCrossing(t *testing.T) {
	path := [][4]float64{
		{0, 0, 0, 2}, {25, 0, 0, 2}, {30, 5, 90, 1.8}, {30, 15, 90, 1.6}, {25, 20, 180, 1.5}, {15, 20, 180, 1.4},
		{10, 15, 270, 1.2}, {10, 5, 270, 1},
	}
	if _, total := Intersections(swept(path)); total != 0 {
		t.Fatal("the bar that stops short has intersections")
	}
	m := swept(append(path, [4]float64{10, -20, 270, 1}))
	list, total := Intersections(m)
	if !Check(m).Closed || total == 0 {
		t.Fatalf("closed %v, %d intersections; want a closed mesh with some", Check(m).Closed, total)
	}
	for _, x := range list {
		if d := r3.Norm(r3.Sub(x.At, r3.Vec{X: 10})); d > 4 {
			t.Errorf("intersection at %v, %.3g mm from the crossing", x.At, d)
		}
	}
}
