package beam

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"
)

// Plane sections overrate the material beside a hole or above a pocket: stress
// flows round an opening and reaches the material behind it only gradually.
// Material at the distance d from the nearest material of another cut therefore
// counts only beyond d/slope along the beam from that cut. The slopes come from
// exact solutions for small openings:
//
// Across the load. The compliance that a hole of radius a adds to a field of
// even stress is K times that of its own area, K being its stress concentration
// factor: 3 in a plane field (Kirsch) and (5+3v)/(3+v) for a thin plate that
// bends (Goodier); docs/beam.md derives both. Beyond its own area the hole thus
// shades (K-1) pi a^2: two triangles of height a/slope on its diameter, so
//
//	slope = 2/(pi (K-1)),
//
// 0.32 in a plane field and 0.80 in a thin plate. The same 1/pi follows from
// the energy of a crack, so the shape of the opening matters little.
//
// Along the load. A crack on the neutral axis, in a field that grows linearly
// from it, releases pi s'^2 a^4/(8E) (from K_I = s' a sqrt(pi a)/2); triangles
// of slope s shade s'^2 a^4/(6 s E), so slope = 4/(3 pi) = 0.42.
const depthSlope = 4 / (3 * math.Pi)

// bendingConcentration is the stress concentration factor of a hole through a
// wide plate bent across its thickness, diameter over thickness d/t: Roark's
// Formulas for Stress and Strain, table of stress concentration factors, hole
// with transverse bending, from memory. It runs from 3 to 1.79.
func bendingConcentration(dOverT float64) float64 {
	x := max(dOverT, 0)
	return 1.79 + 0.25/(0.39+x) + 0.81/(1+x*x) - 0.26/(1+x*x*x)
}

// acrossSlope is the slope across the load for an opening of width d in a
// section of depth t.
func acrossSlope(d, t float64) float64 {
	return 2 / (math.Pi * (bendingConcentration(d/t) - 1))
}

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

// shade is how far along the beam, in mm, the empty cells of a cut shade the
// material behind them.
func (g grid) shade(full []float32, ever []bool, plane int, depth float64) []float32 {
	nu, nv := len(g.u)-1, len(g.v)-1
	out := make([]float32, nu*nv)
	empty := false
	for i := range out {
		if full[i] < 0.5 && ever[i] {
			empty = true
			break
		}
	}
	if !empty {
		return nil
	}
	rows := g.rowDistance(full)
	slopeU, slopeV := g.slopes(full, ever, rows, plane, depth)
	for i := range nu {
		for j := range nv {
			k := j*nu + i
			if full[k] >= 0.5 || !ever[k] {
				continue
			}
			best := math.Inf(1)
			for m := range nv {
				d := rows[m*nu+i] / slopeU
				dv := 0.0
				if m != j { // from the middle of the cell to the edge of row m
					dv = max(g.v[m]-g.mid(j), g.mid(j)-g.v[m+1]) / slopeV
				}
				best = min(best, d*d+dv*dv)
			}
			out[k] = float32(math.Sqrt(best))
		}
	}
	return out
}

func (g grid) mid(row int) float64 { return (g.v[row] + g.v[row+1]) / 2 }

// rowDistance returns, for every cell, the distance from its middle to the
// nearest full cell of its row; 0 for full cells.
func (g grid) rowDistance(full []float32) []float64 {
	nu, nv := len(g.u)-1, len(g.v)-1
	d := make([]float64, nu*nv)
	for j := range nv {
		row := full[j*nu : (j+1)*nu]
		edge := math.Inf(-1)
		for i := range nu {
			if row[i] >= 0.5 {
				edge = g.u[i+1]
				continue
			}
			d[j*nu+i] = (g.u[i]+g.u[i+1])/2 - edge
		}
		edge = math.Inf(1)
		for i := nu - 1; i >= 0; i-- {
			if row[i] >= 0.5 {
				edge = g.u[i]
				continue
			}
			d[j*nu+i] = min(d[j*nu+i], edge-(g.u[i]+g.u[i+1])/2)
		}
	}
	return d
}

// slopes returns the slopes along the first and the second axis for the widest
// opening of a cut.
func (g grid) slopes(full []float32, ever []bool, rows []float64, plane int, depth float64) (u, v float64) {
	nu, nv := len(g.u)-1, len(g.v)-1
	widest := 0.0
	if plane == 1 { // load along v: openings are measured along u
		for k, d := range rows {
			if full[k] < 0.5 && ever[k] && !math.IsInf(d, 0) {
				widest = max(widest, 2*d)
			}
		}
		return acrossSlope(widest, depth), depthSlope
	}
	for i := range nu {
		run := 0.0
		for j := range nv {
			if k := j*nu + i; full[k] < 0.5 && ever[k] {
				run += g.v[j+1] - g.v[j]
				widest = max(widest, run)
			} else {
				run = 0
			}
		}
	}
	return depthSlope, acrossSlope(widest, depth)
}

// spread finds the part of every cut that carries stress.
func (a *analysis) spread() {
	var cuts []*cut
	for c := range a.profile.cuts() {
		cuts = append(cuts, c)
	}
	if prismatic(cuts) {
		return
	}
	g := newGrid(cuts)
	full, ever := g.fillAll(cuts)
	shades := make([][]float32, len(cuts))
	inParallel(len(cuts), func(i int) {
		depth, _ := pieceExtents(cuts[i].Region, a.plane)
		shades[i] = g.shade(full[i], ever, a.plane, depth)
	})
	idle := make([][]bool, len(cuts))
	for i := range idle {
		idle[i] = make([]bool, g.cells())
	}
	sweep := func(order func(int) int) {
		left := make([]float32, g.cells()) // of the shade, in mm
		last := cuts[order(0)].S
		for n := range cuts {
			i := order(n)
			step := float32(abs(cuts[i].S - last))
			last = cuts[i].S
			for k := range left {
				left[k] -= step
				if shades[i] != nil && shades[i][k] > left[k] {
					left[k] = shades[i][k]
				}
				if left[k] > 0 {
					idle[i][k] = true
				}
			}
		}
	}
	sweep(func(n int) int { return n })
	sweep(func(n int) int { return len(cuts) - 1 - n })
	inParallel(len(cuts), func(i int) {
		cuts[i].Eff = g.without(whole(cuts[i].Section), full[i], idle[i])
	})
	a.lag(g, cuts, full, idle)
}

func prismatic(cuts []*cut) bool {
	for _, c := range cuts {
		if !same(c.Section, cuts[0].Section) {
			return false
		}
	}
	return true
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

// without takes the idle cells out of a section.
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
	const least = 0.02 // of the section stays, whatever the rounding of cells
	if m[0] < least*e.Area {
		return effective{e.Area * least, e.U, e.V, e.Iuu * least, e.Iuv * least, e.Ivv * least}
	}
	u, v := m[1]/m[0], m[2]/m[0]
	out := effective{Area: m[0], U: e.U + u, V: e.V + v,
		Iuu: m[3] - m[0]*u*u, Iuv: m[4] - m[0]*u*v, Ivv: m[5] - m[0]*v*v}
	out.Iuu, out.Ivv = max(out.Iuu, least*e.Iuu), max(out.Ivv, least*e.Ivv)
	if limit := 0.999 * math.Sqrt(out.Iuu*out.Ivv); abs(out.Iuv) > limit {
		out.Iuv = math.Copysign(limit, out.Iuv)
	}
	return out
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
