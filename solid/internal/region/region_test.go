package region

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/readingorder"
	"swapworth/internal/vector"
	"swapworth/mesh"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
)

func TestReadsFromTheTopDown(t *testing.T) { readingorder.Hold(t, 0) }

// block is a block of 12 x 8 x 6 in a grid of cells of 2, 2 and 1.5 mm.
func block() (*grid.Surface, *grid.Cells) {
	m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 12, Y: 8, Z: 6})
	points := make([][3]float64, len(m.Vertices))
	for i, v := range m.Vertices {
		points[i] = [3]float64{v.X, v.Y, v.Z}
	}
	s := grid.NewSurface(points, m.Faces, 1e-6)
	g := &grid.Grid{}
	for a, n := range [3]int{6, 4, 4} {
		g.SetAxis(a, []float64{0, s.High[a]}, []int{n})
	}
	return s, grid.Fill(s, g, 4)
}

// top is the rectangle from (x0, y0) to (x1, y1) of the block's top.
func top(x0, y0, x1, y1 float64) *Region {
	a, b, c, d := [3]float64{x0, y0, 6}, [3]float64{x1, y0, 6}, [3]float64{x1, y1, 6}, [3]float64{x0, y1, 6}
	return &Region{Name: "top", Faces: [][3][3]float64{{a, b, c}, {a, c, d}}}
}

// A rectangle of b x h has b h, and b^3 h/12 about its middle.
func TestARectangleHasItsMoments(t *testing.T) {
	s, c := block()
	e, err := top(1, 2, 10, 7).Extent(c, s)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range [][2]float64{{e.Size, 45}, {e.Centre[0], 5.5}, {e.Centre[1], 4.5}, {e.Centre[2], 6},
		{e.Second[0][0], 9 * 9 * 9 * 5 / 12.0}, {e.Second[1][1], 5 * 5 * 5 * 9 / 12.0}, {e.Second[0][1] + 1, 1}} {
		if math.Abs(v[0]-v[1]) > 1e-9*v[1] {
			t.Errorf("%d: %g, expected %g", i, v[0], v[1])
		}
	}
	if _, err := (&Region{Name: "box:20,0,0:30,1,1", Box: &[2][3]float64{{20, 0, 0}, {30, 1, 1}}}).Extent(c, s); err == nil || !strings.Contains(err.Error(), "no material at box:20") {
		t.Errorf("a box beside the part: %v", err)
	}
	if e, err = (&Region{Box: &[2][3]float64{{1, 1, 0}, {4, 5, 9}}}).Extent(c, s); err != nil || math.Abs(e.Size-3*4*6)/72 > 0.1 {
		t.Errorf("a box with 72 mm3 of the part: %v, %v", e, err)
	}
}

