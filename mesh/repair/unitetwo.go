package repair

import (
	"cmp"
	"errors"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/triangle"
	"swapworth/internal/triangulation"
	"swapworth/mesh"
)

// errNotGeneral says that corners or edges of two meshes meet exactly: one of
// them must be moved a little before they can be united.
var errNotGeneral = errors.New("the shells meet at corners or edges")

// errTangled says that the outlines along which two meshes pass through each
// other do not close: one of them passes through itself.
var errTangled = errors.New("the shells pass through themselves")

// piercing is the place where an edge of one mesh passes through a face of the
// other.
type piercing struct {
	edge edgeKey
	face int32
}

// uniter unites two closed meshes that may pass through each other but not
// through themselves. What is kept of each is what lies outside the other, and
// both end along the same outlines: the segments in which a face of one passes
// through a face of the other.
type uniter struct {
	m        *mesh.Mesh // both, the faces of the first before split
	split    int32
	points   map[piercing]int32   // the vertex of each piercing
	onEdge   map[edgeKey][]int32  // the faces that an edge passes through, in order from its lower vertex
	segments map[int32][][2]int32 // for each face, from vertex to vertex, with what is kept on the left
	inside   []bool               // for every vertex of m: it lies in the other mesh
	out      mesh.Mesh
}

// uniteTwo returns the union of two closed meshes.
func uniteTwo(a, b *mesh.Mesh) (*mesh.Mesh, error) {
	u := &uniter{
		m: mesh.Merge(a, b), split: int32(len(a.Faces)),
		points: map[piercing]int32{}, onEdge: map[edgeKey][]int32{}, segments: map[int32][][2]int32{},
	}
	u.out.Vertices = slices.Clone(u.m.Vertices)
	first, second := triangulation.Run(0, len(a.Faces)), triangulation.Run(len(a.Faces), len(b.Faces))
	trees := [2]*boxtree.Tree{u.m.FaceTree(first), u.m.FaceTree(second)}
	for _, g := range second {
		if err := u.cross(g, trees[0]); err != nil {
			return nil, err
		}
	}
	if err := u.sortPiercings(); err != nil {
		return nil, err
	}
	if err := u.tellInside(int32(len(a.Vertices)), trees); err != nil {
		return nil, err
	}
	for f := range int32(len(u.m.Faces)) {
		if err := u.keep(f); err != nil {
			return nil, err
		}
	}
	return u.out.Compacted(), nil
}

// cross finds the segments in which face g passes through faces of the tree.
func (u *uniter) cross(g int32, tree *boxtree.Tree) (err error) {
	box := u.m.FaceBox(g)
	tree.Near(box, func(f int32) bool {
		if boxtree.Meet(u.m.FaceBox(f), box) {
			err = u.segment(f, g)
		}
		return err == nil
	})
	return err
}

// segment adds the segment in which two faces pass through each other, if they
// do. An edge that leaves the other mesh at its piercing starts what is kept
// there, so the segment of its own face ends there; the segment of the other
// face runs the other way.
func (u *uniter) segment(f, g int32) error {
	var ends [2][]int32 // of the segment of f: where it starts and where it ends
	for _, pair := range [2][2]int32{{f, g}, {g, f}} {
		by, through := pair[0], pair[1] // the edges of by, the face through
		for k, v := range u.m.Faces[by] {
			w := u.m.Faces[by][(k+1)%3]
			turn, err := u.passes(v, w, through)
			if err != nil {
				return err
			}
			if turn == 0 {
				continue
			}
			at := u.piercing(v, w, through)
			if (turn > 0) == (by == f) {
				ends[1] = append(ends[1], at)
			} else {
				ends[0] = append(ends[0], at)
			}
		}
	}
	switch {
	case len(ends[0]) == 0 && len(ends[1]) == 0:
	case len(ends[0]) == 1 && len(ends[1]) == 1:
		u.segments[f] = append(u.segments[f], [2]int32{ends[0][0], ends[1][0]})
		u.segments[g] = append(u.segments[g], [2]int32{ends[1][0], ends[0][0]})
	default:
		return errNotGeneral
	}
	return nil
}

// passes returns 1 when the edge from v to w passes through the face from
// below, out of the solid, -1 when it passes into it, else 0.
func (u *uniter) passes(v, w, face int32) (int, error) {
	a, b, c := u.m.Triangle(int(face))
	p, q := u.m.Vertices[v], u.m.Vertices[w]
	sp, sq := triangle.Side(a, b, c, p), triangle.Side(a, b, c, q)
	if sp*sq > 0 {
		return 0, nil
	}
	s := [3]int{triangle.Side(p, q, a, b), triangle.Side(p, q, b, c), triangle.Side(p, q, c, a)}
	if min(s[0], s[1], s[2]) < 0 && max(s[0], s[1], s[2]) > 0 {
		return 0, nil // it passes beside the face
	}
	if sp == 0 || sq == 0 || s[0]*s[1]*s[2] == 0 {
		return 0, errNotGeneral
	}
	return sp, nil
}

// piercing returns the vertex at which an edge passes through a face.
func (u *uniter) piercing(v, w, face int32) int32 {
	key, _ := keyOf(v, w)
	at, ok := u.points[piercing{key, face}]
	if !ok {
		a, b, c := u.m.Triangle(int(face))
		at = int32(len(u.out.Vertices))
		u.out.Vertices = append(u.out.Vertices, triangle.Through(a, b, c, u.m.Vertices[key[0]], u.m.Vertices[key[1]]))
		u.points[piercing{key, face}] = at
		u.onEdge[key] = append(u.onEdge[key], face)
	}
	return at
}

