package triangulation

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// face lists its corners counter-clockwise. Side i lies opposite corner i,
// from corner i+1 to corner i+2; n[i] is the triangle beyond it, or, below zero,
// -1-s for side s of the outline.
type face struct {
	v, n [3]int32
}

// edge is a pair of corners in a fixed order.
type edge struct{ a, b int32 }

func between(a, b int32) edge { return edge{min(a, b), max(a, b)} }

// net is a Delaunay triangulation under change, of a square frame and the points in
// it. Points 0 to 3 are the corners of the frame.
type net struct {
	pts []r2.Vec
	tri []face
	at  []int32 // a triangle at each point
	// fixed holds the sides that may not be flipped while the outlines are put in,
	// with the outlines that run along them.
	fixed map[edge]laid
	size  []float64 // wished side at each point, in steps; nil before refinement
	chain []flipped // scratch of legalize
	fresh []int32   // triangles changed since the refinement last looked
	watch bool
}

// laid counts, for each of two sets, the outlines that run along a side from the
// smaller to the larger index less those that run back.
type laid [2]int16

// back is the same seen from the larger index.
func (l laid) back() laid { return laid{-l[0], -l[1]} }

func (l laid) plus(o laid) laid { return laid{l[0] + o[0], l[1] + o[1]} }

type flipped struct{ t, side int32 }

// corners is how many points are those of the frame.
const corners = 4

// frame starts a net with the square from (lo, lo) to (hi, hi), in which every
// point to come lies well inside.
func frame(lo, hi r2.Vec) *net {
	return &net{
		pts:   []r2.Vec{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}},
		tri:   []face{{v: [3]int32{0, 1, 2}, n: [3]int32{-1, 1, -1}}, {v: [3]int32{0, 2, 3}, n: [3]int32{-1, -1, 0}}},
		at:    []int32{0, 0, 0, 1},
		fixed: map[edge]laid{},
	}
}

func (m *net) corner(t int32, i int) r2.Vec { return m.pts[m.tri[t].v[i%3]] }

// sideOf returns the index of triangle t's side to its neighbour n.
func (m *net) sideOf(t, n int32) int {
	switch n {
	case m.tri[t].n[0]:
		return 0
	case m.tri[t].n[1]:
		return 1
	}
	return 2
}

// cornerOf returns the index of vertex v in triangle t.
func (m *net) cornerOf(t, v int32) int {
	switch v {
	case m.tri[t].v[0]:
		return 0
	case m.tri[t].v[1]:
		return 1
	}
	return 2
}

// relink makes to the neighbour of n in the place of from.
func (m *net) relink(n, from, to int32) {
	if n >= 0 {
		m.tri[n].n[m.sideOf(n, from)] = to
	}
}

// set writes a triangle and points its corners at it.
func (m *net) set(t int32, a, b, c, na, nb, nc int32) {
	m.tri[t] = face{[3]int32{a, b, c}, [3]int32{na, nb, nc}}
	m.at[a], m.at[b], m.at[c] = t, t, t
	if m.watch {
		m.fresh = append(m.fresh, t)
	}
}

func (m *net) add() int32 {
	m.tri = append(m.tri, face{})
	return int32(len(m.tri) - 1)
}

func (m *net) addPoint(p r2.Vec) int32 {
	m.pts = append(m.pts, p)
	m.at = append(m.at, -1)
	return int32(len(m.pts) - 1)
}

// splitInside puts point p inside triangle t.
func (m *net) splitInside(t, p int32) {
	old := m.tri[t]
	u, w := m.add(), m.add()
	a, b, c := old.v[0], old.v[1], old.v[2]
	m.relink(old.n[0], t, u)
	m.relink(old.n[1], t, w)
	m.set(t, a, b, p, u, w, old.n[2])
	m.set(u, b, c, p, w, t, old.n[0])
	m.set(w, c, a, p, t, u, old.n[1])
	m.chain = append(m.chain[:0], flipped{t, 2}, flipped{u, 2}, flipped{w, 2})
	m.legalize()
}

