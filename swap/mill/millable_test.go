package mill

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/asmade"

	"gonum.org/v1/gonum/spatial/r3"
)

var metal = Stuff{materials.Metal, 2700}

// expected is one finding that a part must have; NaN leaves a number open.
type expected struct {
	kind         Kind
	value, limit float64
	blocks       bool
}

var open = math.NaN()

// judged holds the findings of a part against those expected, no more and no less.
func judged(t *testing.T, name string, p asmade.Part, stuff Stuff, want ...expected) Millable {
	t.Helper()
	m := Check(p, BenchTop(), stuff)
	box := p.Mesh.Bounds()
	for _, f := range m.Findings {
		i := -1
		for k, w := range want {
			if w.kind == f.Kind && w.blocks == f.Blocks {
				i = k
			}
		}
		if i < 0 {
			t.Errorf("%s: unexpected %s %g (blocks %v): %s", name, f.Kind, f.Value, f.Blocks, f.Says)
			continue
		}
		off := func(got, want float64) bool { return math.Abs(got-want) > 0.05*math.Abs(want)+2e-3 }
		if w := want[i]; off(f.Value, w.value) || off(f.Limit, w.limit) {
			t.Errorf("%s: %s of %g, limit %g; want %g and %g", name, f.Kind, f.Value, f.Limit, w.value, w.limit)
		}
		const out = 1e-3
		if f.Where[0] < box.Min.X-out || f.Where[1] < box.Min.Y-out || f.Where[2] < box.Min.Z-out ||
			f.Where[0] > box.Max.X+out || f.Where[1] > box.Max.Y+out || f.Where[2] > box.Max.Z+out {
			t.Errorf("%s: %s at %v, outside of the part", name, f.Kind, f.Where)
		}
		if f.Says == "" || f.Change == "" || strings.Contains(f.Says, "%!") {
			t.Errorf("%s: %s says %q, change %q", name, f.Kind, f.Says, f.Change)
		}
	}
	blocked := false
	for _, w := range want {
		found := false
		for _, f := range m.Findings {
			found = found || f.Kind == w.kind && f.Blocks == w.blocks
		}
		if !found {
			t.Errorf("%s: no %s (blocks %v) among %d findings", name, w.kind, w.blocks, len(m.Findings))
		}
		blocked = blocked || w.blocks
	}
	if m.OK == blocked {
		t.Errorf("%s: ok is %v", name, m.OK)
	}
	return m
}

