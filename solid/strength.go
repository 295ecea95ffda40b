package solid

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/materials"
	"swapworth/solid/internal/region"
)

// Peak is the stress at one of the hottest places of a load case, looked at closely
// in submodels.
type Peak struct {
	At     [3]float64      `json:"at_mm"`      // model axes
	Stress materials.Range `json:"stress_mpa"` // what is judged, von Mises
	Levels []PeakLevel     `json:"levels"`     // coarsest first; the first is the whole part
	// Settled says that the peak changes by less than 5 % from grid to grid, or that
	// it has no limit and was judged at a distance.
	Settled  bool     `json:"settled"`
	NoLimit  string   `json:"no_limit"`    // why it grows forever, or ""
	Distance *float64 `json:"distance_mm"` // from what has no limit; nil for a peak with one
	Judged   string   `json:"judged"`      // what was judged, in words
}

// PeakLevel is the peak as one grid has it.
type PeakLevel struct {
	Cell   float64 `json:"cell_mm"`
	Stress float64 `json:"stress_mpa"`
}

// Spot is a place of which the largest stress on the surface is asked: within a
// radius, mm, of a point.
type Spot struct {
	At     r3.Vec
	Radius float64
}

const (
	settledWithin = 0.05 // change of a peak from grid to grid that counts as settled
	mostLevels    = 4    // submodels at one place, each with cells of half the edge or less
	enoughLevels  = 1    // of them at what has no limit
	subReach      = 5.0  // half the side of a submodel in cells of what it is cut from
	lookWithin    = 0.45 // share of that within which its peak is looked for
	trusted       = 0.8  // share of that within which its stress is that of the part

	mostHot = 3 // places that are looked at closely
	// mostNear is how many of them may lie at held or loaded places and sharp
	// corners, so that a fillet further off is not left out.
	mostNear = 2
	hotApart = 4 // cells between places
	// triedNear and triedClear are how many places are compared of those near such and
	// of others, and mostMore how many are looked at beyond the three, where they could
	// turn out hotter than those.
	triedNear, triedClear = 8, 5
	mostMore              = 2
	alike                 = 0.01 // difference of places that are the same by symmetry
	// besideApart is the same between a peak that is judged apart and one beside it, in
	// cells of the submodel at the first: a peak of its own has cells between them that
	// are cooler.
	besideApart = 2

	// chordCells is how many cells a chord of a drawn hole or fillet may have: on
	// finer ones its corners show, which the round has not. A corner that turns by 7.5
	// degrees, one of 48, adds 4 % for each halving, one of 16 adds 15 % (Williams). At
	// two cells a chord the peaks at small holes of 48 chords were 2 and 5 % off.
	chordCells = 1.6
	chordReach = 1.5 // cells from a peak within which a round's chords count
)

// strength looks closely at the hottest places of every case on the finest grid.
func (c *check) strength(ctx context.Context) error {
	if !c.opt.Peaks && len(c.opt.LookAt) == 0 || c.finest == nil {
		return nil
	}
	c.closeUps, c.unseen = make([][]Peak, len(c.p.Cases)), make([]float64, len(c.p.Cases))
	for i, a := range c.answers {
		loads, err := c.tractions(c.finest.c, i)
		if err != nil {
			return err
		}
		all := append(append(append([]region.Traction{}, loads.forces...), loads.moments...), loads.others...)
		last := c.res.Grids[len(c.res.Grids)-1]
		whole := sync.OnceValue(func() solved { return c.wholePart(a.u) })
		kept, rest := c.chosen(last.cases[i].hot, whole)
		spots := append(kept, c.asked(whole)...)
		planned := len(spots)
		for k := 0; k < len(spots); k++ {
			c.advanceAfter(c.peakShare() * (float64(i) + min(float64(k)/float64(planned), 1)) / float64(len(c.answers)))
			p, first, err := c.closeUp(ctx, i, a, whole, spots[k], all)
			if err != nil {
				return err
			}
			c.closeUps[i] = append(c.closeUps[i], p)
			if hidden, ok := c.beside(p, first, a.by, whole, spots); ok && k < planned {
				spots = append(spots, hidden)
			}
			if k == len(spots)-1 && k < planned+mostMore {
				spots, rest = more(spots, rest, growth(spots, c.closeUps[i]), hottestOf(c.closeUps[i])/math.Abs(a.by))
			}
		}
		c.unseen[i] = unlike(spots, rest, growth(spots, c.closeUps[i])) * math.Abs(a.by)
	}
	return nil
}

