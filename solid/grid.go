package solid

import (
	"cmp"
	"math"
	"slices"
)

// grid is a tensor-product grid of bricks: cell (i, j, k) is
// lines[0][i..i+1] x lines[1][j..j+1] x lines[2][k..k+1], in mm.
type grid struct {
	lines [3][]float64
	class [3][]int32   // which of sizes an interval has
	sizes [3][]float64 // the distinct interval lengths, mm
}

// cells returns the number of intervals along an axis.
func (g *grid) cells(a int) int { return len(g.class[a]) }

// cellIndex numbers cell (i, j, k), axis 2 fastest.
func (g *grid) cellIndex(i, j, k int) int {
	return (i*g.cells(1)+j)*g.cells(2) + k
}

// boxCells returns the number of cells in the whole box.
func (g *grid) boxCells() int { return g.cells(0) * g.cells(1) * g.cells(2) }

// nodes returns the number of nodes of the box along an axis.
func (g *grid) nodes(a int) int { return len(g.lines[a]) }

// nodeIndex numbers node (i, j, k), axis 2 fastest.
func (g *grid) nodeIndex(i, j, k int) int {
	return (i*g.nodes(1)+j)*g.nodes(2) + k
}

// edges returns the lengths of the intervals along each axis, mm.
func (g *grid) edges() (out [3][]float64) {
	for a := range 3 {
		for _, c := range g.class[a] {
			out[a] = append(out[a], g.sizes[a][c])
		}
	}
	return out
}

// size returns the three edges of cell (i, j, k), mm.
func (g *grid) size(i, j, k int) [3]float64 {
	return [3]float64{
		g.sizes[0][g.class[0][i]], g.sizes[1][g.class[1][j]], g.sizes[2][g.class[2][k]],
	}
}

// find returns the interval of axis a that holds v, clamped to the grid. It starts
// from where v would lie among lines at equal distances.
func (g *grid) find(a int, v float64) int {
	lines := g.lines[a]
	last := len(lines) - 2
	i := min(max(int((v-lines[0])/(lines[last+1]-lines[0])*float64(last+1)), 0), last)
	for i > 0 && v < lines[i] {
		i--
	}
	for i < last && v >= lines[i+1] {
		i++
	}
	return i
}

// plane is a set of flat faces at one coordinate of an axis, area in mm2.
type plane struct{ at, area float64 }

// flatFaces collects, for each axis, the coordinates at which the surface has
// faces perpendicular to it, with the sum of their areas, in rising order.
func flatFaces(s *surface) [3][]plane {
	var found [3][]plane
	for _, f := range s.faces {
		a, b, c := s.points[f[0]], s.points[f[1]], s.points[f[2]]
		for axis := range 3 {
			lo, hi := min(a[axis], b[axis], c[axis]), max(a[axis], b[axis], c[axis])
			if hi-lo > s.tol {
				continue
			}
			u, v := (axis+1)%3, (axis+2)%3
			area := math.Abs((b[u]-a[u])*(c[v]-a[v])-(b[v]-a[v])*(c[u]-a[u])) / 2
			found[axis] = append(found[axis], plane{(lo + hi) / 2, area})
		}
	}
	for axis := range 3 {
		found[axis] = mergePlanes(found[axis], s.tol)
	}
	return found
}

// mergePlanes sorts planes and joins those closer than tol.
func mergePlanes(p []plane, tol float64) []plane {
	slices.SortFunc(p, func(a, b plane) int { return cmp.Compare(a.at, b.at) })
	var out []plane
	for _, q := range p {
		if n := len(out); n > 0 && q.at-out[n-1].at <= 2*tol {
			out[n-1].area += q.area
			continue
		}
		out = append(out, q)
	}
	return out
}

// bridged is the width of a slot in cells below which no cell need lie wholly in
// it: between lines one cell apart one and three quarters fit for certain, for a
// line may be moved by a seventh of a cell at either wall.
const bridged = 1.75

// fitted lays a grid with cells of about a size in mm, longer where that is wished,
// into the box of the surface.
// Lines go through the ends of the box, through the wanted coordinates (the
// edges of places), and through flat faces, the largest first, unless a line
// is nearer than a seventh of a cell, a twelfth for a large face. Both walls of a
// slot that cells could bridge have their lines however near these are.
func fitted(s *surface, flats [3][]plane, wanted wishes, size float64) *grid {
	g := &grid{}
	for a := range 3 {
		h := size * wanted.stretch[a]
		fixed := []float64{s.low[a], s.high[a]}
		add := func(v, gap float64) {
			if v <= s.low[a] || v >= s.high[a] {
				return
			}
			for _, w := range fixed {
				if math.Abs(v-w) < gap {
					return
				}
			}
			fixed = append(fixed, v)
		}
		byArea := slices.Clone(flats[a])
		slices.SortStableFunc(byArea, func(p, q plane) int { return cmp.Compare(q.area, p.area) })
		for _, v := range wanted.slots[a] {
			if v.hi-v.lo < bridged*h {
				add(v.lo, narrowest*s.tol/2)
				add(v.hi, narrowest*s.tol/2)
			}
		}
		for _, v := range wanted.firm[a] {
			add(v, 10*s.tol)
		}
		for _, v := range wanted.soft[a] {
			add(v, h/12)
		}
		for _, p := range byArea {
			switch {
			case p.area >= 2*h*h:
				add(p.at, h/12)
			case p.area >= 0.25*h*h:
				add(p.at, h/7)
			}
		}
		slices.Sort(fixed)
		var counts []int
		for i := 1; i < len(fixed); i++ {
			counts = append(counts, max(1, int(math.Round((fixed[i]-fixed[i-1])/h))))
		}
		g.setAxis(a, fixed, counts)
	}
	return g
}

// setAxis divides each interval between the fixed lines into counts equal cells.
func (g *grid) setAxis(a int, fixed []float64, counts []int) {
	g.lines[a] = []float64{fixed[0]}
	g.class[a] = nil
	g.sizes[a] = nil
	for i, n := range counts {
		lo, hi := fixed[i], fixed[i+1]
		h := (hi - lo) / float64(n)
		class := slices.IndexFunc(g.sizes[a], func(v float64) bool {
			return math.Abs(v-h) <= 1e-9*h
		})
		if class < 0 {
			class = len(g.sizes[a])
			g.sizes[a] = append(g.sizes[a], h)
		}
		for c := 1; c <= n; c++ {
			v := hi
			if c < n {
				v = lo + (hi-lo)*float64(c)/float64(n)
			}
			g.lines[a] = append(g.lines[a], v)
			g.class[a] = append(g.class[a], int32(class))
		}
	}
}

// halved returns the grid with every interval cut in two.
func (g *grid) halved() *grid {
	r := &grid{}
	for a := range 3 {
		r.lines[a] = []float64{g.lines[a][0]}
		for _, s := range g.sizes[a] {
			r.sizes[a] = append(r.sizes[a], s/2)
		}
		for i, c := range g.class[a] {
			lo, hi := g.lines[a][i], g.lines[a][i+1]
			r.lines[a] = append(r.lines[a], (lo+hi)/2, hi)
			r.class[a] = append(r.class[a], c, c)
		}
	}
	return r
}
