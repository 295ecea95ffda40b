package cut_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/sample"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// plateRegion is a 100 x 40 plate with two round holes.
func plateRegion() cut.Region {
	return cut.Region{{
		Outer: sample.Rectangle(0, 0, 100, 40),
		Holes: [][]r2.Vec{
			sample.Reversed(sample.Ring(r2.Vec{X: 20, Y: 20}, 5, 64)),
			sample.Reversed(sample.Ring(r2.Vec{X: 80, Y: 20}, 5, 64)),
		},
	}}
}

func TestAnExtrudedPlateIsClosedAndHasTheVolumeOfItsArea(t *testing.T) {
	r := plateRegion()
	for _, p := range []mesh.Plane{mesh.AxisPlane(mesh.X, 3), mesh.AxisPlane(mesh.Y, 3), mesh.AxisPlane(mesh.Z, 3), mesh.AxisPlane(mesh.Z, 0).Flipped()} {
		for _, h := range []float64{6, -6} {
			m, err := cut.Extrude(r, p, h)
			if err != nil {
				t.Fatal(err)
			}
			sample.RequireClosed(t, m)
			sample.Near(t, "volume", sample.Volume(m), 6*r.Area(), 1e-9)
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, v := range m.Vertices {
				lo, hi = min(lo, p.Height(v)), max(hi, p.Height(v))
			}
			if lo != min(0, h) || hi != max(0, h) {
				t.Errorf("height %g gives %g to %g", h, lo, hi)
			}
		}
	}
}

// A plate with a pocket whose floor is cut through by a smaller hole, and a boss
// on top: the outlines coincide, nest and are new from layer to layer.
func TestAStackHasNoFacesBetweenItsLayers(t *testing.T) {
	plate, boss, bore := sample.Rectangle(0, 0, 60, 40), sample.Ring(r2.Vec{X: 15, Y: 20}, 10, 64), sample.Ring(r2.Vec{X: 15, Y: 20}, 4, 64)
	pocket, slot := sample.Rectangle(35, 10, 55, 30), sample.Rectangle(40, 15, 50, 25)
	floor := cut.Region{{Outer: plate, Holes: [][]r2.Vec{sample.Reversed(bore), sample.Reversed(slot)}}}
	walls := cut.Region{{Outer: plate, Holes: [][]r2.Vec{sample.Reversed(bore), sample.Reversed(pocket)}}}
	top := cut.Region{{Outer: boss, Holes: [][]r2.Vec{sample.Reversed(bore)}}}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{floor, 2}, cut.Layer{walls, 4}, cut.Layer{top, 3})
	if err != nil {
		t.Fatal(err)
	}
	sample.RequireClosed(t, m)
	sample.Near(t, "volume", sample.Volume(m), 2*floor.Area()+4*walls.Area()+3*top.Area(), 1e-9)
	for _, c := range []struct {
		z    float64
		want cut.Region
	}{{1, floor}, {4, walls}, {8, top}} {
		got, err := cut.Section(m, mesh.AxisPlane(mesh.Z, c.z))
		if err != nil {
			t.Fatal(err)
		}
		sample.Near(t, "section", got.Area(), c.want.Area(), 1e-9)
	}
	// Faces at z = 2 are the pocket's floor alone
	var at2 float64
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		if a.Z == 2 && b.Z == 2 && c.Z == 2 {
			at2 += r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
		}
	}
	sample.Near(t, "floor", at2, 20*20-10*10, 1e-9)
}

// A block stands on a plate flush with its edge, with corners in the middle of
// the plate's edge: the plate's wall must take up these corners.
func TestAStackTakesUpCornersInTheMiddleOfAnEdge(t *testing.T) {
	plate := cut.Region{{Outer: sample.Rectangle(0, 0, 60, 40)}}
	block := cut.Region{{Outer: sample.Rectangle(20, 0, 40, 10)}}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Y, -5), cut.Layer{plate, 5}, cut.Layer{block, 5}, cut.Layer{plate, 5})
	if err != nil {
		t.Fatal(err)
	}
	sample.RequireClosed(t, m)
	sample.Near(t, "volume", sample.Volume(m), 2*5*2400+5*200, 1e-9)
}

func TestAnEmptyLayerParts(t *testing.T) {
	r := plateRegion()
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{r, 2}, cut.Layer{nil, 5}, cut.Layer{r, 2})
	if err != nil {
		t.Fatal(err)
	}
	sample.RequireClosed(t, m)
	sample.Near(t, "volume", sample.Volume(m), 4*r.Area(), 1e-9)
}

func TestStackRefusesWhatItCannotBuild(t *testing.T) {
	r := plateRegion()
	across := cut.Region{{Outer: sample.Rectangle(-10, 10, 10, 30)}}
	wrong := cut.Region{{Outer: sample.Reversed(sample.Rectangle(0, 0, 1, 1))}}
	for name, layers := range map[string][]cut.Layer{
		"nothing": nil, "no thickness": {{r, 0}}, "infinite": {{r, math.Inf(1)}}, "not a number": {{r, math.NaN()}},
		"crossing": {{r, 1}, {across, 1}}, "clockwise": {{wrong, 1}}, "empty": {{nil, 1}},
	} {
		if _, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), layers...); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
