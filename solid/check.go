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
	"slices"
	"time"

	"swapworth/materials"
	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
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

// check is the state of one run.
type check struct {
	m        *mesh.Mesh
	e        materials.Elastic
	lame     lame
	p        Problem
	opt      Options
	f        frame
	s        *surface
	volume   float64
	heldAt   []spot   // the places of the supports
	loadedAt [][]spot // the places of the loads, by case
	hold     []*region
	dirs     [][3]bool
	points   []*[3]float64
	loads    [][]*region
	forces   [][][3]float64
	res      Result
	coarsest *grid
	corners  [][2][3]float64 // sharp inner edges of the surface
	hertz    [][]float64     // natural frequencies by grid
}

// newCheck validates the input and finds the places.
func newCheck(m *mesh.Mesh, e materials.Elastic, p Problem, opt Options) (*check, error) {
	if err := validate(m, e, p); err != nil {
		return nil, err
	}
	if opt.Unknowns == 0 {
		opt.Unknowns = usualUnknowns
	}
	if opt.Grids == 0 {
		opt.Grids = usualGrids
	}
	c := &check{m: m, e: e, p: p, opt: opt, lame: lameOf(e.YoungsModulus, e.Poisson)}
	c.volume = m.SignedVolume()
	c.res = Result{YoungsModulus: e.YoungsModulus, Poisson: e.Poisson, Support: p.Support, Warnings: []string{}}
	if err := c.locate(); err != nil {
		return nil, err
	}
	if !c.lay(alignedFrame(m)) {
		c.lay(frameOf(m.Bounds()))
	}
	return c, nil
}

// locate finds the places of all supports and loads on the part.
func (c *check) locate() error {
	where := &part{m: c.m, box: c.m.Bounds(), tol: tolerance(c.m.Bounds())}
	find := func(p Place) (spot, error) {
		s, err := where.locate(p)
		c.warn(s.warning)
		return s, err
	}
	for _, s := range c.p.Supports {
		at, err := find(s.Place)
		if err != nil {
			return err
		}
		c.heldAt = append(c.heldAt, at)
	}
	for _, cs := range c.p.Cases {
		var spots []spot
		for _, l := range cs.Loads {
			at, err := find(l.Place)
			if err != nil {
				return err
			}
			spots = append(spots, at)
		}
		c.loadedAt = append(c.loadedAt, spots)
	}
	return nil
}

// lay brings part, supports and loads into a frame. It reports false where a
// support or a place cannot be told along its axes.
func (c *check) lay(f frame) bool {
	c.f, c.s = f, f.surface(c.m)
	c.hold, c.dirs, c.points, c.loads, c.forces = nil, nil, nil, nil, nil
	all := true
	place := func(s spot, p Place) *region {
		r, ok := f.region(s, c.s, c.m.Bounds(), p.String())
		all = all && ok
		return r
	}
	for i, s := range c.p.Supports {
		at := c.heldAt[i]
		var point *[3]float64
		if at.point != nil {
			x := f.in(*at.point)
			point = &x
		}
		c.points = append(c.points, point)
		c.hold = append(c.hold, place(at, s.Place))
		dirs, ok := f.flags(s.Hold)
		all = all && ok
		c.dirs = append(c.dirs, dirs)
	}
	for i, cs := range c.p.Cases {
		var regions []*region
		var forces [][3]float64
		for k, l := range cs.Loads {
			regions = append(regions, place(c.loadedAt[i][k], l.Place))
			forces = append(forces, f.vector(l.Force))
		}
		c.loads = append(c.loads, regions)
		c.forces = append(c.forces, forces)
	}
	return all
}

func validate(m *mesh.Mesh, e materials.Elastic, p Problem) error {
	if report := mesh.Check(m); !report.Balanced {
		return fmt.Errorf("solid: the mesh is not closed (%d open edges); close it with --repair or in the CAD program", report.OpenEdges)
	}
	if !(m.SignedVolume() > 0) {
		return errors.New("solid: the mesh encloses no volume; is it inside out?")
	}
	if !(e.YoungsModulus > 0) || math.IsInf(e.YoungsModulus, 0) {
		return fmt.Errorf("solid: Young's modulus %g MPa: expected a number above zero", e.YoungsModulus)
	}
	if !(e.Poisson >= 0 && e.Poisson <= 0.49) {
		return fmt.Errorf("solid: Poisson's ratio %g: expected 0 to 0.49", e.Poisson)
	}
	if len(p.Supports) == 0 {
		return errors.New("solid: nothing holds the part; name a support or a place to fix")
	}
	if len(p.Cases) == 0 {
		return errors.New("solid: nothing loads the part; name a load")
	}
	for _, c := range p.Cases {
		total := 0.0
		for _, l := range c.Loads {
			total += r3.Norm(l.Force)
			if slices.Contains(p.Supports, Clamped(l.Place)) {
				return fmt.Errorf("solid: load case %q acts on %s, which is held; load another place", c.Name, l.Place)
			}
		}
		if !(total > 0) || math.IsInf(total, 0) {
			return fmt.Errorf("solid: load case %q has no force; give a force other than zero", c.Name)
		}
	}
	return nil
}

