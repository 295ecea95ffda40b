// Package triangulation divides plane regions with holes into triangles: constrained
// Delaunay, without new points, every decision exact in float64 coordinates.
package triangulation

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Run returns the n numbers from start on.
func Run(start, n int) []int32 {
	r := make([]int32, n)
	for i := range r {
		r[i] = int32(start + i)
	}
	return r
}

// Cover is a triangulation in progress of points some of which may coincide.
type Cover struct {
	d     *delaunay
	Index []int32 // the distinct point of each given point
	First []int32 // the first given point of each distinct point
}

// Face is a counter-clockwise triangle of given points and how often each
// of the two sets of outlines turns around it.
type Face struct {
	Corner [3]int32
	Turns  [2]int16
}

// New triangulates the points, in mm; outlines are then put in one by one. A point
// that is not finite is an error.
func New(points []r2.Vec) (*Cover, error) {
	c := &Cover{Index: make([]int32, len(points))}
	var distinct []r2.Vec
	seen := make(map[r2.Vec]int32, len(points))
	for i, p := range points {
		const tooFar = 1e70 // products of four coordinates stay finite below
		if !(math.Abs(p.X) < tooFar && math.Abs(p.Y) < tooFar) {
			return nil, errors.New("an outline point is not a finite number of sensible size")
		}
		p = Flush(p)
		j, ok := seen[p]
		if !ok {
			j = int32(len(distinct))
			seen[p] = j
			distinct = append(distinct, p)
			c.First = append(c.First, int32(i))
		}
		c.Index[i] = j
	}
	c.d = newDelaunay(distinct)
	return c, nil
}

// Flush returns p with coordinates that are too small to be multiplied without
// loss set to zero.
func Flush(p r2.Vec) r2.Vec {
	const tooSmall = 1e-70 // products of four coordinates stay normal numbers above
	if math.Abs(p.X) < tooSmall {
		p.X = 0
	}
	if math.Abs(p.Y) < tooSmall {
		p.Y = 0
	}
	return p
}

// Outline runs a closed loop through the given points in a set. It returns, for
// every edge of the loop, the points met on the way, the edge's end included.
func (c *Cover) Outline(loop []int32, set int) ([][]int32, error) {
	chains := make([][]int32, len(loop))
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		chain, err := c.d.connect(c.Index[p], c.Index[q], set)
		if err != nil {
			return nil, err
		}
		for j, v := range chain {
			chain[j] = c.First[v]
		}
		chains[i] = chain
	}
	return chains, nil
}

// Faces returns the triangles that any outline turns around.
func (c *Cover) Faces() []Face {
	all := make([]int32, len(c.d.faces))
	for f := range all {
		all[f] = int32(f)
	}
	c.d.settle(all)
	var faces []Face
	for f, turns := range c.d.turns() {
		if turns == [2]int16{} {
			continue
		}
		v := c.d.faces[f].corner
		faces = append(faces, Face{[3]int32{c.First[v[0]], c.First[v[1]], c.First[v[2]]}, turns})
	}
	return faces
}

func Bounds(loop []r2.Vec) r2.Box {
	lo := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}
	hi := r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range loop {
		lo.X, lo.Y = min(lo.X, p.X), min(lo.Y, p.Y)
		hi.X, hi.Y = max(hi.X, p.X), max(hi.Y, p.Y)
	}
	return r2.Box{Min: lo, Max: hi}
}
