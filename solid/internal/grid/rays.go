package grid

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// crossing is a place where a ray along axis 2 meets the surface: the height
// in mm and +1 where the ray goes into the solid, -1 where it leaves it.
type crossing struct {
	at   float64
	step int32
}

// rays is a bundle of lines along axis 2 through the middles of a rectangular
// pattern, and the intervals of each inside the solid.
type rays struct {
	n     [2]int       // count along axis 0 and axis 1
	pos   [2][]float64 // where they stand, mm
	first []int32      // first interval of ray i*n[1]+j; one more entry at the end
	in    [][2]float64 // intervals inside the solid, mm
}

// castRays finds the intervals of every ray inside the solid. Inside is where
// the surface winds around at least once, so that overlapping shells count
// once.
func castRays(s *Surface, pos [2][]float64) *rays {
	r := &rays{n: [2]int{len(pos[0]), len(pos[1])}, pos: pos}
	count := make([]int32, r.n[0]*r.n[1]+1)
	type met struct {
		ray int32
		crossing
	}
	all := make([]met, 0, 2*len(count)) // most rays go in and out once
	r.scan(s, func(ray int, at float64, step, _ int32) {
		count[ray+1]++
		all = append(all, met{int32(ray), crossing{at, step}})
	})
	for i := 1; i < len(count); i++ {
		count[i] += count[i-1]
	}
	hits := make([]crossing, len(all))
	fill := slices.Clone(count)
	for _, m := range all {
		hits[fill[m.ray]] = m.crossing
		fill[m.ray]++
	}
	r.first = make([]int32, len(count))
	for ray := range r.n[0] * r.n[1] {
		r.first[ray] = int32(len(r.in))
		r.in = appendInside(r.in, hits[count[ray]:count[ray+1]])
	}
	r.first[len(r.first)-1] = int32(len(r.in))
	return r
}

// appendInside turns the crossings of one ray into intervals with winding
// number above zero.
func appendInside(in [][2]float64, hits []crossing) [][2]float64 {
	slices.SortFunc(hits, func(a, b crossing) int {
		if c := cmp.Compare(a.at, b.at); c != 0 {
			return c
		}
		return cmp.Compare(b.step, a.step) // go in before going out
	})
	winding, start := int32(0), 0.0
	for _, h := range hits {
		before := winding
		winding += h.step
		switch {
		case before <= 0 && winding > 0:
			start = h.at
		case before > 0 && winding <= 0 && h.at > start:
			in = append(in, [2]float64{start, h.at})
		}
	}
	return in
}

// inside returns the intervals of ray (i, j).
func (r *rays) inside(i, j int) [][2]float64 {
	k := i*r.n[1] + j
	return r.in[r.first[k]:r.first[k+1]]
}

// scan calls hit for every crossing of every ray with every face.
func (r *rays) scan(s *Surface, hit func(ray int, at float64, step, face int32)) {
	for n, f := range s.Faces {
		a, b, c := s.Points[f[0]], s.Points[f[1]], s.Points[f[2]]
		area := (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
		if area == 0 {
			continue
		}
		step := int32(-1) // an upward face is where an upward ray leaves
		if area < 0 {
			step = 1
		}
		ab, bc, ca := edgeOf(a, b), edgeOf(b, c), edgeOf(c, a)
		lo0, hi0 := min(a[0], b[0], c[0]), max(a[0], b[0], c[0])
		lo1, hi1 := min(a[1], b[1], c[1]), max(a[1], b[1], c[1])
		i0, _ := slices.BinarySearch(r.pos[0], lo0)
		j0, _ := slices.BinarySearch(r.pos[1], lo1)
		j1, _ := slices.BinarySearch(r.pos[1], math.Nextafter(hi1, math.Inf(1)))
		for i := i0; i < r.n[0] && r.pos[0][i] <= hi0; i++ {
			x := r.pos[0][i]
			j, end := j0, j1
			for _, e := range [3]edge{ab, bc, ca} {
				j, end = e.within(x, r.pos[1], j, end, area > 0)
			}
			for ; j < end; j++ {
				y := r.pos[1][j]
				u := ((b[0]-x)*(c[1]-y) - (b[1]-y)*(c[0]-x)) / area
				v := ((c[0]-x)*(a[1]-y) - (c[1]-y)*(a[0]-x)) / area
				hit(i*r.n[1]+j, u*a[2]+v*b[2]+(1-u-v)*c[2], step, int32(n))
			}
		}
	}
}

// edge is a directed edge seen along axis 2. Both faces at an edge evaluate
// the very same expression, so that a ray at the edge meets exactly one.
type edge struct {
	ax, ay, dx, dy float64
	turned         bool
}

func edgeOf(a, b [3]float64) edge {
	turned := a[0] > b[0] || (a[0] == b[0] && a[1] > b[1])
	if turned {
		a, b = b, a
	}
	return edge{a[0], a[1], b[0] - a[0], b[1] - a[1], turned}
}

// left reports whether (x, y) lies on the left of the edge as the face runs.
func (e edge) left(x, y float64) bool {
	return (e.dx*(y-e.ay)-e.dy*(x-e.ax) >= 0) != e.turned
}

// rayPositions places n rays in every interval of the lines, at the middles of
// n equal parts. A shift far below any tolerance keeps them off drawn vertices.
func rayPositions(lines []float64, n int) []float64 {
	pos := make([]float64, 0, n*(len(lines)-1))
	for i := 1; i < len(lines); i++ {
		h := lines[i] - lines[i-1]
		for s := range n {
			off := 1e-7 * math.Sin(float64(1+s+n*i))
			pos = append(pos, lines[i-1]+h*((float64(s)+0.5)/float64(n)+off))
		}
	}
	return pos
}

// within narrows the rays j to end-1 of a row at x to those on one side of the edge.
// Along a row the side changes once, where it does: a product with one and the same number
// grows or falls with y even after it is rounded. So the change is searched by halves.
func (e edge) within(x float64, y []float64, j, end int, left bool) (int, int) {
	if j >= end {
		return j, j
	}
	first, last := e.left(x, y[j]) == left, e.left(x, y[end-1]) == left
	switch {
	case first && last:
		return j, end
	case !first && !last:
		return j, j
	}
	change := j + sort.Search(end-j, func(k int) bool { return (e.left(x, y[j+k]) == left) != first })
	if first {
		return j, change
	}
	return change, end
}
