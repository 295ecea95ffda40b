package solid

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// conclude extrapolates and fills in the values on top.
func (c *check) conclude() {
	last := c.res.Grids[len(c.res.Grids)-1]
	rate := order
	if c.openGap() > 0 {
		rate = openedOrder
	}
	cases, doubt := slices.Clone(last.cases), make([]float64, len(last.cases))
	for n := range cases {
		doubt[n] = cases[n].settle(c.res.Grids, n, rate)
	}
	floor := beyondGrids
	if len(c.res.Grids) < 3 {
		floor += beyondTwo
	}
	setErrors(cases, doubt, floor)
	for n, r := range cases {
		if m := len(c.res.Grids); m > 1 {
			r.settleStress(c.res.Grids[m-2].cases[n])
		}
		r.Stress, r.Resolved = r.openStress()
		if c.closeUps != nil && len(c.closeUps[n]) > 0 {
			r.usePeaks(c.closeUps[n], c.unseen[n])
		}
		if c.e.Yield > 0 && r.MaxStress > 0 {
			sf := c.e.Yield / r.MaxStress
			r.SafetyFactor = &sf
			if r.Kind == ByForce {
				force := sf * r.Load
				r.YieldForce = &force
			}
		}
		c.res.Cases = append(c.res.Cases, r)
	}
	c.caution()
	first := c.res.Cases[0]
	c.res.Load, c.res.Stiffness, c.res.ErrorPercent = first.Load, first.Stiffness, first.ErrorPercent
	c.res.Deflection, c.res.MaxStress = first.Deflection, first.MaxStress
	c.res.SafetyFactor, c.res.YieldForce = first.SafetyFactor, first.YieldForce
	if n := len(c.hertz); n > 0 {
		for i, hz := range c.hertz[n-1] {
			if n > 1 {
				hz = toLimit(c.hertz[n-2][i], hz, rate)
			}
			c.res.Frequencies = append(c.res.Frequencies, hz)
		}
		c.res.Frequency = &c.res.Frequencies[0]
	}
}

// worst returns the largest error estimate of the stiffness, percent.
func (r *Result) worst() (percent float64) {
	for _, c := range r.Cases {
		percent = max(percent, c.ErrorPercent)
	}
	return
}

// settleStress extrapolates the stresses from those on the grid before, by a
// tenth at most, and says whether the largest depends on the grid. A peak at a
// sharp corner has no limit: it stays as the finest grid gives it.
func (r *CaseResult) settleStress(before CaseResult) {
	limit := func(coarse, fine float64) float64 {
		return min(max(toLimit(coarse, fine, order), 0.9*fine), 1.1*fine)
	}
	r.growing = r.MaxStress > 1.15*before.MaxStress
	r.GridBound = r.growing || r.atCorner
	r.AwayStress = limit(before.AwayStress, r.AwayStress)
	if !r.atCorner {
		r.MaxStress = limit(before.MaxStress, r.MaxStress)
	}
	r.MaxStress = max(r.MaxStress, r.AwayStress)
}

// caution warns of what the numbers do not say by themselves.
func (c *check) caution() {
	if gap := c.openGap(); gap > 0 {
		size := c.res.Grids[len(c.res.Grids)-1].Cell
		c.res.Warnings = slices.Insert(c.res.Warnings, 0, fmt.Sprintf("a gap of %.2g mm is narrower than the cells (%.2g mm) and lies at a slant or between curved walls; it counts as a cell wide, and the part is softer for it by about its stated error", gap, size))
	}
	var open, rough, yielding, far []string // names of cases
	size := r3.Norm(c.body.where.box.Size())
	for _, r := range c.res.Cases {
		of := ""
		if len(c.res.Cases) > 1 {
			of = fmt.Sprintf(" of case %s", r.Name)
		}
		switch {
		case len(r.Peaks) > 0:
			c.cautionPeaks(r, of)
		case !c.opt.Peaks: // Stress and Resolved say what is open
		case r.GridBound:
			open = append(open, r.Name)
		}
		c.cautionPull(r, of)
		if r.ErrorPercent > poor {
			rough = append(rough, fmt.Sprintf("%s by %.2g %%", r.Name, r.ErrorPercent))
		}
		if r.SafetyFactor != nil && *r.SafetyFactor < 1 {
			yielding = append(yielding, r.Name)
		}
		if r.Largest > largeMove*size {
			far = append(far, fmt.Sprintf("%s by %.3g mm", r.Name, r.Largest))
		}
	}
	c.warnOf(rough, "the stiffness still changes with the grid: case %s; ask for more unknowns")
	c.warnOf(open, "the largest stress grows with the grid, at a sharp inner corner or the rim of a place: case %s; it has no upper end here")
	c.warnOf(yielding, "the largest stress is above the yield strength: case %s; the computation stays elastic")
	c.warnOf(far, "the part moves by over a twentieth of its size: case %s; small-displacement theory no longer holds")
}

// largeMove is the displacement over the size of the part above which its shape
// under load is no longer that without (a twentieth: rotations of 0.05 to 0.1, whose
// cosine is 0.5 % off; common practice).
const largeMove = 0.05

// warnOf says one thing of several cases.
func (c *check) warnOf(cases []string, text string) {
	if len(cases) > 0 {
		c.warn(fmt.Sprintf(text, strings.Join(cases, ", ")))
	}
}

// order of convergence of a stiffness or frequency with the size of the cells:
// between one, that of sharp corners and of walls which cut the cells, and two,
// that of smooth parts (Strang and Fix, 1973).
const order = 1.5

// beyondGrids is the error in percent that grids cannot show: what springs at
// held places give way, what drawn chords leave out, and the last digit of the
// corners at a clamp.
const beyondGrids = 0.2

// beyondTwo is what is added on two grids, in percent: they cannot show that their
// change is small by chance.
const beyondTwo = 0.2

// openedOrder is that of a part with a gap for which a layer of cells was emptied:
// the material that is lost is in proportion to the cells.
const openedOrder = 1.0

// openGap returns the narrowest gap for which cells were emptied on the finest grid
// or the one before, 0 for none.
func (c *check) openGap() (width float64) {
	for _, w := range c.lay.gaps[max(c.grids-2, 0):c.grids] {
		if w > 0 && (width == 0 || w < width) {
			width = w
		}
	}
	return width
}

const (
	// sharedDoubt is the share of the doubt about the worst load case on the same
	// grids that counts for every other: a small change of one alone is chance.
	sharedDoubt = 1.0 / 3

	// springDoubt is what a part of the energy in the springs of holds counts: a
	// factor of two in their stiffness, which moves the rim of a hold by a tenth of a
	// cell, changes the stiffness of the part by ln 2 of it.
	springDoubt = math.Ln2
)

// setErrors sets the error of every case from the doubts about their limits and a
// floor in percent.
func setErrors(cases []CaseResult, doubt []float64, floor float64) {
	worst := slices.Max(doubt)
	for n := range cases {
		d := max(doubt[n], sharedDoubt*worst, springDoubt*cases[n].springs)
		cases[n].ErrorPercent = min(100*d+floor, 100)
	}
}