func (c *check) warn(text string) {
	for _, w := range c.res.Warnings {
		if w == text {
			return
		}
	}
	if text != "" {
		c.res.Warnings = append(c.res.Warnings, text)
	}
}

// base chooses the coarsest grid such that the finest has about as many
// unknowns as wanted.
func (c *check) base() *grid {
	finer := 1 << (c.opt.Grids - 1)
	fill := c.volume
	for a := range 3 {
		fill /= c.s.high[a] - c.s.low[a]
	}
	flats, wanted := flatFaces(c.s), c.wantedLines()
	var g *grid
	for range 3 { // thin walls have more nodes than their volume says: correct by count
		g = c.gridOf(flats, wanted, finer, float64(c.opt.Unknowns)/fill)
		count := fillCells(c.s, g, 2).refinedUnknowns(finer)
		off := count / float64(c.opt.Unknowns)
		if off > 0.9 && off < 1.1 || count == 0 {
			break
		}
		fill *= off
	}
	return g
}

// gridOf returns the coarsest grid whose box has no more unknowns than wanted
// when every cell is cut into finer parts along each axis.
func (c *check) gridOf(flats [3][]plane, lines wishes, finer int, unknowns float64) *grid {
	lo, hi := 1e-3*(c.s.high[0]-c.s.low[0]), c.s.high[0]-c.s.low[0]
	for range 40 {
		mid := math.Sqrt(lo * hi)
		g := fitted(c.s, flats, lines, mid)
		n := 3.0
		for a := range 3 {
			n *= float64(finer*g.cells(a) + 1)
		}
		if n > unknowns {
			lo = mid
		} else {
			hi = mid
		}
	}
	return fitted(c.s, flats, lines, hi)
}

// wishes are coordinates at which places want grid lines: firm ones where they
// begin and end, soft ones around a flat face, which are left out where another
// line is close.
type wishes struct{ firm, soft [3][]float64 }

// wantedLines collects the wishes of every held or loaded place.
func (c *check) wantedLines() (w wishes) {
	for _, r := range c.regions() {
		if r.box != nil {
			for a := range 3 {
				w.firm[a] = append(w.firm[a], r.box[0][a], r.box[1][a])
			}
			continue
		}
		if !r.whole {
			continue
		}
		for a := range 3 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, t := range r.faces {
				for _, p := range t {
					lo, hi = min(lo, p[a]), max(hi, p[a])
				}
			}
			if hi-lo <= 2*c.s.tol {
				w.firm[a] = append(w.firm[a], (lo+hi)/2)
			} else {
				w.soft[a] = append(w.soft[a], lo, hi)
			}
		}
	}
	return
}

func (c *check) regions() (all []*region) {
	for i, r := range c.hold {
		if c.points[i] == nil {
			all = append(all, r)
		}
	}
	for _, l := range c.loads {
		all = append(all, l...)
	}
	return
}

// raysPerCell returns the rays along a cell's edge: more where cells are few.
func raysPerCell(g *grid) int {
	columns := g.cells(0) * g.cells(1)
	switch {
	case columns < 4000:
		return 8
	case columns < 40000:
		return 6
	}
	return 4
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

// nearestNode returns the corner of a cell with material nearest to a point.
func (c *cells) nearestNode(p [3]float64) [3]int {
	var best [3]int
	near := math.Inf(1)
	for i := range c.cells(0) {
		for j := range c.cells(1) {
			for k := range c.cells(2) {
				if c.of[c.cellIndex(i, j, k)] == void {
					continue
				}
				for v := range shapes {
					n := [3]int{i + v>>2, j + v>>1&1, k + v&1}
					d := 0.0
					for a := range 3 {
						x := c.lines[a][n[a]] - p[a]
						d += x * x
					}
					if d < near {
						best, near = n, d
					}
				}
			}
		}
	}
	return best
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
		if i == 0 && c.opt.Shape {
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

// load returns the size of a case's forces, N: of their sum, or, where they
// cancel, the sum of their sizes.
func (c *check) load(n int) float64 {
	var sum [3]float64
	total := 0.0
	for _, f := range c.forces[n] {
		for a := range 3 {
			sum[a] += f[a]
		}
		total += norm(f)
	}
	if s := norm(sum); s > 1e-6*total {
		return s
	}
	return total
}

func norm(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }
