package solid

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
)

// Spare is the material that carries little in every load case, and where some of it
// could be milled out as pockets.
type Spare struct {
	// SharePercent is the volume whose strain energy density stays below a tenth of
	// the part's mean in every case, percent of all.
	SharePercent float64       `json:"share_percent"`
	Regions      []SpareRegion `json:"regions"`  // that which saves most first
	Unknowns     int           `json:"unknowns"` // of the grid on which it was found
}

// SpareRegion is a box that could be milled out, from an open side inwards.
type SpareRegion struct {
	Centre  [3]float64 `json:"centre_mm"`
	Size    [3]float64 `json:"size_mm"` // along the model's axes or, in a part that lies askew, its own that are nearest
	Volume  float64    `json:"volume_mm3"`
	Mass    *float64   `json:"mass_g"`                 // nil without a density
	From    string     `json:"from"`                   // the side that it is milled from, such as "+z", or "through z"
	Loss    float64    `json:"stiffness_loss_percent"` // the worst case's, solved on the grid without the region
	ByCase  []float64  `json:"loss_by_case_percent"`
	Carries float64    `json:"energy_percent"` // of the strain energy, the worst case's: what a first order estimate of the loss is
}

const (
	littleEnergy  = 0.1    // of the mean density: carries little
	spareUnknowns = 60_000 // of the grid on which regions are looked for, at most
	mostRegions   = 5
	// spareWall is the wall, mm, that a region leaves to any side and its floor:
	// thinner ones chatter (common practice).
	spareWall = 2.0
	// spareCutter is the least width of a region, mm, where no cutter was named.
	spareCutter = 3.0
	// deepest is the depth of a pocket over its width: deeper ones need cutters that
	// reach further than four diameters, which chatter (common practice).
	deepest = 4.0
	// leastSpare is the least volume of a region, share of the part.
	leastSpare = 0.002
)

// findSpare fills in the spare material of the part.
func (c *check) findSpare(ctx context.Context) error {
	if !c.opt.Spare {
		return nil
	}
	n := c.grids - 1
	for n > 0 && c.res.Grids[n].Unknowns > spareUnknowns {
		n--
	}
	sys, err := c.system(n)
	if err != nil {
		return err
	}
	var energy [][]float64
	for i := range c.p.Cases {
		_, a, err := c.solveCase(ctx, sys, i)
		if err != nil {
			return err
		}
		energy = append(energy, sys.energies(a.u))
	}
	s := &Spare{Unknowns: c.res.Grids[n].Unknowns, Regions: []SpareRegion{}}
	load := relative(sys.c, energy)
	little, all := 0.0, 0.0
	sys.c.EachActive(func(_, _, _, cell int) {
		v := sys.c.Kinds[sys.c.Of[cell]].Volume()
		all += v
		if load[cell] < littleEnergy {
			little += v
		}
	})
	s.SharePercent = 100 * little / all
	free := c.freeCells(sys.c)
	for len(s.Regions) < mostRegions {
		p, ok := c.bestPocket(sys.c, load, free)
		if !ok || p.volume < leastSpare*all {
			break
		}
		p.close(sys.c, free)
		c.advanceAfter(0.5 + 0.5*float64(len(s.Regions))/mostRegions)
		r, err := c.withoutPocket(ctx, n, p, energy)
		if err != nil {
			return err
		}
		s.Regions = append(s.Regions, r)
	}
	c.res.Spare = s
	return nil
}

// energies returns the strain energy in each cell for displacements u, up to a
// common factor.
func (s *system) energies(u []float64) []float64 {
	c := s.c
	out := make([]float64, len(c.Of))
	c.EachActive(func(i, j, k, cell int) {
		var w [brick.DOF]float64
		for v := range brick.Corners {
			p := s.EntryAt(i+v>>2, j+v>>1&1, k+v&1)
			copy(w[3*v:3*v+3], u[p:p+3])
		}
		e := &s.elements[c.Of[cell]]
		sum := 0.0
		for a := range brick.DOF {
			row := 0.0
			for b := range brick.DOF {
				row += e[a*brick.DOF+b] * w[b]
			}
			sum += w[a] * row
		}
		out[cell] = max(sum, 0)
	})
	return out
}

