package mesh

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// fillPlanar closes the rims of one plane, the largest first in the group. It
// gives up when their outlines cross.
func (p *patcher) fillPlanar(group []*rim) (fill, bool) {
	plane, err := PlaneFromNormal(group[0].center, group[0].area)
	if err != nil {
		return fill{}, false
	}
	var flat []r2.Vec
	var vertex []int32
	f := fill{}
	for _, r := range group {
		for _, v := range r.loop {
			flat, vertex = append(flat, plane.Project(p.mesh.Vertices[v])), append(vertex, v)
		}
		f.beside = append(f.beside, r.beside...)
	}
	c, err := newCover(flat)
	if err != nil {
		return fill{}, false
	}
	start := 0
	for _, r := range group {
		chains, err := c.outline(run(start, len(r.loop)), 0)
		if err != nil || bent(chains) {
			return fill{}, false
		}
		start += len(r.loop)
	}
	for _, face := range c.faces() {
		i, j, k := vertex[face.corner[0]], vertex[face.corner[1]], vertex[face.corner[2]]
		for n := face.turns[0]; n > 0; n-- {
			f.faces = append(f.faces, [3]int32{i, j, k})
		}
		for n := face.turns[0]; n < 0; n++ {
			f.faces = append(f.faces, [3]int32{i, k, j})
		}
	}
	if len(f.faces) == 0 {
		return fill{}, false
	}
	p.describe(&f, "planar", group...)
	return f, true
}

// bent reports whether an outline edge became a chain of several or vanished:
// the faces would then not meet the rim edge by edge.
func bent(chains [][]int32) bool {
	for _, c := range chains {
		if len(c) != 1 {
			return true
		}
	}
	return false
}

// fillSmall closes a rim by the faces of least total area (G. Barequet, M.
// Sharir, Filling gaps in the boundary of a polyhedron, Computer Aided Geometric
// Design 12, 1995): best[i][j] is the least area that closes the rim's piece
// from i to j, through the vertex via[i][j].
func (p *patcher) fillSmall(r *rim) fill {
	n := len(r.loop)
	best := make([][]float64, n)
	via := make([][]int, n)
	for i := range best {
		best[i], via[i] = make([]float64, n), make([]int, n)
	}
	at := func(i int) r3.Vec { return p.mesh.Vertices[r.loop[i]] }
	for length := 2; length < n; length++ {
		for i := 0; i+length < n; i++ {
			j := i + length
			best[i][j] = math.Inf(1)
			for k := i + 1; k < j; k++ {
				area := best[i][k] + best[k][j] + r3.Norm(r3.Cross(r3.Sub(at(k), at(i)), r3.Sub(at(j), at(i))))/2
				if area < best[i][j] {
					best[i][j], via[i][j] = area, k
				}
			}
		}
	}
	f := fill{beside: r.beside}
	var close func(i, j int)
	close = func(i, j int) {
		if j-i < 2 {
			return
		}
		k := via[i][j]
		f.faces = append(f.faces, [3]int32{r.loop[i], r.loop[k], r.loop[j]})
		close(i, k)
		close(k, j)
	}
	close(0, n-1)
	p.describe(&f, "small", r)
	return f
}

// describe notes what was added and how far the true surface may lie from it.
func (p *patcher) describe(f *fill, kind string, group ...*rim) {
	edges, length := 0, 0.0
	for _, r := range group {
		edges += len(r.loop)
		for i, v := range r.loop {
			length += r3.Norm(r3.Sub(p.mesh.Vertices[r.loop[(i+1)%len(r.loop)]], p.mesh.Vertices[v]))
		}
	}
	area := 0.0
	for _, v := range f.faces {
		a, b, c := p.mesh.Vertices[v[0]], p.mesh.Vertices[v[1]], p.mesh.Vertices[v[2]]
		area += r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
	}
	doubt := 0.0
	if spread := group[0].spread; spread > 2*p.flat {
		doubt = spread
	}
	if length > 0 { // 2 area/length is the radius of a round gap, half the width of a long one
		doubt += 2 * area / length * math.Tan(p.bulgeAngle(group)/2)
	}
	f.repair = Repair{
		What:           fmt.Sprintf("closed a %s gap of %d edges with %s", kind, edges, counted(len(f.faces), "face")),
		At:             group[0].center,
		AddedAreaMM2:   area,
		AddedVolumeMM3: area * doubt,
	}
}

// bulgeAngle is the largest angle in radians at which the faces beside a gap
// suggest that the surface goes on out of the gap's plane. Faces that come in at
// 60 to 105 degrees to the plane are taken for the walls under a lid. Flatter
// ones count as they are; steeper ones, which would leave a wedge, count as 90
// degrees.
func (p *patcher) bulgeAngle(group []*rim) float64 {
	const sharp, wedge = math.Pi / 3, 105 * math.Pi / 180
	largest := 0.0
	n := group[0].area
	for _, r := range group {
		for _, f := range r.beside {
			a, b, c := p.mesh.Triangle(int(f))
			m := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
			size := r3.Norm(m) * r3.Norm(n)
			if size == 0 {
				continue
			}
			switch angle := math.Acos(max(-1, min(1, r3.Dot(m, n)/size))); {
			case angle < sharp:
				largest = max(largest, angle)
			case angle > wedge:
				largest = math.Pi / 2
			}
		}
	}
	return largest
}
