package solid

import (
	"cmp"
	"math"
	"slices"
)

// A grid whose cells are wider than a slot would join its two walls without a
// word. The narrow gaps of a part are therefore measured with rays along each
// grid axis: air between two walls that face each other.

const (
	gapRays    = 160   // along the longest side of the box
	facing30   = 0.866 // cosine of the angle between the walls of a gap: below 30 degrees
	steepest   = 0.57  // cosine between ray and wall; every wall reaches it for one of three axes
	narrowest  = 10    // tolerances; walls nearer than that count as touching
	fewestRays = 4     // that must meet a gap
	narrow     = 0.2   // of the longest side: wider than the cells of any grid
)

// gap is the air on a ray between two walls that face each other.
type gap struct {
	axis   int
	ray    [2]int // along axis+1 and axis+2
	lo, hi float64
	width  float64 // at right angles to the walls, mm
	flat   bool    // both walls lie across the axis
	normal [3]float64
}

// slot is a gap between two flat walls across an axis.
type slot struct{ lo, hi float64 }

// gaps are the narrow gaps of a surface.
type gaps struct {
	slots [3][]slot // those between flat walls, by axis
	loose []crevice // the others, narrowest first
}

// crevice is a narrow gap that no pair of grid planes follows.
type crevice struct {
	width     float64    // mm
	normal    [3]float64 // of the wall where it is narrowest
	low, high [3]float64
}

// cycled returns the surface with the axes renamed so that axis a comes last.
func (s *surface) cycled(a int) *surface {
	t := &surface{faces: s.faces, low: cycle(s.low, a+1), high: cycle(s.high, a+1), tol: s.tol}
	t.points = make([][3]float64, len(s.points))
	for i, p := range s.points {
		t.points[i] = cycle(p, a+1)
	}
	return t
}

// cycle returns the components of p from number n on, round and round.
func cycle(p [3]float64, n int) [3]float64 { return [3]float64{p[n%3], p[(n+1)%3], p[(n+2)%3]} }

// findGaps measures the narrow gaps of a surface.
func findGaps(s *surface) gaps {
	var found gaps
	long := 0.0
	for a := range 3 {
		long = max(long, s.high[a]-s.low[a])
	}
	step, most := long/gapRays, long*narrow
	for a := range 3 {
		var pos [2][]float64
		for d := range 2 {
			b := (a + 1 + d) % 3
			n := max(8, int((s.high[b]-s.low[b])/step))
			pos[d] = rayPositions([]float64{s.low[b], s.high[b]}, n)
		}
		list := slices.DeleteFunc(gapsAlong(s, a, pos), func(g gap) bool { return g.width > most })
		pitch := [2]float64{pitchOf(pos[0]), pitchOf(pos[1])}
		list = found.takeSlots(list, a, pitch, s.tol)
		found.takeCrevices(list, a, pos, pitch)
	}
	slices.SortStableFunc(found.loose, func(p, q crevice) int { return cmp.Compare(p.width, q.width) })
	return found
}

func pitchOf(pos []float64) float64 { return (pos[len(pos)-1] - pos[0]) / float64(len(pos)-1) }

// gapsAlong casts rays along an axis and lists the gaps they meet.
func gapsAlong(s *surface, axis int, pos [2][]float64) []gap {
	t := s.cycled(axis)
	r := &rays{n: [2]int{len(pos[0]), len(pos[1])}, pos: pos}
	type hit struct {
		crossing
		face int32
	}
	hits := map[int][]hit{}
	r.scan(t, func(ray int, at float64, step int32, face int32) {
		hits[ray] = append(hits[ray], hit{crossing{at, step}, face})
	})
	normal := func(f int32) [3]float64 {
		c := t.faces[f]
		return normalOf([3][3]float64{t.points[c[0]], t.points[c[1]], t.points[c[2]]})
	}
	var out []gap
	for ray := range r.n[0] * r.n[1] {
		list := hits[ray]
		slices.SortFunc(list, func(p, q hit) int {
			return cmp.Or(cmp.Compare(p.at, q.at), cmp.Compare(q.step, p.step))
		})
		winding, left := int32(0), -1
		for i, h := range list {
			before := winding
			winding += h.step
			if before > 0 && winding <= 0 {
				left = i
			}
			if before > 0 || winding <= 0 || left < 0 || h.at-list[left].at < narrowest*s.tol {
				continue
			}
			n, m := normal(list[left].face), normal(h.face)
			across := (math.Abs(n[2]) + math.Abs(m[2])) / 2
			if n[0]*m[0]+n[1]*m[1]+n[2]*m[2] > -facing30 || across < steepest {
				continue
			}
			out = append(out, gap{
				axis: axis, ray: [2]int{ray / r.n[1], ray % r.n[1]}, lo: list[left].at, hi: h.at,
				width: (h.at - list[left].at) * across, flat: min(math.Abs(n[2]), math.Abs(m[2])) > 1-1e-7,
				normal: cycle(n, 2-axis),
			})
		}
	}
	return out
}