// relative returns for each cell the density of its energy over the mean of the
// part, the largest over the cases.
func relative(c *grid.Cells, energy [][]float64) []float64 {
	out := make([]float64, len(c.Of))
	for _, e := range energy {
		total, volume := 0.0, 0.0
		c.EachActive(func(_, _, _, cell int) {
			total += e[cell]
			volume += c.Kinds[c.Of[cell]].Volume()
		})
		c.EachActive(func(_, _, _, cell int) {
			out[cell] = max(out[cell], e[cell]/c.Kinds[c.Of[cell]].Volume()*volume/total)
		})
	}
	return out
}

// freeCells marks the cells that a pocket may take: full ones, away from what holds
// and loads the part.
func (c *check) freeCells(cs *grid.Cells) []bool {
	free := make([]bool, len(cs.Of))
	reach := 1
	for a := range 3 {
		mean := (c.s.High[a] - c.s.Low[a]) / float64(cs.Count(a))
		reach = max(reach, int(math.Ceil(spareWall/mean)))
	}
	taken := markNear(cs, c.s, nil, c.regions(), reach)
	cs.EachActive(func(_, _, _, cell int) {
		free[cell] = cs.Kinds[cs.Of[cell]].Moments[0] > 1-1e-9 && !taken[cell]
	})
	return free
}

// pocket is a box of cells, lo to hi inclusive, that is milled along an axis.
type pocket struct {
	lo, hi [3]int
	axis   int
	from   int // the side it is open to, -1 or 1; 0 for through
	volume float64
	score  float64
}

// bestPocket finds the box of cells that gives up the most volume for the least
// energy: the largest sum over its cells of volume times (a tenth less the relative
// energy density), open to a side along one of the axes.
func (c *check) bestPocket(cs *grid.Cells, load []float64, free []bool) (best pocket, ok bool) {
	for axis := range 3 {
		for _, from := range []int{1, -1} {
			for depth := 1; depth <= cs.Count(axis); depth++ {
				field, top, through := depthField(cs, axis, from, depth, load, free)
				if field == nil {
					break
				}
				p, found := c.bestRectangle(cs, axis, depth, field, top)
				if found && p.score > best.score {
					p.axis, p.from = axis, from
					p.setDepth(cs, top, depth, through)
					best, ok = p, true
				}
			}
		}
	}
	return best, ok
}

// blocked is the score of a column that cannot be part of a pocket.
var blocked = math.Inf(-1)

// depthField gives for each column along an axis what the outermost cells to a depth
// are worth, blocked where they are not all free or too little is left below; top is
// the index of the outermost cell, and through says where nothing is left. It is nil
// where no column is deep enough.
func depthField(cs *grid.Cells, axis, from, depth int, load []float64, free []bool) (field []float64, top []int, through []bool) {
	u, v := (axis+1)%3, (axis+2)%3
	nu, nv, n := cs.Count(u), cs.Count(v), cs.Count(axis)
	field, top, through = make([]float64, nu*nv), make([]int, nu*nv), make([]bool, nu*nv)
	any := false
	for i := range nu {
		for j := range nv {
			at := i*nv + j
			field[at] = blocked
			cell := func(k int) int {
				if from > 0 {
					k = n - 1 - k
				}
				var x [3]int
				x[axis], x[u], x[v] = k, i, j
				return cs.CellIndex(x[0], x[1], x[2])
			}
			k := 0
			for k < n && cs.Of[cell(k)] == grid.Void {
				k++
			}
			top[at] = k
			sum, fits := 0.0, k+depth <= n
			for d := k; fits && d < k+depth; d++ {
				id := cell(d)
				fits = free[id]
				if fits {
					sum += cs.Kinds[cs.Of[id]].Volume() * (littleEnergy - load[id])
				}
			}
			if !fits {
				continue
			}
			floor := 0.0
			d := k + depth
			for ; d < n && cs.Of[cell(d)] != grid.Void; d++ {
				floor += thickness(cs, axis, from, d)
			}
			through[at] = floor == 0
			if floor > 0 && floor < spareWall {
				continue
			}
			field[at], any = sum, true
		}
	}
	if !any {
		return nil, nil, nil
	}
	return field, top, through
}