func TestTheDemoAndTheReferencePartsAreNotBlocked(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/*.stl")
	reference, _ := filepath.Glob("../../testdata/reference/*.stl")
	if files = append(files, reference...); len(files) < 9 {
		t.Fatalf("%d parts", len(files))
	}
	for _, file := range files {
		l, err := mesh.Load(file, mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var want []expected
		if strings.HasSuffix(file, "carriage_new.stl") { // drawn with square pockets
			want = append(want, expected{InsideRadius, 0, 1.5, false})
		}
		m := judged(t, filepath.Base(file), asmade.Read(l.Mesh), metal, want...)
		if by := m.MadeBy; by != Mill && !strings.HasSuffix(file, "tube.stl") || by == Mill && strings.HasSuffix(file, "tube.stl") {
			t.Errorf("%s is made by a %s", file, by)
		}
	}
}

// The parts of the open evidence were drawn for stiffness: arms, brackets, trusses,
// channels, shafts and tubes, in meshes of two kinds.
func TestThePartsOfTheOpenEvidenceAreNotBlocked(t *testing.T) {
	if testing.Short() {
		t.Skip("seconds")
	}
	files, _ := filepath.Glob("../../testdata/verify/*.stl")
	if len(files) < 40 {
		t.Fatalf("%d parts", len(files))
	}
	for _, file := range files {
		l, err := mesh.Load(file, mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if m := Check(asmade.Read(l.Mesh), BenchTop(), metal); !m.OK {
			t.Errorf("%s: %+v", filepath.Base(file), m.Findings)
		}
	}
}

var plate = rectangle(0, 0, 100, 60)

// The parts with which the rules were chosen.
func TestWhatCannotBeMilledIsFound(t *testing.T) {
	hollow := rectangle(20, 20, 80, 40)
	judged(t, "a hollow 60 x 20 under a mouth 30 x 10",
		stacked(t, slab(4, plate), slab(10, plate, hollow), slab(4, plate, rectangle(35, 25, 65, 35))), metal,
		expected{Undercut, 15, 0, true}, expected{InsideRadius, 0, 1.5, false})
	judged(t, "a hollow closed all around", stacked(t, slab(4, plate), slab(10, plate, hollow), slab(4, plate)), metal,
		expected{ClosedCavity, 60, 0, true})
	judged(t, "a tray with a floor of 0.3 mm and walls of 0.5 mm",
		stacked(t, slab(0.3, plate), slab(10, plate, rectangle(0.5, 0.5, 99.5, 59.5))), metal,
		expected{ThinFloor, 0.3, 0.6, true}, expected{ThinWall, 0.5, 0.6, true}, expected{InsideRadius, 0, 1.5, false})
	judged(t, "slots 4 mm wide and 38 mm deep",
		stacked(t, slab(2, rectangle(0, 0, 120, 60)), layer{38, fins(15, 64./15, 4, 60), nil}), metal,
		expected{DeepPocket, 38, 24, true})
	judged(t, "a hole 0.3 mm from the edge", stacked(t, slab(8, plate, circle(3.05, 30, 5.5))), metal,
		expected{ThinWall, 0.3, 0.6, true})
	judged(t, "a T-slot",
		stacked(t, slab(5, rectangle(0, 0, 60, 60)),
			layer{5, []loop{rectangle(0, 0, 15, 60), rectangle(45, 0, 60, 60)}, nil},
			layer{6, []loop{rectangle(0, 0, 24, 60), rectangle(36, 0, 60, 60)}, nil}), metal,
		expected{Undercut, 9, 0, true}, expected{InsideRadius, 0, open, false})

	dovetail := ground(stacked(t, slab(10, rectangle(0, 0, 60, 90)),
		layer{8, []loop{rectangle(0, 0, 22, 90), rectangle(38, 0, 60, 90)}, nil}), func(v r3.Vec) r3.Vec {
		if v.Z > 17 && v.X > 20 && v.X < 40 { // the lips lean over by 5 mm
			v.X += math.Copysign(5, 30-v.X)
		}
		return v
	})
	judged(t, "a dovetail 90 mm long", dovetail, metal, expected{Undercut, 4.8, 0, true}, expected{InsideRadius, 0, open, false})
}

// Threads by ISO 261 with the minor diameters of ISO 724: M6 4.917 mm, M12 10.106 mm.
func TestADrawnThreadBlocksNothing(t *testing.T) {
	m := judged(t, "M6 in a block", asmade.Read(nut(4.917/2, 3, 1, 10, 15, true)), metal, expected{Undercut, open, 0, false})
	if len(m.SetUps) > 2 {
		t.Errorf("a thread takes %d set-ups", len(m.SetUps))
	}
	if m := judged(t, "a round nut M12", asmade.Read(nut(10.106/2, 6, 1.75, 14, 12, false)), metal); m.MadeBy != Lathe {
		t.Errorf("a round nut is made by a %s", m.MadeBy)
	}
}

func TestAnOrdinaryPocketIsFine(t *testing.T) {
	m := judged(t, "a pocket with round corners", stacked(t, slab(3, plate), slab(7, plate, rounded(5, 5, 95, 55, 4))), metal)
	if m.Chance != 1 || len(m.SetUps) != 1 || m.SetUps[0] != [3]float64{0, 0, 1} {
		t.Errorf("%+v", m)
	}
}

func TestTurnedPartsAndTubesAreRecognised(t *testing.T) {
	for name, c := range map[string]struct {
		p    asmade.Part
		want Machine
	}{
		"a shaft with a shoulder":         {stacked(t, slab(80, circle(0, 0, 20)), slab(10, circle(0, 0, 12))), Lathe},
		"a flange with two bolt holes":    {stacked(t, slab(6, circle(0, 0, 60), circle(0, 0, 20), circle(20, 0, 5), circle(-20, 0, 5))), Lathe},
		"a rectangular tube":              {stacked(t, slab(150, rectangle(0, 0, 30, 20), rectangle(2, 2, 28, 18))), Saw},
		"a plate":                         {stacked(t, slab(6, plate, circle(20, 20, 6))), Mill},
		"a bar with a bore along it":      {stacked(t, slab(60, rectangle(0, 0, 16, 16), circle(8, 8, 8))), Mill},
		"a frame":                         {stacked(t, slab(12, plate, rounded(10, 10, 90, 50, 4))), Mill},
		"a plate with a round boss on it": {stacked(t, slab(6, plate), slab(20, circle(30, 30, 30))), Mill},
	} {
		if m := Check(c.p, BenchTop(), metal); m.MadeBy != c.want || !m.OK {
			t.Errorf("%s: made by a %s, ok %v, %+v", name, m.MadeBy, m.OK, m.Findings)
		}
	}
}

// A chord filled by a cutter: R2 (tan 45 - 45 degrees) = (1 - pi/4) R2 in a square
// corner, the area between a square and its quarter circle.
func TestWhatACutterLeavesInASquareCorner(t *testing.T) {
	p := stacked(t, slab(3, plate), slab(7, plate, rectangle(10, 10, 90, 50)))
	m := Check(p, BenchTop(), metal)
	want := 4 * (1 - math.Pi/4) * 1.5 * 1.5 * 7 * 2700e-6
	if math.Abs(m.Corners-want) > 1e-6 {
		t.Errorf("%g g stay in four corners, want %g", m.Corners, want)
	}
	within(t, "corners that take a smaller cutter than the finisher", float64(m.Hard.Corners), 4, 0)
}

// How a part lies in its file and in which order its triangles stand there says
// nothing of how it is milled.
func TestFindingsDependOnTheShapeAlone(t *testing.T) {
	for name, p := range map[string]asmade.Part{
		"hollow": stacked(t, slab(4, plate), slab(10, plate, rectangle(20, 20, 80, 40)), slab(4, plate, rectangle(35, 25, 65, 35))),
		"tray":   stacked(t, slab(0.8, plate), slab(10, plate, rounded(0.8, 0.8, 99.2, 59.2, 1))),
		"slots":  stacked(t, slab(2, rectangle(0, 0, 120, 60)), layer{38, fins(15, 64./15, 4, 60), nil}),
	} {
		want := Check(p, BenchTop(), metal)
		mixed := &mesh.Mesh{Vertices: p.Mesh.Vertices}
		for k := range p.Mesh.Faces { // 7919 is prime to their number
			mixed.Faces = append(mixed.Faces, p.Mesh.Faces[(k*7919+13)%len(p.Mesh.Faces)])
		}
		for how, q := range map[string]*mesh.Mesh{
			"mixed":  mixed,
			"turned": p.Mesh.Transformed(mesh.RotationAbout(r3.Vec{X: 0.4, Y: -1, Z: 0.3}, 2.2)),
			"moved":  p.Mesh.Transformed(mesh.Transform{Rotation: mesh.Identity().Rotation, Shift: r3.Vec{X: 300, Y: -200, Z: 50}}),
		} {
			got := Check(asmade.Read(q), BenchTop(), metal)
			if len(got.Findings) != len(want.Findings) || got.OK != want.OK || len(got.SetUps) != len(want.SetUps) {
				t.Errorf("%s, %s: %+v, want %+v", name, how, got.Findings, want.Findings)
				continue
			}
			for i, f := range got.Findings {
				if w := want.Findings[i]; f.Kind != w.Kind || f.Blocks != w.Blocks || math.Abs(f.Value-w.Value) > 0.05*w.Value+1e-3 {
					t.Errorf("%s, %s: %s of %g, want %s of %g", name, how, f.Kind, f.Value, w.Kind, w.Value)
				}
			}
		}
	}
}
