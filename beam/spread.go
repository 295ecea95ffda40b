package beam

import "math"

// Plane sections overrate the material beside a hole or above a pocket: stress
// flows round an opening and reaches the material behind it only gradually.
// Behind a place in an opening that lies the distance d inside its outline,
// material therefore counts only beyond d/slope along the beam. The slopes come
// from exact solutions for small openings:
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
// the energy of a crack and of any ellipse, so the shape matters little.
//
// Along the load. In a field that grows linearly from the neutral axis, with
// the gradient g, a crack of length 2a there releases pi g^2 a^4/(8E) (from
// K_I = g a sqrt(pi a)/2) and a round hole as much beyond its own area; the two
// triangles shade g^2 a^4/(6 slope E), so slope = 4/(3 pi) = 0.42.
//
// Behind a step, where an edge is cut back over the whole width and a length, the
// leg's root turns as if the leg were 0.41 to 0.44 of its depth longer (Tada's
// edge crack in bending of half the depth, and O'Donnell's root, see sway.go):
// slope 0.55.
const (
	depthSlope = 4 / (3 * math.Pi)
	stepSlope  = 0.55
	stepLength = 3.0 // of its height, from which on a notch in an edge is a step
)

// shearShade is how much more an opening shades in shear than in bending along
// the depth. A small round hole in even shear adds 4/(1+v), about 3, times the
// energy of its own area, so that its slope is 1/pi.
const shearShade = depthSlope * math.Pi

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

// shade is how far along the beam, in mm, each empty cell of a cut shades the
// material behind it; nil without empty cells. Times flank it is the length of
// the steepest flank that is gentle; edge marks cells of empty rows above or
// below all material.
type shade struct {
	length []float32
	edge   []bool
	flank  float32
}

func (g grid) shade(full []float32, ever []bool, depth float64) shade {
	out := make([]float32, g.cells())
	empty := false
	for k := range out {
		empty = empty || full[k] < 0.5 && ever[k]
	}
	if !empty {
		return shade{}
	}
	distance := g.rowDistance(full)
	slope := g.acrossSlope(full, ever, distance, depth)
	edge := make([]bool, len(out))
	low, high := g.reach(full)
	n := g.columns()
	for k := range out {
		if full[k] >= 0.5 || !ever[k] {
			continue
		}
		i, j := k%n, k/n
		edge[k] = math.IsInf(distance[k], 1) && high[i] >= 0 && (j < low[i] || j > high[i])
		out[k] = float32(g.nearest(distance, i, j, slope))
	}
	return shade{out, edge, float32(gentle * min(slope, depthSlope))}
}

// nearest returns the distance of a cell's middle from the nearest full cell,
// with lengths across the load divided by slope and along it by depthSlope. It
// looks at rows outwards from its own until they are too far off.
func (g grid) nearest(distance []float64, i, j int, slope float64) float64 {
	n := g.columns()
	own := distance[j*n+i] / slope
	best, level := own*own, g.level(j)
	for m := j - 1; m >= 0; m-- {
		dx, dy := distance[m*n+i]/slope, (level-g.along[m+1])/depthSlope
		if dy*dy >= best {
			break
		}
		best = min(best, dx*dx+dy*dy)
	}
	for m := j + 1; m < g.rows(); m++ {
		dx, dy := distance[m*n+i]/slope, (g.along[m]-level)/depthSlope
		if dy*dy >= best {
			break
		}
		best = min(best, dx*dx+dy*dy)
	}
	return math.Sqrt(best)
}

// reach returns the lowest and the highest full row of every column.
func (g grid) reach(full []float32) (low, high []int) {
	n := g.columns()
	low, high = make([]int, n), make([]int, n)
	for i := range n {
		low[i], high[i] = g.rows(), -1
	}
	for k, f := range full {
		if f >= 0.5 {
			low[k%n], high[k%n] = min(low[k%n], k/n), max(high[k%n], k/n)
		}
	}
	return low, high
}

// rowDistance returns, for every cell, the distance from its middle to the
// nearest full cell of its row; 0 for full cells.
func (g grid) rowDistance(full []float32) []float64 {
	n := g.columns()
	d := make([]float64, g.cells())
	for j := range g.rows() {
		row, edge := full[j*n:(j+1)*n], math.Inf(-1)
		for i := range n {
			if row[i] >= 0.5 {
				edge = g.across[i+1]
				continue
			}
			d[j*n+i] = (g.across[i]+g.across[i+1])/2 - edge
		}
		edge = math.Inf(1)
		for i := n - 1; i >= 0; i-- {
			if row[i] >= 0.5 {
				edge = g.across[i]
				continue
			}
			d[j*n+i] = min(d[j*n+i], edge-(g.across[i]+g.across[i+1])/2)
		}
	}
	return d
}

// acrossSlope returns the slope across the load for the widest opening of a cut
// in a section of the given depth.
func (g grid) acrossSlope(full []float32, ever []bool, distance []float64, depth float64) float64 {
	widest := 0.0
	for k, d := range distance {
		if full[k] < 0.5 && ever[k] && !math.IsInf(d, 0) {
			widest = max(widest, 2*d)
		}
	}
	return acrossSlope(widest, depth)
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
	g := newGrid(cuts, a.plane)
	move := newMotion(g, cuts)
	full, ever := g.fillAll(move.rows)
	shades := make([]shade, len(cuts))
	inParallel(len(cuts), func(i int) {
		depth, _ := pieceExtents(cuts[i].Region, a.plane)
		shades[i] = g.shade(full[i], ever, depth)
	})
	idle := make([][]bool, len(cuts))
	for i := range idle {
		idle[i] = make([]bool, g.cells())
	}
	w := newWake(g, cuts, move, full, shades, a.clamps())
	w.sweep(idle)
	w.turn()
	w.sweep(idle)
	a.cornered = w.cornered
	inParallel(len(cuts), func(i int) {
		c := cuts[i]
		c.Shade = &idleCells{g, full[i], idle[i]}
		c.Eff = g.without(whole(c.Section), full[i], idle[i], w.slant(i))
		c.Sheared[a.plane] = math.Exp(-shearShade * g.shearLoss(full[i], idle[i]))
	})
}

// clamps are the places along the beam, in mm, where a clamp holds the section.
func (a *analysis) clamps() []float64 {
	var at []float64
	from, to := a.setup.Support.clampedEnds()
	if from {
		at = append(at, a.where.From)
	}
	if to {
		at = append(at, a.where.To)
	}
	return at
}

func prismatic(cuts []*cut) bool {
	for _, c := range cuts {
		if !same(c.Section, cuts[0].Section) {
			return false
		}
	}
	return true
}
