package mesh

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/parallel"
)

// Intersections finds the pairs of faces that pass through each other, in the
// order of the faces. It lists the first maxPlaces pairs and counts all. Faces
// that only touch, at a point, along an edge or flat on one another, are not
// counted, nor is an edge that passes through the very corner of a face. Time grows with
// the number of faces and of pairs that come near.
func Intersections(m *Mesh) (list []Intersection, total int) {
	faces := make([]int32, 0, len(m.Faces))
	for f := range m.Faces {
		if !m.Collapsed(f) {
			faces = append(faces, int32(f))
		}
	}
	return newSelfCrosser(m, faces).crossings(maxPlaces)
}

// selfCrosser looks for faces of one mesh that pass through each other, by going
// down a tree of boxes twice at a time: from a pair of branches whose boxes meet to
// the pairs of their halves.
type selfCrosser struct {
	crosser
	tree  *boxtree.Tree
	boxes []box32 // of the items, in their order in the tree
	plain []bool  // see plainCorners
}

// box32 is a box in float32, rounded outwards.
type box32 struct{ min, max [3]float32 }

func (b *box32) meets(o *box32) bool {
	return b.min[0] <= o.max[0] && o.min[0] <= b.max[0] &&
		b.min[1] <= o.max[1] && o.min[1] <= b.max[1] &&
		b.min[2] <= o.max[2] && o.min[2] <= b.max[2]
}

func outwards(b Box) box32 {
	down := func(x float64) float32 {
		f := float32(x)
		if float64(f) > x {
			f = math.Nextafter32(f, float32(math.Inf(-1)))
		}
		return f
	}
	up := func(x float64) float32 { return -down(-x) }
	return box32{
		[3]float32{down(b.Min.X), down(b.Min.Y), down(b.Min.Z)},
		[3]float32{up(b.Max.X), up(b.Max.Y), up(b.Max.Z)},
	}
}

func newSelfCrosser(m *Mesh, faces []int32) *selfCrosser {
	s := &selfCrosser{crosser: crosser{m, Neighbours(m)}, tree: m.FaceTree(faces)}
	s.boxes = make([]box32, len(faces))
	parallel.Chunks(len(faces), chunkSize, func(_, from, to int) {
		for i := from; i < to; i++ {
			s.boxes[i] = outwards(m.FaceBox(s.tree.Items[i]))
		}
	})
	s.plain = plainCorners(m, s.opposite)
	return s
}

// branches is about into how many pairs of branches the search is cut for all cores.
const branches = 1 << 12

