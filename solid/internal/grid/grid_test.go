package grid

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/readingorder"
	"swapworth/mesh"
)

func TestReadsFromTheTopDown(t *testing.T) { readingorder.Hold(t, 0) }

// surfaceOf is the surface of cuboids, a hole where the second lies in the first.
func surfaceOf(parts ...*mesh.Mesh) *Surface {
	m := mesh.Merge(parts...)
	points := make([][3]float64, len(m.Vertices))
	for i, v := range m.Vertices {
		points[i] = [3]float64{v.X, v.Y, v.Z}
	}
	return NewSurface(points, m.Faces, 1e-5)
}

func cuboid(lo, hi [3]float64) *mesh.Mesh {
	return mesh.Cuboid(r3.Vec{X: lo[0], Y: lo[1], Z: lo[2]}, r3.Vec{X: hi[0], Y: hi[1], Z: hi[2]})
}

// stepped is a bar of 60 x 20 x 10 with a block of 17 x 20 x 3 on it.
func stepped() *Surface {
	return surfaceOf(cuboid([3]float64{}, [3]float64{60, 20, 10}), cuboid([3]float64{20, 0, 8}, [3]float64{37, 20, 13}))
}

func wish(s *Surface) Wishes { return Wishes{Slots: FindGaps(s).Slots, Stretch: [3]float64{1, 1, 1}} }

func TestLinesFollowFlatFacesAndWishes(t *testing.T) {
	s := stepped()
	w := wish(s)
	w.Firm[0] = []float64{48.2}
	g := Fit(s, FlatFaces(s), w, 5)
	for _, c := range []struct {
		axis int
		at   float64
	}{{0, 20}, {0, 37}, {0, 48.2}, {2, 10}, {2, 13}} {
		near := math.Inf(1)
		for _, v := range g.Lines[c.axis] {
			near = min(near, math.Abs(v-c.at))
		}
		if near > 1e-9 {
			t.Errorf("axis %d has no line at %g: %v", c.axis, c.at, g.Lines[c.axis])
		}
	}
	for i, v := range []float64{-1, 0, 19.999, 20, 60, 99} {
		if k := g.Find(0, v); v >= 0 && v < 60 && (g.Lines[0][k] > v || g.Lines[0][k+1] <= v) || k < 0 || k >= g.Count(0) {
			t.Errorf("%d: %g is found in interval %d of %v", i, v, k, g.Lines[0])
		}
	}
	if h := g.Halved(); h.Count(0) != 2*g.Count(0) || h.Size(0, 0, 0)[0] != g.Size(0, 0, 0)[0]/2 {
		t.Errorf("halved from %v to %v", g.Lines[0], h.Lines[0])
	}
}

// What two shells share counts once: 12 000 + 17 x 20 x 3.
func TestCellsHoldTheMaterialOfThePart(t *testing.T) {
	s := stepped()
	for _, size := range []float64{2.5, 4, 7} {
		g := Fit(s, FlatFaces(s), wish(s), size)
		c := Fill(s, g, 4)
		if want := 13020.0; math.Abs(c.Volume/want-1) > 1e-9 {
			t.Errorf("cells of %g mm hold %g mm3, expected %g", size, c.Volume, want)
		}
		sum, active := 0.0, 0
		c.EachActive(func(_, _, _, cell int) {
			sum += c.Kinds[c.Of[cell]].Volume()
			active++
		})
		if math.Abs(sum-c.Volume) > 1e-9*sum || active != c.Active {
			t.Errorf("%d cells hold %g mm3, said to be %d with %g", active, sum, c.Active, c.Volume)
		}
	}
}

// Cut right through by a plane of its own, a cell knows the first moment of what is
// left of it: a block that ends at a quarter of its last cell.
func TestACutCellKnowsItsMoments(t *testing.T) {
	s := surfaceOf(cuboid([3]float64{}, [3]float64{4, 4, 4.5}))
	g := &Grid{}
	for a := range 3 {
		g.SetAxis(a, []float64{0, 6}, []int{3})
	}
	c := Fill(s, g, 4)
	k := c.Kinds[c.Of[c.CellIndex(0, 0, 2)]]
	if want := [3]float64{0.25, (0.25 - 1) / 4, (-0.125 + 1) / 6}; math.Abs(k.Moments[0]-want[0])+math.Abs(k.Moments[1]-want[1])+math.Abs(k.Moments[2]-want[2]) > 1e-9 {
		t.Errorf("moments along axis 2 %v, expected %v", k.Moments[:3], want)
	}
	if c.Of[c.CellIndex(2, 0, 0)] != Void {
		t.Error("a cell beyond the block is not empty")
	}
}