// thickness of the k-th cell from a side along an axis, mm.
func thickness(cs *grid.Cells, axis, from, k int) float64 {
	if from > 0 {
		k = cs.Count(axis) - 1 - k
	}
	return cs.Lines[axis][k+1] - cs.Lines[axis][k]
}

// bestRectangle finds the rectangle of columns with the largest sum: for each range
// of rows the best run of columns (Kadane's sum, Bentley, Programming Pearls, 1984),
// columns of one height with a wall left around them, as wide as a cutter.
func (c *check) bestRectangle(cs *grid.Cells, axis, depth int, field []float64, top []int) (best pocket, ok bool) {
	u, v := (axis+1)%3, (axis+2)%3
	nu, nv := cs.Count(u), cs.Count(v)
	field = withWalls(cs, u, v, field)
	cutter := c.opt.Cutter
	if cutter == 0 {
		cutter = spareCutter
	}
	mean := (cs.Lines[axis][cs.Count(axis)] - cs.Lines[axis][0]) / float64(cs.Count(axis))
	cutter = max(cutter, float64(depth)*mean/deepest)
	height := make([]int, nv)
	sums := make([]float64, nv)
	for i0 := range nu {
		for j := range nv {
			sums[j], height[j] = 0, top[i0*nv+j]
		}
		for i1 := i0; i1 < nu; i1++ {
			for j := range nv {
				if top[i1*nv+j] != height[j] {
					sums[j] = blocked
				}
				sums[j] += field[i1*nv+j]
			}
			if cs.Lines[u][i1+1]-cs.Lines[u][i0] < cutter {
				continue
			}
			start, run := 0, 0.0
			for j := range nv {
				if sums[j] == blocked {
					start, run = j+1, 0
					continue
				}
				if run <= 0 || height[j] != height[start] {
					start, run = j, 0
				}
				run += sums[j]
				if run > best.score && cs.Lines[v][j+1]-cs.Lines[v][start] >= cutter {
					best = pocket{score: run}
					best.lo[u], best.hi[u], best.lo[v], best.hi[v] = i0, i1, start, j
					ok = true
				}
			}
		}
	}
	return best, ok
}

// withWalls blocks the columns that lie nearer than a wall to a blocked one or to the
// side of the part.
func withWalls(cs *grid.Cells, u, v int, field []float64) []float64 {
	nu, nv := cs.Count(u), cs.Count(v)
	out := slices.Clone(field)
	for i := range nu {
		for j := range nv {
			if field[i*nv+j] == blocked {
				continue
			}
			for p := range nu {
				if d := spacing(cs.Lines[u], i, p); d >= spareWall {
					continue
				}
				for q := range nv {
					if d := spacing(cs.Lines[v], j, q); d < spareWall && field[p*nv+q] == blocked {
						out[i*nv+j] = blocked
					}
				}
			}
			if cs.Lines[u][i]-cs.Lines[u][0] < spareWall || cs.Lines[u][nu]-cs.Lines[u][i+1] < spareWall ||
				cs.Lines[v][j]-cs.Lines[v][0] < spareWall || cs.Lines[v][nv]-cs.Lines[v][j+1] < spareWall {
				out[i*nv+j] = blocked
			}
		}
	}
	return out
}

// spacing is the distance between cells i and p of an axis, mm: none for neighbours.
func spacing(lines []float64, i, p int) float64 {
	if p > i {
		return lines[p] - lines[i+1]
	}
	return lines[i] - lines[min(p+1, i)]
}

// setDepth gives the pocket its reach along its axis.
func (p *pocket) setDepth(cs *grid.Cells, top []int, depth int, through []bool) {
	u, v := (p.axis+1)%3, (p.axis+2)%3
	nv, n := cs.Count(v), cs.Count(p.axis)
	k := top[p.lo[u]*nv+p.lo[v]]
	p.lo[p.axis], p.hi[p.axis] = k, k+depth-1
	if p.from > 0 {
		p.lo[p.axis], p.hi[p.axis] = n-k-depth, n-1-k
	}
	if through[p.lo[u]*nv+p.lo[v]] {
		p.from = 0
	}
	p.volume = 1
	for a := range 3 {
		p.volume *= cs.Lines[a][p.hi[a]+1] - cs.Lines[a][p.lo[a]]
	}
}

