package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// compareEdges says which outermost faces that are no seats lie further in, or are
// tilted: the part may be located by them. Growth is told by the envelope. Steps
// that are neither outermost nor inside a pocket are compared too.
func (c *comparison) compareEdges() {
	for k := range c.old.flats {
		f := &c.old.flats[k]
		if f.facet || len(f.mouths) > 0 || c.standsOut(f) || c.old.inside[k] {
			continue
		}
		c.sides++
		shift, tilt, left := c.new.probe(f.samples, f.Normal)
		if f.Area < leastTell && (left == 0 || tilt > 0) {
			continue // may be a facet of a rounded corner
		}
		if f.extreme {
			c.judgeSide(f, shift, tilt, left)
		} else if left > 0 {
			c.judgeStep(f, shift, tilt)
		}
	}
}

func (c *comparison) judgeSide(f *flat, shift, tilt, left float64) {
	const advice = ": check it if the part is located by it"
	side := "the side towards " + nameOf(f.Normal)
	at := Finding{Kind: "edge", Where: where(f.Centroid), Old: ref(f.Offset()), Unit: "mm"}
	switch {
	case left == 0:
		far := r3.Dot(c.new.outermost(f.Normal), f.Normal) - f.Offset()
		at.New = ref(f.Offset() + far)
		c.add(at, "%s is gone or cut back by %s mm"+advice, side, number(math.Abs(far)))
	case tilt > tiltSeen:
		at.Old, at.New, at.Unit = ref(0), ref(tilt), "deg"
		c.add(at, "%s is tilted by %s degrees"+advice, side, number(tilt))
	case shift < -deliberate:
		at.New = ref(f.Offset() + shift)
		c.add(at, "%s was cut back by %s mm"+advice, side, number(-shift))
	case left < wholeSeat && shift == 0:
		c.cutBack(f, left, "edge", side, advice)
	}
}

func (c *comparison) judgeStep(f *flat, shift, tilt float64) {
	step := fmt.Sprintf("the step at %s that looks towards %s", place(f.Centroid), nameOf(f.Normal))
	at := Finding{Kind: "edge", Where: where(f.Centroid), Old: ref(f.Offset()), Unit: "mm"}
	switch {
	case tilt > tiltSeen:
		at.Old, at.New, at.Unit = ref(0), ref(tilt), "deg"
		c.add(at, "%s is tilted by %s degrees", step, number(tilt))
	case math.Abs(shift) > deliberate:
		at.New = ref(f.Offset() + shift)
		c.add(at, "%s moved by %s mm: check it if the part is located by it", step, number(math.Abs(shift)))
	}
}

// isSeatDirection reports whether faces around holes look along a direction.
func (c *comparison) isSeatDirection(n r3.Vec) bool {
	return slices.ContainsFunc(c.old.flats, func(o flat) bool {
		return !o.facet && len(o.mouths) > 0 && math.Abs(r3.Dot(o.Normal, n)) > halfDegree
	})
}

// outermost returns the corner of a laid part that reaches furthest along d.
func (l *laid) outermost(d r3.Vec) (p r3.Vec) {
	most := math.Inf(-1)
	for _, v := range l.all {
		if at := l.motion.Apply(v); r3.Dot(at, d) > most {
			most, p = r3.Dot(at, d), at
		}
	}
	return p
}

// cutBack tells of a face of which a part is gone: how much is left, and how far
// it reaches now where it is shorter.
func (c *comparison) cutBack(f *flat, left float64, kind, name, advice string) {
	mine := outlineOf{corners: f.loops[0].corners, rounds: c.old.Features.Rounds}
	var rest outlineOf
	for k := range c.new.flats {
		n := &c.new.flats[k]
		if r3.Dot(c.new.looks[k], f.Normal) > halfDegree && math.Abs(r3.Dot(f.Normal, c.new.motion.Apply(n.Centroid))-f.Offset()) < together {
			rest.corners = append(rest.corners, outlineOf{corners: n.loops[0].corners}.moved(c.new).corners...)
		}
	}
	told := false
	for _, d := range [2]r3.Vec{f.plane.U, f.plane.V} {
		if len(rest.corners) == 0 {
			break
		}
		thick := kind == "edge" && c.isSeatDirection(d)
		var from, to [2]float64
		for n, sign := range [2]float64{1, -1} {
			from[n], _ = mine.reach(r3.Scale(sign, d))
			to[n], _ = rest.reach(r3.Scale(sign, d))
			to[n] = min(to[n], from[n])
		}
		before, after := from[0]+from[1], to[0]+to[1]
		if thick { // told as the clamped thickness
			left *= before / max(after, coincide)
			continue
		}
		if before-after < c.opt.Position {
			continue
		}
		told = true
		c.add(Finding{Kind: kind, Where: where(f.Centroid), Old: ref(before), New: ref(after), Unit: "mm"},
			"%s was cut back from %s to %s mm along %s: about %.0f %% of it is left%s", name, number(before), number(after), nameOf(d), 100*left, advice)
	}
	if !told && left < wholeSeat {
		c.add(Finding{Kind: kind, Where: where(f.Centroid), Old: ref(100), New: ref(100 * left), Unit: "%"},
			"of %s about %.0f %% is left%s", name, 100*left, advice)
	}
}
