package beam

import "slices"

// gentle is the length over depth of the flank of a hole or a pocket beyond which
// stress follows it. An edge that rises or falls is followed up to the slope of
// the shade itself: its shade ends where that of a step at the foot of the flank
// would.
const gentle = 3.0

// fullyShaded is the share of a section at work below which it is no section
// behind an opening but the only way on, as behind the corner of a cranked bar:
// there the shade ends.
const fullyShaded = 0.05

// wake carries the shade of openings along the beam in one direction.
type wake struct {
	grid
	cuts   []*cut
	full   [][]float32
	shades []shade
	clamps []float64 // mm along the beam: what a clamp holds works
	order  []int     // of the cuts
	move   motion
	areas  []float64 // mm2 of the cells

	cornered bool // the shade fell on a whole section somewhere

	// of every cell
	left  []float32 // mm of shade still to come
	reach []float32 // mm until it has ended, through openings
	run   []float32 // mm of the opening so far
	edge  []bool    // whether it is a notch in an edge
}

func newWake(g grid, cuts []*cut, move motion, full [][]float32, shades []shade, clamps []float64) *wake {
	w := &wake{grid: g, cuts: cuts, full: full, shades: shades, clamps: clamps, move: move, areas: make([]float64, g.cells())}
	for k := range w.areas {
		_, _, dx, dy := g.centre(k)
		w.areas[k] = dx * dy
	}
	w.order = make([]int, len(cuts))
	for i := range w.order {
		w.order[i] = i
	}
	return w
}

// turn reverses the direction.
func (w *wake) turn() { slices.Reverse(w.order) }

// sweep marks the cells that shade falls on. A place in an opening shades from
// the end of the opening on, unless the flank between the two is gentle.
func (w *wake) sweep(idle [][]bool) {
	w.clear()
	last := w.cuts[w.order[0]].S
	for at, i := range w.order {
		s := w.cuts[i].S
		if w.clampBetween(last, s) {
			w.clear()
		}
		if at > 0 {
			w.follow(at)
		}
		lazy := w.step(i, float32(abs(s-last)))
		last = s
		if w.working(i, lazy) < fullyShaded {
			w.cornered = true
			w.clear()
			continue
		}
		for k, l := range lazy {
			idle[i][k] = idle[i][k] || l
		}
	}
}

func (w *wake) clear() {
	n := w.cells()
	w.left, w.reach, w.run, w.edge = make([]float32, n), make([]float32, n), make([]float32, n), make([]bool, n)
}

func (w *wake) clampBetween(a, b float64) bool {
	for _, c := range w.clamps {
		if (a-c)*(b-c) < 0 {
			return true
		}
	}
	return false
}

// step goes on to cut i and returns the cells in the shade there.
func (w *wake) step(i int, step float32) []bool {
	lazy := make([]bool, w.cells())
	s := w.shades[i]
	for k := range lazy {
		w.reach[k] -= step
		if s.length != nil && s.length[k] > 0 {
			w.run[k] += step
			w.edge[k] = s.edge[k]
			d, reach := s.length[k], s.length[k]
			if !s.edge[k] {
				reach *= 1 + s.flank
			}
			if reach > w.reach[k] {
				w.left[k], w.reach[k] = d, reach
			}
			continue
		}
		if w.edge[k] && w.run[k] > stepLength*depthSlope*w.left[k] {
			w.left[k] *= depthSlope / stepSlope
		}
		w.run[k], w.edge[k] = 0, false
		w.left[k] = min(w.left[k]-step, w.reach[k])
		lazy[k] = w.left[k] > 0
		w.reach[k] = max(w.left[k], 0)
	}
	return lazy
}

// working is the share of a cut's material that no shade falls on.
func (w *wake) working(i int, lazy []bool) float64 {
	var all, works float64
	for k, f := range w.full[i] {
		if f == 0 {
			continue
		}
		a := float64(f) * w.areas[k]
		all += a
		if !lazy[k] {
			works += a
		}
	}
	if all == 0 {
		return 1
	}
	return works / all
}

// follow lets material that moves sideways from cut to cut, as a slanted rib or
// a cranked bar does, take its state along: the cells it moves into have it from
// the cells it comes from. Material that grows into an opening, as behind a hole,
// does not move.
func (w *wake) follow(at int) {
	now, before := w.full[w.order[at]], w.full[w.order[at-1]]
	n := w.columns()
	came := make([]bool, len(now)) // in this step
	take := func(k, from int, moved bool) {
		if moved && (before[from] >= 0.5 || came[from]) {
			w.left[k], w.reach[k], w.run[k], w.edge[k] = w.left[from], w.reach[from], 0, false
			came[k] = true
		}
	}
	for k := range now {
		if now[k] < 0.5 || before[k] >= 0.5 {
			continue
		}
		i, j := k%n, k/n
		if i > 0 {
			take(k, k-1, w.move.rows.moved(w.order, at, j, w.across, i, true))
		}
		if j > 0 && !came[k] {
			take(k, k-n, w.move.columns.moved(w.order, at, i, w.along, j, true))
		}
	}
	for k := len(now) - 1; k >= 0; k-- {
		if now[k] < 0.5 || before[k] >= 0.5 || came[k] {
			continue
		}
		i, j := k%n, k/n
		if i+1 < n {
			take(k, k+1, w.move.rows.moved(w.order, at, j, w.across, i, false))
		}
		if j+1 < w.rows() && !came[k] {
			take(k, k+n, w.move.columns.moved(w.order, at, i, w.along, j, false))
		}
	}
}

