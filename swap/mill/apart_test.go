package mill

import (
	"math"
	"slices"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/asmade"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// turnedBy returns the part turned in its file.
func turnedBy(p asmade.Part, axis r3.Vec, angle float64) asmade.Part {
	return asmade.Read(p.Mesh.Transformed(mesh.RotationAbout(axis, angle)))
}

// ground moves every corner of a part.
func ground(p asmade.Part, move func(r3.Vec) r3.Vec) asmade.Part {
	m := &mesh.Mesh{Faces: p.Mesh.Faces}
	for _, v := range p.Mesh.Vertices {
		m.Vertices = append(m.Vertices, move(v))
	}
	return asmade.Read(m)
}

// Parts that were drawn after the rules were chosen, and changed none of them.
func TestPartsKeptApart(t *testing.T) {
	block := rectangle(0, 0, 80, 50)
	plastic := Stuff{materials.Plastic, 1410}

	judged(t, "a block with a good pocket, askew in its file",
		turnedBy(stacked(t, slab(10, block), slab(20, block, rounded(10, 10, 70, 40, 5))), r3.Vec{X: 1, Y: 2, Z: 3}, 0.8), metal)

	judged(t, "a slit of 1 mm, 12 mm deep", stacked(t, slab(8, block), slab(12, block, rectangle(20, 25, 60, 26))), metal,
		expected{Unreachable, 1, 3, true}, expected{InsideRadius, 0, 1.5, false})
	judged(t, "a seal groove 2.4 mm wide, 1.8 mm deep",
		stacked(t, slab(8.2, block, circle(40, 25, 10)), layer{1.8, []loop{block, circle(40, 25, 30)}, []loop{circle(40, 25, 34.8), circle(40, 25, 10)}}), metal,
		expected{Unreachable, 2.4, 3, false})
	judged(t, "a bore of 30 mm, 60 mm deep", stacked(t, slab(20, block), slab(60, block, circle(40, 25, 30))), metal,
		expected{DeepPocket, 60, 48, false})
	judged(t, "a pocket 90 mm deep", stacked(t, slab(10, block), slab(90, block, rounded(20, 10, 60, 40, 8))), metal,
		expected{DeepPocket, 90, 70, true})
	judged(t, "a hole of 6 mm that leaves 1.6 mm under it", stacked(t, slab(1.6, block), slab(18.4, block, circle(20, 20, 6))), metal,
		expected{ThinFloor, 0, 0.6, false})
	judged(t, "a hole of 3 mm, 40 mm deep", stacked(t, slab(40, block, circle(20, 20, 3))), metal,
		expected{DeepPocket, 40, 30, false})
	judged(t, "a hole of 2 mm, 50 mm deep", stacked(t, slab(50, block, circle(20, 20, 2))), metal,
		expected{DeepPocket, 50, 40, true})

	judged(t, "a pocket 36 mm deep with corners of 2 mm", stacked(t, slab(5, block), slab(36, block, rounded(20, 10, 60, 40, 2))), metal,
		expected{DeepPocket, 36, 16, false}, expected{InsideRadius, 2, 3, false})
	tray := stacked(t, slab(1.2, block), slab(10, block, rounded(1.2, 1.2, 78.8, 48.8, 4)))
	judged(t, "a tray of 1.2 mm in metal", tray, metal)
	judged(t, "a tray of 1.2 mm in plastic", tray, plastic,
		expected{ThinFloor, 1.2, 1.5, false}, expected{ThinWall, 1.2, 1.5, false})

	judged(t, "a rib of 1.5 mm, 25 mm high", stacked(t, slab(10, block), slab(25, rectangle(20, 5, 21.5, 45))), metal,
		expected{ThinWall, 1.5, 2.5, false})
	judged(t, "pockets with corners of 1 mm", stacked(t, slab(5, block), slab(5, block, rounded(10, 10, 70, 40, 1))), metal,
		expected{InsideRadius, 1, 1.5, false})
	judged(t, "a window with square corners", stacked(t, slab(10, block, rectangle(20, 15, 60, 35))), metal,
		expected{InsideRadius, 0, 1.5, false})
	judged(t, "two holes 0.8 mm apart", stacked(t, slab(10, block, circle(20, 25, 8), circle(28.8, 25, 8))), metal,
		expected{ThinWall, 0.8, 1, false})
	judged(t, "a sheet of 0.5 mm with holes", stacked(t, slab(0.5, block, circle(20, 25, 8))), metal)

	fork := stacked(t, slab(10, block), layer{30, []loop{rectangle(0, 0, 10, 50), rectangle(30, 0, 50, 50), rectangle(70, 0, 80, 50)}, nil})
	judged(t, "three legs", fork, metal)

	if m := judged(t, "a free-form hollow", asmade.Read(bowl(40)), metal); len(m.SetUps) != 1 {
		t.Errorf("a free-form hollow takes %d set-ups", len(m.SetUps))
	}

	leg, base := rectangle(0, 0, 50, 40), rectangle(0, 0, 50, 10)
	judged(t, "a hole in the middle leg of three",
		stacked(t, slab(10, leg), slab(20, base), slab(10, leg, circle(25, 25, 6)), slab(20, base), slab(10, leg)), metal,
		expected{Unreachable, 6, 0, true})

	threaded := []layer{slab(4, block, circle(40, 25, 5))}
	for range 8 {
		threaded = append(threaded, slab(0.4, block, circle(40, 25, 5.9)), slab(0.4, block, circle(40, 25, 5)))
	}
	judged(t, "a thread drawn as rings", stacked(t, threaded...), metal, expected{Undercut, open, 0, false})

	if m := judged(t, "a pipe with slots", stacked(t, slab(40, circle(0, 0, 30), circle(0, 0, 26)),
		layer{10, []loop{bow(15, 13, 2, 30), bow(15, 13, 34, 62)}, nil},
		slab(40, circle(0, 0, 30), circle(0, 0, 26))), metal); m.MadeBy == Mill {
		t.Errorf("a pipe is made by a %s", m.MadeBy)
	}
	if m := judged(t, "a knob", ground(stacked(t, slab(4, circle(0, 0, 20)), slab(4, circle(0, 0, 20)), slab(4, circle(0, 0, 20)), slab(8, circle(0, 0, 8))), func(v r3.Vec) r3.Vec {
		if r := math.Hypot(v.X, v.Y); r > 5 && (v.Z < 1 || v.Z > 11 && v.Z < 13) {
			v.X, v.Y = v.X*0.8, v.Y*0.8
		}
		return v
	}), metal); m.MadeBy != Lathe {
		t.Errorf("a knob is made by a %s", m.MadeBy)
	}
}

// bow is the outline of a part of a ring, from one of 64 chords to another.
func bow(outer, inner float64, from, to int) loop {
	var out, back loop
	for i := from; i <= to; i++ {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 64)
		out = append(out, r2.Vec{X: outer * cos, Y: outer * sin})
		back = append(back, r2.Vec{X: inner * cos, Y: inner * sin})
	}
	slices.Reverse(back)
	return append(out, back...)
}
