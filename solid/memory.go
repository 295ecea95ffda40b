package solid

import (
	"fmt"
	"math"

	"swapworth/internal/memory"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
)

// What the largest arrays take, in bytes, as measured on plates and blocks: a
// node holds its vectors, runs, aggregates and prolongation; a node at a cut
// cell holds a stencil of its own, and a cut cell its stiffness.
const (
	bytesPerNode    = 2500
	bytesPerCutNode = 8*multigrid.StencilLength + 650
	bytesPerCut     = 8*brick.DOF*brick.DOF + 8*27 + 64
	bytesPerBoxCell = 24
)

// fits estimates the memory that the finest grid above a base grid needs and
// refuses what there is no room for.
func (c *check) fits(base *grid.Grid) error {
	finer := math.Pow(2, float64(c.grids-1))
	box := 1.0
	for a := range 3 {
		box *= finer * float64(base.Count(a))
	}
	volume, area := c.body.volume, c.area()
	h := 1.0
	for a := range 3 {
		h *= (c.s.High[a] - c.s.Low[a]) / (finer * float64(base.Count(a)))
	}
	nodes := volume/h + area/(2*math.Pow(h, 2.0/3))
	cut := c.cutArea() / math.Pow(h, 2.0/3) * 1.5
	need := bytesPerNode*nodes + bytesPerCutNode*2*cut + bytesPerCut*cut + bytesPerBoxCell*box
	c.res.Memory = int64(need)
	have := c.opt.Memory
	if have == 0 {
		have = memory.Free()
	}
	if have > 0 && need > float64(have) {
		return fmt.Errorf("solid: %.0f nodes on the finest grid need about %s of memory, %s are free; ask for fewer unknowns than %d",
			nodes, bytesText(need), bytesText(float64(have)), c.opt.Unknowns)
	}
	return nil
}

// bytes estimates what a system takes.
func (s *system) bytes() int { return s.System.Bytes() + bytesPerBoxCell*s.c.BoxCells() }

// area returns the area of the surface, mm2.
func (c *check) area() (sum float64) {
	for _, f := range c.s.Faces {
		sum += grid.AreaOf([3][3]float64{c.s.Points[f[0]], c.s.Points[f[1]], c.s.Points[f[2]]})
	}
	return
}

// cutArea returns the area of the surface that no grid plane follows.
func (c *check) cutArea() (sum float64) {
	for _, f := range c.s.Faces {
		t := [3][3]float64{c.s.Points[f[0]], c.s.Points[f[1]], c.s.Points[f[2]]}
		n := grid.NormalOf(t)
		if max(math.Abs(n[0]), math.Abs(n[1]), math.Abs(n[2])) < grid.Straight {
			sum += grid.AreaOf(t)
		}
	}
	return
}

func bytesText(b float64) string {
	if b < 1e9 {
		return fmt.Sprintf("%.0f MB", b/1e6)
	}
	return fmt.Sprintf("%.1f GB", b/1e9)
}