// close takes the pocket and the wall around it from the free cells.
func (p *pocket) close(cs *grid.Cells, free []bool) {
	var lo, hi [3]int
	for a := range 3 {
		lo[a], hi[a] = p.lo[a], p.hi[a]
		for lo[a] > 0 && cs.Lines[a][p.lo[a]]-cs.Lines[a][lo[a]] < spareWall {
			lo[a]--
		}
		for hi[a] < cs.Count(a)-1 && cs.Lines[a][hi[a]+1]-cs.Lines[a][p.hi[a]+1] < spareWall {
			hi[a]++
		}
	}
	for i := lo[0]; i <= hi[0]; i++ {
		for j := lo[1]; j <= hi[1]; j++ {
			for k := lo[2]; k <= hi[2]; k++ {
				free[cs.CellIndex(i, j, k)] = false
			}
		}
	}
}

// withoutPocket describes a pocket and solves every case on the grid without it: on
// one grid the two solutions share most of their error, so that the difference tells
// the loss far better than the energy that the region carries, which is the first
// order of it and a lower bound.
func (c *check) withoutPocket(ctx context.Context, n int, p pocket, energy [][]float64) (SpareRegion, error) {
	cs := c.lay.at(n, c.pose)
	cut := *cs
	cut.Of = slices.Clone(cs.Of)
	r := SpareRegion{Volume: p.volume, From: c.fromWords(p)}
	carried := make([]float64, len(energy))
	for i := p.lo[0]; i <= p.hi[0]; i++ {
		for j := p.lo[1]; j <= p.hi[1]; j++ {
			for k := p.lo[2]; k <= p.hi[2]; k++ {
				cell := cs.CellIndex(i, j, k)
				for n, e := range energy {
					carried[n] += e[cell]
				}
				cut.Of[cell] = grid.Void
				cut.Active--
			}
		}
	}
	for n, e := range energy {
		total := 0.0
		for _, v := range e {
			total += v
		}
		r.Carries = max(r.Carries, 100*carried[n]/total)
	}
	var mid [3]float64
	for a := range 3 {
		lo, hi := cs.Lines[a][p.lo[a]], cs.Lines[a][p.hi[a]+1]
		mid[a] = (lo + hi) / 2
		r.Size[c.f.model[a]] = hi - lo
	}
	at := c.f.point(mid)
	r.Centre = [3]float64{at.X, at.Y, at.Z}
	if c.e.Density > 0 {
		grams := p.volume * c.e.Density * 1e-6
		r.Mass = &grams
	}
	return r, c.lossWithout(ctx, n, &cut, &r)
}

// lossWithout solves every case on cells without a region.
func (c *check) lossWithout(ctx context.Context, n int, cut *grid.Cells, r *SpareRegion) error {
	h, err := c.holdingOn(cut)
	if err != nil {
		return err
	}
	kept := h.Anchor(cut)
	s, err := newSystem(kept, brick.LameOf(1, c.e.Poisson), h)
	if err != nil {
		return err
	}
	sys := &keptSystem{system: s}
	for i := range c.p.Cases {
		without, _, err := c.solveCase(ctx, sys, i)
		if err != nil {
			return err
		}
		with := c.res.Grids[n].cases[i]
		loss := 100 * (1 - without.Measure()/with.Measure())
		r.ByCase = append(r.ByCase, loss)
		r.Loss = max(r.Loss, loss)
	}
	return nil
}

// fromWords names the side that a pocket is milled from.
func (c *check) fromWords(p pocket) string {
	axis := c.f.model[p.axis]
	name := axis.String()
	if p.from == 0 {
		return "through " + name
	}
	up := r3.Dot(c.f.axes[p.axis], axis.Unit()) > 0
	if (p.from > 0) == up {
		return "+" + name
	}
	return "-" + name
}
