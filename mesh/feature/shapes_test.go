package feature

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// ring is a circle of the profile of a turned hole, mm.
type ring struct{ radius, z float64 }

func circle(cx, cy, radius float64, n int) []r2.Vec {
	out := make([]r2.Vec, n)
	for k := range out {
		s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		out[k] = r2.Vec{X: cx + radius*c, Y: cy + radius*s}
	}
	return out
}

func reversed(p []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(p))
	for k, v := range p {
		out[len(p)-1-k] = v
	}
	return out
}

// block is a cube of 40 x 40 x height about the origin of x and y, standing on
// z = 0, with a turned hole of n chords down its middle. The profile runs from the
// top to the bottom, or to radius 0 inside.
func block(t testing.TB, height float64, n int, profile ...ring) *mesh.Mesh {
	t.Helper()
	square := []r2.Vec{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}}
	var corners []r3.Vec
	plane := func(z, radius float64, up bool) {
		p := cut.Polygon{Outer: square}
		if radius > 0 {
			p.Holes = [][]r2.Vec{reversed(circle(0, 0, radius, n))}
		}
		points, faces, err := cut.Triangulate(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faces {
			if !up {
				f[1], f[2] = f[2], f[1]
			}
			for _, i := range f {
				corners = append(corners, r3.Vec{X: points[i].X, Y: points[i].Y, Z: z})
			}
		}
	}
	last := profile[len(profile)-1]
	plane(height, profile[0].radius, true)
	plane(0, last.radius, false)
	quad := func(a, b, c, d r3.Vec) {
		corners = append(corners, a, b, c, a, c, d)
	}
	at := func(p r2.Vec, z float64) r3.Vec { return r3.Vec{X: p.X, Y: p.Y, Z: z} }
	for k, p := range square {
		q := square[(k+1)%4]
		quad(at(p, 0), at(q, 0), at(q, height), at(p, height))
	}
	for i := 1; i < len(profile); i++ {
		top, low := circle(0, 0, profile[i-1].radius, n), circle(0, 0, profile[i].radius, n)
		for k := range n {
			j := (k + 1) % n
			quad(at(top[k], profile[i-1].z), at(top[j], profile[i-1].z),
				at(low[j], profile[i].z), at(low[k], profile[i].z))
		}
	}
	m := mesh.Weld(corners)
	kept := m.Faces[:0]
	for _, f := range m.Faces {
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			kept = append(kept, f)
		}
	}
	m.Faces = kept
	return m
}

