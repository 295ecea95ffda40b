package solid

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"swapworth/materials"

	"gonum.org/v1/gonum/spatial/r3"
)

// check is the state of one run.
type check struct {
	body     *Body
	e        materials.Elastic
	p        Problem
	opt      Options
	grids    int // how many, with the finer ones
	pose     *pose
	f        frame    // of the pose
	s        *surface // of the pose
	lay      *layout
	heldAt   []spot   // the places of the supports
	loadedAt [][]spot // the places of the loads, by case
	hold     []*region
	dirs     [][3]bool
	points   []*[3]float64
	loads    [][]*region
	forces   [][][3]float64
	res      Result
	hertz    [][]float64 // natural frequencies by grid
}

// newCheck validates the input and finds the places.
func (b *Body) newCheck(e materials.Elastic, p Problem, opt Options) (*check, error) {
	if err := validate(e, p); err != nil {
		return nil, err
	}
	if opt.Unknowns == 0 {
		opt.Unknowns = usualUnknowns
	}
	if opt.Grids == 0 {
		opt.Grids = usualGrids
	}
	c := &check{body: b, e: e, p: p, opt: opt, grids: opt.Grids + opt.Finer}
	c.res = Result{YoungsModulus: e.YoungsModulus, Poisson: e.Poisson, Support: p.Support, Warnings: []string{}}
	if err := c.locate(); err != nil {
		return nil, err
	}
	if !c.lieIn(b.pose(false)) {
		c.lieIn(b.pose(true))
	}
	return c, nil
}

// locate finds the places of all supports and loads on the part.
func (c *check) locate() error {
	where := c.body.where
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

// lieIn brings supports and loads into the frame of a pose. It reports false where
// a support or a place cannot be told along its axes.
func (c *check) lieIn(p *pose) bool {
	f := p.f
	c.pose, c.f, c.s = p, f, p.s
	c.hold, c.dirs, c.points, c.loads, c.forces = nil, nil, nil, nil, nil
	all := true
	place := func(s spot, p Place) *region {
		r, ok := f.region(s, c.s, c.body.where.box, p.String())
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

func validate(e materials.Elastic, p Problem) error {
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
