package joint

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// Margin is what surrounds a hole, in mm.
type Margin struct {
	Edge float64 // from the hole's centre to the nearest outline of the part
	Wall float64 // thinnest material between the hole and anything else
}

// depths are where a hole is cut, as shares of its depth: near both ends and in
// the middle, so that a pocket or a ledge beside it is met.
var depths = []float64{0.05, 0.35, 0.5, 0.65, 0.95}

// MarginOf measures the material around a hole in cuts across its axis.
func MarginOf(m *mesh.Mesh, h feature.Hole) (Margin, error) {
	out := Margin{math.Inf(1), math.Inf(1)}
	for _, share := range depths {
		plane := across(h, share)
		region, err := cut.Section(m, plane)
		if err != nil {
			return Margin{}, fmt.Errorf("hole %d: %w", h.Number, err)
		}
		for _, p := range region {
			out.take(p)
		}
	}
	if math.IsInf(out.Wall, 1) {
		return Margin{}, fmt.Errorf("hole %d is not inside the part's outline: its edge distance cannot be measured", h.Number)
	}
	return out, nil
}

// across is the plane across the hole with its origin on the axis.
func across(h feature.Hole, share float64) mesh.Plane {
	axis := r3.Unit(h.Axis)
	helper := r3.Vec{X: 1}
	if math.Abs(axis.X) > 0.9 {
		helper = r3.Vec{Y: 1}
	}
	u := r3.Unit(r3.Cross(axis, helper))
	return mesh.Plane{
		Origin: r3.Add(h.Bottom(), r3.Scale(share*h.Depth, axis)),
		U:      u, V: r3.Cross(axis, u), Normal: axis,
	}
}

// take narrows the margin by one outline when the hole is in it.
func (g *Margin) take(p cut.Polygon) {
	own := -1
	for i, loop := range p.Holes {
		if contains(loop, r2.Vec{}) {
			own = i
		}
	}
	if own < 0 {
		return
	}
	g.Edge = min(g.Edge, distance(p.Outer, r2.Vec{}))
	g.Wall = min(g.Wall, between(p.Holes[own], p.Outer))
	for i, loop := range p.Holes {
		if i != own {
			g.Wall = min(g.Wall, between(p.Holes[own], loop))
		}
	}
}

// contains reports whether a point is inside a loop, by counting crossings of a
// ray along +x.
func contains(loop []r2.Vec, p r2.Vec) bool {
	inside := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			inside = !inside
		}
	}
	return inside
}

// between is the least distance of two loops that do not cross: it is met at a
// corner of one of them.
func between(a, b []r2.Vec) float64 {
	least := math.Inf(1)
	for _, p := range a {
		least = min(least, distance(b, p))
	}
	for _, p := range b {
		least = min(least, distance(a, p))
	}
	return least
}

// distance is the least distance of a point from the sides of a loop.
func distance(loop []r2.Vec, p r2.Vec) float64 {
	least := math.Inf(1)
	for i, a := range loop {
		side := r2.Sub(loop[(i+1)%len(loop)], a)
		t := 0.0
		if l := r2.Dot(side, side); l > 0 {
			t = min(1, max(0, r2.Dot(r2.Sub(p, a), side)/l))
		}
		least = min(least, r2.Norm(r2.Sub(p, r2.Add(a, r2.Scale(t, side)))))
	}
	return least
}
