package solid

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"swapworth/solid/internal/brick"
)

// region is a place made concrete in the grid's axes: a piece of the surface,
// or all material inside a box.
type region struct {
	faces [][3][3]float64 // triangles, mm
	whole bool            // the faces are all there is of a flat face, which grid lines follow
	box   *[2][3]float64  // low and high corner, mm; nil for a piece of surface
	name  string

	kept map[*cells]*cutRegion // what is known of it on grids; nil where nothing is kept
}

// cutRegion is a region on a grid.
type cutRegion struct {
	facets []facet // nil until asked for
	extent *extent // nil until asked for
}

// facet is a piece of surface in one cell: a flat convex polygon and its unit
// normal, out of the material.
type facet struct {
	cell   [3]int
	poly   [][3]float64
	normal [3]float64
}

// on returns what is kept of a region on a grid, or nil.
func (r *region) on(c *cells) *cutRegion {
	if r.kept == nil {
		return nil
	}
	if r.kept[c] == nil {
		r.kept[c] = &cutRegion{}
	}
	return r.kept[c]
}

// holding is what keeps the part in place on one grid: components held outright
// at nodes, and springs spread over surface, as additions to cell stiffness.
type holding struct {
	nodes map[[3]int][3]bool
	extra map[int]*brick.Element
	each  []*holding // the holds that it is made of, in the order of the supports
}

func newHolding() *holding {
	return &holding{nodes: map[[3]int][3]bool{}, extra: map[int]*brick.Element{}}
}

