package triangulation

import (
	"math"
	"math/rand/v2"
	"swapworth/internal/triangle"

	"gonum.org/v1/gonum/spatial/r2"
)

// connect forces the outline edge from point a to point b into the
// triangulation, for one of the two sets of outlines. Where points lie on the
// edge, within the rounding of coordinates, it becomes a chain through them; the
// chain is returned without a.
func (d *delaunay) connect(a, b int32, set int) ([]int32, error) {
	var chain []int32
	c := course{d.points[a], d.points[b], d.rounding}
	for a != b {
		f, i, next := d.towards(c, a, b)
		if next < 0 && f < 0 || len(chain) > len(d.points) {
			return nil, CrossedError{d.points[a]} // points closer together than rounding
		}
		if next < 0 {
			crossed, target, err := d.crossedEdges(c, f, i, a, b)
			if err != nil {
				return nil, err
			}
			d.clear(crossed, a, target)
			next = target
		}
		if !d.raise(a, next, set) {
			return nil, CrossedError{d.points[next]}
		}
		chain = append(chain, next)
		a = next
	}
	return chain, nil
}

// course is the straight line that an outline edge follows.
type course struct {
	from, to r2.Vec
	rounding float64 // mm
}

// before reports whether p comes before q along the course.
func (c course) before(p, q r2.Vec) bool {
	return r2.Dot(r2.Sub(p, q), r2.Sub(c.to, c.from)) < 0
}

// Meet reports whether p lies on the course, farther along than the point
// reached so far and before the end.
func (c course) meets(p, reached r2.Vec) bool {
	way := r2.Sub(c.to, c.from)
	at := r2.Dot(r2.Sub(p, c.from), way)
	if at <= r2.Dot(r2.Sub(reached, c.from), way) || at >= r2.Norm2(way) {
		return false
	}
	return math.Abs(r2.Cross(way, r2.Sub(p, c.from))) <= c.rounding*r2.Norm(way)
}

// towards looks round point a in the direction of b. It returns either the
// point reached along an edge, or -1 with the face and a's corner in it whose
// opposite edge is crossed.
func (d *delaunay) towards(c course, a, b int32) (face int32, corner int, reached int32) {
	pa, pb := d.points[a], d.points[b]
	face, reached = -1, -1
	first := d.at[a]
	for f := first; ; {
		i := d.cornerOf(f, a)
		p, q := d.faces[f].corner[(i+1)%3], d.faces[f].corner[(i+2)%3]
		turn := triangle.Turn(pa, pb, d.points[p])
		onWay := p == b || c.meets(d.points[p], pa) || turn == 0 && r2.Dot(r2.Sub(d.points[p], pa), r2.Sub(pb, pa)) > 0
		if onWay && (reached < 0 || c.before(d.points[p], d.points[reached])) {
			reached = p
		}
		if turn < 0 && triangle.Turn(pa, pb, d.points[q]) > 0 {
			face, corner = f, i
		}
		if f = d.faces[f].across[(i+1)%3]; f == first {
			return face, corner, reached
		}
	}
}

func (d *delaunay) cornerOf(f, v int32) int {
	for i, c := range d.faces[f].corner {
		if c == v {
			return i
		}
	}
	panic("triangulation: a point of a triangulation is not where it was noted")
}

// crossedEdges lists the edges between a and the first point on the way to b,
// beginning with the one opposite corner i of face f.
func (d *delaunay) crossedEdges(c course, f int32, i int, a, b int32) ([][2]int32, int32, error) {
	var crossed [][2]int32
	for {
		p, q := d.faces[f].corner[(i+1)%3], d.faces[f].corner[(i+2)%3] // right, left
		if d.faces[f].wall[i].fixed {
			return nil, 0, CrossedError{lineCrossing(d.points[a], d.points[b], d.points[p], d.points[q])}
		}
		crossed = append(crossed, [2]int32{p, q})
		n := d.faces[f].across[i]
		r := d.faces[n].corner[d.edgeTo(n, f)]
		if r == b || c.meets(d.points[r], d.points[a]) {
			return crossed, r, nil
		}
		switch o := triangle.Turn(d.points[a], d.points[b], d.points[r]); {
		case o == 0:
			return crossed, r, nil
		case o > 0: // r is on the left: the edge p-r is next, opposite q
			i = d.cornerOf(n, q)
		default:
			i = d.cornerOf(n, p)
		}
		f = n
	}
}

