// Package triangulation divides plane regions with holes into triangles.
//
// A net is a constrained Delaunay triangulation in which every decision is exact. A
// Cover puts the outlines of given points in it without a new point, to close a mesh;
// a Domain adds points until the triangles are well shaped and small where that is
// wished, to solve on.
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
	net      *net
	rounding float64 // how far rounding may put a point off a line, mm
	vertex   []int32 // of the net, for each distinct point
	given    []int32 // the first given point for each of the net's
	Index    []int32 // the distinct point of each given point
	First    []int32 // the first given point of each distinct point
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
	b := Bounds(append(distinct, r2.Vec{})[:max(1, len(distinct))])
	far := max(math.Abs(b.Min.X), math.Abs(b.Min.Y), math.Abs(b.Max.X), math.Abs(b.Max.Y))
	size := max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y, 1e-6*far)
	if size == 0 {
		size = 1 // one point, at the origin
	}
	c.rounding = roundings * far
	margin := r2.Vec{X: size, Y: size}
	c.net = frame(r2.Sub(b.Min, margin), r2.Add(b.Min, r2.Scale(2, margin)))
	steps := (1<<gridBits - 1) / size
	c.vertex = c.net.insertAll(distinct, func(p r2.Vec) uint64 {
		return alongCurve(int64(steps*(p.X-b.Min.X)), int64(steps*(p.Y-b.Min.Y)))
	})
	c.given = make([]int32, corners+len(distinct))
	for j, v := range c.vertex {
		c.given[v] = c.First[j]
	}
	return c, nil
}

// roundings is how far, as a share of the largest coordinate, arithmetic on
// coordinates may put a point off a line: some hundred roundings of float64.
const roundings = 1e-13

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
	var l laid
	l[set] = 1
	chains := make([][]int32, len(loop))
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		chain, err := c.net.connect(c.vertex[c.Index[p]], c.vertex[c.Index[q]], l, c.rounding)
		if err != nil {
			return nil, err
		}
		for j, v := range chain {
			chain[j] = c.given[v]
		}
		chains[i] = chain
	}
	return chains, nil
}

// Faces returns the triangles that any outline turns around.
func (c *Cover) Faces() []Face {
	c.net.sweep()
	var faces []Face
	for t, turns := range c.net.turns() {
		if turns == [2]int16{} {
			continue
		}
		v := c.net.tri[t].v
		faces = append(faces, Face{[3]int32{c.given[v[0]], c.given[v[1]], c.given[v[2]]}, turns})
	}
	return faces
}

// Bounds returns the smallest upright rectangle that holds the points.
func Bounds(loop []r2.Vec) r2.Box {
	lo := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}
	hi := r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range loop {
		lo.X, lo.Y = min(lo.X, p.X), min(lo.Y, p.Y)
		hi.X, hi.Y = max(hi.X, p.X), max(hi.Y, p.Y)
	}
	return r2.Box{Min: lo, Max: hi}
}
