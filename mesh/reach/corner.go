package reach

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Corner is an inside corner between two walls, as the side of a cutter meets it.
type Corner struct {
	At     r3.Vec // halfway along it
	Along  r3.Vec // unit
	Radius float64
	Height float64 // along it, mm
	Depth  float64 // of its lower end below the top of the walls that make it, mm
	Turn   float64 // rad, between the normals of the walls: pi/2 for a square corner
}

// Filled returns the area, mm2, that a cutter of a larger radius leaves in the
// corner: between two walls that turn by t, a circle of radius R leaves
// R2 (tan(t/2) - t/2), and the drawn one has left that of its own.
func (c Corner) Filled(cutter float64) float64 {
	if cutter <= c.Radius {
		return 0
	}
	return (cutter*cutter - c.Radius*c.Radius) * (math.Tan(c.Turn/2) - c.Turn/2)
}

const (
	// sharpTurn is from where an edge is a corner, not a chord of a round: coarser
	// than eight chords is no circle (package feature).
	sharpTurn = 46 * math.Pi / 180
	// steepest is up to where the formula of what a cutter leaves is used: walls
	// that come back at each other leave no corner but a slot.
	steepest = 150 * math.Pi / 180
	upright  = 0.05 // cosine against an axis below which a face is a wall along it
)

// Corners finds the inside corners between walls that stand along the only
// set-ups that see them: where a wall meets a floor, the end of the cutter makes
// the corner sharp. setUps are indices into Ways.
func (v *View) Corners(setUps []int) []Corner {
	var out []Corner
	for _, e := range v.inner() {
		if c, ok := v.sharp(e, setUps); ok {
			out = append(out, c)
		}
	}
	for i := range v.Features.Rounds {
		r := &v.Features.Rounds[i]
		turn := r.ArcDeg * math.Pi / 180
		if !r.Concave || r.ArcDeg >= fullArc {
			continue
		}
		for _, k := range setUps {
			if math.Abs(r3.Dot(v.Ways[k], r.Axis)) < parallel || !v.seenAny(r.Faces, k) {
				continue
			}
			c := Corner{Along: r.Axis, Radius: r.Radius, Height: r.To - r.From, Turn: min(turn, steepest)}
			a, b, d := v.Mesh.Triangle(int(r.Faces[len(r.Faces)/2]))
			on := r3.Scale(1./3, r3.Add(a, r3.Add(b, d)))
			c.At = r3.Add(on, r3.Scale(r3.Dot(r3.Sub(r.Centre, on), r.Axis), r.Axis))
			c.Depth = v.depthOf(c, v.Normal(r.Faces[len(r.Faces)/2]), v.Ways[k])
			out = append(out, c)
			break
		}
	}
	slices.SortStableFunc(out, func(a, b Corner) int {
		for _, d := range [3]float64{a.At.X - b.At.X, a.At.Y - b.At.Y, a.At.Z - b.At.Z} {
			switch {
			case d < -v.lift:
				return -1
			case d > v.lift:
				return 1
			}
		}
		return 0
	})
	return out
}

// crease is where two patches meet in an inside corner.
type crease struct {
	from, to       r3.Vec // its ends, or its longest straight run's
	first, second  r3.Vec // normals
	longest, along float64
}

// inner gathers the inside edges between patches, one for each pair of patches.
func (v *View) inner() []crease {
	skin := v.Features.Skin
	at := map[[2]int32]int{}
	var out []crease
	for f := range v.Mesh.Faces {
		for k, g := range skin.Neighbour[f] {
			if g <= int32(f) || skin.Patch[f] == skin.Patch[g] {
				continue
			}
			if skin.Round[f] >= 0 && skin.Round[f] == skin.Round[g] {
				continue
			}
			n, m := skin.Patches[skin.Patch[f]].Normal, skin.Patches[skin.Patch[g]].Normal
			if r3.Dot(n, m) > math.Cos(sharpTurn) {
				continue
			}
			corners := v.Mesh.Faces[f]
			from, to := v.Mesh.Vertices[corners[k]], v.Mesh.Vertices[corners[(k+1)%3]]
			edge := r3.Sub(to, from)
			length := r3.Norm(edge)
			if length == 0 || r3.Dot(r3.Cross(n, m), edge) >= 0 {
				continue // the solid lies left of the edge: an outer edge turns along it
			}
			a, b := skin.Patch[f], skin.Patch[g]
			key := [2]int32{min(a, b), max(a, b)}
			i, known := at[key]
			if !known {
				i = len(out)
				at[key] = i
				out = append(out, crease{first: n, second: m})
			}
			c := &out[i]
			c.along += length
			if length > c.longest {
				c.from, c.to, c.longest = from, to, length
			}
		}
	}
	return out
}

// sharp makes a corner of an inside edge that no set-up cuts with the end of the
// cutter.
func (v *View) sharp(e crease, setUps []int) (Corner, bool) {
	along := r3.Unit(r3.Sub(e.to, e.from))
	mid := r3.Scale(0.5, r3.Add(e.from, e.to))
	out := r3.Unit(r3.Add(e.first, e.second))
	found := false
	var c Corner
	for _, k := range setUps {
		d := v.Ways[k]
		one, other := r3.Dot(e.first, d), r3.Dot(e.second, d)
		if one < -lookAway || other < -lookAway || !v.free(r3.Add(mid, r3.Scale(2*v.lift, out)), d) {
			continue
		}
		if one > upright || other > upright {
			return Corner{}, false
		}
		if !found {
			c = Corner{At: mid, Along: along, Height: e.along, Turn: math.Acos(max(-1, min(1, r3.Dot(e.first, e.second))))}
			c.Depth = v.depthOf(c, out, d)
			found = true
		}
	}
	return c, found && c.Turn < steepest
}

// depthOf returns how deep the lower end of a corner lies below the top of its
// walls; a corner that is open below too is cut half from each side.
func (v *View) depthOf(c Corner, normal, way r3.Vec) float64 {
	out := r3.Add(c.At, r3.Scale(2*v.lift, normal))
	if v.free(out, r3.Scale(-1, way)) {
		return c.Height / 2
	}
	up, _ := v.rays.First(r3.Sub(c.At, r3.Scale(2*v.lift, normal)), way, v.far)
	return min(up, v.far/2) + c.Height/2
}

// seenAny reports whether a way sees one of the mesh faces.
func (v *View) seenAny(faces []int32, way int) bool {
	for _, f := range [3]int32{faces[0], faces[len(faces)/2], faces[len(faces)-1]} {
		a, b, c := v.Mesh.Triangle(int(f))
		s := Sample{At: r3.Scale(1./3, r3.Add(a, r3.Add(b, c))), Normal: v.Normal(f), Face: f}
		if r := v.round(f); r != nil {
			v.settle(&s, *r)
		}
		if r3.Dot(s.Normal, v.Ways[way]) > -lookAway && v.free(v.above(s), v.Ways[way]) {
			return true
		}
	}
	return false
}
