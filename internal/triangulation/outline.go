package triangulation

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r2"
)

// course is the straight line that an outline edge follows.
type course struct {
	from, to r2.Vec
	// rounding is how far off the line, in mm, a point still lies on it; below 0 none
	// does that is not in line exactly.
	rounding float64
}

// before reports whether p comes before q along the course.
func (c course) before(p, q r2.Vec) bool {
	return r2.Dot(r2.Sub(p, q), r2.Sub(c.to, c.from)) < 0
}

// meets reports whether p lies on the course, farther along than the point
// reached so far and before the end.
func (c course) meets(p, reached r2.Vec) bool {
	if c.rounding < 0 {
		return false
	}
	way := r2.Sub(c.to, c.from)
	at := r2.Dot(r2.Sub(p, c.from), way)
	if at <= r2.Dot(r2.Sub(reached, c.from), way) || at >= r2.Norm2(way) {
		return false
	}
	return math.Abs(r2.Cross(way, r2.Sub(p, c.from))) <= c.rounding*r2.Norm(way)
}

// stretch is what comes next on the way from one point of an outline edge to its
// end.
type stretch struct {
	to      int32      // the point reached, -1 where a fixed side is in the way
	crossed [][2]int32 // the sides to be cleared away before, right end first
	wall    [2]int32   // the fixed side in the way, right end first
}

// next looks from point a along the course to b. It returns false where points lie
// closer together than rounding, so that there is no way.
func (m *net) next(c course, a, b int32) (stretch, bool) {
	t, i, reached := m.towards(c, a, b)
	if reached >= 0 {
		return stretch{to: reached}, true
	}
	if t < 0 {
		return stretch{}, false
	}
	var crossed [][2]int32
	for {
		p, q := m.tri[t].v[(i+1)%3], m.tri[t].v[(i+2)%3] // right, left
		if _, is := m.fixed[between(p, q)]; is {
			return stretch{to: -1, wall: [2]int32{p, q}}, true
		}
		crossed = append(crossed, [2]int32{p, q})
		n := m.tri[t].n[i]
		j := m.sideOf(n, t)
		apex := m.tri[n].v[j]
		side := turn(m.pts[a], m.pts[b], m.pts[apex])
		if apex == b || side == 0 || c.meets(m.pts[apex], m.pts[a]) {
			return stretch{to: apex, crossed: crossed}, true
		}
		// in n, side j runs from q to p; go on through the side that the line leaves by
		t, i = n, (j+2)%3
		if side > 0 {
			i = (j + 1) % 3
		}
	}
}

// towards looks round point a in the direction of b. It returns either the
// point reached along a side, or -1 with the triangle and the side of it that the
// line leaves by.
func (m *net) towards(c course, a, b int32) (t int32, side int, reached int32) {
	pa, pb := m.pts[a], m.pts[b]
	t, reached = -1, -1
	first := m.at[a]
	for f := first; ; {
		i := m.cornerOf(f, a)
		p, q := m.tri[f].v[(i+1)%3], m.tri[f].v[(i+2)%3]
		right := turn(pa, pb, m.pts[p])
		onWay := p == b || c.meets(m.pts[p], pa) || right == 0 && dot(pa, pb, m.pts[p]) > 0
		if onWay && (reached < 0 || c.before(m.pts[p], m.pts[reached])) {
			reached = p
		}
		if right < 0 && turn(pa, pb, m.pts[q]) > 0 {
			t, side = f, i
		}
		if f = m.tri[f].n[(i+1)%3]; f == first { // counter-clockwise around a
			return t, side, reached
		}
	}
}

// clear flips the crossed sides away from the line a-b (S. W. Sloan, A fast
// algorithm for generating constrained Delaunay triangulations, Computers &
// Structures 47, 1993). It prefers flips that take a crossing away; where none
// is at hand it flips one side at random, so that it cannot go in circles.
func (m *net) clear(crossed [][2]int32, a, b int32) {
	if len(crossed) == 0 {
		return
	}
	random := rand.New(rand.NewPCG(uint64(a), uint64(b)))
	budget := 100 * len(crossed)
	for waiting, force := 0, false; len(crossed) > 0 && budget > 0; {
		if waiting == len(crossed) {
			random.Shuffle(len(crossed), func(i, j int) { crossed[i], crossed[j] = crossed[j], crossed[i] })
			waiting, force, budget = 0, true, budget-1
		}
		e := crossed[0]
		crossed = crossed[1:]
		t, i, ok := m.crossedSide(e, a, b)
		if !ok {
			continue
		}
		n := m.tri[t].n[i]
		u, v := m.tri[t].v[i], m.tri[n].v[m.sideOf(n, t)]
		remains := m.divides(a, b, u, v)
		if !m.divides(u, v, e[0], e[1]) || remains && !force { // not convex, or better left
			crossed = append(crossed, e)
			waiting++
			continue
		}
		m.flip(t, i)
		waiting, force = 0, false
		if remains {
			crossed = append(crossed, [2]int32{u, v})
		}
	}
}

