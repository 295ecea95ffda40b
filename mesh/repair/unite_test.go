package repair

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

func TestOverlappingShellsAreUnited(t *testing.T) {
	for _, c := range []struct {
		name  string
		m     *mesh.Mesh
		want  float64
		exact bool // no corner or edge meets another
	}{
		{"corner in corner", mesh.Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 6, Y: 7.5, Z: 8})), 2000 - 4*2.5*2, true},
		{"rod through a block", mesh.Merge(box(0, 10), mesh.Cuboid(r3.Vec{X: -5, Y: 4, Z: 4.5}, r3.Vec{X: 15, Y: 5, Z: 6})), 1000 + 1.5*20 - 1.5*10, true},
		{"flush on four sides", mesh.Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 6})), 1600, false},
		{"the same twice, a little apart", mesh.Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 1e-3, Y: 2e-3, Z: 3e-3})), 0, true},
		{"one inside the other", mesh.Merge(box(0, 10), box(3, 5)), 1000, true},
		{"three in a row", mesh.Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 8, Y: 1, Z: 1.5}), moved(box(0, 10), r3.Vec{X: 16, Y: 2, Z: 3.1})), 3000 - 2*9*8.5 - 2*9*8.4, true},
		{"a rod through a hollow block", mesh.Merge(box(0, 10), turned(box(2, 8)), mesh.Cuboid(r3.Vec{X: -5, Y: 4, Z: 4.5}, r3.Vec{X: 15, Y: 5, Z: 6})), 1000 - 216 + 1.5*20 - 1.5*4, true},
		{"with a body beside", mesh.Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 6, Y: 7.5, Z: 8}), moved(box(0, 3), r3.Vec{X: 50})), 2027 - 20, true},
	} {
		if c.want == 0 {
			c.want = 2000 - (10-1e-3)*(10-2e-3)*(10-3e-3)
		}
		united, repairs := unite(c.m)
		r := mesh.Check(united)
		if len(repairs) != 1 || !r.Closed || r.OverlapTotal > 0 {
			t.Errorf("%s: closed %v, overlaps %d, repairs %+v", c.name, r.Closed, r.OverlapTotal, repairs)
			continue
		}
		allowed := 1e-9
		if !c.exact {
			allowed += repairs[0].AddedVolumeMM3
		} else if repairs[0].AddedVolumeMM3 != 0 {
			t.Errorf("%s: moved for no reason: %+v", c.name, repairs)
		}
		if d := math.Abs(united.SignedVolume() - c.want); d > allowed || allowed > 0.02 {
			t.Errorf("%s: volume %.12g, want %.12g within %g", c.name, united.SignedVolume(), c.want, allowed)
		}
		if _, n := mesh.Intersections(united); n > 0 {
			t.Errorf("%s: %d pairs of faces still pass through each other", c.name, n)
		}
	}
}

func TestShellsThatOnlyTouchAreLeftAlone(t *testing.T) {
	m := mesh.Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 10, Y: 2, Z: 3}))
	if united, repairs := unite(m); united != m || repairs != nil {
		t.Errorf("repairs %+v", repairs)
	}
}

// The union of two bodies has the sum of their volumes less that of what they
// share, however they lie; the file it is written to is closed.
func TestTheUnionOfTiltedPrismsIsClosedAndHasTheVolumeCountedOnce(t *testing.T) {
	tried := 0
	for seed := range uint64(10) {
		random := rand.New(rand.NewPCG(seed, 3))
		a, b := prism(random, 0.4, 1), prism(random, 0.4, 1)
		for _, m := range []**mesh.Mesh{&a, &b} {
			if (*m).SignedVolume() < 0 {
				*m = turned(*m)
			}
		}
		m := mesh.Merge(a, moved(b, r3.Vec{X: 30 * random.Float64(), Y: 30 * random.Float64(), Z: 30 * random.Float64()}))
		before := mesh.Check(m)
		united, repairs := unite(m)
		if before.OverlapTotal == 0 {
			if _, crossings := mesh.Intersections(m); crossings > 0 || united != m {
				t.Errorf("seed %d: %d crossings, but no overlap", seed, crossings)
			}
			continue
		}
		tried++
		if len(repairs) != 1 {
			t.Fatalf("seed %d: not united", seed)
		}
		removed := m.SignedVolume() - united.SignedVolume()
		if d := math.Abs(removed - before.Twice.Volume); d > 3*before.TwiceErrorMM3+1e-3*before.Twice.Volume {
			t.Errorf("seed %d: %g mm3 were taken off, the winding number says %g give or take %g",
				seed, removed, before.Twice.Volume, before.TwiceErrorMM3)
		}
		l, err := mesh.LoadFrom(bytes.NewReader(binaryOf(t, united)), "united.stl", mesh.Options{})
		if err != nil || !l.Report.Closed {
			t.Errorf("seed %d: written and read: %v, %+v", seed, err, l.Report)
		}
	}
	if tried < 8 {
		t.Errorf("only %d of 10 pairs overlap", tried)
	}
}

func TestShellsThatAreInsideOutAreTurnedBeforeTheyAreUnited(t *testing.T) {
	m := turned(mesh.Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 6, Y: 7.5, Z: 8})))
	l, err := mesh.LoadFrom(bytes.NewReader(binaryOf(t, m)), "part.stl", mesh.Options{Repair: Faults{}})
	if err != nil {
		t.Fatal(err)
	}
	if v := l.Mesh.SignedVolume(); !l.Turned || math.Abs(v-1980) > 1e-6 || l.Report.OverlapTotal > 0 || len(l.Repairs) != 1 {
		t.Errorf("turned %v, volume %g, repairs %+v, %d overlaps", l.Turned, v, l.Repairs, l.Report.OverlapTotal)
	}
}
