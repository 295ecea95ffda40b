package fit

import (
	"cmp"
	"math"
	"slices"

	"swapworth/mesh"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// trial is one motion of the new part and how well it does.
type trial struct {
	motion  mesh.Transform
	tried   bool
	matched int     // holes on one axis
	worth   int     // holes on one axis, with more weight to equal size and side
	unlike  float64 // mm, see body.unlike
	turn    float64 // angle of the rotation, rad
	same    float64 // share of both parts' flat and round area that coincides
	lacks   int     // faces and round walls of either part that the other has not
	alike   []trial // the motions that do as well, this one included
}

// complete reports whether the motion lays every hole, face and round wall of
// both parts on one of the other.
func (t trial) complete() bool { return t.tried && t.lacks == 0 }

func quick(old, new body, t mesh.Transform) trial {
	out := trial{motion: t, tried: true, unlike: old.unlike(new, t, false), turn: angle(t)}
	out.matched, out.worth = tally(old.holes, movedHoles(new.holes, t), coincide)
	return out
}

// judge looks at everything that a motion lays on each other.
func judge(old, new *shape, t mesh.Transform) trial {
	out := quick(old.body, new.body, t)
	out.unlike = old.body.unlike(new.body, t, true)
	out.measure(old, new)
	return out
}

// turnWeight is what a turn, in rad, weighs against unlikeness in mm where motions are
// otherwise equal: less than anything measured, so that of equal ones the one that
// turns least is taken.
const turnWeight = 1e-3

// measure counts the faces and walls that the motion lays on each other.
func (t *trial) measure(old, new *shape) {
	mine, theirs := old.lay(mesh.Identity()), new.lay(t.motion)
	whole, same := 0.0, 0.0
	t.lacks = 2*max(len(old.holes), len(new.holes)) - 2*t.matched
	for _, side := range [2][2]*laid{{mine, theirs}, {theirs, mine}} {
		area, found, lacks := side[0].foundIn(side[1])
		whole, same, t.lacks = whole+area, same+found, t.lacks+lacks
	}
	t.same = same / max(whole, 1e-12)
	if whole == 0 { // a part without flat or round faces: its hull decides
		t.unlike = old.body.unlike(new.body, t.motion, true)
		if t.unlike > exactly*old.size {
			t.lacks++
		}
	}
}

const (
	// exactly is the unlikeness over the size below which two hulls are one: an egg drawn
	// in 48 chords is unlike one in 64 by a third of it. TestAnEggIsTheSameWithinAThousandth.
	exactly = 1e-3
	// leastFace is the area in mm2 below which a face's absence proves nothing: a
	// chamfer of 0.2 mm along 2 mm.
	leastFace = 0.4
)

// halfDegree is the cosine within which faces are parallel when the same part is
// looked for.
var halfDegree = math.Cos(0.5 * math.Pi / 180)

// foundIn returns the area of a laid part's flat faces and round walls, how much
// of it the other part shares, and how many of them the other lacks.
func (l *laid) foundIn(o *laid) (area, found float64, lacks int) {
	for k := range l.flats {
		f := &l.flats[k]
		if f.facet {
			continue
		}
		here := 0
		for _, p := range f.samples {
			if _, _, ok := o.level(l.motion.Apply(p), l.looks[k], halfDegree, coincide); ok {
				here++
			}
		}
		share := float64(here) / float64(len(f.samples))
		area, found = area+f.Area, found+share*f.Area
		if share < 0.5 && f.Area > leastFace {
			lacks++
		}
	}
	for _, r := range l.rounds {
		size := r.Radius * r.ArcDeg * math.Pi / 180 * (r.To - r.From)
		area += size
		if slices.ContainsFunc(o.rounds, func(q feature.Round) bool { return sameRound(r, q, coincide) }) {
			found += size
		} else {
			lacks++
		}
	}
	return area, found, lacks
}

// sameRound reports whether two round walls are one within a distance, mm.
func sameRound(a, b feature.Round, within float64) bool {
	if a.Concave != b.Concave || math.Abs(a.Radius-b.Radius) > within || math.Abs(r3.Dot(a.Axis, b.Axis)) < halfDegree {
		return false
	}
	along, radial := axial(a, b.Centre)
	return r3.Norm(radial) < within && math.Abs(along) < (a.To-a.From+b.To-b.From)/4
}

// compare orders trials: complete first, then by more holes, more common
// surface, more alike bodies, less turn.
func (t trial) compare(o trial) int {
	done := func(t trial) int {
		if t.complete() {
			return 0
		}
		return 1
	}
	if t.tried != o.tried {
		if t.tried {
			return -1
		}
		return 1
	}
	if c := cmp.Compare(done(t), done(o)); c != 0 {
		return c
	}
	if c := cmp.Compare(o.worth, t.worth); c != 0 {
		return c
	}
	if math.Abs(t.same-o.same) > evenly {
		return cmp.Compare(o.same, t.same)
	}
	return cmp.Compare(t.unlike+turnWeight*t.turn, o.unlike+turnWeight*o.turn)
}

// evenly is the difference of common surface that says nothing: one point of 24 on
// a face that is a fifth of the part.
const evenly = 0.01

func best(a, b trial) trial {
	if b.compare(a) < 0 {
		return b
	}
	return a
}

// manyMotions limits how many motions are looked at closely; a square grid has
// eight that lay it on itself and a plate of equal sides twice as many.
const manyMotions = 32

// bestOf measures motions and returns the best, with those that do as well.
func bestOf(old, new *shape, motions []mesh.Transform) trial {
	var tried []trial
	for _, m := range motions {
		if !slices.ContainsFunc(tried, func(t trial) bool { return oneMotion(t.motion, m, new.body) }) {
			tried = append(tried, quick(old.body, new.body, m))
		}
	}
	slices.SortStableFunc(tried, func(a, b trial) int {
		if a.worth != b.worth {
			return cmp.Compare(b.worth, a.worth)
		}
		return cmp.Compare(a.unlike+turnWeight*a.turn, b.unlike+turnWeight*b.turn)
	})
	tried = tried[:min(manyMotions, len(tried))]
	var top trial
	for k := range tried {
		tried[k].measure(old, new)
		top = best(top, tried[k])
	}
	top.alike = tried
	return top
}

// alike counts the motions, among those tried, that do as well as the chosen one.
func alike(old *shape, chosen trial, lists ...[]trial) int {
	motions := []mesh.Transform{chosen.motion}
	for _, t := range slices.Concat(lists...) {
		as := t.complete() == chosen.complete() && t.worth == chosen.worth &&
			math.Abs(t.same-chosen.same) < evenly && math.Abs(t.unlike-chosen.unlike) < exactly*old.size
		if as && !slices.ContainsFunc(motions, func(m mesh.Transform) bool { return oneMotion(m, t.motion, old.body) }) {
			motions = append(motions, t.motion)
		}
	}
	return len(motions)
}

// together is how far apart, in mm, the middles of two faces may lie that are on one level,
// and the corners of a box under two motions that are one: both add up from measures that
// are good to coincide each.
const together = 5 * coincide

// oneMotion reports whether two motions do the same to a body.
func oneMotion(a, b mesh.Transform, o body) bool {
	for _, p := range [4]r3.Vec{o.box.Min, o.box.Max, {X: o.box.Min.X, Y: o.box.Max.Y, Z: o.box.Min.Z}, {X: o.box.Max.X, Y: o.box.Min.Y, Z: o.box.Min.Z}} {
		if r3.Norm(r3.Sub(a.Apply(p), b.Apply(p))) > together {
			return false
		}
	}
	return true
}

// bestAxes lays principal axes on principal axes, in the four ways that keep the
// hand.
func bestAxes(old, new body) trial {
	var top trial
	for _, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		from := triad(r3.Scale(s[0], new.axes[0]), r3.Scale(s[1], new.axes[1]))
		to := triad(old.axes[0], old.axes[1])
		t := quick(old, new, motion(from, to, new.centroid, old.centroid))
		if !top.tried || t.worth > top.worth || t.worth == top.worth && t.unlike+turnWeight*t.turn < top.unlike+turnWeight*top.turn {
			top = t
		}
	}
	return top
}

