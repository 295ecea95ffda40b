package fit

import (
	"math"

	"swapworth/mesh"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// shape is everything of a part that is compared, in the frame of its file.
type shape struct {
	Part
	body
	flats    []flat
	flatOf   []int32 // mesh face -> index of its flat face, -1 for none
	openings []opening
	spigots  []spigot
	notches  []notch
	inside   []bool // flat faces within pockets and openings, by index
}

func newShape(p Part) *shape {
	s := &shape{Part: p, body: newBody(p)}
	s.flats = flats(p, func(d r3.Vec) float64 { return support(s.all, d) })
	s.flatOf = make([]int32, len(p.Mesh.Faces))
	for f := range s.flatOf {
		s.flatOf[f] = -1
	}
	for k, f := range s.flats {
		for _, id := range f.Faces {
			s.flatOf[id] = int32(k)
		}
	}
	s.findMouths()
	s.openings = s.findOpenings()
	s.spigots = s.findSpigots()
	s.notches = s.findNotches()
	s.findInside()
	return s
}

const (
	// washerRing is the radius at which the face around a mouth is looked for, over
	// that of the mouth: washers are 1.8 times as wide as their holes (ISO 7089 over
	// ISO 273), so the middle of the ring they press on is at 1.4.
	washerRing = 1.4
	// ringPoints is how many points of the ring are looked at: a seat that reaches
	// round a sixth of the mouth is met by two.
	ringPoints = 12
	// mouthDepth is how far above the end of a bore its face may lie, mm: what
	// rounds the edge of the mouth.
	mouthDepth = 3.0
)

// mouthRing returns points around the mouth of a hole at its end on the side of d.
func mouthRing(h feature.Hole, d r3.Vec) []r3.Vec {
	end := h.Mouth()
	if r3.Dot(d, h.Axis) < 0 {
		end = h.Bottom()
	}
	radius := max(h.Diameter/2+h.Chamfer, h.HeadDiameter/2)
	plane, err := mesh.PlaneFromNormal(end, d)
	if err != nil {
		return nil
	}
	out := make([]r3.Vec, ringPoints)
	for k := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / ringPoints)
		out[k] = plane.Point(r2.Scale(washerRing*radius, r2.Vec{X: cos, Y: sin}))
	}
	return out
}

// findMouths notes on every flat face which holes open in it.
func (s *shape) findMouths() {
	for k, h := range s.holes {
		for _, d := range ends2(h) {
			if f, _ := s.seatOf(h, d); f >= 0 {
				s.flats[f].mouths = append(s.flats[f].mouths, k)
			}
		}
	}
}

// ends2 lists the outward directions of a hole's open ends.
func ends2(h feature.Hole) []r3.Vec {
	if h.Open {
		return []r3.Vec{h.Axis, r3.Scale(-1, h.Axis)}
	}
	return []r3.Vec{h.Axis}
}

// seatOf returns the flat face around a hole's end that looks along d, -1 for
// none, and the points of the ring that lie on it.
func (s *shape) seatOf(h feature.Hole, d r3.Vec) (face int, on []r3.Vec) {
	face = -1
	points := mouthRing(h, d)
	for k := range s.flats {
		f := &s.flats[k]
		if f.facet || r3.Dot(f.Normal, d) < sameWay {
			continue
		}
		var here []r3.Vec
		for _, p := range points {
			t, ok := f.above(p, d)
			if ok && t > -edgeMargin && t < mouthDepth {
				here = append(here, r3.Add(p, r3.Scale(t, d)))
			}
		}
		if len(here) > len(on) {
			face, on = k, here
		}
	}
	return face, on
}

// above returns how far along d from p the face is met, negative behind p.
func (f *flat) above(p, d r3.Vec) (t float64, ok bool) {
	t = r3.Dot(f.Normal, r3.Sub(f.Centroid, p)) / r3.Dot(f.Normal, d)
	return t, f.contains(f.plane.Project(r3.Add(p, r3.Scale(t, d))))
}

// laid is a part as a motion lays it into the frame of the other.
type laid struct {
	*shape
	motion, back mesh.Transform
	holes        []feature.Hole
	rounds       []feature.Round
	looks        []r3.Vec // normals of the flat faces
}

func (s *shape) lay(t mesh.Transform) *laid {
	l := &laid{shape: s, motion: t, back: t.Inverse(), holes: movedHoles(s.body.holes, t), rounds: movedRounds(s.Features.Rounds, t)}
	l.looks = make([]r3.Vec, len(s.flats))
	for k, f := range s.flats {
		l.looks[k] = t.Turn(f.Normal)
	}
	return l
}

// level returns where along n from p the part has a flat face that looks along n
// within an angle, the nearest no further than the limit, and which.
func (l *laid) level(p, n r3.Vec, cosine, limit float64) (t float64, face int, ok bool) {
	q, d := l.back.Apply(p), l.back.Turn(n)
	face, t = -1, math.Inf(1)
	for k := range l.flats {
		if r3.Dot(l.looks[k], n) < cosine {
			continue
		}
		f := &l.flats[k]
		far := r3.Dot(f.Normal, r3.Sub(f.Centroid, q)) / r3.Dot(f.Normal, d)
		if math.Abs(far) > limit || math.Abs(far) >= math.Abs(t) {
			continue
		}
		if f.contains(f.plane.Project(r3.Add(q, r3.Scale(far, d)))) {
			t, face = far, k
		}
	}
	return t, face, face >= 0
}
