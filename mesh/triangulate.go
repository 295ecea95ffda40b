package mesh

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
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
	c, err := newCover(points)
	if err != nil {
		return nil, nil, fmt.Errorf("triangulate: %w", err)
	}
	start := 0
	for _, loop := range p.Loops() {
		if _, err := c.outline(run(start, len(loop)), 0); err != nil {
			return nil, nil, fmt.Errorf("triangulate: %w", err)
		}
		start += len(loop)
	}
	for _, f := range c.faces() {
		if f.turns[0] == 1 {
			faces = append(faces, f.corner)
		}
	}
	if err := checkCovered(points, faces, p.Area()); err != nil {
		return nil, nil, err
	}
	return points, faces, nil
}

// run returns the n numbers from start on.
func run(start, n int) []int32 {
	r := make([]int32, n)
	for i := range r {
		r[i] = int32(start + i)
	}
	return r
}

// checkCovered compares the area of the faces with that of the polygon.
func checkCovered(points []r2.Vec, faces [][3]int32, area float64) error {
	var covered float64
	for _, f := range faces {
		a, b, c := points[f[0]], points[f[1]], points[f[2]]
		covered += r2.Cross(r2.Sub(b, a), r2.Sub(c, a)) / 2
	}
	b := loopBounds(points)
	room := (b.Max.X - b.Min.X) * (b.Max.Y - b.Min.Y)
	if math.Abs(covered-area) > 1e-9*room {
		return fmt.Errorf("triangulate: the outlines enclose %.6g mm2 but add up to %.6g mm2; "+
			"outer loops run counter-clockwise, holes clockwise and inside", covered, area)
	}
	return nil
}

// cover is a triangulation in progress of points some of which may coincide.
type cover struct {
	d     *delaunay
	index []int32 // the distinct point of each given point
	first []int32 // the first given point of each distinct point
}

// coverFace is a counter-clockwise triangle of given points and how often each
// of the two sets of outlines turns around it.
type coverFace struct {
	corner [3]int32
	turns  [2]int16
}

func newCover(points []r2.Vec) (*cover, error) {
	c := &cover{index: make([]int32, len(points))}
	var distinct []r2.Vec
	seen := make(map[r2.Vec]int32, len(points))
	for i, p := range points {
		const tooFar = 1e70 // products of four coordinates stay finite below
		if !(math.Abs(p.X) < tooFar && math.Abs(p.Y) < tooFar) {
			return nil, errors.New("an outline point is not a finite number of sensible size")
		}
		p = flush(p)
		j, ok := seen[p]
		if !ok {
			j = int32(len(distinct))
			seen[p] = j
			distinct = append(distinct, p)
			c.first = append(c.first, int32(i))
		}
		c.index[i] = j
	}
	c.d = newDelaunay(distinct)
	return c, nil
}

// flush returns p with coordinates that are too small to be multiplied without
// loss set to zero.
func flush(p r2.Vec) r2.Vec {
	const tooSmall = 1e-70 // products of four coordinates stay normal numbers above
	if math.Abs(p.X) < tooSmall {
		p.X = 0
	}
	if math.Abs(p.Y) < tooSmall {
		p.Y = 0
	}
	return p
}

// outline runs a closed loop through the given points in a set. It returns, for
// every edge of the loop, the points met on the way, the edge's end included.
func (c *cover) outline(loop []int32, set int) ([][]int32, error) {
	chains := make([][]int32, len(loop))
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		chain, err := c.d.connect(c.index[p], c.index[q], set)
		if err != nil {
			return nil, err
		}
		for j, v := range chain {
			chain[j] = c.first[v]
		}
		chains[i] = chain
	}
	return chains, nil
}

// faces returns the triangles that any outline turns around.
func (c *cover) faces() []coverFace {
	all := make([]int32, len(c.d.faces))
	for f := range all {
		all[f] = int32(f)
	}
	c.d.settle(all)
	var faces []coverFace
	for f, turns := range c.d.turns() {
		if turns == [2]int16{} {
			continue
		}
		v := c.d.faces[f].corner
		faces = append(faces, coverFace{[3]int32{c.first[v[0]], c.first[v[1]], c.first[v[2]]}, turns})
	}
	return faces
}