// crossings lists the first limit pairs and counts all.
func (s *selfCrosser) crossings(limit int) (list []Intersection, total int) {
	pairs := s.meeting(branches)
	const size = 16
	found := make([][]Intersection, (len(pairs)+size-1)/size)
	totals := make([]int, len(found))
	parallel.Chunks(len(pairs), size, func(chunk, from, to int) {
		stack := make([][2]int32, 0, 64)
		for _, p := range pairs[from:to] {
			stack = append(stack[:0], p)
			for len(stack) > 0 {
				p := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				if int(p[0]) < s.tree.First {
					stack = s.halves(p, stack)
					continue
				}
				s.leaves(p, func(x Intersection) {
					totals[chunk]++
					if len(found[chunk]) < limit {
						found[chunk] = append(found[chunk], x)
					}
				})
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

// meeting goes down level by level until there are about n pairs of branches that
// meet, a branch with itself included.
func (s *selfCrosser) meeting(n int) [][2]int32 {
	pairs := [][2]int32{{1, 1}}
	for len(pairs) > 0 && len(pairs) < n && int(pairs[0][0]) < s.tree.First {
		var next [][2]int32
		for _, p := range pairs {
			next = s.halves(p, next)
		}
		pairs = next
	}
	return pairs
}

// halves appends the pairs of the halves of two branches of one level that meet.
func (s *selfCrosser) halves(p [2]int32, list [][2]int32) [][2]int32 {
	a, b := 2*p[0], 2*p[1]
	if a == b {
		list = append(list, [2]int32{a, a}, [2]int32{a + 1, a + 1})
		if boxtree.Meet(s.tree.Nodes[a], s.tree.Nodes[a+1]) {
			list = append(list, [2]int32{a, a + 1})
		}
		return list
	}
	for i := a; i < a+2; i++ {
		for j := b; j < b+2; j++ {
			if boxtree.Meet(s.tree.Nodes[i], s.tree.Nodes[j]) {
				list = append(list, [2]int32{i, j})
			}
		}
	}
	return list
}

// leaves tries the faces of two leaves on each other.
func (s *selfCrosser) leaves(p [2]int32, found func(Intersection)) {
	i0, i1 := s.tree.Span(int(p[0]))
	j0, j1 := s.tree.Span(int(p[1]))
	for i := i0; i < i1; i++ {
		if p[0] == p[1] {
			j0 = i + 1
		}
		for j := j0; j < j1; j++ {
			if !s.boxes[i].meets(&s.boxes[j]) {
				continue
			}
			f, g := s.tree.Items[i], s.tree.Items[j]
			if s.apart(f, g) {
				continue
			}
			if at, ok := s.crossing(min(f, g), max(f, g)); ok {
				found(Intersection{At: at, Faces: [2]int{int(min(f, g)), int(max(f, g))}})
			}
		}
	}
}

// apart reports whether two faces share an edge, or one corner around which the
// surface is plain, so that they cannot pass through each other.
func (s *selfCrosser) apart(f, g int32) bool {
	a, b := &s.Faces[f], &s.Faces[g]
	n, plain := 0, false
	for k, v := range a {
		if v == b[0] || v == b[1] || v == b[2] {
			n++
			plain = s.plain[3*f+int32(k)]
		}
	}
	return n > 1 || n == 1 && plain
}

// plainCorners tells the corners, 3f+k for corner k of face f, around whose vertex
// the faces make one ring that can be seen whole from one side: the ring's faces,
// projected along the sum of their normals, all look up and go round once. No two
// of them pass through each other then, whatever they do elsewhere.
func plainCorners(m *Mesh, opposite []HalfEdge) []bool {
	plain := make([]bool, 3*len(m.Faces))
	parallel.Chunks(len(m.Faces), chunkSize, func(_, from, to int) {
		ring := make([]HalfEdge, 0, mostAround)
		for h := HalfEdge(3 * from); h < HalfEdge(3*to); h++ {
			if ring = ringAround(opposite, h, ring[:0]); len(ring) == 0 || !m.seenWhole(ring) {
				continue
			}
			for _, e := range ring { // nobody else's: a corner is in one ring
				plain[e] = true
			}
		}
	})
	return plain
}

// mostAround is how many faces at one vertex are looked at: the hub of a fan is
// left to the exact test.
const mostAround = 24

// ringAround appends the half-edges that leave the vertex from which h leaves, in
// turn. It returns none where the faces there make no single ring of few, or where h
// is not the lowest of them: each ring is told once.
func ringAround(opposite []HalfEdge, h HalfEdge, ring []HalfEdge) []HalfEdge {
	for e := h; ; {
		ring = append(ring, e)
		before := e - 1 // the side of the same face that comes to the vertex
		if e%3 == 0 {
			before = e + 2
		}
		e = opposite[before]
		switch {
		case e == h:
			return ring
		case e < h || len(ring) == mostAround: // -1 included
			return ring[:0]
		}
	}
}

// seenWhole reports whether the faces of a ring, given by the half-edges that leave
// its vertex, all look up and go round once when seen along the sum of their normals.
func (m *Mesh) seenWhole(ring []HalfEdge) bool {
	var up r3.Vec
	from, _ := m.Ends(ring[0])
	hub := m.Vertices[from]
	// The direction to the next vertex of each half-edge, the last one first.
	var spokes [mostAround + 1]r3.Vec
	for i, h := range ring {
		_, to := m.Ends(h)
		spokes[i] = r3.Sub(m.Vertices[to], hub)
	}
	n := len(ring)
	spokes[n] = spokes[0]
	for i := range n { // the ring goes round counter-clockwise
		up = r3.Add(up, r3.Cross(spokes[i], spokes[i+1]))
	}
	first := r3.Cross(up, spokes[0]) // across up
	rounds := 0
	for i := range n {
		p, q := spokes[i], spokes[i+1]
		normal := r3.Cross(p, q)
		if d := r3.Dot(normal, up); d <= 0 || d*d <= steep*steep*r3.Norm2(normal)*r3.Norm2(up) {
			return false
		}
		// Passing the first spoke, from behind it to it or beyond.
		if r3.Dot(first, p) < 0 && (i == n-1 || r3.Dot(first, q) >= 0) {
			rounds++
		}
	}
	return rounds == 1
}

// steep is the least cosine between the normal of a face and the direction from
// which a ring is seen whole: far enough from 0 that rounding does not decide.
const steep = 1e-3
