package beam

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"
)

// grid divides the rectangle that holds every cut into cells with lines on the
// walls that run along the beam.
type grid struct{ u, v []float64 } // mm, ascending lines

func (g grid) cells() int { return (len(g.u) - 1) * (len(g.v) - 1) }

// gridCells is the number of cells along the longer side.
const gridCells = 80

// newGrid collects the straight walls of all cuts.
func newGrid(cuts []*cut) grid {
	lo, hi := cuts[0].Section.Low, cuts[0].Section.High
	for _, c := range cuts {
		lo = r2.Vec{X: min(lo.X, c.Section.Low.X), Y: min(lo.Y, c.Section.Low.Y)}
		hi = r2.Vec{X: max(hi.X, c.Section.High.X), Y: max(hi.Y, c.Section.High.Y)}
	}
	size := max(hi.X-lo.X, hi.Y-lo.Y) / gridCells
	wall := func(level func(r2.Vec) float64, along func(r2.Vec) float64, lo, hi float64) []float64 {
		weight := map[int]float64{}
		for _, c := range cuts {
			for _, p := range c.Region {
				for _, loop := range p.Loops() {
					for i, a := range loop {
						b := loop[(i+1)%len(loop)]
						if abs(level(a)-level(b)) < 1e-6*(hi-lo) {
							weight[int(math.Round((level(a)-lo)/(hi-lo)*1e5))] += abs(along(a)-along(b)) * c.Weight
						}
					}
				}
			}
		}
		return gridLines(weight, lo, hi, size)
	}
	x := func(p r2.Vec) float64 { return p.X }
	y := func(p r2.Vec) float64 { return p.Y }
	return grid{u: wall(x, y, lo.X, hi.X), v: wall(y, x, lo.Y, hi.Y)}
}

// gridLines puts lines on the weightiest walls and fills up evenly between.
func gridLines(weight map[int]float64, lo, hi, size float64) []float64 {
	type wall struct {
		at     int
		weight float64
	}
	var walls []wall
	for at, w := range weight {
		walls = append(walls, wall{at, w})
	}
	slices.SortFunc(walls, func(a, b wall) int {
		if a.weight != b.weight {
			if a.weight > b.weight {
				return -1
			}
			return 1
		}
		return a.at - b.at
	})
	lines := []float64{lo, hi}
	for _, w := range walls[:min(len(walls), 16)] {
		x := lo + (hi-lo)*float64(w.at)/1e5
		if !slices.ContainsFunc(lines, func(y float64) bool { return abs(x-y) < size/4 }) {
			lines = append(lines, x)
		}
	}
	slices.Sort(lines)
	least := min(size, (hi-lo)/8)
	var all []float64
	for i := 0; i+1 < len(lines); i++ {
		n := max(1, int(math.Ceil((lines[i+1]-lines[i])/least-1e-9)))
		for k := range n {
			all = append(all, lines[i]+(lines[i+1]-lines[i])*float64(k)/float64(n))
		}
	}
	return append(all, hi)
}

// fill returns the covered share of every cell, row by row: exact along the
// first axis, sampled at mid-height along the second.
func (g grid) fill(c *cut) []float32 {
	nu, nv := len(g.u)-1, len(g.v)-1
	out := make([]float32, nu*nv)
	var xs []float64
	for j := range nv {
		t := (g.v[j] + g.v[j+1]) / 2
		xs = xs[:0]
		for _, p := range c.Region {
			xs = crossings(xs, p.Outer, t)
			for _, h := range p.Holes {
				xs = crossings(xs, h, t)
			}
		}
		slices.Sort(xs)
		for k := 0; k+1 < len(xs); k += 2 {
			g.cover(out[j*nu:(j+1)*nu], xs[k], xs[k+1])
		}
	}
	return out
}

func crossings(xs []float64, loop []r2.Vec, t float64) []float64 {
	a := loop[len(loop)-1]
	for _, b := range loop {
		if (a.Y > t) != (b.Y > t) {
			xs = append(xs, a.X+(b.X-a.X)*(t-a.Y)/(b.Y-a.Y))
		}
		a = b
	}
	return xs
}

func (g grid) cover(row []float32, from, to float64) {
	i, _ := slices.BinarySearch(g.u, from)
	for i = max(i-1, 0); i < len(row) && g.u[i] < to; i++ {
		part := min(to, g.u[i+1]) - max(from, g.u[i])
		if part > 0 {
			row[i] += float32(part / (g.u[i+1] - g.u[i]))
		}
	}
}

func (g grid) fillAll(cuts []*cut) (full [][]float32, ever []bool) {
	full = make([][]float32, len(cuts))
	inParallel(len(cuts), func(i int) { full[i] = g.fill(cuts[i]) })
	ever = make([]bool, g.cells())
	for _, f := range full {
		for k, x := range f {
			if x >= 0.5 {
				ever[k] = true
			}
		}
	}
	return full, ever
}

