package region

import (
	"fmt"
	"math"

	"swapworth/internal/vector"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
)

// Traction is a load of so much per mm2 of a surface or per mm3 of material, N.
type Traction struct {
	On  *Region
	Per func(p *Point) [3]float64
}

// Nodal adds the nodal forces of the traction on cells to a vector f of their equations:
// the integral of N t.
func (t Traction) Nodal(c *grid.Cells, s *grid.Surface, e *multigrid.System, f []float64) {
	t.On.Over(c, s, func(p *Point) {
		v := t.Per(p)
		for k := range brick.Corners {
			at := e.EntryAt(p.cell[0]+k>>2, p.cell[1]+k>>1&1, p.cell[2]+k&1)
			for a := range 3 {
				f[at+a] += p.n[k] * p.Size * v[a]
			}
		}
	})
}

// Spread is a force spread evenly over a region.
func Spread(r *Region, e Extent, force [3]float64) Traction {
	for a := range 3 {
		force[a] /= e.Size
	}
	return Traction{r, func(*Point) [3]float64 { return force }}
}

// Twist is a moment about the centre of a region, spread as w x (x - centre) with
// (integral of |r|^2 I - r r^T) w = moment. On a flat face that is the bending and
// torsion traction of a stiff plate; the rotation that does work on it is the mean
// one of the place.
func Twist(r *Region, e Extent, moment [3]float64) (Traction, error) {
	var j [9]float64
	trace := e.Second[0][0] + e.Second[1][1] + e.Second[2][2]
	for a := range 3 {
		for b := range 3 {
			j[3*a+b] = -e.Second[a][b]
		}
		j[4*a] += trace
	}
	var inv [9]float64
	multigrid.InvertBlock(j[:], inv[:], 3)
	w := times(&inv, moment)
	back := times(&j, w)
	for a := range 3 {
		if d := back[a] - moment[a]; !(math.Abs(d) <= 1e-6*vector.Norm(moment)) {
			return Traction{}, fmt.Errorf("solid: %s is too narrow to take a moment; name another place", r.Name)
		}
	}
	return Traction{r, func(p *Point) [3]float64 {
		var d [3]float64
		for a := range 3 {
			d[a] = p.at[a] - e.Centre[a]
		}
		return vector.Cross(w, d)
	}}, nil
}

// Press is a pressure against a surface.
func Press(r *Region, pressure float64) Traction {
	return Traction{r, func(p *Point) [3]float64 {
		return [3]float64{-pressure * p.Normal[0], -pressure * p.Normal[1], -pressure * p.Normal[2]}
	}}
}

func times(m *[9]float64, v [3]float64) (out [3]float64) {
	for a := range 3 {
		for b := range 3 {
			out[a] += m[3*a+b] * v[b]
		}
	}
	return
}
