package feature

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

// round measures a grown patch. A patch of fewer than three chords is none.
func (s *surface) round(c cylinder, faces []int32) (Round, bool) {
	slices.Sort(faces)
	r := Round{Axis: c.axis, Radius: c.radius, Faces: faces}
	inward := 0.0
	chords := map[int32]bool{}
	for _, f := range faces {
		inward -= s.area[f] * s.lean(c, f)
		if len(chords) < 3 {
			chords[s.plane[f]] = true
		}
	}
	if len(chords) < 3 {
		return Round{}, false
	}
	r.Concave = inward > 0
	low, high := s.ends(c, faces)
	r.Centre = r3.Add(c.centre, r3.Scale((low+high)/2, c.axis))
	r.From, r.To = (low-high)/2, (high-low)/2
	r.ArcDeg = s.arc(c, faces)
	return r, r.ArcDeg >= FullArc || s.evenChords(c, faces)
}

// oddEnd is how many times wider than the widest whole chord the chord that a
// face at the end of an arc is a piece of may be. A flat between two rounded
// corners, with the chord on either side of it, lies on a circle whatever the
// shape: four points of a trapezoid do. The faces beyond are pieces of chords
// 2 + c/f times as wide as that of the flat, f being its length and c that of a
// chord, while chords of a circle drawn unevenly by a sixth differ by 1.4.
// TestRoundedCornersBesideFlats.
const oddEnd = 1.9

// chord is what one plane of a round wall shows of a chord.
type chord struct {
	low, high     float64 // where it begins and ends along itself, mm
	lowOn, highOn bool    // whether it ends on the circle there
	span          float64 // of the whole chord, degrees
}

// add takes a corner of the chord into account.
func (k *chord) add(at float64, on bool, within float64) {
	switch {
	case at < k.low-within:
		k.low, k.lowOn = at, on
	case at < k.low+within:
		k.lowOn = k.lowOn || on
	}
	switch {
	case at > k.high+within:
		k.high, k.highOn = at, on
	case at > k.high-within:
		k.highOn = k.highOn || on
	}
}

// evenChords reports whether the pieces of chords at the ends of an arc could
// belong to chords like the others.
func (s *surface) evenChords(c cylinder, faces []int32) bool {
	within := s.tolerance(c.radius)
	chords := map[int32]*chord{}
	for _, f := range faces {
		if s.sliver[f] {
			continue
		}
		n := s.planes[s.plane[f]].Normal
		k := chords[s.plane[f]]
		if k == nil {
			k = &chord{low: math.Inf(1), high: math.Inf(-1)}
			chords[s.plane[f]] = k
		}
		for _, id := range s.Mesh.Faces[f] {
			_, radial := c.at(s.Vertices[id])
			l := vector.Length(radial)
			on := math.Abs(l-c.radius) <= within
			k.add(r3.Dot(radial, r3.Cross(c.axis, n)), on, within)
			if on { // a chord looks half its span away from the radius at its end
				k.span = max(k.span, 2*vector.Degrees(math.Acos(min(1, math.Abs(r3.Dot(radial, n))/l))))
			}
		}
	}
	whole, pieces := 0.0, 0.0
	for _, k := range chords {
		if k.lowOn && k.highOn {
			whole = max(whole, k.span)
		} else {
			pieces = max(pieces, k.span)
		}
	}
	return whole == 0 || pieces <= oddEnd*whole
}

// alongWall is the cosine to the axis from which an edge runs along the wall: it is
// that of a slit, or of the end of an arc, and no end of the wall.
const alongWall = 0.9

