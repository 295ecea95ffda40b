package solid

import (
	"fmt"
	"math"

	"swapworth/materials"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// check is the state of one run.
type check struct {
	body     *Body
	e        materials.Elastic
	p        Problem
	opt      Options
	grids    int // how many, with the finer ones
	pose     *pose
	f        frame         // of the pose
	s        *grid.Surface // of the pose
	lay      *layout
	heldAt   []spot   // the places of the supports
	loadedAt [][]spot // the places of the loads, by case
	hold     []*region.Region
	dirs     [][3]bool
	points   []*[3]float64
	loads    [][]caseLoad // by case
	res      Result
	hertz    [][]float64 // natural frequencies by grid

	finest   *keptSystem // of the finest grid so far, with the answers of the cases
	answers  []answer
	closeUps [][]Peak  // by case
	unseen   []float64 // by case, MPa: what a place that was not looked at could be
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
	for _, p := range b.frames() {
		if c.lieIn(p) {
			break
		}
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
		spots, err := c.locateLoads(where, cs)
		if err != nil {
			return err
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
	c.hold, c.dirs, c.points, c.loads = nil, nil, nil, nil
	all := true
	place := func(s spot, pl Place) *region.Region {
		r, ok := p.region(s, pl, c.body.where.box)
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
		c.loads = append(c.loads, f.layLoads(cs, c.loadedAt[i], place))
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
	return p.validate(e)
}
