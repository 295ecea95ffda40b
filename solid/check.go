package solid

import (
	"context"
	"errors"
	"fmt"
	"math"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// Options tune a check. The zero value suits most parts.
type Options struct {
	Unknowns int     // about how many on the finest grid; 0 means 200 000, or up to four times that where the error asks for it
	Grids    int     // number of grids, each halving the cells; 0 means 3
	Finer    int     // grids beyond those, each of about eight times the unknowns
	Modes    int     // natural frequencies wanted; 0 means none
	Memory   int64   // bytes that may be used; 0 means what the machine has free
	Shape    bool    // keep the deflected shape of the first case
	Spare    bool    // look for material that carries little, a second or two
	Cutter   float64 // diameter of the smallest cutter that pockets, mm; 0 means 3
	NoStress bool    // stiffness alone is wanted: stresses stay 0
	Peaks    bool    // look closely at the three hottest places of each case, about a second a place
	LookAt   []Spot  // places to look at closely beside the hottest, in every case

	// Progress is told from time to time which share of the work is done.
	Progress func(share float64)
}

// Quick is the small budget with which a decision starts: two grids, the finer of
// about 25 000 unknowns. Stiffness is within a percent or two for most parts.
func Quick() Options { return Options{Unknowns: quickUnknowns, Grids: quickGrids} }

// Refined asks for one more grid than o does. On the same body the grids that are
// there, and what was solved on them, are used again.
func (o Options) Refined() Options {
	o.Finer++
	return o
}

const (
	usualUnknowns = 200_000
	usualGrids    = 3
	quickUnknowns = 25_000
	quickGrids    = 2
	poor          = 5.0  // percent of error above which the usual size is not enough
	solverGoal    = 3e-6 // error over displacement, in the norm of the energy
)

// Check solves the problem p for the closed mesh m of material e. It fails when
// the mesh is open, a place holds no material, the part is not held, the memory
// does not suffice, or ctx ends. For several problems on one part make a Body.
func Check(ctx context.Context, m *mesh.Mesh, e materials.Elastic, p Problem, opt Options) (Result, error) {
	b, err := NewBody(m)
	if err != nil {
		return Result{}, err
	}
	return b.Check(ctx, e, p, opt)
}

// system returns the system on grid n, 0 for the coarsest.
func (c *check) system(n int) (*keptSystem, error) {
	key := fmt.Sprintf("%s %d %g %#v", c.lay.key, n, c.e.Poisson, c.p.Supports)
	k := c.body.find(key)
	if k == nil {
		cs := c.lay.at(n, c.pose)
		h, err := c.holdingOn(cs)
		if err != nil {
			return nil, err
		}
		cs = h.Anchor(cs)
		s, err := newSystem(cs, brick.LameOf(1, c.e.Poisson), h)
		if err != nil {
			return nil, err
		}
		k = &keptSystem{key: key, system: s, lost: cs.Lost}
		c.body.keep(k)
	}
	if k.lost > 1e-3*c.body.volume {
		c.warn(fmt.Sprintf("%.2g %% of the material is a separate body that nothing holds; it is left out", 100*k.lost/c.body.volume))
	}
	return k, nil
}

// holdingOn returns what holds the part on a grid, for a modulus of 1 MPa.
func (c *check) holdingOn(cs *grid.Cells) (*region.Holding, error) {
	h := region.NewHolding()
	for i, r := range c.hold {
		one := region.NewHolding()
		if p := c.points[i]; p != nil {
			one.HoldNode(cs.NearestNode(*p), c.dirs[i])
		} else if err := r.Hold(one, cs, c.s, c.dirs[i], 1); err != nil {
			return nil, err
		}
		h.Add(one)
	}
	return h, nil
}

// onGrid solves every case on grid n, 0 for the coarsest.
func (c *check) onGrid(ctx context.Context, n int) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	sys, err := c.system(n)
	if err != nil {
		return err
	}
	c.advance(n, 0.3)
	out := Grid{Cells: sys.c.Active, Unknowns: sys.Unknowns(), Cell: math.Cbrt(sys.c.Volume / float64(sys.c.Active))}
	for a, m := range c.f.model {
		out.Edge[m] = (c.s.High[a] - c.s.Low[a]) / float64(sys.c.Count(a))
	}
	var answers []answer
	for i := range c.p.Cases {
		sys.Told = func(share float64) { c.advance(n, 0.3+0.6*(float64(i)+share)/float64(len(c.p.Cases))) }
		done, a, err := c.solveCase(ctx, sys, i)
		if err != nil {
			return err
		}
		out.cases = append(out.cases, done)
		answers = append(answers, a)
	}
	sys.Told = nil
	c.advance(n, 0.9)
	if stressed := !c.opt.NoStress && n >= c.grids-2; stressed { // on two grids, so that growth shows
		c.findPeaks(sys, n, answers, out.cases)
		out.MaxStress = &out.cases[0].MaxStress
	}
	c.finest, c.answers = sys, answers
	first := out.cases[0]
	out.Stiffness, out.Deflection, out.Iterations = first.Stiffness, first.Deflection, first.Iterations
	if err := c.vibrate(ctx, sys, n); err != nil {
		return err
	}
	c.res.Grids = append(c.res.Grids, out)
	c.res.Cells, c.res.Unknowns, c.res.Iterations = out.Cells, out.Unknowns, out.Iterations
	return nil
}

