package mass

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
	"swapworth/mesh"
)

// lump is a volume with its first and second moments x, y, z and xx, yy, zz, xy,
// yz, zx about a point; mm3, mm4, mm5. One of negative volume is material that is
// there too much.
type lump struct {
	volume float64
	first  [3]float64
	second [6]float64
}

// lumps gathers what flat faces hide, the volume hidden on every face, by rounds.
// It is spread evenly over its face, for which the mean of x x' is
// (a a' + b b' + c c' + s s')/12 with the corners a, b, c and s = a + b + c.
func lumps(m *mesh.Mesh, hidden []float64, of *rounds, about r3.Vec) []lump {
	type gathered struct {
		patches []int32 // in the order in which they are met
		lumps   []lump
	}
	parts := make([]gathered, (len(hidden)+chunkSize-1)/chunkSize)
	parallel.Chunks(len(hidden), chunkSize, func(chunk, from, to int) {
		g, at, last := &parts[chunk], map[int32]int{}, -1
		for f := from; f < to; f++ {
			if hidden[f] == 0 {
				continue
			}
			if patch := of.patch[of.flat[f]]; last < 0 || g.patches[last] != patch {
				place, ok := at[patch]
				if !ok {
					place = len(g.lumps)
					at[patch] = place
					g.patches, g.lumps = append(g.patches, patch), append(g.lumps, lump{})
				}
				last = place
			}
			a, b, c := m.Triangle(f)
			g.lumps[last].add(hidden[f], sub(a, about), sub(b, about), sub(c, about))
		}
	})
	at := map[int32]int{}
	var out []lump
	for _, g := range parts {
		for i, patch := range g.patches {
			place, ok := at[patch]
			if !ok {
				at[patch] = len(out)
				out = append(out, g.lumps[i])
				continue
			}
			out[place].merge(g.lumps[i], 1)
		}
	}
	return out
}

func (l *lump) add(v float64, a, b, c r3.Vec) {
	s := r3.Add(a, r3.Add(b, c))
	l.volume += v
	for i, x := range [3]float64{s.X, s.Y, s.Z} {
		l.first[i] += v * x / 3
	}
	for i, xx := range [6]float64{
		a.X*a.X + b.X*b.X + c.X*c.X + s.X*s.X, a.Y*a.Y + b.Y*b.Y + c.Y*c.Y + s.Y*s.Y, a.Z*a.Z + b.Z*b.Z + c.Z*c.Z + s.Z*s.Z,
		a.X*a.Y + b.X*b.Y + c.X*c.Y + s.X*s.Y, a.Y*a.Z + b.Y*b.Z + c.Y*c.Z + s.Y*s.Z, a.Z*a.X + b.Z*b.X + c.Z*c.X + s.Z*s.X,
	} {
		l.second[i] += v * xx / 12
	}
}

// point is the lump of a volume at a point.
func point(v float64, at r3.Vec) (l lump) {
	l.add(v, at, at, at)
	return l
}

// shifted returns the lump about a point that lies by from its own, by the
// parallel axis theorem.
func (l lump) shifted(by r3.Vec) lump {
	d, out := [3]float64{by.X, by.Y, by.Z}, l
	for i := range out.first {
		out.first[i] -= l.volume * d[i]
	}
	for k, ij := range [6][2]int{{0, 0}, {1, 1}, {2, 2}, {0, 1}, {1, 2}, {2, 0}} {
		i, j := ij[0], ij[1]
		out.second[k] += l.volume*d[i]*d[j] - l.first[i]*d[j] - l.first[j]*d[i]
	}
	return out
}

// inertia returns the tensor of the lump about its point: off-diagonals
// -integral of xy dV.
func (l lump) inertia() [3][3]float64 { return aboutCentroid(l.second, 0, [3]float64{}) }

func (l *lump) merge(o lump, share float64) {
	l.volume += share * o.volume
	for i := range l.first {
		l.first[i] += share * o.first[i]
	}
	for i := range l.second {
		l.second[i] += share * o.second[i]
	}
}

// aboutCentroid returns the inertia of a volume v with the centroid c from its
// second moments xx, yy, zz, xy, yz, zx, by the parallel axis theorem.
func aboutCentroid(second [6]float64, v float64, c [3]float64) [3][3]float64 {
	about := func(k, i, j int) float64 { return second[k] - v*c[i]*c[j] }
	xx, yy, zz := about(0, 0, 0), about(1, 1, 1), about(2, 2, 2)
	xy, yz, zx := about(3, 0, 1), about(4, 1, 2), about(5, 2, 0)
	return [3][3]float64{{yy + zz, -xy, -zx}, {-xy, zz + xx, -yz}, {-zx, -yz, xx + yy}}
}

// principal returns the principal moments of an inertia tensor, smallest first,
// in its unit.
func principal(inertia [3][3]float64) [3]float64 {
	// Scaled to 1, for the solver takes neither very small nor very large numbers.
	size := largest(inertia)
	switch {
	case size == 0:
		return [3]float64{}
	case math.IsNaN(size) || math.IsInf(size, 0):
		return [3]float64{math.NaN(), math.NaN(), math.NaN()}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(symmetric(inertia, size), false) {
		return [3]float64{math.NaN(), math.NaN(), math.NaN()}
	}
	values := [3]float64(eigen.Values(nil))
	for i := range values {
		values[i] *= size
	}
	return values
}

// largest returns the largest entry of a symmetric tensor without its sign; NaN
// where one is.
func largest(t [3][3]float64) (size float64) {
	for i := range 3 {
		for j := i; j < 3; j++ {
			size = max(size, math.Abs(t[i][j]))
		}
	}
	return size
}

// symmetric returns a tensor in units of size.
func symmetric(t [3][3]float64, size float64) *mat.SymDense {
	s := mat.NewSymDense(3, nil)
	for i := range 3 {
		for j := i; j < 3; j++ {
			s.SetSym(i, j, t[i][j]/size)
		}
	}
	return s
}
