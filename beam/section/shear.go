package section

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/internal/gauss"
	"swapworth/mesh/cut"
)

// ShearFlow is how a section takes a shear force in one direction by the
// elementary theory (Jourawski): with b the width, Q the first moment of the
// area beyond a level and I the second moment, the stress is V Q/(I b), even
// across the width.
type ShearFlow struct {
	Area float64 // mm2, I^2 / integral Q^2/b: the area that stores the same energy
	Peak float64 // 1/mm2, largest Q/(I b)
}

// maxLevels bounds the levels a section is integrated over; a round outline has
// more corners than the integral needs.
const maxLevels = 48

// Jourawski returns the shear flow for a force along the first (0) or second
// (1) axis. Separate pieces bend alike, so each takes its share of I and their
// areas add.
func Jourawski(r cut.Region, plane int) ShearFlow {
	var all ShearFlow
	var inertia float64
	type share struct{ i, peak float64 }
	var shares []share
	for _, p := range r {
		flow, i := jourawskiPiece(p, plane)
		all.Area += flow.Area
		inertia += i
		shares = append(shares, share{i, flow.Peak})
	}
	for _, s := range shares {
		if inertia > 0 {
			all.Peak = max(all.Peak, s.peak*s.i/inertia)
		}
	}
	return all
}

// strip is a band of the section between two levels with its width at each.
type strip struct{ low, high, widthLow, widthHigh float64 }

func jourawskiPiece(p cut.Polygon, plane int) (ShearFlow, float64) {
	strips := stripsOf(p, plane)
	area, first := 0.0, 0.0
	for _, s := range strips {
		a, q := s.beyond(s.low, 0)
		area += a
		first += q
	}
	if !(area > 0) {
		return ShearFlow{}, 0
	}
	centre := first / area
	inertia := 0.0
	for _, s := range strips {
		for _, g := range gauss.Three(s.low, s.high) {
			inertia += g.W * s.width(g.X) * (g.X - centre) * (g.X - centre)
		}
	}
	if !(inertia > 0) {
		return ShearFlow{}, 0
	}
	var energy, peak, above float64
	// the width of a tip, where Q/b is noise over noise
	none := 1e-9 * math.Sqrt(area)
	for i := len(strips) - 1; i >= 0; i-- { // from the top down
		s := strips[i]
		for _, g := range gauss.Three(s.low, s.high) { // Q^2 is of the fourth degree
			_, q := s.beyond(g.X, centre)
			if b := s.width(g.X); b > 0 {
				energy += g.W * (above + q) * (above + q) / b
			}
		}
		for _, t := range []float64{s.low, min(max(centre, s.low), s.high)} {
			_, q := s.beyond(t, centre)
			if b := s.width(t); b > none {
				peak = max(peak, (above+q)/(inertia*b))
			}
		}
		_, q := s.beyond(s.low, centre)
		above += q
	}
	return ShearFlow{Area: inertia * inertia / energy, Peak: peak}, inertia
}

func (s strip) width(t float64) float64 {
	return s.widthLow + (s.widthHigh-s.widthLow)*(t-s.low)/(s.high-s.low)
}

// beyond returns the area of the strip above the level t and its first moment
// about the level c.
func (s strip) beyond(t, c float64) (area, first float64) {
	for _, g := range gauss.Two(t, s.high) {
		b := g.W * s.width(g.X)
		area += b
		first += b * (g.X - c)
	}
	return area, first
}

// stripsOf cuts a polygon into strips at the levels of its corners, in
// ascending order.
func stripsOf(p cut.Polygon, plane int) []strip {
	level := func(v r2.Vec) float64 { return v.Y }
	if plane == 0 {
		level = func(v r2.Vec) float64 { return v.X }
	}
	levels := levelsOf(p, level)
	var strips []strip
	for i := 0; i+1 < len(levels); i++ {
		lo, hi := levels[i], levels[i+1]
		g := gauss.Two(lo, hi)
		w0, w1 := widthAt(p, plane, g[0].X), widthAt(p, plane, g[1].X)
		slope := (w1 - w0) / (g[1].X - g[0].X)
		strips = append(strips, strip{lo, hi,
			max(w0-slope*(g[0].X-lo), 0), max(w1+slope*(hi-g[1].X), 0)})
	}
	return strips
}

// levelsOf returns the levels of a polygon's corners: all of them where they are
// few, else some, but every one at which an edge runs level and the width jumps.
func levelsOf(p cut.Polygon, level func(r2.Vec) float64) []float64 {
	var all []float64
	jumps := map[float64]bool{}
	for _, loop := range p.Loops() {
		for i, v := range loop {
			next := loop[(i+1)%len(loop)]
			all = append(all, level(v))
			if abs(level(next)-level(v)) < 1e-3*r2.Norm(r2.Sub(next, v)) {
				jumps[level(v)] = true
			}
		}
	}
	sort.Float64s(all)
	height := all[len(all)-1] - all[0]
	least := 1e-6 * height
	wanted := least
	if len(all) > maxLevels {
		wanted = height / maxLevels / 2
	}
	kept := all[:1]
	for _, t := range all[1:] {
		if gap := t - kept[len(kept)-1]; gap > wanted || gap > least && jumps[t] {
			kept = append(kept, t)
		}
	}
	return kept
}

// widthAt returns the length of the line at level t inside the polygon.
func widthAt(p cut.Polygon, plane int, t float64) float64 {
	var sum float64
	add := func(loop []r2.Vec) {
		for i, a := range loop {
			b := loop[0]
			if i+1 < len(loop) {
				b = loop[i+1]
			}
			if plane == 0 { // the mirrored outline turns the other way round
				a, b = r2.Vec{X: a.Y, Y: a.X}, r2.Vec{X: b.Y, Y: b.X}
			}
			if (a.Y > t) == (b.Y > t) {
				continue
			}
			x := a.X + (b.X-a.X)*(t-a.Y)/(b.Y-a.Y)
			if b.Y > a.Y {
				sum += x
			} else {
				sum -= x
			}
		}
	}
	add(p.Outer)
	for _, h := range p.Holes {
		add(h)
	}
	return abs(sum)
}

func abs(x float64) float64 { return max(x, -x) }
