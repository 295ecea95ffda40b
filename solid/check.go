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

	"gonum.org/v1/gonum/spatial/r3"
)

// Options tune a check. The zero value suits most parts.
type Options struct {
	Unknowns int   // about how many on the finest grid; 0 means 200 000
	Grids    int   // number of grids, each halving the cells; 0 means 3
	Modes    int   // natural frequencies wanted; 0 means none
	Memory   int64 // bytes that may be used; 0 means what the machine has free
	Shape    bool  // keep the deflected shape for Result.Figure

	// Progress is told from time to time which share of the work is done.
	Progress func(share float64)
}

const (
	usualUnknowns = 200_000
	usualGrids    = 3
	solverGoal    = 1e-9 // residual over load
)

// Check solves the problem p for the closed mesh m of material e. It fails when
// the mesh is open, a place holds no material, the part is not held, the memory
// does not suffice, or ctx ends.
func Check(ctx context.Context, m *mesh.Mesh, e materials.Elastic, p Problem, opt Options) (Result, error) {
	start := time.Now()
	c, err := newCheck(m, e, p, opt)
	if err != nil {
		return Result{}, err
	}
	g := c.base()
	for n := range c.opt.Grids {
		if n > 0 {
			g = g.halved()
		}
		if err := c.onGrid(ctx, g, n == c.opt.Grids-1); err != nil {
			return Result{}, err
		}
	}
	c.conclude()
	c.res.Seconds = time.Since(start).Seconds()
	return c.res, nil
}

// check is the state of one run.
type check struct {
	m       *mesh.Mesh
	e       materials.Elastic
	lame    lame
	p       Problem
	opt     Options
	f       frame
	s       *surface
	volume  float64
	hold    []*region
	dirs    [][3]bool
	points  []*[3]float64
	loads   [][]*region
	forces  [][][3]float64
	res     Result
	springs bool
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
	c.f = frameOf(m.Bounds())
	c.s = c.f.surface(m)
	c.volume = m.SignedVolume()
	c.res = Result{YoungsModulus: e.YoungsModulus, Poisson: e.Poisson, Support: p.Support, Warnings: []string{}}
	where := &part{m: m, box: m.Bounds(), tol: c.s.tol}
	for _, s := range p.Supports {
		sp, err := where.locate(s.Place)
		if err != nil {
			return nil, err
		}
		c.warn(sp.warning)
		var point *[3]float64
		if sp.point != nil {
			x := c.f.in(*sp.point)
			point = &x
		}
		c.points = append(c.points, point)
		c.hold = append(c.hold, c.f.region(sp, s.Place.String()))
		c.dirs = append(c.dirs, c.f.flags(s.Hold))
	}
	for _, cs := range p.Cases {
		var regions []*region
		var forces [][3]float64
		for _, l := range cs.Loads {
			sp, err := where.locate(l.Place)
			if err != nil {
				return nil, err
			}
			c.warn(sp.warning)
			regions = append(regions, c.f.region(sp, l.Place.String()))
			forces = append(forces, c.f.vector(l.Force))
		}
		c.loads = append(c.loads, regions)
		c.forces = append(c.forces, forces)
	}
	return c, nil
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
	flats := flatFaces(c.s)
	wanted := c.wantedLines()
	finer := math.Pow(2, float64(c.opt.Grids-1))
	fill := c.volume
	for a := range 3 {
		fill /= c.s.high[a] - c.s.low[a]
	}
	count := func(h float64) float64 {
		g := fitted(c.s, flats, wanted, h)
		n := 3 * fill
		for a := range 3 {
			n *= finer*float64(g.cells(a)) + 1
		}
		return n
	}
	lo, hi := 1e-3*(c.s.high[0]-c.s.low[0]), c.s.high[0]-c.s.low[0]
	for range 40 {
		mid := math.Sqrt(lo * hi)
		if count(mid) > float64(c.opt.Unknowns) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return fitted(c.s, flats, wanted, hi)
}

// wantedLines are the coordinates at which places begin and end.
func (c *check) wantedLines() (w [3][]float64) {
	for _, r := range c.regions() {
		if r.box != nil {
			for a := range 3 {
				w[a] = append(w[a], r.box[0][a], r.box[1][a])
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
				w[a] = append(w[a], (lo+hi)/2)
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

// onGrid solves every case on one grid.
func (c *check) onGrid(ctx context.Context, g *grid, finest bool) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	sys, err := c.set(g)
	if err != nil {
		return err
	}
	out := Grid{Cells: sys.c.active, Unknowns: sys.unknowns(), Cell: math.Cbrt(sys.c.volume / float64(sys.c.active))}
	for a, m := range c.f.model {
		out.Edge[m] = (c.s.high[a] - c.s.low[a]) / float64(g.cells(a))
	}
	for n := range c.p.Cases {
		f := make([]float64, sys.op.length())
		for i, r := range c.loads[n] {
			part, err := sys.c.spread(c.s, sys.op, r, c.forces[n][i])
			if err != nil {
				return err
			}
			axpy(1, part, f)
		}
		u := make([]float64, sys.op.length())
		its, err := sys.solve(ctx, f, u, solverGoal)
		if err != nil {
			return err
		}
		load := c.load(n)
		k := load * load / dot(f, u)
		out.all = append(out.all, k)
		if n == 0 {
			out.Stiffness, out.Iterations = k, its
		}
		if finest {
			c.res.Cases = append(c.res.Cases, c.caseResult(sys, n, f, u, its))
		}
	}
	c.res.Grids = append(c.res.Grids, out)
	c.res.Cells, c.res.Unknowns, c.res.Iterations = out.Cells, out.Unknowns, out.Iterations
	return nil
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

// caseResult measures reactions and displacements of a solved case.
func (c *check) caseResult(sys *system, n int, f, u []float64, its int) CaseResult {
	r := CaseResult{Name: c.p.Cases[n].Name, Load: c.load(n), Iterations: its}
	for _, p := range sys.op.pos {
		r.Largest = max(r.Largest, norm([3]float64(u[3*p:3*p+3])))
	}
	return r
}

// conclude extrapolates and fills in the values on top.
func (c *check) conclude() {
	for n := range c.res.Cases {
		var k []float64
		for _, g := range c.res.Grids {
			k = append(k, g.all[n])
		}
		r := &c.res.Cases[n]
		r.Stiffness, r.ErrorPercent = extrapolate(k)
		r.Deflection = r.Load / r.Stiffness
	}
	first := c.res.Cases[0]
	c.res.Load, c.res.Stiffness, c.res.ErrorPercent = first.Load, first.Stiffness, first.ErrorPercent
	c.res.Deflection = first.Deflection
}

// extrapolate returns the limit of a sequence of values on grids that each
// halve the cells, and an estimate of its error in percent. The order of
// convergence is taken from three values where they behave, within 1 and 2
// (Richardson, 1911; Roache, 1994).
func extrapolate(k []float64) (limit, percent float64) {
	n := len(k)
	if n == 1 {
		return k[0], 100
	}
	last := k[n-1] - k[n-2]
	order := 1.5
	if n >= 3 {
		if ratio := (k[n-2] - k[n-3]) / last; ratio > 0 && last != 0 {
			order = min(max(math.Log2(ratio), 1), 2)
		}
	}
	step := last / (math.Pow(2, order) - 1)
	limit = k[n-1] + step
	return limit, 100 * math.Abs(step) / math.Abs(limit)
}
