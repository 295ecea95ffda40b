package solid

import (
	"context"
	"fmt"
	"math"
	"slices"

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
	subReach      = 5.0  // half the side of a submodel in cells of what it is cut from
	lookWithin    = 0.45 // share of that within which its peak is looked for
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
	c.closeUps = make([][]Peak, len(c.p.Cases))
	for i, a := range c.answers {
		loads, err := c.tractions(c.finest.c, i)
		if err != nil {
			return err
		}
		all := append(append(append([]region.Traction{}, loads.forces...), loads.moments...), loads.others...)
		last := c.res.Grids[len(c.res.Grids)-1]
		places := append(slices.Clone(last.cases[i].hot), c.asked(a)...)
		for k, hot := range places {
			c.advanceAfter(c.peakShare() * (float64(i) + float64(k)/float64(len(places))) / float64(len(c.answers)))
			p, err := c.closeUp(ctx, i, a, hot, all)
			if err != nil {
				return err
			}
			c.closeUps[i] = append(c.closeUps[i], p)
		}
	}
	return nil
}

// peakShare is how much of what follows the grids the peaks are.
func (c *check) peakShare() float64 {
	if c.opt.Spare {
		return 0.5
	}
	return 1
}

// openStress is the range of the largest stress where no submodel was made: what the
// last change between grids leaves open, twice over, or upwards without end where it
// lies at a corner or still grows.
func (r *CaseResult) openStress() (s materials.Range, resolved bool) {
	s = materials.Range{Low: min(r.MaxStress, r.AwayStress), Nominal: r.MaxStress, High: math.Inf(1)}
	if r.GridBound {
		return s, false
	}
	return materials.Range{Low: (1 - gridsLeaveOpen) * r.MaxStress, Nominal: r.MaxStress, High: (1 + gridsLeaveOpen) * r.MaxStress}, false
}

// gridsLeaveOpen is how far the peak on the grids of the stiffness was off finite
// elements refined at the fillet where it did not grow: up to 31 % low on coarse
// grids of brackets, within 10 % on the usual ones.
const gridsLeaveOpen = 0.3

// usePeaks takes the place with the largest stress as that of the case.
func (r *CaseResult) usePeaks(peaks []Peak) {
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
func (c *check) asked(a answer) (hot []hotSpot) {
	if len(c.opt.LookAt) == 0 {
		return nil
	}
	st := c.finest.stresses([][]float64{a.u})[0]
	for _, spot := range c.opt.LookAt {
		ask := &ball{c.f.in(spot.At), spot.Radius}
		points := pointsOn(c.finest.c, c.s, region.Within(c.s, ask.box()))
		points = slices.DeleteFunc(points, func(p surfacePoint) bool { return !ask.holds(p.at) })
		if len(points) == 0 {
			continue
		}
		p := c.finest.peakStress(st, points)
		hot = append(hot, hotSpot{mpa: p.mpa, at: p.at, cell: p.cell, within: ask})
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

// closeUp refines the stress around a hot place.
func (c *check) closeUp(ctx context.Context, i int, a answer, hot hotSpot, loads []region.Traction) (Peak, error) {
	by := math.Abs(a.by)
	h := c.finest.c.Size(hot.cell[0], hot.cell[1], hot.cell[2])
	edge := max(h[0], h[1], h[2])
	drive := driving(c.finest.system, a.u)
	at, mpa := hot.at, by*hot.mpa
	levels := []PeakLevel{{edge, mpa}}
	whole := [2][3]float64{c.s.Low, c.s.High}
	var first *submodel
	// asFine tells whether the cells are as fine as the round there is drawn
	asFine := func() bool { return edge <= c.chordAt(at, chordReach*edge)/chordCells }
	for range mostLevels {
		if err := ctx.Err(); err != nil {
			return Peak{}, err
		}
		if len(levels) > 1 && asFine() {
			break
		}
		half := subReach * edge
		box, cut := c.subBox(at, half, edge, whole)
		m, err := c.cutOut(ctx, box, cut, edge, drive, loads, a.by, i)
		if err != nil {
			return Peak{}, err
		}
		if m == nil {
			break
		}
		found, ok := m.peakNear(c, at, lookWithin*half, hot.within)
		if !ok {
			break
		}
		if first == nil {
			first = m
		}
		at, mpa, edge, drive = found.at, by*found.mpa, m.cells, driving(m.sys, m.u)
		levels = append(levels, PeakLevel{edge, mpa})
		if n := len(levels); math.Abs(levels[n-1].Stress/levels[n-2].Stress-1) < settledWithin {
			break
		}
	}
	p := conclusionOf(levels, asFine())
	model := c.f.point(at)
	p.At = [3]float64{model.X, model.Y, model.Z}
	if !p.Settled && first != nil { // a rim or a sharp corner has no limit however few grids show it
		c.judgeApart(&p, first, a.u, at, by)
	}
	return p, nil
}

// peakNear returns the largest equivalent stress on the surface within a distance of
// a point, and within what was asked if anything was.
func (m *submodel) peakNear(c *check, at [3]float64, reach float64, ask *ball) (hotSpot, bool) {
	box := [2][3]float64{}
	for a := range 3 {
		box[0][a], box[1][a] = max(at[a]-reach, m.box[0][a]), min(at[a]+reach, m.box[1][a])
	}
	points := m.surfaceIn(c, box)
	if ask != nil {
		points = slices.DeleteFunc(points, func(p surfacePoint) bool { return !ask.holds(p.at) })
	}
	if len(points) == 0 {
		return hotSpot{}, false
	}
	p := m.sys.peakStress(m.sys.stresses([][]float64{m.u})[0], points)
	return hotSpot{mpa: p.mpa, at: p.at, cell: p.cell}, p.mpa > 0
}

// surfaceIn returns points of the part's surface inside a box.
func (m *submodel) surfaceIn(c *check, box [2][3]float64) []surfacePoint {
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
