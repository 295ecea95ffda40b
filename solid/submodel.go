package solid

import (
	"context"
	"math"

	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/multigrid"
)

// A submodel is a box cut out of the part and laid into finer cells. The
// displacements of the solution that it was cut from hold it on its cut faces; what
// loads or holds the part inside the box does so here too (the cut-boundary method;
// Cormeau, "Application of finite element substructuring and submodelling", and the
// method's usual textbook form: by Saint-Venant's principle the stress some cells
// away from the cut is that of the whole part, if the displacements there are).
type submodel struct {
	box   [2][3]float64
	cut   [2][3]bool // which of its sides lie inside the part
	s     *surface   // the part's surface over the box
	sys   *system
	u     []float64 // displacements, as those of the solution it was cut from
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
			cell[a] = sys.c.find(a, p[a])
		}
		cell, ok := sys.c.nearActive(cell, p)
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
					if math.Abs(f.at-v) < cutClear*cell {
						v = f.at + sign*cutShift*cell
					}
				}
			}
			v = min(max(v, in[0][a]), in[1][a])
			box[side][a] = v
			limit := [2]float64{c.s.low[a], c.s.high[a]}[side]
			cut[side][a] = math.Abs(v-limit) > 3*c.s.tol
		}
	}
	return
}

// overBox returns the part's surface with the box as its own, and of its faces those
// that rays through the box meet.
func (s *surface) overBox(box [2][3]float64) *surface {
	return &surface{points: s.points, low: box[0], high: box[1], tol: s.tol, faces: s.reaching(box, 2)}
}

// cutOut solves a submodel with cells of a half or a quarter of the edge of those it
// is driven by. loads are the tractions of the case for a solution u of modulus 1
// MPa, and body what accelerates it.
func (c *check) cutOut(ctx context.Context, box [2][3]float64, cut [2][3]bool, edge float64, drive driver, loads []traction, by float64, i int) (*submodel, error) {
	m := &submodel{box: box, cut: cut, edge: edge, s: c.s.overBox(box)}
	lines := c.wantedLines()
	flats := flatFaces(m.s.inside(box))
	g := fitted(m.s, flats, lines, edge/2)
	cs := fillCells(m.s, g, raysPerCell(g))
	if fine := 8 * 3 * cs.active; fine < subUnknowns {
		g = fitted(m.s, flats, lines, edge/4)
		cs = fillCells(m.s, g, raysPerCell(g))
	}
	for a := range 3 {
		for _, h := range g.sizes[a] {
			m.cells = max(m.cells, h)
		}
	}
	h := newHolding()
	c.holdInside(cs, h, box)
	held := map[[3]int][3]bool{} // what holds the part itself, at nodes
	for node, dirs := range h.nodes {
		held[node] = dirs
	}
	cs.holdCut(h, cut)
	if len(h.nodes) == 0 && len(h.extra) == 0 {
		return nil, nil
	}
	cs = cs.keepHeld(h)
	if cs.active == 0 {
		return nil, nil
	}
	sys, err := newSystem(cs, brick.LameOf(1, c.e.Poisson), h)
	if err != nil {
		return nil, err
	}
	m.sys = sys
	return m, m.solve(ctx, c, drive, held, loads, by, i)
}

// reaching returns the faces whose own boxes meet a box along the first axes.
func (s *surface) reaching(box [2][3]float64, axes int) (faces [][3]int32) {
	for _, f := range s.faces {
		reaches := true
		for a := range axes {
			lo, hi := s.points[f[0]][a], s.points[f[0]][a]
			for _, v := range f[1:] {
				lo, hi = min(lo, s.points[v][a]), max(hi, s.points[v][a])
			}
			reaches = reaches && lo <= box[1][a] && hi >= box[0][a]
		}
		if reaches {
			faces = append(faces, f)
		}
	}
	return faces
}

// inside returns the surface with those of its faces that reach into the box.
func (s *surface) inside(box [2][3]float64) *surface {
	return &surface{points: s.points, low: s.low, high: s.high, tol: s.tol, faces: s.reaching(box, 3)}
}

// holdInside adds the part's own supports to h where they reach into the box.
func (c *check) holdInside(cs *cells, h *holding, box [2][3]float64) {
	for i, r := range c.hold {
		one := newHolding()
		if p := c.points[i]; p != nil {
			if within(*p, box) {
				one.holdNode(cs.nearestNode(*p), c.dirs[i])
			}
		} else if in := r.inside(box); in != nil {
			// no material of it in the box is no fault here
			_ = cs.hold(one, c.s, in, c.dirs[i], 1)
		}
		h.add(one)
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

// inside returns what of a region lies in the box, nil for nothing.
func (r *region) inside(box [2][3]float64) *region {
	out := &region{whole: r.whole, name: r.name}
	if r.box != nil {
		var b [2][3]float64
		for a := range 3 {
			b[0][a], b[1][a] = max(r.box[0][a], box[0][a]), min(r.box[1][a], box[1][a])
			if b[0][a] > b[1][a] {
				return nil
			}
		}
		out.box = &b
		return out
	}
	for _, f := range r.faces {
		poly := f[:]
		for a := range 3 {
			poly = halfSpace(nil, poly, a, box[0][a], 1)
			poly = halfSpace(nil, poly, a, box[1][a], -1)
		}
		for k := 2; k < len(poly); k++ {
			t := [3][3]float64{poly[0], poly[k-1], poly[k]}
			if areaOf(t) > 0 {
				out.faces = append(out.faces, t)
			}
		}
	}
	if len(out.faces) == 0 {
		return nil
	}
	return out
}

// holdCut holds the nodes of the cells at cut sides in every direction.
func (c *cells) holdCut(h *holding, cut [2][3]bool) {
	c.eachActive(func(i, j, k, _ int) {
		at := [3]int{i, j, k}
		for a := range 3 {
			for side := range 2 {
				if !cut[side][a] || at[a] != side*(c.cells(a)-1) {
					continue
				}
				for v := range brick.Corners {
					d := [3]int{v >> 2, v >> 1 & 1, v & 1}
					if d[a] == side {
						h.holdNode([3]int{i + d[0], j + d[1], k + d[2]}, held)
					}
				}
			}
		}
	})
}

// solve finds the displacements. The driving ones are taken at every node first, so
// that only what is finer remains to be solved for: u = u0 + v, K v = f - K u0, with
// v = 0 on cut faces and at what holds the part.
func (m *submodel) solve(ctx context.Context, c *check, drive driver, fixed map[[3]int][3]bool, loads []traction, by float64, i int) error {
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
		if on := t.on.inside(m.box); on != nil {
			sys.nodal(m.s, traction{on, t.per}, f)
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
	return nil
}

// subGoal is the error of what a submodel adds to the displacements that drive it:
// a hundredth of a percent of the peak at most.
const subGoal = 1e-5
