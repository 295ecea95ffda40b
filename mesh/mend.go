package mesh

import (
	"fmt"
	"swapworth/internal/boxtree"

	"gonum.org/v1/gonum/spatial/r3"
)

// mendAndClose mends faces and closes gaps. A closed gap may bring to light what
// is to be mended: a loose face that lay in it is there twice then.
//
// Corners that lie within join mm of each other at gaps are made one first.
func mendAndClose(m *Mesh, join float64) (*Mesh, []Repair) {
	const rounds = 3
	var all []Repair
	if join > m.nearness() {
		if joined, r := joinWithin(m, join); r != nil {
			m, all = joined, append(all, *r)
		}
	}
	for range rounds {
		var mended, closed []Repair
		m, mended = mend(m)
		m, closed = RepairGaps(m)
		all = append(append(all, mended...), closed...)
		if len(closed) == 0 {
			break
		}
	}
	return m, all
}

// mend returns the mesh with what can be repaired by its faces' own evidence,
// and one Repair for each kind of change. A sound mesh comes back as it is.
//
// The steps, in an order in which each finds what the one before it left:
// Faces that name a vertex twice go; open vertices that nearly coincide become
// one; of faces that are there more than once the one stays that fits its
// neighbours; edges that meet a vertex in their middle are split there; faces
// without area give way to a split of their neighbour; patches that look the
// wrong way are turned.
func mend(m *Mesh) (*Mesh, []Repair) {
	var repairs []Repair
	run := func(steps ...func(*Mesh) (*Mesh, *Repair)) {
		for _, step := range steps {
			if mended, repair := step(m); repair != nil {
				m = mended
				repairs = append(repairs, *repair)
			}
		}
	}
	run(withoutCollapsed, joinNear, withoutCollapsed)
	if !loose(m, newEdgeTable(m)) {
		run(withoutDuplicates, splitAtVertices, withoutSlivers, orientAlike)
	}
	return m, repairs
}

// loose reports whether most sides of many faces meet no other face. Such a
// heap of triangles is no part with faults: to search it for what belongs
// together would take long and find little.
func loose(m *Mesh, e *edgeTable) bool {
	const many = 10_000
	return len(e.open) > many && 2*len(e.open) > 3*len(m.Faces)
}

// nearness is how far apart, in mm, two points of a part may lie that were
// meant to be one: a hundred thousandth of its size, and no less than the
// spacing of float32 numbers allows.
func (m *Mesh) nearness() float64 {
	b := m.Bounds()
	far := max(r3.Norm(b.Min), r3.Norm(b.Max))
	return max(1e-5*r3.Norm(b.Size()), 4*0x1p-24*far)
}

// counted returns "1 face" or "n faces".
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// withoutCollapsed drops the faces that name a vertex twice.
func withoutCollapsed(m *Mesh) (*Mesh, *Repair) {
	first, n := -1, 0
	out := &Mesh{Vertices: m.Vertices}
	for f := range m.Faces {
		if !m.collapsed(f) {
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
	return out, &Repair{What: "removed " + counted(n, "face") + " with fewer than three corners", At: m.centre(first)}
}

// nearOpen pairs the vertices of open edges that lie within near mm of each
// other: to names, for each such vertex, the one it is to become.
func nearOpen(m *Mesh, near float64) (to map[int32]int32, farthest float64) {
	open := m.openVertices(newEdgeTable(m))
	tree := m.vertexTree(open)
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
	to, farthest := nearOpen(m, m.nearness())
	return len(to), farthest
}

// corners returns "1 corner one" or "n corners many".
func corners(n int, one, many string) string {
	if n == 1 {
		return "1 corner " + one
	}
	return fmt.Sprintf("%d corners %s", n, many)
}

// joinNear makes one vertex of the vertices of open edges that lie within the
// nearness of each other.
func joinNear(m *Mesh) (*Mesh, *Repair) { return joinWithin(m, m.nearness()) }

// joinWithin makes one vertex of the vertices of open edges that lie within near
// mm of each other.
func joinWithin(m *Mesh, near float64) (*Mesh, *Repair) {
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
		r.AddedVolumeMM3 += moved * m.area(f) / 3
	}
	return out.compacted(), r
}

// area returns the area of face f, in mm2.
func (m *Mesh) area(f int) float64 {
	a, b, c := m.Triangle(f)
	return r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
}

// openVertices lists the vertices of open edges, lowest first.
func (m *Mesh) openVertices(e *edgeTable) []int32 {
	is := make([]bool, len(m.Vertices))
	for _, h := range e.open {
		from, to := m.ends(h)
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

func (m *Mesh) vertexTree(vertices []int32) *boxtree.Tree {
	return boxtree.New(vertices, func(v int32) Box { return Box{Min: m.Vertices[v], Max: m.Vertices[v]} })
}

// around returns the box of the points that lie within d of p along each axis.
func around(p r3.Vec, d float64) Box {
	e := r3.Vec{X: d, Y: d, Z: d}
	return Box{Min: r3.Sub(p, e), Max: r3.Add(p, e)}
}

// compacted drops the vertices that no face names; the others keep their order.
func (m *Mesh) compacted() *Mesh {
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
