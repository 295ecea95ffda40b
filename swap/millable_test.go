package swap

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/swap/mill"
)

// box is a rectangle in the plane, from (x0, y0) to (x1, y1); hole runs it the
// other way round.
func box(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func hole(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x0, Y: y1}, {X: x1, Y: y1}, {X: x1, Y: y0}}
}

// layers are slabs of a plate 100 x 40 with one opening each, from below.
func layers(t *testing.T, of ...cut.Layer) *mesh.Loaded {
	t.Helper()
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), of...)
	if err != nil {
		t.Fatal(err)
	}
	return &mesh.Loaded{Path: "stack.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}
}

func opened(thick float64, openings ...[]r2.Vec) cut.Layer {
	return cut.Layer{Region: cut.Region{{Outer: box(0, 0, 100, 40), Holes: openings}}, Thickness: thick}
}

// milled is a solid block of steel against a redesign in aluminium that saves
// enough and is stiff enough for what is asked.
func milled(t *testing.T, redesign *mesh.Loaded) Case {
	c := steelCase(t)
	c.Old = Side{Loaded: bar(100, 40, 20), Material: material(t, "S235")}
	c.New = Side{Loaded: redesign, Material: material(t, "6061-T6")}
	c.Limits.MinStiffnessRatio = 0.01
	c.SameFrame = true
	return c
}

func TestAHollowUnderANarrowMouthBlocksTheSwap(t *testing.T) {
	open := decide(t, milled(t, layers(t, opened(8), opened(12, hole(20, 10, 80, 30)))))
	if open.Verdict == Keep || !open.Millable.OK || !strings.Contains(open.Millable.Findings[0].Says, "sharp") {
		t.Errorf("an open pocket: %q, %+v", open.Verdict, open.Millable)
	}
	r := decide(t, milled(t, layers(t, opened(4), opened(12, hole(20, 10, 80, 30)), opened(4, hole(35, 15, 65, 25)))))
	f := r.Millable.Findings[0]
	if r.Verdict != CheckFirst || r.Millable.OK || f.Kind != mill.Undercut || !f.Blocks || math.Abs(f.Value-15) > 0.5 {
		t.Errorf("verdict %q, %+v", r.Verdict, r.Millable)
	}
	if !strings.HasPrefix(r.Reasons[0], "It cannot be milled") && !strings.HasPrefix(r.Reasons[1], "It cannot be milled") {
		t.Errorf("the first reasons are %q", r.Reasons)
	}
	c := milled(t, layers(t, opened(4), opened(12, hole(20, 10, 80, 30)), opened(4, hole(35, 15, 65, 25))))
	c.Old.Weight = &mass.Weighing{Grams: 628, Resolution: 1} // 80 cm3 of steel
	if r := decide(t, c); r.Verdict != CheckFirst || !strings.Contains(r.NextStep, "milled") {
		t.Errorf("verdict %q, next step %q", r.Verdict, r.NextStep)
	}
	quoted := milled(t, layers(t, opened(4), opened(12, hole(20, 10, 80, 30)), opened(4, hole(35, 15, 65, 25))))
	quoted.Making.Pricing.Quoted = ptr(materials.Exactly(80))
	if q := decide(t, quoted); !q.Millable.OK || len(q.Millable.Findings) == 0 {
		t.Errorf("with a supplier's price for it as drawn: %+v", q.Millable)
	}
}

func TestHardPlacesLowerTheChanceOfAGoodPartAndTakeTime(t *testing.T) {
	hours := func(wall float64) (float64, Result) {
		r := decide(t, milled(t, layers(t, opened(8), opened(12, hole(wall, wall, 100-wall, 40-wall)))))
		return *r.Cost.Hours, r
	}
	thick, easy := hours(1.4)
	thin, hard := hours(0.8)
	if !(thin > thick*1.05) || *easy.Cost.Attempts != 1 || math.Abs(*hard.Cost.Attempts-1/0.9) > 1e-9 {
		t.Errorf("%g h and %g attempts with walls of 0.8 mm, %g h and %g with 1.4 mm", thin, *hard.Cost.Attempts, thick, *easy.Cost.Attempts)
	}
	if !strings.Contains(strings.Join(hard.Assumptions, "\n"), "thin wall") || strings.Contains(strings.Join(easy.Assumptions, "\n"), "good part") {
		t.Errorf("assumed: %q", hard.Assumptions)
	}
	sure := milled(t, layers(t, opened(8), opened(12, hole(0.8, 0.8, 99.2, 39.2))))
	sure.Making.Pricing.SuccessChance = 1
	if r := decide(t, sure); *r.Cost.Attempts != 1 {
		t.Errorf("%g attempts where the person is sure", *r.Cost.Attempts)
	}
}

