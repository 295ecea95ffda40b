// Package solid computes the stiffness, stress and natural frequencies of a
// part from its closed surface mesh, in three dimensions and without any
// meshing by a person.
//
// The part is laid into a grid of bricks whose lines follow its flat faces;
// cells that other surfaces cut are integrated over the material in them. The
// bricks bend without locking, the equations are solved by conjugate gradients
// with a multigrid preconditioner, and three grids, each half as coarse as the
// one before, give an extrapolated stiffness and an estimate of its error.
//
// Lengths are mm, forces N, stresses MPa, masses g.
package solid

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"swapworth/materials"
	"swapworth/mesh"
)

// Options tune a check. The zero value suits most parts.
type Options struct {
	Unknowns int   // about how many on the finest grid; 0 means 200 000, or up to four times that where the error asks for it
	Grids    int   // number of grids, each halving the cells; 0 means 3
	Modes    int   // natural frequencies wanted; 0 means none
	Memory   int64 // bytes that may be used; 0 means what the machine has free
	Shape    bool  // keep the deflected shape of the first case

	// Progress is told from time to time which share of the work is done.
	Progress func(share float64)
}

const (
	usualUnknowns = 200_000
	usualGrids    = 3
	poor          = 5.0  // percent of error above which the usual size is not enough
	solverGoal    = 1e-9 // error over displacement, in the norm of the energy
)

// Check solves the problem p for the closed mesh m of material e. It fails when
// the mesh is open, a place holds no material, the part is not held, the memory
// does not suffice, or ctx ends.
func Check(ctx context.Context, m *mesh.Mesh, e materials.Elastic, p Problem, opt Options) (Result, error) {
	start := time.Now()
	told := opt.Progress
	if told != nil {
		opt.Progress = func(share float64) { told(0.9 * share) }
	}
	r, err := run(ctx, m, e, p, opt)
	if err != nil {
		return r, err
	}
	if opt.Unknowns == 0 && r.worst() > poor {
		// the error falls with the area of the cells or faster: aim well below
		more := math.Pow(1.5*r.worst()/poor, 1.5)
		opt.Unknowns = int(usualUnknowns * min(more, 4))
		if told != nil {
			opt.Progress = func(share float64) { told(0.9 + 0.1*share) }
		}
		if finer, err := run(ctx, m, e, p, opt); err == nil {
			r = finer
		} else if ctx.Err() != nil {
			return Result{}, err
		}
	}
	if told != nil {
		told(1)
	}
	r.Seconds = time.Since(start).Seconds()
	return r, nil
}

// run solves the problem on one set of grids.
func run(ctx context.Context, m *mesh.Mesh, e materials.Elastic, p Problem, opt Options) (Result, error) {
	c, err := newCheck(m, e, p, opt)
	if err != nil {
		return Result{}, err
	}
	g := c.base()
	c.coarsest = g
	if err := c.fits(g); err != nil {
		return Result{}, err
	}
	for n := range c.opt.Grids {
		if n > 0 {
			g = g.halved()
		}
		if err := c.onGrid(ctx, g, n); err != nil {
			return Result{}, err
		}
	}
	c.conclude()
	return c.res, nil
}

// set makes the system on a grid.
func (c *check) set(g *grid) (*system, error) {
	cs := fillCells(c.s, g, raysPerCell(g))
	h := &holding{nodes: map[[3]int][3]bool{}, extra: map[int]*element{}}
	for i, r := range c.hold {
		if p := c.points[i]; p != nil {
			h.holdNode(cs.nearestNode(*p), c.dirs[i])
			continue
		}
		if err := cs.hold(h, c.s, r, c.dirs[i], c.e.YoungsModulus); err != nil {
			return nil, err
		}
	}
	if lost := cs.keepHeld(h); lost > 1e-3*c.volume {
		c.warn(fmt.Sprintf("%.2g %% of the material is a separate body that nothing holds; it is left out", 100*lost/c.volume))
	}
	return newSystem(cs, c.lame, h)
}

