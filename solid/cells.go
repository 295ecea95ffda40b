package solid

import (
	"math"
	"slices"

	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
)

// leastFill is the filled fraction below which a cell counts as empty. Its
// material is lost: a fiftieth of a percent of the cells at the surface.
const leastFill = 2e-4

// void marks an empty cell.
const void = int32(-1)

// kind is what makes the stiffness of one cell differ from another's: its
// edges in mm and the material in it.
type kind struct {
	edge [3]float64
	m    brick.Moments
}

// volume returns the volume of the material, mm3.
func (k *kind) volume() float64 { return k.m[0] * k.edge[0] * k.edge[1] * k.edge[2] }

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
	cut := make([][]cutCell, g.cells(0))
	parallel.For(g.cells(0), func(i int) {
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
					cut[i] = append(cut[i], cutCell{n, kind{g.size(i, j, k), c.measure(i, j, k, s.tol)}})
				}
			}
		}
	})
	c.numberFull()
	c.numberCut(slices.Concat(cut...))
	return c
}

// cutCell is a cell that the surface cuts.
type cutCell struct {
	cell int
	kind
}

// numberFull gives every cell that is not void the kind of a full cell of its
// size.
func (c *cells) numberFull() {
	number := map[[3]int32]int32{}
	c.eachActive(func(i, j, k, cell int) {
		key := [3]int32{c.class[0][i], c.class[1][j], c.class[2][k]}
		id, ok := number[key]
		if !ok {
			id = int32(len(c.kinds))
			number[key] = id
			c.kinds = append(c.kinds, kind{c.size(i, j, k), brick.Full})
		}
		c.of[cell] = id
		c.active++
		c.volume += c.kinds[id].volume()
	})
}

// numberCut gives cut cells their own kinds.
func (c *cells) numberCut(list []cutCell) {
	number := map[kind]int32{}
	for _, f := range list {
		id, ok := number[f.kind]
		if !ok {
			id = int32(len(c.kinds))
			number[f.kind] = id
			c.kinds = append(c.kinds, f.kind)
		}
		c.volume += f.kind.volume() - f.edge[0]*f.edge[1]*f.edge[2]
		c.of[f.cell] = id
		c.cut++
	}
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
func (c *cells) measure(i, j, k int, tol float64) (m brick.Moments) {
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