// clear flips the crossed edges away from the line a-b (S. W. Sloan, A fast
// algorithm for generating constrained Delaunay triangulations, Computers &
// Structures 47, 1993). It prefers flips that take a crossing away; where none
// is at hand it flips one edge at random, so that it cannot go in circles.
func (d *delaunay) clear(crossed [][2]int32, a, b int32) {
	random := rand.New(rand.NewPCG(uint64(a), uint64(b)))
	budget := 100 * len(crossed)
	for waiting, force := 0, false; len(crossed) > 0 && budget > 0; {
		if waiting == len(crossed) {
			random.Shuffle(len(crossed), func(i, j int) { crossed[i], crossed[j] = crossed[j], crossed[i] })
			waiting, force, budget = 0, true, budget-1
		}
		e := crossed[0]
		crossed = crossed[1:]
		f, k, ok := d.crossedEdge(e, a, b)
		if !ok {
			continue
		}
		n := d.faces[f].across[k]
		u, v := d.faces[f].corner[k], d.faces[n].corner[d.edgeTo(n, f)]
		remains := d.divides(a, b, u, v)
		if !d.divides(u, v, e[0], e[1]) || remains && !force { // not convex, or better left
			crossed = append(crossed, e)
			waiting++
			continue
		}
		d.flip(f, k)
		waiting, force = 0, false
		if remains {
			crossed = append(crossed, [2]int32{u, v})
		}
	}
}

// divides reports whether u and v lie strictly on different sides of the line
// through a and b.
func (d *delaunay) divides(a, b, u, v int32) bool {
	ou := triangle.Turn(d.points[a], d.points[b], d.points[u])
	ov := triangle.Turn(d.points[a], d.points[b], d.points[v])
	return ou < 0 && ov > 0 || ou > 0 && ov < 0
}

// crossedEdge finds an edge if it still crosses the line a-b.
func (d *delaunay) crossedEdge(e [2]int32, a, b int32) (face int32, k int, ok bool) {
	if !d.divides(a, b, e[0], e[1]) {
		return 0, 0, false
	}
	if int(e[0]) >= len(d.points)-3 { // the large triangle's corners have no full circle of faces
		e[0], e[1] = e[1], e[0]
	}
	return d.edge(e[0], e[1])
}

// edge returns the face on the left of the edge from u, which is no corner of
// the large triangle, to v, and which of its edges that is.
func (d *delaunay) edge(u, v int32) (face int32, k int, ok bool) {
	start := d.at[u]
	for f := start; ; {
		i := d.cornerOf(f, u)
		if d.faces[f].corner[(i+1)%3] == v {
			return f, (i + 2) % 3, true
		}
		if f = d.faces[f].across[(i+1)%3]; f == start {
			return 0, 0, false
		}
	}
}

// raise runs an outline along the edge from u to v, if there is one. What lies
// on its left is enclosed once more than what lies on its right.
func (d *delaunay) raise(u, v int32, set int) bool {
	f, k, ok := d.edge(u, v)
	if !ok {
		return false
	}
	n := d.faces[f].across[k]
	here, there := &d.faces[f].wall[k], &d.faces[n].wall[d.edgeTo(n, f)]
	here.fixed, there.fixed = true, true
	here.jump[set]-- // Corner k+1 of face f is u, so f lies on the left
	there.jump[set]++
	return true
}

// Turns returns, for every face, how often each set of outlines turns around
// it counter-clockwise.
func (d *delaunay) turns() [][2]int16 {
	turns := make([][2]int16, len(d.faces))
	seen := make([]bool, len(d.faces))
	first := d.at[len(d.points)-1] // At a corner of the large triangle
	seen[first] = true
	stack := []int32{first}
	for len(stack) > 0 {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for k, n := range d.faces[f].across {
			if n < 0 || seen[n] {
				continue
			}
			seen[n] = true
			jump := d.faces[f].wall[k].jump
			turns[n] = [2]int16{turns[f][0] + jump[0], turns[f][1] + jump[1]}
			stack = append(stack, n)
		}
	}
	return turns
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