// hottestOf is the largest stress that peaks may have, of those that have a bound.
func hottestOf(peaks []Peak) (mpa float64) {
	for _, p := range peaks {
		mpa = max(mpa, p.Stress.Nominal)
	}
	return mpa
}

// more takes the one of the rest that could turn out the hottest to the spots, if it
// could be hotter than what was found.
func more(spots, rest []hotSpot, grown, found float64) (taken, left []hotSpot) {
	best, most := -1, found
	for k, h := range rest {
		if v := h.atMost(grown); v > most && !slices.ContainsFunc(spots, h.like) {
			best, most = k, v
		}
	}
	if best < 0 {
		return spots, rest
	}
	return append(spots, rest[best]), slices.Delete(slices.Clone(rest), best, best+1)
}

// unlike is how hot those of the rest could turn out that are not like one of the spots.
func unlike(spots, rest []hotSpot, grown float64) (mpa float64) {
	for _, h := range rest {
		if !slices.ContainsFunc(spots, h.like) {
			mpa = max(mpa, h.atMost(grown))
		}
	}
	return mpa
}

// growth is how many times as hot as on the grid of the whole part the hottest places
// clear of what has no limit turned out in submodels. Where none was looked at it is
// what coarse cells leave open.
func growth(spots []hotSpot, peaks []Peak) float64 {
	most := 0.0
	for k, p := range peaks {
		if !spots[k].near && p.NoLimit == "" && len(p.Levels) > 1 {
			most = max(most, p.Stress.Nominal/p.Levels[0].Stress)
		}
	}
	if most == 0 {
		return 1 / (1 - gridsLow)
	}
	return most
}

// atMost is what could be judged at a place; elsewhere on the grid, clear of what has no
// limit, cells showed too little by a factor.
func (h hotSpot) atMost(grown float64) float64 {
	switch {
	case h.resolved:
		return h.judged
	case h.near:
		return h.judged / (1 - gridsLow)
	}
	return grown * h.judged
}

// like reports whether two places are the same by symmetry, as far as the grid tells.
func (h hotSpot) like(g hotSpot) bool {
	return h.near == g.near && math.Abs(h.mpa-g.mpa) <= alike*h.mpa
}

// chosen returns those of the hottest places that are looked at closely, and the rest. As
// many as are among the hottest may lie near what has no limit: the hottest, and then
// those that the largest stress could be judged at. How hot they are on a grid is how
// fine it is.
func (c *check) chosen(hot []hotSpot, whole func() solved) (out, rest []hotSpot) {
	var nears []hotSpot
	for k := range hot {
		c.judgeRoughly(&hot[k], whole)
		if hot[k].near {
			nears = append(nears, hot[k])
		}
	}
	if len(nears) > 1 {
		slices.SortStableFunc(nears[1:], func(g, h hotSpot) int { return cmp.Compare(h.judged, g.judged) })
	}
	taken := 0
	for _, h := range hot {
		switch {
		case h.near && taken < mostNear && len(out) < mostHot:
			out = append(out, nears[taken])
			taken++
		case h.near:
		case len(out) < mostHot:
			out = append(out, h)
		default:
			rest = append(rest, h)
		}
	}
	return out, append(rest, nears[taken:]...)
}