// equations are those of the block, held at one end.
func equations(t *testing.T, c *grid.Cells) *multigrid.System {
	t.Helper()
	g := &multigrid.Grid{Lines: c.Lines, Edges: c.Edges(), Kind: c.Of, Elements: make([]brick.Element, len(c.Kinds)), Held: map[[3]int][3]bool{}}
	b := new(brick.Brick)
	for i := range c.Kinds {
		b.Assemble(c.Kinds[i].Edge, &c.Kinds[i].Moments, brick.LameOf(1, 0.3))
		b.Stiffness(&g.Elements[i])
	}
	for j := range c.Count(1) + 1 {
		for k := range c.Count(2) + 1 {
			g.Held[[3]int{0, j, k}] = [3]bool{true, true, true}
		}
	}
	e, err := multigrid.New(g)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// What a place is loaded with is what the nodes get, force and moment.
func TestNodesGetTheWholeLoad(t *testing.T) {
	s, c := block()
	r := top(1, 2, 10, 7)
	extent, err := r.Extent(c, s)
	if err != nil {
		t.Fatal(err)
	}
	turned, err := Twist(r, extent, [3]float64{30, -20, 10})
	if err != nil {
		t.Fatal(err)
	}
	sys := equations(t, c)
	for _, load := range []struct {
		name          string
		on            Traction
		force, moment [3]float64 // about the centre of the place
	}{
		{"spread", Spread(r, extent, [3]float64{3, -4, 5}), [3]float64{3, -4, 5}, [3]float64{}},
		{"twist", turned, [3]float64{}, [3]float64{30, -20, 10}},
		{"press", Press(r, 0.2), [3]float64{2: -0.2 * 45}, [3]float64{}},
	} {
		f := make([]float64, sys.Length())
		load.on.Nodal(c, s, sys, f)
		var force, moment [3]float64
		for n := range sys.Nodes() {
			v, at := [3]float64(f[sys.Entry(n):]), sys.Place(n)
			for a := range 3 {
				at[a] -= extent.Centre[a]
			}
			m := vector.Cross(at, v)
			for a := range 3 {
				force[a] += v[a]
				moment[a] += m[a]
			}
		}
		for a := range 3 {
			if math.Abs(force[a]-load.force[a]) > 1e-9 || math.Abs(moment[a]-load.moment[a]) > 1e-8 {
				t.Errorf("%s: the nodes get %g and %g, expected %g and %g", load.name, force, moment, load.force, load.moment)
				break
			}
		}
	}
	if _, err := Twist(r, Extent{Size: 1}, [3]float64{1, 0, 0}); err == nil || !strings.Contains(err.Error(), "too narrow") {
		t.Errorf("a moment on a point: %v", err)
	}
}

// Six whole cells of the top are held at their nodes; the half cells around them by
// springs on just the area that is left.
func TestWholeSidesAreHeldAtNodesAndRestsBySprings(t *testing.T) {
	s, c := block()
	h := NewHolding()
	if err := top(1, 1, 9, 7).Hold(h, c, s, [3]bool{true, false, true}, 1); err != nil {
		t.Fatal(err)
	}
	if want := 4 * 3; len(h.Nodes) != want { // corners of 3 x 2 sides
		t.Errorf("%d nodes held, expected %d", len(h.Nodes), want)
	}
	for node, dirs := range h.Nodes {
		if node[2] != 4 || dirs != [3]bool{true, false, true} {
			t.Errorf("node %v held %v", node, dirs)
		}
	}
	sum := [3]float64{}
	for _, x := range h.Extra {
		for row := range brick.DOF {
			for col := range brick.DOF {
				if row%3 == col%3 {
					sum[row%3] += x[row*brick.DOF+col]
				}
			}
		}
	}
	// under a slide the springs take area x rimSpring/edge
	if want := (48 - 24) * rimSpring / 1.5; math.Abs(sum[0]-want) > 1e-9 || math.Abs(sum[2]-want) > 1e-9 || sum[1] != 0 {
		t.Errorf("springs take %g N/mm, expected %g along two axes", sum, want)
	}
	if err := (&Region{Name: "nowhere"}).Hold(h, c, s, [3]bool{true}, 1); err == nil || !strings.Contains(err.Error(), "no material at nowhere") {
		t.Errorf("nothing to hold: %v", err)
	}
}

func TestWhatIsHeldKeepsItsBody(t *testing.T) {
	_, c := block()
	h := NewHolding()
	h.HoldCut(c, [2][3]bool{1: {true, false, false}})
	if want := 5 * 5; len(h.Nodes) != want {
		t.Errorf("%d nodes on the cut side, expected %d", len(h.Nodes), want)
	}
	if kept := h.Anchor(c); kept != c {
		t.Error("a body that is held was taken apart")
	}
	apart := *c
	apart.Of = append([]int32(nil), c.Of...)
	for j := range c.Count(1) {
		for k := range c.Count(2) {
			apart.Of[c.CellIndex(2, j, k)] = grid.Void
		}
	}
	if kept := h.Anchor(&apart); math.Abs(kept.Lost-2*2*8*6) > 1e-9 {
		t.Errorf("%g mm3 left out, expected the far 192", kept.Lost)
	}
}

func TestInsideABoxIsWhatItHolds(t *testing.T) {
	s, c := block()
	in := top(0, 0, 12, 8).Inside([2][3]float64{{3, -1, 5}, {7, 4, 7}})
	if e, err := in.Extent(c, s); err != nil || math.Abs(e.Size-16) > 1e-9 {
		t.Errorf("%v, %v: expected 16 mm2", e, err)
	}
	if top(0, 0, 12, 8).Inside([2][3]float64{{3, 3, 0}, {7, 7, 5}}) != nil {
		t.Error("the top is not below itself")
	}
	if e, err := Within(s, [2][3]float64{{10, -1, -1}, {13, 9, 9}}).Extent(c, s); err != nil || math.Abs(e.Size-(48+2*2*14)) > 1e-9 {
		t.Errorf("the surface near the far end: %v, %v", e, err)
	}
}
