package swap

import (
	"math"

	"swapworth/mesh/asmade"
)

// What a mill gets wrong comes in two parts, each the same for all faces it touches: how
// deep it goes, which makes the part thinner or thicker along its thinnest direction,
// floors of pockets included, and how wide its cutter runs, which moves the outline and
// all upright walls. Bores are left out: a drill makes them, and their class moves mass
// and stiffness of a plate by less than a tenth of what its thickness does.
const (
	depth = iota
	outline
	sizeErrors
)

// defaultClass is that of ISO 2768-1 which a part is taken to keep where nobody said
// one: what drawings of milled parts ask as a rule (common practice).
const defaultClass = asmade.Medium

// bySize is the logarithm of a quantity at the upper limit over that as drawn, for each
// error. Between the limits it goes as a power of the size.
type bySize [sizeErrors]float64

// loose is how far the sizes may move the quantity, as a share.
func (z bySize) loose() float64 { return z[depth] + z[outline] }

// tolerance is how far the sizes of a part may be off, and what that does to its mass.
type tolerance struct {
	deviations [3]float64 // that are permitted, mm, along the part's own axes
	mass       bySize
}

// Class is the tolerance that the parts are taken to keep.
func (m Making) Class() asmade.Class {
	if m.Tolerance == "" {
		return defaultClass
	}
	return m.Tolerance
}

// tolerancesOf finds what the tolerance does to the mass of both parts.
func tolerancesOf(shapes [2]shape, m Making) (out [2]tolerance, r remarks) {
	if m.Tolerance == "" {
		r = r.assuming("Sizes are taken to keep class %s of ISO 2768-1: give --tolerance", defaultClass)
	}
	for side, p := range shapes {
		var err error
		if out[side], err = toleranceOf(p.made, m.Class()); err != nil {
			r = r.warning("%s: its sizes count as exact: %v", sideName(side), err)
		}
	}
	return out, r
}

func toleranceOf(p asmade.Part, class asmade.Class) (tolerance, error) {
	deviations, err := p.Deviations(class)
	if err != nil {
		return tolerance{}, err
	}
	var by bySize
	for e := range sizeErrors {
		lower := atLower(p, deviations, e)
		if m, err := asmade.Drifted(p, lower); err == nil {
			by[e] = math.Log(p.Mesh.SignedVolume() / m.SignedVolume())
		} else { // faces that cannot be moved: as a solid bar or plate
			by[e] = solidly(p, lower)
		}
	}
	return tolerance{deviations, by}, nil
}

// atLower is how far faces move along the part's own axes where it is at the lower limit
// of an error, mm.
func atLower(p asmade.Part, deviations [3]float64, e int) (by [3]float64) {
	thin := p.Thinnest()
	for k := range by {
		if (k == thin) == (e == depth) {
			by[k] = -deviations[k] / 2
		}
	}
	return by
}

// solidly is the share that faces moved so have of the mass of a solid bar.
func solidly(p asmade.Part, by [3]float64) float64 {
	sum := 0.0
	for k, d := range p.Square {
		sum -= 2 * by[k] / p.Thickness(d)
	}
	return sum
}
