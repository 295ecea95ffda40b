package grid

import (
	"math"

	"swapworth/solid/internal/brick"
)

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

// Integrate calls add with the corner functions of a cell and the share of area
// at the quadrature points of a flat convex polygon.
func (c *Cells) Integrate(cell [3]int, poly [][3]float64, add func(n *[brick.Corners]float64, area float64)) {
	for i := 2; i < len(poly); i++ {
		tri := [3][3]float64{poly[0], poly[i-1], poly[i]}
		area := AreaOf(tri)
		for _, q := range sixPoints {
			var p [3]float64
			for a := range 3 {
				p[a] = q[0]*tri[0][a] + q[1]*tri[1][a] + q[2]*tri[2][a]
			}
			n := brick.Shapes(c.Local(cell, p))
			add(&n, q[3]*area)
		}
	}
}

// IntegrateBox calls add at points spread over the material inside a box.
func (c *Cells) IntegrateBox(s *Surface, box *[2][3]float64, add func(cell [3]int, n *[brick.Corners]float64, volume float64)) {
	gauss := [2]float64{0.5 - math.Sqrt(1.0/12), 0.5 + math.Sqrt(1.0/12)}
	for i, x := range c.rays.pos[0] {
		if x < box[0][0] || x > box[1][0] {
			continue
		}
		ci := i / c.sub
		wx := (c.Lines[0][ci+1] - c.Lines[0][ci]) / float64(c.sub)
		for j, y := range c.rays.pos[1] {
			if y < box[0][1] || y > box[1][1] {
				continue
			}
			cj := j / c.sub
			wy := (c.Lines[1][cj+1] - c.Lines[1][cj]) / float64(c.sub)
			for _, in := range c.rays.inside(i, j) {
				a, b := max(in[0], box[0][2]), min(in[1], box[1][2])
				for k := c.Find(2, a); k < c.Count(2) && c.Lines[2][k] < b; k++ {
					lo, hi := max(a, c.Lines[2][k]), min(b, c.Lines[2][k+1])
					cell := [3]int{ci, cj, k}
					if hi-lo <= s.Tol || c.Of[c.CellIndex(ci, cj, k)] == Void {
						continue
					}
					for _, g := range gauss {
						n := brick.Shapes(c.Local(cell, [3]float64{x, y, lo + g*(hi-lo)}))
						add(cell, &n, wx*wy*(hi-lo)/2)
					}
				}
			}
		}
	}
}
