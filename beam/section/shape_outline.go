package section

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
)

// arcChords is the number of chords that stand for a quarter circle in the
// region of a shape; the disc they enclose is 0.02 % too small.
const arcChords = 48

// Region returns the shape's outline as polygons, in mm; arcs are drawn with
// chords between points on them.
func (s Shape) Region() mesh.Region {
	switch s.kind {
	case Rect, Square:
		return mesh.Region{{Outer: s.roundedBox(0, 0)}}
	case Round:
		return mesh.Region{{Outer: s.circle(s.width / 2)}}
	case Tube:
		return mesh.Region{{Outer: s.circle(s.width / 2),
			Holes: [][]r2.Vec{clockwise(s.circle(s.width/2 - s.web))}}}
	case RectTube:
		hole := clockwise(s.roundedBox(s.web, max(s.radius-s.web, 0)))
		return mesh.Region{{Outer: s.roundedBox(0, s.radius), Holes: [][]r2.Vec{hole}}}
	case Hexagon:
		return mesh.Region{{Outer: s.hexagon()}}
	}
	return mesh.Region{{Outer: s.openOutline()}}
}

// clockwise turns a loop round.
func clockwise(loop []r2.Vec) []r2.Vec {
	for i, j := 0, len(loop)-1; i < j; i, j = i+1, j-1 {
		loop[i], loop[j] = loop[j], loop[i]
	}
	return loop
}

func (s Shape) circle(r float64) []r2.Vec {
	loop := make([]r2.Vec, 4*arcChords)
	for i := range loop {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(loop)))
		loop[i] = r2.Vec{X: s.width/2 + r*cos, Y: s.height/2 + r*sin}
	}
	return loop
}

// hexagon has its corners left and right; its lowest and highest sides are
// level. The left corner is at 0 along the first axis.
func (s Shape) hexagon() []r2.Vec {
	half, side := s.width/2, s.width/math.Sqrt(3)
	return []r2.Vec{
		{X: 2 * side, Y: half}, {X: 1.5 * side, Y: 2 * half}, {X: side / 2, Y: 2 * half},
		{X: 0, Y: half}, {X: side / 2, Y: 0}, {X: 1.5 * side, Y: 0},
	}
}

// arc appends a quarter circle about c from angle start, in quarter turns,
// counter-clockwise for turn 1 and clockwise for turn -1. A radius of 0 appends
// c itself.
func arc(loop []r2.Vec, c r2.Vec, r, start, turn float64) []r2.Vec {
	if r == 0 {
		return append(loop, c)
	}
	for i := 0; i <= arcChords; i++ {
		sin, cos := math.Sincos(math.Pi / 2 * (start + turn*float64(i)/arcChords))
		loop = append(loop, r2.Vec{X: c.X + r*cos, Y: c.Y + r*sin})
	}
	return loop
}

// roundedBox is the shape's box drawn in by inset, with corners of radius r.
func (s Shape) roundedBox(inset, r float64) []r2.Vec {
	x0, y0, x1, y1 := inset+r, inset+r, s.width-inset-r, s.height-inset-r
	var loop []r2.Vec
	loop = arc(loop, r2.Vec{X: x1, Y: y0}, r, 3, 1)
	loop = arc(loop, r2.Vec{X: x1, Y: y1}, r, 0, 1)
	loop = arc(loop, r2.Vec{X: x0, Y: y1}, r, 1, 1)
	return arc(loop, r2.Vec{X: x0, Y: y0}, r, 2, 1)
}

// openOutline walks counter-clockwise from the lower left corner.
func (s Shape) openOutline() []r2.Vec {
	left, right := s.webSides()
	w, h, f, r := s.width, s.height, s.flange, s.radius
	var loop []r2.Vec
	at := func(x, y float64) { loop = append(loop, r2.Vec{X: x, Y: y}) }
	// fillet centred r away from the root toward (du, dv)
	fillet := func(x, y, du, dv, start float64) {
		loop = arc(loop, r2.Vec{X: x + du*r, Y: y + dv*r}, r, start, -1)
	}
	if s.flangeBelow() {
		at(0, 0)
		at(w, 0)
		at(w, f)
		fillet(right, f, 1, 1, 3)
	} else {
		at(left, 0)
		at(right, 0)
	}
	if s.flangeAbove() {
		fillet(right, h-f, 1, -1, 2)
		at(w, h-f)
		at(w, h)
		at(0, h)
		if left > 0 {
			at(0, h-f)
			fillet(left, h-f, -1, -1, 1)
		}
	} else {
		at(right, h)
		at(left, h)
	}
	if s.flangeBelow() && left > 0 {
		fillet(left, f, -1, 1, 0)
		at(0, f)
	}
	return loop
}