func TestACrumbIsLeftOut(t *testing.T) {
	s := surfaceOf(cuboid([3]float64{}, [3]float64{30, 10, 10}), cuboid([3]float64{35, 0, 0}, [3]float64{40, 10, 10}))
	c := Fill(s, Fit(s, FlatFaces(s), wish(s), 5), 4)
	kept := c.Anchored(func(i, _, _, _ int) bool { return i == 0 })
	if math.Abs(kept.Lost-500) > 1e-6 || math.Abs(kept.Volume-3000) > 1e-6 {
		t.Errorf("left out %g of %g mm3, expected 500 of 3500", kept.Lost, c.Volume)
	}
	if all := c.Anchored(func(int, int, int, int) bool { return true }); all.Active != c.Active {
		t.Error("what is held was left out")
	}
}

// A slot of 0.2 mm between two blocks is a gap between flat walls; at 30 degrees to the
// axes it is one that no plane follows.
func TestANarrowGapIsMeasured(t *testing.T) {
	low, high := cuboid([3]float64{}, [3]float64{50, 20, 5}), cuboid([3]float64{0, 0, 5.2}, [3]float64{50, 20, 10})
	gaps := FindGaps(surfaceOf(low, high))
	if len(gaps.Slots[2]) != 1 || math.Abs(gaps.Slots[2][0].Lo-5)+math.Abs(gaps.Slots[2][0].Hi-5.2) > 1e-6 || len(gaps.Loose) != 0 {
		t.Errorf("slots %v and %v", gaps.Slots, gaps.Loose)
	}
	s := surfaceOf(low, high)
	for i, p := range s.Points {
		sin, cos := math.Sincos(math.Pi / 6)
		s.Points[i] = [3]float64{p[0]*cos - p[2]*sin, p[1], p[0]*sin + p[2]*cos}
	}
	s = NewSurface(s.Points, s.Faces, s.Tol)
	gaps = FindGaps(s)
	if len(gaps.Loose) == 0 || math.Abs(gaps.Loose[0].Width-0.2) > 1e-6 {
		t.Fatalf("slots %v and %v", gaps.Slots, gaps.Loose)
	}
	g := &Grid{}
	for a := range 3 {
		g.SetAxis(a, []float64{s.Low[a], s.High[a]}, []int{[3]int{20, 4, 12}[a]})
	}
	c := Fill(s, g, 6)
	if open, width := c.Opened(s, gaps.Loose); math.Abs(width-0.2) > 1e-6 || open.Active >= c.Active {
		t.Errorf("opened for %g mm: %d of %d cells left", width, open.Active, c.Active)
	} else if _, bodies := open.bodies(); bodies != 2 {
		t.Errorf("%d bodies beside the gap, expected 2", bodies)
	}
}

// The pieces of a polygon have its area, each in one cell.
func TestAKnifeLosesNothing(t *testing.T) {
	g := &Grid{}
	for a := range 3 {
		g.SetAxis(a, []float64{0, 10}, []int{4})
	}
	whole := [][3]float64{{1, 1, 1}, {9, 2, 3}, {6, 9, 8}}
	area, pieces := 0.0, 0
	(&Knife{Grid: g}).Slice(whole, 0, func(p [][3]float64) {
		area += PolygonArea(p)
		pieces++
		for a := range 3 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, v := range p {
				lo, hi = min(lo, v[a]), max(hi, v[a])
			}
			if math.Floor(lo/2.5+1e-9) < math.Ceil(hi/2.5-1e-9)-1 {
				t.Errorf("a piece reaches from %g to %g along axis %d", lo, hi, a)
			}
		}
	})
	if want := AreaOf([3][3]float64(whole)); math.Abs(area-want) > 1e-9*want || pieces < 5 {
		t.Errorf("%d pieces of %g mm2, expected %g", pieces, area, want)
	}
}
