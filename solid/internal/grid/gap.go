package grid

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

// Slot is a gap between two flat walls across an axis.
type Slot struct{ Lo, Hi float64 }

// Gaps are the narrow gaps of a surface.
type Gaps struct {
	Slots [3][]Slot // those between flat walls, by axis
	Loose []Crevice // the others, narrowest first
}

// Crevice is a narrow gap that no pair of grid planes follows.
type Crevice struct {
	Width     float64    // mm
	Normal    [3]float64 // of the wall where it is narrowest
	Low, High [3]float64
}

// cycled returns the surface with the axes renamed so that axis a comes last.
func (s *Surface) cycled(a int) *Surface {
	t := &Surface{Faces: s.Faces, Low: cycle(s.Low, a+1), High: cycle(s.High, a+1), Tol: s.Tol}
	t.Points = make([][3]float64, len(s.Points))
	for i, p := range s.Points {
		t.Points[i] = cycle(p, a+1)
	}
	return t
}

// cycle returns the components of p from number n on, round and round.
func cycle(p [3]float64, n int) [3]float64 { return [3]float64{p[n%3], p[(n+1)%3], p[(n+2)%3]} }

// FindGaps measures the narrow gaps of a surface.
func FindGaps(s *Surface) Gaps {
	var found Gaps
	long := 0.0
	for a := range 3 {
		long = max(long, s.High[a]-s.Low[a])
	}
	step, most := long/gapRays, long*narrow
	for a := range 3 {
		var pos [2][]float64
		for d := range 2 {
			b := (a + 1 + d) % 3
			n := max(8, int((s.High[b]-s.Low[b])/step))
			pos[d] = rayPositions([]float64{s.Low[b], s.High[b]}, n)
		}
		list := slices.DeleteFunc(gapsAlong(s, a, pos), func(g gap) bool { return g.width > most })
		pitch := [2]float64{pitchOf(pos[0]), pitchOf(pos[1])}
		list = found.takeSlots(list, a, pitch, s.Tol)
		found.takeCrevices(list, a, pos, pitch)
	}
	slices.SortStableFunc(found.Loose, func(p, q Crevice) int { return cmp.Compare(p.Width, q.Width) })
	return found
}

func pitchOf(pos []float64) float64 { return (pos[len(pos)-1] - pos[0]) / float64(len(pos)-1) }

// gapsAlong casts rays along an axis and lists the gaps they meet.
func gapsAlong(s *Surface, axis int, pos [2][]float64) []gap {
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
		c := t.Faces[f]
		return NormalOf([3][3]float64{t.Points[c[0]], t.Points[c[1]], t.Points[c[2]]})
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
			if before > 0 || winding <= 0 || left < 0 || h.at-list[left].at < narrowest*s.Tol {
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
func (f *Gaps) takeSlots(list []gap, axis int, pitch [2]float64, tol float64) (rest []gap) {
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
			f.Slots[axis] = append(f.Slots[axis], Slot{l[0].lo, l[0].hi})
		}
	}
	slices.SortFunc(f.Slots[axis], func(p, q Slot) int { return cmp.Compare(p.Hi-p.Lo, q.Hi-q.Lo) })
	return rest
}

// takeCrevices gathers the gaps on neighbouring rays.
func (f *Gaps) takeCrevices(list []gap, axis int, pos [2][]float64, pitch [2]float64) {
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
		c := Crevice{Width: together[0].width, Normal: together[0].normal}
		if !wide(together, c.Width, pitch) {
			continue
		}
		for a := range 3 {
			c.Low[a], c.High[a] = math.Inf(1), math.Inf(-1)
		}
		for _, g := range together {
			for d := range 2 {
				b := (axis + 1 + d) % 3
				c.Low[b], c.High[b] = min(c.Low[b], pos[d][g.ray[d]]-pitch[d]), max(c.High[b], pos[d][g.ray[d]]+pitch[d])
			}
			c.Low[axis], c.High[axis] = min(c.Low[axis], g.lo), max(c.High[axis], g.hi)
		}
		f.Loose = append(f.Loose, c)
	}
}