// splitSide puts point p on side i of triangle t, and on the triangle beyond.
// Both halves of a side of the outline stay on it.
func (m *net) splitSide(t int32, i int, p int32) {
	old, n := m.tri[t], m.tri[t].n[i]
	c, a, b := old.v[i], old.v[(i+1)%3], old.v[(i+2)%3]
	na, nb := old.n[(i+1)%3], old.n[(i+2)%3] // beyond b-c and c-a
	u := m.add()
	if n < 0 {
		m.relink(na, t, u)
		m.set(t, a, p, c, u, nb, n)
		m.set(u, p, b, c, na, t, n)
		m.chain = append(m.chain[:0], flipped{t, 1}, flipped{u, 0})
		m.legalize()
		return
	}
	j := m.sideOf(n, t)
	beyond := m.tri[n]
	d := beyond.v[j]
	nd, ne := beyond.n[(j+1)%3], beyond.n[(j+2)%3] // beyond a-d and d-b
	w := m.add()
	if l, ok := m.forget(a, b); ok {
		m.fix(a, p, l)
		m.fix(p, b, l)
	}
	m.relink(na, t, u)
	m.relink(nd, n, w)
	m.set(t, a, p, c, u, nb, w)
	m.set(u, p, b, c, na, t, n)
	m.set(n, b, p, d, w, ne, u)
	m.set(w, p, a, d, nd, n, t)
	m.chain = append(m.chain[:0], flipped{t, 1}, flipped{u, 0}, flipped{n, 1}, flipped{w, 0})
	m.legalize()
}

// fix lays outlines along the side from a to b.
func (m *net) fix(a, b int32, l laid) {
	if a > b {
		l = l.back()
	}
	m.fixed[between(a, b)] = m.fixed[between(a, b)].plus(l)
}

// forget takes the outlines off a side and returns those from a to b.
func (m *net) forget(a, b int32) (l laid, ok bool) {
	l, ok = m.fixed[between(a, b)]
	delete(m.fixed, between(a, b))
	if a > b {
		l = l.back()
	}
	return l, ok
}

// flip turns the side i of t, which must have a neighbour, into the other
// diagonal of the two triangles. Afterwards t and n share the new side.
func (m *net) flip(t int32, i int) (n int32) {
	a := m.tri[t]
	n = a.n[i]
	j := m.sideOf(n, t)
	b := m.tri[n]
	p, q, r, s := a.v[i], a.v[(i+1)%3], b.v[j], a.v[(i+2)%3] // q-s becomes p-r
	spn, pqn := a.n[(i+1)%3], a.n[(i+2)%3]
	qrn, rsn := b.n[(j+1)%3], b.n[(j+2)%3]
	m.relink(qrn, n, t)
	m.relink(spn, t, n)
	m.set(t, p, q, r, qrn, n, pqn)
	m.set(n, p, r, s, rsn, spn, t)
	return n
}

// legalize restores the triangulation around a point just put in: it flips the
// sides on the chain, which lie opposite that point, and those that a flip
// exposes, until each is Delaunay; outlines stay. See Lawson, Software for C1
// surface interpolation, 1977.
func (m *net) legalize() {
	for len(m.chain) > 0 {
		e := m.chain[len(m.chain)-1]
		m.chain = m.chain[:len(m.chain)-1]
		t, i := e.t, int(e.side)
		if !m.wantsFlip(t, i) {
			continue
		}
		p := m.tri[t].v[i]
		n := m.flip(t, i)
		m.chain = append(m.chain, flipped{t, int32(m.cornerOf(t, p))}, flipped{n, int32(m.cornerOf(n, p))})
	}
}

// mayFlip reports whether the side is free and the four corners are strictly
// convex.
func (m *net) mayFlip(t int32, i int, apex int32) bool {
	v := m.tri[t].v
	p, q, s := v[i], v[(i+1)%3], v[(i+2)%3]
	if len(m.fixed) > 0 {
		if _, is := m.fixed[between(q, s)]; is {
			return false
		}
	}
	return turn(m.pts[p], m.pts[q], m.pts[apex]) > 0 && turn(m.pts[p], m.pts[apex], m.pts[s]) > 0
}

