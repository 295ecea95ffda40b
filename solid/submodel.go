package solid

import (
	"context"
	"errors"
	"math"

	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
	"swapworth/solid/internal/region"
)

// A submodel is a box cut out of the part and laid into finer cells. The
// displacements of the solution that it was cut from hold it on its cut faces; what
// loads or holds the part inside the box does so here too (the cut-boundary method;
// Cormeau, "Application of finite element substructuring and submodelling", and the
// method's usual textbook form: by Saint-Venant's principle the stress some cells
// away from the cut is that of the whole part, if the displacements there are).
type submodel struct {
	at    [3]float64 // the hot place that it is laid around
	box   [2][3]float64
	cut   [2][3]bool    // which of its sides lie inside the part
	s     *grid.Surface // the part's surface over the box
	sys   *system
	u     []float64 // displacements, as those of the solution it was cut from
	st    *samples  // the stresses of these
	cells float64   // longest edge of its cells, mm
	edge  float64   // and of those it is driven by
}

// driver tells the displacement at a point of the part, grid axes.
type driver func(p [3]float64) [3]float64

// driving returns the displacements of a solution on a system, taken from the cell
// at a point or the nearest with material.
func driving(sys *system, u []float64) driver {
	return func(p [3]float64) [3]float64 {
		var cell [3]int
		for a := range 3 {
			cell[a] = sys.c.Find(a, p[a])
		}
		cell, ok := sys.c.NearActive(cell, p)
		if !ok {
			return [3]float64{}
		}
		return sys.moveAt(u, cell, p)
	}
}

const (
	subUnknowns = 24_000 // of a submodel: about a quarter of a second
	// cutClear is how far a cut face stays from flat faces of the part, as a share of
	// a cell: a face that lies in one would be neither cut nor free.
	cutClear = 0.1
	cutShift = 0.3
)

// subBox returns the box of half a side around a point, clipped to a larger box, and
// which sides cut material.
func (c *check) subBox(at [3]float64, half, cell float64, in [2][3]float64) (box [2][3]float64, cut [2][3]bool) {
	for a := range 3 {
		for side, sign := range [2]float64{-1, 1} {
			v := at[a] + sign*half
			for range 4 { // move outwards past flat faces
				for _, f := range c.pose.flats[a] {
					if math.Abs(f.At-v) < cutClear*cell {
						v = f.At + sign*cutShift*cell
					}
				}
			}
			v = min(max(v, in[0][a]), in[1][a])
			box[side][a] = v
			limit := [2]float64{c.s.Low[a], c.s.High[a]}[side]
			cut[side][a] = math.Abs(v-limit) > 3*c.s.Tol
		}
	}
	return
}

// cutOut solves a submodel with cells of a half or a quarter of the edge of those it
// is driven by. loads are the tractions of the case for a solution u of modulus 1
// MPa, and body what accelerates it.
func (c *check) cutOut(ctx context.Context, box [2][3]float64, cut [2][3]bool, edge float64, drive driver, loads []region.Traction, by float64, i int) (*submodel, error) {
	m := &submodel{box: box, cut: cut, edge: edge, s: c.s.OverBox(box)}
	lines := c.wantedLines()
	flats := grid.FlatFaces(m.s.Inside(box))
	g := grid.Fit(m.s, flats, lines, edge/2)
	cs := grid.Fill(m.s, g, raysPerCell(g))
	if fine := 8 * 3 * cs.Active; fine < subUnknowns {
		g = grid.Fit(m.s, flats, lines, edge/4)
		cs = grid.Fill(m.s, g, raysPerCell(g))
	}
	for a := range 3 {
		for _, h := range g.Sizes[a] {
			m.cells = max(m.cells, h)
		}
	}
	h := region.NewHolding()
	c.holdInside(cs, h, box)
	held := map[[3]int][3]bool{} // what holds the part itself, at nodes
	for node, dirs := range h.Nodes {
		held[node] = dirs
	}
	h.HoldCut(cs, cut)
	if len(h.Nodes) == 0 && len(h.Extra) == 0 {
		return nil, nil
	}
	cs = h.Anchor(cs)
	if cs.Active == 0 {
		return nil, nil
	}
	sys, err := newSystem(cs, brick.LameOf(1, c.e.Poisson), h)
	if errors.Is(err, multigrid.ErrFree) { // a crumb that the cut leaves hanging by an edge
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	m.sys = sys
	return m, m.solve(ctx, c, drive, held, loads, by, i)
}

// holdInside adds the part's own supports to h where they reach into the box.
func (c *check) holdInside(cs *grid.Cells, h *region.Holding, box [2][3]float64) {
	for i, r := range c.hold {
		one := region.NewHolding()
		if p := c.points[i]; p != nil {
			if within(*p, box) {
				one.HoldNode(cs.NearestNode(*p), c.dirs[i])
			}
		} else if in := r.Inside(box); in != nil {
			// no material of it in the box is no fault here
			_ = in.Hold(one, cs, c.s, c.dirs[i], 1)
		}
		h.Add(one)
	}
}

func within(p [3]float64, box [2][3]float64) bool {
	for a := range 3 {
		if p[a] < box[0][a] || p[a] > box[1][a] {
			return false
		}
	}
	return true
}

// solve finds the displacements. The driving ones are taken at every node first, so
// that only what is finer remains to be solved for: u = u0 + v, K v = f - K u0, with
// v = 0 on cut faces and at what holds the part.
func (m *submodel) solve(ctx context.Context, c *check, drive driver, fixed map[[3]int][3]bool, loads []region.Traction, by float64, i int) error {
	sys := m.sys
	m.u = make([]float64, sys.Length())
	parallel.Blocks(sys.Nodes(), 512, func(lo, hi int) {
		for t := lo; t < hi; t++ {
			v := drive(sys.Place(t))
			at := sys.Node(t)
			dirs := fixed[[3]int{int(at[0]), int(at[1]), int(at[2])}]
			for a := range 3 {
				if !dirs[a] {
					m.u[sys.Entry(t)+a] = v[a]
				}
			}
		}
	})
	f := make([]float64, len(m.u))
	for _, t := range loads {
		if on := t.On.Inside(m.box); on != nil {
			region.Traction{On: on, Per: t.Per}.Nodal(sys.c, m.s, sys.System, f)
		}
	}
	c.accelerate(sys, i, f)
	for k := range f {
		f[k] /= by
	}
	inner := make([]float64, len(m.u))
	sys.Strain(m.u, inner)
	multigrid.ScaleAdd(-1, f, inner)
	for _, k := range sys.Fixed {
		inner[k] = 0
	}
	v := make([]float64, len(m.u))
	if norm2 := multigrid.Dot(inner, inner); norm2 > 0 {
		if _, err := sys.Solve(ctx, inner, v, subGoal); err != nil {
			return err
		}
	}
	multigrid.Axpy(1, v, m.u)
	m.st = sys.stresses([][]float64{m.u})[0]
	return nil
}

// subGoal is the error of what a submodel adds to the displacements that drive it:
// a hundredth of a percent of the peak at most.
const subGoal = 1e-5
