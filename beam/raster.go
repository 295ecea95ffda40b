package beam

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/parallel"
)

// grid divides the rectangle that holds every cut into cells, with lines on the
// walls that run along the beam. Its cells are numbered row by row; a row runs
// across the load, a column along it.
type grid struct {
	across, along []float64 // mm, ascending lines
	plane         int       // of the load
}

func (g grid) columns() int { return len(g.across) - 1 }
func (g grid) rows() int    { return len(g.along) - 1 }
func (g grid) cells() int   { return g.columns() * g.rows() }

// orient returns a point of the section as (across, along).
func (g grid) orient(p r2.Vec) (x, y float64) {
	if g.plane == 0 {
		return p.Y, p.X
	}
	return p.X, p.Y
}

// centre returns the middle of a cell as (across, along) and its sides, in mm.
func (g grid) centre(k int) (x, y, dx, dy float64) {
	i, j := k%g.columns(), k/g.columns()
	return (g.across[i] + g.across[i+1]) / 2, g.level(j),
		g.across[i+1] - g.across[i], g.along[j+1] - g.along[j]
}

// level is the middle of a row.
func (g grid) level(row int) float64 { return (g.along[row] + g.along[row+1]) / 2 }

// gridCells is the number of cells along the longer side.
// gridRows bounds those along the load, walls apart.
const (
	gridCells = 80
	gridRows  = 32
)

// newGrid collects the straight walls of all cuts.
func newGrid(cuts []*cut, plane int) grid {
	g := grid{plane: plane}
	lo, hi := cuts[0].Section.Low, cuts[0].Section.High
	for _, c := range cuts {
		lo = r2.Vec{X: min(lo.X, c.Section.Low.X), Y: min(lo.Y, c.Section.Low.Y)}
		hi = r2.Vec{X: max(hi.X, c.Section.High.X), Y: max(hi.Y, c.Section.High.Y)}
	}
	size := max(hi.X-lo.X, hi.Y-lo.Y) / gridCells
	x0, y0 := g.orient(lo)
	x1, y1 := g.orient(hi)
	columns, rows := map[int]float64{}, map[int]float64{}
	for _, c := range cuts {
		for _, p := range c.Region {
			for _, loop := range p.Loops() {
				ax, ay := g.orient(loop[len(loop)-1])
				for _, q := range loop {
					bx, by := g.orient(q)
					countWall(columns, ax, bx, x0, x1, abs(ay-by)*c.Weight)
					countWall(rows, ay, by, y0, y1, abs(ax-bx)*c.Weight)
					ax, ay = bx, by
				}
			}
		}
	}
	g.across, g.along = gridLines(columns, x0, x1, size), gridLines(rows, y0, y1, max(size, (y1-y0)/gridRows))
	return g
}