// sortPiercings puts the piercings of each edge in order; out of and into the
// solid must take turns.
func (u *uniter) sortPiercings() error {
	for key, faces := range u.onEdge {
		start := u.m.Vertices[key[0]]
		away := func(face int32) float64 {
			return r3.Norm2(r3.Sub(u.out.Vertices[u.points[piercing{key, face}]], start))
		}
		slices.SortFunc(faces, func(f, g int32) int { return cmp.Compare(away(f), away(g)) })
		last := 0
		for _, f := range faces {
			turn, err := u.passes(key[0], key[1], f)
			if err != nil || turn == last {
				return errNotGeneral
			}
			last = turn
		}
	}
	return nil
}

// tellInside finds out which vertices lie in the other mesh. One of each shell
// is looked up; along an edge the answer changes at every piercing.
func (u *uniter) tellInside(split int32, trees [2]*boxtree.Tree) error {
	neighbours := make([][]int32, len(u.m.Vertices))
	for _, f := range u.m.Faces {
		for k, v := range f {
			neighbours[v] = append(neighbours[v], f[(k+1)%3])
		}
	}
	u.inside = make([]bool, len(u.m.Vertices))
	seen := make([]bool, len(u.m.Vertices))
	for v := range int32(len(u.m.Vertices)) {
		if seen[v] || len(neighbours[v]) == 0 {
			continue
		}
		other := trees[1]
		if v >= split {
			other = trees[0]
		}
		turns := 0
		u.m.Above(other, u.m.Vertices[v], func(_ int32, t int, _ float64) { turns += t })
		u.inside[v], seen[v] = turns > 0, true
		for stack := []int32{v}; len(stack) > 0; {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, w := range neighbours[at] {
				key, _ := keyOf(at, w)
				is := u.inside[at] != (len(u.onEdge[key])%2 == 1)
				if seen[w] && u.inside[w] != is {
					return errTangled
				}
				if !seen[w] {
					u.inside[w], seen[w] = is, true
					stack = append(stack, w)
				}
			}
		}
	}
	return nil
}

// keep adds the part of a face that lies outside the other mesh.
func (u *uniter) keep(f int32) error {
	next := map[int32]int32{}
	link := func(from, to int32) bool {
		_, taken := next[from]
		next[from] = to
		return !taken
	}
	whole := len(u.segments[f]) == 0
	face := u.m.Faces[f]
	for k, v := range face {
		w := face[(k+1)%3]
		key, forward := keyOf(v, w)
		faces := u.onEdge[key]
		whole = whole && len(faces) == 0
		at, out := v, !u.inside[v]
		for i := range faces {
			g := faces[i]
			if forward < 0 {
				g = faces[len(faces)-1-i]
			}
			p := u.points[piercing{key, g}]
			if out && !link(at, p) {
				return errTangled
			}
			at, out = p, !out
		}
		if out && !link(at, w) {
			return errTangled
		}
	}
	if whole {
		if !u.inside[face[0]] {
			u.out.Faces = append(u.out.Faces, face)
		}
		return nil
	}
	for _, s := range u.segments[f] {
		if !link(s[0], s[1]) {
			return errTangled
		}
	}
	return u.cover(f, next)
}

// Cover fills the outlines of what is kept of a face with triangles.
func (u *uniter) cover(f int32, next map[int32]int32) error {
	if len(next) == 0 {
		return nil
	}
	a, b, c := u.m.Triangle(int(f))
	plane, err := mesh.PlaneFromNormal(a, r3.Cross(r3.Sub(b, a), r3.Sub(c, a)))
	if err != nil {
		return errNotGeneral
	}
	loops, err := closedLoops(next)
	if err != nil {
		return err
	}
	t, err := triangulation.New(u.project(plane, loops))
	if err != nil {
		return err
	}
	vertices := slices.Concat(loops...)
	start := 0
	for _, loop := range loops {
		chains, err := t.Outline(triangulation.Run(start, len(loop)), 0)
		if err != nil || bent(chains) {
			return errNotGeneral
		}
		start += len(loop)
	}
	for _, face := range t.Faces() {
		if face.Turns[0] != 1 {
			return errNotGeneral
		}
		u.out.Faces = append(u.out.Faces,
			[3]int32{vertices[face.Corner[0]], vertices[face.Corner[1]], vertices[face.Corner[2]]})
	}
	return nil
}

// closedLoops follows the links from vertex to vertex, each of which must come
// back to where it started.
func closedLoops(next map[int32]int32) ([][]int32, error) {
	starts := make([]int32, 0, len(next))
	for v := range next {
		starts = append(starts, v)
	}
	slices.Sort(starts)
	var loops [][]int32
	seen := map[int32]bool{}
	for _, start := range starts {
		if seen[start] {
			continue
		}
		var loop []int32
		for v := start; ; {
			if seen[v] {
				return nil, errTangled
			}
			seen[v] = true
			loop = append(loop, v)
			w, ok := next[v]
			if !ok {
				return nil, errTangled
			}
			if v = w; v == start {
				break
			}
		}
		loops = append(loops, loop)
	}
	return loops, nil
}

// project returns the points of the loops in the plane, one loop after another.
func (u *uniter) project(plane mesh.Plane, loops [][]int32) []r2.Vec {
	var flat []r2.Vec
	for _, loop := range loops {
		for _, v := range loop {
			flat = append(flat, plane.Project(u.out.Vertices[v]))
		}
	}
	return flat
}
