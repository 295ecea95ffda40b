package grid

import (
	"math"
	"slices"

	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
)

// leastFill is the filled fraction below which a cell counts as empty. Its
// material is lost: a fiftieth of a percent of the cells at the surface.
const leastFill = 2e-4

// Void marks an empty cell.
const Void = int32(-1)

// Cells says what is in each cell of a grid. Cells that are alike share a kind.
type Cells struct {
	*Grid
	Of     []int32 // kind of each cell by its CellIndex, or Void
	Kinds  []Kind
	Active int     // cells that are not Void
	cut    int     // cells that the surface cuts
	Volume float64 // of the material, mm3
	Lost   float64 // of bodies left out because nothing holds them, mm3
	rays   *rays
	sub    int // rays along the edge of a cell
}

// Fill measures the material in every cell with sub x sub rays a cell.
// Along a ray the integrals are exact; across, the material is taken to be
// constant within a ray's own strip of the cell.
func Fill(s *Surface, g *Grid, sub int) *Cells {
	c := &Cells{Grid: g, Of: make([]int32, g.BoxCells()), sub: sub}
	c.rays = castRays(s, [2][]float64{rayPositions(g.Lines[0], sub), rayPositions(g.Lines[1], sub)})
	cut := make([][]cutCell, g.Count(0))
	parallel.For(g.Count(0), func(i int) {
		depth := make([]float64, g.Count(2))
		for j := range g.Count(1) {
			c.depths(i, j, s.Tol, depth)
			for k, d := range depth {
				n := g.CellIndex(i, j, k)
				switch {
				case d > 1-1e-9:
					c.Of[n] = 0
				case d < leastFill:
					c.Of[n] = Void
				default:
					cut[i] = append(cut[i], cutCell{n, Kind{g.Size(i, j, k), c.measure(i, j, k, s.Tol)}})
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
	Kind
}

// numberFull gives every cell that is not void the kind of a full cell of its
// size.
func (c *Cells) numberFull() {
	number := map[[3]int32]int32{}
	c.EachActive(func(i, j, k, cell int) {
		key := [3]int32{c.class[0][i], c.class[1][j], c.class[2][k]}
		id, ok := number[key]
		if !ok {
			id = int32(len(c.Kinds))
			number[key] = id
			c.Kinds = append(c.Kinds, Kind{c.Size(i, j, k), brick.Full})
		}
		c.Of[cell] = id
		c.Active++
		c.Volume += c.Kinds[id].Volume()
	})
}

// numberCut gives cut cells their own kinds.
func (c *Cells) numberCut(list []cutCell) {
	number := map[Kind]int32{}
	for _, f := range list {
		id, ok := number[f.Kind]
		if !ok {
			id = int32(len(c.Kinds))
			number[f.Kind] = id
			c.Kinds = append(c.Kinds, f.Kind)
		}
		c.Volume += f.Kind.Volume() - f.Edge[0]*f.Edge[1]*f.Edge[2]
		c.Of[f.cell] = id
		c.cut++
	}
}

// depths sets depth[k] to the filled fraction of cell (i, j, k).
func (c *Cells) depths(i, j int, tol float64, depth []float64) {
	clear(depth)
	share := 1 / float64(c.sub*c.sub)
	for p := range c.sub {
		for q := range c.sub {
			for _, in := range c.rays.inside(i*c.sub+p, j*c.sub+q) {
				for k := c.Find(2, in[0]); k < c.Count(2) && c.Lines[2][k] < in[1]; k++ {
					lo, hi := c.Lines[2][k], c.Lines[2][k+1]
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
func (c *Cells) measure(i, j, k int, tol float64) (m brick.Moments) {
	lo, hi := c.Lines[2][k], c.Lines[2][k+1]
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
