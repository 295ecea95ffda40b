package solid

import (
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/mesh"
)

// sawn is a bar of 100 x 12 x 6.2 with a slot of 0.2 from x = 15 to its high end:
// two prongs 3 thick on a block.
func sawn(t *testing.T) *mesh.Mesh {
	return extruded(t, []r2.Vec{{}, {X: 100}, {X: 100, Y: 3}, {X: 15, Y: 3}, {X: 15, Y: 3.2}, {X: 100, Y: 3.2}, {X: 100, Y: 6.2}, {Y: 6.2}}, mesh.Z, 0, 12)
}

// Two cantilevers side by side on a stub (Roark, beam tables; shear of 6/5 F/GA
// adds less than 0.2 %): the stub bends and turns under F and F times the prongs'
// length, and the prongs share F. Bridged, the bar would be 3.4 times as stiff.
func TestASawCutNarrowerThanTheCellsIsNotBridged(t *testing.T) {
	m := sawn(t)
	p, err := EndProblem(m, mesh.X, mesh.Y, "cantilever", 10)
	if err != nil {
		t.Fatal(err)
	}
	const prong, stub = 85.0, 15.0
	prongs, block := 70000*12*2*27/12.0, 70000*12*6.2*6.2*6.2/12
	flex := prong*prong*prong/(3*prongs) + stub*stub*stub/(3*block) + stub*prong*(stub+prong)/block
	for _, opt := range []Options{{Unknowns: 3000, Grids: 2}, Quick()} {
		r := solve(t, m, aluminium, p, opt)
		near(t, "two prongs", r.Stiffness, 1/flex, 2)
		if r.Cells < 100 || r.Unknowns > 2*opt.Unknowns {
			t.Errorf("%d unknowns, wanted about %d", r.Unknowns, opt.Unknowns)
		}
	}
}

// Two bars 0.1 mm apart are two bodies.
func TestTwoBodiesATenthOfAMillimetreApartAreTwo(t *testing.T) {
	lower := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 4})
	upper := mesh.Cuboid(r3.Vec{X: 3, Y: 1, Z: 4.1}, r3.Vec{X: 97, Y: 18, Z: 9})
	m := mesh.Merge(lower, upper)
	p := Problem{
		Supports: []Support{Clamped(FaceAt(r3.Vec{Y: 10, Z: 2}, r3.Vec{X: -1}))},
		Cases:    []Case{{Name: "z", Loads: []Load{{Place: FaceAt(r3.Vec{X: 100, Y: 10, Z: 2}, r3.Vec{X: 1}), Force: r3.Vec{Z: 10}}}}},
	}
	opt := Options{Unknowns: 6000, Grids: 2}
	want := solve(t, lower, aluminium, p, opt)
	got := solve(t, m, aluminium, p, opt)
	near(t, "the lower bar", got.Stiffness, want.Stiffness, 0.5)
	if !strings.Contains(strings.Join(got.Warnings, " "), "separate body") {
		t.Errorf("warnings %q do not mention the upper bar", got.Warnings)
	}
	p.Cases[0].Loads[0].Place = FaceAt(r3.Vec{X: 50, Y: 10, Z: 9}, r3.Vec{Z: 1})
	if _, err := Check(t.Context(), m, aluminium, p, opt); err == nil || !strings.Contains(err.Error(), "nothing holds the body") {
		t.Errorf("a load on the upper bar: got %v", err)
	}
}

// Holes, pockets and grooves that are wider than deep are no gaps.
func TestHolesAreNoGaps(t *testing.T) {
	m, _ := loadReference(t, "carriage_new")
	s := frameOf(m.Bounds()).surface(m)
	for _, g := range findGaps(s).loose {
		t.Errorf("a gap of %.2g mm from %.1f to %.1f", g.width, g.low, g.high)
	}
}
