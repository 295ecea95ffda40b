package asmade

import (
	"fmt"
	"math"
	"slices"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Unfaced returns the part that keeps the thickness of its stock on one side,
// because that side is not faced: material is added on its outermost planar
// face, and holes, pockets and edge breaks are carried through to the new
// surface. side is a unit vector; stock is the thickness of the stock along it.
//
// The volume is exact: everything above a level below the face, at which all
// walls are square to it, moves up as it is. Where there is no such level the
// face alone moves along the walls that meet it.
func Unfaced(p Part, side r3.Vec, stock float64) (Variant, error) {
	low, high := p.extent(side)
	extra := stock - (high - low)
	name := fmt.Sprintf("not faced on %s: %.4g mm instead of %.4g", sideName(side), stock, high-low)
	if !(extra > 0) || math.IsInf(extra, 0) {
		return Variant{}, fmt.Errorf("stock of %.4g mm does not cover the part's %.4g mm along %s", stock, high-low, sideName(side))
	}
	top := p.topFaces(side, high)
	if len(top) == 0 {
		return Variant{}, fmt.Errorf("the part has no planar face on its %s side that could be left unfaced", sideName(side))
	}
	if level, ok := p.squareLevel(side, low, high, top); ok {
		m := &mesh.Mesh{Vertices: slices.Clone(p.Mesh.Vertices), Faces: p.Mesh.Faces}
		for i, v := range m.Vertices {
			if r3.Dot(v, side) > level {
				m.Vertices[i] = r3.Add(v, r3.Scale(extra, side))
			}
		}
		return p.variant(name, m, 0), nil
	}
	by := map[int32]float64{}
	for f := range top {
		by[f] = extra
	}
	m, misfit, err := p.offset(listed(by))
	if err != nil {
		return Variant{}, fmt.Errorf("not faced on %s: %w", sideName(side), err)
	}
	return p.variant(name, m, misfit, "walls that slope where they meet the face were lengthened along their slope"), nil
}

// topFaces returns the mesh faces on the outermost planar faces of a side.
func (p Part) topFaces(side r3.Vec, high float64) map[int32]bool {
	top := map[int32]bool{}
	for _, face := range p.Features.Faces {
		if r3.Dot(face.Normal, side) > 1-1e-6 && high-r3.Dot(face.Centroid, side) < 0.01 {
			for _, f := range face.Faces {
				top[f] = true
			}
		}
	}
	return top
}

// squareLevel finds the highest level under the top face that only walls square
// to it cross, with no other face looking up between the two.
func (p Part) squareLevel(side r3.Vec, low, high float64, top map[int32]bool) (float64, bool) {
	const flat = 1e-3 // mm, heights closer than this are one
	heights := make([]float64, 0, len(p.Mesh.Vertices))
	for _, v := range p.Mesh.Vertices {
		heights = append(heights, r3.Dot(v, side))
	}
	slices.Sort(heights)
	floor := p.highestFloor(side, low, top)
	tried := 0
	for i := len(heights) - 1; i > 0 && tried < 50; i-- {
		if heights[i]-heights[i-1] < flat {
			continue
		}
		level := (heights[i] + heights[i-1]) / 2
		if level < floor {
			return 0, false
		}
		if p.crossedSquarely(side, level) {
			return level, true
		}
		tried++
	}
	return 0, false
}

// highestFloor returns the height of the highest face below the top that looks
// the same way.
func (p Part) highestFloor(side r3.Vec, low float64, top map[int32]bool) float64 {
	floor := low
	for _, face := range p.Features.Faces {
		if r3.Dot(face.Normal, side) > 0.99 && !top[face.Faces[0]] {
			floor = max(floor, r3.Dot(face.Centroid, side))
		}
	}
	return floor
}

func (p Part) crossedSquarely(side r3.Vec, level float64) bool {
	skin := p.Features.Skin
	for f := range p.Mesh.Faces {
		a, b, c := p.Mesh.Triangle(f)
		lo := min(r3.Dot(a, side), r3.Dot(b, side), r3.Dot(c, side))
		hi := max(r3.Dot(a, side), r3.Dot(b, side), r3.Dot(c, side))
		if lo >= level || hi <= level {
			continue
		}
		slope := r3.Dot(skin.Patches[skin.Patch[f]].Normal, side)
		if r := skin.Round[f]; r >= 0 {
			// an irregularly split bore has slanted facets and straight walls
			axis := p.Features.Rounds[r].Axis
			slope = r3.Norm(r3.Cross(axis, side))
		}
		if math.Abs(slope) > 2e-4 {
			return false
		}
	}
	return true
}
