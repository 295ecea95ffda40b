package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// A small pad that stayed says how a square plate lies whose pin moved and became thicker,
// though it is but a fiftieth of the surface: from afar the plate looks more alike when pin
// lies on pin, but no face does.
func TestAPadSaysHowAPlateLiesWhosePinMoved(t *testing.T) {
	part := func(y, d float64, at mesh.Transform) *shape {
		p := plan{length: 40, width: 40, thick: 5, holes: []hole{{6, 6, 4}, {34, 6, 4}, {34, 34, 4}, {6, 34, 4}}}
		p = p.on(4, reversed(round(20, y, d, 24)))
		p.above = append(p.above, cut.Polygon{Outer: box(12, 18, 16, 22)})
		return partOf(t, p.mesh(t, 24).Transformed(at))
	}
	a := align(part(30, 5, rigidly), part(10, 6, mesh.Translation(r3.Vec{X: 7, Y: 90})), false)
	if off := r3.Norm(r3.Sub(a.Motion.Apply(r3.Vec{X: 7, Y: 90}), r3.Vec{})); off > coincide || a.Motion.Turn(r3.Vec{X: 1}).X < 0.999 {
		t.Errorf("the pad does not lie on itself: %+v", a.Motion)
	}
}

// egg is an ellipsoid of n chords around and half as many along, of half axes in mm.
func egg(n int, x, y, z float64) *mesh.Mesh {
	rows := n / 2
	at := func(i, k int) r3.Vec {
		if i == rows {
			return r3.Vec{Z: -z}
		}
		s, c := math.Sincos(math.Pi * float64(i) / float64(rows))
		sin, cos := math.Sincos(2 * math.Pi * float64(k%n) / float64(n))
		return r3.Vec{X: x * s * cos, Y: y * s * sin, Z: z * c}
	}
	var corners []r3.Vec
	for i := range rows {
		for k := range n {
			if i > 0 {
				corners = append(corners, at(i, k), at(i+1, k), at(i, k+1))
			}
			if i < rows-1 {
				corners = append(corners, at(i, k+1), at(i+1, k), at(i+1, k+1))
			}
		}
	}
	return mesh.Weld(corners)
}

// A part without a flat or round face is the same when it was drawn in other chords, which
// makes it unlike by a third of a thousandth of its size, or is off by 0.05 mm of 76; one
// that grew by 0.15 mm all around is another.
func TestAnEggIsTheSameWithinAThousandth(t *testing.T) {
	old := partOf(t, egg(48, 30, 20, 12))
	for _, c := range []struct {
		chords   int
		grown    float64
		complete bool
	}{{64, 0, true}, {64, 0.05, true}, {48, 0.15, false}} {
		j := judge(old, partOf(t, egg(c.chords, 30+c.grown, 20+c.grown, 12+c.grown)), rigidly)
		if j.complete() != c.complete {
			t.Errorf("%d chords, grown by %g mm: unlike by %.2g of its size, complete %v", c.chords, c.grown, j.unlike/old.size, !c.complete)
		}
	}
}

// A face on which a block stands is no seat for something flat, though a recess at the foot
// of the block takes a third of the edge that they make together; one with the recess alone
// is.
func TestABlockBesideARecessStillStands(t *testing.T) {
	plate := box(0, 0, 60, 40)
	recess := reversed(box(30, 15, 40, 25))
	for _, c := range []struct {
		block   bool
		touches bool
	}{{false, true}, {true, false}} {
		layers := []cut.Layer{
			{Region: cut.Region{{Outer: plate}}, Thickness: 6},
			{Region: cut.Region{{Outer: plate, Holes: [][]r2.Vec{recess}}}, Thickness: 3},
		}
		if c.block {
			layers = append(layers, cut.Layer{Region: cut.Region{{Outer: box(20, 5, 30, 35)}}, Thickness: 8})
		}
		s := partOf(t, stack(t, layers...))
		for k := range s.flats {
			if f := &s.flats[k]; f.Normal.Z > 0.99 && math.Abs(f.Centroid.Z-9) < coincide && f.touches() != c.touches {
				t.Errorf("block %v: something flat may lie on the face %v", c.block, !c.touches)
			}
		}
	}
}

// A block with rounded corners on a plate is no spigot, for a quarter of a circle centres
// nothing; the round of a shaft with a flat is.
func TestARoundedCornerIsNoSpigot(t *testing.T) {
	for _, c := range []struct {
		why     string
		outline []r2.Vec
		spigots int
	}{
		{"corners rounded by 4 mm", reversed(window(50, 25, 20, 12, 4, 24)), 0},
		{"a shaft of 20 mm, flat at 8 mm from its axis", reversed(dBore(50, 25, 20, 8, 24)), 1},
	} {
		m := plain().on(4, c.outline).mesh(t, 24)
		if s := newShape(Part{m, feature.Find(m)}); len(s.spigots) != c.spigots {
			t.Errorf("%s: %d spigots, want %d", c.why, len(s.spigots), c.spigots)
		}
	}
}

// A boss twice as wide as the screw in it, 10 mm around a coarse hole of 5.8 for M5 and 16
// around one of 10 for M8 (ISO 273), bears the screw's head; a collar of 8 mm around a hole of 5.5 is narrower than the head,
// 8.5 mm (ISO 4762, from memory), and locates.
func TestABossBearsTheHeadOfItsScrew(t *testing.T) {
	for _, c := range []struct {
		boss, bore float64
		locates    bool
	}{{10, 5.8, false}, {16, 10, false}, {8, 5.5, true}} {
		p := plain()
		p.holes = append(append([]hole{}, pattern...), hole{50, 25, c.bore})
		s := partOf(t, p.on(4, reversed(round(50, 25, c.boss, 48)), round(50, 25, c.bore, 48)).mesh(t, 48))
		if len(s.spigots) != 1 || s.spigots[0].locates != c.locates {
			t.Errorf("%g mm around %g: %d, locates %v", c.boss, c.bore, len(s.spigots), !c.locates)
		}
	}
}

// A part without holes whose slot and spigot lie in the mirror where they did is the mirror
// image also where it was drawn again, with a window that makes it lighter; a plate that a
// half turn brings together is none, though it became thinner and its file's frame is kept.
func TestAMirrorImageIsWhatNoTurnBringsTogether(t *testing.T) {
	part := func(thick float64, openings ...[]r2.Vec) plan {
		return plan{length: 100, width: 50, thick: thick}.with(openings...)
	}
	handed := func(openings ...[]r2.Vec) *mesh.Mesh {
		return part(8, append(openings, slot(30, 15, 16, 5, 24))...).on(4, reversed(round(70, 30, 12, 24))).mesh(t, 24)
	}
	even := slot(30, 25, 16, 5, 24)
	half := mesh.Translation(r3.Vec{X: 100, Y: 50}).Compose(mesh.RotationAbout(r3.Vec{Z: 1}, math.Pi))
	for _, c := range []struct {
		why      string
		old, new *mesh.Mesh
		mirrored bool
	}{
		{"with a window", handed(), mirror(handed(window(20, 35, 30, 10, 3, 24))), true},
		{"thinner and turned", part(8, even).mesh(t, 24), part(6.2, even).mesh(t, 24).Transformed(half), false},
	} {
		if r := Compare(c.old, c.new, Options{}); r.Frame.Mirrored != c.mirrored {
			t.Errorf("%s: mirrored %v, %q", c.why, !c.mirrored, r.Findings)
		}
	}
}
