package cut

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/triangulation"
	"swapworth/mesh"
)

// Layer is a slab of a stacked solid: a region carried through a thickness in
// mm. An empty region is a gap.
type Layer struct {
	Region    Region
	Thickness float64
}

// Extrude returns the closed prism over a region that lies in the plane p,
// reaching height mm along its normal, or against it when height is negative.
func Extrude(r Region, p mesh.Plane, height float64) (*mesh.Mesh, error) {
	if height < 0 {
		p.Origin = p.PointAbove(r2.Vec{}, height)
		height = -height
	}
	return Stack(p, Layer{r, height})
}

// Stack returns the solid made of layers one on the other, the first one
// standing on the plane p and each next one along its normal. The layers join
// to one closed mesh without faces between them. Outlines of neighbouring layers
// may coincide, touch or lie inside each other, but not cross.
func Stack(p mesh.Plane, layers ...Layer) (*mesh.Mesh, error) {
	if len(layers) == 0 {
		return nil, errors.New("stack: no layers")
	}
	b := stackBuilder{plane: p, mesh: &mesh.Mesh{}}
	var below Region
	for i, l := range layers {
		if !(l.Thickness > 0) || math.IsInf(l.Thickness, 0) {
			return nil, fmt.Errorf("stack: layer %d is %g mm thick; it needs a positive thickness", i+1, l.Thickness)
		}
		if err := b.join(below, l.Region); err != nil {
			return nil, fmt.Errorf("stack: below layer %d: %w", i+1, err)
		}
		below = l.Region
		b.height += l.Thickness
	}
	if err := b.join(below, nil); err != nil {
		return nil, fmt.Errorf("stack: top: %w", err)
	}
	if len(b.mesh.Faces) == 0 {
		return nil, errors.New("stack: no layer has an area")
	}
	return b.mesh, nil
}

// stackBuilder grows a stack from below. rising holds, for every edge of the
// newest layer's loops, the chain of vertices along it at the layer's foot.
type stackBuilder struct {
	plane  mesh.Plane
	height float64 // of the next level above the plane, mm
	mesh   *mesh.Mesh
	rising [][]int32
}

// join closes what of below is not covered by above and the reverse, and stands
// the walls of below between the last level and this one.
func (b *stackBuilder) join(below, above Region) error {
	sets := [2][][]r2.Vec{below.Loops(), above.Loops()}
	var points []r2.Vec
	for _, loops := range sets {
		for _, l := range loops {
			points = append(points, l...)
		}
	}
	if len(points) == 0 {
		return nil
	}
	c, err := triangulation.New(points)
	if err != nil {
		return err
	}
	level := &stackLevel{builder: b, points: points, vertex: map[int32]int32{}}
	var chains [2][][]int32
	start := 0
	for set, loops := range sets {
		for _, l := range loops {
			edges, err := c.Outline(triangulation.Run(start, len(l)), set)
			if err != nil {
				return err
			}
			chains[set] = append(chains[set], level.chains(c.First[c.Index[start]], edges)...)
			start += len(l)
		}
	}
	for _, f := range c.Faces() {
		switch v := level.vertices(f.Corner); f.Turns {
		case [2]int16{1, 0}:
			b.mesh.Faces = append(b.mesh.Faces, [3]int32{v[0], v[1], v[2]})
		case [2]int16{0, 1}:
			b.mesh.Faces = append(b.mesh.Faces, [3]int32{v[0], v[2], v[1]})
		case [2]int16{1, 1}:
		default:
			return errors.New("outlines overlap or run the wrong way round; outer loops run " +
				"counter-clockwise, holes clockwise and inside")
		}
	}
	for i, foot := range b.rising {
		b.wall(foot, chains[0][i])
	}
	b.rising = chains[1]
	return nil
}

// wall fills the upright face between two chains that run side by side along
// one edge, foot below head.
func (b *stackBuilder) wall(foot, head []int32) {
	i, j := 0, 0
	for i+1 < len(foot) || j+1 < len(head) {
		// advance on the chain that lags behind
		if j+1 == len(head) || i+1 < len(foot) && i*len(head) <= j*len(foot) {
			b.mesh.Faces = append(b.mesh.Faces, [3]int32{foot[i], foot[i+1], head[j]})
			i++
		} else {
			b.mesh.Faces = append(b.mesh.Faces, [3]int32{foot[i], head[j+1], head[j]})
			j++
		}
	}
}

// stackLevel makes the mesh vertices of one level, each when first asked for.
type stackLevel struct {
	builder *stackBuilder
	points  []r2.Vec
	vertex  map[int32]int32 // outline point -> mesh vertex
}

func (l *stackLevel) vertices(corner [3]int32) [3]int32 {
	return [3]int32{l.at(corner[0]), l.at(corner[1]), l.at(corner[2])}
}

func (l *stackLevel) at(point int32) int32 {
	v, ok := l.vertex[point]
	if !ok {
		m := l.builder.mesh
		v = int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, l.builder.plane.PointAbove(l.points[point], l.builder.height))
		l.vertex[point] = v
	}
	return v
}

// chains turns the edges of a loop that begins at point first into chains of
// vertices, both ends included.
func (l *stackLevel) chains(first int32, edges [][]int32) [][]int32 {
	var out [][]int32
	from := l.at(first)
	for _, edge := range edges {
		chain := []int32{from}
		for _, p := range edge {
			chain = append(chain, l.at(p))
		}
		out = append(out, chain)
		from = chain[len(chain)-1]
	}
	return out
}
