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

// without weakens a section by its idle cells. To take them out altogether
// overrates wide openings: with p the share of the second moment that they hold,
// I exp(-p) gives a crack across half of a strip 1.19 times the flexibility of
// one in a wide plate, as K_I = s sqrt(pi a sec(pi a/w)) does (H. Tada, The
// Stress Analysis of Cracks Handbook), where 1 - p gives it 1.55 times.
func (g grid) without(e effective, full []float32, idle []bool) effective {
	nu := len(g.u) - 1
	m := [6]float64{e.Area, 0, 0, e.Iuu, e.Iuv, e.Ivv} // about the whole section's centroid
	for k, f := range full {
		if !idle[k] || f == 0 {
			continue
		}
		i, j := k%nu, k/nu
		du, dv := g.u[i+1]-g.u[i], g.v[j+1]-g.v[j]
		u, v := (g.u[i]+g.u[i+1])/2-e.U, g.mid(j)-e.V
		area := float64(f) * du * dv
		m[0] -= area
		m[1] -= area * u
		m[2] -= area * v
		m[3] -= area * (u*u + du*du/12)
		m[4] -= area * u * v
		m[5] -= area * (v*v + dv*dv/12)
	}
	u, v := 0.0, 0.0
	if m[0] > 0 {
		u, v = m[1]/m[0], m[2]/m[0]
	}
	lost := func(whole, left float64) float64 { // share
		if !(whole > 0) {
			return 0
		}
		return min(max(1-left/whole, 0), 1)
	}
	keep := func(share float64) float64 { return math.Exp(-share) }
	ku := keep(lost(e.Iuu, m[3]-max(m[0], 0)*u*u))
	kv := keep(lost(e.Ivv, m[5]-max(m[0], 0)*v*v))
	return effective{Area: e.Area * keep(lost(e.Area, m[0])), U: e.U, V: e.V,
		Iuu: e.Iuu * ku, Iuv: e.Iuv * math.Sqrt(ku*kv), Ivv: e.Ivv * kv}
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
