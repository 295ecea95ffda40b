package mass

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
	"swapworth/materials"
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

// spread is how far centroid (mm) and inertia (mm5, about the centroid, for
// density 1) of a part may lie from those of its mesh.
type spread struct {
	Centroid  [3]materials.Range
	Inertia   [3][3]materials.Range
	Principal [3]materials.Range // smallest first
}

// spreadOf widens centroid and inertia of a mesh, which are the nominal values, as
// VolumeRange does its volume: to the values with what the flat faces hide on
// each round, by a third of that, and by what repairs and shared space may hold.
// What one round hides is estimated wrongly as a whole, so that a ring's errors
// cancel in its centroid; different rounds may be off in any sense.
func spreadOf(p Properties, m *mesh.Mesh, repairs []mesh.Repair) spread {
	shift := r3.Sub(p.Centroid, p.about)
	var hidden lump
	var doubts []lump
	for _, l := range p.rounds {
		l = l.shifted(shift)
		hidden.merge(l, 1)
		var third lump
		third.merge(l, 1./3)
		doubts = append(doubts, third)
	}
	for _, fix := range repairs {
		less, more := fix.Doubt()
		doubts = append(doubts, point(max(less, more), r3.Sub(fix.At, p.Centroid)))
	}
	if p.SharedError > 0 { // somewhere in the part
		doubts = append(doubts, point(p.SharedError, r3.Scale(0.5, m.Bounds().Size())))
	}
	return p.spread(hidden, doubts)
}

func (l *lump) merge(o lump, share float64) {
	l.volume += share * o.volume
	for i := range l.first {
		l.first[i] += share * o.first[i]
	}
	for i := range l.second {
		l.second[i] += share * o.second[i]
	}
}

// spread reaches from the mesh to the mesh with what is hidden, and by the sum of
// the doubts beyond; all about the mesh's centroid.
func (p Properties) spread(hidden lump, doubts []lump) spread {
	var s spread
	volume := p.Volume + hidden.volume
	offset := r3.Scale(1/volume, r3.Vec{X: hidden.first[0], Y: hidden.first[1], Z: hidden.first[2]})
	c, o := [3]float64{p.Centroid.X, p.Centroid.Y, p.Centroid.Z}, [3]float64{offset.X, offset.Y, offset.Z}
	extra := hidden.inertia()
	central := point(volume, offset).inertia() // what the shift of the centroid takes away
	var full, doubt [3][3]float64
	for i := range 3 {
		far := 0.0
		for _, d := range doubts {
			far += math.Abs(d.first[i]) / volume
		}
		s.Centroid[i] = between(c[i], c[i]+o[i], far)
		for j := range 3 {
			full[i][j] = p.Inertia[i][j] + extra[i][j] - central[i][j]
			for _, d := range doubts {
				doubt[i][j] += math.Abs(d.inertia()[i][j])
			}
			s.Inertia[i][j] = between(p.Inertia[i][j], full[i][j], doubt[i][j])
		}
	}
	s.Principal = p.principalSpread(full, doubts)
	return s
}

// principalSpread takes the doubts along the principal axes of the mesh: to first
// order a moment changes by e'J e, with e its axis.
func (p Properties) principalSpread(full [3][3]float64, doubts []lump) (out [3]materials.Range) {
	var eigen mat.EigenSym
	size := largest(p.Inertia)
	if !(size > 0) || math.IsInf(size, 0) || !eigen.Factorize(symmetric(p.Inertia, size), true) {
		return out
	}
	mesh, exact := principal(p.Inertia), principal(full)
	var axes mat.Dense
	eigen.VectorsTo(&axes)
	for k := range out {
		e := axes.ColView(k)
		far := 0.0
		for _, d := range doubts {
			far += math.Abs(mat.Inner(e, symmetric(d.inertia(), 1), e))
		}
		out[k] = between(mesh[k], exact[k], far)
	}
	return out
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

// between is a range about a nominal value that holds another one and a doubt
// on either side of it.
func between(nominal, other, doubt float64) materials.Range {
	return materials.Range{Low: min(nominal, other-doubt), Nominal: nominal, High: max(nominal, other+doubt)}
}

// times returns the range of a product with a quantity that is not negative.
func times(r, positive materials.Range) materials.Range {
	out := materials.Range{Low: math.Inf(1), Nominal: r.Nominal * positive.Nominal, High: math.Inf(-1)}
	for _, a := range [2]float64{r.Low, r.High} {
		for _, b := range [2]float64{positive.Low, positive.High} {
			out.Low, out.High = min(out.Low, a*b), max(out.High, a*b)
		}
	}
	return out
}
