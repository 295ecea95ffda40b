package cut

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/triangulation"
	"swapworth/mesh"
)

// Clip returns the part of a closed mesh that lies below a plane, against its
// Normal, closed by caps in the plane. Vertices nearer to the plane than
// the rounding of their coordinates are taken to lie on it. Faces away from the plane stay as
// they are. A part wholly below the plane comes back unchanged.
//
// It is an error when nothing lies below the plane, when the mesh is open where
// it is cut, or when its shells cut into each other there.
func Clip(m *mesh.Mesh, p mesh.Plane) (*mesh.Mesh, error) {
	b := m.Bounds()
	far := max(r3.Norm(b.Min), r3.Norm(b.Max), r3.Norm(p.Origin))
	var crossed triangulation.CrossedError
	for _, snap := range []float64{1e-14, 1e-12, 1e-10} {
		out, err := clip(m, p, snap*far)
		if err == nil || !errors.As(err, &crossed) {
			return out, err
		}
		// Rounding tangled outlines next to a vertex that almost lies on the
		// plane: take it to lie there and try again.
	}
	at := p.Point(crossed.At)
	return nil, fmt.Errorf("clip: shells of the mesh cut into each other near (%.6g, %.6g, %.6g) mm; "+
		"the cut cannot be capped there", at.X, at.Y, at.Z)
}

// clip takes vertices within snap mm of the plane to lie on it.
func clip(m *mesh.Mesh, p mesh.Plane, snap float64) (*mesh.Mesh, error) {
	height := make([]float64, len(m.Vertices))
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, v := range m.Vertices {
		h := p.Height(v)
		lo, hi = min(lo, h), max(hi, h)
		if math.Abs(h) > snap {
			height[i] = h
		}
	}
	if math.IsNaN(lo + hi) {
		return nil, errors.New("clip: the plane or a vertex is not a finite number")
	}
	if lo >= -snap {
		return nil, fmt.Errorf("clip: nothing lies below the plane; the part spans %.6g to %.6g mm along its normal", lo, hi)
	}
	c := &clipper{
		mesh: m, plane: p,
		side:   side{height: func(v int32) float64 { return height[v] }},
		out:    &mesh.Mesh{},
		vertex: map[int32]int32{},
		node:   map[r2.Vec]int32{},
		cut:    map[crossing]int32{},
	}
	if err := c.run(); err != nil {
		return nil, err
	}
	return c.out, nil
}

// clipper builds the clipped mesh. Vertices on the cut are told apart by where
// they lie in the plane.
type clipper struct {
	mesh   *mesh.Mesh
	plane  mesh.Plane
	side   side
	out    *mesh.Mesh
	vertex map[int32]int32    // vertex below the plane -> vertex of out
	node   map[r2.Vec]int32   // place in the plane -> vertex of out
	cut    map[crossing]int32 // crossed edge -> vertex of out
	flat   []r2.Vec           // the places in the plane
	nodes  []int32            // vertex of out for each of flat
}

func (c *clipper) run() error {
	var crossed []int32
	for f, v := range c.mesh.Faces {
		enter, leave, ok := pass(v, c.side)
		switch {
		case ok:
			crossed = append(crossed, int32(f))
			c.at(enter)
			c.at(leave)
		case !c.side.above(v[0]):
			c.add(c.below(v[0]), c.below(v[1]), c.below(v[2]))
		}
	}
	loops, err := trace(c.mesh, crossed, c.side)
	if err != nil {
		return err
	}
	chains, err := c.cap(loops)
	if err != nil {
		return err
	}
	for _, f := range crossed {
		c.trim(f, chains)
	}
	return nil
}

// trim adds what of a crossed face lies below: enter, the lower vertices, leave
// and, from there back, the points of the cap that lie between.
func (c *clipper) trim(f int32, chains map[[2]crossing][]int32) {
	enter, leave, _ := pass(c.mesh.Faces[f], c.side)
	first, last := c.below(enter.below), c.below(leave.below)
	if first != last {
		c.add(first, last, c.cut[leave])
	}
	from := c.cut[enter]
	for _, to := range chains[[2]crossing{enter, leave}] {
		c.add(first, to, from)
		from = to
	}
}

func (c *clipper) add(i, j, k int32) {
	if i != j && j != k && k != i {
		c.out.Faces = append(c.out.Faces, [3]int32{i, j, k})
	}
}

func (c *clipper) below(v int32) int32 {
	i, ok := c.vertex[v]
	if !ok {
		i = int32(len(c.out.Vertices))
		c.out.Vertices = append(c.out.Vertices, c.mesh.Vertices[v])
		c.vertex[v] = i
	}
	return i
}

// At returns the vertex of out where an edge crosses the plane.
func (c *clipper) at(e crossing) int32 {
	if i, ok := c.cut[e]; ok {
		return i
	}
	p := crossingPoint(c.mesh, c.side, e)
	q := triangulation.Flush(c.plane.Project(p))
	i, ok := c.node[q]
	if !ok {
		i = int32(len(c.out.Vertices))
		c.out.Vertices = append(c.out.Vertices, p)
		c.node[q] = i
		c.flat, c.nodes = append(c.flat, q), append(c.nodes, i)
	}
	c.cut[e] = i
	return i
}

// cap fills the loops in the plane, as often as they turn around a place. It
// returns, for each step of a loop, the vertices on its way, its end included.
func (c *clipper) cap(loops [][]crossing) (map[[2]crossing][]int32, error) {
	if len(c.flat) == 0 {
		return nil, nil
	}
	cover, err := triangulation.New(c.flat)
	if err != nil {
		return nil, fmt.Errorf("clip: %w", err)
	}
	place := make(map[int32]int32, len(c.nodes)) // vertex of out -> place
	for i, v := range c.nodes {
		place[v] = int32(i)
	}
	chains := map[[2]crossing][]int32{}
	for _, l := range loops {
		loop := make([]int32, len(l))
		for i, e := range l {
			loop[i] = place[c.cut[e]]
		}
		edges, err := cover.Outline(loop, 0)
		if err != nil {
			return nil, err
		}
		for i, chain := range edges {
			for j, p := range chain {
				chain[j] = c.nodes[p]
			}
			chains[[2]crossing{l[i], l[(i+1)%len(l)]}] = chain
		}
	}
	for _, f := range cover.Faces() {
		i, j, k := c.nodes[f.Corner[0]], c.nodes[f.Corner[1]], c.nodes[f.Corner[2]]
		for n := f.Turns[0]; n > 0; n-- {
			c.add(i, j, k)
		}
		for n := f.Turns[0]; n < 0; n++ {
			c.add(i, k, j)
		}
	}
	return chains, nil
}