// judgeRoughly sets what would be judged at a hot place as the grid of the whole part
// has it: its stress there, or near what has no limit the structural stress, and whether
// the cells resolve that.
func (c *check) judgeRoughly(h *hotSpot, part func() solved) {
	h.judged = h.mpa
	if !h.near {
		return
	}
	whole := part()
	whole.edge = c.longest(h.cell)
	source := c.cornerAt(h.at, 2*whole.edge)
	if source.name == "" {
		return
	}
	t := c.wallAt(h.at, whole.edge/2)
	if _, mpa, ok := c.structural(t, func(d float64) (float64, bool) { return c.stressAt(whole, h.at, source.ends, d) }); ok {
		h.judged, h.resolved = mpa, hotSpotNear*t >= whole.edge
	}
}

// longest returns the longest edge of a cell of the finest grid.
func (c *check) longest(cell [3]int) float64 {
	h := c.finest.c.Size(cell[0], cell[1], cell[2])
	return max(h[0], h[1], h[2])
}

// beside returns the hottest place that a peak judged apart hides: one in its first
// submodel with cooler cells between them, as far from all that has no limit as the
// peak is judged at, hot enough to be hotter than what was judged, and not among the
// spots that are looked at.
func (c *check) beside(p Peak, m *submodel, by float64, whole func() solved, spots []hotSpot) (hotSpot, bool) {
	if p.Distance == nil || m == nil {
		return hotSpot{}, false
	}
	clear := c.clearOf(*p.Distance)
	points := m.surfaceAround(c, m.at, trusted*subReach*m.edge)
	for i, q := range points {
		points[i].near = !clear(q.at)
	}
	_, value := m.sys.peakStress(m.st, points)
	for _, h := range hottest(m.sys.c, points, value, places{near: len(points), clear: 1, apart: besideApart}) {
		if h.near {
			continue
		}
		if math.Abs(by)*h.mpa/(1-gridsLow) <= p.Stress.Nominal || slices.ContainsFunc(spots, func(s hotSpot) bool {
			return segmentDistance(h.at, [2][3]float64{s.at, s.at}) < lookWithin*subReach*m.edge && (!s.near || s.within != nil)
		}) {
			return hotSpot{}, false
		}
		var cell [3]int
		for k := range 3 {
			cell[k] = c.finest.c.Find(k, h.at[k])
		}
		cell, ok := c.finest.c.NearActive(cell, h.at)
		return hotSpot{mpa: vonMises(c.finest.smoothAt(whole().st, cell, h.at)), at: h.at, cell: cell, within: clear}, ok
	}
	return hotSpot{}, false
}

// peakShare is how much of what follows the grids the peaks are.
func (c *check) peakShare() float64 {
	if c.opt.Spare {
		return 0.5
	}
	return 1
}

// openStress is the range of the largest stress where no submodel was made: what coarse
// grids were off, or upwards without end where it lies at a corner or still grows.
func (r *CaseResult) openStress() (s materials.Range, resolved bool) {
	s = materials.Range{Low: min(r.MaxStress, r.AwayStress), Nominal: r.MaxStress, High: math.Inf(1)}
	if r.GridBound {
		return s, false
	}
	return materials.Range{Low: r.MaxStress / (1 + gridsHigh), Nominal: r.MaxStress, High: r.MaxStress / (1 - gridsLow)}, false
}

// gridsLow and gridsHigh are how far the peak on the grids of the stiffness was off finite
// elements refined at the fillet where it did not grow: up to 31 % low on coarse
// grids of brackets, within 10 % on the usual ones.
const gridsLow, gridsHigh = 0.31, 0.1

// usePeaks takes the place with the largest stress as that of the case. unseen is how
// hot a place that was not looked at could be.
func (r *CaseResult) usePeaks(peaks []Peak, unseen float64) {
	r.Peaks = peaks
	worst := peaks[0]
	for _, p := range peaks[1:] {
		if p.Stress.Nominal > worst.Stress.Nominal {
			worst = p
		}
	}
	r.MaxStress, r.StressAt, r.Stress = worst.Stress.Nominal, worst.At, worst.Stress
	r.Resolved = true
	r.GridBound = false
	for _, p := range peaks {
		r.Stress.High = max(r.Stress.High, p.Stress.High)
		if !p.Settled && p.Stress.High > worst.Stress.Low {
			r.Resolved, r.GridBound = false, true
		}
	}
	r.Stress.High = max(r.Stress.High, unseen)
	// what the displacements that drive the submodels are off
	off := r.ErrorPercent / 100
	r.Stress.Low, r.Stress.High = r.Stress.Low*(1-off), r.Stress.High*(1+off)
}

