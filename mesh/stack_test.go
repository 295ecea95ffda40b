package mesh

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// requireClosed fails unless every edge is used once in each direction.
func requireClosed(t interface {
	Helper()
	Fatalf(string, ...any)
}, m *Mesh) {
	t.Helper()
	uses := map[[2]int32]int{}
	for _, f := range m.Faces {
		for k := range f {
			uses[[2]int32{f[k], f[(k+1)%3]}]++
		}
	}
	for e, n := range uses {
		if n != 1 || uses[[2]int32{e[1], e[0]}] != 1 {
			t.Fatalf("edge %v at %v is used %d times, its reverse %d times",
				e, m.Vertices[e[0]], n, uses[[2]int32{e[1], e[0]}])
		}
	}
}

// plateRegion is a 100 x 40 plate with two round holes.
func plateRegion() Region {
	return Region{{
		Outer: rectangle(0, 0, 100, 40),
		Holes: [][]r2.Vec{
			reversed(ring(r2.Vec{X: 20, Y: 20}, 5, 64)),
			reversed(ring(r2.Vec{X: 80, Y: 20}, 5, 64)),
		},
	}}
}

func TestAnExtrudedPlateIsClosedAndHasTheVolumeOfItsArea(t *testing.T) {
	r := plateRegion()
	for _, p := range []Plane{AxisPlane(X, 3), AxisPlane(Y, 3), AxisPlane(Z, 3), AxisPlane(Z, 0).Flipped()} {
		for _, h := range []float64{6, -6} {
			m, err := Extrude(r, p, h)
			if err != nil {
				t.Fatal(err)
			}
			requireClosed(t, m)
			near(t, "volume", signedVolume(m), 6*r.Area(), 1e-9)
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
	plate, boss, bore := rectangle(0, 0, 60, 40), ring(r2.Vec{X: 15, Y: 20}, 10, 64), ring(r2.Vec{X: 15, Y: 20}, 4, 64)
	pocket, slot := rectangle(35, 10, 55, 30), rectangle(40, 15, 50, 25)
	floor := Region{{Outer: plate, Holes: [][]r2.Vec{reversed(bore), reversed(slot)}}}
	walls := Region{{Outer: plate, Holes: [][]r2.Vec{reversed(bore), reversed(pocket)}}}
	top := Region{{Outer: boss, Holes: [][]r2.Vec{reversed(bore)}}}
	m, err := Stack(AxisPlane(Z, 0), Layer{floor, 2}, Layer{walls, 4}, Layer{top, 3})
	if err != nil {
		t.Fatal(err)
	}
	requireClosed(t, m)
	near(t, "volume", signedVolume(m), 2*floor.Area()+4*walls.Area()+3*top.Area(), 1e-9)
	for _, c := range []struct {
		z    float64
		want Region
	}{{1, floor}, {4, walls}, {8, top}} {
		got, err := Cut(m, AxisPlane(Z, c.z))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "section", got.Area(), c.want.Area(), 1e-9)
	}
	// Faces at z = 2 are the pocket's floor alone
	var at2 float64
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		if a.Z == 2 && b.Z == 2 && c.Z == 2 {
			at2 += r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
		}
	}
	near(t, "floor", at2, 20*20-10*10, 1e-9)
}

// A block stands on a plate flush with its edge, with corners in the middle of
// the plate's edge: the plate's wall must take up these corners.
func TestAStackTakesUpCornersInTheMiddleOfAnEdge(t *testing.T) {
	plate := Region{{Outer: rectangle(0, 0, 60, 40)}}
	block := Region{{Outer: rectangle(20, 0, 40, 10)}}
	m, err := Stack(AxisPlane(Y, -5), Layer{plate, 5}, Layer{block, 5}, Layer{plate, 5})
	if err != nil {
		t.Fatal(err)
	}
	requireClosed(t, m)
	near(t, "volume", signedVolume(m), 2*5*2400+5*200, 1e-9)
}

func TestAnEmptyLayerParts(t *testing.T) {
	r := plateRegion()
	m, err := Stack(AxisPlane(Z, 0), Layer{r, 2}, Layer{nil, 5}, Layer{r, 2})
	if err != nil {
		t.Fatal(err)
	}
	requireClosed(t, m)
	near(t, "volume", signedVolume(m), 4*r.Area(), 1e-9)
}

func TestStackRefusesWhatItCannotBuild(t *testing.T) {
	r := plateRegion()
	across := Region{{Outer: rectangle(-10, 10, 10, 30)}}
	wrong := Region{{Outer: reversed(rectangle(0, 0, 1, 1))}}
	for name, layers := range map[string][]Layer{
		"nothing": nil, "no thickness": {{r, 0}}, "infinite": {{r, math.Inf(1)}}, "not a number": {{r, math.NaN()}},
		"crossing": {{r, 1}, {across, 1}}, "clockwise": {{wrong, 1}}, "empty": {{nil, 1}},
	} {
		if _, err := Stack(AxisPlane(Z, 0), layers...); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
