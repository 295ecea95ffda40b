package solid

import (
	"math"
	"slices"
)

// base chooses the coarsest grid such that the finest has about as many
// unknowns as wanted.
func (c *check) base(wanted wishes) *grid {
	finer := 1 << (c.opt.Grids - 1)
	fill := c.body.volume
	for a := range 3 {
		fill /= c.s.high[a] - c.s.low[a]
	}
	flats := c.pose.flats
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
// line is close. The slots are those of the part.
type wishes struct {
	firm, soft [3][]float64
	slots      [3][]slot
	stretch    [3]float64 // how much longer cells may be along an axis
}

// wantedLines collects the wishes of every held or loaded place, in rising order
// and without the ends of the box, where there is a line anyway.
func (c *check) wantedLines() (w wishes) {
	w.slots, w.stretch = c.pose.gaps.slots, c.pose.stretch
	defer func() {
		for a := range 3 {
			w.firm[a], w.soft[a] = c.inner(a, w.firm[a]), c.inner(a, w.soft[a])
		}
	}()
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

// inner sorts coordinates of axis a and leaves out doubles and those outside.
func (c *check) inner(a int, at []float64) []float64 {
	slices.Sort(at)
	at = slices.DeleteFunc(at, func(v float64) bool { return v <= c.s.low[a] || v >= c.s.high[a] })
	return slices.Compact(at)
}

func (c *check) regions() (all []*region) {
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