// cautionPeaks says what of the hottest place is open.
func (c *check) cautionPeaks(r CaseResult, of string) {
	for _, p := range r.Peaks {
		if p.At != r.StressAt {
			continue
		}
		switch {
		case p.NoLimit != "" && p.Settled:
			c.warn(fmt.Sprintf("the largest stress%s has no limit: %s; judged is %s: %.3g MPa", of, p.NoLimit, p.Judged, p.Stress.Nominal))
		case !p.Settled:
			c.warn(fmt.Sprintf("the largest stress%s was %.3g MPa and still changed on the finest submodel; up to %.3g MPa is possible", of, p.Stress.Nominal, p.Stress.High))
		}
	}
}

// asked returns the hottest points of the spots that were asked for.
func (c *check) asked(whole func() solved) (hot []hotSpot) {
	if len(c.opt.LookAt) == 0 {
		return nil
	}
	st := whole().st
	for _, spot := range c.opt.LookAt {
		ask := &ball{c.f.in(spot.At), spot.Radius}
		points := pointsOn(c.finest.c, c.s, region.Within(c.s, ask.box()))
		points = slices.DeleteFunc(points, func(p surfacePoint) bool { return !ask.holds(p.at) })
		if len(points) == 0 {
			continue
		}
		p, _ := c.finest.peakStress(st, points)
		hot = append(hot, hotSpot{mpa: p.mpa, at: p.at, cell: p.cell, within: ask.holds})
	}
	return hot
}

// ball is what a spot spans, in the grid's axes.
type ball struct {
	centre [3]float64
	radius float64
}

func (b *ball) box() (box [2][3]float64) {
	for a := range 3 {
		box[0][a], box[1][a] = b.centre[a]-b.radius, b.centre[a]+b.radius
	}
	return
}

func (b *ball) holds(p [3]float64) bool {
	return vector.Norm([3]float64{p[0] - b.centre[0], p[1] - b.centre[1], p[2] - b.centre[2]}) <= b.radius
}

// closeUp refines the stress around a hot place. It returns the first of its submodels
// too, nil where there is none.
func (c *check) closeUp(ctx context.Context, i int, a answer, part func() solved, hot hotSpot, loads []region.Traction) (Peak, *submodel, error) {
	by := math.Abs(a.by)
	edge := c.longest(hot.cell)
	drive := driving(c.finest.system, a.u)
	at, mpa := hot.at, by*hot.mpa
	levels := []PeakLevel{{edge, mpa}}
	whole := [2][3]float64{c.s.Low, c.s.High}
	var first *submodel
	// asFine tells whether the cells are as fine as the round there is drawn
	asFine := func() bool { return edge <= c.chordAt(at, chordReach*edge)/chordCells }
	for range mostLevels {
		if err := ctx.Err(); err != nil {
			return Peak{}, nil, err
		}
		if len(levels) > 1 && asFine() {
			break
		}
		half := subReach * edge
		box, cut := c.subBox(at, half, edge, whole)
		m, err := c.cutOut(ctx, box, cut, edge, drive, loads, a.by, i)
		if err != nil {
			return Peak{}, nil, err
		}
		if m == nil {
			break
		}
		m.at = at
		found, ok := m.peakNear(c, at, lookWithin*half, hot.within)
		if !ok {
			break
		}
		if first == nil {
			first = m
		}
		at, mpa, edge, drive = found.at, by*found.mpa, m.cells, driving(m.sys, m.u)
		levels = append(levels, PeakLevel{edge, mpa})
		n := len(levels)
		// at a round the whole part's grid may be too coarse to see the peak at all
		if small := math.Abs(levels[n-1].Stress/levels[n-2].Stress-1) < settledWithin; small && (n > 2 || c.chordAt(at, chordReach*edge) == 0) {
			break
		}
		if n > enoughLevels && c.cornerAt(at, edge).name != "" {
			break // it stays at what has no limit, whose peak is not what is judged
		}
	}
	p := conclusionOf(levels, asFine())
	model := c.f.point(at)
	p.At = [3]float64{model.X, model.Y, model.Z}
	if !p.Settled && first != nil { // a rim or a sharp corner has no limit however few grids show it
		c.judgeApart(&p, first, part, at, by)
	}
	return p, first, nil
}

