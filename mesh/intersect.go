package mesh

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/parallel"
	"swapworth/internal/triangle"
)

// Intersection is a place where an edge of one face passes through another
// face.
type Intersection struct {
	At    r3.Vec // mm
	Faces [2]int // numbers of the faces, from 0, the lower first
}

// crosser looks for faces of a mesh that pass through each other.
type crosser struct {
	*Mesh
	opposite []HalfEdge // of its edge table
}

// crossings finds the pairs of a face of the list and a face of the tree, both
// accepted by wanted, that pass through each other. It is fastest when faces
// that follow one another lie close together.
func (m crosser) crossings(faces []int32, tree *boxtree.Tree, limit int, wanted func(f, g int32) bool) (list []Intersection, total int) {
	const size = 1 << 11
	found := make([][]Intersection, (len(faces)+size-1)/size)
	totals := make([]int, len(found))
	parallel.Chunks(len(faces), size, func(chunk, from, to int) {
		var group, near []boxedFace
		for ; from < to; from += boxtree.PerLeaf {
			group, near = m.nearFaces(faces[from:min(from+boxtree.PerLeaf, to)], tree, group[:0], near[:0])
			for _, f := range group {
				for i := range near {
					g := &near[i]
					if !boxtree.Meet(g.box, f.box) || !wanted(f.face, g.face) {
						continue
					}
					at, ok := m.crossing(f.face, g.face)
					if !ok {
						continue
					}
					totals[chunk]++
					if len(found[chunk]) < limit {
						pair := [2]int{int(min(f.face, g.face)), int(max(f.face, g.face))}
						found[chunk] = append(found[chunk], Intersection{At: at, Faces: pair})
					}
				}
			}
		}
	})
	for c, n := range totals {
		total += n
		list = append(list, found[c]...)
	}
	slices.SortFunc(list, func(a, b Intersection) int { return slices.Compare(a.Faces[:], b.Faces[:]) })
	return list[:min(len(list), limit)], total
}

type boxedFace struct {
	box  Box
	face int32
}

// nearFaces appends the listed faces to group, and the faces of the tree whose
// boxes meet theirs to near.
func (m crosser) nearFaces(faces []int32, tree *boxtree.Tree, group, near []boxedFace) (boxedGroup, boxedNear []boxedFace) {
	all := boxtree.Nowhere
	for _, f := range faces {
		box := m.FaceBox(f)
		group = append(group, boxedFace{box, f})
		all = boxtree.Join(all, box)
	}
	tree.Near(all, func(g int32) bool {
		if box := m.FaceBox(g); boxtree.Meet(box, all) {
			near = append(near, boxedFace{box, g})
		}
		return true
	})
	return group, near
}

// crossing returns a point at which an edge of one of two faces passes through
// the inside of the other.
func (m crosser) crossing(f, g int32) (at r3.Vec, ok bool) {
	if m.shared(f, g) > 1 || m.oneSided(f, g) || m.oneSided(g, f) {
		return at, false
	}
	if at, ok = m.pierced(f, g); ok {
		return at, true
	}
	return m.pierced(g, f)
}

// shared returns how many vertices two faces have in common.
func (m crosser) shared(f, g int32) int {
	n := 0
	for _, v := range m.Faces[f] {
		for _, w := range m.Faces[g] {
			if v == w {
				n++
			}
		}
	}
	return n
}

// oneSided reports whether no two corners of g lie on opposite sides of f.
func (m crosser) oneSided(f, g int32) bool {
	a, b, c := m.Triangle(int(f))
	up, down := false, false
	for _, v := range m.Faces[g] {
		if slices.Contains(m.Faces[f][:], v) {
			continue
		}
		s := triangle.Side(a, b, c, m.Vertices[v])
		up, down = up || s < 0, down || s > 0
	}
	return !up || !down
}

// pierced returns a point at which an edge of g passes through the inside of f.
func (m crosser) pierced(f, g int32) (at r3.Vec, ok bool) {
	a, b, c := m.Triangle(int(f))
	for k, v := range m.Faces[g] {
		p, q := m.Vertices[v], m.Vertices[m.Faces[g][(k+1)%3]]
		sp, sq := triangle.Side(a, b, c, p), triangle.Side(a, b, c, q)
		if sp*sq >= 0 {
			continue
		}
		s := [3]int{triangle.Side(p, q, a, b), triangle.Side(p, q, b, c), triangle.Side(p, q, c, a)}
		if min(s[0], s[1], s[2])*max(s[0], s[1], s[2]) < 0 {
			continue // it passes beside f
		}
		if s[0]*s[1]*s[2] != 0 || m.throughEdge(f, s, p, q, sp) {
			return triangle.Through(a, b, c, p, q), true
		}
	}
	return at, false
}

// throughEdge reports whether the segment p q, which meets face f on its rim
// where s is 0, passes there from one side of the surface to the other: p and q
// must lie on opposite sides of the face across that edge too. An edge between
// two faces of one plane is met so.
func (m crosser) throughEdge(f int32, s [3]int, p, q r3.Vec, sp int) bool {
	if abs(float64(s[0]+s[1]+s[2])) != 2 {
		return false // at a corner
	}
	k := int32(slices.Index(s[:], 0))
	o := m.opposite[3*f+k]
	if o < 0 {
		return false
	}
	a, b, c := m.Triangle(int(o / 3))
	return triangle.Side(a, b, c, p) == sp && triangle.Side(a, b, c, q) == -sp
}