// ends returns where the patch begins and ends along the axis: the mean, every
// 10 degrees, of the outermost edges there, so that a slanted end counts by its
// middle and a hole across the wall does not count.
func (s *surface) ends(c cylinder, faces []int32) (low, high float64) {
	const sectors = 36
	var from, to [sectors]float64
	for k := range from {
		from[k], to[k] = math.Inf(1), math.Inf(-1)
	}
	s.members.clear()
	for _, f := range faces {
		s.members.add(f)
	}
	turn := c.turns()
	for _, f := range faces {
		ids := s.Mesh.Faces[f]
		for k, g := range s.neighbour[f] {
			if g >= 0 && s.members.has(g) {
				continue
			}
			a, b, apex := s.Vertices[ids[k]], s.Vertices[ids[(k+1)%3]], s.Vertices[ids[(k+2)%3]]
			if math.Abs(r3.Dot(r3.Sub(b, a), c.axis)) > alongWall*vector.Length(r3.Sub(b, a)) {
				continue // runs along the wall: the edge of a slit
			}
			mid := r3.Scale(0.5, r3.Add(a, b))
			down := r3.Dot(r3.Sub(mid, apex), c.axis) < 0
			atA, _ := c.at(a)
			atB, _ := c.at(b)
			first, last := turn(a)*sectors, turn(b)*sectors
			if last < first {
				first, last, atA, atB = last, first, atB, atA
			}
			if last-first > sectors/2 { // across the seam
				first, last, atA, atB = last, first+sectors, atB, atA
			}
			for n := math.Ceil(first - 0.5); n+0.5 < last; n++ {
				along := atA + (n+0.5-first)/(last-first)*(atB-atA)
				if at := int(n) % sectors; down {
					from[at] = min(from[at], along)
				} else {
					to[at] = max(to[at], along)
				}
			}
		}
	}
	return finiteMean(from[:]), finiteMean(to[:])
}

// finiteMean returns the mean of the finite values, 0 for none.
func finiteMean(values []float64) float64 {
	sum, n := 0.0, 0.0
	for _, x := range values {
		if !math.IsInf(x, 0) {
			sum, n = sum+x, n+1
		}
	}
	if n == 0 {
		return 0
	}
	return sum / n
}

// arc returns how many degrees of the circle the faces cover, in steps of half
// a degree.
func (s *surface) arc(c cylinder, faces []int32) float64 {
	const steps = 720
	var covered [steps]bool
	turn := c.turns()
	for _, f := range faces {
		a, b, d := s.Triangle(int(f))
		at := [3]float64{turn(a) * steps, turn(b) * steps, turn(d) * steps}
		// measure from the first corner, as the face spans less than half a turn
		low, high := 0.0, 0.0
		for k := 1; k < 3; k++ {
			d := math.Remainder(at[k]-at[0], steps)
			low, high = min(low, d), max(high, d)
		}
		for k := math.Floor(at[0] + low); k < at[0]+high; k++ {
			covered[(int(k)+2*steps)%steps] = true
		}
	}
	n := 0
	for _, is := range covered {
		if is {
			n++
		}
	}
	return 360 * float64(n) / steps
}

// joinArcs joins patches of one cylinder that a slot or a slit has parted, where
// they stand side by side.
func joinArcs(s *surface, rounds []Round) []Round {
	var out []Round
	for _, r := range rounds {
		joined := false
		for i, o := range out {
			if r.Concave != o.Concave || !sameCylinder(s, r, o) {
				continue
			}
			faces := slices.Concat(o.Faces, r.Faces)
			if j, ok := s.round(o.cylinder().refine(s.creases(faces)), faces); ok {
				out[i], joined = j, true
				break
			}
		}
		if !joined {
			out = append(out, r)
		}
	}
	return out
}

// sameCylinder reports whether two rounds are one that a slot has parted.
func sameCylinder(s *surface, a, b Round) bool {
	if math.Abs(a.Radius-b.Radius) > 2*s.tolerance(a.Radius) {
		return false
	}
	if math.Abs(r3.Dot(a.Axis, b.Axis)) < math.Cos(oneLine*math.Pi/180) {
		return false
	}
	along, radial := a.cylinder().at(b.Centre)
	if vector.Length(radial) > 2*s.tolerance(a.Radius) {
		return false
	}
	return math.Abs(along) < min(a.To, b.To)
}

// roundOf returns for every face the index of its round, -1 for none.
func (s *surface) roundOf(rounds []Round) []int32 {
	out := make([]int32, len(s.Mesh.Faces))
	for f := range out {
		out[f] = -1
	}
	for i, r := range rounds {
		for _, f := range r.Faces {
			out[f] = int32(i)
		}
	}
	return out
}
