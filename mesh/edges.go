package mesh

import (
	"cmp"
	"runtime"
	"slices"

	"swapworth/internal/parallel"
)

// HalfEdge names one side of one face: half-edge 3f+k runs from corner k of
// face f to its next corner.
type HalfEdge = int32

// Edges pairs the half-edges of a mesh. Faces that name a vertex twice
// bound nothing and have no half-edges.
type Edges struct {
	// Opposite holds, for every half-edge, the one of another face that runs the
	// other way along the same two vertices, or -1 where there is not exactly one.
	Opposite []HalfEdge
	Open     []HalfEdge   // used once
	Flipped  [][]HalfEdge // pairs used twice in the same direction
	Overused [][]HalfEdge // used more than twice; or once each way by the two sides of one face
	Balanced bool         // every edge is used as often one way as the other
}

// Ends returns the vertices that a half-edge runs from and to.
func (m *Mesh) Ends(h HalfEdge) (from, to int32) {
	f := &m.Faces[h/3]
	k := h % 3
	return f[k], f[(k+1)%3]
}

// Collapsed reports whether face f names a vertex twice.
func (m *Mesh) Collapsed(f int) bool {
	v := &m.Faces[f]
	return v[0] == v[1] || v[1] == v[2] || v[2] == v[0]
}

// edgeUse is one half-edge in the list of its lower vertex.
type edgeUse struct {
	other int32 // the higher vertex
	half  HalfEdge
}

// EdgesOf sorts the half-edges by their lower vertex and matches them
// there. Each core takes a run of vertices.
func EdgesOf(m *Mesh) *Edges {
	e := &Edges{Opposite: make([]HalfEdge, 3*len(m.Faces)), Balanced: true}
	for h := range e.Opposite {
		e.Opposite[h] = -1
	}
	parts := runtime.GOMAXPROCS(0)
	if len(m.Faces) < chunkSize {
		parts = 1
	}
	found := make([]Edges, parts)
	parallel.Each(parts, func(part int) {
		lo := int32(len(m.Vertices) * part / parts)
		hi := int32(len(m.Vertices) * (part + 1) / parts)
		found[part] = matchVertices(m, lo, hi, e.Opposite)
	})
	for _, p := range found {
		e.Open = append(e.Open, p.Open...)
		e.Flipped = append(e.Flipped, p.Flipped...)
		e.Overused = append(e.Overused, p.Overused...)
		e.Balanced = e.Balanced && p.Balanced
	}
	return e
}

// matchVertices matches the half-edges whose lower vertex v has lo <= v < hi.
func matchVertices(m *Mesh, lo, hi int32, opposite []HalfEdge) Edges {
	start, uses := usesByVertex(m, lo, hi)
	e := Edges{Opposite: opposite, Balanced: true}
	for v := range hi - lo {
		list := uses[start[v]:start[v+1]]
		sortUses(list)
		for len(list) > 0 {
			n := 1
			for n < len(list) && list[n].other == list[0].other {
				n++
			}
			e.match(m, v+lo, list[:n])
			list = list[n:]
		}
	}
	return e
}

// usesByVertex lists the half-edges whose lower vertex v has lo <= v < hi;
// those of v are uses[start[v-lo]:start[v-lo+1]], in the order of the faces.
func usesByVertex(m *Mesh, lo, hi int32) (start []int32, uses []edgeUse) {
	start = make([]int32, hi-lo+2)
	for _, f := range m.Faces {
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			continue
		}
		for k, from := range f {
			if v := min(from, f[(k+1)%3]); v >= lo && v < hi {
				start[v-lo+2]++
			}
		}
	}
	for v := range hi - lo {
		start[v+2] += start[v+1]
	}
	uses = make([]edgeUse, start[hi-lo+1])
	for i, f := range m.Faces {
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			continue
		}
		for k, from := range f {
			to := f[(k+1)%3]
			if v := min(from, to); v >= lo && v < hi {
				at := &start[v-lo+1]
				uses[*at] = edgeUse{max(from, to), HalfEdge(3*i + k)}
				*at++
			}
		}
	}
	return start, uses
}

// sortUses sorts by the higher vertex and keeps the order of the faces. The
// list of a vertex is short but for the hub of a fan.
func sortUses(list []edgeUse) {
	if len(list) > 24 {
		slices.SortStableFunc(list, func(a, b edgeUse) int { return cmp.Compare(a.other, b.other) })
		return
	}
	for i := 1; i < len(list); i++ {
		u := list[i]
		j := i
		for ; j > 0 && list[j-1].other > u.other; j-- {
			list[j] = list[j-1]
		}
		list[j] = u
	}
}

// match sorts out the uses of one edge, whose lower vertex is v.
func (e *Edges) match(m *Mesh, v int32, uses []edgeUse) {
	if len(uses) == 2 {
		a, b := uses[0].half, uses[1].half
		fromA, _ := m.Ends(a)
		fromB, _ := m.Ends(b)
		if fromA != fromB {
			e.Opposite[a], e.Opposite[b] = b, a
			return
		}
		e.Flipped = append(e.Flipped, []HalfEdge{a, b})
		e.Balanced = false
		return
	}
	if len(uses) == 1 {
		e.Open = append(e.Open, uses[0].half)
		e.Balanced = false
		return
	}
	group := make([]HalfEdge, len(uses))
	turns := 0
	for i, u := range uses {
		group[i] = u.half
		if from, _ := m.Ends(u.half); from == v {
			turns++
		} else {
			turns--
		}
	}
	e.Overused = append(e.Overused, group)
	e.Balanced = e.Balanced && turns == 0
}
