package feature

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

const (
	// coneSlack is how many tolerances of its bore a corner of a cone may lie off: a
	// cone is fitted by one slope to a bore that was fitted before it, so their errors
	// add, and its own rounding with them.
	coneSlack = 3
	// farEnough is how many tolerances beyond the bore's end a crease must lie to tell
	// the slope to a fifth.
	farEnough = 5
	// leastFlare is the least part of a cone's normal along the axis, and across it: a
	// countersink of 60 to 120 degrees has 0.5 to 0.87 of both, a chamfer 0.7; what has
	// less of the one is a wall, what has less of the other a floor.
	leastFlare = 0.15
)

// cone is an edge break or countersink at the end of a bore; zero for none.
type cone struct {
	radius float64 // at its wide end, mm
	length float64 // along the axis, mm
}

// coneAt finds the cone that widens outwards from one end of a bore (side -1
// for the end at From, 1 for To). It starts from the faces next to the wall that
// look inwards and outwards at once, and goes on over all whose corners lie on radius = bore radius + slope * distance
// beyond the end, or within a chord of it.
func (s *surface) coneAt(r Round, side float64) cone {
	k := coneGrowth{surface: s, cylinder: r.cylinder(), side: side, end: r.To, tol: coneSlack * s.tolerance(r.Radius)}
	if side < 0 {
		k.end = -r.From
	}
	k.start(r.Faces)
	if len(k.faces) == 0 || !k.measure() {
		return cone{}
	}
	k.spread(k.onCone)
	if !k.measure() || s.arc(k.cylinder, k.faces) < FullArc {
		return cone{}
	}
	var found cone
	for _, p := range s.corners(k.faces) {
		t, radius := k.place(p)
		found.radius, found.length = max(found.radius, radius), max(found.length, t)
	}
	// the wall of a crossing hole looks both ways too, but is no cone
	for _, p := range s.creases(k.faces) {
		t, radius := k.place(p)
		if math.Abs(radius-r.Radius-k.slope*t) > k.tol {
			return cone{}
		}
	}
	return found
}

// coneGrowth is a cone that is being grown from the end of a bore.
type coneGrowth struct {
	*surface
	cylinder
	side, end, tol float64
	slope          float64 // radius over length
	faces          []int32
}

// place returns how far beyond the bore's end a point is, and its radius.
func (k *coneGrowth) place(p r3.Vec) (beyond, radius float64) {
	along, radial := k.at(p)
	return k.side*along - k.end, vector.Length(radial)
}

// start collects the faces next to the wall that flare.
func (k *coneGrowth) start(wall []int32) {
	k.reached.clear()
	for _, f := range wall {
		k.reached.add(f)
	}
	for _, f := range wall {
		for _, g := range k.neighbour[f] {
			if g < 0 || k.reached.has(g) || !k.flares(k.cylinder, g, k.side) || !k.beyond(g) {
				continue
			}
			k.reached.add(g)
			k.faces = append(k.faces, g)
		}
	}
}

// beyond reports whether a face reaches past the bore's end.
func (k *coneGrowth) beyond(f int32) bool {
	a, b, d := k.Triangle(int(f))
	for _, p := range [3]r3.Vec{a, b, d} {
		if t, _ := k.place(p); t > k.tol {
			return true
		}
	}
	return false
}

// spread floods from the faces over those that flare and that pass.
func (k *coneGrowth) spread(passes func(f int32) bool) {
	for i := 0; i < len(k.faces); i++ {
		for _, g := range k.neighbour[k.faces[i]] {
			if g >= 0 && !k.reached.has(g) && k.flares(k.cylinder, g, k.side) && passes(g) {
				k.reached.add(g)
				k.faces = append(k.faces, g)
			}
		}
	}
}

// measure takes the slope from the creases of the faces: they lie on the drawn
// cone. It reports whether there are any beyond the end.
func (k *coneGrowth) measure() bool {
	var slopes []float64
	for _, p := range k.creases(k.faces) {
		if t, radius := k.place(p); t > farEnough*k.tol {
			slopes = append(slopes, (radius-k.radius)/t)
		}
	}
	if len(slopes) == 0 {
		return false
	}
	slices.Sort(slopes)
	k.slope = slopes[len(slopes)/2]
	return k.slope > 0
}

// onCone reports whether a face's corners lie on the cone or within a chord of
// it.
func (k *coneGrowth) onCone(f int32) bool {
	a, b, d := k.Triangle(int(f))
	for _, p := range [3]r3.Vec{a, b, d} {
		t, radius := k.place(p)
		drawn := k.radius + k.slope*t
		within := k.tol
		if t < -k.tol || radius > drawn+within || radius < drawn*chordDepth-within {
			return false
		}
	}
	return true
}

// flares reports whether a face looks towards the axis and outwards, as that
// of a cone widening to the given side does.
func (s *surface) flares(c cylinder, f int32, side float64) bool {
	out := side * r3.Dot(s.normal[f], c.axis)
	return out > leastFlare && s.lean(c, f) < -leastFlare
}
