package cut

import (
	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/triangle"
	"swapworth/internal/triangulation"
)

// Polygon is a connected plane area: everything inside Outer and outside every
// hole, in mm. Outer runs counter-clockwise, holes run clockwise, so that the
// FaceArea is always on the left of the outline. No loop repeats its first point
// at the end.
type Polygon struct {
	Outer []r2.Vec
	Holes [][]r2.Vec
}

// Region is a set of polygons that do not overlap. An island inside a hole is
// a polygon of its own.
type Region []Polygon

// LoopArea returns the signed area of a closed loop in mm2, positive when it
// runs counter-clockwise:
//
//	A = 1/2 sum (x_i y_i+1 - x_i+1 y_i)
//
// taken about the loop's first point, so that a distant origin costs no digits.
func LoopArea(loop []r2.Vec) float64 {
	if len(loop) < 3 {
		return 0
	}
	var twice float64
	o := loop[0]
	for i := 1; i+1 < len(loop); i++ {
		a, b := r2.Sub(loop[i], o), r2.Sub(loop[i+1], o)
		twice += a.X*b.Y - a.Y*b.X
	}
	return twice / 2
}

// Loops returns the outer loop followed by the holes.
func (p Polygon) Loops() [][]r2.Vec {
	return append([][]r2.Vec{p.Outer}, p.Holes...)
}

// Area returns the area in mm2.
func (p Polygon) Area() float64 {
	a := LoopArea(p.Outer)
	for _, h := range p.Holes {
		a += LoopArea(h)
	}
	return a
}

// Area returns the area in mm2.
func (r Region) Area() float64 {
	var a float64
	for _, p := range r {
		a += p.Area()
	}
	return a
}

// Loops returns every loop of the region, each polygon's outer loop before its
// holes.
func (r Region) Loops() [][]r2.Vec {
	var all [][]r2.Vec
	for _, p := range r {
		all = append(all, p.Loops()...)
	}
	return all
}

// Bounds returns the smallest upright rectangle that holds the region, in mm;
// an empty region has the zero rectangle.
func (r Region) Bounds() r2.Box {
	if len(r) == 0 {
		return r2.Box{}
	}
	all := triangulation.Bounds(r[0].Outer)
	for _, p := range r[1:] {
		all = all.Union(triangulation.Bounds(p.Outer))
	}
	return all
}

// Contains reports whether q lies in the polygon. Points exactly on an outline
// may count either way.
func (p Polygon) Contains(q r2.Vec) bool {
	inside := insideLoop(p.Outer, q)
	for _, h := range p.Holes {
		inside = inside != insideLoop(h, q)
	}
	return inside
}

// insideLoop is the even-odd rule along a ray to +x.
func insideLoop(loop []r2.Vec, q r2.Vec) bool {
	inside := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > q.Y) == (b.Y > q.Y) {
			continue
		}
		if (triangle.Turn(a, b, q) > 0) == (b.Y > a.Y) {
			inside = !inside
		}
	}
	return inside
}
