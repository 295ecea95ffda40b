package grid

import (
	"cmp"
	"math"
	"slices"
)

// Grid is a tensor-product grid of bricks: cell (i, j, k) is
// Lines[0][i..i+1] x Lines[1][j..j+1] x Lines[2][k..k+1].
type Grid struct {
	Lines [3][]float64
	class [3][]int32   // which of sizes an interval has
	Sizes [3][]float64 // the distinct interval lengths, mm
}

// Count returns the number of intervals along an axis.
func (g *Grid) Count(a int) int { return len(g.class[a]) }

// CellIndex numbers cell (i, j, k), axis 2 fastest.
func (g *Grid) CellIndex(i, j, k int) int {
	return (i*g.Count(1)+j)*g.Count(2) + k
}

// BoxCells returns the number of cells in the whole box.
func (g *Grid) BoxCells() int { return g.Count(0) * g.Count(1) * g.Count(2) }

// nodes returns the number of nodes of the box along an axis.
func (g *Grid) nodes(a int) int { return len(g.Lines[a]) }

// nodeIndex numbers node (i, j, k), axis 2 fastest.
func (g *Grid) nodeIndex(i, j, k int) int {
	return (i*g.nodes(1)+j)*g.nodes(2) + k
}

// Edges returns the lengths of the intervals along each axis, mm.
func (g *Grid) Edges() (out [3][]float64) {
	for a := range 3 {
		for _, c := range g.class[a] {
			out[a] = append(out[a], g.Sizes[a][c])
		}
	}
	return out
}

// Size returns the three edges of cell (i, j, k), mm.
func (g *Grid) Size(i, j, k int) [3]float64 {
	return [3]float64{
		g.Sizes[0][g.class[0][i]], g.Sizes[1][g.class[1][j]], g.Sizes[2][g.class[2][k]],
	}
}

// Find returns the interval of axis a that holds v, clamped to the grid. It starts
// from where v would lie among lines at equal distances.
func (g *Grid) Find(a int, v float64) int {
	lines := g.Lines[a]
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

// Plane is a set of flat faces at one coordinate of an axis, area in mm2.
type Plane struct{ At, Area float64 }

// FlatFaces collects, for each axis, the coordinates at which the surface has
// faces perpendicular to it, with the sum of their areas, in rising order.
func FlatFaces(s *Surface) [3][]Plane {
	var found [3][]Plane
	for _, f := range s.Faces {
		a, b, c := s.Points[f[0]], s.Points[f[1]], s.Points[f[2]]
		for axis := range 3 {
			lo, hi := min(a[axis], b[axis], c[axis]), max(a[axis], b[axis], c[axis])
			if hi-lo > s.Tol {
				continue
			}
			u, v := (axis+1)%3, (axis+2)%3
			area := math.Abs((b[u]-a[u])*(c[v]-a[v])-(b[v]-a[v])*(c[u]-a[u])) / 2
			found[axis] = append(found[axis], Plane{(lo + hi) / 2, area})
		}
	}
	for axis := range 3 {
		found[axis] = mergePlanes(found[axis], s.Tol)
	}
	return found
}

// mergePlanes sorts planes and joins those closer than tol.
func mergePlanes(p []Plane, tol float64) []Plane {
	slices.SortFunc(p, func(a, b Plane) int { return cmp.Compare(a.At, b.At) })
	var out []Plane
	for _, q := range p {
		if n := len(out); n > 0 && q.At-out[n-1].At <= 2*tol {
			out[n-1].Area += q.Area
			continue
		}
		out = append(out, q)
	}
	return out
}

// SetAxis divides each interval between the fixed lines into counts equal cells.
func (g *Grid) SetAxis(a int, fixed []float64, counts []int) {
	g.Lines[a] = []float64{fixed[0]}
	g.class[a] = nil
	g.Sizes[a] = nil
	for i, n := range counts {
		lo, hi := fixed[i], fixed[i+1]
		h := (hi - lo) / float64(n)
		class := slices.IndexFunc(g.Sizes[a], func(v float64) bool {
			return math.Abs(v-h) <= 1e-9*h
		})
		if class < 0 {
			class = len(g.Sizes[a])
			g.Sizes[a] = append(g.Sizes[a], h)
		}
		for c := 1; c <= n; c++ {
			v := hi
			if c < n {
				v = lo + (hi-lo)*float64(c)/float64(n)
			}
			g.Lines[a] = append(g.Lines[a], v)
			g.class[a] = append(g.class[a], int32(class))
		}
	}
}

// Halved returns the grid with every interval cut in two.
func (g *Grid) Halved() *Grid {
	r := &Grid{}
	for a := range 3 {
		r.Lines[a] = []float64{g.Lines[a][0]}
		for _, s := range g.Sizes[a] {
			r.Sizes[a] = append(r.Sizes[a], s/2)
		}
		for i, c := range g.class[a] {
			lo, hi := g.Lines[a][i], g.Lines[a][i+1]
			r.Lines[a] = append(r.Lines[a], (lo+hi)/2, hi)
			r.class[a] = append(r.class[a], c, c)
		}
	}
	return r
}