// peakNear returns the largest equivalent stress on the surface within a distance of
// a point, and where it may lie if not anywhere.
func (m *submodel) peakNear(c *check, at [3]float64, reach float64, within func(p [3]float64) bool) (hotSpot, bool) {
	points := m.surfaceAround(c, at, reach)
	if within != nil {
		points = slices.DeleteFunc(points, func(p surfacePoint) bool { return !within(p.at) })
	}
	if len(points) == 0 {
		return hotSpot{}, false
	}
	p, _ := m.sys.peakStress(m.st, points)
	return hotSpot{mpa: p.mpa, at: p.at, cell: p.cell}, p.mpa > 0
}

// surfaceAround returns points of the part's surface in the submodel, within a distance
// of a point along every axis.
func (m *submodel) surfaceAround(c *check, at [3]float64, reach float64) []surfacePoint {
	box := [2][3]float64{}
	for a := range 3 {
		box[0][a], box[1][a] = max(at[a]-reach, m.box[0][a]), min(at[a]+reach, m.box[1][a])
	}
	return pointsOn(m.sys.c, m.s, region.Within(c.s, box))
}

// conclusionOf judges how a peak goes as the cells get smaller; drawn says that they
// are as fine as the chords of the round there allow.
func conclusionOf(levels []PeakLevel, drawn bool) (p Peak) {
	p.Levels = levels
	n := len(levels)
	last := levels[n-1]
	if n == 1 {
		p.Stress = materials.Range{Low: 0.7 * last.Stress, Nominal: last.Stress, High: math.Inf(1)}
		p.Judged = "the whole part's grid alone"
		return p
	}
	before := levels[n-2]
	change := last.Stress - before.Stress
	// the rest of a series that goes on as the last step went, at order one at least
	ratio := before.Cell / last.Cell
	rest := change / (ratio - 1)
	p.Judged = "the peak"
	if math.Abs(change) < settledWithin*before.Stress {
		p.Settled = true
		p.Stress = materials.Range{Low: last.Stress - math.Abs(change), Nominal: last.Stress + rest/2, High: last.Stress + math.Abs(rest) + math.Abs(change)}
		return p
	}
	if drawn {
		p.Settled, p.Judged = true, "the peak as finely as the round is drawn"
		p.Stress = materials.Range{Low: min(last.Stress, before.Stress), Nominal: last.Stress + min(rest/2, settledWithin*last.Stress),
			High: last.Stress + math.Abs(change)}
		return p
	}
	p.Stress = materials.Range{Low: min(last.Stress, before.Stress), Nominal: last.Stress, High: last.Stress + 2*math.Abs(rest)}
	return p
}

// chordAt returns the length of the chords of drawn rounds within reach of a point,
// mm: of a face between edges at which the surface turns a little, the height over
// such an edge. Zero where there is none.
func (c *check) chordAt(at [3]float64, reach float64) float64 {
	least := math.Inf(1)
	for _, e := range c.pose.smoothEdges() {
		if segmentDistance(at, e.Ends) < reach {
			least = min(least, e.Height)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// String says how close the peak was looked at.
func (p Peak) String() string {
	switch {
	case p.NoLimit != "":
		return fmt.Sprintf("%s; %s", p.NoLimit, p.Judged)
	case p.Settled:
		return "settled"
	}
	return "not settled"
}
