package asmade

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/textwrap"
	"swapworth/internal/vector"
	"swapworth/mesh/feature"
)

// Chamfer is an edge break of one slope along the border of a planar face: a
// narrow strip, straight or around a round edge, between that face and the walls
// below it.
type Chamfer struct {
	Faces  []int32 // mesh faces of the strip
	From   int32   // index into Features.Skin.Patches: the planar face
	Width  float64 // of the sloping face, across the edge, mm
	Length float64 // along the edge, mean, mm
}

const (
	// widest is the width of the sloping face above which a slope is a feature of
	// the part rather than a broken edge: a 3 x 3 mm chamfer is 4.2 mm wide.
	widest = 4.3

	// A chamfer lies at 20 to 70 degrees to the faces on both sides: cutters have
	// points of 60, 82, 90 and 120 degrees (common practice).
	flattest, steepest = 20.0, 70.0

	// withinStrip is the turn between facets of one chamfer across its slope,
	// degrees: less than between the strips of a rounding whose first one is as
	// steep as a chamfer, for that has no more than two, or three split at random.
	withinStrip = 20.0

	// squarely is the turn from which a narrow face beyond a strip is a wall and
	// not the next strip of a rounding, degrees.
	squarely = 75.0
)

// Chamfers finds the edge breaks of a part, those of its holes included, but not
// the seats of countersunk screws. Planar faces square to the directions of the
// part are asked first, then larger ones: of two strips side by side the one
// between them is the face.
func Chamfers(p Part) []Chamfer {
	skin := p.Features.Skin
	sunk, _ := p.sunk()
	taken := make([]bool, len(p.Mesh.Faces))
	var out []Chamfer
	for _, id := range p.askedFirst() {
		if taken[skin.Patches[id].Faces[0]] {
			continue
		}
		for _, strip := range p.strips(id, taken) {
			c, ok := p.chamfer(id, strip, sunk)
			if !ok {
				continue
			}
			for _, f := range c.Faces {
				taken[f] = true
			}
			out = append(out, c)
		}
	}
	return out
}

// seat is how many times wider than its bore a cone is that seats a screw: heads
// of countersunk screws are 1.75 to 2 times as wide as their clearance holes
// (ISO 10642 and ISO 273, from memory); a narrower cone breaks an edge.
const seat = 1.6

// sunk returns the faces of the bores of countersunk holes, and their number.
func (p Part) sunk() (faces map[int32]bool, n int) {
	faces = map[int32]bool{}
	for _, h := range p.Features.Holes {
		if h.Kind == feature.Countersink && h.HeadDiameter >= seat*h.Diameter {
			n++
			for _, f := range h.Faces {
				faces[f] = true
			}
		}
	}
	return faces, n
}

// askedFirst orders the planar patches that are no chords.
func (p Part) askedFirst() []int32 {
	skin := p.Features.Skin
	var out []int32
	square := map[int32]bool{}
	for id, patch := range skin.Patches {
		if patch.Area == 0 || p.round[patch.Faces[0]] >= 0 {
			continue
		}
		for _, d := range p.Square {
			if math.Abs(r3.Dot(d, patch.Normal)) > levelCosine {
				square[int32(id)] = true
			}
		}
		out = append(out, int32(id))
	}
	slices.SortStableFunc(out, func(a, b int32) int {
		switch {
		case square[a] && !square[b]:
			return -1
		case square[b] && !square[a]:
			return 1
		}
		return cmp.Compare(skin.Patches[b].Area, skin.Patches[a].Area)
	})
	return out
}

// strips floods from the outer edges of a planar face over what slopes down from
// it.
func (p Part) strips(id int32, taken []bool) [][]int32 {
	skin := p.Features.Skin
	seen := map[int32]bool{}
	var out [][]int32
	for _, f := range skin.Patches[id].Faces {
		for k, g := range skin.Neighbour[f] {
			if g < 0 || seen[g] || taken[g] || !p.slopesFrom(id, g) || !p.convex(f, g, k) {
				continue
			}
			strip := []int32{g}
			seen[g] = true
			for i := 0; i < len(strip); i++ {
				for k, h := range skin.Neighbour[strip[i]] {
					if h >= 0 && !seen[h] && !taken[h] && p.slopesFrom(id, h) && p.alongStrip(id, strip[i], h, k) {
						seen[h] = true
						strip = append(strip, h)
					}
				}
			}
			out = append(out, strip)
		}
	}
	return out
}

