package repair

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/textwrap"
	"swapworth/mesh"
)

// splitAtVertices splits the faces at open edges that have open vertices in
// their middle, where one face was drawn against two or more (a T-junction).
func splitAtVertices(m *mesh.Mesh) (*mesh.Mesh, *mesh.Repair) {
	e := mesh.EdgesOf(m)
	open := m.OpenVertices(e)
	if len(open) == 0 {
		return nil, nil
	}
	near := m.Nearness()
	tree := m.VertexTree(open)
	points := map[mesh.HalfEdge][]int32{} // in their order along the edge
	n := 0
	for _, h := range e.Open {
		if list := pointsOn(m, h, tree, near); len(list) > 0 {
			points[h] = list
			n += len(list)
		}
	}
	if n == 0 {
		return nil, nil
	}
	r := &mesh.Repair{What: "split edges at " + textwrap.Counted(n, "corner") + " of their neighbours"}
	out := &mesh.Mesh{Vertices: m.Vertices}
	for f, face := range m.Faces {
		sides := [3][]int32{points[3*int32(f)], points[3*int32(f)+1], points[3*int32(f)+2]}
		for k, s := range sides {
			for _, v := range s {
				r.At = m.Vertices[v]
				r.AddedVolumeMM3 += tetrahedron(m, face[k], face[(k+1)%3], face[(k+2)%3], v)
			}
		}
		out.Faces = appendSplit(out.Faces, face, sides)
	}
	return out, r
}

// tetrahedron returns the absolute volume of four vertices, in mm3.
func tetrahedron(m *mesh.Mesh, a, b, c, d int32) float64 {
	p := m.Vertices[a]
	return math.Abs(r3.Dot(r3.Sub(m.Vertices[d], p), r3.Cross(r3.Sub(m.Vertices[b], p), r3.Sub(m.Vertices[c], p)))) / 6
}

// pointsOn lists the vertices of the tree that lie in the middle of an edge,
// within near of it, in their order along it.
func pointsOn(m *mesh.Mesh, h mesh.HalfEdge, tree *boxtree.Tree, near float64) []int32 {
	from, to := m.Ends(h)
	a, b := m.Vertices[from], m.Vertices[to]
	along := r3.Sub(b, a)
	length := r3.Norm(along)
	type point struct {
		v int32
		t float64
	}
	var found []point
	tree.Along(a, b, near, func(v int32) bool {
		p := r3.Sub(m.Vertices[v], a)
		t := r3.Dot(p, along) / (length * length)
		if v != m.Faces[h/3][(h%3+2)%3] && t*length > near && (1-t)*length > near &&
			r3.Norm(r3.Sub(p, r3.Scale(t, along))) <= near {
			found = append(found, point{v, t})
		}
		return true
	})
	slices.SortFunc(found, func(x, y point) int { return cmp.Or(cmp.Compare(x.t, y.t), cmp.Compare(x.v, y.v)) })
	list := make([]int32, len(found))
	for i, p := range found {
		list[i] = p.v
	}
	return list
}

// appendSplit appends a face divided at the points of its sides: a fan from
// the corner across from the first divided side, the rest within the fan's
// outer triangles.
func appendSplit(faces [][3]int32, face [3]int32, sides [3][]int32) [][3]int32 {
	for k := range sides {
		if len(sides[k]) == 0 {
			continue
		}
		apex := face[(k+2)%3]
		stops := append(append([]int32{face[k]}, sides[k]...), face[(k+1)%3])
		last := len(stops) - 2
		for i := range last + 1 {
			var rest [3][]int32
			if i == 0 {
				rest[2] = sides[(k+2)%3]
			}
			if i == last {
				rest[1] = sides[(k+1)%3]
			}
			faces = appendSplit(faces, [3]int32{stops[i], stops[i+1], apex}, rest)
		}
		return faces
	}
	return append(faces, face)
}

// sliverRounds is how often slivers are given up: one beside another goes in a later
// round, and more than eight in a row are no fan that a kernel leaves.
const sliverRounds = 8

// mostAround is how many faces around a vertex are walked before an edge is taken to
// be there.
const mostAround = 1000

// withoutSlivers gives up faces whose corners lie on one line: the face across
// the longest edge is split at the corner in the middle instead.
func withoutSlivers(m *mesh.Mesh) (*mesh.Mesh, *mesh.Repair) {
	out := &mesh.Mesh{Vertices: m.Vertices, Faces: append([][3]int32(nil), m.Faces...)}
	r := &mesh.Repair{}
	n, overused := 0, len(mesh.EdgesOf(m).Overused)
	for range sliverRounds {
		e := mesh.EdgesOf(out)
		touched := make([]bool, len(out.Faces))
		before := n
		for f := range out.Faces {
			if touched[f] || out.Collapsed(f) || !out.Flat(f) {
				continue
			}
			h := longestSide(out, f)
			o := e.Opposite[h]
			if o < 0 || touched[o/3] || out.Flat(int(o/3)) || !flip(out, h, o, e) {
				continue
			}
			if n == 0 {
				r.At = m.Centre(f)
			}
			touched[f], touched[o/3] = true, true
			// The faces around now have other neighbours than the table says.
			for _, x := range []mesh.HalfEdge{h / 3 * 3, h/3*3 + 1, h/3*3 + 2, o / 3 * 3, o/3*3 + 1, o/3*3 + 2} {
				if y := e.Opposite[x]; y >= 0 {
					touched[y/3] = true
				}
			}
			n++
		}
		if n == before {
			break
		}
	}
	if n == 0 || len(mesh.EdgesOf(out).Overused) > overused {
		return nil, nil
	}
	r.What = "replaced " + textwrap.Counted(n, "face") + " without area by a split of the neighbour"
	return out, r
}

// longestSide returns the longest half-edge of face f.
func longestSide(m *mesh.Mesh, f int) mesh.HalfEdge {
	best, longest := mesh.HalfEdge(3*f), -1.0
	for h := mesh.HalfEdge(3 * f); h < mesh.HalfEdge(3*f+3); h++ {
		from, to := m.Ends(h)
		if d := r3.Norm2(r3.Sub(m.Vertices[to], m.Vertices[from])); d > longest {
			best, longest = h, d
		}
	}
	return best
}

// flip replaces the edge that two faces share by the one between their other
// corners, unless there is such an edge.
func flip(m *mesh.Mesh, h, o mesh.HalfEdge, e *mesh.Edges) bool {
	from, to := m.Ends(h)
	tip, far := m.Faces[h/3][(h%3+2)%3], m.Faces[o/3][(o%3+2)%3]
	if tip == far || joinedAt(m, tip, far, h, e) {
		return false
	}
	m.Faces[h/3] = [3]int32{from, far, tip}
	m.Faces[o/3] = [3]int32{far, to, tip}
	return true
}

// joinedAt reports whether an edge joins vertex v, the corner across from
// half-edge h, to w: it walks around v.
func joinedAt(m *mesh.Mesh, v, w int32, h mesh.HalfEdge, e *mesh.Edges) bool {
	start := h/3*3 + (h%3+2)%3 // runs from v
	for x, n := start, 0; n < mostAround; n++ {
		if _, to := m.Ends(x); to == w {
			return true
		}
		back := e.Opposite[x/3*3+(x%3+2)%3] // into v, so its opposite runs from v
		if back < 0 || back == start {
			return back < 0 // an open fan may hide the edge
		}
		x = back
	}
	return true
}
