package cut

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/triangulation"
)

// Triangulate divides a polygon with holes into triangles, constrained
// Delaunay, without new points: points lists the outer loop followed by the
// holes, in mm, and faces holds counter-clockwise indices into it. Points that
// coincide share the first one's index. Loops may touch themselves or each other
// at points but not cross. The decisions are exact in float64 coordinates.
//
// It is an error when a loop has less than three points, a coordinate is not
// finite, outlines cross, or a loop runs the wrong way round.
func Triangulate(p Polygon) (points []r2.Vec, faces [][3]int32, err error) {
	for _, loop := range p.Loops() {
		if len(loop) < 3 {
			return nil, nil, fmt.Errorf("triangulate: an outline has %d points; it needs 3", len(loop))
		}
		points = append(points, loop...)
	}
	c, err := triangulation.New(points)
	if err != nil {
		return nil, nil, fmt.Errorf("triangulate: %w", err)
	}
	start := 0
	for _, loop := range p.Loops() {
		if _, err := c.Outline(triangulation.Run(start, len(loop)), 0); err != nil {
			return nil, nil, fmt.Errorf("triangulate: %w", err)
		}
		start += len(loop)
	}
	for _, f := range c.Faces() {
		if f.Turns[0] == 1 {
			faces = append(faces, f.Corner)
		}
	}
	if err := checkCovered(points, faces, p.Area()); err != nil {
		return nil, nil, err
	}
	return points, faces, nil
}

// checkCovered compares the area of the faces with that of the polygon.
func checkCovered(points []r2.Vec, faces [][3]int32, area float64) error {
	var covered float64
	for _, f := range faces {
		a, b, c := points[f[0]], points[f[1]], points[f[2]]
		covered += r2.Cross(r2.Sub(b, a), r2.Sub(c, a)) / 2
	}
	b := triangulation.Bounds(points)
	room := (b.Max.X - b.Min.X) * (b.Max.Y - b.Min.Y)
	if math.Abs(covered-area) > 1e-9*room {
		return fmt.Errorf("triangulate: the outlines enclose %.6g mm2 but add up to %.6g mm2; "+
			"outer loops run counter-clockwise, holes clockwise and inside", covered, area)
	}
	return nil
}
