package solid

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"time"

	"swapworth/materials"
)

// checkOne solves a problem whose cases share their supports, with more unknowns than
// usual where the error asks for it.
func (b *Body) checkOne(ctx context.Context, e materials.Elastic, p Problem, opt Options) (Result, error) {
	start := time.Now()
	told := opt.Progress
	if told != nil {
		opt.Progress = func(share float64) { told(0.9 * share) }
	}
	r, err := b.run(ctx, e, p, opt)
	if err != nil {
		return r, err
	}
	if opt.Unknowns == 0 && r.worst() > poor {
		// the error falls with the area of the cells or faster: aim well below
		more := math.Pow(1.5*r.worst()/poor, 1.5)
		opt.Unknowns = int(usualUnknowns * min(more, 4))
		if told != nil {
			opt.Progress = func(share float64) { told(0.9 + 0.1*share) }
		}
		if finer, err := b.run(ctx, e, p, opt); err == nil {
			r = finer
		} else if ctx.Err() != nil {
			return Result{}, err
		}
	}
	if told != nil {
		told(1)
	}
	r.Seconds = time.Since(start).Seconds()
	return r, nil
}

// run solves the problem on one family of grids.
func (b *Body) run(ctx context.Context, e materials.Elastic, p Problem, opt Options) (Result, error) {
	c, err := b.newCheck(e, p, opt)
	if err != nil {
		return Result{}, err
	}
	c.lay = b.layout(c)
	if err := c.fits(c.lay.grids[0]); err != nil {
		return Result{}, err
	}
	for n := range c.grids {
		if err := c.onGrid(ctx, n); err != nil {
			return Result{}, err
		}
	}
	if err := c.strength(ctx); err != nil {
		return Result{}, err
	}
	if err := c.findSpare(ctx); err != nil {
		return Result{}, err
	}
	c.conclude()
	c.res.Warnings = ofBothEnds(c.res.Warnings)
	return c.res, nil
}

// onGrid solves every case on grid n, 0 for the coarsest.
func (c *check) onGrid(ctx context.Context, n int) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	sys, err := c.system(n)
	if err != nil {
		return err
	}
	c.advance(n, 0.3)
	out := Grid{Cells: sys.c.Active, Unknowns: sys.Unknowns(), Cell: math.Cbrt(sys.c.Volume / float64(sys.c.Active))}
	for a, m := range c.f.model {
		out.Edge[m] = (c.s.High[a] - c.s.Low[a]) / float64(sys.c.Count(a))
	}
	var answers []answer
	for i := range c.p.Cases {
		sys.Told = func(share float64) { c.advance(n, 0.3+0.6*(float64(i)+share)/float64(len(c.p.Cases))) }
		done, a, err := c.solveCase(ctx, sys, i)
		if err != nil {
			return err
		}
		out.cases = append(out.cases, done)
		answers = append(answers, a)
	}
	sys.Told = nil
	c.advance(n, 0.9)
	if stressed := !c.opt.NoStress && n >= c.grids-2; stressed { // on two grids, so that growth shows
		c.findPeaks(sys, n, answers, out.cases)
		out.MaxStress = &out.cases[0].MaxStress
	}
	c.finest, c.answers = sys, answers
	first := out.cases[0]
	out.Stiffness, out.Deflection, out.Iterations = first.Stiffness, first.Deflection, first.Iterations
	if err := c.vibrate(ctx, sys, n); err != nil {
		return err
	}
	c.res.Grids = append(c.res.Grids, out)
	c.res.Cells, c.res.Unknowns, c.res.Iterations = out.Cells, out.Unknowns, out.Iterations
	return nil
}

// vibrate finds natural frequencies on all grids but the finest of three, for they
// converge faster than stresses and cost more than a load case.
func (c *check) vibrate(ctx context.Context, sys *keptSystem, n int) error {
	if c.opt.Modes == 0 || (n == c.grids-1 && n > 1) {
		return nil
	}
	if !(c.e.Density > 0) {
		return errors.New("solid: natural frequencies need a density; give one or leave them out")
	}
	mass := sys.masses(c.e.Density)
	if err := c.attach(sys.system, mass); err != nil {
		return err
	}
	unit, err := sys.ringsAt(ctx, mass, c.opt.Modes)
	var hz []float64
	for _, v := range unit {
		hz = append(hz, v*math.Sqrt(c.e.YoungsModulus))
	}
	c.hertz = append(c.hertz, hz)
	return err
}

// ofBothEnds puts into one line what warnings say of either end alike.
func ofBothEnds(warnings []string) []string {
	const low, high = "end:low ", "end:high "
	alike := func(w, of, at string) bool {
		return strings.Contains(w, of) && slices.Contains(warnings, strings.Replace(w, of, at, 1))
	}
	out := warnings[:0:0]
	for _, w := range warnings {
		switch {
		case alike(w, low, high):
			out = append(out, strings.Replace(w, low, low+"and "+high, 1))
		case !alike(w, high, low):
			out = append(out, w)
		}
	}
	return out
}