// slopesFrom reports whether a face lies to a patch as a chamfer of it does.
func (p Part) slopesFrom(id, f int32) bool {
	if p.Features.Skin.Patch[f] == id || p.normal(f) == (r3.Vec{}) {
		return false
	}
	turn := vector.DegreesBetween(p.Features.Skin.Patches[id].Normal, p.normal(f))
	return turn >= flattest && turn <= steepest
}

// alongStrip reports whether a chamfer goes on over edge k of face f to face g:
// around the edge that it breaks, between facets that stand on the patch, or
// where they hardly turn.
func (p Part) alongStrip(id, f, g int32, k int) bool {
	turn := vector.DegreesBetween(p.normal(f), p.normal(g))
	if turn >= smoothDegree || turn < withinStrip {
		return turn < withinStrip
	}
	const touch = 1e-3 // mm
	up := p.Features.Skin.Patches[id].Normal
	v := p.Mesh.Faces[f]
	level := r3.Dot(up, p.centre(p.Features.Skin.Patches[id].Faces[0]))
	for _, end := range [2]int32{v[k], v[(k+1)%3]} {
		if level-r3.Dot(up, p.Mesh.Vertices[end]) < touch {
			return true
		}
	}
	e := p.edge(f, k)
	return math.Abs(r3.Dot(r3.Cross(e, p.normal(f)), p.down(id, f))) < downhill*r3.Norm(e)
}

// down is the steepest way on a face away from a patch's normal, of length 1.
func (p Part) down(id, f int32) r3.Vec {
	up, n := p.Features.Skin.Patches[id].Normal, p.normal(f)
	return r3.Unit(r3.Sub(r3.Scale(r3.Dot(n, up), n), up))
}

// chamfer holds a strip along a planar face against what a chamfer is: narrow,
// and over outer edges of 20 to 70 degrees to what lies below.
func (p Part) chamfer(id int32, strip []int32, sunk map[int32]bool) (Chamfer, bool) {
	skin := p.Features.Skin
	c := Chamfer{Faces: strip, From: id}
	in := map[int32]bool{}
	for _, f := range strip {
		in[f] = true
	}
	var area, above, below, broken float64
	for _, f := range strip {
		area += p.area(f)
		for k, g := range skin.Neighbour[f] {
			if g < 0 || in[g] {
				continue
			}
			e := p.edge(f, k)
			length := r3.Norm(e)
			switch {
			case skin.Patch[g] == id:
				above += length
			case r3.Dot(r3.Cross(e, p.normal(f)), p.down(id, f)) > downhill*length:
				if sunk[g] {
					return c, false
				}
				below += length
				if turn := vector.DegreesBetween(p.normal(f), p.normal(g)); p.convex(f, g, k) && turn >= flattest && turn <= steepest && p.isWall(id, g) {
					broken += length
				}
			}
		}
	}
	if above == 0 || broken < mainly*below || below < mostly*above {
		return c, false
	}
	c.Length = (above + below) / 2
	c.Width = area / c.Length
	return c, c.Width <= widest && p.depth(strip, id) <= widest
}

// mainly is the share of a chamfer's lower border that meets walls: some is lost
// where it runs into another.
const mainly = 0.9

// isWall reports whether a face beyond a strip is what the strip leads to: square
// to the patch, or too wide for a strip itself.
func (p Part) isWall(id, g int32) bool {
	skin := p.Features.Skin
	if vector.DegreesBetween(skin.Patches[id].Normal, p.normal(g)) >= squarely {
		return true
	}
	patch := skin.Patches[skin.Patch[g]]
	longest := 0.0
	for _, f := range patch.Faces {
		for k := range 3 {
			longest = max(longest, r3.Norm(p.edge(f, k)))
		}
	}
	return longest > 0 && patch.Area/longest > widest
}

