package region

import (
	"fmt"
	"slices"

	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
)

// Region is a place made concrete in the grid's axes: a piece of the surface,
// or all material inside a box.
type Region struct {
	Faces [][3][3]float64 // triangles, mm
	Whole bool            // the faces are all there is of a flat face, which grid lines follow
	Box   *[2][3]float64  // low and high corner, mm; nil for a piece of surface
	Name  string

	kept map[*grid.Cells]*cutRegion // what is known of it on grids; nil where nothing is kept
}

// cutRegion is a region on a grid.
type cutRegion struct {
	facets []facet // nil until asked for
	extent *Extent // nil until asked for
}

// facet is a piece of surface in one cell: a flat convex polygon and its unit
// normal, out of the material.
type facet struct {
	cell   [3]int
	poly   [][3]float64
	normal [3]float64
}

// Keep lets what is found of the region on grids be kept for the next time. It must not
// change afterwards.
func (r *Region) Keep() { r.kept = map[*grid.Cells]*cutRegion{} }

// on returns what is kept of a region on a grid, or nil.
func (r *Region) on(c *grid.Cells) *cutRegion {
	if r.kept == nil {
		return nil
	}
	if r.kept[c] == nil {
		r.kept[c] = &cutRegion{}
	}
	return r.kept[c]
}

// Pieces cuts the faces of a region along the grid planes and calls visit with
// each piece, which is good until visit returns, and the cell whose material it
// bounds.
func (r *Region) Pieces(c *grid.Cells, s *grid.Surface, visit func(cell [3]int, poly [][3]float64)) {
	r.facets(c, s, func(cell [3]int, poly [][3]float64, _ [3]float64) { visit(cell, poly) })
}

// facets is pieces with the unit normal of each piece, out of the material.
func (r *Region) facets(c *grid.Cells, s *grid.Surface, visit func(cell [3]int, poly [][3]float64, normal [3]float64)) {
	kept := r.on(c)
	if kept == nil {
		r.cutFaces(c, s, visit)
		return
	}
	if kept.facets == nil {
		kept.facets = []facet{}
		r.cutFaces(c, s, func(cell [3]int, poly [][3]float64, normal [3]float64) {
			kept.facets = append(kept.facets, facet{cell, slices.Clone(poly), normal})
		})
	}
	for _, f := range kept.facets {
		visit(f.cell, f.poly, f.normal)
	}
}

// cutFaces is facets of a region of which nothing is kept.
func (r *Region) cutFaces(c *grid.Cells, s *grid.Surface, visit func(cell [3]int, poly [][3]float64, normal [3]float64)) {
	k := &grid.Knife{Grid: c.Grid}
	for _, f := range r.Faces {
		n := grid.NormalOf(f)
		k.Slice(f[:], 0, func(poly [][3]float64) {
			var mid [3]float64
			for _, p := range poly {
				for a := range 3 {
					mid[a] += p[a] / float64(len(poly))
				}
			}
			var cell [3]int
			for a := range 3 {
				i := c.Find(a, mid[a])
				h := c.Lines[a][i+1] - c.Lines[a][i]
				cell[a] = c.Find(a, mid[a]-n[a]*max(1e-4*h, 2*s.Tol))
			}
			if cell, ok := c.NearActive(cell, mid); ok {
				visit(cell, poly, n)
			}
		})
	}
}

// Inside returns what of a region lies in the box, nil for nothing.
func (r *Region) Inside(box [2][3]float64) *Region {
	out := &Region{Whole: r.Whole, Name: r.Name}
	if r.Box != nil {
		var b [2][3]float64
		for a := range 3 {
			b[0][a], b[1][a] = max(r.Box[0][a], box[0][a]), min(r.Box[1][a], box[1][a])
			if b[0][a] > b[1][a] {
				return nil
			}
		}
		out.Box = &b
		return out
	}
	for _, f := range r.Faces {
		poly := f[:]
		for a := range 3 {
			poly = grid.HalfSpace(nil, poly, a, box[0][a], 1)
			poly = grid.HalfSpace(nil, poly, a, box[1][a], -1)
		}
		for k := 2; k < len(poly); k++ {
			t := [3][3]float64{poly[0], poly[k-1], poly[k]}
			if grid.AreaOf(t) > 0 {
				out.Faces = append(out.Faces, t)
			}
		}
	}
	if len(out.Faces) == 0 {
		return nil
	}
	return out
}

// Point is one integration point of a place: its cell, the corner functions
// there, its share of the area (mm2) or volume (mm3), and the normal out of the
// material, zero inside.
type Point struct {
	cell   [3]int
	n      [brick.Corners]float64
	Size   float64
	at     [3]float64
	Normal [3]float64
}

// Over calls visit with the integration points of the region on cells.
func (r *Region) Over(c *grid.Cells, s *grid.Surface, visit func(p *Point)) {
	var p Point
	add := func(cell [3]int, n *[brick.Corners]float64, size float64) {
		p.cell, p.n, p.Size, p.at = cell, *n, size, [3]float64{}
		for v := range brick.Corners { // the brick's own map: exact for what is linear
			for a, i := range [3]int{cell[0] + v>>2, cell[1] + v>>1&1, cell[2] + v&1} {
				p.at[a] += n[v] * c.Lines[a][i]
			}
		}
		visit(&p)
	}
	if r.Box != nil {
		c.IntegrateBox(s, r.Box, add)
		return
	}
	r.facets(c, s, func(cell [3]int, poly [][3]float64, normal [3]float64) {
		p.Normal = normal
		c.Integrate(cell, poly, func(n *[brick.Corners]float64, area float64) { add(cell, n, area) })
	})
}

// Extent is what a region weighs as a homogeneous body: its size, its centre, and the
// integrals of products of coordinates about that.
type Extent struct {
	Size   float64       // mm2 or mm3
	Centre [3]float64    // mm
	Second [3][3]float64 // mm4 or mm5
}

// Extent weighs the region on cells. It fails where there is no material of it.
func (r *Region) Extent(c *grid.Cells, s *grid.Surface) (e Extent, err error) {
	kept := r.on(c)
	if kept != nil && kept.extent != nil {
		return *kept.extent, nil
	}
	var first [3]float64
	r.Over(c, s, func(p *Point) {
		e.Size += p.Size
		for a := range 3 {
			first[a] += p.Size * p.at[a]
		}
	})
	if e.Size == 0 && c.Lost > 0 {
		return e, fmt.Errorf("solid: nothing holds the body on which %s lies, for it hangs together with no other; hold it too, or join the bodies in the CAD program", r.Name)
	}
	if e.Size == 0 {
		return e, fmt.Errorf("solid: no material at %s to load; name another place", r.Name)
	}
	for a := range 3 {
		e.Centre[a] = first[a] / e.Size
	}
	r.Over(c, s, func(p *Point) {
		for a := range 3 {
			for b := range 3 {
				e.Second[a][b] += p.Size * (p.at[a] - e.Centre[a]) * (p.at[b] - e.Centre[b])
			}
		}
	})
	if kept != nil {
		kept.extent = &e
	}
	return e, nil
}

// Within is what of a surface lies in a box.
func Within(s *grid.Surface, box [2][3]float64) *Region {
	all := Of(s.Inside(box))
	if all = all.Inside(box); all == nil {
		return &Region{}
	}
	return all
}

// Of is all of a surface.
func Of(s *grid.Surface) *Region {
	all := &Region{}
	for _, f := range s.Faces {
		all.Faces = append(all.Faces, [3][3]float64{s.Points[f[0]], s.Points[f[1]], s.Points[f[2]]})
	}
	return all
}
