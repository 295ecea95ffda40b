package mesh

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/textwrap"
)

// Nearness is how far apart, in mm, two points of a part may lie that were
// meant to be one: a hundred thousandth of its size, and no less than the
// spacing of float32 numbers allows.
func (m *Mesh) Nearness() float64 {
	b := m.Bounds()
	far := max(r3.Norm(b.Min), r3.Norm(b.Max))
	return max(1e-5*r3.Norm(b.Size()), 4*0x1p-24*far)
}

// WithoutCollapsed drops the faces that name a vertex twice.
func WithoutCollapsed(m *Mesh) (*Mesh, *Repair) {
	first, n := -1, 0
	out := &Mesh{Vertices: m.Vertices}
	for f := range m.Faces {
		if !m.Collapsed(f) {
			out.Faces = append(out.Faces, m.Faces[f])
			continue
		}
		if n == 0 {
			first = f
		}
		n++
	}
	if n == 0 {
		return nil, nil
	}
	return out, &Repair{What: "removed " + textwrap.Counted(n, "face") + " with fewer than three corners", At: m.Centre(first)}
}

// nearOpen pairs the vertices of open edges that lie within near mm of each
// other: to names, for each such vertex, the one it is to become.
func nearOpen(m *Mesh, near float64) (to map[int32]int32, farthest float64) {
	open := m.OpenVertices(EdgesOf(m))
	tree := m.VertexTree(open)
	to = map[int32]int32{}
	kept := map[int32]bool{}
	for _, v := range open {
		p := m.Vertices[v]
		best, nearest := int32(-1), near
		tree.Near(around(p, near), func(w int32) bool {
			if d := r3.Norm(r3.Sub(m.Vertices[w], p)); kept[w] && d <= nearest {
				best, nearest = w, d
			}
			return true
		})
		if best < 0 {
			kept[v] = true
			continue
		}
		to[v] = best
		farthest = max(farthest, nearest)
	}
	return to, farthest
}

// nearMisses counts the vertices of open edges that nearly meet another.
func nearMisses(m *Mesh) (n int, farthest float64) {
	to, farthest := nearOpen(m, m.Nearness())
	return len(to), farthest
}

// corners returns "1 corner one" or "n corners many".
func corners(n int, one, many string) string {
	if n == 1 {
		return "1 corner " + one
	}
	return fmt.Sprintf("%d corners %s", n, many)
}

// JoinWithin makes one vertex of the vertices of open edges that lie within near
// mm of each other.
func JoinWithin(m *Mesh, near float64) (*Mesh, *Repair) {
	to, farthest := nearOpen(m, near)
	if len(to) == 0 {
		return nil, nil
	}
	r := &Repair{What: fmt.Sprintf("joined %s at most %.2g mm away",
		corners(len(to), "with a neighbour", "with neighbours"), farthest)}
	out := &Mesh{Vertices: m.Vertices, Faces: make([][3]int32, len(m.Faces))}
	for f, face := range m.Faces {
		moved := 0.0
		for k, v := range face {
			w, ok := to[v]
			if !ok {
				w = v
			} else if r.At == (r3.Vec{}) {
				r.At = m.Vertices[v]
			}
			out.Faces[f][k] = w
			moved += r3.Norm(r3.Sub(m.Vertices[v], m.Vertices[w]))
		}
		// A corner that moves by d sweeps at most a third of d times the area.
		r.AddedVolumeMM3 += moved * m.FaceArea(f) / 3
	}
	return out.Compacted(), r
}

// FaceArea returns the area of face f, in mm2.
func (m *Mesh) FaceArea(f int) float64 {
	a, b, c := m.Triangle(f)
	return r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
}

// OpenVertices lists the vertices of open edges, lowest first.
func (m *Mesh) OpenVertices(e *Edges) []int32 {
	is := make([]bool, len(m.Vertices))
	for _, h := range e.Open {
		from, to := m.Ends(h)
		is[from], is[to] = true, true
	}
	var list []int32
	for v, open := range is {
		if open {
			list = append(list, int32(v))
		}
	}
	return list
}

// VertexTree builds the tree over the listed vertices.
func (m *Mesh) VertexTree(vertices []int32) *boxtree.Tree {
	return boxtree.New(vertices, func(v int32) Box { return Box{Min: m.Vertices[v], Max: m.Vertices[v]} })
}

// around returns the box of the points that lie within d of p along each axis.
func around(p r3.Vec, d float64) Box {
	e := r3.Vec{X: d, Y: d, Z: d}
	return Box{Min: r3.Sub(p, e), Max: r3.Add(p, e)}
}

// Compacted drops the vertices that no face names; the others keep their order.
func (m *Mesh) Compacted() *Mesh {
	used := make([]bool, len(m.Vertices))
	for _, f := range m.Faces {
		for _, v := range f {
			used[v] = true
		}
	}
	out := &Mesh{Faces: make([][3]int32, len(m.Faces))}
	to := make([]int32, len(m.Vertices))
	for v, is := range used {
		if is {
			to[v] = int32(len(out.Vertices))
			out.Vertices = append(out.Vertices, m.Vertices[v])
		}
	}
	for f, face := range m.Faces {
		for k, v := range face {
			out.Faces[f][k] = to[v]
		}
	}
	return out
}
