package asmade

import (
	"math"

	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pocket is a recess open to one side: a floor, the walls that rise from it and
// the fillet at their foot. A step at the edge of a part is one too; a round hole
// is not.
type Pocket struct {
	Side     r3.Vec  // unit, out of the pocket
	Floor    []int32 // mesh faces
	Walls    []int32 // mesh faces upright or of one slope, in no order
	Feet     []int32 // mesh faces of the fillet between floor and walls
	Area     float64 // of the floor, mm2
	WallArea float64 // mm2
	Depth    float64 // from the part's outermost face on that side, mm
}

// Pockets finds the pockets open to a side. Walls reach from the floor over
// inner corners and smooth bends, never over an outer edge.
func Pockets(p Part, side r3.Vec) []Pocket {
	return p.lie(side).pockets(side, math.Inf(1))
}

// least is the depth under which a level is the top itself, mm.
const least = 0.01

// pockets finds the pockets open to an end of the axis. Round holes up to the
// diameter bored are none.
func (l *lay) pockets(side r3.Vec, bored float64) []Pocket {
	drilled := l.part.holesUpTo(bored)
	_, high := l.part.extent(side)
	var out []Pocket
	for _, patch := range l.part.Features.Skin.Patches {
		f := patch.Faces[0]
		if patch.Area == 0 || l.role[f] != level || r3.Dot(l.shape[f], side) < 0 {
			continue
		}
		floor := Pocket{Side: side, Floor: patch.Faces, Area: patch.Area, Depth: high - r3.Dot(l.part.centre(f), side)}
		if floor.Depth < least {
			continue
		}
		l.walls(&floor, high-floor.Depth, drilled)
		if len(floor.Walls) > 0 {
			out = append(out, floor)
		}
	}
	return out
}

// holesUpTo returns the faces of inward round walls that go fully round and are
// no wider than the diameter.
func (p Part) holesUpTo(diameter float64) map[int32]bool {
	in := map[int32]bool{}
	for _, r := range p.Features.Rounds {
		if r.Concave && r.ArcDeg >= feature.FullArc && 2*r.Radius <= diameter {
			for _, f := range r.Faces {
				in[f] = true
			}
		}
	}
	return in
}

// walls floods from the floor's inner edges over the fillet at its foot and the
// walls.
func (l *lay) walls(pocket *Pocket, height float64, drilled map[int32]bool) {
	skin := l.part.Features.Skin
	seen := map[int32]bool{}
	queue := append([]int32{}, pocket.Floor...)
	for _, f := range pocket.Floor {
		seen[f] = true
	}
	lowest := map[int32]float64{} // of a patch
	for len(queue) > 0 {
		f := queue[0]
		queue = queue[1:]
		for k, g := range skin.Neighbour[f] {
			if g < 0 || seen[g] || drilled[g] || !l.climbs(f, g, k) {
				continue
			}
			low, known := lowest[skin.Patch[g]]
			if !known {
				low = l.lowest(skin.Patch[g], pocket.Side)
				lowest[skin.Patch[g]] = low
			}
			if low < height-least {
				continue
			}
			seen[g] = true
			queue = append(queue, g)
			if l.role[g] == foot {
				pocket.Feet = append(pocket.Feet, g)
				continue
			}
			pocket.Walls = append(pocket.Walls, g)
			pocket.WallArea += l.part.area(g)
		}
	}
}

// climbs reports whether the wall of a pocket goes on from face f over its edge
// k to face g: from the floor to the foot, and over inner corners and bends of
// up to 30 degrees.
func (l *lay) climbs(f, g int32, k int) bool {
	switch l.role[g] {
	case foot:
		return l.role[f] == foot || l.role[f] == level && !l.part.convex(f, g, k)
	case wall:
		return l.part.inner(f, g, k)
	}
	return false
}

// lowest returns the height of the lowest corner of a patch.
func (l *lay) lowest(patch int32, side r3.Vec) float64 {
	low := math.Inf(1)
	for _, g := range l.part.Features.Skin.Patches[patch].Faces {
		a, b, c := l.part.Mesh.Triangle(int(g))
		low = min(low, r3.Dot(a, side), r3.Dot(b, side), r3.Dot(c, side))
	}
	return low
}

// inner reports whether the edge from corner k of face f to face g is an inner
// corner, flat, or a smooth bend of up to 30 degrees.
func (p Part) inner(f, g int32, k int) bool {
	return !p.convex(f, g, k) || r3.Dot(p.normal(f), p.normal(g)) > math.Cos(30*math.Pi/180)
}

// windows finds the walls of openings through the part that are no round holes up
// to the diameter bored and no walls of the pockets: rings of walls that enclose
// nothing but air.
func (l *lay) windows(pockets []Pocket, bored float64) [][]int32 {
	skin := l.part.Features.Skin
	taken := l.part.holesUpTo(bored)
	for _, p := range pockets {
		for _, f := range p.Walls {
			taken[f] = true
		}
	}
	seen := make([]bool, len(l.role))
	var out [][]int32
	for f := range l.role {
		if seen[f] || l.role[f] != wall {
			continue
		}
		ring := []int32{int32(f)}
		seen[f] = true
		for i := 0; i < len(ring); i++ {
			for _, g := range skin.Neighbour[ring[i]] {
				if g >= 0 && !seen[g] && l.role[g] == wall {
					seen[g] = true
					ring = append(ring, g)
				}
			}
		}
		if !l.enclosesAir(ring) {
			continue
		}
		var walls []int32
		for _, g := range ring {
			if !taken[g] {
				walls = append(walls, g)
			}
		}
		if len(walls) > 0 {
			out = append(out, walls)
		}
	}
	return out
}

// enclosesAir reports whether walls close to a ring that looks inwards: by the
// theorem of Gauss the integral of n.x over upright walls of height h is twice
// the area they enclose times h, negative where they look inwards; and that of n
// vanishes where they close.
func (l *lay) enclosesAir(ring []int32) bool {
	const gap = 0.02 // share of the walls that may be missing from the ring
	about := l.part.centre(ring[0])
	var open r3.Vec
	sum, all := 0.0, 0.0
	for _, f := range ring {
		area := l.part.area(f)
		n := l.shape[f]
		n = r3.Sub(n, r3.Scale(r3.Dot(n, l.axis), l.axis))
		open = r3.Add(open, r3.Scale(area, n))
		sum += area * r3.Dot(n, r3.Sub(l.part.centre(f), about))
		all += area
	}
	return sum < 0 && r3.Norm(open) < gap*all
}