// prism extrudes a polygon from z = 0 to the height.
func prism(t testing.TB, p cut.Polygon, height float64) *mesh.Mesh {
	t.Helper()
	m, err := cut.Extrude(cut.Region{p}, mesh.AxisPlane(mesh.Z, 0), height)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(a, b float64) bool { return math.Abs(a-b) < 0.005 }

func TestEveryKindOfHole(t *testing.T) {
	sink := 11.0/2 - 5.5/2 // a 90 degree cone is as deep as it is wide
	for _, c := range []struct {
		name    string
		profile []ring
		want    Hole
		centre  float64 // height, mm
	}{
		{"through", []ring{{2.75, 12}, {2.75, 0}},
			Hole{Kind: Through, Open: true, Diameter: 5.5, Depth: 12}, 6},
		{"broken edges", []ring{{3.25, 12}, {2.75, 11.5}, {2.75, .5}, {3.25, 0}},
			Hole{Kind: Through, Open: true, Diameter: 5.5, Depth: 12, Chamfer: .5}, 6},
		{"blind with a flat floor", []ring{{2.5, 12}, {2.5, 4}, {0, 4}},
			Hole{Kind: Blind, Diameter: 5, Depth: 8}, 8},
		{"blind with the point of a 118 degree drill", []ring{{2.1, 12}, {2.1, 4}, {0, 4 - 2.1*math.Tan(31*math.Pi/180)}},
			Hole{Kind: Blind, Diameter: 4.2, Depth: 8}, 8},
		{"counterbore", []ring{{5, 12}, {5, 6}, {2.75, 6}, {2.75, 0}},
			Hole{Kind: Counterbore, Open: true, Diameter: 5.5, Depth: 12, HeadDiameter: 10, HeadDepth: 6}, 6},
		{"blind counterbore", []ring{{5, 12}, {5, 9}, {2.5, 9}, {2.5, 3}, {0, 3}},
			Hole{Kind: Counterbore, Diameter: 5, Depth: 9, HeadDiameter: 10, HeadDepth: 3}, 7.5},
		{"countersink", []ring{{5.5, 12}, {2.75, 12 - sink}, {2.75, 0}},
			Hole{Kind: Countersink, Open: true, Diameter: 5.5, Depth: 12, HeadDiameter: 11, HeadDepth: sink, HeadAngle: 90}, 6},
		{"countersink from below", []ring{{2.75, 12}, {2.75, sink}, {5.5, 0}},
			Hole{Kind: Countersink, Open: true, Diameter: 5.5, Depth: 12, HeadDiameter: 11, HeadDepth: sink, HeadAngle: 90}, 6},
		{"bore with a groove", []ring{{5, 12}, {5, 8}, {6, 8}, {6, 6}, {5, 6}, {5, 0}},
			Hole{Kind: Through, Open: true, Diameter: 10, Depth: 12}, 6},
	} {
		for _, n := range []int{9, 12, 24, 64, 200} {
			holes := Holes(block(t, 12, n, c.profile...))
			if len(holes) != 1 {
				t.Errorf("%s, %d chords: %d holes", c.name, n, len(holes))
				continue
			}
			h, w := holes[0], c.want
			if h.Kind != w.Kind || h.Open != w.Open || !near(h.Diameter, w.Diameter) || !near(h.Depth, w.Depth) ||
				!near(h.HeadDiameter, w.HeadDiameter) || !near(h.HeadDepth, w.HeadDepth) ||
				math.Abs(h.HeadAngle-w.HeadAngle) > 0.1 || !near(h.Chamfer, w.Chamfer) || !near(h.Centre.Z, c.centre) {
				h.Faces = nil
				t.Errorf("%s, %d chords:\n got %+v\nwant %+v", c.name, n, h, w)
			}
			up := c.name != "countersink from below"
			if (h.Axis.Z > 0) != up {
				t.Errorf("%s: the axis %v does not point out of the mouth", c.name, h.Axis)
			}
		}
	}
}

func TestBossesRoundBarsAndRoundedPocketsAreNoHoles(t *testing.T) {
	bar := prism(t, cut.Polygon{Outer: circle(0, 0, 10, 64)}, 30)
	if h := Holes(bar); len(h) != 0 {
		t.Errorf("round bar: %+v", h)
	}
	var window []r2.Vec // 20 x 12 with corners of radius 3
	for k, centre := range []r2.Vec{{X: 7, Y: 3}, {X: -7, Y: 3}, {X: -7, Y: -3}, {X: 7, Y: -3}} {
		for i := range 17 {
			s, c := math.Sincos(math.Pi / 2 * (float64(k) + float64(i)/16))
			window = append(window, r2.Vec{X: centre.X + 3*c, Y: centre.Y + 3*s})
		}
	}
	plate := cut.Polygon{Outer: circle(0, 0, 30, 100), Holes: [][]r2.Vec{reversed(window)}}
	found := Find(prism(t, plate, 6))
	if len(found.Holes) != 0 {
		t.Errorf("rounded window: %+v", found.Holes)
	}
	if len(found.Rounds) != 5 {
		t.Errorf("%d rounds, want the rim and four corners", len(found.Rounds))
	}
	hexagon := cut.Polygon{Outer: circle(0, 0, 30, 100), Holes: [][]r2.Vec{reversed(circle(0, 0, 5, 6))}}
	if h := Holes(prism(t, hexagon, 6)); len(h) != 0 {
		t.Errorf("hexagon socket: %+v", h)
	}
	groove := block(t, 12, 48, ring{8, 12}, ring{8, 6}, ring{5, 6}, ring{5, 12}, ring{0, 12})
	if h := Holes(groove); len(h) != 0 {
		t.Errorf("ring groove: %+v", h)
	}
}

func TestATubesBoreIsAHole(t *testing.T) {
	tube := prism(t, cut.Polygon{
		Outer: circle(3, 4, 10, 64), Holes: [][]r2.Vec{reversed(circle(3, 4, 8, 64))},
	}, 100)
	holes := Holes(tube)
	if len(holes) != 1 || holes[0].Kind != Through || !near(holes[0].Diameter, 16) || !near(holes[0].Depth, 100) {
		t.Fatalf("%+v", holes)
	}
	if c := holes[0].Centre; !near(c.X, 3) || !near(c.Y, 4) || !near(c.Z, 50) {
		t.Errorf("centre %v", c)
	}
}

func TestASlotIsNotTwoHoles(t *testing.T) {
	var slot []r2.Vec
	for i := range 33 {
		s, c := math.Sincos(-math.Pi/2 + math.Pi*float64(i)/32)
		slot = append(slot, r2.Vec{X: 5 + 3*c, Y: 3 * s})
	}
	for i := range 33 {
		s, c := math.Sincos(math.Pi/2 + math.Pi*float64(i)/32)
		slot = append(slot, r2.Vec{X: -5 + 3*c, Y: 3 * s})
	}
	found := Find(prism(t, cut.Polygon{Outer: circle(0, 0, 30, 90), Holes: [][]r2.Vec{reversed(slot)}}, 4))
	if len(found.Holes) != 0 {
		t.Errorf("%+v", found.Holes)
	}
}

func TestNumbersDoNotDependOnTheOrderOfTriangles(t *testing.T) {
	m := reference(t, "carriage_old")
	mixed := mesh.Mesh{Vertices: m.Vertices}
	for k := range m.Faces {
		mixed.Faces = append(mixed.Faces, m.Faces[(k*7919+13)%len(m.Faces)])
	}
	a, b := Holes(m), Holes(&mixed)
	for k := range a {
		if a[k].Number != k+1 || r3.Norm(r3.Sub(a[k].Centre, b[k].Centre)) > 1e-4 {
			t.Errorf("hole %d: %v and %v", k+1, a[k].Centre, b[k].Centre)
		}
	}
}
