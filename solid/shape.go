package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
)

// Deflected is the surface of a loaded part for its picture: a fine enough
// triangulation with the displacement and the von Mises stress at each point.
type Deflected struct {
	Points []r3.Vec // where they are without load, mm
	Moves  []r3.Vec // how far they move, mm
	Stress []float64
	Energy []float64 // strain energy density over the mean of the part
	Faces  [][3]int32
}

// keepShape cuts the surface along the lines of the coarsest grid and keeps
// displacement and stress at the corners of the pieces.
func (c *check) keepShape(sys *system, a answer, st *samples) {
	d := &Deflected{}
	index := map[[3]int64]int32{}
	var corners []surfacePoint
	cut := &grid.Knife{Grid: c.lay.grids[0]}
	for _, t := range c.s.Faces {
		tri := [][3]float64{c.s.Points[t[0]], c.s.Points[t[1]], c.s.Points[t[2]]}
		n := grid.NormalOf([3][3]float64(tri))
		cut.Slice(tri, 0, func(poly [][3]float64) {
			var at []int32
			for _, p := range poly {
				var key [3]int64
				for a := range 3 {
					key[a] = int64(math.Round(p[a] / (4 * c.s.Tol)))
				}
				i, ok := index[key]
				if !ok {
					i = int32(len(corners))
					index[key] = i
					corners = append(corners, surfacePoint{at: p, cell: sys.c.Beneath(p, poly, n, c.s.Tol)})
				}
				at = append(at, i)
			}
			for i := 2; i < len(at); i++ {
				face := [3]int32{at[0], at[i-1], at[i]}
				if c.f.mirrored() {
					face[1], face[2] = face[2], face[1]
				}
				d.Faces = append(d.Faces, face)
			}
		})
	}
	d.Points, d.Moves = make([]r3.Vec, len(corners)), make([]r3.Vec, len(corners))
	d.Stress, d.Energy = make([]float64, len(corners)), make([]float64, len(corners))
	mean := sys.meanEnergy(a.u)
	parallel.Blocks(len(corners), 512, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			p := corners[i].at
			d.Points[i] = c.f.point(p)
			cell, ok := sys.c.NearActive(corners[i].cell, p)
			if !ok {
				continue
			}
			d.Moves[i] = r3.Scale(a.by/c.e.YoungsModulus, c.f.out(sys.moveAt(a.u, cell, p)))
			t := sys.smoothAt(st, cell, p)
			d.Stress[i] = math.Abs(a.by) * vonMises(t)
			d.Energy[i] = density(t, c.e.Poisson) / mean
		}
	})
	c.res.Deflected = d
}

// density returns the strain energy density of a stress for a modulus of 1 MPa,
// N mm/mm3.
func density(t [6]float64, poisson float64) float64 {
	normal := t[0]*t[0] + t[1]*t[1] + t[2]*t[2] - 2*poisson*(t[0]*t[1]+t[1]*t[2]+t[2]*t[0])
	return normal/2 + (1+poisson)*(t[3]*t[3]+t[4]*t[4]+t[5]*t[5])
}

// meanEnergy is the mean strain energy density of the part, for a modulus of 1 MPa.
func (s *system) meanEnergy(u []float64) float64 {
	q := make([]float64, len(u))
	s.Strain(u, q)
	return multigrid.Dot(u, q) / 2 / s.c.Volume
}
