package solid

import (
	"fmt"
	"math"

	"swapworth/internal/vector"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
	"swapworth/solid/internal/region"
)

// applied are the loads of a case: as tractions, and on one grid as nodal forces,
// all of them and those of the stated forces and moments apart, which measure how
// far their places move.
type applied struct {
	forces, moments, others []region.Traction // others: pressures, and masses that ride along
	all, force, moment      []float64
	forceSize, momentSize   float64 // N, N mm; zero where there is none
	gross                   float64 // sum of the sizes of everything that loads, N
	acts                    []Act
}

// apply returns the loads of case i on a grid.
func (c *check) apply(sys *system, i int) (applied, error) {
	out, err := c.tractions(sys.c, i)
	if err != nil {
		return out, err
	}
	nodal := func(list []region.Traction) []float64 {
		f := make([]float64, sys.Length())
		for _, t := range list {
			t.Nodal(sys.c, c.s, sys.System, f)
		}
		return f
	}
	out.force, out.moment, out.all = nodal(out.forces), nodal(out.moments), nodal(out.others)
	out.gross += c.accelerate(sys, i, out.all)
	multigrid.Axpy(1, out.force, out.all)
	multigrid.Axpy(1, out.moment, out.all)
	return out, nil
}

// tractions returns the loads of case i but for own acceleration, with the sizes
// of their places as the grid has them.
func (c *check) tractions(cs *grid.Cells, i int) (out applied, err error) {
	var forces, moments [][3]float64
	for _, l := range c.loads[i] {
		e, err := l.at.Extent(cs, c.s)
		if err != nil {
			return out, err
		}
		out.acts = append(out.acts, c.actOf(cs, l, e))
		if vector.Norm(l.force) > 0 {
			into := &out.forces
			if l.riding {
				into = &out.others
			} else {
				forces = append(forces, l.force)
			}
			*into = append(*into, region.Spread(l.at, e, l.force))
			out.gross += vector.Norm(l.force)
		}
		if vector.Norm(l.moment) > 0 {
			moments = append(moments, l.moment)
			t, err := region.Twist(l.at, e, l.moment)
			if err != nil {
				return out, err
			}
			out.moments = append(out.moments, t)
			lever := math.Sqrt((e.Second[0][0] + e.Second[1][1] + e.Second[2][2]) / e.Size)
			out.gross += vector.Norm(l.moment) / max(lever, c.s.Tol)
		}
		if l.pressure != 0 {
			if l.at.Box != nil {
				return out, fmt.Errorf("solid: load case %q: a pressure acts on a surface, and %s has no flat face; name a face, a bore or a rim", c.p.Cases[i].Name, l.at.Name)
			}
			out.others = append(out.others, region.Press(l.at, l.pressure))
			out.gross += math.Abs(l.pressure) * e.Size
		}
	}
	out.forceSize, out.momentSize = sizeOf(forces), sizeOf(moments)
	return out, nil
}

// actOf tells what a place takes, for people.
func (c *check) actOf(cs *grid.Cells, l caseLoad, e region.Extent) Act {
	force := l.force
	if l.pressure != 0 {
		l.at.Over(cs, c.s, func(p *region.Point) {
			for a := range 3 {
				force[a] -= l.pressure * p.Size * p.Normal[a]
			}
		})
	}
	at, m := c.f.point(e.Centre), c.f.outAxial(l.moment)
	return Act{Place: l.at.Name, Centre: [3]float64{at.X, at.Y, at.Z}, Force: c.f.outArray(force),
		Moment: [3]float64{m.X, m.Y, m.Z}, Pressure: l.pressure}
}

// accelerate adds what the material of the part lags behind with to f and returns
// its size, N.
func (c *check) accelerate(sys *system, i int, f []float64) float64 {
	a := c.f.vector(c.p.Cases[i].Acceleration)
	if vector.Norm(a) == 0 {
		return 0
	}
	total := 0.0
	sys.eachShare(c.e.Density, func(p int, mass float64) {
		total += mass
		for k := range 3 {
			f[p+k] -= mass * newtonPerGram * a[k]
		}
	})
	return total * newtonPerGram * vector.Norm(a)
}

// sizeOf returns the size of the sum of vectors, or, where they cancel, the sum
// of their sizes.
func sizeOf(vectors [][3]float64) float64 {
	var sum [3]float64
	total := 0.0
	for _, v := range vectors {
		for a := range 3 {
			sum[a] += v[a]
		}
		total += vector.Norm(v)
	}
	if s := vector.Norm(sum); s > 1e-6*total {
		return s
	}
	return total
}
