package reach

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Main returns the way from which the part is machined first, one of the first six
// of Ways. It is the square direction along whose two senses most of the surface
// that needs a cutter is seen, over the square of the depth the cutter has to go that
// way: passes grow with the depth, and a longer cutter takes less at each. A slot
// open at its ends is seen along it too, but is milled from its mouth. What needs a
// cutter is neither a side of the box, where the stock's own surface may stay, nor
// the wall of a round hole. Where directions see the same, the one along which the
// part is thinnest is taken, for the outline is cut through that; and of its senses
// the one that sees more.
func (v *View) Main() int {
	var axis [3]float64 // area seen along either sense over the extent squared
	var sense [6]float64
	total := 0.0
	size := v.Box.Size()
	extent := [3]float64{size.X, size.Y, size.Z}
	for _, s := range v.Samples {
		total += s.Area
		if v.OnSkin(s) || v.InHole(s) {
			continue
		}
		for k := range 6 {
			if s.Sees(k) {
				sense[k] += s.Area
			}
		}
		for k := range 3 {
			if s.Sees(2*k) || s.Sees(2*k+1) {
				axis[k] += s.Area / (extent[k] * extent[k])
			}
		}
	}
	// so little may be edge breaks: it decides nothing
	longest := max(extent[0], extent[1], extent[2])
	trifle := 0.01 * total / (longest * longest)
	best := -1
	for k := range axis {
		switch {
		case best < 0, axis[k] > 1.05*axis[best]+trifle:
			best = k
		case axis[k] > 0.95*axis[best]-trifle && extent[k] < extent[best]*(1-1e-6):
			best = k
		}
	}
	if sense[2*best+1] > sense[2*best]*(1+1e-6) {
		return 2*best + 1
	}
	return 2 * best
}

// SetUps returns the ways from which everything that is seen at all can be cut: the
// first given, then each time the one that sees most of what is left. A broken
// edge is no reason for one: a file makes it.
func (v *View) SetUps(first int) []int {
	out := []int{first}
	left := make([]bool, len(v.Samples))
	for i, s := range v.Samples {
		left[i] = s.Seen != 0 && !s.Sees(first) && !v.OnSkin(s)
	}
	v.dropBrokenEdges(left, v.Ways[first])
	v.dropTrifles(left)
	for len(out) <= len(v.Ways) {
		best, most := -1, 0.0
		for k := range v.Ways {
			gain := 0.0
			for i, s := range v.Samples {
				if left[i] && s.Sees(k) {
					gain += s.Area
				}
			}
			// the opposite side of the first costs least to clamp: it goes first among equals
			if gain > most*(1+1e-6) || gain > most*(1-1e-6) && gain > 0 && r3.Dot(v.Ways[k], v.Ways[first]) < -parallel {
				best, most = k, gain
			}
		}
		if best < 0 {
			return out
		}
		out = append(out, best)
		for i, s := range v.Samples {
			left[i] = left[i] && !s.Sees(best)
		}
	}
	return out
}

// brokenDepth is how deep along the first way a broken edge goes at most, mm: a
// chamfer of 3 x 3, with room for rounding.
const brokenDepth = 3.1

// dropBrokenEdges forgets samples on slopes that together go no deeper along the
// way than a broken edge does. Slopes lie at 20 to 70 degrees to it.
func (v *View) dropBrokenEdges(left []bool, way r3.Vec) {
	region := map[int32]int{} // of a mesh face
	var deep []float64
	slopes := func(f int32) bool {
		c := math.Abs(r3.Dot(v.Normal(f), way))
		return c > 0.34 && c < 0.94
	}
	for i, s := range v.Samples {
		if !left[i] || !slopes(s.Face) {
			continue
		}
		if r := v.round(s.Face); r != nil && r.Concave {
			continue // the wall of a cross hole
		}
		at, known := region[s.Face]
		if !known {
			at = len(deep)
			region[s.Face] = at
			low, high := math.Inf(1), math.Inf(-1)
			for queue := []int32{s.Face}; len(queue) > 0; queue = queue[1:] {
				for k, g := range v.Features.Skin.Neighbour[queue[0]] {
					h := r3.Dot(way, v.Mesh.Vertices[v.Mesh.Faces[queue[0]][k]])
					low, high = min(low, h), max(high, h)
					if g >= 0 && slopes(g) {
						if _, seen := region[g]; !seen {
							region[g] = at
							queue = append(queue, g)
						}
					}
				}
			}
			deep = append(deep, high-low)
		}
		left[i] = deep[at] > brokenDepth
	}
}

// trifling is the share of the surface up to which facets of a surface that curves
// on are no reason to clamp the part once more: they lean by what the chords are off.
const trifling = 0.02

// dropTrifles forgets samples of faces and rounds of which most is seen already,
// and facets of curved surfaces as long as they come to little.
func (v *View) dropTrifles(left []bool) {
	all, open := map[int32]float64{}, map[int32]float64{}
	total, facets := 0.0, 0.0
	for i, s := range v.Samples {
		all[v.owner[s.Face]] += s.Area
		total += s.Area
		if left[i] {
			open[v.owner[s.Face]] += s.Area
			if s.facet() {
				facets += s.Area
			}
		}
	}
	for i, s := range v.Samples {
		if owner := v.owner[s.Face]; s.facet() && facets < trifling*total || !s.facet() && open[owner] < all[owner]/2 {
			left[i] = false
		}
	}
}

// span is from where to where something reaches along the square directions.
type span struct{ low, high [3]float64 }

// extent returns how far the round or patch of a mesh face reaches along a square
// direction.
func (v *View) extent(f int32, direction int) float64 {
	v.asked.Lock()
	defer v.asked.Unlock()
	if v.extents == nil {
		v.extents = make([]span, len(v.Features.Rounds)+len(v.Features.Skin.Patches))
		for i := range v.extents {
			inf := math.Inf(1)
			v.extents[i] = span{[3]float64{inf, inf, inf}, [3]float64{-inf, -inf, -inf}}
		}
		for g, corners := range v.Mesh.Faces {
			e := &v.extents[v.owner[g]]
			for _, c := range corners {
				for k, d := range v.Square {
					at := r3.Dot(v.Mesh.Vertices[c], d)
					e.low[k], e.high[k] = min(e.low[k], at), max(e.high[k], at)
				}
			}
		}
	}
	e := v.extents[v.owner[f]]
	return e.high[direction] - e.low[direction]
}
