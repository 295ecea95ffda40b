package reach

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

func look(m *mesh.Mesh) *View {
	f := feature.Find(m)
	return Look(m, f, feature.Axes(m, f.Faces))
}

func outline(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// opening is an outline the other way round.
func opening(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x0, Y: y1}, {X: x1, Y: y1}, {X: x1, Y: y0}}
}

func stack(t testing.TB, layers ...cut.Layer) *mesh.Mesh {
	t.Helper()
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), layers...)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func layer(thick float64, outer []r2.Vec, holes ...[]r2.Vec) cut.Layer {
	return cut.Layer{Region: cut.Region{{Outer: outer, Holes: holes}}, Thickness: thick}
}

// tray is 60 x 40 x 12 with a pocket that leaves walls of 2 mm and a floor of 3.
func tray(t testing.TB) *mesh.Mesh {
	return stack(t, layer(3, outline(0, 0, 60, 40)), layer(9, outline(0, 0, 60, 40), opening(2, 2, 58, 38)))
}

func TestSamplesStandForTheWholeSurface(t *testing.T) {
	v := look(tray(t))
	area := 0.0
	for _, s := range v.Samples {
		area += s.Area
	}
	want := 2*60*40 + 2*(60+40)*12 + 2*(56+36)*9. // both levels, outside, inside
	if math.Abs(area-want) > 0.01*want {
		t.Errorf("samples stand for %g mm2, the tray has %g", area, want)
	}
}

func TestThicknessOfWallsAndFloorAndWidthOfTheAir(t *testing.T) {
	v := look(tray(t))
	for _, s := range v.Samples {
		d, _, ok := v.Thickness(s)
		inPocket := s.At.X > 1.9 && s.At.X < 58.1 && s.At.Y > 1.9 && s.At.Y < 38.1
		gap, between := v.Gap(s)
		switch {
		case !ok:
			continue // beside the foot of a wall, the ray ends beyond it
		case math.Abs(s.Normal.Z) > 0.5 && inPocket:
			if math.Abs(d-3) > 1e-6 || between {
				t.Fatalf("floor at %v: %g mm thick, gap %v", s.At, d, between)
			}
		case math.Abs(s.Normal.X) > 0.5 && s.At.Z > 3.1 && inPocket:
			if math.Abs(d-2) > 1e-6 || !between || math.Abs(gap-56) > 1e-6 {
				t.Fatalf("wall at %v: %g mm thick, gap %g", s.At, d, gap)
			}
			rises, down, open := v.Stands(s, r3.Vec{Z: 1}, gap)
			if math.Abs(rises-(12-s.At.Z)) > 1e-6 || math.Abs(down-(s.At.Z-3)) > 1e-6 || open {
				t.Fatalf("wall at %v: rises %g, floor %g below, open %v", s.At, rises, down, open)
			}
		}
	}
}

func TestThePocketIsMilledFromItsMouth(t *testing.T) {
	for name, m := range map[string]*mesh.Mesh{
		"as it lies": tray(t),
		"askew":      tray(t).Transformed(mesh.RotationAbout(r3.Vec{X: 1, Y: 0.3, Z: -0.4}, 1.1)),
	} {
		v := look(m)
		main := v.Ways[v.Main()]
		for i, s := range v.Samples {
			if s.Seen == 0 {
				t.Fatalf("%s: sample %d at %v is seen from nowhere", name, i, s.At)
			}
		}
		// the pocket is seen from where the floor of it looks
		deepest, at := math.Inf(1), Sample{}
		for _, s := range v.Samples {
			if h := r3.Dot(s.At, main); math.Abs(r3.Dot(s.Normal, main)-1) < 1e-6 && h < deepest {
				deepest, at = h, s
			}
		}
		if !at.Sees(v.Main()) || len(v.SetUps(v.Main())) != 1 {
			t.Errorf("%s: %d set-ups from %v", name, len(v.SetUps(v.Main())), main)
		}
	}
}

