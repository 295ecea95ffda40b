package delaunay

// triangle lists its corners counter-clockwise. Side i lies opposite corner i,
// from corner i+1 to corner i+2; n[i] is the triangle beyond it, or, below zero,
// -1-s for side s of the outline.
type triangle struct {
	v, n [3]int32
}

// edge is a pair of corners in a fixed order.
type edge struct{ a, b int32 }

func between(a, b int32) edge { return edge{min(a, b), max(a, b)} }

// triangulation is a Delaunay triangulation under change.
type triangulation struct {
	pts   []point
	tri   []triangle
	at    []int32 // a triangle at each point
	fixed map[edge]int
	// fixed holds the sides that may not be flipped while the outlines are put
	// in; the number counts outlines that run from the smaller to the larger
	// index less those that run back.
	size  []float64 // wished side at each point, in steps; nil before refinement
	chain []flipped // scratch of legalize
	fresh []int32   // triangles changed since the refinement last looked
	watch bool
}

type flipped struct{ t, side int32 }

// frame starts a triangulation with a square far around the grid.
func frame() *triangulation {
	const lo, hi = -(1 << gridBits), 1 << (gridBits + 1)
	return &triangulation{
		pts:   []point{{lo, lo}, {hi, lo}, {hi, hi}, {lo, hi}},
		tri:   []triangle{{v: [3]int32{0, 1, 2}, n: [3]int32{-1, 1, -1}}, {v: [3]int32{0, 2, 3}, n: [3]int32{-1, -1, 0}}},
		at:    []int32{0, 0, 0, 1},
		fixed: map[edge]int{},
	}
}

func (m *triangulation) corner(t int32, i int) point { return m.pts[m.tri[t].v[i%3]] }

// sideOf returns the index of triangle t's side to its neighbour n.
func (m *triangulation) sideOf(t, n int32) int {
	switch n {
	case m.tri[t].n[0]:
		return 0
	case m.tri[t].n[1]:
		return 1
	}
	return 2
}

// cornerOf returns the index of vertex v in triangle t.
func (m *triangulation) cornerOf(t, v int32) int {
	switch v {
	case m.tri[t].v[0]:
		return 0
	case m.tri[t].v[1]:
		return 1
	}
	return 2
}

// relink makes to the neighbour of n in the place of from.
func (m *triangulation) relink(n, from, to int32) {
	if n >= 0 {
		m.tri[n].n[m.sideOf(n, from)] = to
	}
}

// set writes a triangle and points its corners at it.
func (m *triangulation) set(t int32, a, b, c, na, nb, nc int32) {
	m.tri[t] = triangle{[3]int32{a, b, c}, [3]int32{na, nb, nc}}
	m.at[a], m.at[b], m.at[c] = t, t, t
	if m.watch {
		m.fresh = append(m.fresh, t)
	}
}

func (m *triangulation) add() int32 {
	m.tri = append(m.tri, triangle{})
	return int32(len(m.tri) - 1)
}

func (m *triangulation) addPoint(p point) int32 {
	m.pts = append(m.pts, p)
	m.at = append(m.at, -1)
	return int32(len(m.pts) - 1)
}

// splitInside puts point p inside triangle t.
func (m *triangulation) splitInside(t, p int32) {
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
func (m *triangulation) splitSide(t int32, i int, p int32) {
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
	if k := between(a, b); m.fixed[k] != 0 {
		m.copyFixed(a, b, p)
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

// copyFixed hands the outline on side a-b to its halves.
func (m *triangulation) copyFixed(a, b, p int32) {
	k := m.forget(a, b)
	m.fix(a, p, k)
	m.fix(p, b, k)
}

// fix adds k outlines from a to b.
func (m *triangulation) fix(a, b int32, k int) {
	if a > b {
		k = -k
	}
	e := between(a, b)
	m.fixed[e] += k
	if m.fixed[e] == 0 {
		delete(m.fixed, e)
	}
}

// forget removes the outlines on a side and returns their number from a to b.
func (m *triangulation) forget(a, b int32) int {
	e := between(a, b)
	k := m.fixed[e]
	delete(m.fixed, e)
	if a > b {
		k = -k
	}
	return k
}

// flip turns the side i of t, which must have a neighbour, into the other
// diagonal of the two triangles. Afterwards t and n share the new side.
func (m *triangulation) flip(t int32, i int) (n int32) {
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
func (m *triangulation) legalize() {
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
func (m *triangulation) mayFlip(t int32, i int, apex int32) bool {
	v := m.tri[t].v
	p, q, s := v[i], v[(i+1)%3], v[(i+2)%3]
	if len(m.fixed) > 0 && m.fixed[between(q, s)] != 0 {
		return false
	}
	return orient(m.pts[p], m.pts[q], m.pts[apex]) > 0 && orient(m.pts[p], m.pts[apex], m.pts[s]) > 0
}

// locate walks from triangle t to the one that holds p. It returns the side
// that p lies on, or -1, and the vertex that p falls on, or -1. Only for the
// whole frame, where every walk stays inside.
func (m *triangulation) locate(t int32, p point) (in int32, side int, vertex int32) {
	for turn := 0; ; turn++ { // another first side each time, so that a walk cannot circle
		moved := false
		for k := range 3 {
			i := (k + turn) % 3
			if orient(m.corner(t, i+1), m.corner(t, i+2), p) < 0 {
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
			if orient(m.corner(t, i+1), m.corner(t, i+2), p) == 0 {
				side = i
			}
		}
		return t, side, -1
	}
}

// insert adds a point to the frame unless it is there, and returns its index.
func (m *triangulation) insert(p point, near int32) int32 {
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