// onGrid solves every case on grid n, 0 for the coarsest.
func (c *check) onGrid(ctx context.Context, g *grid, n int) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	sys, err := c.set(g)
	if err != nil {
		return err
	}
	c.advance(n, 0.3)
	out := Grid{Cells: sys.c.active, Unknowns: sys.unknowns(), Cell: math.Cbrt(sys.c.volume / float64(sys.c.active))}
	for a, m := range c.f.model {
		out.Edge[m] = (c.s.high[a] - c.s.low[a]) / float64(g.cells(a))
	}
	var moves [][]float64
	for i := range c.p.Cases {
		sys.told = func(share float64) { c.advance(n, 0.3+0.6*(float64(i)+share)/float64(len(c.p.Cases))) }
		done, u, err := c.solveCase(ctx, sys, i)
		if err != nil {
			return err
		}
		out.cases = append(out.cases, done)
		moves = append(moves, u)
	}
	c.advance(n, 0.9)
	if stressed := n >= c.opt.Grids-2; stressed { // on two grids, so that growth shows
		c.findPeaks(sys, n, moves, out.cases)
		out.MaxStress = &out.cases[0].MaxStress
	}
	first := out.cases[0]
	out.Stiffness, out.Iterations = first.Stiffness, first.Iterations
	if err := c.vibrate(ctx, sys, n); err != nil {
		return err
	}
	c.res.Grids = append(c.res.Grids, out)
	c.res.Cells, c.res.Unknowns, c.res.Iterations = out.Cells, out.Unknowns, out.Iterations
	return nil
}

// advance tells how far the work has come: each grid takes about eight times as
// long as the one before.
func (c *check) advance(n int, share float64) {
	if c.opt.Progress == nil {
		return
	}
	total, before := 0.0, 0.0
	for g := range c.opt.Grids {
		w := math.Pow(8, float64(g))
		total += w
		if g < n {
			before += w
		}
	}
	c.opt.Progress((before + share*math.Pow(8, float64(n))) / total)
}

// findPeaks fills in the largest stresses of the cases on grid n, from their
// displacements.
func (c *check) findPeaks(sys *system, n int, moves [][]float64, cases []CaseResult) {
	if c.corners == nil {
		c.corners = innerCorners(c.s)
	}
	// the same distance on every grid: one cell of the coarsest
	near := sys.c.markNear(c.s, c.corners, c.regions(), 1<<n)
	beside := sys.c.markNear(c.s, c.corners, c.regions(), 1)
	points := sys.c.surfacePoints(c.s)
	for i, p := range points {
		points[i].near = near[sys.c.cellIndex(p.cell[0], p.cell[1], p.cell[2])]
	}
	for i, st := range sys.stresses(moves) {
		r := &cases[i]
		p := sys.peakStress(st, points)
		r.MaxStress, r.AwayStress = p.mpa, p.away
		at := c.f.point(p.at)
		r.StressAt = [3]float64{at.X, at.Y, at.Z}
		r.atCorner = beside[sys.c.cellIndex(p.cell[0], p.cell[1], p.cell[2])]
		if i == 0 && c.opt.Shape && n == c.opt.Grids-1 {
			c.keepShape(sys, moves[i], st)
		}
	}
}

// solveCase solves case i and measures it. It returns the displacements too.
func (c *check) solveCase(ctx context.Context, sys *system, i int) (CaseResult, []float64, error) {
	r := CaseResult{Name: c.p.Cases[i].Name, Load: c.load(i)}
	f, u := make([]float64, sys.op.length()), make([]float64, sys.op.length())
	for k, region := range c.loads[i] {
		part, err := sys.c.spread(c.s, sys.op, region, c.forces[i][k])
		if err != nil {
			return r, nil, err
		}
		axpy(1, part, f)
	}
	var err error
	if r.Iterations, err = sys.solve(ctx, f, u, solverGoal); err != nil {
		return r, nil, err
	}
	work := dot(f, u)
	if !(work > 0) {
		return r, nil, fmt.Errorf("solid: load case %q acts only where the part is held, so nothing moves; load another place", r.Name)
	}
	r.Stiffness = r.Load * r.Load / work
	for _, p := range sys.op.pos {
		r.Largest = max(r.Largest, norm([3]float64(u[3*p:3*p+3])))
	}
	force, off := sys.reaction(f, u, r.Load)
	r.Imbalance = off
	to := c.f.out(force)
	r.Reaction = [3]float64{to.X, to.Y, to.Z}
	return r, u, nil
}

// vibrate finds natural frequencies on all grids but the finest, for they
// converge faster than stresses and cost more than a load case.
func (c *check) vibrate(ctx context.Context, sys *system, n int) error {
	if c.opt.Modes == 0 || (n == c.opt.Grids-1 && n > 0) {
		return nil
	}
	if !(c.e.Density > 0) {
		return errors.New("solid: natural frequencies need a density; give one or leave them out")
	}
	mass := sys.masses(c.e.Density)
	if c.p.AttachedMass > 0 {
		share, err := sys.c.spread(c.s, sys.op, c.loads[0][0], [3]float64{1, 1, 1})
		if err != nil {
			return err
		}
		for i, w := range share {
			mass[i] += c.p.AttachedMass * max(w, 0)
		}
	}
	hz, err := sys.frequencies(ctx, mass, c.opt.Modes)
	c.hertz = append(c.hertz, hz)
	return err
}

func norm(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }
