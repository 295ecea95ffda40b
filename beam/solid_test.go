package beam_test

import (
	"context"
	"flag"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/solid"
)

var long = flag.Bool("long", false, "compare beams with three-dimensional solutions (two minutes)")

// outline returns a loop from coordinates in turn.
func outline(points ...float64) []r2.Vec {
	var out []r2.Vec
	for i := 0; i < len(points); i += 2 {
		out = append(out, r2.Vec{X: points[i], Y: points[i+1]})
	}
	return out
}

func upright(x0, y0, x1, y1 float64) []r2.Vec { return outline(x0, y0, x1, y0, x1, y1, x0, y1) }
func opening(x0, y0, x1, y1 float64) []r2.Vec { return outline(x0, y0, x0, y1, x1, y1, x1, y0) }

func drilled(x, y, d float64) []r2.Vec {
	var out []r2.Vec
	for i := range 32 {
		a := -2 * math.Pi * float64(i) / 32
		out = append(out, r2.Vec{X: x + d/2*math.Cos(a), Y: y + d/2*math.Sin(a)})
	}
	return out
}

type layer struct {
	thick float64
	holes [][]r2.Vec
}

// layered stacks layers of one outline with different openings along z.
func layered(t *testing.T, out []r2.Vec, layers ...layer) *mesh.Mesh {
	t.Helper()
	var stack []cut.Layer
	for _, l := range layers {
		stack = append(stack, cut.Layer{Region: cut.Region{{Outer: out, Holes: l.holes}}, Thickness: l.thick})
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), stack...)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// turned stacks sections along x: a bar in steps.
func turned(t *testing.T, layers ...cut.Layer) *mesh.Mesh {
	t.Helper()
	m, err := cut.Stack(mesh.AxisPlane(mesh.X, 0), layers...)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func solidRegion(outer []r2.Vec, holes ...[]r2.Vec) cut.Region {
	return cut.Region{{Outer: outer, Holes: holes}}
}

func disc(d float64) []r2.Vec {
	out := drilled(0, 0, d)
	slices.Reverse(out)
	return out
}

// The outside is our own solid solver, which knows nothing of beams and is held
// to published solutions itself. Every value lies inside the beam's stated
// error, widened by the solid's own.
func TestBeamsAgreeWithTheSolid(t *testing.T) {
	if !*long {
		t.Skip("takes two minutes: run with -long")
	}
	bar := func(l, w, thick float64, holes ...[]r2.Vec) *mesh.Mesh {
		return layered(t, upright(0, 0, l, w), layer{thick, holes})
	}
	flat := func(thick float64, xy ...float64) *mesh.Mesh { return layered(t, outline(xy...), layer{thick, nil}) }
	prism := func(length float64, outer []r2.Vec, holes ...[]r2.Vec) *mesh.Mesh {
		return turned(t, cut.Layer{Region: solidRegion(outer, holes...), Thickness: length})
	}
	channel := outline(0, 0, 20, 0, 20, 3, 3, 3, 3, 27, 20, 27, 20, 30, 0, 30)
	for _, c := range []struct {
		name    string
		part    *mesh.Mesh
		load    mesh.Axis
		support beam.Support
	}{
		{"plate 120x80x6", bar(120, 80, 6), mesh.Z, beam.Cantilever},
		{"the same", bar(120, 80, 6), mesh.Z, beam.SimplySupported},
		{"the same", bar(120, 80, 6), mesh.Z, beam.FixedFixed},
		{"bar 100x20x20", bar(100, 20, 20), mesh.Z, beam.Cantilever},
		{"bar 60x20x10", bar(60, 20, 10), mesh.Y, beam.Cantilever},
		{"bar 120x20x10", bar(120, 20, 10), mesh.Y, beam.FixedFixed},
		{"taper 30 to 10, 200x6", flat(6, 0, 0, 200, 10, 200, 20, 0, 30), mesh.Y, beam.Cantilever},
		{"taper on one side", flat(6, 0, 0, 200, 0, 200, 10, 0, 30), mesh.Y, beam.Cantilever},
		{"step 24 to 12, one side", flat(8, 0, 0, 200, 0, 200, 12, 80, 12, 80, 24, 0, 24), mesh.Y, beam.Cantilever},
		{"the same, flat", flat(8, 0, 0, 200, 0, 200, 12, 80, 12, 80, 24, 0, 24), mesh.Z, beam.Cantilever},
		{"step 30 to 15, both sides", flat(8, 0, 0, 80, 0, 80, 7.5, 200, 7.5, 200, 22.5, 80, 22.5, 80, 30, 0, 30), mesh.Y, beam.Cantilever},
		{"neck 12 in a bar of 20", flat(10, 0, 0, 60, 0, 60, 4, 140, 4, 140, 0, 200, 0, 200, 20, 140, 20, 140, 16, 60, 16, 60, 20, 0, 20), mesh.Y, beam.SimplySupported},
		{"shaft 20, 16, 12", turned(t, cut.Layer{Region: solidRegion(disc(20)), Thickness: 60}, cut.Layer{Region: solidRegion(disc(16)), Thickness: 60},
			cut.Layer{Region: solidRegion(disc(12)), Thickness: 60}), mesh.Z, beam.Cantilever},
		{"plate 160x40x8, 2 holes 3.5", bar(160, 40, 8, drilled(20, 20, 3.5), drilled(80, 20, 3.5)), mesh.Z, beam.Cantilever},
		{"leaning 1:10", flat(8, 0, 0, 200, 20, 200, 40, 0, 20), mesh.Y, beam.Cantilever},
		{"the same, flat", flat(8, 0, 0, 200, 20, 200, 40, 0, 20), mesh.Z, beam.Cantilever},
		{"tube 50x25x2.5", prism(250, upright(0, 0, 50, 25), opening(2.5, 2.5, 47.5, 22.5)), mesh.Z, beam.Cantilever},
		{"the same", prism(250, upright(0, 0, 50, 25), opening(2.5, 2.5, 47.5, 22.5)), mesh.Y, beam.Cantilever},
		{"channel 30x20x3, along the web", prism(300, channel), mesh.Z, beam.Cantilever},
		{"the same, across", prism(300, channel), mesh.Y, beam.Cantilever},
		{"the same, along the web", prism(300, channel), mesh.Z, beam.SimplySupported},
		{"channel 26x32x3.5, 171 long, along the web", prism(171, outline(0, 0, 32, 0, 32, 3.5, 3.5, 3.5, 3.5, 22.5, 32, 22.5, 32, 26, 0, 26)), mesh.Z, beam.Propped},
		{"angle 40x25x3", prism(250, outline(0, 0, 40, 0, 40, 3, 3, 3, 3, 25, 0, 25)), mesh.Z, beam.Cantilever},
		{"the same", prism(250, outline(0, 0, 40, 0, 40, 3, 3, 3, 3, 25, 0, 25)), mesh.Y, beam.Cantilever},
		{"tee 30x24x4", prism(200, outline(0, 0, 30, 0, 30, 4, 17, 4, 17, 24, 13, 24, 13, 4, 0, 4)), mesh.Z, beam.Cantilever},
		{"the same, across", prism(200, outline(0, 0, 30, 0, 30, 4, 17, 4, 17, 24, 13, 24, 13, 4, 0, 4)), mesh.Y, beam.Cantilever},
		{"Z 20x30x3", prism(250, outline(0, 0, 20, 0, 20, 27, 37, 27, 37, 30, 17, 30, 17, 3, 0, 3)), mesh.Z, beam.Cantilever},
		{"two ribs on a plate", prism(250, outline(0, 0, 60, 0, 60, 4, 48, 4, 48, 16, 44, 16, 44, 4, 16, 4, 16, 16, 12, 16, 12, 4, 0, 4)), mesh.Z, beam.Cantilever},
	} {
		e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}
		r, err := beam.OfPart(c.part, e, beam.Setup{Load: c.load, Support: c.support})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if r.Stiffness == nil {
			t.Errorf("%s, %s: %s", c.name, c.load, r.Refused)
			continue
		}
		p, err := solid.EndProblem(c.part, mesh.X, c.load, c.support.String(), 100)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		s, err := solid.Check(context.Background(), c.part, e, p, solid.Options{})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		off := s.Stiffness / *r.Stiffness - 1
		t.Logf("| %s | %s %s | %.4g ± %.1f %% | %.4g | %+.1f | %+.1f to %+.1f |", c.name, c.support, c.load, s.Stiffness, s.ErrorPercent, *r.Stiffness,
			100*off, 100*r.MethodError.Low, 100*r.MethodError.High)
		if slack := s.ErrorPercent / 100; off < r.MethodError.Low-slack || off > r.MethodError.High+slack {
			t.Errorf("%s, %s: the solid is %+.1f %% off, stated %+.1f to %+.1f", c.name, c.load, 100*off, 100*r.MethodError.Low, 100*r.MethodError.High)
		}
	}
}