// answer is a solution and the number by which it must be multiplied.
type answer struct {
	*solution
	by float64
}

// advance tells how far the work has come: each grid takes about eight times as
// long as the one before.
func (c *check) advance(n int, share float64) {
	if c.opt.Progress == nil {
		return
	}
	total, before := 0.0, 0.0
	for g := range c.grids {
		w := math.Pow(8, float64(g))
		total += w
		if g < n {
			before += w
		}
	}
	c.opt.Progress(c.gridShare() * (before + share*math.Pow(8, float64(n))) / total)
}

// gridShare is about how much of the work the grids are: submodels and the search for
// spare material take as long as a small grid each.
func (c *check) gridShare() float64 {
	if c.opt.Peaks || c.opt.Spare || len(c.opt.LookAt) > 0 {
		return 0.6
	}
	return 1
}

// advanceAfter tells that a share of what follows the grids is done.
func (c *check) advanceAfter(share float64) {
	if c.opt.Progress != nil {
		c.opt.Progress(c.gridShare() + (1-c.gridShare())*share)
	}
}

// findPeaks fills in the largest stresses of the cases on grid n, from their
// displacements.
func (c *check) findPeaks(sys *keptSystem, n int, answers []answer, cases []CaseResult) {
	key := fmt.Sprintf("%d", n)
	for _, r := range c.regions() {
		key += " " + r.Name
	}
	shape := c.opt.Shape && n == c.grids-1
	var todo [][]float64
	for i, a := range answers {
		if _, ok := a.peaks[key]; !ok || (i == 0 && shape) {
			todo = append(todo, a.u)
		}
	}
	if len(todo) > 0 {
		corners := c.pose.innerCorners()
		// the same distance on every grid: one cell of the coarsest
		near := markNear(sys.c, c.s, corners, c.regions(), 1<<n)
		beside := markNear(sys.c, c.s, corners, c.regions(), 1)
		points := surfacePoints(sys.c, c.s)
		for i, p := range points {
			points[i].near = near[sys.c.CellIndex(p.cell[0], p.cell[1], p.cell[2])]
		}
		stresses := sys.stresses(todo)
		for i, a := range answers {
			if len(stresses) == 0 || &a.u[0] != &todo[0][0] {
				continue
			}
			p := sys.peakStress(stresses[0], points)
			a.peaks[key] = peaks{p, beside[sys.c.CellIndex(p.cell[0], p.cell[1], p.cell[2])]}
			if i == 0 && shape {
				c.keepShape(sys.system, a, stresses[0])
			}
			stresses, todo = stresses[1:], todo[1:]
		}
	}
	for i, a := range answers {
		r, p, by := &cases[i], a.peaks[key], math.Abs(a.by)
		r.MaxStress, r.AwayStress, r.atCorner = by*p.mpa, by*p.away, p.atCorner
		r.hot = p.hot
		at := c.f.point(p.at)
		r.StressAt = [3]float64{at.X, at.Y, at.Z}
	}
}

// vibrate finds natural frequencies on all grids but the finest of three, for they
// converge faster than stresses and cost more than a load case.
func (c *check) vibrate(ctx context.Context, sys *keptSystem, n int) error {
	if c.opt.Modes == 0 || (n == c.grids-1 && n > 1) {
		return nil
	}
	if !(c.e.Density > 0) {
		return errors.New("solid: natural frequencies need a density; give one or leave them out")
	}
	mass := sys.masses(c.e.Density)
	if err := c.attach(sys.system, mass); err != nil {
		return err
	}
	unit, err := sys.ringsAt(ctx, mass, c.opt.Modes)
	var hz []float64
	for _, v := range unit {
		hz = append(hz, v*math.Sqrt(c.e.YoungsModulus))
	}
	c.hertz = append(c.hertz, hz)
	return err
}
