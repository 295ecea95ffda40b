package swap

import (
	"math"
	"slices"
)

// secondOpinion bends every part that is a beam as one, returns the load cases with its
// curve for the figures, and warns where beam and solid differ by more than both their
// errors.
func secondOpinion(m mechanics, p placed, directions []direction) (out []direction, r remarks) {
	if m.method == ByBeam {
		return directions, r
	}
	out = slices.Clone(directions)
	for i, d := range directions {
		for side := range d.on {
			found := d.of(side)
			if !d.atEnds() || found.refused != "" {
				continue
			}
			asBeam := m.respondBeam(p.part(side), side, d.loadCase)
			if asBeam.refused != "" {
				continue
			}
			found.bent = asBeam.bent
			out[i] = out[i].with(side, found)
			off := asBeam.perModulus/found.perModulus - 1
			if math.Abs(off) > found.within+asBeam.within {
				r = r.warning("%s, %s: as a beam it is %s %% %s than the solid says, more than both errors: look at how it is held",
					sideName(side), d.words(), number(100*math.Abs(off)), stiffer(off))
			}
		}
	}
	return out, r
}

func stiffer(off float64) string {
	if off > 0 {
		return "stiffer"
	}
	return "softer"
}
