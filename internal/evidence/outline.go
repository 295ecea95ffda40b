package evidence

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Outlines run counter-clockwise, what is cut out of them clockwise, as mesh.Polygon
// wants them. Units are mm.

// holeChords draws a full circle: it leaves out 0.2 % of its area.
const holeChords = 64

func points(xy ...float64) (out []r2.Vec) {
	for i := 0; i < len(xy); i += 2 {
		out = append(out, r2.Vec{X: xy[i], Y: xy[i+1]})
	}
	return
}

func rectangle(x0, y0, x1, y1 float64) []r2.Vec {
	return points(x0, y0, x1, y0, x1, y1, x0, y1)
}

func reversed(p []r2.Vec) []r2.Vec {
	p = slices.Clone(p)
	slices.Reverse(p)
	return p
}

// circle is one to be cut out.
func circle(x, y, radius float64) (out []r2.Vec) {
	for i := range holeChords {
		t := -2 * math.Pi * float64(i) / holeChords
		out = append(out, r2.Vec{X: x + radius*math.Cos(t), Y: y + radius*math.Sin(t)})
	}
	return
}

// rounded is a rectangle to be cut out, with round corners.
func rounded(x0, y0, x1, y1, radius float64) (out []r2.Vec) {
	radius = min(radius, (x1-x0)/2.5, (y1-y0)/2.5)
	const quarter = holeChords / 4
	for k, c := range points(x1-radius, y1-radius, x0+radius, y1-radius, x0+radius, y0+radius, x1-radius, y0+radius) {
		for i := range quarter + 1 {
			t := math.Pi / 2 * (float64(k) + float64(i)/quarter)
			out = append(out, r2.Vec{X: c.X + radius*math.Cos(t), Y: c.Y + radius*math.Sin(t)})
		}
	}
	slices.Reverse(out)
	return
}

// sector is a window of a disc to be cut out, between two spokes of a width that
// lie along the angles from and to.
func sector(inner, outer, from, to, spoke float64) (out []r2.Vec) {
	arc := func(r float64, back bool) {
		a, b := from+spoke/2/r, to-spoke/2/r
		if back {
			a, b = b, a
		}
		for i := range holeChords/4 + 1 {
			t := a + (b-a)*float64(i)/(holeChords/4)
			out = append(out, r2.Vec{X: r * math.Cos(t), Y: r * math.Sin(t)})
		}
	}
	arc(inner, false)
	arc(outer, true)
	return
}
