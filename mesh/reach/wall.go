package reach

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/feature"
)

// facing is the cosine of how far two faces may be from parallel and still stand
// on both sides of one wall or gap: 30 degrees. A chamfer and what lies behind it
// are further apart.
const facing = 0.866

// Thickness returns how much material is behind a sample, mm, and the mesh face on
// the other side. There is no thickness where the other side does not look the
// other way within 30 degrees, nor where both meet in an edge: at the tip of a
// wedge every thickness tends to nothing and means nothing.
func (v *View) Thickness(s Sample) (t float64, behind int32, ok bool) {
	inward := r3.Scale(-1, s.Normal)
	within, deep := v.below(s)
	t, behind = v.rays.First(within, inward, v.far)
	if behind < 0 || r3.Dot(s.Normal, v.Normal(behind)) > -facing || v.touching(s.Face, behind) {
		return 0, -1, false
	}
	t += deep
	if exact, known := v.between(s.Face, behind); known && exact > 0 && exact < t && t < exact+roundSlack*t {
		t = exact
	}
	return t, behind, true
}

// roundSlack is by how much of it a ray from the middle of a chord may find the
// material beside a bore thicker than it is at its thinnest: with eight chords a
// ray is up to 22.5 degrees off, 1 - cos of which is 0.08, on both radii.
const roundSlack = 0.25

// between returns the least distance between a bore and a plane along it, between
// two bores side by side, or between a bore and the round outside of it; known is
// false for any other pair.
func (v *View) between(f, g int32) (mm float64, known bool) {
	a, b := v.round(f), v.round(g)
	if a == nil {
		a, b = b, a
		f, g = g, f
	}
	switch {
	case a == nil || !a.Concave && b == nil:
		return 0, false
	case b == nil:
		n := v.Normal(g)
		if math.Abs(r3.Dot(n, a.Axis)) > lookAway {
			return 0, false
		}
		at, _, _ := v.Mesh.Triangle(int(g))
		return math.Abs(r3.Dot(n, r3.Sub(at, a.Centre))) - a.Radius, true
	case math.Abs(r3.Dot(a.Axis, b.Axis)) < parallel:
		return 0, false
	}
	d := r3.Sub(b.Centre, a.Centre)
	apart := r3.Norm(r3.Sub(d, r3.Scale(r3.Dot(d, a.Axis), a.Axis)))
	switch {
	case a.Concave && b.Concave:
		return apart - a.Radius - b.Radius, true
	case a.Concave != b.Concave:
		return math.Abs(a.Radius-b.Radius) - apart, true
	}
	return 0, false
}

// Gap returns how wide the air before a sample is, mm, up to a surface that looks
// back at it within 30 degrees and does not meet it in a corner; ok is false
// where there is none.
func (v *View) Gap(s Sample) (w float64, ok bool) {
	w, hit := v.rays.First(v.above(s), s.Normal, v.far)
	if hit < 0 || r3.Dot(s.Normal, v.Normal(hit)) > -facing {
		return 0, false
	}
	if r := v.round(s.Face); v.owner[hit] == v.owner[s.Face] && r != nil {
		return 2 * r.Radius, true // the round end of a slot, or a bore
	}
	if v.touching(s.Face, hit) {
		return 0, false
	}
	return w + s.loose + v.lift, true
}

// Clear returns how far the air before a sample reaches, up to any surface.
func (v *View) Clear(s Sample) (mm float64, ok bool) {
	t, hit := v.rays.First(v.above(s), s.Normal, v.far)
	return t + s.loose + v.lift, hit >= 0
}

// Stands returns how far the wall that a sample is on rises above the sample along
// a way, and how deep below it the floor in front of the wall lies; open is true
// where there is no floor. gap is the width of the air before it, 0 where it is
// wide open.
func (v *View) Stands(s Sample, way r3.Vec, gap float64) (rises, down float64, open bool) {
	within, _ := v.below(s)
	rises, _ = v.rays.First(within, way, v.far)
	below, _ := v.rays.First(within, r3.Scale(-1, way), v.far)
	before := s.loose + v.lift
	if gap > 0 {
		before = gap / 2
	}
	down, hit := v.rays.First(r3.Add(s.At, r3.Scale(before, s.Normal)), r3.Scale(-1, way), v.far)
	if hit < 0 {
		return rises, below, true
	}
	return rises, down, false
}

// HiddenBy returns how far a sample lies under what covers it along an axis: the
// least way square to the axis, along the other square directions, after which
// nothing stands above any more. A way along which the sample is seen is the open
// end of a channel and does not count. Where no way leads out, ok is false, and
// the length is how much room there is.
func (v *View) HiddenBy(s Sample, axis int) (mm float64, ok bool) {
	way, best, room := v.Ways[axis], math.Inf(1), 0.0
	from := v.above(s)
	for k := range 6 {
		if k/2 == axis/2 || s.Sees(k) {
			continue
		}
		run, _ := v.rays.First(from, v.Ways[k], v.far)
		run = min(run, r3.Norm(v.Box.Size()))
		room = max(room, run)
		best = min(best, v.outcome(from, v.Ways[k], way, run))
	}
	if math.IsInf(best, 1) {
		return room, false
	}
	return best, true
}

// outcome returns after which way aside a point comes out from under what covers
// it, +Inf for never within run.
func (v *View) outcome(from, aside, way r3.Vec, run float64) float64 {
	clear := func(by float64) bool {
		_, hit := v.rays.First(r3.Add(from, r3.Scale(by, aside)), way, v.far)
		return hit < 0
	}
	const steps = 16
	last := 0.0
	for i := 1; i <= steps; i++ {
		by := run * (float64(i) - 0.5) / steps
		if !clear(by) {
			last = by
			continue
		}
		for range 20 { // halve down to the edge
			if mid := (last + by) / 2; clear(mid) {
				by = mid
			} else {
				last = mid
			}
		}
		return by
	}
	return math.Inf(1)
}

// Round returns the round that a sample lies on, nil for none.
func (v *View) Round(s Sample) *feature.Round { return v.round(s.Face) }

// Normal returns the unit normal of a mesh face, out of the material.
func (v *View) Normal(f int32) r3.Vec {
	a, b, c := v.Mesh.Triangle(int(f))
	return r3.Unit(r3.Cross(r3.Sub(b, a), r3.Sub(c, a)))
}

// Beyond returns how much material lies along a way from a point on the surface.
func (v *View) Beyond(at, way r3.Vec) (mm float64, ok bool) {
	t, hit := v.rays.First(r3.Add(at, r3.Scale(v.lift, way)), way, v.far)
	return t + v.lift, hit >= 0
}
