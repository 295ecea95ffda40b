package fit

import (
	"math"

	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// spigot is a round part that stands out of a face: a locating spigot, a pin, a
// boss around a hole.
type spigot struct {
	feature.Round
	out      r3.Vec // unit, from its foot to its top
	locates  bool   // something else lies on the face it stands on, or nothing goes through it
	flats    []int  // its flats, by index of the flat face
	top      []int  // the flat faces at its top
	shoulder r3.Vec // a point of the axis at its foot
}

// spigotArc is the arc in degrees from which an outer round is a spigot: with less
// than half a circle it does not centre anything.
const spigotArc = 180.0

// screwBoss is the least outer diameter of a boss over that of the hole through
// it when the hole takes a screw: bosses are twice as wide as their screws (common
// practice), which is 1.6 (M8) to 1.73 times a coarse hole of ISO 273, less what a
// mesh leaves of both. TestABossBearsTheHeadOfItsScrew.
const screwBoss = 1.58

// onAxis is how far beside a spigot's axis the hole through it may lie, over its
// radius: one moved by a tenth of a millimetre is still its hole.
const onAxis = 0.02

// findSpigots lists outer rounds that go most of the way round and stand on a
// face across their axis.
func (s *shape) findSpigots() []spigot {
	var out []spigot
	for _, r := range s.Features.Rounds {
		if r.Concave || r.ArcDeg < spigotArc {
			continue
		}
		foot, dir, ok := s.footOf(r)
		if !ok {
			continue
		}
		p := spigot{Round: r, out: dir, locates: true}
		p.shoulder = r3.Add(r.Centre, r3.Scale(-(r.To-r.From)/2, dir))
		for k := range s.flats {
			switch f := &s.flats[k]; {
			case s.isFlatOf(f, r):
				p.flats = append(p.flats, k)
			case s.isTopOf(f, p):
				p.top = append(p.top, k)
			}
		}
		for _, h := range s.holes {
			along, radial := axial(r, h.Centre)
			if r3.Norm(radial) < onAxis*r.Radius+coincide && math.Abs(r3.Dot(h.Axis, r.Axis)) > sameWay && math.Abs(along) < (h.Depth+r.To-r.From)/2 {
				_, bearing := bearingSeat(h.Diameter)
				metric, _ := screwsFor(h.Diameter, true)
				screw := len(metric) > 0 && !bearing && r.Radius*2 >= screwBoss*h.Diameter
				p.locates = !screw && len(s.flats[foot].mouths) > 0
			}
		}
		out = append(out, p)
	}
	return out
}

// footOf finds the flat face that a round stands on and the direction from it.
func (s *shape) footOf(r feature.Round) (foot int, dir r3.Vec, ok bool) {
	for _, f := range r.Faces {
		for _, g := range s.Features.Skin.Neighbour[f] {
			if g < 0 || s.flatOf[g] < 0 {
				continue
			}
			k := int(s.flatOf[g])
			n := s.flats[k].Normal
			if math.Abs(r3.Dot(n, r.Axis)) < sameWay || s.flats[k].facet {
				continue
			}
			// the face of a foot reaches outside of the round, that of a top inside
			_, radial := axial(r, s.farthest(k, r))
			along, _ := axial(r, s.flats[k].Centroid)
			if r3.Norm(radial) > r.Radius+coincide && along*r3.Dot(n, r.Axis) < 0 {
				return k, n, true
			}
		}
	}
	return 0, r3.Vec{}, false
}

// farthest returns the corner of a face furthest from a round's axis.
func (s *shape) farthest(face int, r feature.Round) (p r3.Vec) {
	most := -1.0
	for _, c := range s.flats[face].loops[0].corners {
		if _, radial := axial(r, c); r3.Norm(radial) > most {
			most, p = r3.Norm(radial), c
		}
	}
	return p
}

// isFlatOf reports whether a face is a flat cut into an outer round.
func (s *shape) isFlatOf(f *flat, r feature.Round) bool {
	if f.facet || math.Abs(r3.Dot(f.Normal, r.Axis)) > across {
		return false
	}
	along, radial := axial(r, f.Centroid)
	far := r3.Dot(radial, f.Normal)
	return far > 0 && far < r.Radius && math.Abs(along) < (r.To-r.From)/2 && r3.Norm(radial) < r.Radius
}

// isTopOf reports whether a face tops a spigot.
func (s *shape) isTopOf(f *flat, p spigot) bool {
	along, radial := axial(p.Round, f.Centroid)
	return r3.Dot(f.Normal, p.out) > sameWay && r3.Norm(radial) < p.Radius && math.Abs(along) > (p.To-p.From)/2-coincide &&
		math.Abs(along) < (p.To-p.From)/2+mouthDepth && along*r3.Dot(p.out, p.Axis) > 0
}

// moved returns the spigot as a motion lays it.
func (p spigot) moved(l *laid) spigot {
	p.Round = movedRounds([]feature.Round{p.Round}, l.motion)[0]
	p.out, p.shoulder = l.motion.Turn(p.out), l.motion.Apply(p.shoulder)
	return p
}