// locate walks from triangle t to the one that holds p. It returns the side
// that p lies on, or -1, and the vertex that p falls on, or -1. Only for the
// whole frame, where every walk stays inside.
func (m *net) locate(t int32, p r2.Vec) (in int32, side int, vertex int32) {
	for start := 0; ; start++ { // another first side each time, so that a walk cannot circle
		moved := false
		for k := range 3 {
			i := (k + start) % 3
			if turn(m.corner(t, i+1), m.corner(t, i+2), p) < 0 {
				t, moved = m.tri[t].n[i], true
				break
			}
		}
		if moved {
			continue
		}
		side = -1
		for i := range 3 {
			if m.corner(t, i) == p {
				return t, -1, m.tri[t].v[i]
			}
			if turn(m.corner(t, i+1), m.corner(t, i+2), p) == 0 {
				side = i
			}
		}
		return t, side, -1
	}
}

// insert adds a point to the frame unless it is there, and returns its index.
func (m *net) insert(p r2.Vec, near int32) int32 {
	t, side, vertex := m.locate(near, p)
	if vertex >= 0 {
		return vertex
	}
	v := m.addPoint(p)
	if side >= 0 {
		m.splitSide(t, side, v)
	} else {
		m.splitInside(t, v)
	}
	return v
}

// wantsFlip reports whether side i of t is not Delaunay and free to flip.
func (m *net) wantsFlip(t int32, i int) bool {
	n := m.tri[t].n[i]
	if n < 0 {
		return false
	}
	v, apex := m.tri[t].v, m.tri[n].v[m.sideOf(n, t)]
	return inCircle(m.pts[v[0]], m.pts[v[1]], m.pts[v[2]], m.pts[apex]) && m.mayFlip(t, i, apex)
}

// sweep flips sides until all are Delaunay.
func (m *net) sweep() {
	for pass := 0; pass < 100; pass++ { // each flip makes progress; two or three passes are usual
		again := false
		for t := range m.tri {
			for i := range 3 {
				if m.wantsFlip(int32(t), i) {
					m.flip(int32(t), i)
					again = true
				}
			}
		}
		if !again {
			return
		}
	}
}

// turns returns, for every triangle, how often each set of outlines turns around it
// counter-clockwise, counted across the sides from outside.
func (m *net) turns() [][2]int16 {
	turns := make([][2]int16, len(m.tri))
	seen := make([]bool, len(m.tri))
	start := m.at[0] // at a corner of the frame
	seen[start] = true
	todo := []int32{start}
	for len(todo) > 0 {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for i, n := range m.tri[t].n {
			if n < 0 || seen[n] {
				continue
			}
			a, b := m.tri[t].v[(i+1)%3], m.tri[t].v[(i+2)%3]
			l := m.fixed[between(a, b)]
			if a > b {
				l = l.back()
			}
			// t lies left of a-b, and so do the insides of its outlines
			turns[n] = [2]int16{turns[t][0] - l[0], turns[t][1] - l[1]}
			seen[n] = true
			todo = append(todo, n)
		}
	}
	return turns
}

// insertAll adds points to the frame in the order of their keys, so that each is
// near the one before, and returns their indices.
func (m *net) insertAll(points []r2.Vec, key func(r2.Vec) uint64) []int32 {
	order, keys := make([]int, len(points)), make([]uint64, len(points))
	for i, p := range points {
		order[i], keys[i] = i, key(p)
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Or(cmp.Compare(keys[i], keys[j]), i-j) })
	id := make([]int32, len(points))
	near := int32(0)
	for _, i := range order {
		id[i] = m.insert(points[i], near)
		near = m.at[id[i]]
	}
	return id
}

// alongCurve is the position along a Hilbert curve over a square of 2^gridBits steps.
func alongCurve(x, y int64) (d uint64) {
	for s := int64(1) << (gridBits - 1); s > 0; s >>= 1 {
		rx, ry := x&s != 0, y&s != 0
		d <<= 2
		switch {
		case rx && !ry:
			d |= 3
		case rx && ry:
			d |= 2
		case ry:
			d |= 1
		}
		if !ry {
			if rx {
				x, y = (1<<gridBits)-1-x, (1<<gridBits)-1-y
			}
			x, y = y, x
		}
	}
	return d
}
