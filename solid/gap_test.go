package solid

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/mesh"
	"swapworth/solid/internal/grid"
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
	for _, g := range grid.FindGaps(s).Loose {
		t.Errorf("a gap of %.2g mm from %.1f to %.1f", g.Width, g.Low, g.High)
	}
}

// A slot at a slant has no grid lines along its walls. The prongs, which taper, are
// beams side by side (deflection of a tip under unit load: integral of x^2/EI) on a
// stub that bends and turns under them.
func TestTheGridTurnsAlongASlantedSawCut(t *testing.T) {
	const long, wide, thick, stub, cut, rise = 100.0, 10.0, 8.0, 15.0, 0.2, 1.5
	// a prong is thickest at its root below the slot and at its tip above it
	middle := func(x float64) float64 { return (wide-rise)/2 + rise*(long-x)/(long-stub) }
	m := extruded(t, []r2.Vec{
		{}, {X: long}, {X: long, Y: middle(long) - cut/2}, {X: stub, Y: middle(stub) - cut/2},
		{X: stub, Y: middle(stub) + cut/2}, {X: long, Y: middle(long) + cut/2}, {X: long, Y: wide}, {Y: wide},
	}, mesh.Z, 0, thick)
	p, err := EndProblem(m, mesh.X, mesh.Y, "cantilever", 10)
	if err != nil {
		t.Fatal(err)
	}
	tip := func(depth func(x float64) float64) (flex float64) { // of a prong from its root
		const n = 1000
		for i := range n {
			x := stub + (long-stub)*(float64(i)+0.5)/n
			d := depth(x)
			flex += (long - x) * (long - x) * 12 / (70000 * thick * d * d * d) * (long - stub) / n
		}
		return
	}
	share := (middle(long) - cut/2) / (wide - cut) // of the force, which is spread over both end faces
	below := tip(func(x float64) float64 { return middle(x) - cut/2 })
	above := tip(func(x float64) float64 { return wide - middle(x) - cut/2 })
	const prong = long - stub
	block := 70000 * thick * wide * wide * wide / 12
	want := 1 / (share*share*below + (1-share)*(1-share)*above + (prong*prong*stub+prong*stub*stub+stub*stub*stub/3)/block)
	r := solve(t, m, aluminium, p, Quick())
	near(t, "tapering prongs", r.Stiffness, want, 5) // their roots give way, which beams leave out
	all := strings.Join(r.Warnings, " ")
	if strings.Contains(all, "a gap of") {
		t.Errorf("warnings %q speak of a gap that lies along the grid", r.Warnings)
	}
	// in a frame that the slot does not follow it is opened, and the error says so
	body, err := NewBody(m)
	if err != nil {
		t.Fatal(err)
	}
	body.poses = body.frames()[1:]
	r, err = body.Check(t.Context(), aluminium, p, Quick())
	if err != nil {
		t.Fatal(err)
	}
	off := 100 * math.Abs(want/r.Stiffness-1)
	t.Logf("%.4g N/mm +- %.0f %%, beams %.4g, grids %.4g %.4g", r.Stiffness, r.ErrorPercent, want, r.Grids[0].Stiffness, r.Grids[1].Stiffness)
	if off > r.ErrorPercent {
		t.Errorf("%.4g N/mm +- %.2g %%, beams say %.4g", r.Stiffness, r.ErrorPercent, want)
	}
	if !strings.Contains(r.Warnings[0], "a gap of 0.2 mm is narrower than the cells") {
		t.Errorf("the first warning is %q", r.Warnings[0])
	}
}