// wide reports whether rays that met one gap spread over more than its width both
// ways: a hole does not, for only its middle faces itself.
func wide(list []gap, width float64, pitch [2]float64) bool {
	if len(list) < fewestRays {
		return false
	}
	for d := range 2 {
		lo, hi := list[0].ray[d], list[0].ray[d]
		for _, g := range list {
			lo, hi = min(lo, g.ray[d]), max(hi, g.ray[d])
		}
		if float64(hi-lo+1)*pitch[d] < width {
			return false
		}
	}
	return true
}

// takeSlots keeps the gaps between flat walls and returns the others.
func (f *gaps) takeSlots(list []gap, axis int, pitch [2]float64, tol float64) (rest []gap) {
	between := map[[2]int64][]gap{}
	var order [][2]int64
	for _, g := range list {
		if !g.flat {
			rest = append(rest, g)
			continue
		}
		key := [2]int64{int64(math.Round(g.lo / (4 * tol))), int64(math.Round(g.hi / (4 * tol)))}
		if between[key] == nil {
			order = append(order, key)
		}
		between[key] = append(between[key], g)
	}
	for _, key := range order {
		if l := between[key]; wide(l, l[0].width, pitch) {
			f.slots[axis] = append(f.slots[axis], slot{l[0].lo, l[0].hi})
		}
	}
	slices.SortFunc(f.slots[axis], func(p, q slot) int { return cmp.Compare(p.hi-p.lo, q.hi-q.lo) })
	return rest
}

// takeCrevices gathers the gaps on neighbouring rays.
func (f *gaps) takeCrevices(list []gap, axis int, pos [2][]float64, pitch [2]float64) {
	at := map[[2]int][]int{}
	for i, g := range list {
		at[g.ray] = append(at[g.ray], i)
	}
	seen := make([]bool, len(list))
	slack := 1.5 * max(pitch[0], pitch[1]) // by which a slanted gap moves on from ray to ray
	for i := range list {
		if seen[i] {
			continue
		}
		seen[i] = true
		together := []gap{list[i]}
		for n := 0; n < len(together); n++ {
			g := together[n]
			for p := g.ray[0] - 1; p <= g.ray[0]+1; p++ {
				for q := g.ray[1] - 1; q <= g.ray[1]+1; q++ {
					for _, o := range at[[2]int{p, q}] {
						if h := list[o]; !seen[o] && h.lo-slack <= g.hi && h.hi+slack >= g.lo {
							seen[o] = true
							together = append(together, h)
						}
					}
				}
			}
		}
		slices.SortStableFunc(together, func(p, q gap) int { return cmp.Compare(p.width, q.width) })
		c := crevice{width: together[0].width, normal: together[0].normal}
		if !wide(together, c.width, pitch) {
			continue
		}
		for a := range 3 {
			c.low[a], c.high[a] = math.Inf(1), math.Inf(-1)
		}
		for _, g := range together {
			for d := range 2 {
				b := (axis + 1 + d) % 3
				c.low[b], c.high[b] = min(c.low[b], pos[d][g.ray[d]]-pitch[d]), max(c.high[b], pos[d][g.ray[d]]+pitch[d])
			}
			c.low[axis], c.high[axis] = min(c.low[axis], g.lo), max(c.high[axis], g.hi)
		}
		f.loose = append(f.loose, c)
	}
}
