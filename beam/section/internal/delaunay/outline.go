package delaunay

import "errors"

var errTangled = errors.New("the outlines cross too often to be told apart: check the mesh for self-intersections")

// crossing is a segment still to be put in, k outlines from a to b.
type crossing struct {
	a, b int32
	k    int
}

// addOutline makes the straight line from a to b a row of fixed sides. Points
// on the line divide it, and so does every fixed side that it crosses, at a new
// grid point nearest to the crossing.
func (m *triangulation) addOutline(a, b int32, k int) error {
	todo := []crossing{{a, b, k}}
	limit := 100*len(m.pts) + 10000 // each crossing adds a point; sound outlines have none
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if s.a == s.b {
			continue
		}
		if limit--; limit < 0 {
			return errTangled
		}
		more := m.layStretch(s)
		todo = append(todo, more...)
	}
	return nil
}

// layStretch puts in the segment from s.a up to the first point that divides
// it, and returns what is left to do.
func (m *triangulation) layStretch(s crossing) []crossing {
	t, i, v := m.toward(s.a, s.b)
	if v >= 0 { // a side of the triangulation already
		m.fix(s.a, v, s.k)
		return []crossing{{v, s.b, s.k}}
	}
	var crossed []edge
	for {
		p, q := m.tri[t].v[(i+1)%3], m.tri[t].v[(i+2)%3] // p right of the line, q left
		if m.fixed[between(p, q)] != 0 {
			return m.divide(s, p, q)
		}
		crossed = append(crossed, between(p, q))
		n := m.tri[t].n[i]
		j := m.sideOf(n, t)
		apex := m.tri[n].v[j]
		side := orient(m.pts[s.a], m.pts[s.b], m.pts[apex])
		if side == 0 {
			m.clear(s.a, apex, crossed)
			m.fix(s.a, apex, s.k)
			return []crossing{{apex, s.b, s.k}}
		}
		// in n, side j runs from q to p; go on through the side that the line leaves by
		t, i = n, (j+2)%3
		if side > 0 {
			i = (j + 1) % 3
		}
	}
}

// toward looks from vertex a along the line to b. It returns the triangle at a
// and the side of it that the line leaves by; or, when the line runs along a
// side, the vertex at that side's end.
func (m *triangulation) toward(a, b int32) (t int32, side int, vertex int32) {
	t = m.at[a]
	for {
		i := m.cornerOf(t, a)
		p, q := m.tri[t].v[(i+1)%3], m.tri[t].v[(i+2)%3]
		right, left := orient(m.pts[a], m.pts[b], m.pts[p]), orient(m.pts[a], m.pts[b], m.pts[q])
		switch {
		case right == 0 && dot(m.pts[a], m.pts[b], m.pts[p]) > 0:
			return t, -1, p
		case right < 0 && left > 0:
			return t, i, -1
		}
		t = m.tri[t].n[(i+1)%3] // counter-clockwise around a
	}
}

// divide cuts the segment and the fixed side p-q where they cross.
func (m *triangulation) divide(s crossing, p, q int32) []crossing {
	k := m.forget(p, q)
	a, b := m.pts[s.a], m.pts[s.b]
	u, v := float64(orient(a, b, m.pts[p])), float64(orient(a, b, m.pts[q]))
	f := u / (u - v)
	px, py := m.pts[p].float()
	qx, qy := m.pts[q].float()
	x := m.insert(point{round(px + f*(qx-px)), round(py + f*(qy-py))}, m.at[p])
	return []crossing{{s.a, x, s.k}, {x, s.b, s.k}, {p, x, k}, {x, q, k}}
}

// clear flips the crossed sides until the side from a to b is there: Sloan, A
// fast algorithm for generating constrained Delaunay triangulations, Computers
// and Structures 47 (1993).
func (m *triangulation) clear(a, b int32, crossed []edge) {
	var made []edge
	for len(crossed) > 0 {
		e := crossed[0]
		crossed = crossed[1:]
		t, i := m.find(e)
		apex := m.tri[m.tri[t].n[i]].v[m.sideOf(m.tri[t].n[i], t)]
		if !m.mayFlip(t, i, apex) {
			crossed = append(crossed, e)
			continue
		}
		own := m.tri[t].v[i]
		m.flip(t, i)
		made2 := between(own, apex)
		if made2 == between(a, b) {
			continue
		}
		if m.crosses(own, apex, a, b) {
			crossed = append(crossed, made2)
		} else {
			made = append(made, made2)
		}
	}
	m.restore(made, between(a, b))
}

// crosses reports whether p-q passes through the inside of a-b, for p-q of a
// triangulation and a-b free of points.
func (m *triangulation) crosses(p, q, a, b int32) bool {
	if p == a || p == b || q == a || q == b {
		return false
	}
	u, v := orient(m.pts[a], m.pts[b], m.pts[p]), orient(m.pts[a], m.pts[b], m.pts[q])
	return u > 0 && v < 0 || u < 0 && v > 0
}

// find returns the triangle and side of an edge of the triangulation.
func (m *triangulation) find(e edge) (t int32, side int) {
	a, b := e.b, e.a // a is not a corner of the frame: those come first, and no crossed side joins two
	t = m.at[a]
	for {
		i := m.cornerOf(t, a)
		if m.tri[t].v[(i+1)%3] == b {
			return t, (i + 2) % 3
		}
		t = m.tri[t].n[(i+1)%3]
	}
}

// restore makes the new sides Delaunay again where it can, all but the one
// kept; a later sweep finishes the rest.
func (m *triangulation) restore(todo []edge, keep edge) {
	for _, e := range todo {
		if e == keep {
			continue
		}
		if t, i := m.find(e); m.wantsFlip(t, i) {
			m.flip(t, i)
		}
	}
}

// wantsFlip reports whether side i of t is not Delaunay and free to flip.
func (m *triangulation) wantsFlip(t int32, i int) bool {
	n := m.tri[t].n[i]
	if n < 0 {
		return false
	}
	v, apex := m.tri[t].v, m.tri[n].v[m.sideOf(n, t)]
	return inCircle(m.pts[v[0]], m.pts[v[1]], m.pts[v[2]], m.pts[apex]) && m.mayFlip(t, i, apex)
}

// sweep flips sides until all are Delaunay.
func (m *triangulation) sweep() {
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
