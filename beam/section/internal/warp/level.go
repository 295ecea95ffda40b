package warp

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/section/internal/condense"
	"swapworth/internal/triangulation"
)

// level is one triangulation of a piece with its cubic nodes, in coordinates
// from the centroid divided by a length that makes the area one.
type level struct {
	shapes []shape
	node   [][nodes]int32
	beyond [][3]int32
	total  int
	center r2.Vec  // mm, the centroid
	unit   float64 // mm, the square root of the area
	ixx    float64 // of the area one about its centroid
	iyy    float64
	ixy    float64
	loop   []int32   // the outline that a node is on, -1 inside
	holes  []float64 // enclosed areas of the loops; the outer loop's is below zero
}

func newLevel(d *triangulation.Domain) *level {
	l := &level{}
	n := d.Triangles()
	l.shapes, l.node, l.beyond = make([]shape, n), make([][nodes]int32, n), make([][3]int32, n)
	corners := make([][3]int32, n)
	for t := range n {
		corners[t], l.beyond[t] = d.Triangle(t)
	}
	pts := l.normalised(d, corners)
	for t, v := range corners {
		l.shapes[t] = shapeOf(
			[3]float64{pts[v[0]].X, pts[v[1]].X, pts[v[2]].X},
			[3]float64{pts[v[0]].Y, pts[v[1]].Y, pts[v[2]].Y})
	}
	l.second()
	l.number(corners, len(pts))
	l.trace(corners, pts)
	return l
}

// normalised finds the centroid and the area and moves the points.
func (l *level) normalised(d *triangulation.Domain, corners [][3]int32) []r2.Vec {
	pts := make([]r2.Vec, d.Points())
	origin := d.Point(0)
	for i := range pts {
		pts[i] = r2.Sub(d.Point(i), origin)
	}
	var area float64
	var sum r2.Vec
	for _, v := range corners {
		a, b, c := pts[v[0]], pts[v[1]], pts[v[2]]
		w := r2.Cross(r2.Sub(b, a), r2.Sub(c, a)) / 2
		area += w
		sum = r2.Add(sum, r2.Scale(w/3, r2.Add(a, r2.Add(b, c))))
	}
	mid := r2.Scale(1/area, sum)
	l.unit = math.Sqrt(area)
	l.center = r2.Add(origin, mid)
	for i := range pts {
		pts[i] = r2.Scale(1/l.unit, r2.Sub(pts[i], mid))
	}
	return pts
}

// second sums the second moments.
func (l *level) second() {
	for i := range l.shapes {
		s := &l.shapes[i]
		for a := range 3 {
			for b := range 3 {
				w := s.area / 12
				if a == b {
					w *= 2
				}
				l.ixx += w * s.y[a] * s.y[b]
				l.iyy += w * s.x[a] * s.x[b]
				l.ixy += w * s.x[a] * s.y[b]
			}
		}
	}
}

// number gives the nodes their indices: corners, then two a side from the
// corner with the smaller index on, then centres.
func (l *level) number(corners [][3]int32, points int) {
	next := int32(points)
	for t, v := range corners {
		copy(l.node[t][:3], v[:])
		for i := range 3 {
			if n := l.beyond[t][i]; n >= 0 && int(n) < t {
				j := 0
				for l.beyond[n][j] != int32(t) {
					j++
				}
				l.node[t][3+2*i], l.node[t][4+2*i] = l.node[n][4+2*j], l.node[n][3+2*j]
				continue
			}
			l.node[t][3+2*i], l.node[t][4+2*i] = next, next+1
			next += 2
		}
		l.node[t][9] = next
		next++
	}
	l.total = int(next)
}

// trace follows the outlines and gives each node on one the number of its
// loop. The loop that encloses the piece has the area on its left.
func (l *level) trace(corners [][3]int32, pts []r2.Vec) {
	l.loop = make([]int32, l.total)
	for i := range l.loop {
		l.loop[i] = -1
	}
	type side struct{ to, t, i int32 }
	next := map[int32]side{}
	var starts []int32
	for t, v := range corners {
		for i := range 3 {
			if l.beyond[t][i] < 0 {
				a := v[(i+1)%3]
				next[a] = side{v[(i+2)%3], int32(t), int32(i)}
				starts = append(starts, a)
			}
		}
	}
	for _, a := range starts {
		if l.loop[a] >= 0 {
			continue
		}
		k := int32(len(l.holes))
		var twice float64
		for l.loop[a] < 0 {
			s := next[a]
			l.loop[a] = k
			l.loop[l.node[s.t][3+2*s.i]], l.loop[l.node[s.t][4+2*s.i]] = k, k
			twice += r2.Cross(pts[a], pts[s.to])
			a = s.to
		}
		l.holes = append(l.holes, -twice/2)
	}
}

// values returns the ten values of a field on triangle t.
func (l *level) values(u []float64, t int) (out [nodes]float64) {
	for i, n := range l.node[t] {
		out[i] = u[n]
	}
	return out
}

func (l *level) system(unknown func(node int32) int32, total int, loads [][]float64) *condense.System {
	s := &condense.System{
		Size: nodes, Total: total, Loads: loads,
		Unknowns:  make([]int32, 0, nodes*len(l.node)),
		Centers:   make([]r2.Vec, len(l.shapes)),
		Stiffness: func(e int, k []float64) { l.shapes[e].stiffness(k) },
	}
	for t := range l.node {
		for _, n := range l.node[t] {
			s.Unknowns = append(s.Unknowns, unknown(n))
		}
		s.Centers[t].X, s.Centers[t].Y = l.shapes[t].point([3]float64{1. / 3, 1. / 3, 1. / 3})
	}
	return s
}