// bySides lists the motions that lay the sides of one part along those of the
// other, in the 24 ways that keep the hand, and centroid on centroid, middle on
// middle, or one of few holes on one of few.
func bySides(old, new *shape, hand hand) []mesh.Transform {
	a, b := old.sides(), new.sides()
	var out []mesh.Transform
	for i := range 3 {
		for j := range 3 {
			if i == j {
				continue
			}
			for _, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
				from := hand.of(triad(r3.Scale(s[0], b.axes[i]), r3.Scale(s[1], b.axes[j])))
				to := triad(a.axes[0], a.axes[1])
				out = append(out, motion(from, to, new.centroid, old.centroid), motion(from, to, b.middle, a.middle))
				if len(old.holes) <= fewHoles && len(new.holes) <= fewHoles {
					for _, h := range old.holes {
						for _, o := range new.holes {
							out = append(out, motion(from, to, o.Centre, h.Centre))
						}
					}
				}
			}
		}
	}
	return out
}

// fewHoles is up to how many holes a part is laid on hole by hole along its sides:
// with more there are pairs enough.
const fewHoles = 2

// sides is how a part lies: the directions in which it is square and the middle
// of its box in them.
type sides struct {
	axes   feature.Square
	middle r3.Vec
}

func (s *shape) sides() sides {
	q := feature.Axes(s.Mesh, s.Features.Faces)
	c := q.Box(s.Mesh).Center()
	at := r3.Add(r3.Scale(c.X, q[0]), r3.Add(r3.Scale(c.Y, q[1]), r3.Scale(c.Z, q[2])))
	return sides{q, at}
}
