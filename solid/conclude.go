package solid

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// conclude extrapolates and fills in the values on top.
func (c *check) conclude() {
	last := c.res.Grids[len(c.res.Grids)-1]
	for n := range c.p.Cases {
		var k []float64
		for _, g := range c.res.Grids {
			k = append(k, g.cases[n].Stiffness)
		}
		r := last.cases[n]
		r.Stiffness, r.ErrorPercent = extrapolate(k)
		r.Deflection = r.Load / r.Stiffness
		if m := len(c.res.Grids); m > 1 {
			r.settleStress(c.res.Grids[m-2].cases[n])
		}
		if c.e.Yield > 0 && r.MaxStress > 0 {
			sf, force := c.e.Yield/r.MaxStress, c.e.Yield/r.MaxStress*r.Load
			r.SafetyFactor, r.YieldForce = &sf, &force
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
			if n > 1 { // order 1.5, between that of smooth and of sharp-cornered parts
				hz += (hz - c.hertz[n-2][i]) / (math.Pow(2, 1.5) - 1)
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

// settleStress extrapolates the stresses from those on the grid before, with an
// order between those of smooth and of cornered parts, and says whether the
// largest depends on the grid. A peak at a sharp corner has no limit: it stays
// as the finest grid gives it.
func (r *CaseResult) settleStress(before CaseResult) {
	limit := func(coarse, fine float64) float64 {
		step := (fine - coarse) / (math.Pow(2, 1.5) - 1)
		return fine + min(max(step, -0.1*fine), 0.1*fine)
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
	for _, r := range c.res.Cases {
		of := ""
		if len(c.res.Cases) > 1 {
			of = fmt.Sprintf(" of case %s", r.Name)
		}
		switch {
		case r.atCorner:
			c.warn(fmt.Sprintf("the largest stress%s lies at a sharp inner corner or at a held or loaded place, where it depends on the grid; out of reach of these it is %.3g MPa", of, r.AwayStress))
		case r.growing:
			c.warn(fmt.Sprintf("the largest stress%s still grows as the grid is refined; ask for more unknowns", of))
		}
		if r.ErrorPercent > 5 {
			c.warn(fmt.Sprintf("the stiffness%s still changes with the grid by %.2g %%; ask for more unknowns", of, r.ErrorPercent))
		}
		if r.SafetyFactor != nil && *r.SafetyFactor < 1 {
			c.warn(fmt.Sprintf("the largest stress%s is above the yield strength; the computation stays elastic", of))
		}
		if size := r3.Norm(c.m.Bounds().Size()); r.Largest > 0.05*size {
			c.warn(fmt.Sprintf("the part moves%s by %.3g mm, over a twentieth of its size; small-displacement theory no longer holds", of, r.Largest))
		}
	}
}

// extrapolate returns the limit of a sequence of values on grids that each
// halve the cells, and an estimate of its error in percent (Richardson, 1911;
// Roache, 1994). Three values that close in on each other give the order of
// convergence, two at most; where they do not, the coarse grids miss something:
// the step is then kept small and the whole last change counts as the error.
func extrapolate(k []float64) (limit, percent float64) {
	n := len(k)
	if n == 1 {
		return k[0], 100
	}
	last := k[n-1] - k[n-2]
	step := last / (math.Pow(2, 1.5) - 1)
	doubt := math.Abs(last)
	if n >= 3 && last != 0 {
		switch ratio := (k[n-2] - k[n-3]) / last; {
		case ratio >= 2:
			step = last / (min(ratio, 4) - 1)
			doubt = math.Abs(step)
		case ratio < 1:
			step = last / 3
		}
	}
	limit = k[n-1] + step
	return limit, 100 * doubt / math.Abs(limit)
}