func TestPocketsOnBothSidesTakeTwoSetUps(t *testing.T) {
	m := stack(t, layer(5, outline(0, 0, 60, 40), opening(5, 5, 55, 35)), layer(3, outline(0, 0, 60, 40)), layer(5, outline(0, 0, 60, 40), opening(5, 5, 55, 35)))
	v := look(m)
	ups := v.SetUps(v.Main())
	if len(ups) != 2 || r3.Dot(v.Ways[ups[0]], v.Ways[ups[1]]) > -0.999 {
		t.Errorf("set-ups %v of %v", ups, v.Ways)
	}
}

// A broken edge on the far side is filed; a slope of 5 mm is cut.
func TestBrokenEdgesTakeNoSetUp(t *testing.T) {
	for _, c := range []struct {
		by   float64
		want int
	}{{1, 1}, {5, 2}} {
		m := stack(t, layer(c.by, outline(0, 0, 60, 40)), layer(14-c.by, outline(0, 0, 60, 40)), layer(6, outline(0, 0, 60, 40), opening(10, 10, 50, 30)))
		for i, p := range m.Vertices {
			if p.Z == 0 {
				m.Vertices[i] = r3.Vec{X: p.X + math.Copysign(c.by, 30-p.X), Y: p.Y + math.Copysign(c.by, 20-p.Y)}
			}
		}
		v := look(m)
		if n := len(v.SetUps(v.Main())); n != c.want {
			t.Errorf("an edge broken by %g mm below: %d set-ups, want %d", c.by, n, c.want)
		}
	}
}

func TestInsideCorners(t *testing.T) {
	v := look(tray(t))
	corners := v.Corners(v.SetUps(v.Main()))
	if len(corners) != 4 {
		t.Fatalf("%d corners, want the 4 of the pocket and none along its floor", len(corners))
	}
	for _, c := range corners {
		if c.Radius != 0 || math.Abs(c.Height-9) > 1e-6 || math.Abs(c.Depth-9) > 0.01 || math.Abs(c.Turn-math.Pi/2) > 1e-6 || math.Abs(c.Along.Z) < 0.999 {
			t.Errorf("%+v", c)
		}
	}
	// the area between a square corner and a quarter circle is (1 - pi/4) R2
	if got, want := corners[0].Filled(3), (1-math.Pi/4)*9; math.Abs(got-want) > 1e-9 {
		t.Errorf("a cutter of radius 3 leaves %g mm2, want %g", got, want)
	}
}

func TestAHollowIsACavityAndAHiddenFloorLiesUnderItsCover(t *testing.T) {
	plate := outline(0, 0, 60, 40)
	closed := look(stack(t, layer(3, plate), layer(6, plate, opening(10, 10, 50, 30)), layer(3, plate)))
	if c := closed.Cavities(); len(c) != 1 || math.Abs(c[0].Longest-40) > 1e-9 || r3.Norm(r3.Sub(c[0].At, r3.Vec{X: 30, Y: 20, Z: 6})) > 1e-9 {
		t.Errorf("%+v", c)
	}
	under := look(stack(t, layer(3, plate), layer(6, plate, opening(10, 10, 50, 30)), layer(3, plate, opening(22, 10, 38, 30))))
	most := 0.0
	for _, s := range under.Samples {
		if s.Seen == 0 {
			if by, ok := under.HiddenBy(s, under.Main()); ok {
				most = max(most, by)
			}
		}
	}
	if len(under.Cavities()) != 0 || most < 11.5 || most > 12.001 {
		t.Errorf("the hollow reaches %g mm under its cover, want 12", most)
	}
}

// The time of looking at a part of 27 618 triangles.
func BenchmarkLook(b *testing.B) {
	l, err := mesh.Load("../../testdata/reference/carriage_new.stl", mesh.Options{})
	if err != nil {
		b.Fatal(err)
	}
	f := feature.Find(l.Mesh)
	square := feature.Axes(l.Mesh, f.Faces)
	for b.Loop() {
		Look(l.Mesh, f, square)
	}
}
