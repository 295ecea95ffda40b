package mass

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh"
)

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
