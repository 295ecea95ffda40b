package beam_test

import (
	"context"
	"flag"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
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

// row drills n holes evenly along a bar.
func row(n int, length, width, d float64) [][]r2.Vec {
	var all [][]r2.Vec
	for i := range n {
		all = append(all, drilled(length*(float64(i)+0.5)/float64(n), width/2, d))
	}
	return all
}

type layer struct {
	thick float64
	holes [][]r2.Vec
}

// layered stacks layers of one outline with different openings along z.
func layered(t *testing.T, out []r2.Vec, layers ...layer) *mesh.Mesh {
	t.Helper()
	var stack []mesh.Layer
	for _, l := range layers {
		stack = append(stack, mesh.Layer{Region: mesh.Region{{Outer: out, Holes: l.holes}}, Thickness: l.thick})
	}
	m, err := mesh.Stack(mesh.AxisPlane(mesh.Z, 0), stack...)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The outside is our own solid solver, which knows nothing of beams and is held
// to published solutions itself. The bands are those of docs/beam.md.
func TestBeamsAgreeWithTheSolid(t *testing.T) {
	if !*long {
		t.Skip("takes two minutes: run with -long")
	}
	bar := func(l, w, thick float64, holes ...[]r2.Vec) *mesh.Mesh {
		return layered(t, upright(0, 0, l, w), layer{thick, holes})
	}
	plate := bar(200, 40, 5, row(7, 200, 40, 20)...)
	web := bar(200, 20, 10, row(9, 200, 20, 12)...)
	wide := bar(120, 80, 6, drilled(30, 20, 18), drilled(30, 60, 18), drilled(60, 40, 30), drilled(90, 20, 18), drilled(90, 60, 18))
	slot := bar(200, 30, 8, opening(40, 7, 160, 23))
	fork := layered(t, outline(0, 0, 200, 0, 200, 10, 100, 10, 100, 20, 200, 20, 200, 30, 0, 30), layer{8, nil})
	taper := layered(t, outline(0, 0, 200, 10, 200, 20, 0, 30), layer{6, nil})
	step := layered(t, outline(0, 0, 200, 0, 200, 12, 80, 12, 80, 24, 0, 24), layer{8, nil})
	pockets := layered(t, upright(0, 0, 150, 40), layer{2, nil},
		layer{6, [][]r2.Vec{opening(7, 5, 47, 35), opening(55, 5, 95, 35), opening(103, 5, 143, 35)}})
	channel, err := mesh.Extrude(mesh.Region{{Outer: outline(0, 0, 20, 0, 20, 3, 3, 3, 3, 27, 20, 27, 20, 30, 0, 30)}}, mesh.AxisPlane(mesh.X, 0), 300)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		part    *mesh.Mesh
		load    mesh.Axis
		support beam.Support
		band    float64
	}{
		{"plate 200x40x5, 7 holes of 20", plate, mesh.Z, beam.Cantilever, 0.04},
		{"the same on edge", plate, mesh.Y, beam.Cantilever, 0.06},
		{"bar 200x20x10, 9 holes of 12", web, mesh.Z, beam.Cantilever, 0.05},
		{"the same on edge", web, mesh.Y, beam.Cantilever, 0.02},
		{"on edge, simply supported", web, mesh.Y, beam.SimplySupported, 0.02},
		{"on edge, fixed", web, mesh.Y, beam.FixedFixed, 0.08},
		{"plate 120x80x6, 5 large holes", wide, mesh.Z, beam.Cantilever, 0.04},
		{"simply supported", wide, mesh.Z, beam.SimplySupported, 0.03},
		{"fixed", wide, mesh.Z, beam.FixedFixed, 0.03},
		{"plain plate, simply supported", bar(120, 80, 6), mesh.Z, beam.SimplySupported, 0.01},
		{"bar 200x30x8, slot 120x16, on edge", slot, mesh.Y, beam.Cantilever, 0.05},
		{"fork, on edge", fork, mesh.Y, beam.Cantilever, 0.02},
		{"taper 30 to 10, on edge", taper, mesh.Y, beam.Cantilever, 0.02},
		{"step 24 to 12, on edge", step, mesh.Y, beam.Cantilever, 0.02},
		{"bar 150x40x8, 3 pockets 6 deep", pockets, mesh.Z, beam.Cantilever, 0.04},
		{"channel 30x20x3 x 300, along the web", channel, mesh.Z, beam.Cantilever, 0.02},
	} {
		e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}
		r, err := beam.OfPart(c.part, e, beam.Setup{Load: c.load, Support: c.support})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		p, err := solid.EndProblem(c.part, mesh.X, c.load, c.support.String(), 100)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		s, err := solid.Check(context.Background(), c.part, e, p, solid.Options{})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		off := *r.Stiffness/s.Stiffness - 1
		t.Logf("| %s | %s | %.4g | %.4g | %+.1f | %.1f |", c.name, c.load, s.Stiffness, *r.Stiffness, 100*off, 100*r.MethodError.High)
		if math.Abs(off) > c.band {
			t.Errorf("%s: %+.1f %% off the solid", c.name, 100*off)
		}
		if low, high := *r.Stiffness*(1+r.MethodError.Low), *r.Stiffness*(1+r.MethodError.High); s.Stiffness < low || s.Stiffness > high {
			t.Errorf("%s: the solid's %.4g N/mm lies outside %.4g to %.4g", c.name, s.Stiffness, low, high)
		}
	}
}