// divides reports whether u and v lie strictly on different sides of the line
// through a and b.
func (m *net) divides(a, b, u, v int32) bool {
	ou, ov := turn(m.pts[a], m.pts[b], m.pts[u]), turn(m.pts[a], m.pts[b], m.pts[v])
	return ou < 0 && ov > 0 || ou > 0 && ov < 0
}

// crossedSide finds a side if it still crosses the line a-b.
func (m *net) crossedSide(e [2]int32, a, b int32) (t int32, side int, ok bool) {
	if !m.divides(a, b, e[0], e[1]) {
		return 0, 0, false
	}
	if e[0] < corners { // they have no full circle of triangles
		e[0], e[1] = e[1], e[0]
	}
	return m.find(e[0], e[1])
}

// find returns the triangle on the left of the side from u, which is no corner of
// the frame, to v, and which of its sides that is.
func (m *net) find(u, v int32) (t int32, side int, ok bool) {
	start := m.at[u]
	for t := start; ; {
		i := m.cornerOf(t, u)
		if m.tri[t].v[(i+1)%3] == v {
			return t, (i + 2) % 3, true
		}
		if t = m.tri[t].n[(i+1)%3]; t == start {
			return 0, 0, false
		}
	}
}

// connect forces the outline edge from point a to point b into the net without a
// new point. Where points lie on the edge, within the rounding of coordinates, it
// becomes a chain through them; the chain is returned without a.
func (m *net) connect(a, b int32, l laid, rounding float64) ([]int32, error) {
	var chain []int32
	c := course{m.pts[a], m.pts[b], rounding}
	for a != b {
		s, ok := m.next(c, a, b)
		switch {
		case !ok || len(chain) > len(m.pts):
			return nil, CrossedError{m.pts[a]} // points closer together than rounding
		case s.to < 0:
			return nil, CrossedError{lineCrossing(m.pts[a], m.pts[b], m.pts[s.wall[0]], m.pts[s.wall[1]])}
		}
		m.clear(s.crossed, a, s.to)
		if _, _, ok := m.find(a, s.to); !ok {
			return nil, CrossedError{m.pts[s.to]}
		}
		m.fix(a, s.to, l)
		chain = append(chain, s.to)
		a = s.to
	}
	return chain, nil
}

// CrossedError is an outline that crosses itself or another one.
type CrossedError struct{ At r2.Vec }

func (e CrossedError) Error() string {
	return fmt.Sprintf("outlines cross near (%.6g, %.6g) mm in the plane", e.At.X, e.At.Y)
}

// lineCrossing returns where the lines a-b and c-d meet, or the middle of c-d
// when they are parallel.
func lineCrossing(a, b, c, d r2.Vec) r2.Vec {
	ab, cd := r2.Sub(b, a), r2.Sub(d, c)
	den := r2.Cross(ab, cd)
	if den == 0 {
		return r2.Scale(0.5, r2.Add(c, d))
	}
	return r2.Add(c, r2.Scale(r2.Cross(r2.Sub(c, a), ab)/den, cd))
}

var errTangled = errors.New("the outlines cross too often to be told apart: check the mesh for self-intersections")

// segment is a piece of an outline still to be put in.
type segment struct {
	a, b int32
	l    laid
}

// addOutline makes the straight line from a to b a row of fixed sides. Points
// on the line divide it, and so does every fixed side that it crosses, at a new
// grid point nearest to the crossing.
func (m *net) addOutline(a, b int32, l laid) error {
	todo := []segment{{a, b, l}}
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
		way, ok := m.next(course{m.pts[s.a], m.pts[s.b], -1}, s.a, s.b)
		switch {
		case !ok:
			return errTangled
		case way.to < 0:
			todo = append(todo, m.divide(s, way.wall[0], way.wall[1])...)
		default:
			m.clear(way.crossed, s.a, way.to)
			m.fixNet(s.a, way.to, s.l)
			todo = append(todo, segment{way.to, s.b, s.l})
		}
	}
	return nil
}

// fixNet is fix, but a side along which as many outlines run back is free again.
func (m *net) fixNet(a, b int32, l laid) {
	m.fix(a, b, l)
	if e := between(a, b); m.fixed[e] == (laid{}) {
		delete(m.fixed, e)
	}
}

// divide cuts the segment and the fixed side p-q where they cross.
func (m *net) divide(s segment, p, q int32) []segment {
	l, _ := m.forget(p, q)
	a, b := m.pts[s.a], m.pts[s.b]
	u, v := turn(a, b, m.pts[p]), turn(a, b, m.pts[q])
	f := u / (u - v)
	from, to := m.pts[p], m.pts[q]
	x := m.insert(r2.Vec{X: round(from.X + f*(to.X-from.X)), Y: round(from.Y + f*(to.Y-from.Y))}, m.at[p])
	return []segment{{s.a, x, s.l}, {x, s.b, s.l}, {p, x, l}, {x, q, l}}
}