// slant is motion.slant towards the other cut of the panel; nil where there is
// none, or where the whole section moves, which crank.go sees to.
func (w *wake) slant(i int) []float32 {
	c := w.cuts[i]
	beside := i + 1
	if beside == len(w.cuts) || !alikeWeights(w.cuts[beside], c) {
		beside = i - 1
	}
	if beside < 0 {
		return nil
	}
	d := w.cuts[beside]
	if !alikeWeights(d, c) || abs(d.S-c.S) > 1.2*c.Weight {
		return nil
	}
	if common(d.Section.Low.X-c.Section.Low.X, d.Section.High.X-c.Section.High.X) != 0 ||
		common(d.Section.Low.Y-c.Section.Low.Y, d.Section.High.Y-c.Section.High.Y) != 0 {
		return nil
	}
	return w.move.slant(w.grid, i, beside, d.S-c.S)
}

func alikeWeights(c, d *cut) bool { return abs(c.Weight-d.Weight) <= 1e-6*c.Weight }

// motion holds, for every cut, where lines through the rows and through the
// columns of the grid lie in material.
type motion struct{ rows, columns stretches }

// stretches are the stretches in material, as pairs of ascending coordinates in
// mm: of every cut, of every line.
type stretches [][][]float64

func newMotion(g grid, cuts []*cut) motion {
	m := motion{make(stretches, len(cuts)), make(stretches, len(cuts))}
	turned := grid{across: g.along, along: g.across, plane: 1 - g.plane}
	inParallel(len(cuts), func(i int) {
		m.rows[i], m.columns[i] = g.stretches(cuts[i]), turned.stretches(cuts[i])
	})
	return m
}

func (g grid) stretches(c *cut) [][]float64 {
	out := make([][]float64, g.rows())
	for j := range out {
		out[j] = g.materialAt(nil, c, g.level(j))
	}
	return out
}

// slant returns the share of its stiffness along the span that a stretch of
// every cell keeps where it runs slanted, alone or crossing others: with t the
// tangent to the span, the strain along it is 1/(1+t^2) of that along the span and
// so is the share of its stress, in all 1/(1+t^2)^2. nil where nothing is slanted.
func (m motion) slant(g grid, i, beside int, distance float64) []float32 {
	var out []float32
	set := func(k int, t float64) {
		if abs(t) < 0.05 {
			return
		}
		if out == nil {
			out = make([]float32, g.cells())
			for n := range out {
				out[n] = 1
			}
		}
		out[k] = min(out[k], float32(1/((1+t*t)*(1+t*t))))
	}
	for k := range g.cells() {
		x, y, _, _ := g.centre(k)
		set(k, m.rows.tangent(i, beside, k/g.columns(), x, distance))
		set(k, m.columns.tangent(i, beside, k%g.columns(), y, distance))
	}
	return out
}

// tangent is how far the stretch around a place of a line moves aside from cut i
// to the one beside it, over their distance.
func (s stretches) tangent(i, beside, line int, t, distance float64) float64 {
	lo, hi, ok := holds(s[i][line], t, 0)
	if !ok {
		return 0
	}
	lo1, hi1, ok := holds(s[beside][line], (lo+hi)/2, hi-lo)
	if !ok {
		return 0
	}
	return common(lo1-lo, hi1-hi) / distance
}

// lookBack is how many cuts back the motion of a flank is looked for.
const lookBack = 60

// moved reports whether the stretch that now holds cell i of a line came there
// by moving, upwards or downwards, rather than by growing: since its flank was a
// cell behind, it has grown by less than half as much.
func (s stretches) moved(order []int, at, line int, lines []float64, i int, up bool) bool {
	t, cell := (lines[i]+lines[i+1])/2, lines[i+1]-lines[i]
	lo, hi, ok := holds(s[order[at]][line], t, 0)
	if !ok {
		return false
	}
	behind := t - 1.5*cell
	if !up {
		behind = t + 1.5*cell
	}
	for b := at - 1; b >= max(at-lookBack, 0); b-- {
		lo0, hi0, ok := holds(s[order[b]][line], behind, 2*cell)
		if !ok {
			return false
		}
		advance := hi - hi0
		if !up {
			advance = lo0 - lo
		}
		if advance >= cell {
			return (hi-lo)-(hi0-lo0) < advance/2
		}
	}
	return false
}

// holds returns the stretch that a coordinate lies in, or the nearest within a
// distance.
func holds(pairs []float64, t, within float64) (lo, hi float64, ok bool) {
	for k := 0; k+1 < len(pairs); k += 2 {
		if off := max(pairs[k]-t, t-pairs[k+1], 0); off <= within {
			lo, hi, ok, within = pairs[k], pairs[k+1], true, off
		}
	}
	return lo, hi, ok
}
