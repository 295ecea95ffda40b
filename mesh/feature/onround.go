package feature

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

func (r Round) cylinder() cylinder {
	return cylinder{centre: r.Centre, axis: r.Axis, radius: r.Radius}
}

// roundOff and roundShare are how far from a cylinder its corners may lie, in mm and
// as a share of the radius: the rounding of a kernel, and of small bores the sagitta
// of 70 chords.
const roundOff, roundShare = 2e-3, 0.004

// tolerance returns how far from a cylinder its corners may lie, mm.
func (s *surface) tolerance(radius float64) float64 {
	return max(noises*s.noise, min(roundOff, roundShare*radius))
}

// creases returns the distinct ends of the edges at which two of the faces meet
// in different planes: points of the drawn surface itself. A corner within a
// chord, where a mesher split it or another wall cuts it, is none. With fewer
// than six there is nothing to choose from and every corner is returned.
func (s *surface) creases(faces []int32) []r3.Vec {
	s.members.clear()
	for _, f := range faces {
		s.members.add(f)
	}
	s.vertices.clear()
	var points []r3.Vec
	for _, f := range faces {
		v := s.Mesh.Faces[f]
		for k, g := range s.neighbour[f] {
			if g < 0 || s.plane[f] == s.plane[g] || !s.members.has(g) {
				continue
			}
			for _, id := range [2]int32{v[k], v[(k+1)%3]} {
				if s.vertices.add(id) {
					points = append(points, s.Vertices[id])
				}
			}
		}
	}
	if len(points) < fewestPoints {
		return s.corners(faces)
	}
	return points
}

// lean returns the component of a face's normal along the radius.
func (s *surface) lean(c cylinder, f int32) float64 {
	a, b, d := s.Triangle(int(f))
	_, radial := c.at(r3.Scale(1./3, r3.Add(a, r3.Add(b, d))))
	if l := vector.Length(radial); l > 0 {
		return r3.Dot(s.normal[f], radial) / l
	}
	return 0
}
