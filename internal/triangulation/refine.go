package triangulation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// The bounds of refinement. Triangles keep angles above about 20 degrees
// (Ruppert's bound, circumradius over shortest side at most sqrt 2) wherever
// the outlines allow it.
const (
	worstShape = math.Sqrt2
	oversize   = 1.5 // triangle side over the wished side
	shortest   = 64  // steps; a side below is never divided
)

// Refine puts in points until no triangle is ill shaped or larger than the
// wish at its corners; wish holds the wanted side at each point, in the unit of
// the loops. It stops early at the limit of points and reports whether it
// finished.
func (d *Domain) Refine(wish []float64, limit int) bool {
	r := refinement{Domain: d, limit: limit}
	d.m.size = d.m.size[:0]
	for _, w := range wish {
		d.m.size = append(d.m.size, w/d.grid.step)
	}
	for t := range d.m.tri {
		d.m.fresh = append(d.m.fresh, int32(t))
	}
	d.m.watch = true
	done := r.run()
	d.m.watch, d.m.fresh = false, d.m.fresh[:0]
	return done
}

// refinement is one run of Refine. Both queues hold what once was to be done;
// an entry that no longer matches the triangulation is dropped, since the
// triangles that took its place were looked at themselves.
type refinement struct {
	*Domain
	limit  int
	short  []subside
	bad    []badTriangle
	cavity []int32
	seen   map[int32]bool
}

type subside struct{ t, a, b int32 }

type badTriangle struct {
	t int32
	v [3]int32
}

func (r *refinement) run() bool {
	r.seen = map[int32]bool{}
	for head := 0; ; {
		r.look()
		if len(r.m.pts) >= r.limit {
			return false
		}
		if n := len(r.short); n > 0 {
			s := r.short[n-1]
			r.short = r.short[:n-1]
			if i := r.outlineSide(s); i >= 0 {
				r.halve(s.t, i)
			}
			continue
		}
		if head == len(r.bad) {
			return true
		}
		b := r.bad[head]
		head++
		if r.m.tri[b.t].v == b.v && r.isBad(b.t) {
			r.improve(b)
		}
	}
}

// look sorts the triangles that changed into the queues.
func (r *refinement) look() {
	for _, t := range r.m.fresh {
		for i := range 3 {
			if r.m.tri[t].n[i] < 0 && dot(r.m.corner(t, i), r.m.corner(t, i+1), r.m.corner(t, i+2)) < 0 {
				r.short = append(r.short, r.subside(t, i))
			}
		}
		if r.isBad(t) {
			r.bad = append(r.bad, badTriangle{t, r.m.tri[t].v})
		}
	}
	r.m.fresh = r.m.fresh[:0]
}

func (r *refinement) subside(t int32, i int) subside {
	v := r.m.tri[t].v
	return subside{t, v[(i+1)%3], v[(i+2)%3]}
}

// outlineSide finds the side again, or returns -1.
func (r *refinement) outlineSide(s subside) int {
	for i := range 3 {
		if r.m.tri[s.t].n[i] < 0 && r.subside(s.t, i) == s {
			return i
		}
	}
	return -1
}

// isBad reports whether triangle t is too large or, where it may be mended, too
// flat.
func (r *refinement) isBad(t int32) bool {
	v := r.m.tri[t].v
	a, b, c := r.m.pts[v[0]], r.m.pts[v[1]], r.m.pts[v[2]]
	sides := [3]float64{distance(b, c), distance(c, a), distance(a, b)}
	k := 0
	for i := 1; i < 3; i++ {
		if sides[i] < sides[k] {
			k = i
		}
	}
	if sides[k] < shortest {
		return false
	}
	radius := sides[0] * sides[1] * sides[2] / (2 * math.Abs(turn(a, b, c)))
	if radius*math.Sqrt(3) > oversize/3*(r.m.size[v[0]]+r.m.size[v[1]]+r.m.size[v[2]]) {
		return true
	}
	return radius > worstShape*sides[k] && !r.forced(v[(k+1)%3], v[(k+2)%3])
}

// forced reports whether two points lie on two sides of the outlines that meet
// at a small angle, as far from it: the triangle on them is as good as the
// outlines allow.
func (r *refinement) forced(u, v int32) bool {
	s, t := r.side[u], r.side[v]
	if s < 0 || t < 0 || s == t {
		return false
	}
	for _, apex := range []int32{r.sides[s].a, r.sides[s].b} {
		if (apex == r.sides[t].a || apex == r.sides[t].b) && r.sharp(apex) {
			du, dv := distance(r.m.pts[u], r.m.pts[apex]), distance(r.m.pts[v], r.m.pts[apex])
			return math.Abs(du-dv) < 1e-3*max(du, dv)
		}
	}
	return false
}

// sharp reports whether the outlines meet at less than 60 degrees at v.
func (r *refinement) sharp(v int32) bool {
	return int(v) < len(r.angle) && r.angle[v] > 0 && r.angle[v] < math.Pi/3
}

// halve divides a side of the outlines. One that ends in a sharp corner is cut
// at a power of two from it, so that its neighbour is cut as far out.
func (r *refinement) halve(t int32, i int) bool {
	v := r.m.tri[t].v
	c, a, b := v[i], v[(i+1)%3], v[(i+2)%3]
	length := distance(r.m.pts[a], r.m.pts[b])
	if length < 2*shortest {
		return false
	}
	f := 0.5
	if r.sharp(a) != r.sharp(b) {
		f = math.Exp2(math.Round(math.Log2(length/2))) / length
		if r.sharp(b) {
			f = 1 - f
		}
	}
	from, to := r.m.pts[a], r.m.pts[b]
	p := r2.Vec{X: round(from.X + f*(to.X-from.X)), Y: round(from.Y + f*(to.Y-from.Y))}
	if turn(r.m.pts[a], p, r.m.pts[c]) <= 0 || turn(p, r.m.pts[b], r.m.pts[c]) <= 0 {
		return false
	}
	n := r.put(p, (1-f)*r.m.size[a]+f*r.m.size[b], -1-r.m.tri[t].n[i])
	r.m.splitSide(t, i, n)
	return true
}

