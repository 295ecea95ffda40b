package solid

import "math"

// leastFill is the filled fraction below which a cell counts as empty. Its
// material is lost: a fiftieth of a percent of the cells at the surface.
const leastFill = 2e-4

// void marks an empty cell.
const void = int32(-1)

// kind is what makes the stiffness of one cell differ from another's: its
// edges in mm and the material in it.
type kind struct {
	edge [3]float64
	m    moments
}

// cells says what is in each cell of a grid. Cells that are alike share a kind.
type cells struct {
	*grid
	of     []int32 // kind of each cell, or void
	kinds  []kind
	active int     // cells that are not void
	cut    int     // cells that the surface cuts
	volume float64 // of the material, mm3
	lost   float64 // of bodies left out because nothing holds them, mm3
	rays   *rays
	sub    int // rays along the edge of a cell
}

// fillCells measures the material in every cell with sub x sub rays a cell.
// Along a ray the integrals are exact; across, the material is taken to be
// constant within a ray's own strip of the cell.
func fillCells(s *surface, g *grid, sub int) *cells {
	c := &cells{grid: g, of: make([]int32, g.boxCells()), sub: sub}
	c.rays = castRays(s, [2][]float64{rayPositions(g.lines[0], sub), rayPositions(g.lines[1], sub)})
	type found struct {
		cell int
		m    moments
	}
	cutIn := make([][]found, g.cells(0))
	parallel(g.cells(0), func(i int) {
		depth := make([]float64, g.cells(2))
		for j := range g.cells(1) {
			c.depths(i, j, s.tol, depth)
			for k, d := range depth {
				n := g.cellIndex(i, j, k)
				switch {
				case d > 1-1e-9:
					c.of[n] = 0
				case d < leastFill:
					c.of[n] = void
				default:
					cutIn[i] = append(cutIn[i], found{n, c.measure(i, j, k, s.tol)})
				}
			}
		}
	})
	fullKind := map[[3]int32]int32{}
	for i := range g.cells(0) {
		for j := range g.cells(1) {
			for k := range g.cells(2) {
				n := g.cellIndex(i, j, k)
				if c.of[n] == void {
					continue
				}
				key := [3]int32{g.class[0][i], g.class[1][j], g.class[2][k]}
				id, ok := fullKind[key]
				if !ok {
					id = int32(len(c.kinds))
					fullKind[key] = id
					c.kinds = append(c.kinds, kind{g.size(i, j, k), fullMoments})
				}
				c.of[n] = id
				c.active++
				edge := c.kinds[id].edge
				c.volume += edge[0] * edge[1] * edge[2]
			}
		}
	}
	cutKind := map[kind]int32{}
	for i, list := range cutIn {
		for _, f := range list {
			j, k := f.cell/g.cells(2)%g.cells(1), f.cell%g.cells(2)
			kd := kind{g.size(i, j, k), f.m}
			id, ok := cutKind[kd]
			if !ok {
				id = int32(len(c.kinds))
				cutKind[kd] = id
				c.kinds = append(c.kinds, kd)
			}
			c.volume += (f.m[0] - 1) * kd.edge[0] * kd.edge[1] * kd.edge[2]
			c.of[f.cell] = id
			c.cut++
		}
	}
	return c
}

// depths sets depth[k] to the filled fraction of cell (i, j, k).
func (c *cells) depths(i, j int, tol float64, depth []float64) {
	clear(depth)
	share := 1 / float64(c.sub*c.sub)
	for p := range c.sub {
		for q := range c.sub {
			for _, in := range c.rays.inside(i*c.sub+p, j*c.sub+q) {
				for k := c.find(2, in[0]); k < c.cells(2) && c.lines[2][k] < in[1]; k++ {
					lo, hi := c.lines[2][k], c.lines[2][k+1]
					if a, b, ok := clipped(in, lo, hi, tol); ok {
						depth[k] += (b - a) / (hi - lo) * share
					}
				}
			}
		}
	}
}

// clipped cuts an interval to [lo, hi]; ends nearer than tol snap to it.
func clipped(in [2]float64, lo, hi, tol float64) (a, b float64, ok bool) {
	a, b = max(in[0], lo), min(in[1], hi)
	if a-lo < tol {
		a = lo
	}
	if hi-b < tol {
		b = hi
	}
	return a, b, b-a > tol
}

// measure returns the moments of cell (i, j, k).
func (c *cells) measure(i, j, k int, tol float64) (m moments) {
	lo, hi := c.lines[2][k], c.lines[2][k+1]
	for p := range c.sub {
		x := stripMoments(2*float64(p)/float64(c.sub)-1, 2*float64(p+1)/float64(c.sub)-1)
		for q := range c.sub {
			y := stripMoments(2*float64(q)/float64(c.sub)-1, 2*float64(q+1)/float64(c.sub)-1)
			var z [3]float64
			for _, in := range c.rays.inside(i*c.sub+p, j*c.sub+q) {
				if a, b, ok := clipped(in, lo, hi, tol); ok {
					t := stripMoments(2*(a-lo)/(hi-lo)-1, 2*(b-lo)/(hi-lo)-1)
					z[0], z[1], z[2] = z[0]+t[0], z[1]+t[1], z[2]+t[2]
				}
			}
			if z[0] == 0 {
				continue
			}
			for a := range 3 {
				for b := range 3 {
					for d := range 3 {
						m[9*a+3*b+d] += x[a] * y[b] * z[d]
					}
				}
			}
		}
	}
	for n := range m {
		m[n] = math.Round(m[n]*1e12) / 1e12 // so that like cells compare equal
	}
	return m
}

// stripMoments returns half the integrals of 1, t, t^2 from a to b.
func stripMoments(a, b float64) [3]float64 {
	return [3]float64{(b - a) / 2, (b*b - a*a) / 4, (b*b*b - a*a*a) / 6}
}
