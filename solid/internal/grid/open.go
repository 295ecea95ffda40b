package grid

import "math"

// A gap that lies along grid planes has lines at both its walls. One at a slant or
// between curved walls has none, and where it is narrower than the cells it would
// be bridged: cells that hold material of both sides tie them together. The cells
// through which the middle of such a gap runs are emptied, so that no cell and no
// node belongs to both sides. The part then comes out too soft, the less the
// smaller the cells are.

const (
	openRays  = 3 // along the edge of a cell
	openBelow = 2 // cells across; a gap as wide as that leaves a layer of cells empty by itself
)

// middle is where a ray crosses the middle of a gap, and the width of that, mm.
type middle struct{ at, width float64 }

// Opened returns the cells without those in the middle of gaps that they are too
// wide for, and the width of the narrowest of these, 0 where there are none.
func (c *Cells) Opened(s *Surface, loose []Crevice) (*Cells, float64) {
	if len(loose) == 0 {
		return c, 0
	}
	narrowest := math.Inf(1)
	out := *c
	out.Of = append([]int32(nil), c.Of...)
	for axis := range 3 {
		b, d := (axis+1)%3, (axis+2)%3
		pos := [2][]float64{rayPositions(c.Lines[b], openRays), rayPositions(c.Lines[d], openRays)}
		middles := map[[2]int][]middle{}
		for _, g := range gapsAlong(s, axis, pos) {
			var at [3]float64
			at[axis], at[b], at[d] = (g.lo+g.hi)/2, pos[0][g.ray[0]], pos[1][g.ray[1]]
			var cell [3]int
			for a := range 3 {
				cell[a] = c.Find(a, at[a])
			}
			h := c.Size(cell[0], cell[1], cell[2])
			if g.flat || g.width > openBelow*max(h[0], h[1], h[2]) || !inCrevice(loose, at, h) {
				continue
			}
			middles[g.ray] = append(middles[g.ray], middle{at[axis], g.width})
		}
		for ray, at := range middles {
			for _, m := range at {
				for _, next := range [3][2]int{ray, {ray[0] + 1, ray[1]}, {ray[0], ray[1] + 1}} {
					for _, n := range middles[next] {
						if out.emptyBetween(axis, ray, next, m.at, n.at) {
							narrowest = min(narrowest, m.width)
						}
					}
				}
			}
		}
	}
	if math.IsInf(narrowest, 1) {
		return c, 0
	}
	return &out, narrowest
}

// inCrevice reports whether a point lies within a cell of a narrow gap of the part.
func inCrevice(loose []Crevice, at, h [3]float64) bool {
	for _, g := range loose {
		in := true
		for a := range 3 {
			in = in && at[a] > g.Low[a]-h[a] && at[a] < g.High[a]+h[a]
		}
		if in {
			return true
		}
	}
	return false
}

// emptyBetween empties the cells between the middles of a gap on two rays beside
// each other along an axis, in the columns of both. Middles that are too far apart
// are of two gaps. It reports whether a cell held material.
func (c *Cells) emptyBetween(axis int, ray, next [2]int, m, n float64) (some bool) {
	lo, hi := c.Find(axis, min(m, n)), c.Find(axis, max(m, n))
	if hi-lo > 2 {
		return false
	}
	for _, r := range [2][2]int{ray, next} {
		var cell [3]int
		cell[(axis+1)%3], cell[(axis+2)%3] = r[0]/openRays, r[1]/openRays
		for k := lo; k <= hi; k++ {
			cell[axis] = k
			at := c.CellIndex(cell[0], cell[1], cell[2])
			if c.Of[at] != Void {
				c.Volume -= c.Kinds[c.Of[at]].Volume()
				c.Active--
				c.Of[at] = Void
				some = true
			}
		}
	}
	return some
}
