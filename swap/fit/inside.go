package fit

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// findInside marks the flat faces that lie within pockets and openings, or belong
// to spigots: those are compared as such or not at all.
func (s *shape) findInside() {
	s.inside = make([]bool, len(s.flats))
	for k := range s.flats {
		f := &s.flats[k]
		for n, l := range f.loops {
			if n == 0 || l.falls < mostly {
				continue
			}
			walls, _ := s.through(l, f.Normal)
			for _, g := range walls {
				for _, h := range append([]int32{g}, s.Features.Skin.Neighbour[g][:]...) {
					if h < 0 || s.flatOf[h] < 0 {
						continue
					}
					// walls, and floors that look as the mouth does and lie deeper
					o := int(s.flatOf[h])
					s.inside[o] = s.inside[o] || h == g || o != k && r3.Dot(s.flats[o].Normal, f.Normal) > wallSlope &&
						r3.Dot(f.Normal, r3.Sub(s.flats[o].Centroid, f.Centroid)) < -coincide
				}
			}
		}
	}
	for _, p := range s.spigots {
		for _, k := range slices.Concat(p.flats, p.top) {
			s.inside[k] = true
		}
	}
}