func TestATubeIsSawnAndItsPriceAsked(t *testing.T) {
	m, err := cut.Extrude(cut.Region{{Outer: box(0, 0, 40, 20), Holes: [][]r2.Vec{hole(2, 2, 38, 18)}}}, mesh.AxisPlane(mesh.X, 0), 100)
	if err != nil {
		t.Fatal(err)
	}
	r := decide(t, milled(t, &mesh.Loaded{Path: "tube.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}))
	if r.Verdict == Keep || !r.Millable.OK || r.Millable.MadeBy != mill.Saw || r.Milling != nil {
		t.Errorf("verdict %q, %+v", r.Verdict, r.Millable)
	}
	if said := strings.Join(r.Warnings, "\n"); !strings.Contains(said, "saw") || !strings.Contains(said, "--quoted-price") {
		t.Errorf("warnings %q", r.Warnings)
	}
}

func TestAPrintIsNotHeldAgainstAMill(t *testing.T) {
	c := milled(t, layers(t, opened(4), opened(12, hole(20, 10, 80, 30)), opened(4)))
	c.New.Material = material(t, "PLA")
	if r := decide(t, c); r.Millable != nil {
		t.Errorf("%+v", r.Millable)
	}
}

// Two bars that share space in the file are one part: what one hides of the other
// is no undercut.
func TestBodiesThatOverlapAreOnePart(t *testing.T) {
	m := mesh.Merge(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 40, Z: 8}), mesh.Cuboid(r3.Vec{X: 30, Y: 10, Z: 4}, r3.Vec{X: 60, Y: 30, Z: 15}))
	r := decide(t, milled(t, &mesh.Loaded{Path: "two.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}))
	if r.Millable == nil || !r.Millable.OK || len(r.Millable.Findings) != 0 {
		t.Errorf("%+v", r.Millable)
	}
}

// Every finding, of whichever kind, has its place among those that the three views
// mark, in its order: a tray with thin walls and floor, sharp corners and a deep hole.
func TestEveryFindingIsMarkedOnTheViews(t *testing.T) {
	deep := layers(t, opened(0.8), opened(30, hole(0.8, 0.8, 60, 39.2), hole(70, 10, 75, 35)))
	r := decide(t, milled(t, deep))
	kinds := map[mill.Kind]bool{}
	for i, f := range r.Millable.Findings {
		kinds[f.Kind] = true
		if at := r.Drawing.HardPlaces[i]; at != (r3.Vec{X: f.Where[0], Y: f.Where[1], Z: f.Where[2]}) { // one frame
			t.Errorf("%s is marked at %v, and lies at %v", f.Kind, at, f.Where)
		}
	}
	if len(r.Drawing.HardPlaces) != len(r.Millable.Findings) || len(kinds) < 4 {
		t.Errorf("%d places of %d findings of %v", len(r.Drawing.HardPlaces), len(r.Millable.Findings), kinds)
	}
}

// A part that lies askew in its file is drawn along its own sides, and marked there.
func TestMarksFollowAPartThatLiesAskew(t *testing.T) {
	turn := mesh.RotationAbout(r3.Vec{X: 0.3, Y: 0.2, Z: 1}, 0.4)
	turn.Shift = r3.Vec{X: 300}
	c := milled(t, layers(t, opened(0.8), opened(30, hole(0.8, 0.8, 60, 39.2))))
	for _, side := range []*Side{&c.Old, &c.New} {
		m := side.Loaded.Mesh.Transformed(turn)
		side.Loaded = &mesh.Loaded{Path: "askew.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}
	}
	m, p := placedOf(t, c)
	box := p.new.mesh.Bounds()
	marks := hardPlaces(m.millable, p.new.motion)
	if p.old.motion == mesh.Identity() || len(marks) == 0 {
		t.Fatalf("not askew, or nothing is marked: %v", marks)
	}
	for _, at := range marks {
		if out := r3.Sub(at, r3.Scale(0.5, r3.Add(box.Min, box.Max))); math.Abs(out.X) > box.Size().X/2+1e-3 || math.Abs(out.Y) > box.Size().Y/2+1e-3 || math.Abs(out.Z) > box.Size().Z/2+1e-3 {
			t.Errorf("marked at %v, outside of %v", at, box)
		}
	}
}
