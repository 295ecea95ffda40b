package fit

import (
	"fmt"
	"math"
	"slices"

	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// mirrored reports whether the new part is the mirror image of the old one, and
// what tells: under the motion that was chosen something other than the sides of
// holes stands in the way, while in a mirror everything lies on its like.
func mirrored(old, new *shape, a alignment, c *comparison) (tells string, is bool) {
	if a.trial.complete() {
		return "", false
	}
	tells = c.tells()
	if tells == "" {
		tells = strayFace(old.lay(rigidly), new.lay(a.Motion))
	}
	if tells == "" {
		return "", false // nothing but holes that open on the other side
	}
	top := best(bestOf(old, new, patterns(old.body, new.body, image)), bestOf(old, new, bySides(old, new, image)))
	if !top.tried {
		return "", false
	}
	if top.complete() {
		return tells, true
	}
	if len(c.blocking()) == 0 || top.matched < c.coincident() || top.matched < len(old.holes) {
		return "", false // another redesign
	}
	fits := func(t trial) bool { return t.tried && len(compare(old, new.lay(t.motion), c.opt).blocking()) == 0 }
	return tells, fits(top) && !fits(turned(old, new))
}

// turned is the best of all turns, whether it was chosen or not: parts without holes keep
// their files' frame where they lie on each other.
func turned(old, new *shape) trial {
	return best(bestOf(old, new, patterns(old.body, new.body, rigid)), bestOf(old, new, bySides(old, new, rigid)))
}

// coincident counts the hole pairs that lie on each other.
func (c *comparison) coincident() (n int) {
	for _, m := range c.matches {
		if m.aside < coincide {
			n++
		}
	}
	return n
}

// tells returns the first blocking finding that is not about the side on which a
// hole opens.
func (c *comparison) tells() string {
	for _, f := range c.blocking() {
		if !f.side {
			return f.Text
		}
	}
	return ""
}

// strayFace describes the largest face of either part that the other has not,
// within and beside holes apart; empty for none.
func strayFace(a, b *laid) string {
	most, text := leastTell, ""
	for n, side := range [2][2]*laid{{a, b}, {b, a}} {
		l, o := side[0], side[1]
		for k := range l.flats {
			f := &l.flats[k]
			if f.facet || f.Area < most || l.inHole(f.Centroid) {
				continue
			}
			here := 0
			for _, p := range f.samples {
				if _, _, ok := o.level(l.motion.Apply(p), l.looks[k], halfDegree, coincide); ok {
					here++
				}
			}
			if 2*here < len(f.samples) {
				most = f.Area
				text = fmt.Sprintf("the %s part has a face at %s that looks towards %s, the other has not",
					[2]string{"old", "new"}[n], place(l.motion.Apply(f.Centroid)), nameOf(l.looks[k]))
			}
		}
	}
	return text
}

// leastTell is the area in mm2 from which a face on the other side tells a part
// from its mirror image: a pad of 2 by 2 mm.
const leastTell = 4.0

// inHole reports whether a point lies within the walls of one of the part's holes.
func (s *shape) inHole(p r3.Vec) bool {
	return slices.ContainsFunc(s.body.holes, func(h feature.Hole) bool {
		d := r3.Sub(p, h.Centre)
		return flatPart(d, h.Axis) < max(h.Diameter, h.HeadDiameter)/2+coincide && math.Abs(r3.Dot(d, h.Axis)) < h.Depth/2+mouthDepth
	})
}
