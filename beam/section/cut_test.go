package section

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func cutOf(t checker, m *mesh.Mesh, p mesh.Plane) cut.Region {
	t.Helper()
	r, err := cut.Section(m, p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A block 100 x 20 x 5: in an x-cut the axes are (y, z), in a y-cut (z, x), in a
// z-cut (x, y), so that b h^3/12 takes other sides each time.
func TestTheAxesOfACutFollowCyclically(t *testing.T) {
	block := mesh.Cuboid(r3.Vec{X: 0, Y: 0, Z: 0}, r3.Vec{X: 100, Y: 20, Z: 5})
	for _, c := range []struct {
		axis                 mesh.Axis
		at                   float64
		width, height, angle float64
	}{{mesh.X, 30, 20, 5, 90}, {mesh.Y, 7, 5, 100, 0}, {mesh.Z, 2, 100, 20, 90}} {
		s := sectionOf(t, cutOf(t, block, mesh.AxisPlane(c.axis, c.at)))
		near(t, "area", s.Area, c.width*c.height, 1e-12)
		near(t, "ixx", s.Ixx, c.width*math.Pow(c.height, 3)/12, 1e-12)
		near(t, "iyy", s.Iyy, c.height*math.Pow(c.width, 3)/12, 1e-12)
		near(t, "centroid", s.Centroid.X, c.width/2, 1e-12)
		near(t, "centroid", s.Centroid.Y, c.height/2, 1e-12)
		if s.AngleDeg != c.angle {
			t.Errorf("%v-cut: angle %v, want %v", c.axis, s.AngleDeg, c.angle)
		}
	}
}

// The reference tube is 200 x 30 x 20 with a wall of 2: closed forms of the
// hollow rectangle.
func TestTheReferenceTubeIsARectangularTube(t *testing.T) {
	l, err := mesh.Load("../../testdata/reference/tube.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := NewReport(cutOf(t, l.Mesh, mesh.AxisPlane(mesh.X, 77)), 0.3)
	if err != nil {
		t.Fatal(err)
	}
	want, err := shapeOf(t, "recttube 30x20x2").Report(0.3)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area", got.Area, want.Area, 1e-6)
	near(t, "ixx", got.Ixx, want.Ixx, 1e-6)
	near(t, "iyy", got.Iyy, want.Iyy, 1e-6)
	near(t, "J", *got.J, *want.J, 1e-3)
	near(t, "shear area", got.ShearArea[0], want.ShearArea[0], 1e-3)
	if got.Outlines != 1 || got.Holes != 1 {
		t.Errorf("%d outlines, %d holes", got.Outlines, got.Holes)
	}
}

// A section of an extruded and tilted profile cut at right angles to the
// extrusion is the profile again.
func TestAnObliqueCutFindsTheProfile(t *testing.T) {
	profile := shapeOf(t, "channel 60x30x3x4 r5").Region()
	plane, err := mesh.PlaneFromNormal(r3.Vec{X: 10, Y: -4, Z: 3}, r3.Vec{X: 1, Y: 2, Z: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	bar, err := cut.Extrude(profile, plane, 50)
	if err != nil {
		t.Fatal(err)
	}
	middle := plane
	middle.Origin = r3.Add(plane.Origin, r3.Scale(20, plane.Normal))
	got, want := sectionOf(t, cutOf(t, bar, middle)), sectionOf(t, profile)
	near(t, "area", got.Area, want.Area, 1e-9)
	near(t, "i1", got.I1, want.I1, 1e-9)
	near(t, "i2", got.I2, want.I2, 1e-9)
	near(t, "centroid", got.Centroid.X, want.Centroid.X, 1e-9)
}

// A plate with a hundred holes. Taking material away can only lower J, so it
// lies between the plain plate's and that of the rim outside all holes.
func TestManyHolesAreSolvedBetweenBounds(t *testing.T) {
	outer := box(0, 0, 200, 50)
	loops := [][]r2.Vec{outer}
	for i := range 20 {
		for j := range 5 {
			loops = append(loops, ngon(r2.Vec{X: 5 + 10*float64(i), Y: 5 + 10*float64(j)}, 3.5, 32))
		}
	}
	res := torsionOf(t, only(loops...))
	rim := torsionOf(t, only(outer, box(1.5, 1.5, 198.5, 48.5)))
	if plain := rectangleJ(200, 50); res.JHigh >= plain || res.JLow <= rim.JHigh {
		t.Errorf("J %g, plain plate %g, rim %g", res.J, plain, rim.J)
	}
	if gap := (res.JHigh - res.JLow) / res.J; gap > 1e-3 {
		t.Errorf("the bounds of J are %g apart", gap)
	}
}

// Holes that nearly touch each other and the edge, and sides a millionth of the
// section long, as a tessellated cut has them.
func TestNearlyTouchingHolesAreSolved(t *testing.T) {
	r := only(box(0, 0, 100, 20), ngon(r2.Vec{X: 30, Y: 10}, 9.999, 200), ngon(r2.Vec{X: 49.999, Y: 10}, 9.999, 200))
	r[0].Outer = append([]r2.Vec{{X: 0, Y: 0}, {X: 5e-5, Y: 1e-8}, {X: 1e-4, Y: 0}}, r[0].Outer[1:]...)
	res, err := Torsion(r, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	if !(res.JLow > 0 && res.JHigh/res.JLow < 1.01) {
		t.Errorf("J from %g to %g", res.JLow, res.JHigh)
	}
	if a := r.Area(); !(res.ShearArea[0] > 0 && res.ShearArea[0] < a) {
		t.Errorf("shear areas %v of %g", res.ShearArea, a)
	}
}

func TestTheReportOfSeparatePiecesSaysSo(t *testing.T) {
	got, err := NewReport(append(only(box(0, 0, 9, 3)), only(box(0, 20, 9, 23))...), 0.3)
	if err != nil {
		t.Fatal(err)
	}
	if got.ShearCentre != nil || got.Warping != nil || len(got.Warnings) != 1 || got.Outlines != 2 {
		t.Errorf("%+v", got)
	}
	near(t, "J", *got.J, 2*rectangleJ(9, 3), 1e-3)
}
