package feature

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// stepped is a hole of a random plate: wide down to a depth, narrow below it. A
// narrow radius of 0 makes it blind, equal radii make it plain.
type stepped struct {
	x, y, wide, narrow, depth float64
}

// plateWith stacks layers so that each hole steps at its depth below the top.
func plateWith(t *rapid.T, thick float64, n int, holes []stepped) *mesh.Mesh {
	cuts := map[float64]bool{0: true}
	for _, h := range holes {
		cuts[thick-h.depth] = true
	}
	var layers []cut.Layer
	for z := 0.0; z < thick; z++ { // depths and thickness are whole mm
		top := z + 1
		p := cut.Polygon{Outer: []r2.Vec{{}, {X: 120}, {X: 120, Y: 80}, {Y: 80}}}
		for _, h := range holes {
			radius := h.narrow
			if top > thick-h.depth {
				radius = h.wide
			}
			if radius > 0 {
				p.Holes = append(p.Holes, reversed(circle(h.x, h.y, radius, n)))
			}
		}
		if last := len(layers) - 1; last >= 0 && !cuts[z] {
			layers[last].Thickness++
			continue
		}
		layers = append(layers, cut.Layer{Region: cut.Region{p}, Thickness: 1})
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), layers...)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestRandomPlatesGiveBackTheHolesTheyWereDrawnWith(t *testing.T) {
	property.Few(t, 40, func(t *rapid.T) {
		thick := float64(rapid.IntRange(3, 20).Draw(t, "thickness"))
		n := rapid.SampledFrom([]int{12, 16, 24, 32, 64, 100}).Draw(t, "chords")
		var holes []stepped
		for x := 12.0; x < 115; x += 24 {
			for y := 12.0; y < 75; y += 19 {
				h := stepped{x: x, y: y}
				h.wide = rapid.Float64Range(1, 3).Draw(t, "radius")
				h.depth = float64(rapid.IntRange(1, int(thick)-1).Draw(t, "depth"))
				switch rapid.IntRange(0, 3).Draw(t, "kind") {
				case 0:
					continue
				case 1:
					h.narrow = h.wide
				case 2:
					h.narrow = 0
				case 3:
					h.narrow, h.wide = h.wide, h.wide*1.8
				}
				holes = append(holes, h)
			}
		}
		move := motion(t)
		found := Holes(rounded(plateWith(t, thick, n, holes), move))
		if len(found) != len(holes) {
			t.Fatalf("%d holes, drawn with %d", len(found), len(holes))
		}
		for _, h := range holes {
			want := Hole{Kind: Through, Diameter: 2 * h.narrow, Depth: thick}
			switch {
			case h.narrow == 0:
				want = Hole{Kind: Blind, Diameter: 2 * h.wide, Depth: h.depth}
			case h.narrow < h.wide:
				want.Kind, want.HeadDiameter, want.HeadDepth = Counterbore, 2*h.wide, h.depth
			}
			at := move.Apply(r3.Vec{X: h.x, Y: h.y, Z: thick - want.Depth/2})
			if g, ok := nearest(found, at); !ok || g.Kind != want.Kind || math.Abs(g.Diameter-want.Diameter) > 0.02 ||
				math.Abs(g.Depth-want.Depth) > 0.02 || math.Abs(g.HeadDiameter-want.HeadDiameter) > 0.02 {
				g.Faces = nil
				t.Fatalf("%d chords: drawn %+v\nfound %+v", n, want, g)
			}
		}
	})
}

func nearest(holes []Hole, at r3.Vec) (Hole, bool) {
	for _, h := range holes {
		if r3.Norm(r3.Sub(h.Centre, at)) < 0.01 {
			return h, true
		}
	}
	return Hole{}, false
}

// crossing.stl.gz is a block with holes of 24 chords subtracted as polyhedra, so
// that where two holes cross, corners lie within chords. Drawn: 120 x 80 x 20, a
// bore of 6 along x at y 60, z 10, crossed by one of 8 along z at (60, 60).
func TestHolesThatCross(t *testing.T) {
	l, err := mesh.Load("testdata/crossing.stl.gz", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	along, crossing := 0, 0
	for _, h := range Holes(l.Mesh) {
		switch {
		case math.Abs(h.Axis.X) > 0.999:
			along++
			if !near(h.Diameter, 6) || !near(h.Centre.Y, 60) || !near(h.Centre.Z, 10) {
				t.Errorf("along x: %v, %g mm", h.Centre, h.Diameter)
			}
		case near(h.Centre.X, 60) && near(h.Centre.Y, 60):
			crossing++
			if !near(h.Diameter, 8) || !near(h.Depth, 20) || h.Kind != Through {
				t.Errorf("along z: %s, %g mm, %g deep", h.Kind, h.Diameter, h.Depth)
			}
		}
	}
	if along != 2 || crossing != 1 {
		t.Errorf("%d halves of the bore along x, %d across", along, crossing)
	}
}

// crossed_tube.stl.gz is a tube 30 / 24 by 100 long with a hole of 5 through both
// walls, subtracted as polyhedra.
func TestAHoleThroughBothWallsOfATubeIsTwo(t *testing.T) {
	l, err := mesh.Load("testdata/crossed_tube.stl.gz", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	holes := Holes(l.Mesh)
	if len(holes) != 3 {
		t.Fatalf("%d holes, want the bore and one in each wall", len(holes))
	}
	for _, h := range holes {
		wall := math.Abs(h.Axis.X) > 0.999
		switch {
		case wall && (!near(h.Diameter, 5) || math.Abs(h.Depth-3) > 0.1 || h.Kind != Through):
			t.Errorf("in the wall: %s, %g mm, %g deep", h.Kind, h.Diameter, h.Depth)
		case !wall && (!near(h.Diameter, 24) || !near(h.Depth, 100)):
			t.Errorf("bore: %g mm, %g long", h.Diameter, h.Depth)
		}
	}
}