// countWall adds the weight of an edge whose ends are at one level.
func countWall(weight map[int]float64, a, b, lo, hi, w float64) {
	if abs(a-b) < 1e-6*(hi-lo) {
		weight[int(math.Round((a-lo)/(hi-lo)*1e5))] += w
	}
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

// fill returns the covered share of every cell, from the stretches of its rows in
// material: exact across the load, sampled at the middle of each row along it.
func (g grid) fill(rows [][]float64) []float32 {
	n := g.columns()
	out := make([]float32, g.cells())
	for j, xs := range rows {
		for k := 0; k+1 < len(xs); k += 2 {
			g.cover(out[j*n:(j+1)*n], xs[k], xs[k+1])
		}
	}
	return out
}

// materialAt appends where the line at level t along the load enters and leaves
// material, in ascending order.
func (g grid) materialAt(xs []float64, c *cut, t float64) []float64 {
	for _, p := range c.Region {
		xs = g.crossings(xs, p.Outer, t)
		for _, h := range p.Holes {
			xs = g.crossings(xs, h, t)
		}
	}
	slices.Sort(xs)
	return xs
}

func (g grid) crossings(xs []float64, loop []r2.Vec, t float64) []float64 {
	ax, ay := g.orient(loop[len(loop)-1])
	for _, q := range loop {
		bx, by := g.orient(q)
		if (ay > t) != (by > t) {
			xs = append(xs, ax+(bx-ax)*(t-ay)/(by-ay))
		}
		ax, ay = bx, by
	}
	return xs
}

func (g grid) cover(row []float32, from, to float64) {
	i, _ := slices.BinarySearch(g.across, from)
	for i = max(i-1, 0); i < len(row) && g.across[i] < to; i++ {
		part := min(to, g.across[i+1]) - max(from, g.across[i])
		if part > 0 {
			row[i] += float32(part / (g.across[i+1] - g.across[i]))
		}
	}
}

// idleCells marks the cells of a cut that carry no stress.
type idleCells struct {
	grid
	full []float32
	idle []bool
}

// idle reports whether a point of the outline belongs to material that carries
// no stress: the first cell from it towards the centroid that is at least half
// full lies in the shade, or there is none near and the point is the end of a
// sliver.
func (c *cut) idle(q r2.Vec) bool {
	if c.Shade == nil {
		return false
	}
	g := c.Shade
	x, y := g.orient(q)
	cx, cy := g.orient(c.Section.Centroid)
	i, j := g.cell(x, y, cx, cy)
	for range 3 {
		k := j*g.columns() + i
		if g.full[k] >= 0.5 {
			return g.idle[k]
		}
		x0, y0, dx, dy := g.centre(k)
		toX, toY := cx-x0, cy-y0
		if abs(toX)*dy > abs(toY)*dx {
			i += sign(toX)
		} else {
			j += sign(toY)
		}
		if i < 0 || j < 0 || i >= g.columns() || j >= g.rows() {
			break
		}
	}
	return true
}

// cell returns the column and row next to a point on the side of another one.
func (g grid) cell(x, y, towardsX, towardsY float64) (i, j int) {
	next := func(lines []float64, at, to float64) int {
		k, _ := slices.BinarySearch(lines, at+1e-6*(to-at))
		return min(max(k-1, 0), len(lines)-2)
	}
	return next(g.across, x, towardsX), next(g.along, y, towardsY)
}

func sign(x float64) int {
	if x < 0 {
		return -1
	}
	return 1
}

func (g grid) fillAll(rows stretches) (full [][]float32, ever []bool) {
	full = make([][]float32, len(rows))
	inParallel(len(rows), func(i int) { full[i] = g.fill(rows[i]) })
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

// without weakens a section by its idle cells, and its slanted ones by what slant
// leaves of them. Idle cells above or below material
// that works are taken out. Strips that are idle over the whole depth weaken it
// less: with p the share of the second moment that they hold, I exp(-p) gives a
// crack across half of a strip 1.19 times the flexibility of one in a wide
// plate, as K_I = s sqrt(pi a sec(pi a/w)) does (H. Tada, The Stress Analysis of
// Cracks Handbook); taking them out, 1 - p, would give it 1.55 times.
func (g grid) without(e effective, full []float32, idle []bool, slant []float32) effective {
	through := g.idleThrough(full, idle)
	left, strips := newAreaSum(e), newAreaSum(effective{})
	for k, f := range full {
		switch {
		case f == 0:
		case !idle[k]:
			if slant != nil && slant[k] < 1 {
				left.add(g, k, -float64(f*(1-slant[k])), e)
			}
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

// idleThrough marks the cells of columns in which no material works.
func (g grid) idleThrough(full []float32, idle []bool) []bool {
	n := g.columns()
	works := make([]bool, n)
	for k, f := range full {
		if f >= 0.5 && !idle[k] {
			works[k%n] = true
		}
	}
	out := make([]bool, len(full))
	for k := range out {
		out[k] = !works[k%n]
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
	u, v, du, dv := g.centre(k)
	if g.plane == 0 {
		u, v, du, dv = v, u, dv, du
	}
	u, v = u-e.U, v-e.V
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
func (g grid) shearLoss(full []float32, idle []bool) float64 {
	width, lazy := make([]float64, g.rows()), make([]float64, g.rows())
	var area, first float64
	for k, f := range full {
		j := k / g.columns()
		_, y, dx, dy := g.centre(k)
		w := float64(f) * dx
		width[j] += w
		if idle[k] {
			lazy[j] += w
		}
		area += w * dy
		first += w * dy * y
	}
	if !(area > 0) {
		return 0
	}
	var q, energy, lost float64
	for j := range width {
		step := g.along[j+1] - g.along[j]
		part := width[j] * step * (g.level(j) - first/area)
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

// inParallel runs do for every index, on all cores.
func inParallel(n int, do func(i int)) {
	parallel.Chunks(n, 1, func(i, _, _ int) { do(i) })
}
