package grid

import (
	"math"
	"slices"

	"swapworth/solid/internal/brick"
)

// NearActive returns the cell itself or the nearest neighbour with material.
func (c *Cells) NearActive(cell [3]int, p [3]float64) ([3]int, bool) {
	if c.Of[c.CellIndex(cell[0], cell[1], cell[2])] != Void {
		return cell, true
	}
	best, near := cell, math.Inf(1)
	for n := range 27 {
		var q [3]int
		d := 0.0
		ok := true
		for a := range 3 {
			q[a] = cell[a] + n/[3]int{9, 3, 1}[a]%3 - 1
			if q[a] < 0 || q[a] >= c.Count(a) {
				ok = false
				break
			}
			gap := max(c.Lines[a][q[a]]-p[a], p[a]-c.Lines[a][q[a]+1], 0)
			d += gap * gap
		}
		if ok && d < near && c.Of[c.CellIndex(q[0], q[1], q[2])] != Void {
			best, near = q, d
		}
	}
	return best, !math.IsInf(near, 1)
}

// NearestNode returns the corner of a cell with material nearest to a point.
func (c *Cells) NearestNode(p [3]float64) [3]int {
	var best [3]int
	near := math.Inf(1)
	c.EachActive(func(i, j, k, _ int) {
		for v := range brick.Corners {
			n := [3]int{i + v>>2, j + v>>1&1, k + v&1}
			d := 0.0
			for a := range 3 {
				x := c.Lines[a][n[a]] - p[a]
				d += x * x
			}
			if d < near {
				best, near = n, d
			}
		}
	})
	return best
}

// Local returns the cell coordinates, in [-1, 1] inside, of a point in mm.
func (c *Cells) Local(cell [3]int, p [3]float64) (x [3]float64) {
	for a := range 3 {
		lo, hi := c.Lines[a][cell[a]], c.Lines[a][cell[a]+1]
		x[a] = 2*(p[a]-lo)/(hi-lo) - 1
	}
	return
}

// Beneath returns the cell on the inside of a flat piece of surface with normal
// n at its corner p.
func (c *Cells) Beneath(p [3]float64, poly [][3]float64, n [3]float64, tol float64) (cell [3]int) {
	for a := range 3 {
		mid := 0.0
		for _, q := range poly {
			mid += q[a] / float64(len(poly))
		}
		cell[a] = c.Find(a, p[a]+1e-3*(mid-p[a])-n[a]*2*tol)
	}
	return
}

// Marked reports whether a cell within reach of one, in cells along each axis, is
// marked.
func (c *Cells) Marked(mark []bool, cell [3]int, reach int) bool {
	var lo, hi [3]int
	for a := range 3 {
		lo[a], hi[a] = max(cell[a]-reach, 0), min(cell[a]+reach, c.Count(a)-1)
	}
	for i := lo[0]; i <= hi[0]; i++ {
		for j := lo[1]; j <= hi[1]; j++ {
			if slices.Contains(mark[c.CellIndex(i, j, lo[2]):c.CellIndex(i, j, hi[2])+1], true) {
				return true
			}
		}
	}
	return false
}
