package asmade

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Unfaced returns the part that keeps the thickness of its stock on one side,
// because that side is not faced: its outermost level moves up by what the stock
// is thicker. side is a unit vector; stock is the thickness of the stock along it.
//
// Upright walls, and so holes and pockets, are carried through to the new
// surface; chamfers and roundings of its edges ride up with their shape; walls
// that slope or lean over are lengthened along their slope. With upright walls
// alone the volume is exact: what is added is the thickness times the area, seen
// along the side, of the level and of what breaks its edges.
func Unfaced(p Part, side r3.Vec, stock float64) (Variant, error) {
	low, high := p.extent(side)
	extra := stock - (high - low)
	name := fmt.Sprintf("not faced on %s: %.4g mm instead of %.4g", sideName(side), stock, high-low)
	if !(extra > 0) || math.IsInf(extra, 0) {
		return Variant{}, fmt.Errorf("stock of %.4g mm does not cover the part's %.4g mm along %s", stock, high-low, sideName(side))
	}
	l := p.lie(side)
	top := l.topOf(side)
	if len(top) == 0 {
		return Variant{}, Unmade{fmt.Errorf("the part has no level face on its %s side that could be left unfaced", sideName(side)), extra * p.seenFrom(side)}
	}
	r, nearWall := l.risers(top), l.nearest(wall)
	m, misfit, err := p.offset(func(list []demand, f, v int32) []demand {
		switch {
		case r.up[f] && l.role[f] == level:
			return append(list, demand{side, extra})
		case r.up[f]:
			return append(list, demand{side, extra}, demand{l.joins(nearWall, f, v), 0})
		case l.role[f] == unsized:
			return list
		case l.role[f] == wall && l.run[f] < 0: // its facets may lean
			return append(list, demand{l.along(f), 0})
		}
		return append(list, demand{l.shape[f], 0})
	}, nil)
	if err != nil {
		return Variant{}, Unmade{fmt.Errorf("not faced on %s: %w", sideName(side), err), extra * p.seenFrom(side)}
	}
	out := p.variant(name, m, misfit)
	if r.sloping {
		out.Notes = append(out.Notes, "walls that slope where they meet the face were lengthened along their slope")
	} else {
		out.Error += math.Abs(out.Added - extra*r.seen)
	}
	if r.broken {
		out.Notes = append(out.Notes, "chamfers and roundings of its edges keep their shape on the new surface")
	}
	return out, nil
}

// seenFrom returns the area of all faces that look to a side, as seen from there,
// mm2: more than the part's shadow where one lies above another.
func (p Part) seenFrom(side r3.Vec) float64 {
	sum := 0.0
	for f := range p.Mesh.Faces {
		sum += p.area(int32(f)) * max(0, r3.Dot(p.normal(int32(f)), side))
	}
	return sum
}

// risers are the faces that rise with a level that is not faced.
type risers struct {
	up      map[int32]bool
	seen    float64 // their area as seen along the side, mm2
	broken  bool    // chamfers or roundings are among them
	sloping bool    // the level also meets walls that are not upright
}

// risers finds the breaks of the edges of a level.
func (l *lay) risers(top []int32) risers {
	r := risers{up: map[int32]bool{}}
	rise := func(f int32) {
		r.up[f] = true
		r.seen += l.part.area(f) * r3.Dot(l.shape[f], l.axis)
	}
	for _, f := range top {
		rise(f)
	}
	runs := map[int32]bool{}
	for _, f := range top {
		for _, g := range l.part.Features.Skin.Neighbour[f] {
			switch {
			case g < 0 || r.up[g]:
			case l.run[g] < 0:
				r.sloping = r.sloping || l.role[g] == level
			default:
				runs[l.run[g]] = true
			}
		}
	}
	for id := range runs {
		for _, f := range l.runs[id].faces {
			if l.role[f] == breaks {
				rise(f)
				r.broken = true
			}
			r.sloping = r.sloping || l.role[f] != breaks
		}
	}
	return r
}
