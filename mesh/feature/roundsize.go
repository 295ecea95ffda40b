package feature

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
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
	return r, true
}

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
			if math.Abs(r3.Dot(r3.Sub(b, a), c.axis)) > 0.9*length(r3.Sub(b, a)) {
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

func sameCylinder(s *surface, a, b Round) bool {
	if a.ArcDeg+b.ArcDeg > 361 || math.Abs(a.Radius-b.Radius) > 2*s.tolerance(a.Radius) {
		return false
	}
	if math.Abs(r3.Dot(a.Axis, b.Axis)) < math.Cos(0.5*math.Pi/180) {
		return false
	}
	along, radial := a.cylinder().at(b.Centre)
	if length(radial) > 2*s.tolerance(a.Radius) {
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