// put adds a point with its wished side and the side of the outlines it is on.
func (r *refinement) put(p r2.Vec, size float64, side int32) int32 {
	r.m.size = append(r.m.size, size)
	r.side = append(r.side, side)
	return r.m.addPoint(p)
}

// improve puts a point at the circumcentre of a bad triangle, unless that is
// too near a side of the outlines, which is then divided instead.
func (r *refinement) improve(b badTriangle) {
	x, y, _ := circumcentre(r.m.corner(b.t, 0), r.m.corner(b.t, 1), r.m.corner(b.t, 2))
	t, blocked := r.walk(b.t, x, y)
	if t < 0 {
		return
	}
	if blocked >= 0 {
		if r.halve(t, blocked) {
			r.bad = append(r.bad, b)
		}
		return
	}
	p := r2.Vec{X: round(x), Y: round(y)}
	if near := r.encroached(t, p); len(near) > 0 {
		before := len(r.m.pts)
		for _, s := range near {
			if i := r.outlineSide(s); i >= 0 {
				r.halve(s.t, i)
			}
		}
		if len(r.m.pts) > before {
			r.bad = append(r.bad, b)
		}
		return
	}
	for i := range 3 {
		if turn(r.m.corner(t, i), r.m.corner(t, i+1), p) <= 0 {
			r.improveOnSide(t, (i+2)%3, p)
			return
		}
	}
	n := r.put(p, r.m.interpolated(r.m.tri[t].v, p), -1)
	r.m.splitInside(t, n)
}

// improveOnSide puts p on the inner side i of t, where it fell.
func (r *refinement) improveOnSide(t int32, i int, p r2.Vec) {
	n := r.m.tri[t].n[i]
	if n < 0 {
		r.halve(t, i)
		return
	}
	apex := r.m.tri[n].v[r.m.sideOf(n, t)]
	a, b := r.m.corner(t, i+1), r.m.corner(t, i+2)
	for _, c := range []float64{
		turn(a, p, r.m.corner(t, i)), turn(p, b, r.m.corner(t, i)),
		turn(b, p, r.m.pts[apex]), turn(p, a, r.m.pts[apex])} {
		if c <= 0 {
			return
		}
	}
	v := r.m.tri[t].v
	q := r.put(p, (r.m.size[v[(i+1)%3]]+r.m.size[v[(i+2)%3]])/2, -1)
	r.m.splitSide(t, i, q)
}

// interpolated is the wished side at p in the triangle with corners v.
func (m *net) interpolated(v [3]int32, p r2.Vec) float64 {
	a, b, c := m.pts[v[0]], m.pts[v[1]], m.pts[v[2]]
	wa, wb, wc := turn(b, c, p), turn(c, a, p), turn(a, b, p)
	return (wa*m.size[v[0]] + wb*m.size[v[1]] + wc*m.size[v[2]]) / (wa + wb + wc)
}

// walk goes straight from the middle of triangle t to (x, y). It returns the
// triangle reached and -1, or the triangle and side of the outlines in the way;
// -1 for the triangle when it lost its way.
func (r *refinement) walk(t int32, x, y float64) (int32, int) {
	var sx, sy float64
	for i := range 3 {
		p := r.m.corner(t, i)
		sx, sy = sx+p.X/3, sy+p.Y/3
	}
	dx, dy := x-sx, y-sy
	from := -1
	for steps := 0; steps < 10000; steps++ {
		out, any := -1, -1
		for i := range 3 {
			if i == from {
				continue
			}
			a, b := r.m.corner(t, i+1), r.m.corner(t, i+2)
			if (b.X-a.X)*(y-a.Y)-(b.Y-a.Y)*(x-a.X) >= 0 {
				continue
			}
			any = i
			if dx*(a.Y-sy)-dy*(a.X-sx) <= 0 && dx*(b.Y-sy)-dy*(b.X-sx) >= 0 {
				out = i
			}
		}
		if out < 0 {
			out = any
		}
		if out < 0 {
			return t, -1
		}
		n := r.m.tri[t].n[out]
		if n < 0 {
			return t, out
		}
		from = r.m.sideOf(n, t)
		t = n
	}
	return -1, -1
}

// encroached returns the sides of the outlines that see p in their diametral
// circle, among those around the hole that p would make in the triangulation.
func (r *refinement) encroached(t int32, p r2.Vec) []subside {
	clear(r.seen)
	r.cavity = append(r.cavity[:0], t)
	r.seen[t] = true
	var near []subside
	for k := 0; k < len(r.cavity); k++ {
		t := r.cavity[k]
		for i, n := range r.m.tri[t].n {
			if n < 0 {
				if dot(p, r.m.corner(t, i+1), r.m.corner(t, i+2)) < 0 {
					near = append(near, r.subside(t, i))
				}
				continue
			}
			if !r.seen[n] && inCircle(r.m.corner(n, 0), r.m.corner(n, 1), r.m.corner(n, 2), p) {
				r.seen[n] = true
				r.cavity = append(r.cavity, n)
			}
		}
	}
	return near
}
