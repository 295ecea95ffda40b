package fit

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/feature"
)

// notch is a slot that is open to the side of the part: its round end, through the
// part from face to face.
type notch struct {
	feature.Round
	deep r3.Vec // unit, from its open side to its end
}

// findNotches lists the half rounds through the part that belong to no opening.
func (s *shape) findNotches() []notch {
	var out []notch
	for k, r := range s.Features.Rounds {
		if !r.Concave || r.ArcDeg < halfRound || r.ArcDeg >= feature.FullArc || !s.throughout(r) ||
			slices.ContainsFunc(s.openings, func(o opening) bool { return slices.Contains(o.rounds, k) }) {
			continue
		}
		var deep r3.Vec
		for _, f := range r.Faces {
			a, b, c := s.Mesh.Triangle(int(f))
			_, radial := axial(r, r3.Scale(1./3, r3.Add(a, r3.Add(b, c))))
			deep = r3.Add(deep, r3.Scale(r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))), radial))
		}
		if r3.Norm(deep) > 0 {
			out = append(out, notch{r, r3.Unit(deep)})
		}
	}
	return out
}

// throughout reports whether a round wall ends at faces that look away from it on
// both sides: one that stands on the floor of a pocket does not.
func (s *shape) throughout(r feature.Round) bool {
	var up, down bool
	for _, f := range r.Faces {
		for _, g := range s.Features.Skin.Neighbour[f] {
			if g < 0 || s.flatOf[g] < 0 {
				continue
			}
			n := s.flats[s.flatOf[g]].Normal
			along, _ := axial(r, s.flats[s.flatOf[g]].Centroid)
			look := r3.Dot(n, r.Axis)
			up = up || look > sameWay && along > 0
			down = down || look < -sameWay && along < 0
		}
	}
	return up && down
}
