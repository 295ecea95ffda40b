package beam

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"swapworth/beam/section"
	"swapworth/mesh"
)

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
	var before *opening // joined at both ends
	var joined, braced []opening
	for _, o := range a.openings() {
		if a.freeEnded(o) {
			for _, c := range o.cuts {
				c.Split = true
				c.Eff.Iuu, c.Eff.Iuv, c.Eff.Ivv = legs(c)
			}
			a.softenRoot(o)
			a.warn("the part ends in %d separate pieces from %s: each was taken to bend on its own",
				len(o.cuts[0].Region), a.stretch(o))
			continue
		}
		if a.diagonal(o) {
			braced = append(braced, o)
			continue
		}
		a.swayOf(o)
		if !a.joint(o) {
			continue // legs side by side bend alike, joined or not
		}
		if before != nil {
			a.post(*before, o)
		}
		before = &o
		joined = append(joined, o)
	}
	a.braced = len(braced) > 0
	a.warnOpenings(braced, "slanted webs cross the opening from %s: taken to carry the shear like a whole section")
	a.warnOpenings(joined, "the section is in separate pieces from %s: taken as joined at both ends")
}

// warnOpenings says something of several openings in one line.
func (a *analysis) warnOpenings(all []opening, what string) {
	const named = 3
	var places []string
	for _, o := range all[:min(len(all), named)] {
		places = append(places, a.stretch(o))
	}
	if more := len(all) - named; more > 0 {
		places = append(places, fmt.Sprintf("in %d more places", more))
	}
	if len(places) > 0 {
		a.warn(what, strings.Join(places, ", "))
	}
}

// joint reports whether the legs of an opening owe part of their stiffness to
// being joined at its ends.
func (a *analysis) joint(o opening) bool {
	for _, c := range o.cuts {
		iu, _, iv := legs(c)
		if own := [2]float64{iu, iv}[a.plane]; own < 0.98*along(c.Section, a.plane) {
			return true
		}
	}
	return false
}

func (a *analysis) stretch(o opening) string {
	x, y := a.where.model(o.from), a.where.model(o.to)
	return a.setup.Span.String() + " = " + short(min(x, y)) + " to " + short(max(x, y)) + " mm"
}

// diagonal reports whether a piece of an opening's cuts crosses it, as the web of
// a truss does: it then carries the shear along its axis, and the legs need not
// bend. A piece moves aside as far as both of its edges do.
func (a *analysis) diagonal(o opening) bool {
	travel := map[int]float64{}
	low, high := math.Inf(1), math.Inf(-1) // of the opening
	for i, c := range o.cuts {
		now := a.levels(c)
		low, high = min(low, now[0].high), max(high, now[len(now)-1].low)
		if i == 0 {
			continue
		}
		if last := a.levels(o.cuts[i-1]); len(last) == len(now) {
			for k := range now {
				travel[k] += abs(common(now[k].low-last[k].low, now[k].high-last[k].high))
			}
		}
	}
	for _, t := range travel {
		if high > low && t > (high-low)/4 {
			return true
		}
	}
	return false
}

// levels returns the extents of a cut's pieces along the load, in ascending
// order.
func (a *analysis) levels(c *cut) []interval {
	var out []interval
	for _, p := range c.Region {
		out = append(out, a.extent(mesh.Region{p}.Bounds())[1])
	}
	slices.SortFunc(out, func(x, y interval) int { return cmp.Compare(x.low, y.low) })
	return out
}

// swayOf spreads the opening's flexibility evenly over its length.
func (a *analysis) swayOf(o opening) {
	var u, v float64
	for i, c := range o.cuts {
		from, to := a.swayEnds(o, c.S)
		length, xi := to-from, c.S-(from+to)/2
		// exact for the square of the distance over the cut's own stretch
		square := c.Weight * (xi*xi + c.Weight*c.Weight/12)
		if i == 0 || i == len(o.cuts)-1 {
			square += rootLength(c, a.plane) * length * length / 4
		}
		iu, _, iv := legs(c)
		u += square * (1/iu - 1/c.Section.Iyy)
		v += square * (1/iv - 1/c.Section.Ixx)
	}
	length := o.to - o.from
	for _, c := range o.cuts {
		c.ExtraU, c.ExtraV = max(u/length, 0), max(v/length, 0)
	}
}

// swayEnds are the ends between which the legs bend in an S: those of the
// opening, or the load between supports, where the shear force changes its sign.
func (a *analysis) swayEnds(o opening, s float64) (from, to float64) {
	at := a.where.At
	if a.setup.Support == Cantilever || at <= o.from || at >= o.to {
		return o.from, o.to
	}
	if s < at {
		return o.from, at
	}
	return at, o.to
}

// A leg turns a little at its root, where it grows out of deeper material: for a
// leg of depth h on the edge of a half plane as much as 16.67/(12 pi) h = 0.44 h
// more of it would (W. J. O'Donnell, The Additional Deflection of a Cantilever
// Due to the Elasticity of the Support, J. Appl. Mech. 27, 1960, from memory).
const rootShare = 16.67 / (12 * math.Pi)

// rootLength is what the root adds to the legs' length, in mm; nothing where
// the opening closes gradually.
func rootLength(c *cut, plane int) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	var depths, weighted, weight float64
	for _, p := range c.Region {
		box := mesh.Region{p}.Bounds()
		lo, hi := [2]float64{box.Min.X, box.Min.Y}[plane], [2]float64{box.Max.X, box.Max.Y}[plane]
		low, high = min(low, lo), max(high, hi)
		depths += hi - lo
		i := math.Pow(hi-lo, 3)
		weighted, weight = weighted+i*(hi-lo), weight+i
	}
	if !(weight > 0) {
		return 0
	}
	depth := weighted / weight
	gap := max(high-low-depths, 0)
	return rootShare * depth * min(1, gap/depth)
}

// softenRoot adds the root's length to the legs of an open end.
func (a *analysis) softenRoot(o opening) {
	c := o.cuts[0]
	if o.from < 1e-3*a.where.Length {
		c = o.cuts[len(o.cuts)-1]
	}
	k := c.Weight / (c.Weight + rootLength(c, a.plane))
	if a.plane == 0 {
		c.Eff.Iuu *= k
	} else {
		c.Eff.Ivv *= k
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
		if s, err := section.Of(mesh.Region{p}); err == nil {
			iuu, iuv, ivv = iuu+s.Iyy, iuv+s.Ixy, ivv+s.Ixx
		}
	}
	return iuu, iuv, ivv
}