// add joins one support to h.
func (h *holding) add(one *holding) {
	h.each = append(h.each, one)
	for node, dirs := range one.nodes {
		h.holdNode(node, dirs)
	}
	for cell, x := range one.extra {
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

// hold adds a region's support to h. young is Young's modulus in MPa. Where a
// flat face lies in a grid plane and fills the side of a cell, the nodes there
// are held outright; elsewhere, at its rim too, springs hold the very area.
func (c *cells) hold(h *holding, s *surface, r *region, dirs [3]bool, young float64) error {
	if r.box != nil {
		return c.holdBox(h, s, r, dirs)
	}
	axis, line, flat := c.onLine(r, s.tol)
	pieces := map[[3]int][][][3]float64{}
	var order [][3]int
	c.pieces(s, r, func(cell [3]int, poly [][3]float64) {
		if pieces[cell] == nil {
			order = append(order, cell)
		}
		pieces[cell] = append(pieces[cell], slices.Clone(poly))
	})
	if len(order) == 0 {
		return fmt.Errorf("solid: no material at %s to hold; name another place", r.name)
	}
	around := c.planeAreas(s, r)
	for _, cell := range order {
		area := 0.0
		for _, poly := range pieces[cell] {
			area += polygonArea(poly)
		}
		edge := c.size(cell[0], cell[1], cell[2])
		if flat && area > 0.999*edge[(axis+1)%3]*edge[(axis+2)%3] {
			for v := range brick.Corners {
				node := [3]int{cell[0] + v>>2, cell[1] + v>>1&1, cell[2] + v&1}
				if node[axis] == line {
					h.holdNode(node, dirs)
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
			c.addSprings(h, cell, poly, dirs, factor*young)
		}
	}
	return nil
}

// planeAreas returns the area of the surface, by cell, in the planes of a region's
// faces that are flat together; nil where they are not.
func (c *cells) planeAreas(s *surface, r *region) map[[3]int]float64 {
	var planes [][4]float64 // normal and distance from the origin
	find := func(t [3][3]float64) bool {
		for _, p := range planes {
			off := 0.0
			for _, v := range t {
				off = max(off, math.Abs(p[0]*v[0]+p[1]*v[1]+p[2]*v[2]-p[3]))
			}
			if n := normalOf(t); off <= 3*s.tol && n[0]*p[0]+n[1]*p[1]+n[2]*p[2] > 0.5 {
				return true
			}
		}
		return false
	}
	for _, t := range r.faces {
		if find(t) {
			continue
		}
		if len(planes) == 2 { // a washer has two
			return nil
		}
		n := normalOf(t)
		planes = append(planes, [4]float64{n[0], n[1], n[2], n[0]*t[0][0] + n[1]*t[0][1] + n[2]*t[0][2]})
	}
	all := &region{}
	for _, f := range s.faces {
		if t := [3][3]float64{s.points[f[0]], s.points[f[1]], s.points[f[2]]}; find(t) {
			all.faces = append(all.faces, t)
		}
	}
	area := map[[3]int]float64{}
	c.pieces(s, all, func(cell [3]int, poly [][3]float64) { area[cell] += polygonArea(poly) })
	return area
}

func polygonArea(poly [][3]float64) (area float64) {
	for i := 2; i < len(poly); i++ {
		area += areaOf([3][3]float64{poly[0], poly[i-1], poly[i]})
	}
	return
}

// addSprings holds a piece of surface by springs in the given directions, of a
// stiffness (MPa) over the shortest edge of the cell.
func (c *cells) addSprings(h *holding, cell [3]int, poly [][3]float64, dirs [3]bool, stiffness float64) {
	edge := c.size(cell[0], cell[1], cell[2])
	beta := stiffness / min(edge[0], edge[1], edge[2])
	x := h.extraAt(c.cellIndex(cell[0], cell[1], cell[2]))
	c.integrate(cell, poly, func(n *[brick.Corners]float64, area float64) {
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

func (h *holding) holdNode(node [3]int, dirs [3]bool) {
	now := h.nodes[node]
	for a := range 3 {
		now[a] = now[a] || dirs[a]
	}
	h.nodes[node] = now
}

func (h *holding) extraAt(cell int) *brick.Element {
	if h.extra[cell] == nil {
		h.extra[cell] = new(brick.Element)
	}
	return h.extra[cell]
}

// sortedCells lists the cells with springs in rising order.
func sortedCells(extra map[int]*brick.Element) []int {
	return slices.Sorted(maps.Keys(extra))
}

// holdBox holds every node of the material inside the box.
func (c *cells) holdBox(h *holding, s *surface, r *region, dirs [3]bool) error {
	inside := func(node [3]int) bool {
		for a, n := range node {
			if x := c.lines[a][n]; x < r.box[0][a]-2*s.tol || x > r.box[1][a]+2*s.tol {
				return false
			}
		}
		return true
	}
	found := false
	c.eachActive(func(i, j, k, _ int) {
		for v := range brick.Corners {
			if node := [3]int{i + v>>2, j + v>>1&1, k + v&1}; inside(node) {
				found = true
				h.holdNode(node, dirs)
			}
		}
	})
	if !found {
		return fmt.Errorf("solid: no material in %s to hold; name another place", r.name)
	}
	return nil
}

// nearestNode returns the corner of a cell with material nearest to a point.
func (c *cells) nearestNode(p [3]float64) [3]int {
	var best [3]int
	near := math.Inf(1)
	c.eachActive(func(i, j, k, _ int) {
		for v := range brick.Corners {
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
	})
	return best
}

// onLine reports whether all faces of a region lie in one plane of the grid.
func (c *cells) onLine(r *region, tol float64) (axis, line int, ok bool) {
	for a := range 3 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, f := range r.faces {
			for _, p := range f {
				lo, hi = min(lo, p[a]), max(hi, p[a])
			}
		}
		if hi-lo > 2*tol {
			continue
		}
		for l, v := range c.lines[a] {
			if math.Abs(v-(lo+hi)/2) <= 3*tol {
				return a, l, true
			}
		}
	}
	return 0, 0, false
}

// pieces cuts the faces of a region along the grid planes and calls visit with
// each piece, which is good until visit returns, and the cell whose material it
// bounds.
func (c *cells) pieces(s *surface, r *region, visit func(cell [3]int, poly [][3]float64)) {
	c.facets(s, r, func(cell [3]int, poly [][3]float64, _ [3]float64) { visit(cell, poly) })
}

// facets is pieces with the unit normal of each piece, out of the material.
func (c *cells) facets(s *surface, r *region, visit func(cell [3]int, poly [][3]float64, normal [3]float64)) {
	kept := r.on(c)
	if kept == nil {
		c.cutFaces(s, r, visit)
		return
	}
	if kept.facets == nil {
		kept.facets = []facet{}
		c.cutFaces(s, r, func(cell [3]int, poly [][3]float64, normal [3]float64) {
			kept.facets = append(kept.facets, facet{cell, slices.Clone(poly), normal})
		})
	}
	for _, f := range kept.facets {
		visit(f.cell, f.poly, f.normal)
	}
}

// cutFaces is facets of a region of which nothing is kept.
func (c *cells) cutFaces(s *surface, r *region, visit func(cell [3]int, poly [][3]float64, normal [3]float64)) {
	k := &knife{grid: c.grid}
	for _, f := range r.faces {
		n := normalOf(f)
		k.slice(f[:], 0, func(poly [][3]float64) {
			var mid [3]float64
			for _, p := range poly {
				for a := range 3 {
					mid[a] += p[a] / float64(len(poly))
				}
			}
			var cell [3]int
			for a := range 3 {
				i := c.find(a, mid[a])
				h := c.lines[a][i+1] - c.lines[a][i]
				cell[a] = c.find(a, mid[a]-n[a]*max(1e-4*h, 2*s.tol))
			}
			if cell, ok := c.nearActive(cell, mid); ok {
				visit(cell, poly, n)
			}
		})
	}
}

// nearActive returns the cell itself or the nearest neighbour with material.
func (c *cells) nearActive(cell [3]int, p [3]float64) ([3]int, bool) {
	if c.of[c.cellIndex(cell[0], cell[1], cell[2])] != void {
		return cell, true
	}
	best, near := cell, math.Inf(1)
	for n := range 27 {
		var q [3]int
		d := 0.0
		ok := true
		for a := range 3 {
			q[a] = cell[a] + n/[3]int{9, 3, 1}[a]%3 - 1
			if q[a] < 0 || q[a] >= c.cells(a) {
				ok = false
				break
			}
			gap := max(c.lines[a][q[a]]-p[a], p[a]-c.lines[a][q[a]+1], 0)
			d += gap * gap
		}
		if ok && d < near && c.of[c.cellIndex(q[0], q[1], q[2])] != void {
			best, near = q, d
		}
	}
	return best, !math.IsInf(near, 1)
}

// knife cuts polygons along the planes of a grid.
type knife struct {
	*grid
	work [3][2][][3]float64 // by axis
}

// slice splits a flat polygon along the grid planes of axis a and those after it.
// A piece is good until visit returns.
func (k *knife) slice(poly [][3]float64, a int, visit func([][3]float64)) {
	if a == 3 {
		visit(poly)
		return
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range poly {
		lo, hi = min(lo, p[a]), max(hi, p[a])
	}
	lines := k.lines[a]
	tiny := 1e-9 * (lines[len(lines)-1] - lines[0])
	first, last := k.find(a, lo+tiny), k.find(a, hi-tiny)
	if first >= last {
		k.slice(poly, a+1, visit)
		return
	}
	for i := first; i <= last; i++ {
		part := poly
		if i > first {
			k.work[a][0] = halfSpace(k.work[a][0][:0], part, a, lines[i], 1)
			part = k.work[a][0]
		}
		if i < last {
			k.work[a][1] = halfSpace(k.work[a][1][:0], part, a, lines[i+1], -1)
			part = k.work[a][1]
		}
		if len(part) >= 3 {
			k.slice(part, a+1, visit)
		}
	}
}

// halfSpace appends to out the part of a convex polygon with side*(x_a - at) >= 0
// (Sutherland and Hodgman, 1974).
func halfSpace(out, poly [][3]float64, a int, at, side float64) [][3]float64 {
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		dp, dq := side*(p[a]-at), side*(q[a]-at)
		if dp >= 0 {
			out = append(out, p)
		}
		if (dp > 0 && dq < 0) || (dp < 0 && dq > 0) {
			t := dp / (dp - dq)
			var x [3]float64
			for b := range 3 {
				x[b] = p[b] + t*(q[b]-p[b])
			}
			x[a] = at
			out = append(out, x)
		}
	}
	return out
}

// sixPoints is the rule of degree four on a triangle (Dunavant, 1985), as
// barycentric coordinates and weights.
var sixPoints = func() (r [6][4]float64) {
	put := func(at int, a, w float64) {
		b := 1 - 2*a
		r[at] = [4]float64{a, a, b, w}
		r[at+1] = [4]float64{a, b, a, w}
		r[at+2] = [4]float64{b, a, a, w}
	}
	put(0, 0.445948490915965, 0.223381589678011)
	put(3, 0.091576213509771, 0.109951743655322)
	return
}()

// integrate calls add with the corner functions of a cell and the share of area
// at the quadrature points of a flat convex polygon.
func (c *cells) integrate(cell [3]int, poly [][3]float64, add func(n *[brick.Corners]float64, area float64)) {
	for i := 2; i < len(poly); i++ {
		tri := [3][3]float64{poly[0], poly[i-1], poly[i]}
		area := areaOf(tri)
		for _, q := range sixPoints {
			var p [3]float64
			for a := range 3 {
				p[a] = q[0]*tri[0][a] + q[1]*tri[1][a] + q[2]*tri[2][a]
			}
			n := brick.Shapes(c.local(cell, p))
			add(&n, q[3]*area)
		}
	}
}

// local returns the cell coordinates, in [-1, 1] inside, of a point in mm.
func (c *cells) local(cell [3]int, p [3]float64) (x [3]float64) {
	for a := range 3 {
		lo, hi := c.lines[a][cell[a]], c.lines[a][cell[a]+1]
		x[a] = 2*(p[a]-lo)/(hi-lo) - 1
	}
	return
}

// integrateBox calls add at points spread over the material inside a box.
func (c *cells) integrateBox(s *surface, box *[2][3]float64, add func(cell [3]int, n *[brick.Corners]float64, volume float64)) {
	gauss := [2]float64{0.5 - math.Sqrt(1.0/12), 0.5 + math.Sqrt(1.0/12)}
	for i, x := range c.rays.pos[0] {
		if x < box[0][0] || x > box[1][0] {
			continue
		}
		ci := i / c.sub
		wx := (c.lines[0][ci+1] - c.lines[0][ci]) / float64(c.sub)
		for j, y := range c.rays.pos[1] {
			if y < box[0][1] || y > box[1][1] {
				continue
			}
			cj := j / c.sub
			wy := (c.lines[1][cj+1] - c.lines[1][cj]) / float64(c.sub)
			for _, in := range c.rays.inside(i, j) {
				a, b := max(in[0], box[0][2]), min(in[1], box[1][2])
				for k := c.find(2, a); k < c.cells(2) && c.lines[2][k] < b; k++ {
					lo, hi := max(a, c.lines[2][k]), min(b, c.lines[2][k+1])
					cell := [3]int{ci, cj, k}
					if hi-lo <= s.tol || c.of[c.cellIndex(ci, cj, k)] == void {
						continue
					}
					for _, g := range gauss {
						n := brick.Shapes(c.local(cell, [3]float64{x, y, lo + g*(hi-lo)}))
						add(cell, &n, wx*wy*(hi-lo)/2)
					}
				}
			}
		}
	}
}

func areaOf(t [3][3]float64) float64 {
	n := crossOf(t)
	return math.Sqrt(n[0]*n[0]+n[1]*n[1]+n[2]*n[2]) / 2
}

func crossOf(t [3][3]float64) [3]float64 {
	var u, v [3]float64
	for a := range 3 {
		u[a], v[a] = t[1][a]-t[0][a], t[2][a]-t[0][a]
	}
	return [3]float64{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
}

// normalOf returns the unit normal of a triangle.
func normalOf(t [3][3]float64) [3]float64 {
	n := crossOf(t)
	l := math.Sqrt(n[0]*n[0] + n[1]*n[1] + n[2]*n[2])
	if l == 0 {
		return n
	}
	return [3]float64{n[0] / l, n[1] / l, n[2] / l}
}