// without weakens a section by its idle cells. Those above or below material
// that works are taken out. Strips that are idle over the whole depth weaken it
// less: with p the share of the second moment that they hold, I exp(-p) gives a
// crack across half of a strip 1.19 times the flexibility of one in a wide
// plate, as K_I = s sqrt(pi a sec(pi a/w)) does (H. Tada, The Stress Analysis of
// Cracks Handbook); taking them out, 1 - p, would give it 1.55 times.
func (g grid) without(e effective, full []float32, idle []bool, plane int) effective {
	through := g.idleThrough(full, idle, plane)
	left, strips := newAreaSum(e), newAreaSum(effective{})
	for k, f := range full {
		switch {
		case !idle[k] || f == 0:
		case through[k]:
			strips.add(g, k, float64(f), e)
		default:
			left.add(g, k, -float64(f), e)
		}
	}
	uu, uv, vv := left.central()
	keep := func(part, whole float64) float64 {
		if !(whole > 0) {
			return 1
		}
		return math.Exp(-min(max(part/whole, 0), 1))
	}
	const least = 0.02 // stays, whatever the rounding of cells
	ku, kv := keep(strips.uu, uu), keep(strips.vv, vv)
	out := effective{Area: max(left.area, least*e.Area) * keep(strips.area, left.area), U: e.U, V: e.V,
		Iuu: max(uu*ku, least*e.Iuu), Iuv: uv * math.Sqrt(ku*kv), Ivv: max(vv*kv, least*e.Ivv)}
	if limit := 0.999 * math.Sqrt(out.Iuu*out.Ivv); abs(out.Iuv) > limit && abs(e.Iuv) < limit {
		out.Iuv = math.Copysign(limit, out.Iuv)
	}
	return out
}

// idleThrough marks the cells of columns along the load in which no material
// works.
func (g grid) idleThrough(full []float32, idle []bool, plane int) []bool {
	nu, nv := len(g.u)-1, len(g.v)-1
	works := make([]bool, max(nu, nv))
	column := func(k int) int {
		if plane == 1 {
			return k % nu
		}
		return k / nu
	}
	for k, f := range full {
		if f >= 0.5 && !idle[k] {
			works[column(k)] = true
		}
	}
	out := make([]bool, len(full))
	for k := range out {
		out[k] = !works[column(k)]
	}
	return out
}

// areaSum holds integrals over a section about a fixed point: of 1, u, v, u^2,
// u v and v^2.
type areaSum struct{ area, u, v, uu, uv, vv float64 }

func newAreaSum(e effective) areaSum {
	return areaSum{area: e.Area, uu: e.Iuu, uv: e.Iuv, vv: e.Ivv}
}

// add counts a cell, share times, about the centroid of e.
func (s *areaSum) add(g grid, k int, share float64, e effective) {
	i, j := k%(len(g.u)-1), k/(len(g.u)-1)
	du, dv := g.u[i+1]-g.u[i], g.v[j+1]-g.v[j]
	u, v := (g.u[i]+g.u[i+1])/2-e.U, g.mid(j)-e.V
	a := share * du * dv
	s.area += a
	s.u += a * u
	s.v += a * v
	s.uu += a * (u*u + du*du/12)
	s.uv += a * u * v
	s.vv += a * (v*v + dv*dv/12)
}

// central returns the second moments about the sum's own centroid.
func (s *areaSum) central() (uu, uv, vv float64) {
	if !(s.area > 0) {
		return 0, 0, 0
	}
	u, v := s.u/s.area, s.v/s.area
	return s.uu - s.area*u*u, s.uv - s.area*u*v, s.vv - s.area*v*v
}

// shearLoss returns the share of the energy of shear, by the elementary theory,
// that lies in idle cells.
func (g grid) shearLoss(full []float32, idle []bool, plane int) float64 {
	across, along := g.u, g.v
	nu := len(g.u) - 1
	at := func(i, j int) int { return j*nu + i }
	if plane == 0 {
		across, along = g.v, g.u
		at = func(i, j int) int { return i*nu + j }
	}
	n := len(along) - 1
	width, lazy := make([]float64, n), make([]float64, n)
	var area, first float64
	for j := range n {
		for i := range len(across) - 1 {
			w := float64(full[at(i, j)]) * (across[i+1] - across[i])
			width[j] += w
			if idle[at(i, j)] {
				lazy[j] += w
			}
		}
		area += width[j] * (along[j+1] - along[j])
		first += width[j] * (along[j+1] - along[j]) * (along[j] + along[j+1]) / 2
	}
	if !(area > 0) {
		return 0
	}
	var q, energy, lost float64
	for j := range n {
		step, mid := along[j+1]-along[j], (along[j]+along[j+1])/2
		part := width[j] * step * (mid - first/area)
		if width[j] > 0 {
			e := (q + part/2) * (q + part/2) / width[j] * step
			energy += e
			lost += e * lazy[j] / width[j]
		}
		q += part
	}
	if !(energy > 0) {
		return 0
	}
	return lost / energy
}

// inParallel runs do for every index, on two cores.
func inParallel(n int, do func(i int)) {
	var wait sync.WaitGroup
	for worker := range 2 {
		wait.Go(func() {
			for i := worker; i < n; i += 2 {
				do(i)
			}
		})
	}
	wait.Wait()
}