// depth returns how far faces reach below the plane of a patch, mm.
func (p Part) depth(faces []int32, id int32) float64 {
	patch := p.Features.Skin.Patches[id]
	level := r3.Dot(patch.Normal, p.centre(patch.Faces[0]))
	deepest := 0.0
	for _, f := range faces {
		for _, v := range p.Mesh.Faces[f] {
			deepest = max(deepest, level-r3.Dot(patch.Normal, p.Mesh.Vertices[v]))
		}
	}
	return deepest
}

// WithoutChamfers returns the part with its edges left sharp: every edge break
// rises to the plane of the face that it borders on, along the walls below it.
// Walls square to that face make it exact, whatever their shape. Roundings and
// the fillets that a cutter leaves are no chamfers and stay.
func WithoutChamfers(p Part) (Variant, error) {
	chamfers := Chamfers(p)
	if len(chamfers) == 0 {
		return Variant{}, Absent("the part has no chamfer that could be skipped")
	}
	skin := p.Features.Skin
	of := map[int32]int{}        // which chamfer a face is of, from 1
	touched := map[int32]int32{} // corners of chamfers, and the planar face that one of them runs along
	length := 0.0
	for i, c := range chamfers {
		length += c.Length
		for _, f := range c.Faces {
			of[f] = i + 1
			for _, v := range p.Mesh.Faces[f] {
				touched[v] = c.From
			}
		}
	}
	lays := p.laysAlong(chamfers)
	m, misfit, err := p.offset(func(list []demand, f, v int32) []demand {
		id, is := touched[v]
		switch {
		case !is || p.normal(f) == (r3.Vec{}):
			return list
		case of[f] == 0 && p.corner(f, of):
			return list
		case of[f] == 0:
			return append(list, demand{lays[id].outward(f, v), 0})
		}
		from := skin.Patches[chamfers[of[f]-1].From]
		level := r3.Dot(from.Normal, p.centre(from.Faces[0]))
		return append(list, demand{from.Normal, level - r3.Dot(from.Normal, p.Mesh.Vertices[v])})
	}, nil)
	if err != nil {
		atMost := 0.0
		for _, c := range chamfers { // a right angle broken evenly holds width^2/4 on each mm
			atMost += c.Length * c.Width * c.Width / 2
		}
		return Variant{}, Unmade{fmt.Errorf("chamfers skipped: %w", err), atMost}
	}
	v := p.variant(fmt.Sprintf("chamfers skipped, %.4g mm of edge", length), m, misfit)
	marked := map[int32]bool{}
	for v := range touched {
		marked[v] = true
	}
	v.Mesh = joined(v.Mesh, marked)
	if _, n := p.sunk(); n > 0 {
		v.Notes = append(v.Notes, fmt.Sprintf("the seats of %s stay", textwrap.Counted(n, "countersunk screw")))
	}
	return v, nil
}

// laysAlong returns how the part lies to the planar face of every chamfer: walls
// square to that face, whose facets may lean, are so told from slanted ones.
func (p Part) laysAlong(chamfers []Chamfer) map[int32]*lay {
	out := map[int32]*lay{}
	var known []*lay
	for _, c := range chamfers {
		axis := p.Features.Skin.Patches[c.From].Normal
		if out[c.From] != nil {
			continue
		}
		k := slices.IndexFunc(known, func(l *lay) bool { return math.Abs(r3.Dot(l.axis, axis)) > levelCosine })
		if k < 0 {
			k, known = len(known), append(known, p.lie(axis))
		}
		out[c.From] = known[k]
	}
	return out
}

// corner reports whether a face is the small one between three chamfers: all
// faces around it are of chamfers, or of it.
func (p Part) corner(f int32, of map[int32]int) bool {
	skin := p.Features.Skin
	for _, own := range skin.Patches[skin.Patch[f]].Faces {
		for _, g := range skin.Neighbour[own] {
			if g >= 0 && skin.Patch[g] != skin.Patch[f] && of[g] == 0 {
				return false
			}
		}
	}
	return true
}
