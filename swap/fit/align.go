package fit

import (
	"fmt"
	"math"
	"slices"

	"swapworth/mesh"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// Method says how two parts were brought into one frame.
type Method string

// The methods, in the order in which they are tried.
const (
	Given         Method = "given"          // the files share a frame
	HolePattern   Method = "hole pattern"   // most holes coincide after a rigid motion
	PrincipalAxes Method = "principal axes" // by centroid and principal axes of inertia
)

// alignment is the rigid motion that takes the new part into the old part's
// frame.
type alignment struct {
	Method  Method
	Motion  mesh.Transform // new -> old
	Matched int            // holes that coincide within 0.02 mm

	// Alike counts the motions that do as well as this one, itself included.
	Alike int

	// Doubt says why the frames may be wrong; empty when there is no reason.
	Doubt string

	trial trial
}

// guess reports whether nothing but a look at the masses brought the parts
// together, and not surely.
func (a alignment) guess() bool { return a.Method == PrincipalAxes && a.Doubt != "" }

// String describes the alignment in one line.
func (a alignment) String() string {
	switch a.Method {
	case Given:
		return "the two files share a frame"
	case HolePattern:
		return fmt.Sprintf("brought together by the hole pattern, %d holes", a.Matched)
	}
	return "brought together by the principal axes"
}

// coincide is the distance in mm below which two axes or faces are one: drawings are
// dimensioned in hundredths, and what is measured on a mesh is good to 0.005.
const coincide = 0.02

// align brings a new part into the old part's frame. Motions that lay a pair of
// holes on a pair of holes, principal axes on principal axes or sides on sides are
// tried; the files' own frame is kept where none of them matches more holes or
// lays the part on completely. Parts without a common hole pattern keep their
// frames where their boxes are flush; else they are laid centroid on centroid and
// axis on axis. With same, the given frames are kept unasked.
func align(old, new *shape, same bool) alignment {
	given := judge(old, new, mesh.Identity())
	if given.complete() || same {
		return alignment{Method: Given, Motion: given.motion, Matched: given.matched, trial: given}
	}
	pattern := bestOf(old, new, patterns(old.body, new.body, rigid))
	axes := judge(old, new, bestAxes(old.body, new.body).motion)
	sides := bestOf(old, new, bySides(old, new, rigid))
	if pattern.matched < 2 || sides.complete() && !pattern.complete() {
		pattern = best(pattern, sides)
	}
	if axes.complete() && !pattern.complete() {
		pattern = axes
	}
	a := choose(old.body, new.body, given, pattern, axes)
	if a.Method != Given {
		a.Alike = alike(old, a.trial, pattern.alike, sides.alike)
	}
	return a
}

// kept is how much more of the surface another motion must match, over what the
// files' own frame does, when it matches no more holes: less may come from a face
// of one part that happens to lie in that of another. TestALighterPartMovedAlongItsHoles.
const kept = 0.15

// Limits of unlikeness (see body.unlike) over the size of parts without common
// holes, for which nothing else says whether their files share a frame.
const (
	// nearBy is how unlike parts may be in a frame that they share: by a quarter of
	// their size they do not lie on each other. TestAGuessedMotionIsNotOK.
	nearBy = 0.25
	// redrawn is how unlike parts are, laid axis on axis, that are two shapes, not
	// one that was moved. TestPlainPartsThatShareSidesShareAFrame.
	redrawn = 0.01
	// grownAside is how many times more unlike than middle on middle a part is that
	// grew away from where it was: 3.1 for a box that grew on one side, 3.9 where it
	// grew on three, far more for one turned on its corner.
	grownAside = 4
	// otherShape is the unlikeness from which a motion is a guess: a carriage laid on
	// its own redesign comes to 0.02. TestAGuessedMotionIsNotOK.
	otherShape = 0.05
	// nearMoments is the difference of two principal moments, over the largest, below
	// which their axes are not determined: facets of twelve chords change a moment of
	// a disc by 5 %, those of 24 by 1.
	nearMoments = 0.02
)

// choose settles which of the trials stands.
func choose(old, new body, given, pattern, axes trial) alignment {
	least := min(len(old.holes), len(new.holes))
	size := max(old.size, new.size)
	by := func(m Method, t trial) alignment {
		return alignment{Method: m, Motion: t.motion, Matched: t.matched, trial: t}
	}
	found := HolePattern
	if pattern.matched == 0 {
		found = PrincipalAxes
	}
	switch {
	case pattern.complete():
		return by(found, pattern)
	case pattern.matched >= 2 && 2*max(given.matched, pattern.matched) >= least &&
		(pattern.worth > given.worth || pattern.worth == given.worth && pattern.same > given.same+kept):
		return by(HolePattern, pattern)
	case least > 0 && 2*given.matched >= least:
		return by(Given, given)
	case given.unlike <= 2*axes.unlike, given.unlike < nearBy*size &&
		(axes.unlike > redrawn*size || given.unlike <= grownAside*axes.unlike && flush(old.box, new.box)):
		a := by(Given, given)
		if least > 0 {
			a.Doubt = "no common hole pattern was found; the files' own frames were kept"
		}
		return a
	}
	a := by(PrincipalAxes, axes)
	if axes.unlike > otherShape*size {
		a.Doubt = "the parts share neither a hole pattern nor a shape; the motion between them is a guess"
	} else if axes.unlike > exactly*size && (ambiguous(old.moments) || ambiguous(new.moments)) {
		a.Doubt = "two principal moments are nearly equal, so the turn about the third axis is a guess"
	}
	return a
}

// flush reports whether two boxes share a side or their middle along every axis,
// as those of a part and its redesign in one frame do.
func flush(a, b mesh.Box) bool {
	low, high := r3.Sub(a.Min, b.Min), r3.Sub(a.Max, b.Max)
	for _, axis := range []mesh.Axis{mesh.X, mesh.Y, mesh.Z} {
		l, h := axis.Of(low), axis.Of(high)
		if min(math.Abs(l), math.Abs(h), math.Abs(l+h)/2) > coincide {
			return false
		}
	}
	return true
}

// ambiguous reports whether principal axes are not determined.
func ambiguous(m [3]float64) bool {
	return m[1]-m[0] < nearMoments*m[2] || m[2]-m[1] < nearMoments*m[2]
}

// mayReach reports whether the tally of two lists may come to a worth. It gives up
// once too many holes of the shorter list have no partner, so that the thousands
// of motions of a grid of holes cost little.
func mayReach(worth int, old, moved []feature.Hole) bool {
	left := min(len(old), len(moved))
	for i := 0; i < min(len(old), len(moved)) && left >= worth; i++ {
		paired := false
		if len(old) <= len(moved) {
			for j := 0; j < len(moved) && !paired; j++ {
				paired = mayPair(&old[i], &moved[j], coincide)
			}
		} else {
			for j := 0; j < len(old) && !paired; j++ {
				paired = mayPair(&old[j], &moved[i], coincide)
			}
		}
		if !paired {
			left--
		}
	}
	return left >= worth
}

// patterns lists the motions that lay two holes of the new part on two of the old
// one and match as many holes as any.
func patterns(old, new body, hand hand) []mesh.Transform {
	type counted struct {
		motion mesh.Transform
		worth  int
	}
	var tried []counted
	most := 0
	theirs, _ := pairsOf(new.holes, len(new.holes))
	couples, disjoint := pairsOf(old.holes, mostHoles)
	for i, a := range couples {
		// a motion not met yet leaves a hole of each disjoint couple without a partner
		if len(old.holes)-min(i, disjoint) < most {
			break
		}
		for _, b := range theirs {
			if !like(a, b) {
				continue
			}
			for _, t := range lay(a, b, hand) {
				moved := movedHoles(new.holes, t)
				if !mayReach(most, old.holes, moved) {
					continue
				}
				_, worth := tally(old.holes, moved, coincide)
				most = max(most, worth)
				tried = append(tried, counted{t, worth})
			}
		}
	}
	var out []mesh.Transform
	for _, c := range tried {
		if c.worth == most {
			out = append(out, c.motion)
		}
	}
	return out
}

// couple is an ordered pair of holes with how their axes lie to each other.
type couple struct {
	a, b     feature.Hole
	parallel bool
	apart    float64 // shortest distance of the axes, mm
	lean     float64 // |cos| of the angle between them
}

// pairsOf lists ordered pairs of holes that do not share an axis, among at most
// limit holes. Rare diameters come first: they fit in fewer ways; but before all
// come pairs of which no two share a hole.
func pairsOf(holes []feature.Hole, limit int) (list []couple, disjoint int) {
	count := func(h feature.Hole) (n int) {
		for _, o := range holes {
			if math.Abs(o.Diameter-h.Diameter) < sameDiameter {
				n++
			}
		}
		return n
	}
	chosen := slices.Clone(holes)
	slices.SortStableFunc(chosen, func(a, b feature.Hole) int { return count(a) - count(b) })
	chosen = chosen[:min(limit, len(chosen))]
	var first, rest []couple
	for i, a := range chosen {
		for j, b := range chosen {
			if i == j {
				continue
			}
			c := couple{a: a, b: b, lean: math.Abs(r3.Dot(a.Axis, b.Axis))}
			c.parallel = c.lean > parallelAxes
			d := r3.Sub(b.Centre, a.Centre)
			if c.parallel {
				c.apart = r3.Norm(r3.Sub(d, r3.Scale(r3.Dot(d, a.Axis), a.Axis)))
				if c.apart < coincide {
					continue
				}
			} else {
				c.apart = math.Abs(r3.Dot(d, r3.Unit(r3.Cross(a.Axis, b.Axis))))
			}
			if i%2 == 0 && j == i+1 {
				first = append(first, c)
			} else {
				rest = append(rest, c)
			}
		}
	}
	return append(first, rest...), len(first)
}

const (
	// mostHoles is among how many holes of the old part couples are sought. Motions grow
	// with its square times that of the new part's holes, and a dozen of the rarest hold
	// a couple that is still there unless the parts have nothing in common.
	mostHoles = 12
	// likeSize is how much a hole may have been resized, over its diameter, and still
	// be one of a couple: a screw of the next size, M4 to M5, is 22 % wider. It saves
	// the time for couples that are none.
	likeSize = 0.35
	// sameLean is how far the cosines of two angles between axes may differ: 0.6
	// degrees for axes at right angles, far above what float32 leaves.
	sameLean = 0.01
	// sameDiameter is the difference in mm up to which holes count as equally rare:
	// those are tried first, which saves time and changes no result.
	sameDiameter = 0.05
)

// parallelAxes is the cosine of the angle below which two holes are parallel: over
// 10 mm of depth 0.2 degrees are 0.035 mm, what coincide allows.
var parallelAxes = math.Cos(0.2 * math.Pi / 180)

// like reports whether two couples could be one.
func like(p, q couple) bool {
	return p.parallel == q.parallel && math.Abs(p.apart-q.apart) < coincide &&
		math.Abs(p.lean-q.lean) < sameLean &&
		math.Abs(p.a.Diameter-q.a.Diameter) < likeSize*p.a.Diameter &&
		math.Abs(p.b.Diameter-q.b.Diameter) < likeSize*p.b.Diameter
}

// lay returns the motions that take couple q onto couple p, through a mirror with
// the other hand.
func lay(p, q couple, hand hand) []mesh.Transform {
	var out []mesh.Transform
	if !p.parallel {
		for _, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			// both axes must keep their angle
			if math.Abs(r3.Dot(p.a.Axis, p.b.Axis)-s[0]*s[1]*r3.Dot(q.a.Axis, q.b.Axis)) > sameLean {
				continue
			}
			from := hand.of(triad(r3.Scale(s[0], q.a.Axis), r3.Scale(s[1], q.b.Axis)))
			out = append(out, motion(from, triad(p.a.Axis, p.b.Axis), foot(q), foot(p)))
		}
		return out
	}
	along := r3.Sub(p.b.Centre, p.a.Centre)
	for _, side := range [2]float64{1, -1} {
		axis := r3.Scale(side, q.a.Axis)
		from := hand.of(triad(axis, r3.Sub(q.b.Centre, q.a.Centre)))
		to := triad(p.a.Axis, along)
		// which ends of the two holes meet decides the shift along the axis
		for _, e := range [2]float64{-0.5, 0.5} {
			out = append(out, motion(from, to,
				r3.Add(q.a.Centre, r3.Scale(e*q.a.Depth, axis)),
				r3.Add(p.a.Centre, r3.Scale(e*p.a.Depth, p.a.Axis))))
		}
	}
	return out
}

// foot returns the point of the first axis that is nearest to the second.
func foot(c couple) r3.Vec {
	d := r3.Sub(c.b.Centre, c.a.Centre)
	k := r3.Dot(c.a.Axis, c.b.Axis)
	t := (r3.Dot(d, c.a.Axis) - k*r3.Dot(d, c.b.Axis)) / (1 - k*k)
	return r3.Add(c.a.Centre, r3.Scale(t, c.a.Axis))
}
