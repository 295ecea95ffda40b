package beam

import "gonum.org/v1/gonum/spatial/r2"

// Where a cut is in separate pieces, the pieces are legs beside an opening.
// They share the bending moment like one section as long as they are joined at
// both ends of the opening, but nothing between them carries shear, so each leg
// bends in an S under its share of it (Vierendeel action). With xi measured
// from the middle of an opening of length a, the legs' own second moments
// adding up to I_legs and I that of the whole cut, the force V moves its ends
// apart by
//
//	V integral of xi^2 (1/(E I_legs) - 1/(E I)) over the opening,
//
// for legs of constant depth V a^3/12 (1/(E I_legs) - 1/(E I)); see the
// treatment of web openings in O. W. Blodgett, Design of Welded Structures,
// section 4.7. Legs whose far end is free do not work together at all.

// opening is a run of cuts in separate pieces.
type opening struct {
	cuts     []*cut
	from, to float64 // mm along the beam
}

func (a *analysis) openings() []opening {
	var all []opening
	open := false
	for c := range a.profile.cuts() {
		if len(c.Region) < 2 {
			open = false
			continue
		}
		if !open {
			all = append(all, opening{from: c.S - c.Weight/2})
			open = true
		}
		o := &all[len(all)-1]
		o.cuts = append(o.cuts, c)
		o.to = c.S + c.Weight/2
	}
	return all
}

// sway gives every opening its extra flexibility in shear and takes the joint
// action from legs with a free end.
func (a *analysis) sway() {
	for _, o := range a.openings() {
		if a.freeEnded(o) {
			for _, c := range o.cuts {
				c.Split = true
				c.Eff.Iuu, c.Eff.Iuv, c.Eff.Ivv = legs(c)
			}
			a.warn("the part ends in %d separate pieces from %s: each was taken to bend on its own",
				len(o.cuts[0].Region), a.stretch(o))
			continue
		}
		a.swayOf(o)
		if !a.joint(o) {
			continue // legs side by side bend alike, joined or not
		}
		a.warn("the section is in %d separate pieces from %s: taken as joined at both ends of the opening",
			len(o.cuts[0].Region), a.stretch(o))
	}
}

// joint reports whether the legs of an opening owe part of their stiffness to
// being joined at its ends.
func (a *analysis) joint(o opening) bool {
	for _, c := range o.cuts {
		iu, _, iv := legs(c)
		if own := [2]float64{iu, iv}[a.plane]; own < 0.98*c.Section.along(a.plane) {
			return true
		}
	}
	return false
}

func (a *analysis) stretch(o opening) string {
	x, y := a.where.model(o.from), a.where.model(o.to)
	return a.setup.Span.String() + " = " + short(min(x, y)) + " to " + short(max(x, y)) + " mm"
}

// swayOf spreads the opening's flexibility evenly over its length.
func (a *analysis) swayOf(o opening) {
	length, mid := o.to-o.from, (o.from+o.to)/2
	var u, v float64
	for _, c := range o.cuts {
		xi := c.S - mid
		// exact for the square of the distance over the cut's own stretch
		square := c.Weight * (xi*xi + c.Weight*c.Weight/12)
		iu, _, iv := legs(c)
		u += square * (1/iu - 1/c.Section.Iyy)
		v += square * (1/iv - 1/c.Section.Ixx)
	}
	for _, c := range o.cuts {
		c.ExtraU, c.ExtraV = max(u/length, 0), max(v/length, 0)
	}
}

// freeEnded reports whether the opening runs to an end of the beam that nothing
// clamps.
func (a *analysis) freeEnded(o opening) bool {
	tol := 1e-3 * a.where.Length
	clampFrom, clampTo := a.setup.Support.clampedEnds()
	if o.from < tol {
		return !(clampFrom && a.where.From < tol)
	}
	if o.to > a.where.Length-tol {
		return !(clampTo && a.where.To > a.where.Length-tol)
	}
	return false
}

// legs returns the sums of the second moments of a cut's pieces, each about its
// own centroid, in mm4: integrals of u^2, uv and v^2.
func legs(c *cut) (iuu, iuv, ivv float64) {
	for _, p := range c.Region {
		var m moments
		about := p.Outer[0]
		for _, loop := range p.Loops() {
			m.addLoop(loop, about)
		}
		if !(m.area > 0) {
			continue
		}
		centre := r2.Vec{X: m.u / m.area, Y: m.v / m.area}
		iuu += m.uu - m.area*centre.X*centre.X
		iuv += m.uv - m.area*centre.X*centre.Y
		ivv += m.vv - m.area*centre.Y*centre.Y
	}
	return iuu, iuv, ivv
}
