package solid

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"swapworth/materials"
	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

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
	for _, s := range c.p.Supports {
		at, err := where.locate(s.Place)
		if err != nil {
			return err
		}
		if s.Place.kind == endFace && s.Hold != held {
			at = at.turning(s.Place.axis)
		}
		c.warn(at.warning)
		c.heldAt = append(c.heldAt, at)
	}
	for _, cs := range c.p.Cases {
		var spots []spot
		for _, l := range cs.Loads {
			at, err := where.locate(l.Place)
			if err != nil {
				return err
			}
			c.warn(at.warning)
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
