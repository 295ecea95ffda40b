package region

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
)

// Holding is what keeps the part in place on one grid: components held outright
// at nodes, and springs spread over surface, as additions to cell stiffness.
type Holding struct {
	Nodes map[[3]int][3]bool     // which directions of node (i, j, k) are held
	Extra map[int]*brick.Element // by cell, N/mm
	Each  []*Holding             // the holds that it is made of, in the order of the supports
}

// NewHolding holds nothing.
func NewHolding() *Holding {
	return &Holding{Nodes: map[[3]int][3]bool{}, Extra: map[int]*brick.Element{}}
}

// Add joins one support to h.
func (h *Holding) Add(one *Holding) {
	h.Each = append(h.Each, one)
	for node, dirs := range one.Nodes {
		h.HoldNode(node, dirs)
	}
	for cell, x := range one.Extra {
		sum := h.extraAt(cell)
		for i, v := range x {
			sum[i] += v
		}
	}
}

// Springs hold what cannot be held at nodes. Their stiffness an area is a factor
// times Young's modulus over the shortest edge of the cell.
const (
	// stiffSpring is the factor where all the surface in a cell is held: it gives
	// way like a hundredth of the cell.
	stiffSpring = 100

	// rimSpring is the factor where the rim of a hold crosses flat surface in a
	// cell. Held outright, the hold would reach half a cell further than it does,
	// and the stiffness err in proportion to the cells. With this factor the rim
	// comes to lie where it is, within a sixth of a cell in the mean over all places
	// of the rim in the cell, for pull, shear and push, in cells from half as high as
	// long to twice (TestTheRimOfAHoldLiesWhereItIs).
	rimSpring = 3

	// curvedSpring is the factor on a curved wall. A cell's displacement that is
	// nothing all over a curved piece of surface is nothing in the whole cell, which
	// puts the wall too far out; giving way like a fifteenth of a cell puts it back
	// within a twentieth of a cell, from one and a half cells a radius up
	// (TestAHeldBoreIsAsWideAsItIs).
	curvedSpring = 15
)

// Hold adds the region's support on cells to h. young is Young's modulus in MPa. Where a
// flat face lies in a grid plane and fills the side of a cell, the nodes there
// are held outright; elsewhere, at its rim too, springs hold the very area.
func (r *Region) Hold(h *Holding, c *grid.Cells, s *grid.Surface, dirs [3]bool, young float64) error {
	if r.Box != nil {
		return r.holdBox(h, c, s, dirs)
	}
	axis, line, flat := r.onLine(c, s.Tol)
	pieces := map[[3]int][][][3]float64{}
	var order [][3]int
	r.Pieces(c, s, func(cell [3]int, poly [][3]float64) {
		if pieces[cell] == nil {
			order = append(order, cell)
		}
		pieces[cell] = append(pieces[cell], slices.Clone(poly))
	})
	if len(order) == 0 {
		return fmt.Errorf("solid: no material at %s to hold; name another place", r.Name)
	}
	around := r.planeAreas(c, s)
	for _, cell := range order {
		area := 0.0
		for _, poly := range pieces[cell] {
			area += grid.PolygonArea(poly)
		}
		edge := c.Size(cell[0], cell[1], cell[2])
		if flat && area > 0.999*edge[(axis+1)%3]*edge[(axis+2)%3] {
			for v := range brick.Corners {
				node := [3]int{cell[0] + v>>2, cell[1] + v>>1&1, cell[2] + v&1}
				if node[axis] == line {
					h.HoldNode(node, dirs)
				}
			}
			continue
		}
		factor := float64(stiffSpring)
		switch {
		case around == nil:
			factor = curvedSpring
		case area < 0.999*around[cell]:
			factor = rimSpring
		}
		for _, poly := range pieces[cell] {
			h.addSprings(c, cell, poly, dirs, factor*young)
		}
	}
	return nil
}

// planeAreas returns the area of the surface, by cell, in the planes of a region's
// faces that are flat together; nil where they are not.
func (r *Region) planeAreas(c *grid.Cells, s *grid.Surface) map[[3]int]float64 {
	var planes [][4]float64 // normal and distance from the origin
	find := func(t [3][3]float64) bool {
		for _, p := range planes {
			off := 0.0
			for _, v := range t {
				off = max(off, math.Abs(p[0]*v[0]+p[1]*v[1]+p[2]*v[2]-p[3]))
			}
			if n := grid.NormalOf(t); off <= 3*s.Tol && n[0]*p[0]+n[1]*p[1]+n[2]*p[2] > 0.5 {
				return true
			}
		}
		return false
	}
	for _, t := range r.Faces {
		if find(t) {
			continue
		}
		if len(planes) == 2 { // a washer has two
			return nil
		}
		n := grid.NormalOf(t)
		planes = append(planes, [4]float64{n[0], n[1], n[2], n[0]*t[0][0] + n[1]*t[0][1] + n[2]*t[0][2]})
	}
	all := &Region{}
	for _, f := range s.Faces {
		if t := [3][3]float64{s.Points[f[0]], s.Points[f[1]], s.Points[f[2]]}; find(t) {
			all.Faces = append(all.Faces, t)
		}
	}
	area := map[[3]int]float64{}
	all.Pieces(c, s, func(cell [3]int, poly [][3]float64) { area[cell] += grid.PolygonArea(poly) })
	return area
}

