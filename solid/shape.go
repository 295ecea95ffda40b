package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Deflected is the surface of a loaded part for its picture: a fine enough
// triangulation with the displacement and the von Mises stress at each point.
type Deflected struct {
	Points []r3.Vec // where they are without load, mm
	Moves  []r3.Vec // how far they move, mm
	Stress []float64
	Faces  [][3]int32
}

// keepShape cuts the surface along the lines of the coarsest grid and keeps
// displacement and stress at the corners of the pieces.
func (c *check) keepShape(sys *system, u []float64, st *samples) {
	d := &Deflected{}
	index := map[[3]int64]int32{}
	cut := &cells{grid: c.coarsest}
	for _, t := range c.s.faces {
		tri := [][3]float64{c.s.points[t[0]], c.s.points[t[1]], c.s.points[t[2]]}
		n := normalOf([3][3]float64(tri))
		cut.slice(tri, 0, func(poly [][3]float64) {
			var corners []int32
			for _, p := range poly {
				var key [3]int64
				for a := range 3 {
					key[a] = int64(math.Round(p[a] / (4 * c.s.tol)))
				}
				at, ok := index[key]
				if !ok {
					at = int32(len(d.Points))
					index[key] = at
					d.add(c, sys, u, st, p, poly, n)
				}
				corners = append(corners, at)
			}
			for i := 2; i < len(corners); i++ {
				face := [3]int32{corners[0], corners[i-1], corners[i]}
				if c.f.mirrored() {
					face[1], face[2] = face[2], face[1]
				}
				d.Faces = append(d.Faces, face)
			}
		})
	}
	c.res.Deflected = d
}

// add appends corner p of a flat piece of surface with normal n.
func (d *Deflected) add(c *check, sys *system, u []float64, st *samples, p [3]float64, poly [][3]float64, n [3]float64) {
	var cell [3]int
	for a := range 3 {
		mid := 0.0
		for _, q := range poly {
			mid += q[a] / float64(len(poly))
		}
		// towards the inside of the part and of the piece
		cell[a] = sys.c.find(a, p[a]+1e-3*(mid-p[a])-n[a]*2*c.s.tol)
	}
	var move [3]float64
	stress := 0.0
	if cell, ok := sys.c.nearActive(cell, p); ok {
		shape := shapeAt(sys.c.local(cell, p))
		for k := range shapes {
			q := 3 * int(sys.op.storedAt(cell[0]+k>>2, cell[1]+k>>1&1, cell[2]+k&1))
			for a := range 3 {
				move[a] += shape[k] * u[q+a]
			}
		}
		stress = vonMises(sys.smoothAt(st, cell, p))
	}
	d.Points = append(d.Points, c.f.point(p))
	d.Moves = append(d.Moves, c.f.out(move))
	d.Stress = append(d.Stress, stress)
}
