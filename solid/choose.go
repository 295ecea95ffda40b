package solid

import (
	"math"
	"slices"

	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// base chooses the coarsest grid such that the finest has about as many
// unknowns as wanted.
func (c *check) base(wanted grid.Wishes) *grid.Grid {
	finer := 1 << (c.opt.Grids - 1)
	fill := c.body.volume
	for a := range 3 {
		fill /= c.s.High[a] - c.s.Low[a]
	}
	flats := c.pose.flats
	var g *grid.Grid
	for range 3 { // thin walls have more nodes than their volume says: correct by count
		g = c.gridOf(flats, wanted, finer, float64(c.opt.Unknowns)/fill)
		count := grid.Fill(c.s, g, 2).RefinedUnknowns(finer)
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
func (c *check) gridOf(flats [3][]grid.Plane, lines grid.Wishes, finer int, unknowns float64) *grid.Grid {
	lo, hi := 1e-3*(c.s.High[0]-c.s.Low[0]), c.s.High[0]-c.s.Low[0]
	for range 40 {
		mid := math.Sqrt(lo * hi)
		g := grid.Fit(c.s, flats, lines, mid)
		n := 3.0
		for a := range 3 {
			n *= float64(finer*g.Count(a) + 1)
		}
		if n > unknowns {
			lo = mid
		} else {
			hi = mid
		}
	}
	return grid.Fit(c.s, flats, lines, hi)
}

// wantedLines collects the wishes of every held or loaded place, in rising order
// and without the ends of the box, where there is a line anyway.
func (c *check) wantedLines() (w grid.Wishes) {
	w.Slots, w.Stretch = c.pose.gaps.Slots, c.pose.stretch
	defer func() {
		for a := range 3 {
			w.Firm[a], w.Soft[a] = c.inner(a, w.Firm[a]), c.inner(a, w.Soft[a])
		}
	}()
	for _, r := range c.regions() {
		if r.Box != nil {
			for a := range 3 {
				w.Firm[a] = append(w.Firm[a], r.Box[0][a], r.Box[1][a])
			}
			continue
		}
		if !r.Whole {
			continue
		}
		for a := range 3 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, t := range r.Faces {
				for _, p := range t {
					lo, hi = min(lo, p[a]), max(hi, p[a])
				}
			}
			if hi-lo <= 2*c.s.Tol {
				w.Firm[a] = append(w.Firm[a], (lo+hi)/2)
			} else {
				w.Soft[a] = append(w.Soft[a], lo, hi)
			}
		}
	}
	return
}

// inner sorts coordinates of axis a and leaves out doubles and those outside.
func (c *check) inner(a int, at []float64) []float64 {
	slices.Sort(at)
	at = slices.DeleteFunc(at, func(v float64) bool { return v <= c.s.Low[a] || v >= c.s.High[a] })
	return slices.Compact(at)
}

func (c *check) regions() (all []*region.Region) {
	for i, r := range c.hold {
		if c.points[i] == nil {
			all = append(all, r)
		}
	}
	for _, loads := range c.loads {
		for _, l := range loads {
			all = append(all, l.at)
		}
	}
	return
}

// raysPerCell returns the rays along a cell's edge: more where cells are few.
func raysPerCell(g *grid.Grid) int {
	columns := g.Count(0) * g.Count(1)
	switch {
	case columns < 4000:
		return 8
	case columns < 40000:
		return 6
	}
	return 4
}
