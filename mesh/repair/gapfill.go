package repair

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/triangulation"
	"swapworth/mesh"
)

// fillPlanar closes the rims of one plane, the largest first in the group. It
// gives up when their outlines cross.
func (p *patcher) fillPlanar(group []*rim) (fill, bool) {
	plane, err := mesh.PlaneFromNormal(group[0].center, group[0].area)
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
	c, err := triangulation.New(flat)
	if err != nil {
		return fill{}, false
	}
	start := 0
	for _, r := range group {
		chains, err := c.Outline(triangulation.Run(start, len(r.loop)), 0)
		if err != nil || bent(chains) {
			return fill{}, false
		}
		start += len(r.loop)
	}
	for _, face := range c.Faces() {
		i, j, k := vertex[face.Corner[0]], vertex[face.Corner[1]], vertex[face.Corner[2]]
		for n := face.Turns[0]; n > 0; n-- {
			f.faces = append(f.faces, [3]int32{i, j, k})
		}
		for n := face.Turns[0]; n < 0; n++ {
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
