package asmade

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pocket is a recess open to one side: a floor and the walls that rise from it.
// A step at the edge of a part is one too; a round hole is not.
type Pocket struct {
	Side     r3.Vec  // unit, out of the pocket
	Floor    []int32 // mesh faces
	Walls    []int32 // mesh faces square to the floor, ascending from it
	Area     float64 // of the floor, mm2
	WallArea float64 // mm2
	Depth    float64 // from the part's outermost face on that side, mm
}

// Pockets finds the pockets open to a side. Walls reach from the floor over
// inner corners and smooth bends, never over an outer edge.
func Pockets(p Part, side r3.Vec) []Pocket {
	inHole := map[int32]bool{}
	for _, r := range p.Features.Rounds {
		if r.Concave && r.ArcDeg >= 300 {
			for _, f := range r.Faces {
				inHole[f] = true
			}
		}
	}
	_, high := p.extent(side)
	var out []Pocket
	for _, face := range p.Features.Faces {
		deep := high - r3.Dot(face.Centroid, side)
		if r3.Dot(face.Normal, side) < 1-1e-6 || deep < 0.01 {
			continue
		}
		pocket := Pocket{Side: side, Floor: face.Faces, Area: face.Area, Depth: deep}
		p.walls(&pocket, inHole)
		if len(pocket.Walls) > 0 {
			out = append(out, pocket)
		}
	}
	return out
}

// walls floods from the floor's inner edges over the walls.
func (p Part) walls(pocket *Pocket, inHole map[int32]bool) {
	skin := p.Features.Skin
	seen := map[int32]bool{}
	queue := append([]int32{}, pocket.Floor...)
	for _, f := range pocket.Floor {
		seen[f] = true
	}
	for len(queue) > 0 {
		f := queue[0]
		queue = queue[1:]
		for k, g := range skin.Neighbour[f] {
			if g < 0 || seen[g] || inHole[g] || !p.upright(g, pocket.Side) || !p.inner(f, g, k) {
				continue
			}
			seen[g] = true
			queue = append(queue, g)
			pocket.Walls = append(pocket.Walls, g)
			pocket.WallArea += p.area(g)
		}
	}
}

// upright reports whether a face is a wall square to the side.
func (p Part) upright(f int32, side r3.Vec) bool {
	skin := p.Features.Skin
	if r := skin.Round[f]; r >= 0 {
		return r3.Norm(r3.Cross(p.Features.Rounds[r].Axis, side)) < 1e-3
	}
	return math.Abs(r3.Dot(skin.Patches[skin.Patch[f]].Normal, side)) < 1e-3
}

// inner reports whether the edge from corner k of face f to face g is an inner
// corner, flat, or a smooth bend of up to 30 degrees.
func (p Part) inner(f, g int32, k int) bool {
	skin := p.Features.Skin
	nf, ng := skin.Patches[skin.Patch[f]].Normal, skin.Patches[skin.Patch[g]].Normal
	v := p.Mesh.Faces[f]
	edge := r3.Sub(p.Mesh.Vertices[v[(k+1)%3]], p.Mesh.Vertices[v[k]])
	// the solid lies left of the edge on f: an outer edge turns along it
	bend := r3.Dot(r3.Cross(nf, ng), r3.Unit(edge))
	return bend < 0 || r3.Dot(nf, ng) > math.Cos(30*math.Pi/180)
}

// StockLeft returns the part with stock left in its pockets on both ends of the
// direction in which it is milled: wall on their walls, floor on their floors,
// mm, as a cautious or unfinished job leaves it. Holes stay as drawn.
func StockLeft(p Part, axis r3.Vec, wall, floor float64) (Variant, error) {
	if wall < 0 || floor < 0 || wall+floor == 0 || math.IsInf(wall+floor, 0) || math.IsNaN(wall+floor) {
		return Variant{}, fmt.Errorf("stock left of %.4g mm on walls and %.4g mm on floors: expected amounts of 0 or more, not both 0", wall, floor)
	}
	pockets := append(Pockets(p, axis), Pockets(p, r3.Scale(-1, axis))...)
	if len(pockets) == 0 {
		return Variant{}, Absent("the part has no pocket with a planar floor along the milling direction, so no stock can be left in one")
	}
	by := map[int32]float64{}
	for _, pocket := range pockets {
		for _, f := range pocket.Floor {
			by[f] = floor
		}
		for _, f := range pocket.Walls {
			by[f] = wall
		}
	}
	m, misfit, err := p.offset(listed(by))
	if err != nil {
		return Variant{}, fmt.Errorf("stock left in pockets: %w", err)
	}
	name := fmt.Sprintf("%.3g mm left on walls and %.3g mm on floors of %d pocket", wall, floor, len(pockets))
	if len(pockets) > 1 {
		name += "s"
	}
	return p.variant(name, m, misfit), nil
}