// addSprings holds a piece of surface by springs in the given directions, of a
// stiffness (MPa) over the shortest edge of the cell.
func (h *Holding) addSprings(c *grid.Cells, cell [3]int, poly [][3]float64, dirs [3]bool, stiffness float64) {
	edge := c.Size(cell[0], cell[1], cell[2])
	beta := stiffness / min(edge[0], edge[1], edge[2])
	x := h.extraAt(c.CellIndex(cell[0], cell[1], cell[2]))
	c.Integrate(cell, poly, func(n *[brick.Corners]float64, area float64) {
		for p := range brick.Corners {
			for q := range brick.Corners {
				v := beta * area * n[p] * n[q]
				for a := range 3 {
					if dirs[a] {
						x[(3*p+a)*brick.DOF+3*q+a] += v
					}
				}
			}
		}
	})
}

// HoldNode holds a node in the directions that are set, beside those held already.
func (h *Holding) HoldNode(node [3]int, dirs [3]bool) {
	now := h.Nodes[node]
	for a := range 3 {
		now[a] = now[a] || dirs[a]
	}
	h.Nodes[node] = now
}

func (h *Holding) extraAt(cell int) *brick.Element {
	if h.Extra[cell] == nil {
		h.Extra[cell] = new(brick.Element)
	}
	return h.Extra[cell]
}

// SortedCells lists the cells with springs in rising order.
func SortedCells(extra map[int]*brick.Element) []int {
	return slices.Sorted(maps.Keys(extra))
}

// holdBox holds every node of the material inside the box.
func (r *Region) holdBox(h *Holding, c *grid.Cells, s *grid.Surface, dirs [3]bool) error {
	inside := func(node [3]int) bool {
		for a, n := range node {
			if x := c.Lines[a][n]; x < r.Box[0][a]-2*s.Tol || x > r.Box[1][a]+2*s.Tol {
				return false
			}
		}
		return true
	}
	found := false
	c.EachActive(func(i, j, k, _ int) {
		for v := range brick.Corners {
			if node := [3]int{i + v>>2, j + v>>1&1, k + v&1}; inside(node) {
				found = true
				h.HoldNode(node, dirs)
			}
		}
	})
	if !found {
		return fmt.Errorf("solid: no material in %s to hold; name another place", r.Name)
	}
	return nil
}

// onLine reports whether all faces of a region lie in one plane of the grid.
func (r *Region) onLine(c *grid.Cells, tol float64) (axis, line int, ok bool) {
	for a := range 3 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, f := range r.Faces {
			for _, p := range f {
				lo, hi = min(lo, p[a]), max(hi, p[a])
			}
		}
		if hi-lo > 2*tol {
			continue
		}
		for l, v := range c.Lines[a] {
			if math.Abs(v-(lo+hi)/2) <= 3*tol {
				return a, l, true
			}
		}
	}
	return 0, 0, false
}

// HoldCut holds the nodes of the cells at cut sides in every direction.
func (h *Holding) HoldCut(c *grid.Cells, cut [2][3]bool) {
	all := [3]bool{true, true, true}
	c.EachActive(func(i, j, k, _ int) {
		at := [3]int{i, j, k}
		for a := range 3 {
			for side := range 2 {
				if !cut[side][a] || at[a] != side*(c.Count(a)-1) {
					continue
				}
				for v := range brick.Corners {
					d := [3]int{v >> 2, v >> 1 & 1, v & 1}
					if d[a] == side {
						h.HoldNode([3]int{i + d[0], j + d[1], k + d[2]}, all)
					}
				}
			}
		}
	})
}

// Anchor returns the cells without those of bodies that nothing holds.
func (h *Holding) Anchor(c *grid.Cells) *grid.Cells {
	return c.Anchored(func(i, j, k, cell int) bool {
		if h.Extra[cell] != nil {
			return true
		}
		for v := range brick.Corners {
			if _, ok := h.Nodes[[3]int{i + v>>2, j + v>>1&1, k + v&1}]; ok {
				return true
			}
		}
		return false
	})
}
