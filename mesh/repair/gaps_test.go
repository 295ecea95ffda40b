package repair

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/internal/sample"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// patchOf returns n faces that hang together, grown from a first one.
func patchOf(m *mesh.Mesh, first, n int) []int32 {
	e := mesh.EdgesOf(m)
	patch := []int32{int32(first)}
	for i := 0; i < len(patch) && len(patch) < n; i++ {
		for k := range int32(3) {
			if o := e.Opposite[3*patch[i]+k]; o >= 0 && !slices.Contains(patch, o/3) && len(patch) < n {
				patch = append(patch, o/3)
			}
		}
	}
	return patch
}

// featuresOf lists the faces of the bracket's bore, pocket and boss.
func featuresOf(m *mesh.Mesh) (list [][]int32) {
	fromAxis := func(v r3.Vec) float64 { return math.Hypot(v.X-15, v.Y-20) }
	for _, in := range []func(v r3.Vec) bool{
		func(v r3.Vec) bool { return fromAxis(v) < 4.1 },
		func(v r3.Vec) bool { return v.X > 34 && v.X < 56 && v.Y > 9 && v.Y < 31 },
		func(v r3.Vec) bool { return fromAxis(v) > 4.1 && fromAxis(v) < 10.1 && v.Z > 5 },
		func(v r3.Vec) bool { return fromAxis(v) < 10.1 && v.Z > 5 },
	} {
		var feature []int32
		for f := range m.Faces {
			a, b, c := m.Triangle(f)
			if in(a) && in(b) && in(c) {
				feature = append(feature, int32(f))
			}
		}
		list = append(list, feature)
	}
	return list
}

func TestAMissingPlanarRingComesBackExactly(t *testing.T) {
	m := sample.Bracket()
	broken := sample.Without(m, func(f int) bool {
		a, b, c := m.Triangle(f)
		return a.Z == 9 && b.Z == 9 && c.Z == 9 // the ring on top of the boss
	})
	whole, repairs := gaps(broken)
	sample.RequireClosed(t, whole)
	sample.Near(t, "volume", sample.Volume(whole), sample.Volume(m), 1e-9)
	if len(repairs) != 1 {
		t.Fatalf("%d repairs: %v", len(repairs), repairs)
	}
	ringArea := cut.LoopArea(sample.Ring(r2.Vec{}, 10, 32)) - cut.LoopArea(sample.Ring(r2.Vec{}, 4, 32))
	sample.Near(t, "area", repairs[0].AddedAreaMM2, ringArea, 1e-9)
	sample.Near(t, "doubt", repairs[0].AddedVolumeMM3, 0, 1e-9)
	sample.Near(t, "height", repairs[0].At.Z, 9, 1e-9)
}

func TestEveryMissingPlanarFaceComesBackExactly(t *testing.T) {
	m := sample.Bracket()
	for _, z := range []float64{0, 2, 6, 9} {
		broken := sample.Without(m, func(f int) bool {
			a, b, c := m.Triangle(f)
			return a.Z == z && b.Z == z && c.Z == z
		})
		whole, repairs := gaps(broken)
		sample.RequireClosed(t, whole)
		sample.Near(t, "volume", sample.Volume(whole), sample.Volume(m), 1e-9)
		if len(repairs) == 0 || repairs[0].AddedVolumeMM3 > 1e-9 {
			t.Errorf("z = %g: %v", z, repairs)
		}
	}
}

func TestTheMissingEndsOfATubeComeBackSeparately(t *testing.T) {
	m := sample.Tube()
	broken := sample.Without(m, func(f int) bool {
		a, b, c := m.Triangle(f)
		return a.X == b.X && b.X == c.X
	})
	whole, repairs := gaps(broken)
	sample.RequireClosed(t, whole)
	sample.Near(t, "volume", sample.Volume(whole), 40*64, 1e-9)
	if len(repairs) != 2 {
		t.Errorf("%d repairs, want one an end", len(repairs))
	}
}

func TestFacesMissingFromASoundMeshComeBackWithinTheStatedRange(t *testing.T) {
	sound := map[string]*mesh.Mesh{"bracket": sample.Bracket(), "ball": sample.Ball(20, 40), "block": mesh.Cuboid(r3.Vec{}, r3.Vec{X: 9, Y: 5, Z: 2})}
	features := featuresOf(sample.Bracket())
	property.Check(t, func(t *rapid.T) {
		m := sound[rapid.SampledFrom([]string{"ball", "block", "bracket"}).Draw(t, "part")]
		gone := patchOf(m, rapid.IntRange(0, len(m.Faces)-1).Draw(t, "face"), rapid.IntRange(1, 12).Draw(t, "faces"))
		if m == sound["bracket"] && rapid.Bool().Draw(t, "whole feature") {
			gone = rapid.SampledFrom(features).Draw(t, "feature")
		}
		m = m.Transformed(sample.DrawMotion(t))
		whole, repairs := mendAll(sample.Without(m, func(f int) bool { return slices.Contains(gone, int32(f)) }), 0)
		if !mesh.Check(whole).Closed {
			if len(repairs) > 0 && mesh.Check(whole).OpenEdges == 0 {
				t.Fatalf("filled, but not closed: %+v", mesh.Check(whole))
			}
			return // too large to be closed on a guess
		}
		less, more := 1e-9*m.SignedVolume(), 1e-9*m.SignedVolume()
		for _, r := range repairs {
			l, h := r.Doubt()
			less, more = less+l, more+h
		}
		if off := m.SignedVolume() - whole.SignedVolume(); off < -less || off > more {
			t.Fatalf("volume off by %g mm3, stated -%g to +%g: %v", off, less, more, repairs)
		}
	})
}

func TestTheCapOfABallIsDoubtedByItsHeight(t *testing.T) {
	m := sample.Ball(20, 40)
	broken := sample.Without(m, func(f int) bool {
		a, b, c := m.Triangle(f)
		return max(a.Z, b.Z, c.Z) == 20
	})
	whole, repairs := gaps(broken)
	sample.RequireClosed(t, whole)
	off := sample.Volume(m) - sample.Volume(whole)
	if len(repairs) != 1 || off <= 0 || repairs[0].AddedVolumeMM3 < off || repairs[0].AddedVolumeMM3 > 10*off {
		t.Errorf("off by %g mm3: %v", off, repairs)
	}
}

func TestASheetIsNotMadeASolid(t *testing.T) {
	sheet := &mesh.Mesh{
		Vertices: []r3.Vec{{}, {X: 10}, {X: 10, Y: 10}, {Y: 10}},
		Faces:    [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
	whole, repairs := gaps(sheet)
	if len(repairs) != 0 || len(whole.Faces) != 2 {
		t.Errorf("%d faces after %v", len(whole.Faces), repairs)
	}
}

func TestAMeshWithoutGapsIsLeftAlone(t *testing.T) {
	m := sample.Bracket()
	whole, repairs := gaps(m)
	if whole != m || repairs != nil {
		t.Errorf("repairs: %v", repairs)
	}
}

func TestALargeCurvedGapIsLeftOpen(t *testing.T) {
	m := sample.Ball(20, 40)
	broken := sample.Without(m, func(f int) bool {
		a, b, c := m.Triangle(f)
		return min(a.X, b.X, c.X) > 0 && min(a.Z, b.Z, c.Z) > -15 // a big bite with a bent rim
	})
	whole, repairs := gaps(broken)
	if len(repairs) != 0 || mesh.Check(whole).Closed {
		t.Errorf("repairs: %v", repairs)
	}
}
